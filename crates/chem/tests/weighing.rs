//! Recipes on the scale, against published recipes and what can be worked out by hand.
#![allow(clippy::unwrap_used, missing_docs)]

use springwright_chem::composition::state::Solution;
use springwright_chem::composition::totals::Totals;
use springwright_chem::formulation::weighing::{Line, Recipe, Weighing};
use springwright_chem::formulation::{Balance, Choice, Quantity, Tolerance, Wish};
use springwright_chem::matter::catalogue;
use springwright_chem::matter::component::Component;
use springwright_chem::numeric::propagation::Chance;
use springwright_chem::properties::Held;
use springwright_chem::quantity::{Measured, Unit};

fn line(id: &str, ideal_g: f64) -> Line {
    let choice = Choice::new(catalogue::find(id).unwrap(), 100.0).unwrap();
    Line { choice, ideal_g, assay_uncertainty_percent: 0.0, bag_g: None }
}

fn measured(value: f64, unit: &str) -> Option<Measured> {
    Some(Measured::new(value, Unit::read(unit).unwrap()).unwrap())
}

fn of(component: Component) -> Wish {
    Wish {
        quantity: Quantity::Component(component),
        near: None,
        at_least: None,
        at_most: None,
        exact: None,
        tolerance: Tolerance::Percent(2.0),
        weight: 1.0,
        priority: 1,
    }
}

/// Salts in pure water at 20 °C, so many kg of it.
fn recipe(water_kg: f64, lines: Vec<Line>, step_g: f64, wishes: Vec<Wish>) -> Recipe {
    Recipe {
        poured: Solution::new(Totals::pure(), 20.0).unwrap(),
        water_kg,
        poured_uncertainty_percent: 0.0,
        lines,
        balances: vec![Balance { step_g, least_g: step_g, most_g: 1000.0 }],
        wishes,
        co2: Held::Closed,
    }
}

fn weigh(recipe: &Recipe) -> Weighing {
    recipe.weigh(&Chance { draws: 20_000, seed: 1, key: [7; 32] }).unwrap()
}

/// WHO rehydration salts of reduced osmolarity (2002), a litre: NaCl 2.6 g, KCl 1.5 g, trisodium citrate dihydrate 2.9 g make
/// 75 mmol of sodium, 65 of chloride, 20 of potassium and 10 of citrate. In a litre of water poured, 2 % (the masses are rounded).
#[test]
fn rehydration_salts_on_a_kitchen_scale() {
    let lines = vec![
        line("sodium_chloride", 2.6),
        line("potassium_chloride", 1.5),
        line("trisodium_citrate_dihydrate", 2.9),
    ];
    let parts = [(Component::NA, 75.0), (Component::CL, 65.0), (Component::K, 20.0)];
    let wishes =
        parts.into_iter().map(|(component, mmol)| Wish { near: measured(mmol, "mmol/L"), ..of(component) });
    let weighing = weigh(&recipe(0.998, lines, 0.1, wishes.collect()));
    let steps: Vec<i64> = weighing.lines.iter().map(|line| line.steps).collect();
    assert_eq!(steps, [26, 15, 29]);
    assert!(weighing.wishes.iter().all(|wish| wish.met), "{:?}", weighing.wishes);
    let citrate = weighing.mixed.mmol_per_l(Component::read("citrate").unwrap());
    assert!((citrate - 10.0).abs() < 0.2, "{citrate}");
}

/// By hand: one salt and one limit. A limit one standard uncertainty above is held in 84.13 % of all cases (normal
/// distribution), half of it in 69.15 %; ± 1 % at 20 000 draws. The reading of a step of 0.1 g is uncertain by 0.1/√12 g.
#[test]
fn how_likely_a_limit_is_held() {
    for (sigmas, percent) in [(1.0, 84.13), (0.5, 69.15), (-1.0, 15.87)] {
        let u = 0.1 / 12.0_f64.sqrt();
        // 10 g in 10 kg: 1 g/kg, in mg per kg of the whole
        let limit = |mass: f64| 1e6 * mass / (10_000.0 + mass) * 22.990 / 58.440;
        let wish = Wish { at_most: measured(limit(10.0 + sigmas * u), "mg/kg"), ..of(Component::NA) };
        let weighing = weigh(&recipe(10.0, vec![line("sodium_chloride", 10.0)], 0.1, vec![wish]));
        let got = weighing.wishes[0].probability_percent;
        assert!((got - percent).abs() < 1.0, "{sigmas}: {got}");
        assert_eq!(weighing.probability_percent, Some(got));
        assert!((weighing.lines[0].uncertainty_g - u).abs() < 1e-12);
    }
}

/// By hand: the tolerance of a line ends where its wish does, on both sides; a line that no wish sees has none.
#[test]
fn a_tolerance_comes_from_the_wish() {
    let wish =
        Wish { at_least: measured(390.0, "mg/kg"), at_most: measured(400.0, "mg/kg"), ..of(Component::NA) };
    let lines = vec![line("sodium_chloride", 10.0), line("potassium_chloride", 2.0)];
    let weighing = weigh(&recipe(10.0, lines, 0.01, vec![wish]));
    let tolerated = &weighing.lines[0].tolerated;
    // sodium s mg/kg in 10 002 g of the others: m = s·others/(1e6·share − s)
    let mass = |mg: f64| mg * 10_002.0 / (1e6 * 22.990 / 58.440 - mg);
    assert!((tolerated.least_g.unwrap() - mass(390.0)).abs() < 1e-3, "{tolerated:?}");
    assert!((tolerated.most_g.unwrap() - mass(400.0)).abs() < 1e-3, "{tolerated:?}");
    assert_eq!((&tolerated.ended_below_by, &tolerated.ended_above_by), (&vec![0], &vec![0]));
    let other = &weighing.lines[1].tolerated;
    assert_eq!((other.least_g, other.most_g), (None, None));
}

/// Rounding each line by itself would break a limit that the recipe holds; together they do not. 60 recipes on a scale of 1 g.
#[test]
fn no_rounding_breaks_a_limit() {
    let mut broken_by_itself = 0;
    for case in 0..60 {
        let (first, second) = (20.5 + 0.07 * f64::from(case), 30.55 + 0.031 * f64::from(case));
        let lines =
            vec![line("calcium_chloride_dihydrate", first), line("calcium_sulfate_dihydrate", second)];
        let calcium = 1000.0 * 40.078 * (first / 147.01 + second / 172.17);
        let wish = Wish { at_most: measured((calcium + 60.0) / 1000.0, "mg/L"), ..of(Component::CA) };
        let weighing = weigh(&recipe(1000.0, lines, 1.0, vec![wish]));
        if weighing.wishes[0].ideal <= (calcium + 60.0) / 1000.0 {
            assert!(weighing.wishes[0].met, "{case}: {} g and {} g", first, second);
            let rounded = 1000.0 * 40.078 * (first.round() / 147.01 + second.round() / 172.17);
            broken_by_itself += usize::from(rounded > calcium + 60.0);
        }
    }
    assert!(broken_by_itself > 5, "{broken_by_itself}");
}

/// 5 mg on a scale of 0.01 g: a stock of at least 100 steps, and the dose that brings the 5 mg exactly.
#[test]
fn five_milligrams_go_by_a_stock() {
    let weighing = weigh(&recipe(
        1.0,
        vec![line("potassium_chloride", 0.005), line("sodium_chloride", 1.0)],
        0.01,
        Vec::new(),
    ));
    let stock = weighing.lines[0].stock.unwrap();
    assert!(stock.steps >= 100 && stock.dose_ml <= 0.5 * stock.flask_ml);
    assert!((stock.mass_g * stock.dose_ml / stock.flask_ml - 0.005).abs() < 1e-12);
    // potassium chloride dissolves to 34 g in 100 g of water at 20 °C (handbooks); the stock is well below half of it
    assert!(stock.mass_g / stock.flask_ml < 0.17);
    assert!(weighing.lines[1].stock.is_none());
    assert_eq!(weighing.probability_percent, None);
}

/// The finest balance that takes a mass weighs it; what none takes is weighed in portions.
#[test]
fn each_mass_finds_its_balance() {
    let mut recipe = recipe(
        1000.0,
        vec![
            line("sodium_chloride", 3.0),
            line("potassium_chloride", 900.0),
            line("sodium_sulfate_anhydrous", 5000.0),
        ],
        0.01,
        Vec::new(),
    );
    recipe.balances = vec![
        Balance { step_g: 1.0, least_g: 20.0, most_g: 2000.0 },
        Balance { step_g: 0.01, least_g: 0.5, most_g: 200.0 },
    ];
    let weighing = weigh(&recipe);
    let on: Vec<usize> = weighing.lines.iter().map(|line| line.balance).collect();
    assert_eq!(on, [1, 0, 0]);
    assert_eq!(weighing.lines[2].portions, 3);
}

/// Whole bags go in as they are, and only the rest is weighed: 63.2 kg in bags of 25 kg are two bags and 13.2 kg.
#[test]
fn bags_are_not_opened() {
    let mut salt = line("sodium_chloride", 63_204.0);
    salt.bag_g = Some(25_000.0);
    let mut full = line("potassium_chloride", 50_000.0);
    full.bag_g = Some(25_000.0);
    let mut recipe = recipe(20_000.0, vec![salt, full], 10.0, Vec::new());
    recipe.balances[0].most_g = 30_000.0;
    let weighing = weigh(&recipe);
    let told: Vec<(i64, i64, f64)> =
        weighing.lines.iter().map(|line| (line.bags, line.steps, line.mass_g)).collect();
    assert_eq!(told, [(2, 1320, 63_200.0), (2, 0, 50_000.0)]);
    assert!(weighing.lines.iter().all(|line| line.stock.is_none() && !line.below_least));
}
