//! A water: cations, then anions, each by falling meq/L, then what carries no charge, then the sums.

use springwright_contract::water::{Ion, Water};

use super::figure::significant;
use super::table::{Edge, columns};
use super::{Sheet, figures};

pub(super) fn write(sheet: &mut Sheet, heading: &str, water: &Water) {
    let volume = water.volume_l.map(|volume| format!(", {} L", significant(volume, 5))).unwrap_or_default();
    let mass = water.mass_kg.map(|mass| format!(", {} kg", significant(mass, 5))).unwrap_or_default();
    sheet.heading(&format!("{heading}{volume}{mass} at {} °C", significant(water.temperature_c, 3)));
    ions(sheet, water);
    sheet.line("");
    figures::write(sheet, water);
    if !water.not_stated.is_empty() {
        sheet.paragraph("  Not stated on any sheet, therefore unknown: ", &water.not_stated.join(", "));
    }
    figures::write_contributions(sheet, water);
}

/// Share of a figure below which its uncertainty is not worth showing: only the litre moves.
const HIDDEN: f64 = 1e-5;

/// The table of ions alone.
pub(super) fn ions(sheet: &mut Sheet, water: &Water) {
    let known = water.uncertainty.as_ref();
    let above = if known.is_some_and(|known| !known.ions.is_empty()) { "±" } else { "" };
    let mut rows = vec![["", "mg/L", above, "mmol/L", "meq/L"].map(str::to_owned)];
    rows.extend(in_order(water).into_iter().map(|(name, ion)| {
        let spread = known.and_then(|known| known.ions.get(name)).map(|ion| ion.mg_per_l);
        [
            name.to_owned(),
            significant(ion.mg_per_l, 4),
            spread
                .filter(|spread| *spread > HIDDEN * ion.mg_per_l)
                .map(|spread| significant(spread, 2))
                .unwrap_or_default(),
            significant(ion.mmol_per_l, 4),
            ion.meq_per_l.map(|meq| significant(meq, 4)).unwrap_or_default(),
        ]
    }));
    for line in columns([Edge::Left, Edge::Right, Edge::Right, Edge::Right, Edge::Right], &rows) {
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

/// 0 for cations, 1 for anions, 2 for what carries no charge.
fn side(ion: &Ion) -> u8 {
    match ion.charge {
        1.. => 0,
        0 => 2,
        _ => 1,
    }
}
