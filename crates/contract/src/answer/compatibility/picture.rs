//! The matrix as a picture: a triangle with the names along its diagonal, every cell coloured and lettered.

use std::fmt::Write as _;

use super::Told;
use super::table::sign;
use crate::answer::drawing::{FAINT, escaped, heading, open, text, wrapped};
use crate::answer::haze::words;
use crate::compatibility::{CloudOutcome, Pair, ShelfSaltRead, Together};

/// Side of a cell.
const CELL: usize = 30;
/// Blank around the picture.
const EDGE: usize = 28;
/// Height of the heading.
const HEAD: usize = 64;
/// Width of a letter of a name, on the large side.
const LETTER: usize = 8;
/// Width of a letter in bold.
const BOLD: usize = 9;
/// Height of a line of the legend.
const LINE: usize = 24;
/// Width that the words below the matrix need.
const LEAST_WIDTH: usize = 620;

/// Draws the picture; `placed` says where the salts meet. It carries its own light ground, so it reads the same on a dark
/// page.
pub(super) fn draw(told: &Told, placed: &str) -> String {
    let count = told.salts.len();
    let solids = solids(told);
    // the rows step to the right, so that each name has its own left edge
    let reach = |salt: &ShelfSaltRead| salt.number as usize * CELL + label(salt).chars().count() * LETTER;
    let matrix = 40 + told.salts.iter().map(reach).max().unwrap_or(0);
    let width = (2 * EDGE + matrix).max(LEAST_WIDTH);
    let together = wrapped(&format!("All together: {}", told.together.why), (width - 2 * EDGE - 40) / BOLD);
    let below = EDGE + HEAD + count * CELL + 40;
    let height = below + (7 + together.len() + solids.len().div_ceil(2)) * LINE + EDGE;
    let mut svg = String::new();
    let desc = format!("{count} salts in pairs, {placed}. {}", told.together.why);
    open(&mut svg, (width, height), TITLE, &desc);
    heading(&mut svg, EDGE, TITLE, placed);
    matrix_of(&mut svg, told, &solids);
    legend(&mut svg, told, &together, &solids, below);
    svg + "</svg>\n"
}

const TITLE: &str = "What may stand together";

/// The solids that decide a cloud somewhere, in the order in which they come.
fn solids(told: &Told) -> Vec<&str> {
    let mut found: Vec<&str> = Vec::new();
    let alone = told.alone.iter().map(|cell| (cell.outcome, &cell.solid));
    let pairs = told.pairs.iter().map(|cell| (cell.outcome, &cell.solid));
    for (outcome, solid) in alone.chain(pairs) {
        if let Some(solid) = solid.as_deref().filter(|_| clouds(outcome))
            && !found.contains(&solid)
        {
            found.push(solid);
        }
    }
    found
}

fn clouds(outcome: CloudOutcome) -> bool {
    matches!(outcome, CloudOutcome::InTime | CloudOutcome::AtOnce)
}

fn matrix_of(svg: &mut String, told: &Told, solids: &[&str]) {
    let (left, top) = (EDGE + 28, EDGE + HEAD);
    let mut pairs = told.pairs.iter();
    for (row, salt) in told.salts.iter().enumerate() {
        let y = top + row * CELL;
        text(
            svg,
            (left - 8, y + 20),
            &format!("text-anchor=\"end\" font-size=\"12\" {FAINT}"),
            &salt.number.to_string(),
        );
        for (column, pair) in pairs.by_ref().take(row).enumerate() {
            let names = format!("{} + {}", told.salts[column].name, salt.name);
            let Pair { outcome, solid, why, .. } = pair;
            cell(
                svg,
                (left + column * CELL, y),
                *outcome,
                key(solid.as_deref(), solids),
                &format!("{names}: {why}"),
                false,
            );
        }
        let Together { outcome, solid, why, .. } = &told.alone[row];
        let x = left + row * CELL;
        cell(
            svg,
            (x, y),
            *outcome,
            key(solid.as_deref(), solids),
            &format!("{} alone: {why}", salt.name),
            true,
        );
        text(svg, (x + CELL + 10, y + 20), "", &label(salt));
    }
    for salt in &told.salts {
        let x = left + (salt.number as usize - 1) * CELL + CELL / 2;
        let y = top + told.salts.len() * CELL + 16;
        text(
            svg,
            (x, y),
            &format!("text-anchor=\"middle\" font-size=\"12\" {FAINT}"),
            &salt.number.to_string(),
        );
    }
}

/// What stands beside the diagonal: a salt and its strength.
fn label(salt: &ShelfSaltRead) -> String {
    let strength = match salt.mg_per_l {
        strong if strong >= 1000.0 => format!("{} g/L", (strong / 10.0).round() / 100.0),
        weak => format!("{} mg/L", (weak * 100.0).round() / 100.0),
    };
    format!("{} {}, {strength}", salt.number, salt.name)
}

/// The number of a solid in the legend.
fn key(solid: Option<&str>, solids: &[&str]) -> Option<usize> {
    solid.and_then(|solid| solids.iter().position(|known| *known == solid)).map(|at| at + 1)
}

/// Ground and ink of an outcome: light for what is well, dark for what clouds, so that it is told without colour too.
fn paint(outcome: CloudOutcome) -> (&'static str, &'static str) {
    match outcome {
        CloudOutcome::Never => ("#dcebf2", "#41606f"),
        CloudOutcome::InTime => ("#f3bd4f", "#1d1a10"),
        CloudOutcome::AtOnce => ("#8f2424", "#ffffff"),
        CloudOutcome::NotJudged => ("#ffffff", "#4d5753"),
    }
}

/// A cell at a place, with what it says where somebody points at it. A salt by itself stands in a rounder frame.
fn cell(
    svg: &mut String,
    (x, y): (usize, usize),
    outcome: CloudOutcome,
    key: Option<usize>,
    says: &str,
    alone: bool,
) {
    let (ground, ink) = paint(outcome);
    let side = CELL - 2;
    let frame = if alone { "rx=\"10\" stroke=\"#4d5753\" stroke-width=\"1.5\"" } else { "rx=\"3\"" };
    let dashes =
        if outcome == CloudOutcome::NotJudged { " stroke=\"#4d5753\" stroke-dasharray=\"3 2\"" } else { "" };
    let dashes = if alone { "" } else { dashes };
    let _ = writeln!(
        svg,
        "<g><title>{}</title><rect x=\"{}\" y=\"{}\" width=\"{side}\" height=\"{side}\" {frame}{dashes} \
         fill=\"{ground}\"/>",
        escaped(says),
        x + 1,
        y + 1,
    );
    let letter = if outcome == CloudOutcome::Never { "·".to_owned() } else { sign(outcome).to_string() };
    let key = key.filter(|_| clouds(outcome));
    let at = if key.is_some() { x + 11 } else { x + CELL / 2 };
    let style = format!("text-anchor=\"middle\" font-weight=\"600\" fill=\"{ink}\"");
    text(svg, (at, y + 20), &style, &letter);
    if let Some(key) = key {
        let style = format!("text-anchor=\"middle\" font-size=\"10\" fill=\"{ink}\"");
        text(svg, (x + 22, y + 24), &style, &key.to_string());
    }
    svg.push_str("</g>\n");
}

/// What signs, colours and numbers mean, and what comes of all salts together.
fn legend(svg: &mut String, told: &Told, words_together: &[String], solids: &[&str], top: usize) {
    use CloudOutcome as C;
    let lines = [
        (C::Never, "never a cloud"),
        (C::InTime, "a cloud in time"),
        (C::AtOnce, "a cloud at once, within hours at the latest"),
        (C::NotJudged, "not judged: beyond the model"),
    ];
    let together = &told.together;
    cell(svg, (EDGE, top - 8), together.outcome, None, &together.why, false);
    let mut y = top + 12;
    for line in words_together {
        text(svg, (EDGE + CELL + 8, y), "font-weight=\"600\"", line);
        y += LINE;
    }
    y += LINE / 2;
    for (outcome, meaning) in lines {
        cell(svg, (EDGE, y - 20), outcome, None, meaning, false);
        text(svg, (EDGE + CELL + 8, y), "", meaning);
        y += LINE + 6;
    }
    let framed = "A round frame is the salt by itself; the small number is the solid that falls:";
    if solids.is_empty() {
        return;
    }
    text(svg, (EDGE, y), FAINT, framed);
    for (at, solid) in solids.iter().enumerate() {
        let place = (EDGE + (at % 2) * 290, y + LINE * (1 + at / 2));
        text(svg, place, "", &format!("{} {}", at + 1, words(solid)));
    }
}
