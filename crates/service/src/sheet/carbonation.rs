//! The sheet of a carbonation: the gas and the gauge first, then the table that hangs beside the keg, then the water.
//! What the still water holds beside carbonate does not change, so it is not shown twice.

use springwright_contract::carbonation::{CarbonationAnswer, PressureAt};

use super::figure::{hundredths, significant, words};
use super::table::{Edge, columns};
use super::{Sheet, said, water};

pub(super) fn write(sheet: &mut Sheet, answer: &CarbonationAnswer) {
    sheet.line("Carbonation");
    for line in columns([Edge::Left, Edge::Right, Edge::Left, Edge::Left], &gas(answer)) {
        sheet.line(&line);
    }
    pressures(sheet, &answer.pressures);
    changes(sheet, answer);
    water::write(sheet, "The water after", &answer.after);
    said::not_judged(sheet, &answer.not_judged);
    said::assumptions(sheet, &answer.assumptions);
    said::findings(sheet, &answer.findings);
    said::cautions(sheet, &answer.cautions);
    said::provenance(sheet, &answer.provenance);
}

fn gas(answer: &CarbonationAnswer) -> Vec<[String; 4]> {
    let row =
        |name: &str, value: String, unit: &str, rest: String| [name.to_owned(), value, unit.to_owned(), rest];
    let whole =
        |grams: Option<f64>| grams.map(|g| format!("{} g in all", significant(g, 4))).unwrap_or_default();
    let mut rows = Vec::new();
    if let Some(add) = answer.co2_to_add_g_per_l.filter(|add| *add != 0.0) {
        let (name, sign) =
            if add < 0.0 { ("carbon dioxide given off", -1.0) } else { ("carbon dioxide to add", 1.0) };
        let grams = answer.co2_to_add_g.map(|g| sign * g);
        rows.push(row(name, significant(sign * add, 4), "g/L of the still water", whole(grams)));
    }
    rows.push(row("free carbon dioxide then", significant(answer.grams_per_l, 4), "g/L", String::new()));
    rows.push(row("  the same", significant(answer.volumes, 4), "volumes", String::new()));
    if let Some(over) = &answer.headspace {
        let share = format!("{} % of what was in it{}", significant(over.share_percent, 3), {
            let grams = whole(over.co2_g);
            if grams.is_empty() { grams } else { format!(", {grams}") }
        });
        let name = format!("  up into the {} % headspace", significant(over.percent, 3));
        rows.push(row(&name, significant(over.co2_g_per_l, 3), "g/L", share));
    }
    if let Some(bar) = answer.gauge_bar {
        let celsius = format!("bar at {} °C", significant(answer.after.temperature_c, 3));
        rows.push(row("pressure on the gauge", hundredths(bar), &celsius, String::new()));
    }
    if let Some(open) = &answer.opened {
        let grams = whole(open.co2_given_off_g);
        rows.push(row(
            "given off once it stands open",
            significant(open.co2_given_off_g_per_l, 4),
            "g/L",
            grams,
        ));
    }
    rows
}

fn pressures(sheet: &mut Sheet, pressures: &[PressureAt]) {
    if pressures.iter().all(|row| row.gauge_bar.is_none()) {
        return;
    }
    sheet.heading("The same water, closed: pressure on the gauge");
    let row = |at: &PressureAt| {
        let gauge = at.gauge_bar.map_or("none".to_owned(), |bar| format!("{} bar", hundredths(bar)));
        [format!("{} °C", at.temperature_c), gauge]
    };
    let rows: Vec<_> = pressures.iter().map(row).collect();
    for line in columns([Edge::Right, Edge::Right], &rows) {
        sheet.line(&line);
    }
}

/// pH and saturation on the way.
fn changes(sheet: &mut Sheet, answer: &CarbonationAnswer) {
    sheet.heading("On its way");
    let cell = |value: Option<f64>| value.map(hundredths).unwrap_or_default();
    let opened = answer.opened.as_ref();
    let mut rows = vec![
        ["", "still", "then", "once open"].map(str::to_owned),
        ["pH".to_owned(), cell(answer.before.ph), cell(answer.after.ph), cell(opened.map(|open| open.ph))],
    ];
    rows.extend(answer.saturation.iter().map(|one| {
        let name = format!("saturation index, {}", words(&one.solid));
        [name, cell(one.before), cell(Some(one.after)), cell(one.opened)]
    }));
    for line in columns([Edge::Left, Edge::Right, Edge::Right, Edge::Right], &rows) {
        sheet.line(&line);
    }
}
