//! A water: cations, then anions, each by falling meq/L, then what carries no charge, then the sums.

use springwright_contract::water::{Ion, Water};

use super::Sheet;
use super::figure::significant;
use super::table::{Edge, columns};

pub(super) fn write(sheet: &mut Sheet, heading: &str, water: &Water) {
    let volume = water.volume_l.map(|volume| format!(", {} L", significant(volume, 5))).unwrap_or_default();
    let mass = water.mass_kg.map(|mass| format!(", {} kg", significant(mass, 5))).unwrap_or_default();
    sheet.heading(&format!("{heading}{volume}{mass} at {} °C", significant(water.temperature_c, 3)));
    ions(sheet, water);
    sheet.line("");
    for line in columns([Edge::Left, Edge::Right, Edge::Left], &sums(water)) {
        sheet.line(&line);
    }
    if !water.not_stated.is_empty() {
        sheet.paragraph("  Not stated on any sheet, therefore unknown: ", &water.not_stated.join(", "));
    }
}

/// The table of ions alone.
pub(super) fn ions(sheet: &mut Sheet, water: &Water) {
    let mut rows = vec![["", "mg/L", "mmol/L", "meq/L"].map(str::to_owned)];
    rows.extend(in_order(water).into_iter().map(|(name, ion)| {
        [
            name.to_owned(),
            significant(ion.mg_per_l, 4),
            significant(ion.mmol_per_l, 4),
            ion.meq_per_l.map(|meq| significant(meq, 4)).unwrap_or_default(),
        ]
    }));
    for line in columns([Edge::Left, Edge::Right, Edge::Right, Edge::Right], &rows) {
        sheet.line(&line);
    }
}

fn in_order(water: &Water) -> Vec<(&str, Ion)> {
    let mut rows: Vec<_> = water.ions.iter().map(|(name, ion)| (name.as_str(), *ion)).collect();
    rows.extend(bicarbonate(water).map(|ion| ("HCO3", ion)));
    let charge = |ion: &Ion| ion.meq_per_l.unwrap_or(0.0).abs();
    rows.sort_by(|(one, first), (two, second)| {
        side(first).cmp(&side(second)).then(charge(second).total_cmp(&charge(first))).then(one.cmp(two))
    });
    rows
}

/// Without a solved state the bicarbonate of a water is its alkalinity expressed as such.
fn bicarbonate(water: &Water) -> Option<Ion> {
    let (mg_per_l, meq) = (water.alkalinity_mg_per_l_hco3?, water.alkalinity_meq_per_l?);
    let solved = water.ions.contains_key("HCO3");
    (!solved && meq > 0.0).then_some(Ion { mg_per_l, mmol_per_l: meq, charge: -1, meq_per_l: Some(meq) })
}

fn sums(water: &Water) -> Vec<[String; 3]> {
    let hardness = water.hardness_mg_per_l_caco3;
    let part =
        |pick: fn(&springwright_contract::water::Hardness) -> Option<f64>| hardness.as_ref().and_then(pick);
    [
        ("pH", water.ph, 3, ""),
        ("dissolved solids", water.tds_mg_per_l, 4, "mg/L"),
        ("residue at 180 °C", water.residue_180c_mg_per_l, 4, "mg/L"),
        ("hardness", part(|hardness| Some(hardness.total)), 4, "mg/L as CaCO3"),
        ("  of it carbonate", part(|hardness| hardness.carbonate), 4, "mg/L as CaCO3"),
        ("  of it other", part(|hardness| hardness.noncarbonate), 4, "mg/L as CaCO3"),
        ("alkalinity", water.alkalinity_meq_per_l, 4, "meq/L"),
        ("  the same", water.alkalinity_mg_per_l_hco3, 4, "mg/L as HCO3"),
        ("density", water.density_kg_per_l, 5, "kg/L"),
        ("charge balance", water.charge_balance_percent, 2, "%"),
    ]
    .into_iter()
    .filter_map(|(name, value, digits, unit)| {
        value.map(|value| [name.to_owned(), significant(value, digits), unit.to_owned()])
    })
    .collect()
}

/// 0 for cations, 1 for anions, 2 for what carries no charge.
fn side(ion: &Ion) -> u8 {
    match ion.charge {
        1.. => 0,
        0 => 2,
        _ => 1,
    }
}
