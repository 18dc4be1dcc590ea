//! Compatibility by the common practice that issue 4 lists (no published source; the figures are our own) and by identities of
//! the matrix.
#![cfg(feature = "answer")]
#![allow(clippy::unwrap_used)]

use serde_json::{Value, json};
use springwright_contract::answer::calculate;
use springwright_contract::reading::Amounts;

fn checked(request: &Value) -> Value {
    let answer = calculate("compatibility", request.to_string().as_bytes(), Amounts::Objects);
    serde_json::from_str(&answer.unwrap_or_else(|problem| panic!("{problem}"))).unwrap()
}

fn refused(request: &Value) -> Vec<(String, String)> {
    let problem = calculate("compatibility", request.to_string().as_bytes(), Amounts::Objects).unwrap_err();
    problem.faults.into_iter().map(|fault| (fault.pointer, fault.code)).collect()
}

/// Salts in g/L, in pure water at 20 °C.
fn shelf(salts: &[(&str, f64)]) -> Value {
    let salts: Vec<Value> =
        salts.iter().map(|(salt, grams)| json!({"salt": salt, "g_per_l": grams})).collect();
    json!({"water": {"pure": true, "temperature_c": 20}, "salts": salts})
}

/// Outcome and solid of the pair of the first two salts.
fn pair(request: &Value) -> (String, String) {
    let answer = checked(request);
    let word = |field: &str| answer["pairs"][0][field].as_str().unwrap_or_default().to_owned();
    (word("outcome"), word("solid"))
}

/// Sodium and potassium chloride react with nothing; chloride may stand beside calcium where sulfate may not.
#[test]
fn what_practice_knows_of_chlorides_and_sulfates() {
    let (outcome, _) = pair(&shelf(&[("sodium_chloride", 50.0), ("potassium_chloride", 50.0)]));
    assert_eq!(outcome, "never");
    let (outcome, solid) =
        pair(&shelf(&[("calcium_chloride_dihydrate", 30.0), ("magnesium_sulfate_heptahydrate", 30.0)]));
    assert_eq!((outcome.as_str(), solid.as_str()), ("at_once", "gypsum"));
    let (outcome, _) =
        pair(&shelf(&[("calcium_chloride_dihydrate", 30.0), ("magnesium_chloride_hexahydrate", 30.0)]));
    assert_eq!(outcome, "never");
}

/// Calcium lactate with bicarbonate is safe when weak and clouds when strong; at pH 4 carbonate is no question.
#[test]
fn calcium_with_bicarbonate() {
    let (weak, _) = pair(&shelf(&[("calcium_lactate_pentahydrate", 0.1), ("sodium_bicarbonate", 0.1)]));
    assert_eq!(weak, "never");
    let strong = shelf(&[("calcium_lactate_pentahydrate", 10.0), ("sodium_bicarbonate", 10.0)]);
    assert_eq!(pair(&strong), ("at_once".to_owned(), "calcite".to_owned()));
    let mut sour = strong;
    sour["ph"] = json!(4.0);
    assert_eq!(pair(&sour).0, "never");
    // under 3 bar of CO2 a drink of this strength stands
    let mut pressed = shelf(&[("calcium_lactate_pentahydrate", 1.0), ("sodium_bicarbonate", 0.5)]);
    assert_ne!(pair(&pressed).0, "never");
    pressed["co2"] = json!({"state": "partial_pressure", "pco2_bar": 3});
    assert_eq!(pair(&pressed).0, "never");
}

/// Phosphate with calcium near neutral and above clouds, and not by apatite; magnesium bisglycinate clouds by itself with brucite
/// when strong, and below pH 8 does not.
#[test]
fn phosphate_and_bisglycinate() {
    let (outcome, solid) =
        pair(&shelf(&[("calcium_chloride_dihydrate", 1.0), ("disodium_phosphate_anhydrous", 1.0)]));
    assert_eq!(outcome, "at_once");
    assert!(
        ["brushite", "octacalcium_phosphate", "amorphous_calcium_phosphate"].contains(&solid.as_str()),
        "{solid}"
    );
    let mut glycinate = shelf(&[("magnesium_bisglycinate", 10.0), ("sodium_chloride", 1.0)]);
    let answer = checked(&glycinate);
    assert_eq!(answer["alone"][0]["outcome"], "at_once");
    assert_eq!(answer["alone"][0]["solid"], "brucite");
    assert_eq!(answer["pairs"][0]["by_itself"], true);
    assert!(answer.get("substitutes").is_none(), "the pair is not to blame");
    glycinate["ph"] = json!(7.5);
    assert_eq!(checked(&glycinate)["alone"][0]["outcome"], "never");
}

/// Gypsum with alkali bicarbonates stays clear at drink strength although calcite is supersaturated.
#[test]
fn gypsum_and_bicarbonate_at_drink_strength() {
    let answer = checked(&shelf(&[("calcium_sulfate_dihydrate", 0.2), ("potassium_bicarbonate", 0.1)]));
    assert_eq!(answer["pairs"][0]["outcome"], "never");
    assert_eq!(answer["pairs"][0]["solid"], "calcite");
}

/// Identities: a list of two is its pair; a salt by formula, in mg/L, or at half the assay and twice the mass is the same
/// salt; n (n - 1) / 2 pairs in their order; each substitute is milder than the pair and keeps its moles.
#[test]
fn the_matrix_is_consistent() {
    let by_name = shelf(&[
        ("calcium_chloride_dihydrate", 20.0),
        ("sodium_bicarbonate", 10.0),
        ("potassium_chloride", 5.0),
    ]);
    let answer = checked(&by_name);
    let written = json!({"water": {"pure": true, "temperature_c": 20}, "salts": [
        {"formula": "CaCl2·2H2O", "g_per_l": 40, "assay_percent": 50},
        {"formula": "NaHCO3", "mg_per_l": 10000}, {"formula": "KCl", "g_per_l": 5}]});
    let other = checked(&written);
    for part in ["alone", "pairs", "together", "text_table", "svg", "substitutes"] {
        assert_eq!(answer[part], other[part], "{part}");
    }
    let places: Vec<_> = answer["pairs"]
        .as_array()
        .unwrap()
        .iter()
        .map(|pair| (pair["first"].as_u64(), pair["second"].as_u64()))
        .collect();
    assert_eq!(places, [(Some(1), Some(2)), (Some(1), Some(3)), (Some(2), Some(3))]);
    let ways = answer["substitutes"].as_array().unwrap();
    assert!(!ways.is_empty());
    for way in ways {
        assert_eq!((way["first"].as_u64(), way["second"].as_u64()), (Some(1), Some(2)));
        assert_ne!(way["outcome"], "at_once");
    }
    // MgCl2·6H2O 203.30 g/mol would keep the chloride of CaCl2·2H2O 147.01 g/mol mol for mol (1e-4)
    let magnesium = ways.iter().find(|way| way["salt"] == "magnesium_chloride_hexahydrate");
    if let Some(way) = magnesium {
        let mg = way["mg_per_l"].as_f64().unwrap();
        assert!((mg / (20000.0 * 203.30 / 147.01) - 1.0).abs() < 1e-4, "{mg}");
    }
    let two = checked(&shelf(&[("calcium_chloride_dihydrate", 20.0), ("sodium_bicarbonate", 10.0)]));
    assert_eq!(two["together"]["si"], two["pairs"][0]["si"]);
    assert_eq!(two["together"]["why"], two["pairs"][0]["why"]);
    let mut silent = by_name;
    silent["suggestions"] = json!(false);
    assert!(checked(&silent).get("substitutes").is_none());
}

/// The text reads in a terminal of 100 columns and tells what the data tell; the picture is well formed by its tags, has a
/// letter in every cell, and brings nothing from elsewhere.
#[test]
fn table_and_picture() {
    let names = [
        "calcium_chloride_dihydrate",
        "sodium_bicarbonate",
        "potassium_chloride",
        "sodium_sulfate_anhydrous",
    ];
    let salts: Vec<(&str, f64)> = (0..40).map(|at| (names[at % 4], 5.0 + at as f64)).collect();
    let mut request = shelf(&salts);
    request["suggestions"] = json!(false);
    let answer = checked(&request);
    let table = answer["text_table"].as_str().unwrap();
    assert!(
        table.lines().filter(|line| !line.contains("all together")).all(|line| line.chars().count() <= 100),
        "{table}"
    );
    let row = table.lines().find(|line| line.starts_with(" 2 ")).unwrap();
    assert!(row.ends_with("X."), "{row}");
    let picture = answer["svg"].as_str().unwrap();
    assert!(picture.starts_with("<svg xmlns=\"http://www.w3.org/2000/svg\""));
    for (open, close) in
        [("<g>", "</g>"), ("<text ", "</text>"), ("<title>", "</title>"), ("<svg ", "</svg>")]
    {
        assert_eq!(picture.matches(open).count(), picture.matches(close).count(), "{open}");
    }
    for foreign in ["<script", "href", "url(", "@import", "<image", "<foreignObject", "onload"] {
        assert!(!picture.contains(foreign), "{foreign}");
    }
    // 40 alone, 780 pairs, the set, four signs of the legend: each a rectangle, beside the ground
    assert_eq!(picture.matches("<rect ").count(), 40 + 780 + 1 + 4 + 1);
    // and each cell a letter: the closing tag of a cell follows one of a text
    let cells = 40 + 780 + 1 + 4;
    assert_eq!(
        (picture.matches("<g><title>").count(), picture.matches("</text>\n</g>").count()),
        (cells, cells)
    );
}

/// A tap water brings its own, a water that nobody named is pure and said to be, and what the model cannot judge is said in its
/// cell alone.
#[test]
fn waters_and_what_is_beyond() {
    let mut request = shelf(&[("sodium_bicarbonate", 2.0), ("potassium_bicarbonate", 2.0)]);
    assert_eq!(pair(&request).0, "never");
    request["water"] = json!({"ph": 7.2, "temperature_c": 20, "analysis": {
        "Ca": {"value": 124, "unit": "mg/L"}, "Mg": {"value": 16, "unit": "mg/L"}, "Na": {"value": 11, "unit": "mg/L"},
        "K": {"value": 2.4, "unit": "mg/L"}, "Cl": {"value": 28, "unit": "mg/L"}, "SO4": {"value": 61, "unit": "mg/L"},
        "alkalinity": {"value": 287, "unit": "mg/L", "basis": "CaCO3"}}});
    assert_ne!(pair(&request).0, "never");
    request.as_object_mut().unwrap().remove("water");
    let answer = checked(&request);
    let codes: Vec<_> =
        answer["assumptions"].as_array().unwrap().iter().map(|one| one["code"].clone()).collect();
    assert_eq!(codes, ["water_assumed", "temperature_assumed"]);
    request["strict"] = json!(true);
    assert_eq!(refused(&request)[0], ("/water".to_owned(), "assumption_refused".to_owned()));
    let beyond = checked(&shelf(&[
        ("calcium_lactate_pentahydrate", 60.0),
        ("sodium_sulfate_anhydrous", 90.0),
        ("potassium_chloride", 1.0),
    ]));
    assert_eq!(beyond["pairs"][0]["outcome"], "not_judged");
    assert_eq!(beyond["pairs"][2]["outcome"], "never");
    assert!(!beyond["not_judged"].as_array().unwrap().is_empty());
}

#[test]
fn what_is_wrong_is_said() {
    let one = shelf(&[("sodium_chloride", 1.0)]);
    assert_eq!(refused(&one)[0].0, "/salts");
    let request = json!({"water": {"pure": true, "temperature_c": 20}, "ph": 7, "co2": {"state": "open_to_air"}, "salts": [
        {"formula": "MgSO4", "mg_per_l": 10, "g_per_l": 1}, {"salt": "calcium chloride", "g_per_l": 1},
        {"salt": "sodium_chloride"}, {"salt": "calcium_chlorid_dihydrate", "g_per_l": 1},
        {"salt": "sodium_tetraborate_decahydrate", "g_per_l": 1}]});
    let faults = refused(&request);
    let found: Vec<_> = faults.iter().map(|(pointer, code)| (pointer.as_str(), code.as_str())).collect();
    for expected in [
        ("/ph", "state_stated_twice"),
        ("/salts/0", "amount_stated_twice"),
        ("/salts/2", "field_missing"),
        ("/salts/3/salt", "salt_unknown"),
    ] {
        assert!(found.contains(&expected), "{expected:?} in {found:?}");
    }
    // a hydrate that is not said, and a salt that may not be used
    assert!(found.iter().any(|(pointer, _)| pointer.starts_with("/salts/1")), "{found:?}");
    assert!(found.iter().any(|(pointer, _)| pointer.starts_with("/salts/4")), "{found:?}");
    let mut keg = shelf(&[("sodium_chloride", 1.0), ("potassium_chloride", 1.0)]);
    keg["co2"] = json!({"state": "volumes", "volumes": 3});
    assert_eq!(refused(&keg), [("/co2/state".to_owned(), "co2_not_held".to_owned())]);
}

/// An ion that the model has no constants for is refused with the salt that brings it, never passed over.
#[test]
fn an_ion_without_constants_is_refused() {
    let request = shelf(&[("sodium_chloride", 1.0), ("copper_sulfate_pentahydrate", 0.01)]);
    assert!(refused(&request).iter().any(|(pointer, _)| pointer.starts_with("/salts/1")));
    let request = shelf(&[("potassium_iodide", 0.01), ("sodium_chloride", 1.0)]);
    assert_eq!(refused(&request), [("/salts/0".to_owned(), "outside_model".to_owned())]);
}
