//! Precipitation by identities, by common practice and by handbook figures; molar masses are the IUPAC abridged weights of
//! 2021, summed by hand.
#![cfg(feature = "answer")]
#![allow(clippy::unwrap_used)]

use serde_json::{Value, json};
use springwright_contract::answer::calculate;
use springwright_contract::reading::Amounts;

const CACO3: f64 = 100.086;
const CO2: f64 = 44.009;

fn precipitated(request: &Value) -> Value {
    let answer = calculate("precipitation", request.to_string().as_bytes(), Amounts::Expressions);
    serde_json::from_str(&answer.unwrap_or_else(|problem| panic!("{problem}"))).unwrap()
}

fn refused(request: &Value) -> Vec<(String, String, String)> {
    let problem =
        calculate("precipitation", request.to_string().as_bytes(), Amounts::Expressions).unwrap_err();
    problem.faults.into_iter().map(|fault| (fault.pointer, fault.code, fault.mend)).collect()
}

fn number(answer: &Value, pointer: &str) -> f64 {
    answer.pointer(pointer).and_then(Value::as_f64).unwrap_or_else(|| panic!("{pointer}: {answer}"))
}

fn row<'a>(answer: &'a Value, list: &str, solid: &str) -> &'a Value {
    let rows = answer[list].as_array().unwrap();
    rows.iter().find(|row| row["solid"] == solid).unwrap_or_else(|| panic!("{solid}: {}", answer[list]))
}

fn near(value: f64, expected: f64, tolerance: f64) {
    assert!((value - expected).abs() <= tolerance, "{value} is not {expected} within {tolerance}");
}

fn hard(fields: Value) -> Value {
    let mut request = json!({"water": {"ph": 7.2, "temperature_c": 15, "analysis": {
        "Ca": "124 mg/L", "Mg": "16 mg/L", "Na": "11 mg/L", "K": "2.4 mg/L", "Cl": "28 mg/L", "SO4": "61 mg/L",
        "alkalinity": "287 mg/L as CaCO3"}}});
    for (field, value) in fields.as_object().unwrap() {
        request[field] = value.clone();
    }
    request
}

/// Identities: every mg of calcium that leaves the water lies in the chalk, two equivalents of alkalinity and one mol of
/// carbonate with it (1e-6 of the whole: the litre moves by that); what is there is saturated, nothing else is above; the same chalk
/// is the calcite potential (1e-6). Complementarity 1e-6 and ledger 1e-12 as issue 4 asks.
#[test]
fn what_falls_has_left_the_water() {
    let answer = precipitated(&hard(json!({"temperature_c": 40, "solids": ["calcite"]})));
    let chalk = row(&answer, "solids", "calcite");
    let mmol = number(chalk, "/formed_mmol_per_l");
    assert!(mmol > 0.3, "{chalk}");
    let gone = |pointer: &str| {
        number(&answer, &format!("/before{pointer}")) - number(&answer, &format!("/after{pointer}"))
    };
    near(gone("/ions/Ca/mmol_per_l"), mmol, 5e-4 * mmol);
    near(gone("/alkalinity_meq_per_l"), 2.0 * mmol, 5e-4 * mmol);
    near(gone("/dic_mmol_per_l"), mmol, 5e-4 * mmol);
    near(number(chalk, "/formed_mg_per_l") / CACO3, mmol, 1e-4 * mmol);
    near(number(chalk, "/si"), 0.0, 1e-6);
    near(number(&answer, "/calcite_potential_closed_mg_per_l"), number(chalk, "/formed_mg_per_l"), 1e-4);
    assert!(number(&answer, "/complementarity") <= 1e-6);
    assert!(number(&answer, "/ledger") <= 1e-12);
    let si = number(row(&answer["after"], "saturation", "calcite"), "/si");
    near(si, 0.0, 1e-6);
    assert!(answer["solids"].as_array().unwrap().iter().all(|one| number(one, "/si") <= 1e-6));
}

/// Identity of carbonate: what the water held under the gas is what it holds at the end, what lies in the chalk and what the gas
/// took (1e-3, the litre moves). Ca + 2 HCO3 = CaCO3 + CO2 + H2O sets one mol free for each mol of chalk, Ca + CO3 = CaCO3 none:
/// at the pH of air it lies between, nearer to one.
#[test]
fn the_gas_takes_what_chalk_sets_free() {
    let answer = precipitated(&hard(json!({"co2": {"state": "open_to_air"}, "solids": ["calcite"]})));
    let mmol = number(row(&answer, "solids", "calcite"), "/formed_mmol_per_l");
    let gas = number(&answer, "/co2_to_gas_g_per_l") / CO2 * 1e3;
    let gone = number(&answer, "/before/dic_mmol_per_l") - number(&answer, "/after/dic_mmol_per_l");
    near(gas, gone - mmol, 1e-3 * mmol);
    assert!(gas > 0.5 * mmol && gas < mmol, "{gas} of {mmol}");
    near(number(&answer, "/after/pco2_bar"), 4.2e-4, 0.1e-4);
    let open = number(&answer, "/calcite_potential_in_air_mg_per_l");
    near(open, mmol * CACO3, 0.01 * open);
    assert!(open > number(&answer, "/calcite_potential_closed_mg_per_l"));
    assert!(precipitated(&hard(json!({})))["co2_to_gas_g_per_l"].is_null());
}

/// Common practice: carbonating takes chalk up again, what it takes up in air is little. A handbook figure from memory: 1 bar of
/// CO2 dissolves about 0.9 to 1.1 g/L of CaCO3 at 20 °C.
#[test]
fn carbonating_dissolves_chalk() {
    let ask = |co2: Value, mg: f64| {
        precipitated(&json!({"water": {"pure": true, "temperature_c": 20}, "co2": co2, "solids": [],
            "powders": [{"solid": "calcite", "mg_per_l": mg, "grain_um": 20}]}))
    };
    let under = ask(json!({"state": "partial_pressure", "pco2_bar": 1}), 200.0);
    near(number(row(&under, "solids", "calcite"), "/at_end_mg_per_l"), 0.0, 1e-9);
    assert_eq!(row(&under, "haze", "calcite")["verdict"], "dissolving");
    assert!(number(&under, "/dissolving/0/minutes_to_90_percent") > 10.0);
    let much = ask(json!({"state": "partial_pressure", "pco2_bar": 1}), 5000.0);
    let taken = -number(row(&much, "solids", "calcite"), "/formed_mg_per_l");
    assert!((900.0..1100.0).contains(&taken), "{taken}");
    assert!(much["dissolving"][0]["minutes_to_90_percent"].is_null());
    let air = ask(json!({"state": "open_to_air", "altitude_m": 0}), 200.0);
    assert!(number(row(&air, "solids", "calcite"), "/at_end_mg_per_l") > 120.0);
}

/// Gypsum with alkali bicarbonate stays clear of gypsum at drink strength; the solubility of gypsum at 25 °C is 2.4 to 2.6 g/L
/// of CaSO4·2H2O (handbooks, from memory).
#[test]
fn gypsum_dissolves_to_its_solubility() {
    let answer = precipitated(&json!({"water": {"pure": true, "temperature_c": 25}, "solids": [],
        "powders": [{"solid": "gypsum", "mg_per_l": 4000, "grain_um": 50}]}));
    let taken = -number(row(&answer, "solids", "gypsum"), "/formed_mg_per_l");
    assert!((2400.0..2650.0).contains(&taken), "{taken}");
    let left = row(&answer, "haze", "gypsum");
    near(number(left, "/undissolved_mg_per_l"), 4000.0 - taken, 0.01 * taken);
}

/// A blocked solid does not form and one that is not named neither; a mass that is too small to be seen is clear, and limits of
/// one's own move the verdict and nothing else.
#[test]
fn solids_and_limits_are_the_callers() {
    let usual = precipitated(&hard(json!({"temperature_c": 40})));
    assert_eq!(usual["worst_solid"], "calcite");
    assert_eq!(usual["verdict"], "metastable");
    let blocked = precipitated(&hard(json!({"temperature_c": 40, "blocked": ["calcite"]})));
    assert!(blocked["solids"].as_array().unwrap().iter().all(|one| one["solid"] != "calcite"));
    let limit = json!([{"solid": "calcite", "metastable_si": 0.1, "clouds_si": 0.2}]);
    let harsher = precipitated(&hard(json!({"temperature_c": 40, "haze_limits": limit})));
    assert_eq!(harsher["verdict"], "clouds");
    let calcite = row(&harsher, "haze", "calcite");
    assert_eq!((calcite["confidence"].as_str(), calcite["source"].as_str()), (Some("set_in_request"), None));
    assert_eq!(harsher["solids"], usual["solids"]);
    let unseen = precipitated(&hard(json!({"temperature_c": 40, "visible_mg_per_l": 1000})));
    assert_eq!(row(&unseen, "haze", "calcite")["verdict"], "clear");
    // an older and a newer limit both stand beside the instant cloud
    let instant = row(&usual, "haze", "amorphous_calcium_carbonate");
    near(number(instant, "/clouds_si") - number(instant, "/possible_si"), 1.1, 1e-12);
}

/// Every answered water tells a verdict beside its index, `saturation` the same, and none for what only tells the stable end.
#[test]
fn a_verdict_stands_beside_each_index() {
    let request = hard(json!({"temperature_c": 40}));
    let answer = calculate("saturation", request.to_string().as_bytes(), Amounts::Expressions).unwrap();
    let answer: Value = serde_json::from_str(&answer).unwrap();
    assert_eq!(row(&answer, "saturation", "calcite")["verdict"], "metastable");
    assert_eq!(row(&answer["water"], "saturation", "calcite")["verdict"], "metastable");
    assert!(row(&answer, "saturation", "dolomite").get("verdict").is_none());
}

#[test]
fn what_is_wrong_is_said() {
    let request = hard(json!({"solids": ["calcit", "gypsum"], "blocked": ["gypsum", "brucite"],
        "powders": [{"solid": "brucite", "mg_per_l": 1, "grain_um": 5}, {"solid": "calcite"},
            {"solid": "brushite", "mg_per_l": 1, "mmol_per_l": 1}],
        "haze_limits": [{"solid": "quartz", "metastable_si": 0, "clouds_si": 1},
            {"solid": "calcite", "metastable_si": 1, "clouds_si": 0}],
        "co2": {"state": "bottle", "headspace_percent": 5}}));
    let faults = refused(&request);
    let expected = [
        ("/co2/state", "co2_not_held"),
        ("/solids/0", "solid_unknown"),
        ("/powders/0/grain_um", "field_out_of_place"),
        ("/powders/1", "field_missing"),
        ("/powders/2", "amount_stated_twice"),
        ("/blocked/0", "solid_allowed_and_blocked"),
        ("/haze_limits/0/solid", "solid_not_judged"),
        ("/haze_limits/1/metastable_si", "bounds_crossed"),
    ];
    let found: Vec<_> = faults.iter().map(|(pointer, code, _)| (pointer.as_str(), code.as_str())).collect();
    assert_eq!(found, expected);
    assert_eq!(faults[1].2, "did you mean 'calcite'?");
    let there =
        refused(&hard(json!({"blocked": ["gypsum"], "powders": [{"solid": "gypsum", "mg_per_l": 5}]})));
    assert_eq!(there[0].1, "solid_blocked_and_there");
    // carbonate that nobody told
    let silent = json!({"water": {"pure": false, "analysis": {"Ca": "50 mg/L", "alkalinity": "2 meq/L"}}});
    assert_eq!(refused(&silent)[0].1, "carbonate_unknown");
}
