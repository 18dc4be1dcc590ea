//! A recipe from a glass to a tank: what must stay the same, whole bags, and faults at their places.
#![cfg(feature = "answer")]
#![allow(clippy::unwrap_used)]

use serde_json::{Value, json};
use springwright_contract::answer::calculate;
use springwright_contract::reading::Amounts;

fn answered(name: &str, request: &Value) -> Value {
    let answer = calculate(name, request.to_string().as_bytes(), Amounts::Expressions);
    serde_json::from_str(&answer.unwrap_or_else(|problem| panic!("{problem}"))).unwrap()
}

fn number(answer: &Value, pointer: &str) -> f64 {
    answer.pointer(pointer).and_then(Value::as_f64).unwrap_or_else(|| panic!("{pointer}: {answer}"))
}

/// A glass of 200 g of water, weighed on a fine balance in the tank so that nothing is lost by rounding.
fn glass() -> Value {
    json!({"parts": [{"water": {"pure": true, "temperature_c": 20}, "mass_kg": 0.2}], "temperature_c": 20,
        "poured_uncertainty_percent": 0,
        "recipe": [{"formula": "NaHCO3", "mass_g": 0.0842, "bag_g": 25000}, {"formula": "CaCl2·2H2O", "mass_g": 0.0519}],
        "balances": [{"step_g": 0.001, "most_g": 100_000}]})
}

/// Identities: the large water has the ions of the small one (1e-6), its volume is the one that was asked for, and what is
/// poured and weighed is so many times as much (1e-6).
#[test]
fn a_tank_holds_the_water_of_the_glass() {
    let large = answered("scale-up", &json!({"volume_l": 1000, "recipe": glass()}));
    let small = answered(
        "weighing",
        &json!({"parts": glass()["parts"], "temperature_c": 20, "recipe": glass()["recipe"],
        "balances": [{"step_g": 1e-6, "most_g": 100}]}),
    );
    for ion in ["Na", "Ca", "Cl", "HCO3"] {
        let at = format!("/water/ions/{ion}/mg_per_l");
        assert!((number(&large["plan"], &at) / number(&small, &at) - 1.0).abs() < 1e-5, "{ion}");
    }
    assert!((number(&large, "/plan/water/volume_l") - 1000.0).abs() < 1e-3);
    let times = number(&large, "/times");
    assert!((number(&large, "/pourings/0/mass_kg") - 0.2 * times).abs() < 1e-6 * times);
    assert!((number(&large, "/plan/weighings/1/recipe_g") - 0.0519 * times).abs() < 1e-9 * times);
    assert_eq!(large["plan"]["weighings"][0]["bags"], 0);
    assert!(large["plan"]["weighings"][1].get("bags").is_none());
}

/// At a volume that is told, the bags come out whole: nothing is left to weigh.
#[test]
fn whole_bags_leave_no_rest() {
    let near = answered("scale-up", &json!({"volume_l": 100_000, "recipe": glass()}));
    let volumes = near["whole_bags"].as_array().unwrap();
    assert_eq!(volumes.len(), 2);
    for told in volumes {
        let there = answered("scale-up", &json!({"volume_l": told["volume_l"], "recipe": glass()}));
        assert_eq!(there["plan"]["weighings"][0]["bags"], told["bags"]);
        assert!(number(&there, "/plan/weighings/0/steps") <= 1.0, "{}", there["plan"]["weighings"][0]);
    }
}

#[test]
fn faults_stand_in_the_recipe() {
    let mut recipe = glass();
    recipe["recipe"][1] = json!({"formula": "XyZ", "mass_g": 1});
    recipe["target"] = json!([{"of": "haze"}]);
    let request = json!({"volume_l": 1000, "recipe": recipe});
    let problem = calculate("scale-up", request.to_string().as_bytes(), Amounts::Expressions).unwrap_err();
    let pointers: Vec<&str> = problem.faults.iter().map(|fault| fault.pointer.as_str()).collect();
    assert!(pointers.iter().any(|at| at.starts_with("/recipe/recipe/1")), "{pointers:?}");
    assert!(pointers.contains(&"/recipe/target/0/of"), "{pointers:?}");
    let mut strict = glass();
    strict["strict"] = json!(true);
    let problem = calculate(
        "scale-up",
        json!({"volume_l": 1, "recipe": strict}).to_string().as_bytes(),
        Amounts::Expressions,
    )
    .unwrap_err();
    assert!(problem.faults.iter().all(|fault| fault.pointer.starts_with("/recipe/")), "{problem}");
}
