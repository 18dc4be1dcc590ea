//! The derivatives against differences of solved states.

use super::*;
use crate::matter::component::Component;
use crate::phases::{saturation, solids::find};
use std::sync::Arc;

fn c(id: &str) -> Component {
    Component::read(id).unwrap()
}

fn solve(given: &Given) -> Speciation {
    let model = Model::at_kelvin(291.15);
    Arc::new(System::of(&model, &given.totals).unwrap()).solve(given).unwrap()
}

fn water(first: Known, second: Known, strong: f64) -> Given {
    let amounts = [
        ("Ca", 2e-3),
        ("Mg", 1e-3),
        ("Na", 2e-3 + strong),
        ("K", 2e-4),
        ("Cl", 2e-3 + strong),
        ("SO4", 1e-3),
        ("PO4", 1e-4),
        ("SiO2", 3e-4),
        ("B", 1e-4),
        ("citrate", 5e-4),
        ("NH4", 1e-4),
    ];
    amounts.iter().fold(Given::new(first, second), |given, (id, m)| given.with(c(id), *m))
}

fn moved(given: &Given, input: Input, by: f64) -> Given {
    let mut given = given.clone();
    let shift = |known: &mut Known| match known {
        Known::Alkalinity(v) | Known::Dic(v) | Known::Ph(v) | Known::Pco2(v) | Known::Co2(v) => *v += by,
    };
    match input {
        Input::Component(component) => given.totals[component.index()] += by,
        Input::FirstCarbonate => shift(&mut given.carbonate[0]),
        Input::SecondCarbonate => shift(&mut given.carbonate[1]),
        Input::LnConstant(_) => unreachable!("constants are not moved here"),
    }
    given
}

/// Identity: d pH, ln a, SI, alkalinity, carbonate, CO2 pressure and water activity by every input equal central
/// differences of solved states, 1e-5 of the slope; for six kinds of given pairs, from tap to stock.
#[test]
fn derivatives_are_those_of_solved_states() {
    let base = solve(&water(Known::Alkalinity(0.006), Known::Dic(0.007), 0.0));
    let pairs = [
        (Known::Alkalinity(0.006), Known::Dic(0.007), 0.0),
        (Known::Alkalinity(0.006), Known::Dic(0.007), 0.8),
        (Known::Ph(base.ph), Known::Dic(0.007), 0.0),
        (Known::Alkalinity(0.006), Known::Pco2(2.0), 0.0),
        (Known::Co2(base.co2()), Known::Alkalinity(0.006), 0.1),
        (Known::Ph(6.5), Known::Pco2(0.5), 0.0),
    ];
    let calcite = find("calcite").unwrap();
    for (first, second, strong) in pairs {
        let given = water(first, second, strong);
        let state = solve(&given);
        let named = ["Ca", "Na", "Cl", "SO4", "PO4", "citrate", "SiO2", "NH4"];
        let mut inputs: Vec<Input> = named.iter().map(|id| Input::Component(c(id))).collect();
        inputs.extend([Input::FirstCarbonate, Input::SecondCarbonate]);
        let slopes = state.sensitivities(&inputs).unwrap();
        for input in inputs {
            let size = match input {
                Input::Component(component) => given.totals[component.index()],
                Input::FirstCarbonate if matches!(first, Known::Ph(_)) => 1.0,
                Input::FirstCarbonate => given.carbonate[0].value(),
                _ => given.carbonate[1].value(),
            };
            let h = 1e-4 * size;
            let (high, low) = (solve(&moved(&given, input, h)), solve(&moved(&given, input, -h)));
            let check = |name: &str, got: f64, above: f64, below: f64, scale: f64| {
                let difference = (above - below) / (2.0 * h);
                let off = (got - difference).abs() * size;
                assert!(off < 1e-6 * scale, "{first:?} {second:?} {input:?} {name}: {got} {difference}");
            };
            let si = |state: &Speciation| saturation::of(state, calcite).unwrap().index;
            check("pH", slopes.ph(input).unwrap(), high.ph, low.ph, 1.0);
            check("SI", slopes.saturation_index(calcite, input).unwrap(), si(&high), si(&low), 1.0);
            for id in ["Ca", "HCO3", "Cacitrate", "H", "HPO4"] {
                let ln = |s: &Speciation| s.ln_activity(id).unwrap();
                check(id, slopes.ln_activity(id, input).unwrap(), ln(&high), ln(&low), 1.0);
            }
            check("water", slopes.ln_water(input).unwrap(), high.ln_water, low.ln_water, 1e-2);
            check("alkalinity", slopes.alkalinity(input).unwrap(), high.alkalinity, low.alkalinity, 1e-2);
            check("carbonate", slopes.dic(input).unwrap(), high.dic, low.dic, 1e-2);
            check("CO2", slopes.pco2(input).unwrap(), high.pco2(), low.pco2(), 1.0);
        }
    }
}
