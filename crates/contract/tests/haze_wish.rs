//! Wishes for haze in a blend: what is answered is judged again by the calculations of the state.
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
    let problem = calculate("blend", request.to_string().as_bytes(), Amounts::Expressions).unwrap_err();
    problem.faults.into_iter().map(|fault| (fault.pointer, fault.code)).collect()
}

/// A drink of calcium and bicarbonate on top of a tap and of purified water.
fn drink(calcium: f64, alkalinity: f64, further: &[Value]) -> Value {
    let mut target = vec![
        json!({"of": "Ca", "near": format!("{calcium} mg/L")}),
        json!({"of": "alkalinity", "near": format!("{alkalinity} mg/L as CaCO3")}),
    ];
    target.extend(further.iter().cloned());
    json!({"volume_l": 19, "temperature_c": 8, "co2": {"state": "keg", "gauge_bar": 2.2, "altitude_m": 0},
        "waters": [
            {"name": "tap", "temperature_c": 12, "ph": 7.5, "end_point_ph": 4.5, "analysis": {"Ca": "70 mg/L", "Mg": "8 mg/L",
                "Na": "12 mg/L", "K": "2 mg/L", "Cl": "20 mg/L", "SO4": "30 mg/L", "alkalinity": "170 mg/L as CaCO3"}},
            {"name": "purified", "pure": true, "temperature_c": 12}],
        "salts": [{"formula": "CaCl2·2H2O"}, {"formula": "NaHCO3"}, {"formula": "KHCO3"}],
        "target": target, "balances": [{"step_g": 0.01, "most_g": 200}]})
}

fn clear(celsius: f64) -> Value {
    json!({"of": "haze", "temperature_c": celsius, "open": true})
}

/// What an eye will see of the finished water of a blend, in air at a temperature: by its ions, through `precipitation`.
fn judged_again(blend: &Value, celsius: f64) -> Value {
    let ions: serde_json::Map<String, Value> = blend["water"]["ions"]
        .as_object()
        .unwrap()
        .iter()
        .filter(|(ion, _)| *ion != "HCO3" && *ion != "CO3")
        .map(|(ion, amounts)| (ion.clone(), json!(format!("{} mmol/L", amounts["mmol_per_l"]))))
        .collect();
    let mut analysis = ions;
    let alkalinity = blend["water"]["alkalinity_meq_per_l"].as_f64().unwrap();
    analysis.insert("alkalinity".to_owned(), json!(format!("{alkalinity} meq/L")));
    let water = json!({"temperature_c": 8, "end_point_ph": 4.5, "analysis": analysis});
    answered(
        "precipitation",
        &json!({"water": water, "temperature_c": celsius, "co2": {"state": "open_to_air", "altitude_m": 0}}),
    )
}

/// A hard drink that turns when it is warm and open: without the wish it does, with it it does not, and the answer says what it
/// cost; the same verdict by the calculation of solids (identity).
#[test]
fn a_drink_that_stays_clear_in_the_glass() {
    let plain = answered("blend", &drink(90.0, 250.0, &[]));
    assert_eq!(plain["status"], "solved");
    assert_ne!(judged_again(&plain, 25.0)["verdict"], "clear");
    let answer = answered("blend", &drink(90.0, 250.0, &[clear(25.0)]));
    let wish = &answer["reached"][2];
    assert_eq!(
        (&wish["of"], &wish["pointer"], &wish["met"]),
        (&json!("haze"), &json!("/target/2"), &json!(true))
    );
    assert_eq!(wish["asked"], "clear at 25 °C once it stands in air");
    assert!(wish.get("got").is_none() && wish["why"].as_array().is_none_or(Vec::is_empty));
    let again = judged_again(&answer, 25.0);
    assert!(again["verdict"] == "clear" || again["verdict"] == "undersaturated", "{again}");
    assert_eq!(again["verdict"], wish["verdict"]);
    assert_eq!(answer["status"], "nearest");
    let missed = answer["reached"].as_array().unwrap().iter().filter(|one| one["met"] == false).count();
    assert!(missed >= 1);
    // metastable is a milder wish: it gives up less of what was wished
    let mut milder = clear(25.0);
    milder["verdict"] = json!("metastable");
    let milder = answered("blend", &drink(90.0, 250.0, &[milder]));
    let off = |answer: &Value| answer["objective_values"][0].as_f64().unwrap();
    assert!(off(&plain) < off(&milder) && off(&milder) < off(&answer));
    assert_eq!(judged_again(&milder, 25.0)["verdict"], "metastable");
}

/// A wish that binds nothing moves nothing, wherever it stands among the others.
#[test]
fn a_wish_that_binds_nothing_moves_no_weighing() {
    let plain = answered("blend", &drink(40.0, 60.0, &[]));
    let with = answered("blend", &drink(40.0, 60.0, &[clear(20.0)]));
    assert_eq!((&plain["weighings"], &plain["pourings"]), (&with["weighings"], &with["pourings"]));
    assert_eq!(with["status"], "solved");
    let mut first = drink(40.0, 60.0, &[]);
    first["target"].as_array_mut().unwrap().insert(0, clear(20.0));
    let first = answered("blend", &first);
    assert_eq!(first["weighings"], plain["weighings"]);
    let order: Vec<_> =
        first["reached"].as_array().unwrap().iter().map(|one| one["pointer"].clone()).collect();
    assert_eq!(order, ["/target/0", "/target/1", "/target/2"]);
    assert_eq!(first["reached"][0]["of"], "haze");
}

/// Phosphate beside calcium near neutral clouds (common practice, no published source): a wish for haze takes one of them away,
/// and one about calcite alone does not see it.
#[test]
fn phosphate_gives_way_to_calcium() {
    let mut request = drink(60.0, 120.0, &[json!({"of": "PO4", "near": "60 mg/L"})]);
    request["salts"].as_array_mut().unwrap().push(json!({"salt": "monopotassium_phosphate"}));
    request["co2"] = json!({"state": "open_to_air", "altitude_m": 0});
    request["waters"][0]["missing"] = json!({"PO4": "zero"});
    let with = |wish: Value| {
        let mut request = request.clone();
        request["target"].as_array_mut().unwrap().push(wish);
        answered("blend", &request)
    };
    let held = with(json!({"of": "haze"}));
    assert_eq!(held["reached"][3]["met"], true);
    assert_eq!(held["status"], "nearest");
    let calcite = with(json!({"of": "haze", "solid": "calcite", "verdict": "metastable"}));
    assert_eq!(calcite["status"], "solved");
    assert_eq!(calcite["reached"][3]["asked"], "calcite: metastable");
    let silent = with(json!({"of": "haze", "verdict": "metastable"}));
    let solid = silent["reached"][3]["worst_solid"].as_str().unwrap();
    assert!(solid.contains("phosphate") || solid == "brushite" || solid == "calcite", "{solid}");
}

/// What cannot be clear is answered with the nearest, the solid and its figures; a tap that is all there is cannot be helped.
#[test]
fn what_stays_cloudy_says_why() {
    let mut request = drink(90.0, 250.0, &[clear(60.0)]);
    request["waters"].as_array_mut().unwrap().pop();
    request["salts"] = json!([]);
    request["target"] = json!([{"of": "Ca", "near": "70 mg/L"}, clear(60.0)]);
    let answer = answered("blend", &request);
    assert_eq!(answer["status"], "nearest");
    let wish = &answer["reached"][1];
    assert_eq!((&wish["met"], &wish["why"][0]["code"]), (&json!(false), &json!("not_clear")));
    assert!(wish["why"][0]["text"].as_str().unwrap().contains("calcite"));
    assert_ne!(wish["verdict"], "clear");
}

/// Properties of the open water are wishes too: pH in air, and the index of a solid there.
#[test]
fn ph_and_index_in_air() {
    let wish = |of: &str, at_most: f64| json!({"of": of, "open": true, "temperature_c": 25, "at_most": {"value": at_most, "unit": if of == "ph" { "pH" } else { "1" }}});
    let mut si = wish("si", 0.2);
    si["solid"] = json!("calcite");
    let answer = answered("blend", &drink(60.0, 150.0, &[wish("ph", 8.3), si]));
    for at in [2, 3] {
        assert_eq!(answer["reached"][at]["met"], true, "{}", answer["reached"]);
    }
    let again = judged_again(&answer, 25.0);
    let ph = again["before"]["ph"].as_f64().unwrap();
    let got = answer["reached"][2]["got"]["value"].as_f64().unwrap();
    // the litre of the keg is larger than the flat one by 0.6 %, which is what its 7.8 g of CO2 take
    assert!((ph - got).abs() < 0.004, "{ph} {got}");
}

#[test]
fn what_a_haze_wish_does_not_take() {
    let wish =
        json!({"of": "haze", "near": "1 mg/L", "at_most": "2 mg/L", "verdict": "clouds", "solid": "halitee"});
    let faults = refused(&drink(
        60.0,
        100.0,
        &[wish, json!({"of": "Ca", "at_most": "90 mg/L", "open": true, "verdict": "clear"})],
    ));
    let told: Vec<(&str, &str)> = faults.iter().map(|(at, code)| (at.as_str(), code.as_str())).collect();
    for fault in [
        ("/target/2/near", "field_out_of_place"),
        ("/target/2/at_most", "field_out_of_place"),
        ("/target/2/verdict", "verdict_not_wished"),
        ("/target/3/open", "field_out_of_place"),
        ("/target/3/verdict", "field_out_of_place"),
    ] {
        assert!(told.contains(&fault), "{fault:?} {told:?}");
    }
    assert!(told.iter().any(|(at, _)| *at == "/target/2/solid"));
    let unjudged = refused(&drink(60.0, 100.0, &[json!({"of": "haze", "solid": "aragonite"})]));
    assert_eq!(unjudged, [("/target/2/solid".to_owned(), "solid_not_judged".to_owned())]);
    let mut silent = drink(60.0, 100.0, &[clear(25.0)]);
    silent["waters"][0].as_object_mut().unwrap().remove("ph");
    silent["co2"] = json!({"state": "closed"});
    assert!(refused(&silent).contains(&("/waters/0/ph".to_owned(), "carbonate_unknown".to_owned())));
}

/// An answer whose wish for haze is met is clear when it is judged again by the calculation of solids, soft or hard, cool or
/// warm.
#[test]
fn what_is_met_is_clear() {
    let mut met = 0;
    for calcium in [20.0, 70.0, 150.0] {
        for alkalinity in [40.0, 160.0, 340.0] {
            for celsius in [15.0, 45.0] {
                let answer = answered("blend", &drink(calcium, alkalinity, &[clear(celsius)]));
                if answer["reached"][2]["met"] == true {
                    met += 1;
                    let verdict = judged_again(&answer, celsius)["verdict"].clone();
                    assert!(
                        verdict == "clear" || verdict == "undersaturated",
                        "{calcium} {alkalinity}: {verdict}"
                    );
                }
            }
        }
    }
    assert!(met >= 15, "{met} of 18");
}
