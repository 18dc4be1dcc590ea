//! Blends with wishes for the solved state against exhaustion: every combination of whole steps of two salts, each solved
//! in full by itself, judged by the sum that the documentation states.

#![allow(clippy::unwrap_used)] // a test may stop at the first surprise

use springwright_chem::composition::added::Added;
use springwright_chem::composition::state::Solution;
use springwright_chem::composition::totals::Totals;
use springwright_chem::formulation::outcome::Blend;
use springwright_chem::formulation::{
    Balance, Choice, Condition, Order, Outcome, Property, Quantity, Source, Tolerance, Wish, solve,
};
use springwright_chem::matter::catalogue;
use springwright_chem::matter::component::Component;
use springwright_chem::numeric::Objective;
use springwright_chem::phases::{saturation, solids};
use springwright_chem::properties::{Held, SolvedWater};
use springwright_chem::quantity::{Measured, Unit};

const VOLUME_L: f64 = 2.0;
const STEP_G: f64 = 0.05;
const MOST_STEPS: i64 = 12;
const CELSIUS: f64 = 20.0;

/// Numbers from a fixed seed, 0 to 1.
struct Seeded(u64);

impl Seeded {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + self.next() * (high - low)
    }
}

fn choice(id: &str) -> Choice {
    Choice::new(catalogue::find(id).unwrap(), 100.0).unwrap()
}

fn measured(value: f64, unit: &str) -> Option<Measured> {
    Some(Measured::new(value, Unit::read(unit).unwrap()).unwrap())
}

fn wish(quantity: Quantity, near: Option<Measured>, at_most: Option<Measured>) -> Wish {
    let tolerance = Tolerance::Absolute(0.1);
    Wish { quantity, near, at_least: None, at_most, exact: None, tolerance, weight: 1.0, priority: 1 }
}

fn tap(seeded: &mut Seeded) -> Solution {
    let mut brought = |id: &str, most: f64| {
        (seeded.between(0.05, 1.0) * most, Added::of_salt(catalogue::find(id).unwrap()).unwrap())
    };
    let added = [
        brought("calcium_chloride_dihydrate", 1.5e-3),
        brought("magnesium_sulfate_heptahydrate", 8e-4),
        brought("sodium_bicarbonate", 3e-3),
        brought("potassium_bicarbonate", 2e-4),
    ];
    let parts: Vec<(f64, &Added)> = added.iter().map(|(moles, salt)| (*moles, salt)).collect();
    let totals = Totals::pure().with_added(&parts).unwrap();
    let dic = totals.dic().unwrap() * seeded.between(1.01, 1.4);
    Solution::new(totals.with_dic(dic), CELSIUS).unwrap()
}

struct Asked {
    order: Order,
    component: Component,
    ion_mg: f64,
    ph: f64,
    most_si: f64,
}

fn problem(seeded: &mut Seeded, co2: Held) -> Asked {
    const PAIRS: [[&str; 2]; 6] = [
        ["calcium_chloride_dihydrate", "sodium_bicarbonate"],
        ["sodium_bicarbonate", "sodium_carbonate_anhydrous"],
        ["citric_acid_monohydrate", "potassium_bicarbonate"],
        ["citric_acid_monohydrate", "calcium_chloride_dihydrate"],
        ["magnesium_sulfate_heptahydrate", "sodium_carbonate_anhydrous"],
        ["citric_acid_monohydrate", "sodium_carbonate_anhydrous"],
    ];
    const IONS: [Component; 3] = [Component::CA, Component::NA, Component::MG];
    let pick = |seeded: &mut Seeded, many: usize| (seeded.next() * many as f64) as usize;
    let pair = PAIRS[pick(seeded, PAIRS.len())];
    let component = IONS[pick(seeded, IONS.len())];
    let (ion_mg, ph, most_si) =
        (seeded.between(10.0, 120.0), seeded.between(6.0, 9.0), seeded.between(-0.5, 1.2));
    let calcite = Property::SaturationIndex(solids::find("calcite").unwrap());
    let property = |property| Quantity::Property { property, condition: Condition::default() };
    let source = Source {
        name: "tap".to_owned(),
        water: tap(seeded),
        least_percent: None,
        most_percent: None,
        price_per_1000_l: None,
    };
    let order = Order {
        volume_l: VOLUME_L,
        temperature_c: CELSIUS,
        sources: vec![source],
        shelf: pair.map(choice).to_vec(),
        wishes: vec![
            wish(Quantity::Component(component), measured(ion_mg, "mg/L"), None),
            wish(property(Property::Ph), measured(ph, "pH"), None),
            wish(property(calcite), None, measured(most_si, "1")),
        ],
        balances: vec![Balance { step_g: STEP_G, least_g: STEP_G, most_g: STEP_G * MOST_STEPS as f64 }],
        most_salts: None,
        objective: Objective::RelativeDeviation,
        co2,
    };
    Asked { order, component, ion_mg, ph, most_si }
}

/// The finished water of whole steps, and its solved state.
fn made(order: &Order, steps: [i64; 2]) -> Option<SolvedWater> {
    let source = &order.sources[0].water;
    let grams = steps.map(|steps| steps as f64 * STEP_G);
    let moles = [0, 1].map(|at| grams[at] / order.shelf[at].added.molar_mass());
    let crystal: f64 = [0, 1].iter().map(|at| moles[*at] * order.shelf[*at].added.water() * 0.018_015).sum();
    let mut water_kg = source.water_kg_per_l();
    let mut solved = None;
    for _ in 0..6 {
        let poured = water_kg * VOLUME_L - crystal;
        let added: Vec<(f64, &Added)> =
            [0, 1].iter().map(|at| (moles[*at] / poured, &order.shelf[*at].added)).collect();
        let mixed = Solution::new(source.totals().with_added(&added).ok()?, CELSIUS).ok()?;
        let water = SolvedWater::of(&mixed, order.co2).ok()?;
        water_kg = water.solution.water_kg_per_l();
        solved = Some(water);
    }
    solved
}

/// What is missed of the demand, and the sum over the wishes, as the documentation of `blend` states it.
fn judged(asked: &Asked, steps: [i64; 2]) -> Option<(f64, f64)> {
    let water = made(&asked.order, steps)?;
    let calcite = saturation::of(&water.state, solids::find("calcite").unwrap()).unwrap().index;
    let missed = (calcite - asked.most_si).max(0.0) / asked.most_si.abs().max(0.1);
    let ion = water.solution.mg_per_l(asked.component);
    let off =
        (ion - asked.ion_mg).abs() / asked.ion_mg.max(1.0) + (water.state.ph - asked.ph).abs() / asked.ph;
    Some((if missed < 1e-8 { 0.0 } else { missed }, off))
}

fn steps_of(blend: &Blend) -> [i64; 2] {
    let mut steps = [0, 0];
    blend.weighings.iter().for_each(|weighing| steps[weighing.choice] = weighing.steps);
    steps
}

/// 120 seeded problems, closed and under a gas: what is found is what exhaustion finds in at least 9 of 10, and never
/// worse than it by more than 0.02 (of one wish); a demand that some steps hold is held.
#[test]
fn what_is_found_is_what_exhaustion_finds() {
    let mut seeded = Seeded(20_261_125);
    let gas = springwright_chem::equilibrium::carbonation::CarbonDioxide::PartialPressure { pco2_bar: 0.02 };
    let (mut exact, mut worst) = (0, 0.0_f64);
    for number in 0..120 {
        let held = if number % 3 == 2 { Held::Here(gas) } else { Held::Closed };
        let asked = problem(&mut seeded, held);
        let mut best = (f64::INFINITY, f64::INFINITY);
        for first in 0..=MOST_STEPS {
            for second in 0..=MOST_STEPS {
                let Some(own) = judged(&asked, [first, second]) else { continue };
                let closer = own.0 < best.0 - 1e-9;
                if closer || (own.0 < best.0 + 1e-9 && own.1 < best.1) {
                    best = own;
                }
            }
        }
        let Outcome::Made(blend) = solve::blend(&asked.order).unwrap() else {
            panic!("no linear demand stands")
        };
        let own = judged(&asked, steps_of(&blend)).unwrap();
        assert!(
            best.0 > 0.0 || own.0 == 0.0,
            "{number}: a demand is missed that can be held: {own:?} {best:?}"
        );
        let behind = if best.0 > 0.0 { own.0 - best.0 } else { own.1 - best.1 };
        exact += usize::from(behind < 1e-7);
        worst = worst.max(behind);
        assert!(behind < 0.02, "{number}: {own:?} is behind {best:?}");
        if blend.gaps.first().is_some_and(|gap| *gap < 1e-9) {
            assert!(behind < 1e-7, "{number}: proved, and yet behind");
        }
    }
    println!("{exact} of 120 as exhaustion finds; the worst is {worst:.4} behind");
    assert!(exact >= 108, "{exact} of 120");
}

/// Identity: what a blend says it reached is what its own water, solved by itself, has (1e-9), and a litre of it is that of
/// the answered water.
#[test]
fn what_is_reached_is_what_the_water_has() {
    let mut seeded = Seeded(7);
    let keg =
        springwright_chem::equilibrium::carbonation::CarbonDioxide::Keg { gauge_bar: 2.5, altitude_m: 0.0 };
    for held in [Held::Closed, Held::Here(keg), Held::Elsewhere(keg, 4.0), Held::Bottle(5.0)] {
        let asked = problem(&mut seeded, held);
        let Outcome::Made(blend) = solve::blend(&asked.order).unwrap() else {
            panic!("no linear demand stands")
        };
        let again = SolvedWater::of(&blend.mixed, held).unwrap();
        let calcite = saturation::of(&again.state, solids::find("calcite").unwrap()).unwrap().index;
        assert!((blend.reached[1].value - again.state.ph).abs() < 1e-9, "{held:?}");
        assert!((blend.reached[2].value - calcite).abs() < 1e-9, "{held:?}");
        let ion = again.solution.mg_per_l(asked.component);
        assert!((blend.reached[0].value / ion - 1.0).abs() < 1e-9, "{held:?}");
        let independent = made(&asked.order, steps_of(&blend)).unwrap();
        assert!((independent.state.ph - again.state.ph).abs() < 1e-7, "{held:?}");
    }
}
