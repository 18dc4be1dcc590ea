//! The sheet of a compatibility: the matrix, then every pair that clouds, then what to use instead.

use springwright_contract::compatibility::{CloudOutcome, CompatibilityAnswer, Pair, Substitute};

use super::figure::significant;
use super::{Sheet, said};

pub(super) fn write(sheet: &mut Sheet, answer: &CompatibilityAnswer) {
    for line in answer.text_table.lines() {
        sheet.line(line);
    }
    sheet.heading("Strengths, mg of the formula in a litre");
    for salt in &answer.salts {
        let formula = salt.formula.as_ref().map(|formula| format!(", {formula}")).unwrap_or_default();
        sheet.paragraph(
            &format!("  {:>2} ", salt.number),
            &format!("{}{formula}: {}", salt.name, significant(salt.mg_per_l, 4)),
        );
    }
    clouds(sheet, answer);
    instead(sheet, answer);
    said::not_judged(sheet, &answer.not_judged);
    said::assumptions(sheet, &answer.assumptions);
    said::findings(sheet, &answer.findings);
    said::cautions(sheet, &answer.cautions);
    said::provenance(sheet, &answer.provenance);
}

fn name(answer: &CompatibilityAnswer, number: u32) -> &str {
    answer.salts.iter().find(|salt| salt.number == number).map_or("", |salt| &salt.name)
}

fn clouds(sheet: &mut Sheet, answer: &CompatibilityAnswer) {
    let bad = |outcome| matches!(outcome, CloudOutcome::InTime | CloudOutcome::AtOnce);
    let by_itself = answer.salts.iter().zip(&answer.alone).filter(|(_, cell)| bad(cell.outcome));
    let alone: Vec<String> =
        by_itself.map(|(salt, cell)| format!("{}, by itself: {}", salt.name, cell.why)).collect();
    let pair = |pair: &Pair| {
        let time = pair.time.as_ref().map(|time| format!(" ({})", time.text)).unwrap_or_default();
        format!("{} + {}: {}{time}", name(answer, pair.first), name(answer, pair.second), pair.why)
    };
    let pairs = answer.pairs.iter().filter(|pair| bad(pair.outcome) && !pair.by_itself).map(pair);
    let told: Vec<String> = alone.into_iter().chain(pairs).collect();
    if told.is_empty() {
        return;
    }
    sheet.heading("What clouds");
    for one in told {
        sheet.paragraph("  - ", &one);
    }
}

fn instead(sheet: &mut Sheet, answer: &CompatibilityAnswer) {
    if answer.substitutes.is_empty() {
        return;
    }
    sheet.heading("What to use instead");
    let same = |one: &Substitute, other: &Substitute| {
        (one.first, one.second, one.instead_of) == (other.first, other.second, other.instead_of)
    };
    for ways in answer.substitutes.chunk_by(same) {
        let leaves = ways[0].instead_of;
        let stays = if leaves == ways[0].first { ways[0].second } else { ways[0].first };
        let each: Vec<String> = ways.iter().map(way).collect();
        let (stays, leaves) = (name(answer, stays), name(answer, leaves));
        sheet.paragraph("  - ", &format!("beside {stays}, instead of {leaves}: {}", each.join("; or ")));
    }
}

fn way(way: &Substitute) -> String {
    let milder = if way.outcome == CloudOutcome::InTime { ", which still clouds in time" } else { "" };
    format!("{} mg/L of {} (keeps {}){milder}", significant(way.mg_per_l, 4), way.name, way.keeps)
}
