//! The figures of a water below its ions: acidity, sums, carbon dioxide, saturation, each with how well it is known.

use springwright_contract::uncertainty::{Contribution, ContributionOf, WaterUncertainty};
use springwright_contract::water::{Hardness, Water};

use super::Sheet;
use super::figure::{hundredths, significant, words};
use super::table::{Edge, columns};

/// Name, figure, its standard uncertainty, unit.
type Row = [String; 4];

pub(super) fn write(sheet: &mut Sheet, water: &Water) {
    let known = water.uncertainty.as_ref();
    let mut rows: Vec<Row> = acidity(water, known);
    rows.extend(sums(water, known));
    rows.extend(nearness(water, known));
    for line in columns([Edge::Left, Edge::Right, Edge::Left, Edge::Left], &rows) {
        sheet.line(&line);
    }
}

/// pH to two decimals, as far as anybody measures it.
fn acidity(water: &Water, known: Option<&WaterUncertainty>) -> Vec<Row> {
    let rows = [
        ("pH", water.ph, known.and_then(|known| known.ph)),
        ("  once it stands in air", water.ph_in_air, known.and_then(|known| known.ph_in_air)),
    ];
    let row = |(name, ph, spread): (&str, Option<f64>, Option<f64>)| {
        Some([name.to_owned(), hundredths(ph?), plus_minus(spread), String::new()])
    };
    rows.into_iter().filter_map(row).collect()
}

fn sums(water: &Water, known: Option<&WaterUncertainty>) -> Vec<Row> {
    let hardness = |pick: fn(&Hardness) -> Option<f64>| {
        let spread = known.and_then(|known| known.hardness_mg_per_l_caco3);
        (water.hardness_mg_per_l_caco3.and_then(|own| pick(&own)), spread.and_then(|own| pick(&own)))
    };
    let of = |pick: fn(&WaterUncertainty) -> Option<f64>| known.and_then(pick);
    let conducts = water.conductivity_us_per_cm;
    let spread = known.and_then(|known| known.conductivity_us_per_cm);
    let rows = [
        ("conductivity at 25 °C", (conducts.map(|k| k.at_25c), spread.map(|k| k.at_25c)), 4, "µS/cm"),
        (
            "  at its temperature",
            (conducts.map(|k| k.at_temperature), spread.map(|k| k.at_temperature)),
            4,
            "µS/cm",
        ),
        ("free carbon dioxide", (water.co2_mg_per_l, of(|u| u.co2_mg_per_l)), 3, "mg/L"),
        ("  its pressure", (water.pco2_bar, of(|u| u.pco2_bar)), 3, "bar"),
        ("pressure on the gauge", (water.gauge_bar, of(|u| u.gauge_bar)), 3, "bar"),
        ("dissolved solids", (water.tds_mg_per_l, of(|u| u.tds_mg_per_l)), 4, "mg/L"),
        ("residue at 180 °C", (water.residue_180c_mg_per_l, of(|u| u.residue_180c_mg_per_l)), 4, "mg/L"),
        ("hardness", hardness(|own| Some(own.total)), 4, "mg/L as CaCO3"),
        ("  of it carbonate", hardness(|own| own.carbonate), 4, "mg/L as CaCO3"),
        ("  of it other", hardness(|own| own.noncarbonate), 4, "mg/L as CaCO3"),
        ("alkalinity", (water.alkalinity_meq_per_l, of(|u| u.alkalinity_meq_per_l)), 4, "meq/L"),
        (
            "  the same",
            (water.alkalinity_mg_per_l_hco3, of(|u| u.alkalinity_mg_per_l_hco3)),
            4,
            "mg/L as HCO3",
        ),
        ("dissolved carbonate", (water.dic_mmol_per_l, of(|u| u.dic_mmol_per_l)), 4, "mmol/L"),
        (
            "ionic strength",
            (water.ionic_strength_mol_per_kg, of(|u| u.ionic_strength_mol_per_kg)),
            3,
            "mol/kg",
        ),
        ("osmolality", (water.osmolality_mosmol_per_kg, of(|u| u.osmolality_mosmol_per_kg)), 3, "mosmol/kg"),
        ("density", (water.density_kg_per_l, of(|u| u.density_kg_per_l)), 5, "kg/L"),
        ("charge balance", (water.charge_balance_percent, of(|u| u.charge_balance_percent)), 2, "%"),
    ];
    let row = |(name, (value, spread), digits, unit): (&str, (Option<f64>, Option<f64>), i32, &str)| {
        Some([name.to_owned(), significant(value?, digits), plus_minus(spread), unit.to_owned()])
    };
    rows.into_iter().filter_map(row).collect()
}

/// The saturation indices, to two decimals.
fn nearness(water: &Water, known: Option<&WaterUncertainty>) -> Vec<Row> {
    if water.saturation.is_empty() {
        return Vec::new();
    }
    let spread = |solid: &str| {
        let found = known.into_iter().flat_map(|known| &known.saturation).find(|one| one.solid == solid);
        plus_minus(found.map(|one| one.si))
    };
    let told = "0 is just saturated, above it can fall out".to_owned();
    let mut rows = vec![["saturation index".to_owned(), String::new(), String::new(), told]];
    rows.extend(water.saturation.iter().map(|one| {
        [format!("  {}", words(&one.solid)), hundredths(one.si), spread(&one.solid), String::new()]
    }));
    rows
}

fn plus_minus(spread: Option<f64>) -> String {
    spread
        .filter(|spread| *spread > 0.0)
        .map(|spread| format!("± {}", significant(spread, 2)))
        .unwrap_or_default()
}

/// Shares below this are not worth a line, percent.
const SHOWN: f64 = 1.0;

/// Where the uncertainty of the pH and of the first index comes from.
pub(super) fn write_contributions(sheet: &mut Sheet, water: &Water) {
    let Some(known) = &water.uncertainty else { return };
    let first = water.saturation.first().map(|one| one.solid.as_str());
    let told = |one: &&Contribution| {
        let asked = one.of == ContributionOf::Ph || one.solid.as_deref() == first;
        asked && one.share_percent.abs() >= SHOWN
    };
    let rows: Vec<[String; 3]> = known.contributions.iter().filter(told).map(contribution).collect();
    if rows.is_empty() {
        return;
    }
    sheet.heading("Where the uncertainty comes from (standard uncertainties, k = 1)");
    for line in columns([Edge::Left, Edge::Right, Edge::Left], &rows) {
        sheet.line(&line);
    }
}

fn contribution(one: &Contribution) -> [String; 3] {
    let of =
        one.solid.as_deref().map_or_else(|| "pH".to_owned(), |solid| format!("index of {}", words(solid)));
    [of, format!("{:.0} %", one.share_percent), words(&one.input)]
}
