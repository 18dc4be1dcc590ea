//! The life of a water: a worked case from elsewhere, what the other calculations say of the same states, changes that are
//! followed, and every fault.
#![cfg(feature = "answer")]
#![allow(clippy::unwrap_used)]

use serde_json::{Value, json};
use springwright_contract::answer::calculate;
use springwright_contract::reading::Amounts;

fn answered(name: &str, request: &Value) -> Value {
    let answer = calculate(name, request.to_string().as_bytes(), Amounts::Expressions);
    serde_json::from_str(&answer.unwrap_or_else(|problem| panic!("{problem}"))).unwrap()
}

fn refused(request: &Value) -> Vec<(String, String)> {
    let problem = calculate("life-path", request.to_string().as_bytes(), Amounts::Expressions).unwrap_err();
    problem.faults.into_iter().map(|fault| (fault.pointer, fault.code)).collect()
}

fn number(answer: &Value, pointer: &str) -> f64 {
    answer.pointer(pointer).and_then(Value::as_f64).unwrap_or_else(|| panic!("{pointer}: {answer}"))
}

fn near(value: f64, expected: f64, tolerance: f64) {
    assert!((value - expected).abs() <= tolerance, "{value} is not {expected} within {tolerance}");
}

fn tap() -> Value {
    json!({"name": "tap", "temperature_c": 12, "ph": 7.4, "end_point_ph": 4.5, "analysis": {
        "Ca": "92 mg/L", "Mg": "13 mg/L", "Na": "17 mg/L", "K": "2 mg/L", "Cl": "27 mg/L", "SO4": "44 mg/L",
        "alkalinity": "245 mg/L as CaCO3"}})
}

fn life(stages: &Value) -> Value {
    json!({"parts": [{"water": tap(), "volume_l": 10}], "temperature_c": 12, "altitude_m": 0, "rating_bar": 10,
        "stages": stages})
}

fn keg(celsius: f64) -> Value {
    json!({"stage": "carbonated", "temperature_c": celsius, "co2": {"state": "keg", "gauge_bar": 2.5}})
}

/// Calcium 80 mg/L with an alkalinity of 200 mg/L as CaCO3 at 20 °C: calcite at −2.28 under 2.5 atm of CO2 and +1.37 in air (a
/// public speciation engine with ion pairs); ± 0.05.
#[test]
fn a_sparkling_water_turns_when_it_is_open() {
    let water = json!({"temperature_c": 20, "ph": 7.3, "end_point_ph": 4.5,
        "missing": {"Mg": "zero", "Na": "zero", "K": "zero", "Cl": "zero", "SO4": "zero"},
        "analysis": {"Ca": "80 mg/L", "alkalinity": "200 mg/L as CaCO3"}});
    let answer = answered(
        "life-path",
        &json!({"parts": [{"water": water, "volume_l": 1}], "temperature_c": 20, "altitude_m": 0, "stages": [
            {"stage": "carbonated", "co2": {"state": "partial_pressure", "pco2_bar": 2.533}},
            {"stage": "opened"}, {"stage": "flat"}]}),
    );
    for (stage, si) in [(1, -2.28), (3, 1.37)] {
        assert_eq!(answer["stages"][stage]["worst_solid"], "calcite");
        near(number(&answer, &format!("/stages/{stage}/si")), si, 0.05);
    }
    assert_eq!(
        (&answer["stages"][1]["verdict"], &answer["verdict"]),
        (&json!("undersaturated"), &json!("clouds"))
    );
    assert_eq!(answer["worst_stage"], 4);
}

/// Identities: a keg, a bottle, a flat and an opened water are what `carbonation`, `mixture` and `saturation` say of the same
/// states (1e-9), and the ledger closes (1e-12).
#[test]
fn every_state_is_that_of_the_other_calculations() {
    let answer = answered(
        "life-path",
        &life(
            &json!([keg(5.0), {"stage": "bottled", "headspace_percent": 4}, {"stage": "flat", "temperature_c": 22}]),
        ),
    );
    let stage = |at: usize, field: &str| number(&answer, &format!("/stages/{at}/{field}"));
    let kegged = answered(
        "carbonation",
        &json!({"water": tap(), "temperature_c": 5, "altitude_m": 0, "co2": {"state": "keg", "gauge_bar": 2.5}}),
    );
    near(stage(1, "ph"), number(&kegged, "/after/ph"), 1e-9);
    near(stage(1, "gauge_bar"), 2.5, 1e-9);
    let flat = answered(
        "mixture",
        &json!({"parts": [{"water": tap(), "volume_l": 10}], "temperature_c": 22,
            "co2": {"state": "open_to_air", "altitude_m": 0}}),
    );
    near(stage(3, "ph"), number(&flat, "/water/ph"), 1e-9);
    let worst = answer["stages"][3]["worst_solid"].as_str().unwrap();
    let same =
        flat["water"]["saturation"].as_array().unwrap().iter().find(|one| one["solid"] == worst).unwrap();
    near(stage(3, "si"), number(same, "/si"), 1e-9);
    assert!(number(&answer, "/co2_imbalance") < 1e-12);
    assert!(stage(2, "gauge_bar") > 2.5 && stage(2, "volumes") < stage(1, "volumes"));
    let added = number(&answer, "/stages/1/co2/added_g_per_l");
    near(added / number(&kegged, "/co2_to_add_g_per_l"), 1.0, 1e-3); // of a litre at 12 °C, not at 5
}

/// Every change works when it is followed: pure water in the mix, acid by way of a lower alkalinity, a cooler stage.
#[test]
fn a_change_that_is_followed_leaves_the_stage_clear() {
    let stages =
        json!([keg(5.0), {"stage": "stands", "temperature_c": 20}, {"stage": "flat", "temperature_c": 25}]);
    let before = answered("life-path", &life(&stages));
    let change = |kind: &str| {
        let changes = before["stages"][3]["changes"].as_array().unwrap();
        changes.iter().find(|one| one["change"] == kind).map(|one| number(one, "/value"))
    };
    assert_eq!(before["stages"][3]["verdict"], "clouds");
    let clear = |request: &Value| {
        let verdict = answered("life-path", request)["stages"][3]["verdict"].clone();
        verdict == "clear" || verdict == "undersaturated"
    };
    let pure = change("pure_water").unwrap() / 100.0;
    let softer = |share: f64| {
        let mut request = life(&stages);
        let rain =
            json!({"water": {"pure": true, "temperature_c": 12}, "volume_l": 10.0 * share / (1.0 - share)});
        request["parts"].as_array_mut().unwrap().push(rain);
        request
    };
    assert!(clear(&softer(pure + 1e-3)) && !clear(&softer(0.8 * pure)));
    let mut sour = life(&stages);
    let left = change("alkalinity").unwrap();
    sour["parts"][0]["water"]["analysis"]["alkalinity"] = json!(format!("{} mg/L as CaCO3", left - 0.5));
    assert!(clear(&sour));
    assert!(change("carbon_dioxide").unwrap() > 0.0);
    let quiet = answered("life-path", &{
        let mut request = life(&stages);
        request["suggestions"] = json!(false);
        request
    });
    assert_eq!(quiet["stages"][3]["changes"], json!([]));
}

/// A vessel that may burst is told with both pressures; without a rating it is told that nobody judged it.
#[test]
fn a_weak_bottle_brings_a_caution() {
    let stages = json!([keg(4.0), {"stage": "bottled", "headspace_percent": 5}, {"stage": "stands", "temperature_c": 30}]);
    let mut request = life(&stages);
    request["rating_bar"] = json!(4);
    let answer = answered("life-path", &request);
    let caution = &answer["cautions"][0];
    assert_eq!(caution["code"], "pressure_above_rating");
    assert!(caution["text"].as_str().unwrap().contains("rated for 4.0 bar"));
    assert!(number(&answer, "/highest_gauge_bar") > 4.0);
    assert!(answer["svg"].as_str().unwrap().contains(" !</text>"));
    request.as_object_mut().unwrap().remove("rating_bar");
    let answer = answered("life-path", &request);
    let silent = answer["not_judged"].as_array().unwrap();
    assert!(silent.iter().any(|one| one["what"] == "strength of the vessel"));
    assert!(answer["cautions"].as_array().unwrap().iter().all(|one| one["code"] != "pressure_above_rating"));
}

/// A stock is judged by itself, and one that cannot be says why; names are safe in the picture and stand in the table.
#[test]
fn stocks_stand_before_the_mix() {
    let mut request = life(&json!([{"stage": "flat", "name": "<b>glass</b>"}]));
    let stock = |name: &str, added: Value| json!({"volume_l": 0.1, "water": {"name": name, "pure": true, "temperature_c": 20, "added": added}});
    let lime =
        json!([{"formula": "CaCl2·2H2O", "mg_per_l": 20000}, {"formula": "NaHCO3", "mg_per_l": 20000}]);
    request["parts"].as_array_mut().unwrap().push(stock("two in one", lime));
    let answer = answered("life-path", &request);
    let words: Vec<_> = answer["stages"].as_array().unwrap().iter().map(|one| &one["stage"]).collect();
    assert_eq!(words, ["stock", "mixed", "flat"]);
    assert_eq!(answer["stages"][0]["verdict"], "clouds");
    assert!(answer["stages"][0].get("co2").is_none());
    let (svg, table) = (answer["svg"].as_str().unwrap(), answer["text_table"].as_str().unwrap());
    assert!(!svg.contains("<b>") && svg.contains("&lt;b&gt;glass"));
    assert!(table.contains("two in one") && table.contains("<b>glass</b>"));
}

/// What cannot be is told at once: fields out of place, fields that lack, what is too warm; then the order; then what bursts or
/// boils.
#[test]
fn what_cannot_be_is_told_at_its_place() {
    let faults = refused(&life(&json!([
        {"stage": "carbonated"},
        {"stage": "carbonated", "co2": {"state": "open_to_air"}},
        {"stage": "carbonated", "co2": {"state": "keg", "gauge_bar": 2, "temperature_c": 4, "altitude_m": 100}},
        {"stage": "bottled"},
        {"stage": "flat", "headspace_percent": 5, "co2": {"state": "closed"}},
        {"stage": "stands", "temperature_c": 80},
    ])));
    let expected = [
        ("/stages/0/co2", "field_missing"),
        ("/stages/1/co2/state", "co2_not_held"),
        ("/stages/2/co2/temperature_c", "field_out_of_place"),
        ("/stages/2/co2/altitude_m", "field_out_of_place"),
        ("/stages/3/headspace_percent", "field_missing"),
        ("/stages/4/co2", "field_out_of_place"),
        ("/stages/4/headspace_percent", "field_out_of_place"),
        ("/stages/5/temperature_c", "out_of_range"),
    ];
    assert_eq!(faults, expected.map(|(pointer, code)| (pointer.to_owned(), code.to_owned())));
    let one = |stages: Value| refused(&life(&stages)).remove(0);
    let told = |pointer: &str, code: &str| (pointer.to_owned(), code.to_owned());
    assert_eq!(one(json!([{"stage": "opened"}])), told("/stages/0/stage", "vessel_not_shut"));
    let shut = json!({"stage": "bottled", "headspace_percent": 0.3});
    assert_eq!(one(json!([shut, keg(5.0)])), told("/stages/1/stage", "bottle_still_shut"));
    let warm = json!({"stage": "stands", "temperature_c": 40});
    assert_eq!(one(json!([shut, warm])), told("/stages/1", "headspace_filled"));
    let mut high = life(&json!([{"stage": "kettle", "temperature_c": 93}]));
    high["altitude_m"] = json!(3000);
    assert_eq!(refused(&high), [told("/stages/0", "water_boils")]);
    let mut two = life(&json!([{"stage": "flat"}]));
    two["parts"][0]["water"]["analysis"] = json!({"Ca": "90 mg/L", "alkalinity": "200 mg/L as CaCO3"});
    two["parts"][0]["water"].as_object_mut().unwrap().remove("ph");
    assert!(!refused(&two).is_empty());
    let mut strict = life(&json!([{"stage": "flat"}]));
    strict["strict"] = json!(true);
    strict.as_object_mut().unwrap().remove("altitude_m");
    assert!(refused(&strict).contains(&told("/altitude_m", "assumption_refused")));
}
