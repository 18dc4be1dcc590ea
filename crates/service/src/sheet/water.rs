//! A water: cations, then anions, each by falling meq/L, then what carries no charge, then the sums.

use springwright_contract::water::{Ion, SaturationIndex, Water};

use super::Sheet;
use super::figure::{hundredths, significant, words};
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
    let rows = [
        ("conductivity at 25 °C", water.conductivity_us_per_cm.map(|own| own.at_25c), 4, "µS/cm"),
        ("  at its temperature", water.conductivity_us_per_cm.map(|own| own.at_temperature), 4, "µS/cm"),
        ("free carbon dioxide", water.co2_mg_per_l, 3, "mg/L"),
        ("  its pressure", water.pco2_bar, 3, "bar"),
        ("pressure on the gauge", water.gauge_bar, 3, "bar"),
        ("dissolved solids", water.tds_mg_per_l, 4, "mg/L"),
        ("residue at 180 °C", water.residue_180c_mg_per_l, 4, "mg/L"),
        ("hardness", part(|hardness| Some(hardness.total)), 4, "mg/L as CaCO3"),
        ("  of it carbonate", part(|hardness| hardness.carbonate), 4, "mg/L as CaCO3"),
        ("  of it other", part(|hardness| hardness.noncarbonate), 4, "mg/L as CaCO3"),
        ("alkalinity", water.alkalinity_meq_per_l, 4, "meq/L"),
        ("  the same", water.alkalinity_mg_per_l_hco3, 4, "mg/L as HCO3"),
        ("dissolved carbonate", water.dic_mmol_per_l, 4, "mmol/L"),
        ("ionic strength", water.ionic_strength_mol_per_kg, 3, "mol/kg"),
        ("osmolality", water.osmolality_mosmol_per_kg, 3, "mosmol/kg"),
        ("density", water.density_kg_per_l, 5, "kg/L"),
        ("charge balance", water.charge_balance_percent, 2, "%"),
    ];
    let told = rows.into_iter().filter_map(|(name, value, digits, unit)| {
        value.map(|value| [name.to_owned(), significant(value, digits), unit.to_owned()])
    });
    acidity(water).into_iter().chain(told).chain(nearness(water)).collect()
}

/// pH to two decimals, as far as anybody measures it.
fn acidity(water: &Water) -> Vec<[String; 3]> {
    let rows = [("pH", water.ph), ("  once it stands in air", water.ph_in_air)];
    let told =
        rows.into_iter().filter_map(|(name, ph)| Some([name.to_owned(), hundredths(ph?), String::new()]));
    told.collect()
}

/// The saturation indices, to two decimals.
fn nearness(water: &Water) -> impl Iterator<Item = [String; 3]> {
    let heading = (!water.saturation.is_empty()).then(|| {
        [
            "saturation index".to_owned(),
            String::new(),
            "0 is just saturated, above it can fall out".to_owned(),
        ]
    });
    let index =
        |one: &SaturationIndex| [format!("  {}", words(&one.solid)), hundredths(one.si), String::new()];
    heading.into_iter().chain(water.saturation.iter().map(index))
}

/// 0 for cations, 1 for anions, 2 for what carries no charge.
fn side(ion: &Ion) -> u8 {
    match ion.charge {
        1.. => 0,
        0 => 2,
        _ => 1,
    }
}
