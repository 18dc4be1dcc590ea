//! The slopes of the solved state against differences of solved states.

use super::counting::Rule;
use super::means::{Balance, Choice, Order, Source};
use super::property::{Condition, Property};
use super::tangent::{Seen, see};
use super::wish::{Quantity, Tolerance, Wish};
use crate::composition::added::Added;
use crate::composition::state::Solution;
use crate::composition::totals::Totals;
use crate::equilibrium::carbonation::CarbonDioxide;
use crate::matter::catalogue;
use crate::matter::component::Component;
use crate::numeric::Objective;
use crate::phases::solids;
use crate::properties::Held;
use crate::quantity::{Measured, Unit};

fn wish(property: Property, temperature_c: Option<f64>, unit: &str) -> Wish {
    under(property, Condition { temperature_c, open: false }, unit)
}

fn under(property: Property, condition: Condition, unit: &str) -> Wish {
    Wish {
        quantity: Quantity::Property { property, condition },
        near: Some(Measured::new(1.0, Unit::read(unit).unwrap()).unwrap()),
        at_least: None,
        at_most: None,
        exact: None,
        tolerance: Tolerance::Percent(5.0),
        weight: 1.0,
        priority: 1,
    }
}

fn order(co2: Held, water: Solution) -> Order {
    let calcite = Property::SaturationIndex(solids::find("calcite").unwrap());
    let brucite = Property::SaturationIndex(solids::find("brucite").unwrap());
    Order {
        volume_l: 1.0,
        temperature_c: water.temperature_c(),
        sources: vec![Source {
            name: String::new(),
            water,
            least_percent: None,
            most_percent: None,
            price_per_1000_l: None,
        }],
        shelf: vec![Choice::new(catalogue::find("sodium_bicarbonate").unwrap(), 100.0).unwrap()],
        wishes: vec![
            wish(Property::Ph, None, "pH"),
            wish(calcite, None, "1"),
            wish(brucite, Some(50.0), "1"),
            wish(Property::Conductivity, None, "uS/cm"),
            wish(Property::Osmolality, None, "mOsm/kg"),
            wish(Property::FreeCo2, None, "mmol/L"),
            wish(Property::Ph, Some(30.0), "pH"),
            under(calcite, Condition { temperature_c: Some(25.0), open: true }, "1"),
            under(Property::Ph, Condition { temperature_c: None, open: true }, "pH"),
        ],
        balances: vec![Balance { step_g: 0.01, least_g: 0.01, most_g: 100.0 }],
        most_salts: None,
        objective: Objective::RelativeDeviation,
        co2,
    }
}

fn tap() -> Totals {
    let salts = [
        ("calcium_chloride_dihydrate", 1.2e-3),
        ("magnesium_sulfate_heptahydrate", 6e-4),
        ("sodium_bicarbonate", 2.5e-3),
        ("tripotassium_citrate_monohydrate", 2e-4),
    ];
    let added: Vec<(f64, Added)> = salts
        .iter()
        .map(|(id, moles)| (*moles, Added::of_salt(catalogue::find(id).unwrap()).unwrap()))
        .collect();
    let parts: Vec<(f64, &Added)> = added.iter().map(|(moles, salt)| (*moles, salt)).collect();
    let totals = Totals::pure().with_added(&parts).unwrap();
    let dic = totals.dic().unwrap() + 4e-4;
    totals.with_dic(dic)
}

/// The totals with one of them moved by so many mol (eq) per kg, the others as they are.
fn moved(totals: &Totals, input: Option<Component>, alkalinity: f64, carbon: f64, by: f64) -> Totals {
    let mut moved = totals.clone();
    if let Some(component) = input {
        // A substance of just the mass that keeps the water as it is.
        let weight = Added::new(0.0, &[(component, 1.0)], 0.0).per_mole().solute_mass();
        moved = moved.with_added(&[(by, &Added::new(weight, &[(component, 1.0)], 0.0))]).unwrap();
    }
    let dic = totals.dic().unwrap() + carbon * by;
    moved.with_alkalinity(totals.alkalinity() + alkalinity * by).with_dic(dic)
}

/// Identity: the slopes of every property, however the carbon dioxide is held, equal central differences of solved
/// states over 2e-6 mol/kg, within 2e-4 of the largest slope. A litre is held fixed in the slopes and grows in the states by
/// some 0.02 to 0.1 L/mol, against slopes of 100 per mol and more; the room over a bottled litre with it, where 1e-3 is
/// allowed.
#[test]
fn slopes_are_those_of_solved_states() {
    let keg = CarbonDioxide::Keg { gauge_bar: 2.0, altitude_m: 0.0 };
    let pressed = CarbonDioxide::PartialPressure { pco2_bar: 0.01 };
    let states = [
        Held::Closed,
        Held::Here(keg),
        Held::Here(pressed),
        Held::Elsewhere(keg, 4.0),
        Held::Elsewhere(pressed, 10.0),
        Held::Bottle(6.0),
    ];
    for held in states {
        let base = if matches!(held, Held::Bottle(_)) { tap().with_dic(0.12) } else { tap() };
        let order = order(held, Solution::new(tap(), 18.0).unwrap());
        let rules: Vec<Rule> = order.wishes.iter().map(|wish| Rule::of(wish).unwrap()).collect();
        let seen = |totals: Totals| -> Seen {
            see(&order, &rules, &Solution::new(totals, 18.0).unwrap(), false).unwrap()
        };
        let step = 1e-6;
        let inputs = [
            (Some(Component::CA), 0.0, 0.0),
            (Some(Component::MG), 0.0, 0.0),
            (Some(Component::NA), 0.0, 0.0),
            (Some(Component::CL), 0.0, 0.0),
            (Some(Component::SO4), 0.0, 0.0),
            (Component::read("citrate"), 0.0, 0.0),
            (None, 1.0, 0.0),
            (None, 0.0, 1.0),
        ];
        for (place, _) in order.wishes.iter().enumerate() {
            let told = |(component, alkalinity, carbon): (Option<Component>, f64, f64)| {
                let at = |by: f64| seen(moved(&base, component, alkalinity, carbon, by));
                let (low, mid, high) = (at(0.0), at(step), at(2.0 * step));
                let litre = |seen: &Seen| match place {
                    3 | 5 => seen.solved.solution.water_kg_per_l(),
                    _ => 1.0,
                };
                let value = |seen: &Seen| seen.tangents[place].as_ref().unwrap().value / litre(seen);
                let slopes = &mid.tangents[place].as_ref().unwrap().slopes;
                let unit = moved(&base, component, alkalinity, carbon, 1.0);
                let slope = (slopes.of(&unit) - slopes.of(&base)) / litre(&mid);
                (slope, (value(&high) - value(&low)) / (2.0 * step))
            };
            let both: Vec<(f64, f64)> = inputs.into_iter().map(told).collect();
            let largest = both.iter().map(|(slope, _)| slope.abs()).fold(0.0, f64::max);
            for ((slope, difference), input) in both.iter().zip(inputs) {
                let off = (slope - difference).abs() / largest.max(1.0);
                let allowed = if matches!(held, Held::Bottle(_)) { 1e-3 } else { 2e-4 };
                assert!(off < allowed, "{held:?} wish {place} {input:?}: {slope} {difference}");
            }
        }
    }
}

/// What is absent counts along the tangent from a trace: the index of calcite in a water without calcium falls short of
/// any that holds some, and rises with calcium.
#[test]
fn an_absent_part_has_slopes_and_no_value() {
    let salt = Added::of_salt(catalogue::find("sodium_bicarbonate").unwrap()).unwrap();
    let soda = Totals::pure().with_added(&[(2e-3, &salt)]).unwrap();
    let mut order = order(Held::Closed, Solution::new(soda.clone(), 18.0).unwrap());
    order.shelf.push(Choice::new(catalogue::find("calcium_chloride_dihydrate").unwrap(), 100.0).unwrap());
    let rules: Vec<Rule> = order.wishes.iter().map(|wish| Rule::of(wish).unwrap()).collect();
    let seen = see(&order, &rules, &Solution::new(soda, 18.0).unwrap(), false).unwrap();
    let calcite = seen.tangents[1].as_ref().unwrap();
    assert!(!calcite.present && calcite.value < -3.0);
    assert!(calcite.slopes.per_mole(&order.shelf[1].added) > 1e5);
    assert!(seen.tangents[0].as_ref().unwrap().present);
}
