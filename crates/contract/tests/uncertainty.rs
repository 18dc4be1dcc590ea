//! Uncertainties of inputs in the answers: identities, the derivatives of the model itself, both methods beside each
//! other, and what is refused.
#![cfg(feature = "answer")]
#![allow(clippy::unwrap_used)]

use serde_json::{Value, json};
use springwright_chem::equilibrium::{Given, Input, Known, Model};
use springwright_chem::matter::component::Component;
use springwright_chem::phases::solids;
use springwright_contract::answer::{bulk_line, calculate};
use springwright_contract::reading::Amounts;

fn ask(name: &str, request: &Value) -> Value {
    let answer = calculate(name, request.to_string().as_bytes(), Amounts::Expressions);
    serde_json::from_str(&answer.unwrap_or_else(|problem| panic!("{problem}"))).unwrap()
}

fn refused(name: &str, request: &Value) -> Vec<(String, String)> {
    let problem = calculate(name, request.to_string().as_bytes(), Amounts::Expressions).unwrap_err();
    problem.faults.into_iter().map(|fault| (fault.pointer, fault.code)).collect()
}

/// A hard tap at the temperature of its sheet; the rows that matter with an uncertainty.
fn tap() -> Value {
    json!({
        "temperature_c": 25, "ph": 7.4, "ph_uncertainty": 0.05,
        "analysis": {"Ca": "80 ± 4 mg/L k=2", "Mg": "12 ± 0.3 mg/L k=1", "Na": "10 ± 0.5 mg/L k=1", "K": "2 mg/L",
                     "Cl": "22 ± 1 mg/L k=2", "SO4": "40 mg/L", "NO3": "11 mg/L",
                     "alkalinity": "220 ± 4 mg/L as CaCO3 k=2"}
    })
}

fn linear() -> Value {
    json!({"method": "linear"})
}

fn draws(count: u32) -> Value {
    json!({"method": "monte_carlo", "draws": count})
}

fn correlated(one: &str, other: &str, coefficient: f64) -> Value {
    let pair = json!({"between": [one, other], "coefficient": coefficient});
    json!({"method": "linear", "correlations": [pair]})
}

/// The uncertainty of a water that is answered.
fn of(name: &str, request: &Value) -> Value {
    ask(name, request)["water"]["uncertainty"].clone()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

fn near(value: &Value, expected: f64, share: f64) {
    let got = number(value);
    assert!((got - expected).abs() <= share * expected.abs(), "{got} is not {expected} within {share}");
}

fn codes(answer: &Value, list: &str) -> Vec<String> {
    let rows = answer[list].as_array().unwrap();
    rows.iter().map(|row| row["code"].as_str().unwrap().to_owned()).collect()
}

/// Identities: what goes straight through comes out as stated, u/k in its unit (1e-3, since litres hang together by
/// density); hardness is the quadrature sum of its ions by molar mass (IUPAC 2021); a measured pH keeps its own.
#[test]
fn what_goes_straight_through_keeps_its_uncertainty() {
    let u = of("speciation", &json!({"water": tap(), "uncertainty": linear()}));
    near(&u["ions"]["Ca"]["mg_per_l"], 2.0, 1e-3);
    near(&u["ions"]["Ca"]["mmol_per_l"], 2.0 / 40.078, 1e-3);
    near(&u["ions"]["Ca"]["meq_per_l"], 4.0 / 40.078, 1e-3);
    near(&u["ions"]["Mg"]["mg_per_l"], 0.3, 1e-3);
    near(&u["ions"]["Cl"]["mg_per_l"], 0.5, 1e-3);
    near(&u["alkalinity_mg_per_l_hco3"], 2.0 / 100.087 * 2.0 * 61.016, 1e-3);
    let (calcium, magnesium): (f64, f64) = (2.0 / 40.078 * 100.087, 0.3 / 24.305 * 100.087);
    near(&u["hardness_mg_per_l_caco3"]["total"], (calcium * calcium + magnesium * magnesium).sqrt(), 1e-3);
    near(&u["ph"], 0.05, 1e-6);
    assert!(number(&u["ions"]["SO4"]["mg_per_l"]) < 1e-3);
    for absent in ["volume_l", "gauge_bar", "draws", "seed"] {
        assert_eq!(u[absent], Value::Null, "{absent}");
    }
}

/// Identities of correlation: with coefficient r the hardness has u² = a² + b² + 2 r a b.
#[test]
fn correlated_rows_add_up_or_cancel() {
    let (a, b): (f64, f64) = (2.0 / 40.078 * 100.087, 0.3 / 24.305 * 100.087);
    for r in [1.0, 0.4, -0.4, -1.0] {
        let uncertainty = correlated("/water/analysis/Ca", "/water/analysis/Mg", r);
        let u = of("speciation", &json!({"water": tap(), "uncertainty": uncertainty}));
        let expected = (a * a + b * b + 2.0 * r * a * b).sqrt();
        near(&u["hardness_mg_per_l_caco3"]["total"], expected, 1e-3);
    }
}

/// The sensitivities of pH and calcite against those of the implicit function theorem (1e-6 of each; amounts per kg of
/// water, so that no density stands between).
#[test]
fn sensitivities_are_those_of_the_model() {
    let rows = [("Ca", 2.0), ("Mg", 0.5), ("Na", 1.0), ("Cl", 1.2), ("SO4", 0.4)];
    let row = |amount: f64, unit: &str| json!({"value": amount, "unit": unit, "uncertainty": 0.02 * amount});
    let mut analysis: serde_json::Map<String, Value> =
        rows.iter().map(|(id, amount)| ((*id).to_owned(), row(*amount, "mmol/kg"))).collect();
    analysis.insert("alkalinity".to_owned(), row(4.4, "meq/kg"));
    analysis.insert("dic".to_owned(), row(4.6, "mmol/kg"));
    let water = json!({"temperature_c": 18, "analysis": analysis});
    let u = of("speciation", &json!({"water": water, "uncertainty": linear()}));

    let given = Given::new(Known::Alkalinity(4.4e-3), Known::Dic(4.6e-3));
    let component = |id: &str| Component::read(id).unwrap();
    let given = rows.iter().fold(given, |given, (id, amount)| given.with(component(id), 1e-3 * amount));
    let state = Model::at_celsius(18.0).unwrap().speciate(&given).unwrap();
    let mut inputs: Vec<(String, Input)> =
        rows.iter().map(|(id, _)| ((*id).to_owned(), Input::Component(component(id)))).collect();
    inputs.push(("alkalinity".to_owned(), Input::FirstCarbonate));
    inputs.push(("dic".to_owned(), Input::SecondCarbonate));
    let asked: Vec<Input> = inputs.iter().map(|(_, input)| *input).collect();
    let exact = state.sensitivities(&asked).unwrap();
    let calcite = solids::find("calcite").unwrap();
    let told = u["contributions"].as_array().unwrap();
    for (id, input) in inputs {
        let from = format!("/water/analysis/{id}");
        let found = |of: &str, solid: Value| {
            let row =
                told.iter().find(|row| row["of"] == of && row["solid"] == solid && row["input"] == *from);
            number(&row.unwrap()["sensitivity"])
        };
        for (got, expected) in [
            (found("ph", Value::Null), exact.ph(input).unwrap()),
            (found("si", json!("calcite")), exact.saturation_index(calcite, input).unwrap()),
        ] {
            // per mmol there, per mol here
            assert!((1e3 * got / expected - 1.0).abs() < 1e-6, "{id}: {got} {expected}");
        }
    }
}

/// Identity: waters that err independently mix by quadrature, by their shares (1e-3); together, by the plain sum.
#[test]
fn a_mixture_of_independent_waters() {
    let water = |ca: &str| json!({"temperature_c": 20, "analysis": {"Ca": ca, "Cl": "150 mg/L"}});
    let part = |litres: f64, ca: &str| json!({"volume_l": litres, "water": water(ca)});
    let mut request = json!({
        "parts": [part(10.0, "80 ± 3 mg/L k=1"), part(5.0, "70 ± 6 mg/L k=1")], "temperature_c": 20,
        "uncertainty": linear()
    });
    let share = [2.0 / 3.0 * 3.0_f64, 1.0 / 3.0 * 6.0];
    let apart = (share[0] * share[0] + share[1] * share[1]).sqrt();
    let u = of("mixture", &request);
    near(&u["ions"]["Ca"]["mg_per_l"], apart, 1e-3);
    // nobody states the alkalinity: no pH, and no uncertainty of it
    assert_eq!((&u["ph"], &u["contributions"]), (&Value::Null, &Value::Null));
    // 10^4 draws scatter by 0.7 %
    request["uncertainty"] = draws(10_000);
    near(&of("mixture", &request)["ions"]["Ca"]["mg_per_l"], apart, 0.02);
    request["uncertainty"] = correlated("/parts/0/water/analysis/Ca", "/parts/1/water/analysis/Ca", 1.0);
    near(&of("mixture", &request)["ions"]["Ca"]["mg_per_l"], share[0] + share[1], 1e-3);
}

/// JCGM 101, 8.1: where the model is nearly linear the two methods agree. 2000 draws scatter by 1.6 %: three times that.
#[test]
fn both_methods_agree_where_the_water_is_nearly_linear() {
    let of = |uncertainty: Value| {
        of("speciation", &json!({"water": tap(), "temperature_c": 30, "uncertainty": uncertainty}))
    };
    let (one, other) = (of(linear()), of(draws(2000)));
    for key in ["ph", "tds_mg_per_l", "dic_mmol_per_l", "ionic_strength_mol_per_kg", "charge_balance_percent"]
    {
        near(&other[key], number(&one[key]), 0.05);
    }
    near(&other["conductivity_us_per_cm"]["at_25c"], number(&one["conductivity_us_per_cm"]["at_25c"]), 0.05);
    let of_inputs = |u: &Value| u["saturation"][0]["of_inputs"].clone();
    near(&of_inputs(&other), number(&of_inputs(&one)), 0.05);
    assert_eq!((&other["draws"], &other["seed"]), (&json!(2000), &json!(1)));
    assert_eq!(one["contributions"], other["contributions"]);
}

/// Where they do not: of a water with as much alkalinity as dissolved carbonate the pH hangs on a small difference, and
/// its slope at the stated point is that of the steepest place. The law of propagation says almost twice what the whole
/// distributions come to; a maker of such a water asks for `monte_carlo`.
#[test]
fn near_the_end_point_the_linear_law_is_too_wide() {
    let row = |value: f64, unit: &str| json!({"value": value, "unit": unit, "uncertainty": 0.1});
    let analysis =
        json!({"Na": row(2.0, "mmol/kg"), "alkalinity": row(2.0, "meq/kg"), "dic": row(2.0, "mmol/kg")});
    let of = |uncertainty: Value| {
        let water = json!({"temperature_c": 25, "analysis": analysis});
        number(&of("speciation", &json!({"water": water, "uncertainty": uncertainty}))["ph"])
    };
    let (one, other) = (of(linear()), of(draws(1000)));
    assert!(one > 1.7 * other, "{one} {other}");
}

/// JCGM 100, 4.3.7: less than a limit L, anywhere from nothing to it, is L/2 with the standard uncertainty L/√12.
#[test]
fn less_than_a_limit_is_uniform() {
    let mut water = tap();
    water["analysis"]["K"] = json!("<6 mg/L");
    let request = |uncertainty: Value| json!({"water": water, "uncertainty": uncertainty});
    let answer = ask("speciation", &request(linear()));
    assert!(codes(&answer, "assumptions").contains(&"below_limit_uniform".to_owned()));
    let expected = 6.0 / 12.0_f64.sqrt();
    near(&answer["water"]["uncertainty"]["ions"]["K"]["mg_per_l"], expected, 1e-3);
    // 1000 draws of a uniform distribution scatter by 1.4 %
    let drawn = ask("speciation", &request(draws(1000)));
    near(&drawn["water"]["uncertainty"]["ions"]["K"]["mg_per_l"], expected, 0.05);
    assert!(!codes(&drawn, "findings").contains(&"draws_cut_at_zero".to_owned()));
    assert!(
        !codes(&ask("speciation", &json!({"water": water})), "assumptions")
            .contains(&"below_limit_uniform".into())
    );
}

/// Nothing stated is ignored in silence: not asked, it is told, with the way to ask; asked, it is not; and where
/// nothing is uncertain that is told.
#[test]
fn whether_it_was_asked_is_told() {
    let silent = ask("speciation", &json!({"water": tap()}));
    let told = silent["findings"].as_array().unwrap();
    let told = told.iter().find(|found| found["code"] == "uncertainty_not_carried").unwrap();
    assert!(told["text"].as_str().unwrap().contains("\"uncertainty\""));
    assert_eq!(silent["water"]["uncertainty"], Value::Null);
    let asked = ask("speciation", &json!({"water": tap(), "uncertainty": linear()}));
    assert!(!codes(&asked, "findings").contains(&"uncertainty_not_carried".to_owned()));
    assert!(codes(&asked, "findings").contains(&"uncertainty_of_inputs".to_owned()));
    let exact = json!({"temperature_c": 20, "ph": 7.5, "analysis": {"Na": "23 mg/L", "HCO3": "61 mg/L"}});
    let nothing = ask("speciation", &json!({"water": exact, "uncertainty": linear()}));
    assert!(codes(&nothing, "findings").contains(&"nothing_uncertain".to_owned()));
    assert_eq!(nothing["water"]["uncertainty"], Value::Null);
}

/// Identities: an index errs by its inputs and its constant in quadrature, the same beside the water as in the list of
/// solids; the shares of every result add up to 100 %, the greatest first; at another temperature too.
#[test]
fn indices_carry_the_constant_of_their_solid() {
    let request = json!({"water": tap(), "uncertainty": linear(), "solids": ["calcite", "gypsum", "brucite"],
                         "temperatures_c": [60]});
    let answer = ask("saturation", &request);
    let u = &answer["water"]["uncertainty"];
    let listed = |rows: &Value, solid: &str| {
        rows.as_array().unwrap().iter().find(|row| row["solid"] == solid).unwrap().clone()
    };
    let calcite = listed(&u["saturation"], "calcite");
    let (whole, inputs, constant) =
        (number(&calcite["si"]), number(&calcite["of_inputs"]), number(&calcite["of_constant"]));
    assert!((whole * whole - inputs * inputs - constant * constant).abs() < 1e-15);
    let row = listed(&answer["saturation"], "calcite");
    near(&row["si_uncertainty"], whole, 1e-12);
    assert_eq!(number(&row["log_k_uncertainty"]), constant);
    let there = &answer["at_temperatures"][0];
    for solid in ["calcite", "gypsum", "brucite"] {
        let row = listed(&there["saturation"], solid);
        assert!(number(&row["si_uncertainty"]) >= number(&row["log_k_uncertainty"]));
    }
    // heated and closed, the pH still hangs on the one that was measured
    assert!((0.03..0.06).contains(&number(&there["ph_uncertainty"])));
    let rows = u["contributions"].as_array().unwrap();
    let mut results: Vec<(&Value, &Value)> = rows.iter().map(|row| (&row["of"], &row["solid"])).collect();
    results.dedup();
    assert_eq!(results.len(), 1 + u["saturation"].as_array().unwrap().len());
    for (of, solid) in results {
        let shares: Vec<f64> = (rows.iter().filter(|row| row["of"] == *of && row["solid"] == *solid))
            .map(|row| number(&row["share_percent"]))
            .collect();
        assert!((shares.iter().sum::<f64>() - 100.0).abs() < 1e-9, "{of} {solid}: {shares:?}");
        assert!(shares.windows(2).all(|pair| pair[0] >= pair[1]));
    }
    assert_eq!(rows[0]["input"], "/water/ph");
}

/// Above an ionic strength of 0.1 mol/kg the choice of the pH scale counts: 0.05 at 1 mol/kg.
#[test]
fn a_strong_water_carries_the_choice_of_the_scale() {
    let row = |value: f64, unit: &str| json!({"value": value, "unit": unit});
    let analysis = json!({
        "Na": row(1.0, "mol/kg"), "Cl": row(0.99, "mol/kg"), "alkalinity": row(0.01, "eq/kg"),
        "dic": {"value": 10.2, "unit": "mmol/kg", "uncertainty": 0.01}
    });
    let water = json!({"temperature_c": 25, "analysis": analysis});
    let u = of("speciation", &json!({"water": water, "uncertainty": linear()}));
    let rows = u["contributions"].as_array().unwrap();
    let scale = rows.iter().find(|row| row["input"] == "ph_scale").unwrap();
    near(&scale["standard_uncertainty"], 0.05, 0.01);
    assert!(number(&u["ph"]) >= number(&scale["standard_uncertainty"]));
}

/// A row that only checks another takes no part: it neither errs against it nor contributes.
#[test]
fn a_row_that_checks_another_does_not_fall_out_with_it() {
    let mut water = tap();
    water["analysis"]["HCO3"] = json!("268.3 ± 8 mg/L k=1");
    water["analysis"]["hardness"] = json!("249 ± 8 mg/L as CaCO3 k=1");
    let u = of("speciation", &json!({"water": water, "uncertainty": draws(200)}));
    let rows = u["contributions"].as_array().unwrap();
    for checking in ["HCO3", "hardness"] {
        let from = format!("/water/analysis/{checking}");
        let of = rows.iter().filter(|row| row["input"] == *from).map(|row| number(&row["share_percent"]));
        assert_eq!(of.sum::<f64>(), 0.0);
    }
}

/// Draws below zero are cut and counted. A normal distribution of mean and deviation 1 that is cut so has the variance
/// 2 Φ(1) + φ(1) - (Φ(1) + φ(1))² = 0.7511, with Φ(1) = 0.84134 and φ(1) = 0.24197; 300 draws scatter by some 4 %.
#[test]
fn draws_below_zero_are_told() {
    let mut water = tap();
    water["analysis"]["Na"] = json!("1 ± 1 mg/L k=1");
    let answer = ask("speciation", &json!({"water": water, "uncertainty": draws(300)}));
    assert!(codes(&answer, "findings").contains(&"draws_cut_at_zero".to_owned()));
    near(&answer["water"]["uncertainty"]["ions"]["Na"]["mg_per_l"], 0.7511_f64.sqrt(), 0.15);
}

/// Promise: the same request gives the same bits, however it is spelled, in bulk and on any thread; another seed or
/// another request gives other draws.
#[test]
fn the_same_request_gives_the_same_bits() {
    let text = |seed: u64, order: bool| {
        let water = r#"{"temperature_c": 25, "ph": 7.0, "ph_uncertainty": 0.1, "analysis": {"Na": "50 mg/L", "HCO3": "130 ± 5 mg/L k=1"}}"#;
        let uncertainty = format!(r#"{{"method": "monte_carlo", "draws": 100, "seed": {seed}}}"#);
        if order {
            format!(r#"{{"water": {water}, "uncertainty": {uncertainty}}}"#)
        } else {
            format!(r#"{{"uncertainty": {uncertainty}, "water": {}}}"#, water.replace("7.0", "7"))
        }
    };
    let answer = |text: &str| calculate("speciation", text.as_bytes(), Amounts::Expressions).unwrap();
    let first = answer(&text(1, true));
    assert_eq!(first, answer(&text(1, true)));
    assert_eq!(first, answer(&text(1, false)));
    std::thread::scope(|scope| {
        let others: Vec<_> = (0..3).map(|_| scope.spawn(|| answer(&text(1, true)))).collect();
        others.into_iter().for_each(|other| assert_eq!(other.join().unwrap(), first));
    });
    let line = format!(r#"{{"id": "a", "request": {}}}"#, text(1, false));
    assert!(bulk_line("speciation", line.as_bytes(), Amounts::Expressions).contains(&first));
    assert_ne!(first, answer(&text(2, true)));
}

/// What is asked badly is answered, every fault at once.
#[test]
fn what_is_asked_badly_is_refused() {
    let with =
        |uncertainty: Value| refused("speciation", &json!({"water": tap(), "uncertainty": uncertainty}));
    let pairs = |pairs: Value| with(json!({"method": "linear", "correlations": pairs}));
    let pair = |one: &str, other: &str, coefficient: f64| {
        json!({"between": [format!("/water/analysis/{one}"), format!("/water/analysis/{other}")],
               "coefficient": coefficient})
    };
    let list = "/uncertainty/correlations";
    let fault = |pointer: String, code: &str| vec![(pointer, code.to_owned())];
    assert_eq!(
        with(json!({"method": "monte_carlo", "draws": 0})),
        fault("/uncertainty/draws".into(), "out_of_range")
    );
    assert_eq!(with(json!({"method": "guess"})), fault("/uncertainty/method".into(), "value_unlisted"));
    assert_eq!(
        with(json!({"method": "linear", "seed": 2})),
        fault("/uncertainty/seed".into(), "field_out_of_place")
    );
    assert_eq!(pairs(json!([pair("Ca", "Mg", 1.2)])), fault(format!("{list}/0/coefficient"), "out_of_range"));
    // sulfate states no uncertainty, and no row is called Cu
    let unknown = pairs(json!([pair("Ca", "SO4", 0.5), pair("Cu", "Mg", 0.5)]));
    let at =
        |entry: u8, place: u8| (format!("{list}/{entry}/between/{place}"), "correlation_unknown".to_owned());
    assert_eq!(unknown, [at(0, 1), at(1, 0)]);
    assert_eq!(pairs(json!([pair("Ca", "Ca", 0.5)])), fault(format!("{list}/0"), "correlation_with_itself"));
    let twice = pairs(json!([pair("Ca", "Mg", 0.5), pair("Mg", "Ca", 0.5)]));
    assert_eq!(twice, fault(format!("{list}/1"), "correlation_stated_twice"));
    let impossible = pairs(json!([pair("Ca", "Mg", 0.9), pair("Mg", "Na", 0.9), pair("Ca", "Na", -0.9)]));
    assert_eq!(impossible, fault(list.into(), "correlations_contradict"));
    let alone = pairs(json!([{"between": ["/water/analysis/Ca"], "coefficient": 0.5}]));
    assert_eq!(alone, fault(format!("{list}/0/between"), "too_few"));
    let mut water = tap();
    water.as_object_mut().unwrap().remove("ph");
    water["analysis"]["dic"] = json!("4.6 mmol/L");
    let request = json!({"water": water, "uncertainty": linear()});
    assert_eq!(refused("speciation", &request), fault("/water/ph_uncertainty".into(), "field_out_of_place"));
}

/// Draws that no water can have are not left out in silence: more than one in a hundred is refused. No water of pH 5 ± 2
/// is known to hold 0.5 meq/L of alkalinity: at pH 10.7 its hydroxide alone is as much.
#[test]
fn too_many_draws_without_a_water_are_refused() {
    let water = json!({"temperature_c": 25, "ph": 9.5, "ph_uncertainty": 1.0,
                       "analysis": {"Na": "12 mg/L", "alkalinity": "0.5 mmol/L"}});
    let request = json!({"water": water, "uncertainty": draws(200)});
    assert_eq!(refused("speciation", &request), [("/uncertainty".to_owned(), "draws_not_solved".to_owned())]);
}
