//! Waters that others published: old spring analyses, a federal survey, rehydration salts, sea water.

#![allow(clippy::unwrap_used)] // a test may stop at the first surprise

use springwright_chem::composition::added::Added;
use springwright_chem::composition::analysis::{Analysis, Per, Reported};
use springwright_chem::composition::charge::ChargeBalance;
use springwright_chem::composition::linear::LinearSum;
use springwright_chem::composition::state::Solution;
use springwright_chem::composition::totals::Totals;
use springwright_chem::matter::catalogue;
use springwright_chem::matter::component::Component;
use springwright_chem::matter::formula::Formula;

/// Rows of a fixture without remarks and head, cell by cell.
fn rows(text: &'static str) -> impl Iterator<Item = Vec<&'static str>> {
    text.lines().filter(|line| !line.starts_with('#')).skip(1).map(|line| line.split('\t').collect())
}

/// Half of the last digit of a printed figure: 0.05 for `30.0`.
fn half_of_last_digit(figure: &str) -> f64 {
    let decimals = figure.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    0.5 / 10_f64.powi(i32::try_from(decimals).unwrap())
}

fn component(id: &str) -> Component {
    Component::read(id).unwrap()
}

fn salt_of_row(row: &[&str]) -> (f64, f64, Added) {
    let mut carbon = 0.0;
    let mut gives = Vec::new();
    for item in row[3].split(';') {
        let (id, count) = item.trim().split_once(' ').unwrap();
        match id {
            "C" => carbon += count.parse::<f64>().unwrap(),
            _ => gives.push((component(id), count.parse().unwrap())),
        }
    }
    let added = Added::new(Formula::read(row[2]).unwrap().molar_mass(), &gives, carbon);
    let printed: f64 = row[4].parse().unwrap();
    (printed, printed / added.molar_mass(), added)
}

/// Turns an old analysis in hypothetical salts into ions and compares with the figures of the fixture. `factor` is
/// mg/kg for one unit of the sheet.
fn check_spring(text: &'static str, factor: f64) {
    let salts: Vec<(f64, f64, Added)> =
        rows(text).filter(|row| row[0] == "salt").map(|row| salt_of_row(&row)).collect();
    let sum = |of: &LinearSum| -> f64 {
        salts.iter().map(|(_, moles, added)| factor * moles * of.per_mole(added)).sum()
    };
    let carbonate = sum(&LinearSum::carbonate_alkalinity());
    for row in rows(text).filter(|row| row[0] != "salt") {
        let published: f64 = row[4].parse().unwrap();
        match (row[0], row[1]) {
            // The parts close to the printed total in its last digit.
            ("printed", "total of the salts") => {
                let total: f64 = salts.iter().map(|(printed, _, _)| printed).sum();
                assert!((total - published).abs() < 5e-5, "{total}");
            }
            // The chemist's own sum of half-bound carbonic acid, half a mole for each equivalent; his atomic
            // weights differ by up to 0.1 %.
            ("printed", "half-bound carbonic acid") => {
                let half_bound = carbonate / 2.0 * Formula::read("CO2").unwrap().molar_mass() / factor;
                assert!((half_bound / published - 1.0).abs() < 1e-3, "{half_bound}");
            }
            ("ion", id) => {
                let found = component(id).molar_mass() * sum(&LinearSum::amount(component(id)));
                // The hand figures leave out the phosphates of lime and alumina, under 0.2 mg/kg as Ca or HCO3.
                let left_out = if ["Ca", "HCO3"].contains(&id) { 0.2 } else { 0.0 };
                let within = 1.1 * half_of_last_digit(row[4]) + left_out;
                assert!((found - published).abs() < within, "{id}: {found} against {published}");
            }
            ("meq", _) => check_charge(&salts, factor, published),
            other => panic!("{other:?}"),
        }
    }
}

/// Hypothetical salts are neutral: both sides are the same, and the figure of the fixture to its last digit.
fn check_charge(salts: &[(f64, f64, Added)], factor: f64, published: f64) {
    let parts: Vec<(f64, &Added)> =
        salts.iter().map(|(_, moles, added)| (factor * moles / 1000.0, added)).collect();
    let water = Totals::pure().with_added(&parts).unwrap();
    let in_sheet: f64 =
        parts.iter().map(|(moles, added)| moles * added.per_mole().amount(Component::CL)).sum();
    let water_kg = in_sheet / water.amount(Component::CL);
    let balance = ChargeBalance::of(&water).unwrap().times(1000.0 * water_kg);
    assert!((balance.cations - balance.anions).abs() < 1e-12 * balance.cations);
    assert!((balance.cations - published).abs() < 0.03, "{}", balance.cations);
}

#[test]
fn spring_in_nassau() {
    check_spring(include_str!("../../../tests/data/literature/spring_nassau_1869.tsv"), 10.0);
}

#[test]
fn spring_in_bohemia() {
    check_spring(include_str!("../../../tests/data/literature/spring_bohemia_berzelius.tsv"), 1e6 / 5760.0);
}

#[test]
fn spring_in_franconia() {
    check_spring(include_str!("../../../tests/data/literature/spring_franconia.tsv"), 1e6 / 5760.0);
}

/// A water of the survey: its analysis and what is printed beside it.
fn survey(water: &str) -> (Analysis, Vec<Vec<&'static str>>) {
    let text = include_str!("../../../tests/data/literature/wsp338_1915.tsv");
    let printed: Vec<Vec<&str>> = rows(text).filter(|row| row[0] == water).collect();
    let mut analysis = Analysis { temperature_c: Some(20.0), ..Analysis::default() };
    for row in printed.iter().filter(|row| row[1] != "total") {
        let of = component(row[1]);
        let moles = row[2].parse::<f64>().unwrap() / 1000.0 / of.molar_mass();
        analysis.components.insert(of, Reported::new(moles, Per::Kilogram));
    }
    (analysis, printed)
}

/// Reacting values as printed: to half of their last digit and 1 %, for the atomic weights of 1915 and the digits of
/// potassium and magnesium that were read from them.
fn check_survey(water: &str) -> Solution {
    let (analysis, printed) = survey(water);
    let reckoned = Totals::of(&analysis).unwrap();
    let solution = Solution::new(reckoned.totals, reckoned.temperature_c).unwrap();
    let per_kg = solution.water_kg_per_l() / solution.density_kg_per_l();
    for row in printed {
        if row[1] == "total" {
            // The printed total counts bicarbonate as the carbonate that is left, as a residue does.
            let total: f64 = row[2].parse().unwrap();
            let residue = 1e3 * solution.per_l(&LinearSum::residue_180c()) / solution.density_kg_per_l();
            assert!((residue / total - 1.0).abs() < 2e-3, "{residue}");
            continue;
        }
        let Ok(reacting_value) = row[3].parse::<f64>() else { continue };
        let of = if row[1] == "CO3" { Component::HCO3 } else { component(row[1]) };
        let charge = f64::from(of.charge().abs());
        let found = 1000.0 * charge * solution.mol_per_kg_water(of) * per_kg;
        let within = 0.01 * reacting_value + half_of_last_digit(row[3]);
        assert!((found - reacting_value).abs() < within, "{}: {found}", row[1]);
    }
    solution
}

#[test]
fn lake_tahoe_of_water_supply_paper_338() {
    check_survey("lake_tahoe");
}

#[test]
fn ocean_of_water_supply_paper_338() {
    let solution = check_survey("ocean");
    // Balance worked out by hand from the printed figures: +0.16 %.
    let balance = ChargeBalance::of(solution.totals()).unwrap();
    assert!((balance.percent() - 0.16).abs() < 0.02, "{}", balance.percent());
    assert_eq!(balance.half_sum_percent(), 2.0 * balance.percent());
}

// WHO and UNICEF 2002, reduced-osmolarity oral rehydration salts: g/L weighed, mmol/L published; glucose is no
// component. Tolerance: the published rounding, 1 mmol/L.
#[test]
fn rehydration_salts() {
    let weighed =
        [("sodium_chloride", 2.6), ("trisodium_citrate_dihydrate", 2.9), ("potassium_chloride", 1.5)];
    let salts = weighed.map(|(id, grams)| {
        let added = Added::of_salt(catalogue::find(id).unwrap()).unwrap();
        (grams / added.molar_mass(), added)
    });
    for (id, published) in [("Na", 75.0), ("Cl", 65.0), ("K", 20.0), ("citrate", 10.0)] {
        let of = LinearSum::amount(component(id));
        let found: f64 = salts.iter().map(|(moles, added)| 1000.0 * moles * of.per_mole(added)).sum();
        assert!((found - published).abs() < 1.0, "{id}: {found}");
    }
}

/// International equation of state of sea water at atmospheric pressure (UNESCO 1981, Technical Papers in Marine
/// Science 36; coefficients from memory, checked below against the paper's own check value), kg/m³.
fn unesco_1980(s: f64, t: f64) -> f64 {
    let poly = |c: &[f64]| c.iter().rev().fold(0.0, |sum, k| sum * t + k);
    let water = poly(&[999.842594, 6.793952e-2, -9.095290e-3, 1.001685e-4, -1.120083e-6, 6.536332e-9]);
    let linear = poly(&[0.824493, -4.0899e-3, 7.6438e-5, -8.2467e-7, 5.3875e-9]);
    let higher = poly(&[-5.72466e-3, 1.0227e-4, -1.6546e-6]);
    water + linear * s + higher * s * s.sqrt() + 4.8314e-4 * s * s
}

/// Sea water of practical salinity 35 by the reference composition of Millero et al. 2008 (g/kg, from memory; it adds
/// to the published 35.16504).
fn sea_water() -> Analysis {
    let grams = [
        ("Na", 10.78145),
        ("Mg", 1.28372),
        ("Ca", 0.41208),
        ("K", 0.39910),
        ("Sr", 0.00795),
        ("Cl", 19.35271),
        ("SO4", 2.71235),
        ("HCO3", 0.10481),
        ("Br", 0.06728),
        ("CO3", 0.01434),
        ("F", 0.00130),
    ];
    let (borate, boric_acid, hydroxide, carbon_dioxide) = (0.00795, 0.01944, 0.00014, 0.00042);
    let sum: f64 =
        grams.iter().map(|(_, g)| g).sum::<f64>() + borate + boric_acid + hydroxide + carbon_dioxide;
    assert!((sum - 35.16504).abs() < 1e-9, "{sum}");
    let mut analysis = Analysis::default();
    for (id, g) in grams {
        analysis
            .components
            .insert(component(id), Reported::new(g / component(id).molar_mass(), Per::Kilogram));
    }
    let boron = borate / 78.84 + boric_acid / 61.83;
    analysis.components.insert(Component::B, Reported::new(boron, Per::Kilogram));
    analysis
}

// Nothing of the volumes was fitted to sea water; 0.15 kg/m³ at 0 °C, 0.06 from 5 to 30 °C.
#[test]
fn density_of_sea_water() {
    assert!((unesco_1980(35.0, 5.0) - 1027.67547).abs() < 1e-5);
    let totals = Totals::of(&sea_water()).unwrap().totals;
    for (t, within) in
        [(0.0, 0.15), (5.0, 0.06), (10.0, 0.06), (15.0, 0.06), (20.0, 0.06), (25.0, 0.06), (30.0, 0.06)]
    {
        let found = 1000.0 * Solution::new(totals.clone(), t).unwrap().density_kg_per_l();
        assert!((found - unesco_1980(35.0, t)).abs() <= within, "{t}: {found}");
    }
}
