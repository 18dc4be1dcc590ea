//! Sheets that do not add up, through the contract: invented waters with one planted mistake each, sheets that are right,
//! what is missing, bad input. Bicarbonate (by charge) and residue (of bicarbonate what stays as carbonate) were reckoned
//! by hand from the ions; a conductivity is that of the solved water, whose equation is held to measurements elsewhere.
#![cfg(feature = "answer")]
#![allow(clippy::unwrap_used)]

use serde_json::{Value, json};
use springwright_contract::answer::calculate;
use springwright_contract::reading::Amounts;

fn ask(request: &Value) -> Value {
    let answer = calculate("reconciliation", request.to_string().as_bytes(), Amounts::Expressions);
    serde_json::from_str(&answer.unwrap_or_else(|problem| panic!("{problem}"))).unwrap()
}

fn refused(request: &Value) -> Vec<(String, String)> {
    let problem =
        calculate("reconciliation", request.to_string().as_bytes(), Amounts::Expressions).unwrap_err();
    problem.faults.into_iter().map(|fault| (fault.pointer, fault.code)).collect()
}

fn state(water: &Value) -> Value {
    let answer =
        calculate("speciation", json!({"water": water}).to_string().as_bytes(), Amounts::Expressions);
    serde_json::from_str(&answer.unwrap_or_else(|problem| panic!("{problem}"))).unwrap()
}

/// A water of nine rows in mg/L, with its residue (which holds a little water yet), and its conductivity at 25 °C as a laboratory writes it.
fn sheet(ions: [f64; 8], alkalinity: f64, residue: f64) -> Value {
    let ids = ["Ca", "Mg", "Na", "K", "Cl", "SO4", "NO3", "SiO2"];
    let mut analysis: serde_json::Map<String, Value> = ids
        .iter()
        .zip(ions)
        .map(|(id, value)| ((*id).to_owned(), json!({"value": value, "unit": "mg/L"})))
        .collect();
    analysis.insert("alkalinity".to_owned(), json!({"value": alkalinity, "unit": "mg/L", "basis": "CaCO3"}));
    let water = json!({"analysis": analysis, "ph": 7.5, "temperature_c": 15});
    let conductivity = state(&water)["water"]["conductivity_us_per_cm"]["at_25c"].as_f64().unwrap().round();
    json!({
        "water": water,
        "conductivity": {"value": conductivity, "unit": "uS/cm"},
        "residue_180c": {"value": (1.02 * residue).round(), "unit": "mg/L"},
    })
}

fn with(mut sheet: Value, row: &str, written: &str) -> Value {
    sheet["water"]["analysis"][row] = json!(written);
    sheet
}

const RIGHT: [([f64; 8], f64, f64); 9] = [
    ([68.0, 9.2, 16.4, 2.1, 24.5, 31.2, 44.0, 11.0], 143.0, 292.0),
    ([52.5, 14.6, 21.8, 3.4, 29.6, 69.0, 6.2, 9.1], 124.0, 281.0),
    ([104.0, 6.1, 12.3, 1.6, 21.4, 26.3, 18.7, 8.4], 241.0, 343.0),
    ([44.2, 21.3, 8.7, 1.2, 11.6, 19.4, 7.9, 13.2], 176.0, 233.0),
    ([6.2, 1.3, 143.0, 2.8, 41.7, 36.4, 2.4, 15.8], 237.0, 392.0),
    ([92.0, 17.2, 35.1, 4.4, 58.3, 74.6, 12.8, 10.2], 212.0, 432.0),
    ([24.8, 11.7, 31.5, 38.6, 18.2, 14.9, 35.2, 46.0], 158.0, 316.0),
    ([71.6, 28.4, 61.5, 5.1, 92.7, 41.8, 9.6, 12.4], 254.0, 475.0),
    ([83.4, 12.1, 18.6, 2.7, 32.8, 45.5, 61.3, 9.7], 159.0, 361.0),
];

fn right(at: usize) -> Value {
    let (ions, alkalinity, residue) = RIGHT[at];
    sheet(ions, alkalinity, residue)
}

/// Asserts that a planted mistake comes first, and answers the suspicion.
fn first(request: &Value, code: &str, pointer: &str) -> Value {
    let answer = ask(request);
    let suspicions = answer["suspicions"].as_array().unwrap();
    let texts: Vec<&str> = suspicions.iter().map(|one| one["text"].as_str().unwrap()).collect();
    let best = suspicions.first().unwrap_or_else(|| panic!("{code} {pointer}: nothing is suspected"));
    assert_eq!((best["code"].as_str(), best["pointer"].as_str()), (Some(code), Some(pointer)), "{texts:#?}");
    best.clone()
}

#[test]
fn sheets_that_are_right_are_left_in_peace() {
    for at in 0..RIGHT.len() {
        let answer = ask(&right(at));
        assert_eq!(answer["suspicions"], json!([]), "{at}");
        assert!(answer["probability"].as_f64().unwrap() > 0.1, "{at}: {}", answer["probability"]);
        assert_eq!(answer["degrees_of_freedom"], json!(3));
        let refused: Vec<&Value> = answer["checks"]
            .as_array()
            .unwrap()
            .iter()
            .filter(|check| check["accepted"] != json!(true))
            .collect();
        assert!(refused.is_empty(), "{at}: {refused:?}");
        assert!(answer["water"]["ph"].as_f64().is_some());
    }
}

/// Ten sheets, one mistake each; the cause comes first and the number behind it is told.
#[test]
fn ten_mistakes_are_named() {
    let at = |id: &str| format!("/water/analysis/{id}");
    let nitrate = first(&with(right(0), "NO3", "9.94 mg/L"), "basis", &at("NO3"));
    assert!(
        nitrate["text"]
            .as_str()
            .unwrap()
            .contains("expressed as N, the sheet would add up: NO3 would be 44 mg/L")
    );
    assert_eq!(nitrate["corrected"][0]["measured"], json!({"value": 9.94, "unit": "mg/L", "basis": "N"}));
    first(&with(right(1), "SO4", "23 mg/L"), "basis", &at("SO4"));
    let degrees = first(&with(right(2), "hardness", "16 fH"), "unit", &at("hardness"));
    assert_eq!(degrees["corrected"][0]["measured"]["unit"], json!("dH"));
    let swapped = first(&with(right(3), "Mg", "12.3 mg/L"), "digits", &at("Mg"));
    assert_eq!(swapped["corrected"][0]["measured"]["value"], json!(21.3));
    let slipped = first(&with(right(4), "Na", "14.3 mg/L"), "decimal", &at("Na"));
    assert_eq!(slipped["corrected"][0]["measured"]["value"], json!(143.0));
    let hard = with(right(5), "hardness", "16.84 dH");
    let exchanged = first(&with(with(hard, "Na", "17.2 mg/L"), "Mg", "35.1 mg/L"), "exchanged", &at("Mg"));
    assert_eq!(exchanged["corrected"].as_array().unwrap().len(), 2);
    first(&with(right(6), "Na", "54.2 mg/L"), "lumped", &at("Na"));
    let mut solids = right(7);
    solids["tds"] = solids["residue_180c"].take();
    first(&solids, "solids", "/tds");
    first(&with(right(3), "alkalinity", "176 mg/L as HCO3"), "basis", &at("alkalinity"));
    let mut silent = right(8);
    silent["water"]["analysis"].as_object_mut().unwrap().remove("NO3");
    let missing = first(&silent, "missing", &at("NO3"));
    let found = &missing["corrected"][0]["measured"];
    let away = (found["value"].as_f64().unwrap() - 61.3) / found["uncertainty"].as_f64().unwrap();
    assert!(away.abs() < 2.0, "{found}");
}

/// Salts in purified water: the conductivity tells that the calcium chloride was weighed without its water.
#[test]
fn a_hydrate_is_named() {
    let water = |chloride: &str| {
        let salts = json!([{"formula": "NaHCO3", "mg_per_l": 300}, {"formula": chloride, "mg_per_l": 300}]);
        json!({"pure": true, "added": salts, "temperature_c": 25})
    };
    let weighed =
        state(&water("CaCl2"))["water"]["conductivity_us_per_cm"]["at_25c"].as_f64().unwrap().round();
    let request = json!({"water": water("CaCl2·2H2O"), "conductivity": {"value": weighed, "unit": "uS/cm"}});
    let hydrate = first(&request, "hydrate", "/water/added/1/mg_per_l");
    assert_eq!(hydrate["corrected"][0]["measured"]["basis"], json!("CaCl2"));
}

/// What the request leaves open is answered as bounds: chloride that nobody stated is found by charge, conductivity and
/// residue together.
#[test]
fn an_ion_that_nobody_stated_is_found_by_the_rest() {
    let mut request = right(7);
    request["water"]["analysis"].as_object_mut().unwrap().remove("Cl");
    let answer = ask(&request);
    let chloride = answer["water"]["ions"]["Cl"]["mg_per_l"].as_f64().unwrap();
    assert!((chloride / 92.7 - 1.0).abs() < 0.06, "{chloride}");
    assert_eq!(answer["degrees_of_freedom"], json!(3));
    let nitrate = ask(&{
        let mut silent = right(8);
        silent["water"]["analysis"].as_object_mut().unwrap().remove("NO3");
        silent
    });
    let bounds =
        nitrate["missing"].as_array().unwrap().iter().find(|one| one["of"] == json!("NO3")).unwrap().clone();
    let (least, most) =
        (bounds["at_least_mg_per_l"].as_f64().unwrap(), bounds["at_most_mg_per_l"].as_f64().unwrap());
    assert!(least < 61.3 && 61.3 < most, "{bounds}");
}

/// Standard Methods 1030 E (from memory): sums of 5.1 meq/L may differ by 2 %; solids from the sum of ions to 1.2 times
/// it. A sheet on the wrong side of each is refused by that rule.
#[test]
fn the_rules_of_acceptance() {
    let value = |answer: &Value, of: &str| {
        let check = answer["checks"]
            .as_array()
            .unwrap()
            .iter()
            .find(|check| check["of"] == json!(of))
            .unwrap()
            .clone();
        (check["value"].as_f64().unwrap(), check["accepted"] == json!(true))
    };
    let wrong = ask(&with(right(0), "NO3", "9.94 mg/L"));
    let (percent, accepted) = value(&wrong, "charge_balance");
    // by hand: cations 4.918 meq/L; anions 4.359 with 0.160 of nitrate in place of 0.710
    assert!((percent - 100.0 * (4.918 - 4.359) / (4.918 + 4.359)).abs() < 0.2 && !accepted, "{percent}");
    let mut heavy = right(0);
    heavy["residue_180c"] = json!("380 mg/L");
    let (ratio, accepted) = value(&ask(&heavy), "tds_measured_over_calculated");
    assert!((ratio - 380.0 / 292.0).abs() < 0.01 && !accepted, "{ratio}");
}

#[test]
fn rows_stand_in_the_unit_they_were_stated_in() {
    let mut request = right(3);
    request["water"]["analysis"]["alkalinity"] = json!("3.52 ± 0.05 meq/L (k=2)");
    request["water"]["analysis"]["F"] = json!("<0.2 mg/L");
    let answer = ask(&request);
    let row = |pointer: &str| {
        answer["rows"]
            .as_array()
            .unwrap()
            .iter()
            .find(|row| row["pointer"] == json!(pointer))
            .unwrap()
            .clone()
    };
    let alkalinity = row("/water/analysis/alkalinity");
    assert_eq!(alkalinity["likely"]["unit"], json!("meq/L"));
    assert!((alkalinity["stated_uncertainty"].as_f64().unwrap() - 0.025).abs() < 1e-12);
    assert!((alkalinity["likely"]["value"].as_f64().unwrap() - 3.52).abs() < 0.05);
    assert!(alkalinity["likely"]["uncertainty"].as_f64().unwrap() < 0.025);
    let fluoride = row("/water/analysis/F");
    assert_eq!(fluoride["verdict"], json!("below_limit"));
    assert!((0.0..=0.2).contains(&fluoride["likely"]["value"].as_f64().unwrap()));
    assert_eq!(row("/conductivity")["verdict"], json!("fits"));
    let about: Vec<&str> =
        answer["assumptions"].as_array().unwrap().iter().map(|one| one["code"].as_str().unwrap()).collect();
    assert!(about.contains(&"conductivity_temperature_assumed") && about.contains(&"uncertainty_assumed"));
    request["strict"] = json!(true);
    assert!(refused(&request).iter().all(|(_, code)| code == "assumption_refused"));
}

/// A conductivity taken at another temperature is reckoned there: the same water, 8 °C cooler, says the same.
#[test]
fn a_conductivity_has_its_temperature() {
    let warm = ask(&right(5));
    let cooler = warm["water"]["conductivity_us_per_cm"]["at_temperature"].as_f64().unwrap();
    let mut request = right(5);
    request["conductivity"] = json!({"value": cooler, "unit": "uS/cm"});
    request["conductivity_temperature_c"] = json!(15);
    let answer = ask(&request);
    assert!(answer["probability"].as_f64().unwrap() > 0.1);
    assert!((answer["chi_square"].as_f64().unwrap() - warm["chi_square"].as_f64().unwrap()).abs() < 0.5);
}

#[test]
fn too_little_is_said_with_what_is_missing() {
    let two = json!({"water": {"analysis": {"Ca": "60 mg/L", "Mg": "8 mg/L"}}});
    let at = |id: &str| (format!("/water/analysis/{id}"), "insufficient".to_owned());
    assert_eq!(refused(&two), ["Na", "Cl", "SO4", "alkalinity"].map(at));
    // one open ion and the charge alone: the charge tells the ion, and nothing is left to check it
    let mut request = right(0);
    let object = request.as_object_mut().unwrap();
    object.remove("conductivity");
    object.remove("residue_180c");
    request["water"]["analysis"].as_object_mut().unwrap().remove("Cl");
    assert_eq!(refused(&request), [at("Cl")]);
    let salt = json!({"water": {"pure": true, "added": [{"formula": "NaCl", "mg_per_l": 100}]}});
    assert_eq!(refused(&salt), [("/water".to_owned(), "insufficient".to_owned())]);
}

#[test]
fn every_fault_comes_at_once() {
    let mut request = right(0);
    request["water"]["analysis"]["nonsense"] = json!("3 mg/L");
    request["water"]["analysis"]["hardness"] = json!({"value": 200, "unit": "mg/L"});
    request["water"]["balance_on"] = json!("Na");
    request["conductivity"] = json!({"value": 500, "unit": "mg/L"});
    let found = refused(&request);
    for (pointer, code) in [
        ("/water/balance_on", "field_out_of_place"),
        ("/water/analysis/nonsense", "component_unknown"),
        ("/conductivity/unit", "unit_does_not_fit"),
    ] {
        assert!(found.contains(&(pointer.to_owned(), code.to_owned())), "{found:?}");
    }
    let basis = refused(&with(right(0), "hardness", "200 mg/L"));
    assert_eq!(basis, [("/water/analysis/hardness".to_owned(), "basis_missing".to_owned())]);
}

/// Whatever a sheet says, it is answered with finite numbers or refused with its faults; the engine never fails.
#[test]
fn no_sheet_breaks_it() {
    let mut state: u64 = 9;
    let mut share = move || {
        // Knuth's linear congruence
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 11) as f64 / (1u64 << 53) as f64
    };
    let ids =
        ["Ca", "Mg", "Na", "K", "Cl", "SO4", "NO3", "SiO2", "PO4", "NH4", "Mn", "Al", "citrate", "CO3", "F"];
    let mut answered = 0;
    for _ in 0..400 {
        let wild = share() < 0.5;
        let mut amount = |unit: &str| {
            let value = if share() < 0.05 {
                0.0
            } else {
                10_f64.powf(if wild { 14.0 } else { 4.0 } * (share() - 0.5) + 1.0)
            };
            json!({"value": value, "unit": unit})
        };
        let mut analysis = serde_json::Map::new();
        for (at, id) in ids.iter().enumerate() {
            let unit = ["mg/L", "mmol/L", "mg/kg", "ug/L"][at % if wild { 4 } else { 1 }];
            let row = amount(unit);
            if at < 6 || row["value"].as_f64().unwrap() > 30.0 {
                analysis.insert((*id).to_owned(), row);
            }
        }
        analysis.insert("alkalinity".to_owned(), amount("meq/L"));
        analysis.insert("hardness".to_owned(), amount("dH"));
        let water =
            json!({"analysis": analysis, "ph": 4.0 + analysis.len() as f64 / 3.0, "temperature_c": 20});
        let request = json!({"water": water, "conductivity": amount("uS/cm"), "tds": amount("mg/L")});
        match calculate("reconciliation", request.to_string().as_bytes(), Amounts::Objects) {
            Ok(_) => answered += 1,
            Err(problem) => assert_eq!(problem.status, 422, "{request}\n{problem}"),
        }
    }
    assert!(answered > 100, "{answered}");
}
