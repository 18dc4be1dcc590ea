//! Blends that can be reckoned by hand: one worked example for each sort of wish and each limit. Molar masses are the
//! IUPAC abridged weights of 2021, summed by hand; tolerances are half a balance step unless said.
#![cfg(feature = "answer")]
#![allow(clippy::unwrap_used)]

use serde_json::{Value, json};
use springwright_contract::answer::calculate;
use springwright_contract::reading::Amounts;

const NA: f64 = 22.990;
const CA: f64 = 40.078;
const MG: f64 = 24.305;
const NAHCO3: f64 = 84.006;
const CACL2_2H2O: f64 = 147.008;
const MGCL2_6H2O: f64 = 203.295;

/// A blend in 10 L of pure water at 20 °C on a centigram balance, with other fields as given.
fn blend(fields: Value) -> Value {
    let mut request = json!({
        "volume_l": 10, "temperature_c": 20, "waters": [{"name": "pure", "pure": true, "temperature_c": 20}],
        "balances": [{"step_g": 0.01, "most_g": 200}],
    });
    for (field, value) in fields.as_object().unwrap() {
        request[field] = value.clone();
    }
    let answer = calculate("blend", request.to_string().as_bytes(), Amounts::Expressions);
    serde_json::from_str(&answer.unwrap_or_else(|problem| panic!("{problem}"))).unwrap()
}

fn refused(fields: Value) -> Vec<(String, String)> {
    let mut request = json!({
        "volume_l": 10, "temperature_c": 20, "waters": [{"pure": true, "temperature_c": 20}],
        "balances": [{"step_g": 0.01, "most_g": 200}],
    });
    for (field, value) in fields.as_object().unwrap() {
        request[field] = value.clone();
    }
    let problem = calculate("blend", request.to_string().as_bytes(), Amounts::Expressions).unwrap_err();
    problem.faults.into_iter().map(|fault| (fault.pointer, fault.code)).collect()
}

fn pure_salt(formula: &str) -> Value {
    json!({"formula": formula, "assay_percent": 100})
}

/// Grams weighed of a formula.
fn grams(answer: &Value, formula: &str) -> f64 {
    let weighings = answer["weighings"].as_array().unwrap();
    let of = weighings.iter().find(|weighing| weighing["formula"] == formula);
    of.map_or(0.0, |weighing| weighing["mass_g"].as_f64().unwrap())
}

fn near(value: f64, expected: f64, tolerance: f64) {
    assert!((value - expected).abs() <= tolerance, "{value} is not {expected} within {tolerance}");
}

#[test]
fn one_ion_is_weighed_out_of_one_salt() {
    let answer = blend(json!({"salts": [pure_salt("NaHCO3")], "target": [{"of": "Na", "near": "100 mg/L"}]}));
    near(grams(&answer, "NaHCO3"), 1.0 * NAHCO3 / NA, 0.005);
    assert_eq!(answer["status"], "solved");
}

#[test]
fn an_assay_asks_for_more_of_it() {
    let salts = json!([{"formula": "CaCl2·2H2O", "assay_percent": 80}]);
    let answer = blend(json!({"salts": salts, "target": [{"of": "Ca", "near": "100 mg/L"}]}));
    near(grams(&answer, "CaCl2·2H2O"), 1.0 * CACL2_2H2O / CA / 0.8, 0.005);
}

#[test]
fn exact_is_held_within_half_a_step() {
    let answer =
        blend(json!({"salts": [pure_salt("NaHCO3")], "target": [{"of": "Na", "exact": "100 mg/L"}]}));
    let step = 0.01 / 10.0 * 1000.0 * NA / NAHCO3;
    near(answer["reached"][0]["got"]["value"].as_f64().unwrap(), 100.0, step / 2.0 + 1e-9);
    assert_eq!(answer["reached"][0]["met"], true);
}

#[test]
fn a_ratio_is_counted_as_it_says() {
    let salts = json!([pure_salt("CaCl2·2H2O"), pure_salt("MgCl2·6H2O")]);
    let ratio = |counted_by: &str| json!({"of": "ratio", "numerator": "Ca", "denominator": "Mg", "counted_by": counted_by, "near": {"value": 3, "unit": "1"}});
    let ca = json!({"of": "Ca", "near": "60 mg/L", "priority": 1});
    let by_mass = blend(json!({"salts": salts, "target": [ca, ratio("mass")]}));
    near(grams(&by_mass, "MgCl2·6H2O"), 0.2 * MGCL2_6H2O / MG, 0.02);
    let by_amount = blend(json!({"salts": salts, "target": [ca, ratio("amount")]}));
    near(grams(&by_amount, "MgCl2·6H2O"), 0.6 / CA / 3.0 * MGCL2_6H2O, 0.02);
}

#[test]
fn a_sum_in_equivalents_counts_charges() {
    let target = json!([{"of": "sum", "parts": ["Ca", "Mg"], "near": "4 meq/L"}]);
    let answer = blend(json!({"salts": [pure_salt("CaCl2·2H2O")], "target": target}));
    near(grams(&answer, "CaCl2·2H2O"), 10.0 * 0.002 * CACL2_2H2O, 0.005);
}

#[test]
fn hardness_in_degrees_is_ten_milligrams_of_lime_each() {
    // One German degree is 10 mg/L of CaO, 56.077 g/mol.
    let answer =
        blend(json!({"salts": [pure_salt("CaCl2·2H2O")], "target": [{"of": "hardness", "near": "10 °dH"}]}));
    near(grams(&answer, "CaCl2·2H2O"), 10.0 * 0.1 / 56.077 * CACL2_2H2O, 0.005);
}

#[test]
fn alkalinity_as_caco3_counts_two_equivalents_a_mole() {
    let target = json!([{"of": "alkalinity", "near": "100 mg/L as CaCO3"}]);
    let answer = blend(json!({"salts": [pure_salt("NaHCO3")], "target": target}));
    near(grams(&answer, "NaHCO3"), 10.0 * 2.0 * 0.1 / 100.086 * NAHCO3, 0.005);
}

#[test]
fn citrate_does_not_count_three_equivalents() {
    // At pH 4.5 citrate keeps 1.2 to 1.5 of its three charges (pK 3.13, 4.76, 6.40): it takes up 1.5 to 1.8.
    let salts = json!([{"salt": "trisodium_citrate_dihydrate", "assay_percent": 100}]);
    let answer = blend(json!({"salts": salts, "target": [{"of": "citrate", "near": "2 mmol/L"}]}));
    let meq = answer["water"]["alkalinity_meq_per_l"].as_f64().unwrap();
    assert!((3.0..3.7).contains(&meq), "{meq}");
}

#[test]
fn an_earlier_priority_is_not_given_up_for_a_later_one() {
    let target = |first: u32, second: u32| json!([{"of": "Ca", "near": "60 mg/L", "priority": first}, {"of": "Cl", "near": "20 mg/L", "priority": second}]);
    let salts = json!([pure_salt("CaCl2·2H2O")]);
    let calcium = blend(json!({"salts": salts, "target": target(1, 2)}));
    near(grams(&calcium, "CaCl2·2H2O"), 0.6 * CACL2_2H2O / CA, 0.005);
    let chloride = blend(json!({"salts": salts, "target": target(2, 1)}));
    near(grams(&chloride, "CaCl2·2H2O"), 0.2 / 2.0 / 35.45 * CACL2_2H2O, 0.005);
}

#[test]
fn a_hard_water_is_let_down_with_pure_water() {
    let waters = json!([
        {"name": "hard", "temperature_c": 20, "analysis": {"Ca": "120 mg/L"}},
        {"name": "pure", "pure": true, "temperature_c": 20},
    ]);
    let answer = blend(json!({"waters": waters, "salts": [], "target": [{"of": "Ca", "near": "30 mg/L"}]}));
    near(answer["pourings"][0]["volume_l"].as_f64().unwrap(), 2.5, 0.005);
    near(answer["reached"][0]["got"]["value"].as_f64().unwrap(), 30.0, 1e-6);
}

#[test]
fn shares_of_waters_are_held() {
    let waters = json!([
        {"name": "hard", "temperature_c": 20, "analysis": {"Ca": "120 mg/L"}},
        {"name": "pure", "pure": true, "temperature_c": 20, "at_most_percent": 60},
    ]);
    let answer = blend(json!({"waters": waters, "salts": [], "target": [{"of": "Ca", "near": "30 mg/L"}]}));
    near(answer["pourings"][1]["share_percent"].as_f64().unwrap(), 60.0, 1e-6);
    assert_eq!(answer["status"], "nearest");
    assert_eq!(answer["reached"][0]["why"][0]["code"], "share_limit");
}

#[test]
fn demands_hold_after_rounding_to_the_last_billionth() {
    for at_most in [11.0, 23.7, 40.0, 77.7] {
        let cap = json!({"of": "Cl", "at_most": {"value": at_most, "unit": "mg/L"}});
        let target = json!([{"of": "Ca", "near": "90 mg/L"}, {"of": "Mg", "near": "20 mg/L"}, cap]);
        let salts = json!([pure_salt("CaCl2·2H2O"), pure_salt("MgCl2·6H2O"), pure_salt("MgSO4·7H2O")]);
        let answer = blend(json!({"salts": salts, "target": target}));
        let got = answer["reached"][2]["got"]["value"].as_f64().unwrap();
        assert!(got <= at_most * (1.0 + 1e-9), "{got} passes {at_most}");
        // A step of calcium chloride brings 0.01 · 2 · 35.45 / 147.008 / 10 = 0.48 mg/L: no room for one more.
        assert!(got >= at_most - 0.49, "{got} stops short of {at_most} for no reason");
    }
}

#[test]
fn what_cannot_be_names_what_collides_and_solves_each_way_out() {
    let target = json!([{"of": "Ca", "at_least": "80 mg/L"}, {"of": "Cl", "at_most": "10 mg/L"}]);
    let answer = blend(json!({"salts": [pure_salt("CaCl2·2H2O")], "target": target}));
    assert_eq!(answer["status"], "impossible");
    assert_eq!(answer["conflict"], json!(["/target/0/at_least", "/target/1/at_most"]));
    // 80 mg/L of calcium bring 80 / 40.078 · 2 · 35.45 = 141.5 mg/L of chloride; 10 mg/L of it allow 5.65 of calcium.
    // Whole steps move calcium by 0.27 and chloride by 0.48 mg/L.
    near(answer["relaxations"][0]["bound"]["value"].as_f64().unwrap(), 5.65, 0.28);
    near(answer["relaxations"][1]["bound"]["value"].as_f64().unwrap(), 141.5, 0.49);
    for way_out in answer["relaxations"].as_array().unwrap() {
        assert!(!way_out["weighings"].as_array().unwrap().is_empty());
    }
}

#[test]
fn an_ion_that_nobody_brings_is_said_with_the_salts_that_would() {
    let target = json!([{"of": "Mg", "near": "20 mg/L"}, {"of": "Na", "near": "50 mg/L"}]);
    let answer = blend(json!({"salts": [pure_salt("NaCl")], "target": target}));
    let why = &answer["reached"][0]["why"][0];
    assert_eq!(why["code"], "no_source");
    let freeing = why["freeing_salts"].as_array().unwrap();
    assert!(freeing.iter().any(|id| id.as_str().unwrap().starts_with("magnesium_")), "{freeing:?}");
}

#[test]
fn what_is_left_of_a_salt_is_not_passed() {
    let salts = json!([{"formula": "NaCl", "assay_percent": 100, "stock_g": 1.5}]);
    let answer = blend(json!({"salts": salts, "target": [{"of": "Na", "near": "200 mg/L"}]}));
    assert!((grams(&answer, "NaCl") - 1.5).abs() < 1e-12);
    assert_eq!(answer["reached"][0]["why"][0]["code"], "mass_limit");
}

#[test]
fn an_order_of_the_shelf_that_changes_changes_no_gram() {
    let shelf = ["CaCl2·2H2O", "MgSO4·7H2O", "NaHCO3", "KCl"];
    let target = json!([{"of": "Ca", "near": "45 mg/L"}, {"of": "Mg", "near": "11 mg/L"}, {"of": "HCO3", "near": "95 mg/L"}, {"of": "K", "near": "4 mg/L"}]);
    let of = |order: [usize; 4]| {
        let salts: Vec<Value> = order.iter().map(|at| pure_salt(shelf[*at])).collect();
        let answer = blend(json!({"salts": salts, "target": target}));
        shelf.map(|formula| grams(&answer, formula))
    };
    assert_eq!(of([0, 1, 2, 3]), of([3, 1, 0, 2]));
}

#[test]
fn the_same_water_on_any_scale() {
    let target = json!([{"of": "Ca", "near": "45 mg/L"}, {"of": "HCO3", "near": "95 mg/L"}]);
    let salts = json!([pure_salt("CaCl2·2H2O"), pure_salt("NaHCO3")]);
    let small = blend(json!({"salts": salts, "target": target}));
    let balances = json!([{"step_g": 10_000.0, "most_g": 2e8}]);
    let large = blend(json!({"volume_l": 1e7, "balances": balances, "salts": salts, "target": target}));
    for at in 0..2 {
        assert_eq!(small["weighings"][at]["steps"], large["weighings"][at]["steps"]);
    }
}

#[test]
fn every_fault_comes_at_once_with_its_place() {
    let faults = refused(json!({
        "volume_l": 3,
        "waters": [{"analysis": {"Ca": {"value": 60, "unit": "ppm"}, "Calcium": "1 mg/L"}}, {"name": "unstated"}],
        "salts": [{"salt": "magnesium sulfate"}, {"salt": "calcium_carbonate"}, {"salt": "barium chloride dihydrate"}, {"formula": "CaSO4.5H2O"}],
        "target": [{"of": "Ca"}, {"of": "ph", "near": {"value": 7, "unit": "mg/L"}}, {"of": "Na", "near": {"value": 1, "unit": "uS/cm"}}],
    }));
    let expected = [
        ("/waters/0/analysis/Ca/unit", "unit_ambiguous"),
        ("/waters/0/analysis/Calcium", "component_unknown"),
        ("/waters/1", "water_unstated"),
        ("/salts/0/salt", "hydrate_unstated"),
        ("/salts/1", "needs_co2_or_acid"),
        ("/salts/2/salt", "salt_refused"),
        ("/salts/3/formula", "formula_ambiguous"),
        ("/target/0", "wish_asks_nothing"),
        ("/target/1", "unit_mismatch"),
        ("/target/2", "unit_mismatch"),
    ];
    assert_eq!(faults, expected.map(|(pointer, code)| (pointer.to_owned(), code.to_owned())));
}

#[test]
fn more_than_dissolves_is_refused_with_what_does() {
    // 10 L hold some 24 g of CaSO4·2H2O at 20 °C: 0.202 g of CaSO4 in 100 g (CRC Handbook, from memory).
    let salts = json!([{"formula": "CaSO4·2H2O", "assay_percent": 100, "at_least_g": 40}]);
    let faults = refused(json!({"salts": salts, "target": [{"of": "Ca", "near": "60 mg/L"}]}));
    assert_eq!(faults, [("/salts/0".to_owned(), "beyond_solubility".to_owned())]);
}

#[test]
fn an_ion_that_a_sheet_does_not_state_is_not_zero() {
    let waters = json!([{"temperature_c": 20, "analysis": {"Ca": "20 mg/L"}}]);
    let asked =
        json!({"waters": waters, "salts": [pure_salt("NaCl")], "target": [{"of": "Na", "near": "60 mg/L"}]});
    assert_eq!(refused(asked), [("/waters/0/analysis/Na".to_owned(), "insufficient".to_owned())]);
    let ruled = json!([{"temperature_c": 20, "analysis": {"Ca": "20 mg/L"}, "missing": {"Na": "zero"}}]);
    let answer = blend(
        json!({"waters": ruled, "salts": [pure_salt("NaCl")], "target": [{"of": "Na", "near": "60 mg/L"}]}),
    );
    near(grams(&answer, "NaCl"), 0.6 * 58.44 / NA, 0.005);
}

#[test]
fn strict_refuses_what_was_taken_for_granted() {
    let fields =
        json!({"strict": true, "salts": [{"formula": "NaCl"}], "target": [{"of": "Na", "near": "60 mg/L"}]});
    let faults = refused(fields);
    let places: Vec<&str> = faults.iter().map(|(pointer, _)| pointer.as_str()).collect();
    assert_eq!(places, ["/salts/0/assay_percent", "/target/0/tolerance_percent"]);
    assert!(faults.iter().all(|(_, code)| code == "assumption_refused"));
}

#[test]
fn a_field_that_would_be_ignored_is_a_fault() {
    let faults = refused(json!({
        "salts": [pure_salt("NaCl")],
        "target": [
            {"of": "Na", "near": "60 mg/L", "numerator": "Ca", "solid": "calcite"},
            {"of": "Cl", "at_most": "200 mg/L", "weight": 3},
        ],
        "co2": {"state": "closed", "volumes": 3},
    }));
    let expected = ["/target/0/numerator", "/target/0/solid", "/target/1/weight", "/co2/volumes"];
    assert_eq!(faults, expected.map(|pointer| (pointer.to_owned(), "field_out_of_place".to_owned())));
}

#[test]
fn a_wish_for_the_cost_needs_prices() {
    let target =
        json!([{"of": "Na", "near": "60 mg/L"}, {"of": "cost", "at_most": {"value": 1, "unit": "1"}}]);
    let faults = refused(json!({"salts": [pure_salt("NaCl")], "target": target}));
    assert_eq!(faults, [("/salts/0/price_per_kg".to_owned(), "price_unstated".to_owned())]);
    // 10 L of 60 mg/L sodium take 0.6 · 58.44 / 22.990 = 1.525 g; at 100 a kilogram no more than 1.00 g may go in.
    let salts = json!([{"formula": "NaCl", "assay_percent": 100, "price_per_kg": 100}]);
    let target =
        json!([{"of": "Na", "near": "60 mg/L"}, {"of": "cost", "at_most": {"value": 0.1, "unit": "1"}}]);
    let answer = blend(json!({"salts": salts, "target": target}));
    near(grams(&answer, "NaCl"), 1.0, 1e-9);
    near(answer["cost"].as_f64().unwrap(), 0.1, 1e-9);
}

#[test]
fn what_a_silent_sheet_may_hold_does_not_hide_what_the_salts_bring() {
    let waters = json!([{"temperature_c": 20, "analysis": {"HCO3": "100 mg/L"}}]);
    let target = json!([{"of": "HCO3", "near": "500 mg/L"}]);
    let answer = blend(json!({"waters": waters, "salts": [pure_salt("KHCO3")], "target": target}));
    // 400 mg/L of HCO3 bring 400 · 39.098 / 61.016 = 256 mg/L of potassium.
    near(answer["water"]["ions"]["K"]["mg_per_l"].as_f64().unwrap(), 256.3, 1.5);
    assert!(answer["water"]["not_stated"].as_array().unwrap().contains(&json!("K")));
    let cautions = answer["cautions"].as_array().unwrap();
    assert!(cautions.iter().any(|caution| caution["code"] == "potassium"), "{cautions:?}");
}

#[test]
fn a_weight_under_squares_does_not_change_what_frees_a_wish() {
    for objective in ["relative_deviation", "least_squares"] {
        let target = json!([{"of": "Mg", "near": "20 mg/L", "weight": 9}, {"of": "Na", "near": "50 mg/L"}]);
        let answer = blend(json!({"salts": [pure_salt("NaCl")], "target": target, "objective": objective}));
        let freeing = answer["reached"][0]["why"][0]["freeing_salts"].as_array().cloned().unwrap_or_default();
        assert!(
            freeing.iter().any(|id| id.as_str().unwrap().starts_with("magnesium_")),
            "{objective}: {freeing:?}"
        );
    }
}
