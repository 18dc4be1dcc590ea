//! Blends with wishes for the solved state, from request to answer.
#![cfg(feature = "answer")]
#![allow(clippy::unwrap_used)]

use serde_json::{Value, json};
use springwright_contract::answer::calculate;
use springwright_contract::reading::Amounts;

fn asked(fields: Value) -> Result<Value, Vec<(String, String, String)>> {
    let mut request = json!({
        "volume_l": 10, "temperature_c": 20, "waters": [{"name": "pure", "pure": true, "temperature_c": 20}],
        "balances": [{"step_g": 0.01, "most_g": 200}],
    });
    for (field, value) in fields.as_object().unwrap() {
        request[field] = value.clone();
    }
    match calculate("blend", request.to_string().as_bytes(), Amounts::Expressions) {
        Ok(answer) => Ok(serde_json::from_str(&answer).unwrap()),
        Err(problem) => {
            Err(problem.faults.into_iter().map(|fault| (fault.pointer, fault.code, fault.mend)).collect())
        }
    }
}

fn blend(fields: Value) -> Value {
    asked(fields).unwrap_or_else(|faults| panic!("{faults:?}"))
}

fn refused(fields: Value) -> Vec<(String, String)> {
    let faults = asked(fields).unwrap_err();
    faults.into_iter().map(|(pointer, code, _)| (pointer, code)).collect()
}

fn pure_salt(formula: &str) -> Value {
    json!({"formula": formula, "assay_percent": 100})
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

fn got(answer: &Value, wish: usize) -> f64 {
    number(&answer["reached"][wish]["got"]["value"])
}

fn near(value: f64, expected: f64, tolerance: f64) {
    assert!((value - expected).abs() <= tolerance, "{value} is not {expected} within {tolerance}");
}

/// The waters of a blend as a request to `mixture`.
fn mixed(answer: &Value, waters: &Value, temperature_c: f64) -> Value {
    let poured: Vec<Value> = answer["pourings"]
        .as_array()
        .unwrap()
        .iter()
        .map(|pouring| {
            let own = waters.as_array().unwrap().iter().find(|water| water["name"] == pouring["water"]);
            let mut water = own.unwrap().clone();
            water.as_object_mut().unwrap().retain(|field, _| !field.starts_with("at_"));
            json!({"water": water, "volume_l": pouring["volume_l"]})
        })
        .collect();
    json!({"parts": poured, "temperature_c": temperature_c})
}

/// The example of the documentation, as written: everything demanded is held, calcite to the last digit, and the water is
/// the one that is answered.
#[test]
fn the_example_of_the_documentation_is_solved_as_written() {
    let answer = blend(json!({
        "volume_l": 20, "temperature_c": 18,
        "waters": [
            {"name": "hill town main", "ph": 7.7, "temperature_c": 12, "analysis": {
                "Ca": "21.5 mg/L", "Mg": "3.1 mg/L", "Na": "8.2 mg/L", "K": "1.1 mg/L", "Cl": "12 mg/L", "SO4": "14 mg/L",
                "alkalinity": "52 mg/L as CaCO3"}},
            {"name": "purified water", "pure": true, "at_most_percent": 60}],
        "salts": [
            {"salt": "magnesium_sulfate_heptahydrate"}, {"salt": "sodium_bicarbonate", "price_per_kg": 3.2},
            {"formula": "CaCl2·2H2O", "assay_percent": 98.5, "lot": "KB-0417"}],
        "target": [
            {"of": "Ca", "near": "60 mg/L", "tolerance_percent": 10, "weight": 2},
            {"of": "Mg", "at_least": "15 mg/L", "at_most": "25 mg/L"}, {"of": "HCO3", "near": "180 mg/L"},
            {"of": "ratio", "numerator": "Ca", "denominator": "Mg", "at_least": {"value": 2, "unit": "1"}},
            {"of": "ph", "at_least": {"value": 7.2, "unit": "pH"}},
            {"of": "si", "solid": "calcite", "temperature_c": 25, "at_most": {"value": 0.3, "unit": "1"}}],
        "co2": {"state": "closed"}, "balances": [{"step_g": 0.01, "least_g": 0.5, "most_g": 200}], "most_salts": 4,
    }));
    let reached = answer["reached"].as_array().unwrap();
    for demanded in [1, 3, 4, 5] {
        assert_eq!(reached[demanded]["met"], true, "{}", reached[demanded]);
    }
    assert!(got(&answer, 5) <= 0.3 + 1e-8);
    near(got(&answer, 4), number(&answer["water"]["ph"]), 1e-12);
    near(got(&answer, 0), number(&answer["water"]["ions"]["Ca"]["mg_per_l"]), 1e-9);
    assert_eq!(reached[4]["got"]["unit"], "pH");
    assert_eq!(reached[5]["got"]["unit"], "1");
    assert!(answer["findings"].as_array().unwrap().iter().any(|found| found["code"] == "not_proved"));
}

/// Identity: the finished water, solved by `speciation` from the salts that were weighed, has the pH, index, conductivity,
/// CO2 and osmolality that the blend reached (1e-9), and a litre of it is the litre of the blend.
#[test]
fn what_is_reached_is_what_speciation_answers() {
    for co2 in [
        json!({"state": "closed"}),
        json!({"state": "partial_pressure", "pco2_bar": 0.01}),
        json!({"state": "volumes", "volumes": 2.5}),
    ] {
        let answer = blend(json!({
            "salts": [pure_salt("NaHCO3"), pure_salt("CaCl2·2H2O"), pure_salt("MgSO4·7H2O")], "co2": co2,
            "target": [
                {"of": "Ca", "near": "50 mg/L"}, {"of": "ph", "near": {"value": 7.4, "unit": "pH"}},
                {"of": "si", "solid": "calcite", "at_most": {"value": 0.2, "unit": "1"}},
                {"of": "conductivity", "at_most": {"value": 0.9, "unit": "mS/cm"}},
                {"of": "co2", "at_least": {"value": 0, "unit": "mg/L"}},
                {"of": "osmolality", "at_most": {"value": 300, "unit": "mOsm/kg"}}],
        }));
        let added: Vec<Value> = answer["weighings"].as_array().unwrap().iter().map(|weighing| {
            json!({"formula": weighing["formula"], "mg_per_l": number(&weighing["mass_g"]) * 100.0})
        }).collect();
        let request = json!({
            "water": {"pure": true, "temperature_c": 20, "added": added}, "temperature_c": 20, "co2": co2,
        });
        let solved = calculate("speciation", request.to_string().as_bytes(), Amounts::Expressions).unwrap();
        let water: Value = serde_json::from_str::<Value>(&solved).unwrap()["water"].clone();
        // The salts of a speciation are stated for the litre before the gas comes: 0.4 mmol of it swell the litre by
        // some 1e-5, 2.5 volumes by 0.4 %.
        let tolerance = match co2["state"].as_str().unwrap() {
            "closed" => 1e-9,
            "partial_pressure" => 2e-5,
            _ => 5e-3,
        };
        near(got(&answer, 1), number(&water["ph"]), tolerance);
        near(got(&answer, 3) / number(&water["conductivity_us_per_cm"]["at_25c"]) * 1000.0, 1.0, tolerance);
        near(got(&answer, 5) / number(&water["osmolality_mosmol_per_kg"]), 1.0, tolerance);
        near(got(&answer, 1), number(&answer["water"]["ph"]), 1e-12);
        near(got(&answer, 4), number(&answer["water"]["co2_mg_per_l"]), 1e-7 * got(&answer, 4).max(1.0));
        let si = answer["water"]["saturation"]
            .as_array()
            .unwrap()
            .iter()
            .find(|one| one["solid"] == "calcite")
            .unwrap();
        near(got(&answer, 2), number(&si["si"]), 1e-9);
        let calcium = number(&answer["water"]["ions"]["Ca"]["mg_per_l"]);
        near(got(&answer, 0), calcium, 1e-9 * calcium);
    }
}

/// Volumes of CO2 that are held are the free CO2 that a wish reads back: 1 volume is 44.009/22.263 g/L, 1e-3.
#[test]
fn volumes_are_read_back() {
    let answer = blend(json!({
        "salts": [pure_salt("NaHCO3")], "co2": {"state": "volumes", "volumes": 3},
        "target": [{"of": "Na", "near": "60 mg/L"}, {"of": "co2", "near": {"value": 3, "unit": "volumes"}}],
    }));
    near(got(&answer, 1), 3.0, 3e-3);
    // 10 L of 60 mg/L sodium in the litre of the carbonated water: 0.6 · 84.006 / 22.990 g, half a step.
    near(number(&answer["weighings"][0]["mass_g"]), 0.6 * 84.006 / 22.990, 0.005);
    near(got(&answer, 0), number(&answer["water"]["ions"]["Na"]["mg_per_l"]), 1e-9);
}

/// A demand that nothing on the shelf can hold is `nearest` with its reason, never `impossible`.
#[test]
fn a_demand_that_is_not_reached_is_nearest_with_its_reason() {
    let answer = blend(json!({
        "salts": [pure_salt("NaHCO3")],
        "target": [{"of": "Na", "near": "60 mg/L"}, {"of": "ph", "at_least": {"value": 10, "unit": "pH"}}],
    }));
    assert_eq!(answer["status"], "nearest");
    assert_eq!(answer["reached"][1]["met"], false);
    let why = &answer["reached"][1]["why"][0];
    assert!(["not_reached", "no_source", "mass_limit"].contains(&why["code"].as_str().unwrap()), "{why}");
    assert!(why["text"].as_str().unwrap().contains("pH"), "{why}");
}

/// Soda lifts the pH that bicarbonate alone cannot lift: alkali bicarbonates give pH 8 to 9, carbonates above 10 (common
/// practice, no published source).
#[test]
fn soda_lifts_what_bicarbonate_cannot() {
    let answer = blend(json!({
        "salts": [pure_salt("NaHCO3"), pure_salt("Na2CO3")],
        "target": [{"of": "Na", "near": "60 mg/L"}, {"of": "ph", "near": {"value": 9.5, "unit": "pH"}}],
    }));
    assert_eq!(answer["status"], "solved", "{}", answer["reached"]);
    near(got(&answer, 1), 9.5, 0.05);
    assert_eq!(answer["weighings"].as_array().unwrap().len(), 2);
}

/// A tap with too much calcite for a warm glass is let down, as far as it must be and no further.
#[test]
fn a_hard_tap_is_let_down_until_it_stays_clear() {
    let waters = json!([
        {"name": "hard", "temperature_c": 12, "ph": 7.4, "analysis": {"Ca": "110 mg/L", "Mg": "20 mg/L", "HCO3": "330 mg/L", "Cl": "60 mg/L", "SO4": "70 mg/L", "Na": "30 mg/L", "K": "3 mg/L"}},
        {"name": "pure", "pure": true, "temperature_c": 12}]);
    let clear =
        json!({"of": "si", "solid": "calcite", "temperature_c": 60, "at_most": {"value": 0.1, "unit": "1"}});
    let answer = blend(json!({
        "waters": waters, "salts": [], "target": [{"of": "Ca", "near": "110 mg/L"}, clear],
    }));
    near(got(&answer, 1), 0.1, 1e-8);
    assert_eq!(answer["reached"][1]["met"], true);
    // The same waters poured together by `mixture` at 60 °C have that index, too.
    let solved =
        calculate("mixture", mixed(&answer, &waters, 60.0).to_string().as_bytes(), Amounts::Expressions);
    let water: Value = serde_json::from_str::<Value>(&solved.unwrap()).unwrap()["water"].clone();
    let indices = water["saturation"].as_array().unwrap();
    let calcite = indices.iter().find(|one| one["solid"] == "calcite").unwrap();
    near(number(&calcite["si"]), 0.1, 1e-8);
}

/// A pH and an index are logarithms: near enough is said in their own unit, and a percentage is refused.
#[test]
fn near_enough_is_said_in_the_unit_of_a_logarithm() {
    let with = |wish: Value| json!({"salts": [pure_salt("NaHCO3"), pure_salt("CaCl2·2H2O")], "target": [wish, {"of": "Na", "near": "60 mg/L"}]});
    let ph =
        |field: &str, value: f64| json!({"of": "ph", "near": {"value": 7.5, "unit": "pH"}, field: value});
    assert_eq!(
        refused(with(ph("tolerance_percent", 5.0))),
        [("/target/0/tolerance_percent".to_owned(), "field_out_of_place".to_owned())]
    );
    let wide = blend(with(ph("tolerance", 3.0)));
    assert_eq!(wide["reached"][0]["met"], true);
    let plain = blend(with(json!({"of": "ph", "near": {"value": 7.5, "unit": "pH"}})));
    let assumed = plain["assumptions"].as_array().unwrap();
    assert!(
        assumed
            .iter()
            .any(|one| one["pointer"] == "/target/0/tolerance"
                && one["text"].as_str().unwrap().contains("0.1"))
    );
    let misplaced = json!({"salts": [], "target": [{"of": "Na", "near": "60 mg/L", "tolerance": 1}]});
    assert_eq!(refused(misplaced), [("/target/0/tolerance".to_owned(), "field_out_of_place".to_owned())]);
}

/// The index of a solid of which a part is absent has no value: a bound from above holds, and none is got.
#[test]
fn a_solid_without_its_parts_has_no_index() {
    let si = |field: &str| json!({"of": "si", "solid": "calcite", field: {"value": 0, "unit": "1"}});
    let of = |field: &str| {
        blend(json!({"salts": [pure_salt("NaHCO3")], "target": [{"of": "Na", "near": "60 mg/L"}, si(field)]}))
    };
    let clear = of("at_most");
    assert_eq!(clear["reached"][1]["met"], true);
    assert!(clear["reached"][1].get("got").is_none());
    assert_eq!(of("near")["reached"][1]["met"], false);
}

#[test]
fn bad_wishes_come_all_at_once_with_their_places() {
    let faults = asked(json!({
        "waters": [{"name": "tap", "analysis": {"Ca": "60 mg/L", "HCO3": "150 mg/L"}, "temperature_c": 12}],
        "salts": [pure_salt("NaHCO3")],
        "target": [
            {"of": "ph", "near": {"value": 7, "unit": "mg/L"}},
            {"of": "si", "at_most": {"value": 0.3, "unit": "1"}},
            {"of": "si", "solid": "calcit", "at_most": {"value": 0.3, "unit": "1"}},
            {"of": "ph", "at_least": {"value": 8, "unit": "pH"}, "at_most": {"value": 7, "unit": "pH"}},
            {"of": "si", "solid": "calcite", "at_most": {"value": 30, "unit": "%"}},
            {"of": "co2", "at_most": {"value": 3, "unit": "mg/L"}, "temperature_c": 4},
            {"of": "pH", "near": {"value": 7, "unit": "pH"}}],
    }))
    .unwrap_err();
    let places: Vec<(&str, &str)> =
        faults.iter().map(|(pointer, code, _)| (pointer.as_str(), code.as_str())).collect();
    assert_eq!(
        places,
        [
            ("/target/0", "unit_mismatch"),
            ("/target/1/solid", "field_missing"),
            ("/target/2/solid", "solid_unknown"),
            ("/target/3", "bounds_crossed"),
            ("/target/4", "unit_mismatch"),
            ("/target/5/temperature_c", "field_out_of_place"),
            ("/target/6/of", "component_unknown"),
        ]
    );
    assert!(faults[2].2.contains("'calcite'"), "{}", faults[2].2);
    assert!(faults[6].2.contains("'ph'"), "{}", faults[6].2);
}

/// What the state needs and no sheet tells is refused at the place where it would stand, never ignored.
#[test]
fn a_state_that_cannot_be_told_is_refused_where_it_is_missing() {
    let ph = json!([{"of": "ph", "near": {"value": 7.5, "unit": "pH"}}]);
    let with = |analysis: Value| json!({"waters": [{"temperature_c": 12, "analysis": analysis}], "salts": [], "target": ph});
    let silent = refused(with(json!({"Ca": "60 mg/L", "Cl": "20 mg/L"})));
    assert_eq!(silent, [("/waters/0/analysis/alkalinity".to_owned(), "alkalinity_unknown".to_owned())]);
    let no_ph = refused(with(json!({"Ca": "60 mg/L", "HCO3": "150 mg/L"})));
    assert_eq!(no_ph, [("/waters/0/ph".to_owned(), "carbonate_unknown".to_owned())]);
    let mut open = with(json!({"Ca": "60 mg/L", "HCO3": "150 mg/L"}));
    open["co2"] = json!({"state": "open_to_air"});
    assert_eq!(blend(open)["status"], "nearest");
    let fluorite = json!({
        "waters": [{"temperature_c": 12, "ph": 7.5, "analysis": {"Ca": "60 mg/L", "HCO3": "150 mg/L"}}], "salts": [],
        "target": [{"of": "si", "solid": "fluorite", "at_most": {"value": 0, "unit": "1"}}],
    });
    assert_eq!(refused(fluorite), [("/waters/0/analysis/F".to_owned(), "insufficient".to_owned())]);
    let hot = json!({"salts": [], "target": [{"of": "conductivity", "temperature_c": 80, "at_most": {"value": 500, "unit": "uS/cm"}}]});
    assert_eq!(
        refused(hot),
        [("/target/0/temperature_c".to_owned(), "temperature_outside_model".to_owned())]
    );
}

/// A wish for the state that is met by the way keeps the proof; one that costs something is only bounded.
#[test]
fn the_gap_is_a_proof_or_is_not_there() {
    let salts = json!([pure_salt("NaHCO3"), pure_salt("CaCl2·2H2O")]);
    let ions = [json!({"of": "Ca", "near": "40 mg/L"}), json!({"of": "HCO3", "near": "120 mg/L"})];
    let with = |wishes: &[Value]| {
        let target: Vec<Value> = ions.iter().chain(wishes).cloned().collect();
        blend(json!({"salts": salts, "target": target}))
    };
    let free = with(&[json!({"of": "ph", "at_least": {"value": 6, "unit": "pH"}})]);
    near(number(&free["gap"][0]), 0.0, 1e-9);
    let codes = |answer: &Value| answer["findings"].to_string();
    assert!(!codes(&free).contains("not_proved"));
    let bound = with(&[json!({"of": "si", "solid": "calcite", "at_most": {"value": -0.3, "unit": "1"}})]);
    assert_eq!(bound["reached"][2]["met"], true);
    assert!(number(&bound["gap"][0]) > 0.01);
    assert!(codes(&bound).contains("not_proved"));
    let missed = with(&[json!({"of": "ph", "at_least": {"value": 11, "unit": "pH"}})]);
    assert_eq!(missed["gap"], json!([]));
}

/// Linear demands that collide are `impossible` with or without wishes for the state, and each way out is solved with them.
#[test]
fn only_linear_demands_are_impossible() {
    let target = json!([
        {"of": "Ca", "at_least": "80 mg/L"}, {"of": "Cl", "at_most": "10 mg/L"},
        {"of": "ph", "at_most": {"value": 8.2, "unit": "pH"}}]);
    let answer = blend(json!({"salts": [pure_salt("CaCl2·2H2O"), pure_salt("NaHCO3")], "target": target}));
    assert_eq!(answer["status"], "impossible");
    assert_eq!(answer["conflict"], json!(["/target/0/at_least", "/target/1/at_most"]));
    for way_out in answer["relaxations"].as_array().unwrap() {
        assert!(number(&way_out["water"]["ph"]) <= 8.2 + 1e-6, "{way_out}");
    }
}
