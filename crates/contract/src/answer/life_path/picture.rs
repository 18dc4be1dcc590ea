//! The life as a picture: a card for every stage, below it the indices of the solids that matter on their way, then pH, gas and
//! pressure. One sees at a glance where the water turns.

use std::fmt::Write as _;

use springwright_chem::phases::haze::Haze;

use super::Told;
use crate::answer::drawing::{FAINT, escaped, heading, open, text, wrapped};
use crate::answer::haze::{self, words};
use crate::haze::Verdict;
use crate::life_path::LifeStageWord;

/// Blank around the picture.
const EDGE: usize = 28;
/// Height of the heading.
const HEAD: usize = 64;
/// What stands at the left of the columns.
const SIDE: usize = 96;
/// Width of a column.
const COLUMN: usize = 120;
/// Height of a card.
const CARD: usize = 104;
/// Height of the chart.
const CHART: usize = 240;
/// Height of a line of words.
const LINE: usize = 22;
/// Width of what stands at the right of the chart.
const NAMES: usize = 180;
/// Most solids in the chart.
const MOST_SOLIDS: usize = 5;
/// Inks and dashes of their lines: told without colour too.
const STROKES: [(&str, &str); MOST_SOLIDS] =
    [("#1f4e79", ""), ("#7a3b00", "7 4"), ("#2f6b3a", "2 4"), ("#5a2a6e", "10 3 2 3"), ("#444444", "4 2")];

const TITLE: &str = "The life of a water";

/// Draws the picture; `placed` says of what and where.
pub(super) fn draw(told: &[Told], placed: &str, rating_bar: Option<f64>) -> String {
    let solids = drawn(told);
    let width = 2 * EDGE + SIDE + told.len() * COLUMN + NAMES;
    let rows = EDGE + HEAD + CARD + 28 + CHART + 36;
    let height = rows + 4 * LINE + 3 * LINE + EDGE;
    let mut svg = String::new();
    let turns: Vec<String> =
        told.iter().map(|one| format!("{}: {}", one.read.name, one.read.verdict.word())).collect();
    open(&mut svg, (width, height), TITLE, &turns.join("; "));
    heading(&mut svg, EDGE, TITLE, placed);
    for (at, one) in told.iter().enumerate() {
        card(&mut svg, left(at), EDGE + HEAD, one);
    }
    Chart::of(told, &solids).draw(&mut svg, EDGE + HEAD + CARD + 28);
    figures(&mut svg, told, rows, rating_bar);
    legend(&mut svg, rows + 5 * LINE);
    svg + "</svg>\n"
}

/// Left edge of a column.
fn left(at: usize) -> usize {
    EDGE + SIDE + at * COLUMN
}

/// The solids to draw: the worst of each stage, the harshest first.
fn drawn(told: &[Told]) -> Vec<&'static str> {
    let mut worst: Vec<&Haze> = told.iter().filter_map(|one| one.haze.worst()).collect();
    worst.sort_by(|a, b| b.verdict.cmp(&a.verdict).then(a.margin.total_cmp(&b.margin)));
    let mut solids: Vec<&'static str> = Vec::new();
    for haze in worst {
        if !solids.contains(&haze.saturation.solid.id) && solids.len() < MOST_SOLIDS {
            solids.push(haze.saturation.solid.id);
        }
    }
    solids
}

/// Ground and ink of a verdict: light for what is well, dark for what clouds.
fn paint(verdict: Verdict) -> (&'static str, &'static str) {
    match verdict {
        Verdict::Undersaturated | Verdict::Clear => ("#dcebf2", "#21414f"),
        Verdict::Dissolving => ("#e6e2d6", "#1d2421"),
        Verdict::Metastable => ("#f3bd4f", "#1d1a10"),
        Verdict::Clouds => ("#8f2424", "#ffffff"),
    }
}

/// A stage: what it is, how warm, what an eye will see and of which solid.
fn card(svg: &mut String, x: usize, y: usize, one: &Told) {
    let read = &one.read;
    let (ground, ink) = paint(read.verdict);
    let frame =
        if read.stage == LifeStageWord::Stock { " stroke=\"#4d5753\" stroke-dasharray=\"4 3\"" } else { "" };
    let _ = writeln!(
        svg,
        "<g><title>{}</title><rect x=\"{}\" y=\"{y}\" width=\"{}\" height=\"{CARD}\" rx=\"10\"{frame} fill=\"{ground}\"/>",
        escaped(&format!("{}: {}", read.name, read.why)),
        x + 3,
        COLUMN - 6,
    );
    let centre = x + COLUMN / 2;
    let bold = format!("text-anchor=\"middle\" font-weight=\"600\" fill=\"{ink}\"");
    let plain = format!("text-anchor=\"middle\" font-size=\"12\" fill=\"{ink}\"");
    let mut line = y + 18;
    for words in wrapped(&read.name, 14).into_iter().take(2) {
        text(svg, (centre, line), &plain, &words.chars().take(17).collect::<String>());
        line += 15;
    }
    let verdict = read.verdict.word();
    let size = if verdict.len() > 11 { " font-size=\"12\"" } else { "" };
    text(svg, (centre, y + 58), &format!("{bold}{size}"), verdict);
    let by =
        read.worst_solid.as_deref().filter(|_| read.verdict > Verdict::Clear).map(words).unwrap_or_default();
    let mut line = y + 77;
    for words in wrapped(&by, 16).into_iter().take(2) {
        text(svg, (centre, line), &plain, &words);
        line += 15;
    }
    svg.push_str("</g>\n");
}

/// Lines of the indices over the stages.
struct Chart<'a> {
    told: &'a [Told],
    solids: &'a [&'static str],
    low: f64,
    high: f64,
}

impl<'a> Chart<'a> {
    fn of(told: &'a [Told], solids: &'a [&'static str]) -> Chart<'a> {
        let indices = || solids.iter().flat_map(|solid| told.iter().filter_map(|one| index(one, solid)));
        let high = indices().fold(0.5, f64::max).min(6.0);
        let low = indices().fold(-1.0, f64::min).max(-4.0);
        Chart { told, solids, low: low.floor(), high: high.ceil() }
    }

    fn y(&self, top: usize, index: f64) -> f64 {
        let share = (self.high - index.clamp(self.low, self.high)) / (self.high - self.low);
        top as f64 + share * CHART as f64
    }

    fn draw(&self, svg: &mut String, top: usize) {
        self.grid(svg, top);
        let mut ends: Vec<(f64, usize)> = Vec::new();
        for (number, solid) in self.solids.iter().enumerate() {
            if let Some(end) = self.line(svg, top, number, solid) {
                ends.push((end, number));
            }
        }
        self.names(svg, top, ends);
    }

    fn grid(&self, svg: &mut String, top: usize) {
        let (from, to) = (EDGE + SIDE, left(self.told.len()));
        let mut index = self.low;
        while index <= self.high {
            let y = self.y(top, index);
            let (ink, wide) = if index == 0.0 { ("#1d2421", 1.5) } else { ("#d5d8d2", 1.0) };
            let _ = writeln!(
                svg,
                "<line x1=\"{from}\" y1=\"{y:.1}\" x2=\"{to}\" y2=\"{y:.1}\" stroke=\"{ink}\" stroke-width=\"{wide}\"/>"
            );
            let style = format!("text-anchor=\"end\" font-size=\"12\" {FAINT}");
            let label = format!("{index:+.0}").replace('-', "−").replace("+0", "0");
            text(svg, (from - 8, y as usize + 4), &style, &label);
            index += 1.0;
        }
        let small = format!("font-size=\"12\" {FAINT}");
        for (at, line) in ["saturation", "index"].iter().enumerate() {
            text(svg, (EDGE, top + 12 + at * 14), &small, line);
        }
    }

    /// The line of a solid, its points coloured by its verdict; answers where it ends. A stock stands apart.
    fn line(&self, svg: &mut String, top: usize, number: usize, solid: &str) -> Option<f64> {
        let point = |(at, one): (usize, &'a Told)| {
            let x = left(at) as f64 + COLUMN as f64 / 2.0;
            index(one, solid).map(|index| (x, self.y(top, index), index, one))
        };
        let points: Vec<_> = self.told.iter().enumerate().filter_map(point).collect();
        let path: Vec<String> = points
            .iter()
            .filter(|(_, _, _, one)| one.read.stage != LifeStageWord::Stock)
            .map(|(x, y, ..)| format!("{x:.1},{y:.1}"))
            .collect();
        let (ink, dashes) = STROKES[number];
        let dashes =
            if dashes.is_empty() { String::new() } else { format!(" stroke-dasharray=\"{dashes}\"") };
        let _ = writeln!(
            svg,
            "<polyline points=\"{}\" fill=\"none\" stroke=\"{ink}\" stroke-width=\"2\"{dashes}/>",
            path.join(" ")
        );
        for (x, y, index, one) in &points {
            let verdict = one.haze.of(solid).map_or(Verdict::Undersaturated, |haze| haze::word(haze.verdict));
            let _ = writeln!(
                svg,
                "<g><title>{}</title><circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"5\" fill=\"{}\" stroke=\"{ink}\" \
                 stroke-width=\"1.5\"/></g>",
                escaped(&format!(
                    "{}, {}: index {index:.2}, {}",
                    one.read.name,
                    words(solid),
                    verdict.word()
                )),
                paint(verdict).0,
            );
        }
        points.last().map(|(_, y, ..)| *y)
    }

    /// The names beside the ends of their lines, pushed apart where they meet.
    fn names(&self, svg: &mut String, top: usize, mut ends: Vec<(f64, usize)>) {
        ends.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        let mut free = top as f64;
        for (y, number) in ends {
            let y = y.max(free);
            free = y + 17.0;
            let style = format!("font-size=\"13\" font-weight=\"600\" fill=\"{}\"", STROKES[number].0);
            text(svg, (left(self.told.len()) + 4, y as usize + 4), &style, &words(self.solids[number]));
        }
    }
}

/// The index of a solid at a stage.
fn index(one: &Told, solid: &str) -> Option<f64> {
    one.haze.of(solid).map(|haze| haze.saturation.index)
}

/// Temperature, pH, gas and pressure under every stage; a pressure above the rating stands out.
fn figures(svg: &mut String, told: &[Told], top: usize, rating_bar: Option<f64>) {
    const CENTRED: &str = "text-anchor=\"middle\"";
    for (row, head) in ["", "pH", "CO2, volumes", "gauge, bar"].iter().enumerate() {
        let y = top + row * LINE;
        text(svg, (EDGE, y), &format!("font-size=\"12\" {FAINT}"), head);
        for (at, one) in told.iter().enumerate() {
            let read = &one.read;
            let over = read.gauge_bar.zip(rating_bar).is_some_and(|(bar, rating)| bar > rating);
            let (style, words) = match row {
                0 => (" font-weight=\"600\"", format!("{:.0} °C", read.temperature_c)),
                1 => ("", format!("{:.2}", read.ph)),
                2 => ("", format!("{:.2}", read.volumes)),
                _ => match read.gauge_bar {
                    Some(bar) if over => (" font-weight=\"700\" fill=\"#8f2424\"", format!("{bar:.1} !")),
                    Some(bar) => ("", format!("{bar:.1}")),
                    None => ("", "–".to_owned()),
                },
            };
            text(svg, (left(at) + COLUMN / 2, y), &format!("{CENTRED}{style}"), &words);
        }
    }
}

/// What colours and frames mean.
fn legend(svg: &mut String, y: usize) {
    let meanings = [
        (Verdict::Clear, "clear, or more would dissolve"),
        (Verdict::Metastable, "stands for a while; on seeds and walls it turns"),
        (Verdict::Clouds, "a cloud within hours at the latest"),
    ];
    let mut x = EDGE;
    for (verdict, meaning) in meanings {
        let _ = writeln!(
            svg,
            "<rect x=\"{x}\" y=\"{}\" width=\"16\" height=\"16\" rx=\"4\" fill=\"{}\"/>",
            y - 13,
            paint(verdict).0
        );
        text(svg, (x + 24, y), "font-size=\"13\"", meaning);
        x += 60 + meaning.chars().count() * 7;
    }
    let small = format!("font-size=\"12\" {FAINT}");
    let words =
        "Each stage is judged as if nothing had fallen before it. A dashed card is a stock by itself.";
    text(svg, (EDGE, y + LINE), &small, words);
}
