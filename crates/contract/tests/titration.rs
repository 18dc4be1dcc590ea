//! Titrations reckoned by hand and identities; molar masses are the IUPAC abridged weights of 2021, summed by hand.
#![cfg(feature = "answer")]
#![allow(clippy::unwrap_used)]

use serde_json::{Value, json};
use springwright_contract::answer::calculate;
use springwright_contract::reading::Amounts;

const CO2: f64 = 44.009;
const HCL: f64 = 36.458;
const CITRIC: f64 = 192.123;
const CITRIC_H2O: f64 = 210.138;

/// Water with so many mg/L of sodium bicarbonate at 25 °C: 84.006 mg are 1 mmol.
fn soda(mg_per_l: f64) -> Value {
    json!({"pure": true, "temperature_c": 25, "added": [{"formula": "NaHCO3", "mg_per_l": mg_per_l}]})
}

fn request(fields: Value) -> Value {
    let mut request = json!({"water": soda(252.018)});
    for (field, value) in fields.as_object().unwrap() {
        request[field] = value.clone();
    }
    request
}

fn titrated(fields: Value) -> Value {
    let answer = calculate("titration", request(fields).to_string().as_bytes(), Amounts::Expressions);
    serde_json::from_str(&answer.unwrap_or_else(|problem| panic!("{problem}"))).unwrap()
}

fn refused(fields: Value) -> Vec<(String, String)> {
    let problem =
        calculate("titration", request(fields).to_string().as_bytes(), Amounts::Expressions).unwrap_err();
    problem.faults.into_iter().map(|fault| (fault.pointer, fault.code)).collect()
}

fn number(answer: &Value, pointer: &str) -> f64 {
    answer.pointer(pointer).and_then(Value::as_f64).unwrap_or_else(|| panic!("{pointer}: {answer}"))
}

fn near(value: f64, expected: f64, tolerance: f64) {
    assert!((value - expected).abs() <= tolerance, "{value} is not {expected} within {tolerance}");
}

/// 3 mmol/L of bicarbonate: strong acid to pH 4.4 is 3 meq/L and the acid that is free there (10^-4.4 / 0.93 = 0.043
/// mmol/L), less the bicarbonate that is left (3 × 10^(4.4 − 6.33) → 1.2 %, 0.035 closed). What was bound becomes CO2: 3 less those
/// 0.035 and less the 0.034 that are free in plain bicarbonate already (pH 8.27, 3 × 10^(6.33 − 8.27)).
#[test]
fn strong_acid_against_bicarbonate() {
    let answer = titrated(json!({"to_ph": 4.4, "volume_l": 10}));
    assert_eq!(answer["reached"], true);
    near(number(&answer, "/acid_meq_per_l"), 3.0 + 0.043 - 0.035, 0.006);
    near(number(&answer, "/acid_meq"), 10.0 * number(&answer, "/acid_meq_per_l"), 1e-9);
    near(number(&answer, "/co2_set_free_mg_per_l"), 2.931 * CO2, 0.005 * 3.0 * CO2);
    let end = |field: &str| number(&answer, &format!("/end_point/{field}"));
    near(end("charge_form_meq_per_l"), 3.0, 1e-9);
    near(end("titrated_meq_per_l") + end("left_meq_per_l") - end("charge_form_meq_per_l"), 0.0, 1e-12);
    near(number(&answer, "/after/ph"), 4.4, 1e-8);
}

/// Hydrochloric acid of 10 % by name is the strong acid of the same titration: mass = meq × 36.458 / 0.10 (1e-9), and so is
/// sodium hydroxide on the way up.
#[test]
fn an_article_of_strong_acid_is_the_strong_acid() {
    let with = json!({"salt": "hydrochloric_acid", "assay_percent": 10, "lot": "A-7"});
    let answer = titrated(json!({"to_ph": 6, "volume_l": 50, "titrant": with}));
    let meq = number(&answer, "/acid_meq_per_l");
    near(number(&answer, "/addition/mmol_per_l") / meq, 1.0, 1e-9);
    near(number(&answer, "/addition/mass_g") / (meq * HCL / 0.10 * 50.0 / 1000.0), 1.0, 1e-9);
    assert_eq!(answer["addition"]["lot"], "A-7");
    let with = json!({"salt": "sodium_hydroxide", "assay_percent": 100});
    let up = titrated(json!({"to_ph": 9.5, "titrant": with}));
    near(number(&up, "/addition/mmol_per_l") / number(&up, "/acid_meq_per_l"), -1.0, 1e-9);
}

/// Citric acid that holds pH 3.5 against 1 mmol/L of bicarbonate: 256 mg/L more of the anhydrous acid than in pure
/// water, from pKa 3.13, 4.76, 6.40 by hand without activity coefficients; 3 %. Open or closed it is the same (0.5 %), and
/// the monohydrate takes its water along.
#[test]
fn citric_acid_holds_its_ph() {
    let mg = |water: Value, with: &str, vessel: &str| {
        let with = json!({"salt": with, "assay_percent": 100});
        let vessel = if vessel == "closed" {
            json!({"state": vessel})
        } else {
            json!({"state": vessel, "altitude_m": 0})
        };
        1000.0
            * number(
                &titrated(json!({"water": water, "to_ph": 3.5, "titrant": with, "vessel": vessel})),
                "/addition/g_per_l",
            )
    };
    let pure = json!({"pure": true, "temperature_c": 25});
    let more = |with: &str, vessel: &str| mg(soda(84.006), with, vessel) - mg(pure.clone(), with, vessel);
    let closed = more("citric_acid_anhydrous", "closed");
    near(closed, 256.0, 0.03 * 256.0);
    near(more("citric_acid_anhydrous", "open_to_air") / closed, 1.0, 0.005);
    near(more("citric_acid_monohydrate", "closed") / closed, CITRIC_H2O / CITRIC, 1e-3);
}

/// Conservation (1e-12): sodium stays, carbon stays in a closed vessel and is what leaves an open one, the citrate is
/// what was added.
#[test]
fn mass_is_kept() {
    let with = json!({"salt": "citric_acid_monohydrate", "assay_percent": 100});
    for vessel in [json!({"state": "closed"}), json!({"state": "open_to_air", "altitude_m": 0})] {
        let answer = titrated(json!({"to_ph": 5, "volume_l": 20, "titrant": with, "vessel": vessel}));
        let held = |pointer: &str, water: &str| {
            number(&answer, &format!("{water}{pointer}")) * number(&answer, &format!("{water}/volume_l"))
        };
        near(held("/ions/Na/mmol_per_l", "/after") / held("/ions/Na/mmol_per_l", "/before"), 1.0, 1e-12);
        let citrate = 1000.0 * number(&answer, "/addition/mass_g") / CITRIC_H2O;
        near(held("/ions/citrate/mmol_per_l", "/after") / citrate, 1.0, 1e-6);
        let carbon = |water: &str| held("/dic_mmol_per_l", water);
        let off = answer["co2_given_off_mg_per_l"].as_f64().unwrap_or(0.0) * 20.0 / CO2;
        near((carbon("/after") + off) / carbon("/before"), 1.0, 1e-12);
    }
}

/// An open vessel loses its CO2, so the same pH above 6 takes more acid; the curve falls all the way and ends where the
/// answer does.
#[test]
fn open_takes_more_and_the_curve_falls() {
    let acid = |vessel: Value| number(&titrated(json!({"to_ph": 6.8, "vessel": vessel})), "/acid_meq_per_l");
    assert!(acid(json!({"state": "open_to_air", "altitude_m": 0})) > acid(json!({"state": "closed"})) + 0.5);
    let answer = titrated(json!({"to_ph": 5, "curve_points": 9}));
    let curve = answer["curve"].as_array().unwrap();
    assert_eq!(curve.len(), 9);
    let ph: Vec<f64> = curve.iter().map(|point| number(point, "/ph")).collect();
    assert!(ph.windows(2).all(|pair| pair[1] < pair[0]), "{ph:?}");
    near(ph[8], 5.0, 1e-8);
    near(ph[0], number(&answer, "/before/ph"), 1e-9);
    // the middle of the buffer: half of 3 mmol/L neutralised stands near pK1 (6.33 at 3 mmol/L and 25 °C)
    near(number(&titrated(json!({"to_ph": 6.33})), "/acid_meq_per_l"), 1.5, 0.03);
    near(
        number(&titrated(json!({"to_ph": 6.33})), "/buffer_after_mmol_per_l"),
        core::f64::consts::LN_10 * 3.0 / 4.0,
        0.05,
    );
}

/// A pH that an article cannot reach is an answer: bicarbonate alone ends between pH 8 and 8.5 (textbooks), base does not
/// sour, and citric acid to pH 1 ends where the search does.
#[test]
fn what_is_out_of_reach_is_an_answer() {
    let to =
        |ph: f64, salt: &str| titrated(json!({"to_ph": ph, "titrant": {"salt": salt, "assay_percent": 100}}));
    let sour = json!({"pure": true, "temperature_c": 25, "added": [{"formula": "NaHCO3", "mg_per_l": 100}, {"formula": "C6H8O7", "mg_per_l": 300}]});
    let soda = titrated(
        json!({"water": sour, "to_ph": 10, "titrant": {"salt": "sodium_bicarbonate", "assay_percent": 100}}),
    );
    assert_eq!((&soda["reached"], &soda["why_not"]["code"]), (&json!(false), &json!("levels_off")));
    near(number(&soda, "/ph"), 8.1, 0.4);
    let away = to(3.0, "sodium_hydroxide");
    assert_eq!((&away["reached"], &away["why_not"]["code"]), (&json!(false), &json!("moves_away")));
    assert_eq!(number(&away, "/addition/g_per_l"), 0.0);
    assert!(number(&away, "/acid_meq_per_l") > 3.0);
    let sour = to(1.0, "citric_acid_anhydrous");
    assert_eq!(sour["why_not"]["code"], "most_added");
}

#[test]
fn what_cannot_be_is_refused_at_its_place() {
    let fault = |pointer: &str, code: &str| vec![(pointer.to_owned(), code.to_owned())];
    assert_eq!(refused(json!({"to_ph": 15})), fault("/to_ph", "out_of_range"));
    let with = |salt: &str| refused(json!({"to_ph": 5, "titrant": {"salt": salt}}));
    assert_eq!(with("citric acid"), fault("/titrant/salt", "hydrate_unstated"));
    assert_eq!(with("phosphoric_acid"), fault("/titrant/assay_percent", "assay_unstated"));
    assert_eq!(with("unobtainium"), fault("/titrant/salt", "salt_unknown"));
    assert_eq!(with("potassium_iodide"), fault("/titrant", "outside_model"));
    let vessel = |vessel: Value| refused(json!({"to_ph": 5, "vessel": vessel}));
    assert_eq!(vessel(json!({"state": "keg", "gauge_bar": 1})), fault("/vessel/state", "vessel_unknown"));
    assert_eq!(vessel(json!({"state": "partial_pressure"})), fault("/vessel/pco2_bar", "field_missing"));
    let bare = json!({"ph": 7, "temperature_c": 12, "analysis": {"Ca": "24 mg/L", "Mg": "4 mg/L", "Na": "9 mg/L",
        "K": "1 mg/L", "Cl": "14 mg/L", "SO4": "18 mg/L"}});
    assert_eq!(
        refused(json!({"to_ph": 5, "water": bare})),
        fault("/water/analysis/alkalinity", "alkalinity_unknown")
    );
    let silent = json!({"temperature_c": 12, "analysis": {"Ca": "24 mg/L", "Mg": "4 mg/L", "Na": "9 mg/L",
        "K": "1 mg/L", "Cl": "14 mg/L", "SO4": "18 mg/L", "HCO3": "75 mg/L"}});
    assert_eq!(refused(json!({"to_ph": 5, "water": silent})), fault("/water", "carbonate_unknown"));
}
