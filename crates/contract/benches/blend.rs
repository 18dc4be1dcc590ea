//! Blends from request to answer: 12 salts, 9 wishes, 0.01 g, at most 5 salts, in turn over problems of four taps.
//! `tests/bench/blend.py` prints the same class beside HiGHS in one run.
#![allow(missing_docs)]

use criterion::{Criterion, criterion_group, criterion_main};
use serde_json::{Value, json};
use springwright_contract::answer::calculate;
use springwright_contract::reading::Amounts;

const SHELF: [&str; 12] = [
    "NaHCO3",
    "KHCO3",
    "NaCl",
    "KCl",
    "K2SO4",
    "Na2SO4",
    "CaCl2·2H2O",
    "CaCl2·6H2O",
    "CaSO4·2H2O",
    "MgSO4·7H2O",
    "MgCl2·6H2O",
    "MgSO4",
];
const WISHED: [&str; 7] = ["Ca", "Mg", "Na", "K", "Cl", "SO4", "HCO3"];
const TAPS: [[f64; 7]; 4] = [
    [0.0; 7],
    [12.0, 2.0, 7.0, 1.0, 9.0, 11.0, 36.0],
    [48.0, 9.0, 18.0, 3.0, 31.0, 42.0, 134.0],
    [118.0, 24.0, 31.0, 4.0, 47.0, 88.0, 362.0],
];

/// Bodies whose wishes lie between the tap and some 100 mg/L above it; tolerances are wide so that the search is
/// timed, or narrow so that the reasons for what is not met are timed with it.
fn bodies(tolerance_percent: f64) -> Vec<String> {
    let amount = |value: f64, unit: &str| json!({"value": (value * 10.0).round() / 10.0, "unit": unit});
    let body = |number: usize| {
        let tap = TAPS[number % 4];
        let asked = |at: usize| tap[at] + ((number * 7 + at * 31) % 100) as f64;
        let near =
            |of: &str, value: Value| json!({"of": of, "near": value, "tolerance_percent": tolerance_percent});
        let mut target: Vec<Value> = (0..7).map(|at| near(WISHED[at], amount(asked(at), "mg/L"))).collect();
        target.push(near("tds", amount((0..7).map(asked).sum(), "mg/L")));
        target.push(near("hardness", amount(asked(0) / 40.078 + asked(1) / 24.305, "mmol/L")));
        let analysis: serde_json::Map<String, Value> =
            WISHED.iter().zip(tap).map(|(ion, value)| ((*ion).to_owned(), amount(value, "mg/L"))).collect();
        let salts: Vec<Value> =
            SHELF.iter().map(|formula| json!({"formula": formula, "assay_percent": 100})).collect();
        json!({
            "volume_l": 20, "temperature_c": 20, "waters": [{"temperature_c": 20, "analysis": analysis}], "salts": salts,
            "target": target, "balances": [{"step_g": 0.01, "most_g": 200}], "most_salts": 5,
        })
        .to_string()
    };
    (0..40).map(body).collect()
}

/// The same class with wishes for the solved state: a pH to come near to, and calcite that stays clear when the water is
/// warmed; the three taps only, as purified water states its carbonate by being pure.
fn bodies_of_state() -> Vec<String> {
    let amount = |value: f64, unit: &str| json!({"value": (value * 10.0).round() / 10.0, "unit": unit});
    let body = |(number, body): (usize, String)| {
        let mut body: Value = serde_json::from_str(&body).unwrap_or_default();
        for water in body["waters"].as_array_mut().into_iter().flatten() {
            water["ph"] = json!(7.2 + (number % 5) as f64 * 0.2);
        }
        let ph = amount(7.0 + (number * 3 % 16) as f64 * 0.1, "pH");
        let clear = amount(0.1 * (number % 6) as f64, "1");
        if let Some(target) = body["target"].as_array_mut() {
            target.push(json!({"of": "ph", "near": ph, "tolerance": 8}));
            target.push(json!({"of": "si", "solid": "calcite", "temperature_c": 25, "at_most": clear}));
        }
        body.to_string()
    };
    bodies(100.0).into_iter().enumerate().filter(|(number, _)| number % 4 != 0).map(body).collect()
}

fn blends(criterion: &mut Criterion) {
    let of_state = bodies_of_state();
    let mut turn = of_state.iter().cycle();
    criterion.bench_function("blend with pH and calcite", |bencher| {
        bencher.iter(|| {
            turn.next().map(|body| calculate("blend", body.as_bytes(), Amounts::Objects).map(|a| a.len()))
        });
    });
    for (name, tolerance) in [("blend, nothing to explain", 100.0), ("blend with reasons", 5.0)] {
        let bodies = bodies(tolerance);
        let mut turn = bodies.iter().cycle();
        criterion.bench_function(name, |bencher| {
            bencher.iter(|| {
                turn.next().map(|body| calculate("blend", body.as_bytes(), Amounts::Objects).map(|a| a.len()))
            });
        });
    }
}

criterion_group!(benches, blends);
criterion_main!(benches);
