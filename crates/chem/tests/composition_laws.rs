//! Laws that hold for any water: mixing, conservation, round trips. All are identities.

#![allow(clippy::unwrap_used)] // a test may stop at the first surprise

use proptest::prelude::*;
use springwright_chem::composition::added::Added;
use springwright_chem::composition::analysis::{Analysis, Missing, Per, Reported};
use springwright_chem::composition::charge::ChargeBalance;
use springwright_chem::composition::linear::LinearSum;
use springwright_chem::composition::mixing::mix;
use springwright_chem::composition::state::Solution;
use springwright_chem::composition::totals::{MAJORS, Totals};
use springwright_chem::matter::catalogue;
use springwright_chem::matter::component::{Component, Role};

/// Every salt of the catalogue whose composition is known.
fn salts() -> Vec<Added> {
    catalogue::salts().iter().filter_map(|salt| Added::of_salt(salt).ok()).collect()
}

/// A water made of up to six salts, to 0.05 mol/kg each.
fn made_water() -> impl Strategy<Value = Totals> {
    prop::collection::vec((0..salts().len(), 0.0..0.05_f64), 0..6).prop_map(|choice| {
        let salts = salts();
        let parts: Vec<(f64, &Added)> = choice.iter().map(|(at, moles)| (*moles, &salts[*at])).collect();
        Totals::pure().with_added(&parts).unwrap()
    })
}

/// A sheet with every major and some others, in any of the three ways, balanced or not.
fn sheet() -> impl Strategy<Value = Analysis> {
    let reported = (0.0..0.03_f64, 0..3).prop_map(|(amount, per)| {
        Reported::new(amount, [Per::Litre, Per::Kilogram, Per::KilogramOfWater][per as usize])
    });
    let all = prop::collection::vec(prop::option::weighted(0.3, reported.clone()), Component::COUNT);
    let majors = prop::collection::vec(reported, MAJORS.len());
    (all, majors, prop::option::of(0.0..60.0_f64)).prop_map(|(all, majors, temperature_c)| {
        let mut analysis = Analysis { temperature_c, ..Analysis::default() };
        for (component, reported) in Component::ALL.into_iter().zip(all) {
            analysis.components.extend(reported.map(|reported| (component, reported)));
        }
        analysis.components.extend(MAJORS.into_iter().zip(majors));
        analysis
    })
}

/// Greatest relative difference of two totals, each amount against the largest that was mixed.
fn distance(a: &Totals, b: &Totals) -> f64 {
    let pairs = Component::ALL.into_iter().map(|c| (a.amount(c), b.amount(c)));
    let others = [(a.alkalinity(), b.alkalinity()), (a.charge_gap(), b.charge_gap())];
    pairs.chain(others).map(|(x, y)| (x - y).abs() / x.abs().max(y.abs()).max(1e-3)).fold(0.0, f64::max)
}

fn kg() -> impl Strategy<Value = f64> {
    prop_oneof![Just(0.0), 1e-6..1e6_f64]
}

proptest! {
    #[test]
    fn mixing_is_commutative_and_associative(
        a in made_water(), b in made_water(), c in made_water(), x in kg(), y in kg(), z in 1e-6..1e6_f64,
    ) {
        let all = mix(&[(x, &a), (y, &b), (z, &c)]).unwrap();
        prop_assert!(distance(&all, &mix(&[(z, &c), (x, &a), (y, &b)]).unwrap()) < 1e-12);
        if x + y > 0.0 {
            let first = mix(&[(x, &a), (y, &b)]).unwrap();
            prop_assert!(distance(&all, &mix(&[(x + y, &first), (z, &c)]).unwrap()) < 1e-12);
        }
    }

    #[test]
    fn mixing_keeps_every_amount_the_charge_and_the_mass(
        a in made_water(), b in made_water(), x in kg(), y in 1e-6..1e6_f64,
    ) {
        let mixture = mix(&[(x, &a), (y, &b)]).unwrap();
        for component in Component::ALL {
            let put_in = x * a.amount(component) + y * b.amount(component);
            let scale = x * a.amount(component).abs() + y * b.amount(component).abs();
            prop_assert!(((x + y) * mixture.amount(component) - put_in).abs() <= 1e-12 * scale + 1e-15 * (x + y));
        }
        let mass = |water: &Totals| 1000.0 + water.solute_mass();
        let put_in = x * mass(&a) + y * mass(&b);
        prop_assert!(((x + y) * mass(&mixture) / put_in - 1.0).abs() < 1e-12);
        prop_assert!(mixture.charge_gap().abs() < 1e-15);
    }

    #[test]
    fn a_charge_gap_mixes_like_an_ion(a in sheet(), b in sheet(), x in 1e-3..1e3_f64, y in 1e-3..1e3_f64) {
        let (a, b) = (Totals::of(&a).unwrap().totals, Totals::of(&b).unwrap().totals);
        let mixture = mix(&[(x, &a), (y, &b)]).unwrap();
        let put_in = x * a.charge_gap() + y * b.charge_gap();
        prop_assert!(((x + y) * mixture.charge_gap() - put_in).abs() < 1e-12 * (x + y));
    }

    #[test]
    fn a_sheet_comes_back_as_it_was_stated(sheet in sheet()) {
        let reckoned = Totals::of(&sheet).unwrap();
        let solution = Solution::new(reckoned.totals, reckoned.temperature_c).unwrap();
        for (component, reported) in sheet.components {
            if [Component::HCO3, Component::CO3].contains(&component) {
                continue;
            }
            let stated_mg = 1000.0 * reported.amount * component.molar_mass();
            let found = match reported.per {
                Per::Litre => solution.mg_per_l(component),
                Per::Kilogram => solution.mg_per_kg(component),
                Per::KilogramOfWater => 1000.0 * solution.mol_per_kg_water(component) * component.molar_mass(),
            };
            prop_assert!((found - stated_mg).abs() <= 1e-12 * stated_mg, "{}: {found}", component.id());
        }
    }

    #[test]
    fn titrated_alkalinity_comes_back_as_it_was_stated(sheet in sheet(), end_point_ph in 3.5..5.5_f64) {
        let ions = Reported::new(4e-3, Per::Kilogram);
        let mut sheet = Analysis { end_point_ph: Some(end_point_ph), alkalinity: Some(ions), ..sheet };
        sheet.components.remove(&Component::HCO3);
        sheet.components.remove(&Component::CO3);
        let reckoned = Totals::of(&sheet).unwrap();
        let solution = Solution::new(reckoned.totals, reckoned.temperature_c).unwrap();
        let found = solution.per_l(&LinearSum::titrated_alkalinity(end_point_ph)) / solution.density_kg_per_l();
        // the charge of weak acids is added and taken off again, so the digits are those of the larger
        let weak = |component: &Component| component.role() == Role::WeakAcid;
        let carried: f64 =
            Component::ALL.into_iter().filter(weak).map(|c| 4.0 * solution.totals().amount(c).abs()).sum();
        prop_assert!((found - 4e-3).abs() < 1e-12 * (4e-3 + carried), "{found}");
    }

    #[test]
    fn three_routes_to_a_litre_agree(water in made_water(), t in 0.0..60.0_f64) {
        let solution = Solution::new(water, t).unwrap();
        for component in Component::ALL {
            let direct = solution.mg_per_l(component);
            let by_mass = solution.mg_per_kg(component) * solution.density_kg_per_l();
            let by_water = 1000.0
                * solution.mol_per_kg_water(component)
                * component.molar_mass()
                * solution.water_kg_per_l();
            prop_assert!((direct - by_mass).abs() <= 1e-9 * direct.abs());
            prop_assert!((direct - by_water).abs() <= 1e-9 * direct.abs());
        }
    }

    #[test]
    fn coefficients_add_up_to_the_finished_water(
        a in made_water(), b in made_water(), x in 0.01..1.0_f64, at in 0..20_usize, moles in 0.0..0.01_f64,
    ) {
        let salt = &salts()[at];
        let poured = mix(&[(x, &a), (1.0 - x * 0.9, &b)]).unwrap();
        let finished = poured.with_added(&[(moles, salt)]).unwrap();
        let water_kg = x + 1.0 - x * 0.9;
        let finished_kg = water_kg * (1.0 + moles * salt.water() * 18.015 / 1000.0);
        for sum in [
            LinearSum::tds(),
            LinearSum::residue_180c(),
            LinearSum::hardness(),
            LinearSum::titrated_alkalinity(4.5),
            LinearSum::amount(Component::NA).plus(&LinearSum::amount(Component::K).times(-2.0)),
        ] {
            let by_parts =
                x * sum.of(&a) + (1.0 - x * 0.9) * sum.of(&b) + water_kg * moles * sum.per_mole(salt);
            let whole = finished_kg * sum.of(&finished);
            prop_assert!((whole - by_parts).abs() < 1e-12 * whole.abs().max(1.0), "{whole} {by_parts}");
        }
    }

    #[test]
    fn a_missing_ion_found_by_charge_closes_it(sheet in sheet()) {
        let mut sheet = sheet;
        sheet.components.remove(&Component::CL);
        sheet.missing.insert(Component::CL, Missing::ByCharge);
        if let Ok(reckoned) = Totals::of(&sheet) {
            prop_assert!(reckoned.totals.charge_gap().abs() < 1e-12);
            prop_assert!(ChargeBalance::of(&reckoned.totals).unwrap().percent().abs() < 1e-9);
        }
    }
}
