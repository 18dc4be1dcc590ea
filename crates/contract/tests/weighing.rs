//! Recipes on the scale at the door: figures worked out by hand, the same bytes for the same request, and every fault.
#![cfg(feature = "answer")]
#![allow(clippy::unwrap_used)]

use serde_json::{Value, json};
use springwright_contract::answer::calculate;
use springwright_contract::reading::Amounts;

fn told(request: &Value) -> String {
    let answer = calculate("weighing", request.to_string().as_bytes(), Amounts::Expressions);
    answer.unwrap_or_else(|problem| panic!("{problem}"))
}

fn planned(request: &Value) -> Value {
    serde_json::from_str(&told(request)).unwrap()
}

fn refused(request: &Value) -> Vec<(String, String)> {
    let problem = calculate("weighing", request.to_string().as_bytes(), Amounts::Expressions).unwrap_err();
    problem.faults.into_iter().map(|fault| (fault.pointer, fault.code)).collect()
}

fn number(answer: &Value, pointer: &str) -> f64 {
    answer.pointer(pointer).and_then(Value::as_f64).unwrap_or_else(|| panic!("{pointer}: {answer}"))
}

fn recipe(salts: Value, target: Value) -> Value {
    json!({"parts": [{"water": {"pure": true, "temperature_c": 20}, "mass_kg": 10}], "temperature_c": 20,
        "poured_uncertainty_percent": 0.2, "recipe": salts, "target": target,
        "balances": [{"step_g": 0.01, "least_g": 0.2, "most_g": 200}, {"step_g": 1, "least_g": 20, "most_g": 5000}]})
}

/// By hand: 10.003 g of sodium chloride (IUPAC abridged weights of 2021: 22.990 of 58.440 is sodium) in 10 kg of water, weighed as 10.00 g.
#[test]
fn the_water_is_that_of_what_is_weighed() {
    let answer = planned(&recipe(
        json!([{"formula": "NaCl", "mass_g": 10.003}]),
        json!([{"of": "Na", "near": "393 mg/kg"}]),
    ));
    assert_eq!(answer["weighings"][0]["steps"], 1000);
    assert_eq!(answer["weighings"][0]["balance"], 0);
    let sodium = 1e6 * 10.0 * 22.990 / 58.440 / 10_010.0;
    let got = number(&answer, "/wishes/0/got/value");
    assert!((got - sodium).abs() < 0.01, "{got} {sodium}");
    assert!(number(&answer, "/wishes/0/by_recipe/value") > number(&answer, "/wishes/0/got/value"));
    assert!((number(&answer, "/water/mass_kg") - 10.01).abs() < 1e-6);
    // 5 % either way, by the sodium alone
    let (least, most) = (number(&answer, "/weighings/0/least_g"), number(&answer, "/weighings/0/most_g"));
    assert!(
        (least - 10.0 * 0.95 * 393.0 / sodium).abs() < 0.01
            && (most - 10.0 * 1.05 * 393.0 / sodium).abs() < 0.01
    );
    assert_eq!(answer["weighings"][0]["ended_above_by"], json!(["/target/0"]));
}

/// 5 mg on a scale of 0.01 g: a stock that brings just these, and a finding at its place.
#[test]
fn too_little_for_the_scale() {
    let salts = json!([{"formula": "KCl", "mass_g": 0.005}, {"formula": "NaCl", "mass_g": 0.15}, {"formula": "KHCO3", "mass_g": 9000}]);
    let mut request = recipe(salts, json!([]));
    request["parts"][0]["mass_kg"] = json!(1000);
    let answer = planned(&request);
    let stock = &answer["weighings"][0]["stock"];
    let brought = number(stock, "/mass_g") * number(stock, "/dose_ml") / number(stock, "/flask_ml");
    assert!((brought - 0.005).abs() < 1e-12);
    let codes: Vec<(&str, &str)> = answer["findings"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| (one["pointer"].as_str().unwrap(), one["code"].as_str().unwrap()))
        .collect();
    assert!(
        codes.contains(&("/recipe/0/mass_g", "below_least"))
            && codes.contains(&("/recipe/1/mass_g", "below_least"))
    );
    assert!(codes.contains(&("/recipe/2/mass_g", "weighed_in_portions")));
    assert_eq!(
        (&answer["weighings"][2]["balance"], &answer["weighings"][2]["portions"]),
        (&json!(1), &json!(2))
    );
    assert!(answer.get("probability_percent").is_none());
}

/// The same request gives the same bytes, another seed other draws, and a wish that is held by far is sure.
#[test]
fn draws_are_those_of_the_request() {
    let mut request = recipe(
        json!([{"formula": "NaCl", "mass_g": 1.004, "assay_uncertainty_percent": 1.0}]),
        json!([{"of": "Na", "at_most": "39.6 mg/L"}, {"of": "Cl", "at_most": "200 mg/L"}]),
    );
    assert_eq!(told(&request), told(&request));
    let first = planned(&request);
    request["seed"] = json!(2);
    let second = planned(&request);
    let (one, other) = (number(&first, "/probability_percent"), number(&second, "/probability_percent"));
    assert!(one != other && (one - other).abs() < 3.0, "{one} {other}");
    assert!(one > 50.0 && one < 99.0);
    assert_eq!(number(&first, "/wishes/1/probability_percent"), 100.0);
}

#[test]
fn what_a_recipe_does_not_take() {
    let mut request = recipe(
        json!([{"formula": "NaCl2", "mass_g": 1}, {"salt": "hydrochloric_acid", "mass_g": 1}, {"mass_g": 1}]),
        json!([{"of": "haze"}, {"of": "cost", "at_most": {"value": 1, "unit": "1"}}, {"of": "Na"}]),
    );
    let faults = refused(&request);
    for (pointer, code) in [
        ("/recipe/2", "field_missing"),
        ("/target/0/of", "wish_not_for_weighing"),
        ("/target/1/of", "wish_not_for_weighing"),
    ] {
        assert!(faults.contains(&(pointer.to_owned(), code.to_owned())), "{pointer} {code}: {faults:?}");
    }
    for place in ["/recipe/0", "/recipe/1", "/target/2"] {
        assert!(faults.iter().any(|(pointer, _)| pointer.starts_with(place)), "{place}: {faults:?}");
    }
    request["recipe"] = json!([{"formula": "NaCl", "mass_g": 1}]);
    request["target"] = json!([{"of": "ph", "at_least": "6 pH"}]);
    request["parts"][0]["water"] = json!({"temperature_c": 12, "analysis": {"Ca": "20 mg/L", "alkalinity": "50 mg/L as CaCO3"},
        "missing": {"Mg": "zero", "Na": "zero", "K": "zero", "Cl": "zero", "SO4": "zero"}});
    assert_eq!(refused(&request), [("/parts".to_owned(), "carbonate_unknown".to_owned())]);
    request["target"] = json!([{"of": "NO3", "near": "5 mg/L"}]);
    assert_eq!(refused(&request), [("/target/0".to_owned(), "insufficient".to_owned())]);
    request["balances"] = json!([{"step_g": 0.01, "most_g": 200}, {"step_g": 1000, "most_g": 1}]);
    assert_eq!(refused(&request)[0].0, "/balances/1");
    request["strict"] = json!(true);
    assert!(refused(&request).iter().any(|(_, code)| code == "assumption_refused"));
}
