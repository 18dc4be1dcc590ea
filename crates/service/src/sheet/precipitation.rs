//! The sheet of a precipitation: what an eye will see first, then what falls and dissolves, then the water that is left.

use springwright_contract::haze::Verdict;
use springwright_contract::precipitation::PrecipitationAnswer;

use super::figure::{hundredths, significant, words};
use super::table::{Edge, columns};
use super::{Sheet, said, water};

pub(super) fn write(sheet: &mut Sheet, answer: &PrecipitationAnswer) {
    let by = answer.worst_solid.as_ref().map(|solid| format!(", by {}", words(solid))).unwrap_or_default();
    sheet.line(&format!("Precipitation: {}{by}", answer.verdict.word()));
    haze(sheet, answer);
    solids(sheet, answer);
    potentials(sheet, answer);
    water::write(sheet, "The water that is left", &answer.after);
    said::not_judged(sheet, &answer.not_judged);
    said::assumptions(sheet, &answer.assumptions);
    said::findings(sheet, &answer.findings);
    said::cautions(sheet, &answer.cautions);
    said::provenance(sheet, &answer.provenance);
}

/// What an eye will see, the worst first; what is undersaturated is counted only.
fn haze(sheet: &mut Sheet, answer: &PrecipitationAnswer) {
    sheet.heading("What an eye will see");
    let mut seen: Vec<_> = answer.haze.iter().filter(|one| one.verdict > Verdict::Undersaturated).collect();
    seen.sort_by(|one, other| other.verdict.cmp(&one.verdict).then(one.margin.total_cmp(&other.margin)));
    for one in &seen {
        let time = one.time.as_ref().map(|time| format!(" ({})", time.text)).unwrap_or_default();
        let possible = if one.cloud_possible { "; a cloud cannot be excluded" } else { "" };
        sheet.paragraph("  - ", &format!("{}: {}{possible}{time}", one.verdict.word(), one.why));
    }
    let rest = answer.haze.len() - seen.len();
    if rest > 0 {
        sheet.paragraph("  - ", &format!("undersaturated: {rest} more that haze is judged by"));
    }
    for powder in &answer.dissolving {
        sheet.paragraph("  - ", &powder.text);
    }
}

fn solids(sheet: &mut Sheet, answer: &PrecipitationAnswer) {
    sheet.heading("Solids in balance, mg in a litre of the water before");
    let mut rows = vec![["", "", "at the start", "at the end", "formed", "index", ""].map(str::to_owned)];
    let there = answer.solids.iter().filter(|one| one.at_start_mg_per_l > 0.0 || one.at_end_mg_per_l > 0.0);
    rows.extend(there.map(|one| {
        [
            words(&one.solid),
            one.formula.clone(),
            significant(one.at_start_mg_per_l, 4),
            significant(one.at_end_mg_per_l, 4),
            significant(one.formed_mg_per_l, 4).replace('-', "−"),
            hundredths(one.si),
            if one.measured { "" } else { "*" }.to_owned(),
        ]
    }));
    if rows.len() == 1 {
        sheet.line("  none: nothing falls");
        return;
    }
    let edges = [Edge::Left, Edge::Left, Edge::Right, Edge::Right, Edge::Right, Edge::Right, Edge::Left];
    for line in columns(edges, &rows) {
        sheet.line(&line);
    }
    if rows.iter().any(|row| row[6] == "*") {
        sheet.paragraph("  * ", "beyond the temperatures at which the constant was measured");
    }
}

fn potentials(sheet: &mut Sheet, answer: &PrecipitationAnswer) {
    let mut rows = Vec::new();
    let mut say = |name: &str, value: Option<f64>, unit: &str| {
        if let Some(value) = value {
            let value = significant(value, 4).replace('-', "−");
            rows.push([name.to_owned(), value, unit.to_owned()]);
        }
    };
    let closed = answer.calcite_potential_closed_mg_per_l;
    say("calcite potential of the water before, closed", closed, "mg/L CaCO3");
    say("  open to air", answer.calcite_potential_in_air_mg_per_l, "mg/L CaCO3");
    say("carbon dioxide into the gas", answer.co2_to_gas_g_per_l, "g/L");
    if !rows.is_empty() {
        sheet.line("");
    }
    for line in columns([Edge::Left, Edge::Right, Edge::Left], &rows) {
        sheet.line(&line);
    }
}
