//! Solved waters through the contract: what the sheet of a water must say, states of the carbon dioxide, bad input.
#![cfg(feature = "answer")]
#![allow(clippy::unwrap_used)]

use serde_json::{Value, json};
use springwright_contract::answer::calculate;
use springwright_contract::reading::Amounts;

fn ask(name: &str, request: &Value) -> Value {
    let answer = calculate(name, request.to_string().as_bytes(), Amounts::Expressions);
    serde_json::from_str(&answer.unwrap_or_else(|problem| panic!("{problem}"))).unwrap()
}

fn refused(name: &str, request: &Value) -> Vec<(String, String)> {
    let problem = calculate(name, request.to_string().as_bytes(), Amounts::Expressions).unwrap_err();
    problem.faults.into_iter().map(|fault| (fault.pointer, fault.code)).collect()
}

fn tap(fields: Value) -> Value {
    let mut water = json!({
        "temperature_c": 12,
        "analysis": {"Ca": "80 mg/L", "Mg": "12 mg/L", "Na": "10 mg/L", "K": "2 mg/L", "Cl": "22 mg/L",
                     "SO4": "40 mg/L", "NO3": "2.5 mg/L as N", "alkalinity": "220 mg/L as CaCO3"}
    });
    for (field, value) in fields.as_object().unwrap() {
        water[field] = value.clone();
    }
    water
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

/// Any two of the five quantities of the carbonate system tell the others: the answer of one pair, stated anew as
/// another pair, gives the same pH and alkalinity (1e-9; 1e-5 where the sheet lacks the alkalinity, because the litres of
/// its other rows are then weighed without the bicarbonate). Dissolved CO2 and its pressure say the same and are no pair.
#[test]
fn any_two_tell_the_rest() {
    let first = ask("speciation", &json!({"water": tap(json!({"ph": 7.4}))}))["water"].clone();
    let without = |rows: Value| {
        let mut water = tap(json!({}));
        let analysis = water["analysis"].as_object_mut().unwrap();
        analysis.remove("alkalinity");
        for (row, value) in rows.as_object().unwrap() {
            analysis.insert(row.clone(), value.clone());
        }
        water
    };
    let dic = json!({"value": number(&first["dic_mmol_per_l"]), "unit": "mmol/L"});
    let co2 = json!({"value": number(&first["co2_mg_per_l"]), "unit": "mg/L"});
    // the sheet states 220 mg/L as CaCO3 in mg of 2 × 100.0869 per meq
    let alkalinity = json!("220 mg/L as CaCO3");
    let pressure = json!({"state": "partial_pressure", "pco2_bar": first["pco2_bar"]});
    let ph = first["ph"].clone();
    let with_ph = |mut water: Value| {
        water["ph"] = ph.clone();
        water
    };
    let pairs = [
        json!({"water": with_ph(without(json!({"alkalinity": alkalinity})))}),
        json!({"water": without(json!({"alkalinity": alkalinity, "dic": dic}))}),
        json!({"water": without(json!({"alkalinity": alkalinity, "co2": co2}))}),
        json!({"water": without(json!({"alkalinity": alkalinity})), "co2": pressure}),
        json!({"water": with_ph(without(json!({"dic": dic})))}),
        json!({"water": with_ph(without(json!({"co2": co2})))}),
        json!({"water": with_ph(without(json!({}))), "co2": pressure}),
        json!({"water": without(json!({"dic": dic, "co2": co2}))}),
        json!({"water": without(json!({"dic": dic})), "co2": pressure}),
    ];
    for request in pairs {
        let told = ask("speciation", &request)["water"].clone();
        for field in ["ph", "alkalinity_meq_per_l", "dic_mmol_per_l", "pco2_bar"] {
            let (got, wanted) = (number(&told[field]), number(&first[field]));
            let tolerance =
                if request["water"]["analysis"].get("alkalinity").is_some() { 1e-9 } else { 1e-5 };
            assert!((got / wanted - 1.0).abs() < tolerance, "{field}: {got} for {wanted} of {request}");
        }
    }
}

/// Nitrate of 2.5 mg/L as N is 11.07 mg/L of NO3 (62.004 / 14.007).
#[test]
fn nitrate_as_nitrogen_is_not_nitrate() {
    let told = ask("speciation", &json!({"water": tap(json!({"ph": 7.4}))}));
    assert!((number(&told["water"]["ions"]["NO3"]["mg_per_l"]) - 11.067).abs() < 0.002);
    let written = told["assumptions"].to_string();
    assert!(!written.contains("NO3-N"));
}

/// A keg of 4 bar at 5 °C holds 13.6 g/L, worked from Weiss 1974 per litre of the still water and without the work against
/// pressure; per litre of the carbonated water, which is 1.1 % more, and with that work (0.6 %) it is 1 to 3 % less. Its
/// pH lies between 4.4 and 5.4 for 4.4 meq/L of alkalinity, and in air it climbs above 8. Brought to 20 °C it keeps its
/// carbonate.
#[test]
fn a_keg_holds_what_its_pressure_says() {
    let keg = json!({"state": "keg", "gauge_bar": 4, "temperature_c": 5, "altitude_m": 0});
    let told = ask("speciation", &json!({"water": tap(json!({"ph": 7.4})), "temperature_c": 5, "co2": keg}));
    let water = &told["water"];
    assert!((0.97..0.99).contains(&(number(&water["co2_mg_per_l"]) / 13_600.0)), "{}", water["co2_mg_per_l"]);
    assert!((4.4..5.4).contains(&number(&water["ph"])), "{}", water["ph"]);
    assert!(number(&water["ph_in_air"]) > 8.0);
    let warm = ask("speciation", &json!({"water": tap(json!({"ph": 7.4})), "temperature_c": 20, "co2": keg}));
    let per_kg = |water: &Value| number(&water["dic_mmol_per_l"]) / number(&water["density_kg_per_l"]);
    assert!((per_kg(&warm["water"]) / per_kg(water) - 1.0).abs() < 2e-4);
    assert!(number(&warm["water"]["pco2_bar"]) > number(&water["pco2_bar"]));
}

/// Mixing keeps carbonate: half of a water with half of pure water holds half of it, and its pH is told.
#[test]
fn a_mixture_of_solved_waters_is_solved() {
    let source = tap(json!({"ph": 7.4}));
    let whole = ask("speciation", &json!({"water": source}));
    let request = json!({"temperature_c": 12, "parts": [
        {"water": source, "mass_kg": 1}, {"water": {"pure": true, "temperature_c": 12}, "mass_kg": 1}]});
    let half = ask("mixture", &request);
    let ratio = number(&half["water"]["dic_mmol_per_l"]) / number(&whole["water"]["dic_mmol_per_l"]);
    assert!((ratio - 0.5).abs() < 1e-3, "{ratio}");
    assert_eq!(half["not_judged"], json!([]));
    assert_eq!(half["provenance"]["model"], "equilibrium");
    let open = ask(
        "mixture",
        &json!({"temperature_c": 12, "co2": {"state": "open_to_air", "altitude_m": 0},
        "parts": [{"water": source, "mass_kg": 1}]}),
    );
    assert!((number(&open["water"]["ph"]) - number(&whole["water"]["ph_in_air"])).abs() < 1e-9);
}

/// Without pH and without a state of the carbon dioxide a mixture is answered by its totals, with the reason; a speciation
/// is refused.
#[test]
fn what_is_not_known_is_said() {
    let source = tap(json!({}));
    let mixed = ask("mixture", &json!({"temperature_c": 12, "parts": [{"water": source, "mass_kg": 1}]}));
    assert!(mixed["water"].get("ph").is_none());
    assert!(mixed["not_judged"].to_string().contains("state its pH"));
    assert_eq!(
        refused("speciation", &json!({"water": source})),
        [("/water".into(), "carbonate_unknown".into())]
    );
    let mut mute = tap(json!({"ph": 7.4}));
    mute["analysis"].as_object_mut().unwrap().remove("alkalinity");
    let told = refused("speciation", &json!({"water": mute}));
    assert_eq!(told, [("/water/analysis/alkalinity".into(), "alkalinity_unknown".into())]);
}

/// Faults come together: a state without its number, a number that belongs to another state, a mass of carbonate that does not
/// say as what, a solid that nobody knows.
#[test]
fn faults_come_together() {
    let mut water = tap(json!({"ph": 7.4, "at_most_percent": 50}));
    water["analysis"]["dic"] = json!("60 mg/L");
    let told = refused(
        "saturation",
        &json!({
        "water": water, "co2": {"state": "keg", "volumes": 2}, "solids": ["calcit"]}),
    );
    let codes: Vec<&str> = told.iter().map(|(_, code)| code.as_str()).collect();
    for code in ["solid_unknown", "field_out_of_place", "field_missing", "basis_missing"] {
        assert!(codes.contains(&code), "{code} in {told:?}");
    }
    let strange = json!({"pure": true, "temperature_c": 20, "added": [{"formula": "NH4Cl", "mg_per_l": 50}]});
    assert!(
        calculate("speciation", json!({"water": strange}).to_string().as_bytes(), Amounts::Objects).is_ok()
    );
    let outside = json!({"temperature_c": 12, "ph": 7.4, "analysis": {"Ca": "80 mg/L", "alkalinity": "4 meq/L", "Cu": "300 mg/L"}});
    let told = refused("speciation", &json!({"water": outside}));
    assert_eq!(told, [("/water".into(), "outside_model".into())]);
}

/// Saturation at further temperatures is that of the closed water there: the calcite index of a hard water climbs with
/// warmth, at its own temperature both say the same, and a solid whose part is missing is said.
#[test]
fn saturation_follows_the_temperature() {
    let told = ask(
        "saturation",
        &json!({"water": tap(json!({"ph": 7.4})), "temperatures_c": [12, 60, 90],
        "solids": ["calcite", "gypsum", "fluorite"]}),
    );
    let si = |list: &Value| number(&list[0]["si"]);
    let at = told["at_temperatures"].as_array().unwrap();
    assert!((si(&told["saturation"]) - si(&at[0]["saturation"])).abs() < 1e-12);
    assert!(
        si(&at[1]["saturation"]) > si(&at[0]["saturation"])
            && si(&at[2]["saturation"]) > si(&at[1]["saturation"])
    );
    assert!(told["not_judged"].to_string().contains("fluorite"));
    let far = refused("saturation", &json!({"water": tap(json!({"ph": 7.4})), "temperatures_c": [120]}));
    assert_eq!(far, [("/temperatures_c/0".into(), "temperature_outside_model".into())]);
}

/// A bicarbonate stock of 70 g/L (0.83 mol/kg) stands near pH 8 (common practice, no published source) and is told with
/// the word on its pH scale.
#[test]
fn a_stock_is_told_with_its_limits() {
    let stock =
        json!({"pure": true, "temperature_c": 20, "added": [{"formula": "NaHCO3", "mg_per_l": 70000}]});
    let told = ask("speciation", &json!({"water": stock}));
    assert!((7.7..8.4).contains(&number(&told["water"]["ph"])), "{}", told["water"]["ph"]);
    assert!(told["findings"].to_string().contains("ph_scale_chosen"));
}

/// What a number out of range would lead to is not told: only what is written wrong elsewhere comes beside it.
#[test]
fn a_number_out_of_range_brings_no_faults_of_its_own() {
    let told = refused("speciation", &json!({"water": tap(json!({"ph": 17.2})), "temperature_c": 12}));
    assert_eq!(told, [("/water/ph".into(), "out_of_range".into())]);
    let mut water = tap(json!({"ph": 17.2}));
    water["analysis"]["Ca"] = json!({"value": 80, "unit": "ppm"});
    let request = json!({"water": water, "co2": {"state": "volumes"}});
    let codes: Vec<String> = refused("speciation", &request).into_iter().map(|(_, code)| code).collect();
    assert_eq!(codes, ["out_of_range", "unit_ambiguous", "field_missing"]);
}
