//! Uncertainties of twelve rows of a sheet carried from request to answer.
#![allow(missing_docs)]

use criterion::{Criterion, criterion_group, criterion_main};
use serde_json::{Value, json};
use springwright_contract::answer::calculate;
use springwright_contract::reading::Amounts;

const ROWS: [(&str, f64); 10] = [
    ("Ca", 81.5),
    ("Mg", 13.1),
    ("Na", 8.2),
    ("K", 1.1),
    ("Cl", 12.0),
    ("SO4", 34.0),
    ("NO3", 4.0),
    ("SiO2", 8.0),
    ("F", 0.1),
    ("NH4", 0.05),
];

fn body(ask: Option<Value>) -> String {
    let row = |value: f64| json!({"value": value, "unit": "mg/L", "uncertainty": 0.03 * value});
    let mut analysis: serde_json::Map<String, Value> =
        ROWS.iter().map(|(id, value)| ((*id).to_owned(), row(*value))).collect();
    analysis.insert("alkalinity".to_owned(), json!({"value": 4.6, "unit": "meq/L", "uncertainty": 0.1}));
    let water = json!({"temperature_c": 12, "ph": 7.7, "ph_uncertainty": 0.05, "analysis": analysis});
    let mut request = json!({"water": water, "temperature_c": 20});
    if let Some(ask) = ask {
        request["uncertainty"] = ask;
    }
    request.to_string()
}

fn uncertainties(criterion: &mut Criterion) {
    let draws = |count: u32| json!({"method": "monte_carlo", "draws": count});
    let mut group = criterion.benchmark_group("speciation of twelve rows");
    group.sample_size(10);
    for (name, ask) in [
        ("uncertainties not asked", None),
        ("linear", Some(json!({"method": "linear"}))),
        ("a thousand draws", Some(draws(1000))),
    ] {
        let body = body(ask);
        group.bench_function(name, |bencher| {
            bencher.iter(|| calculate("speciation", body.as_bytes(), Amounts::Objects).map(|a| a.len()));
        });
    }
    group.finish();
}

criterion_group!(benches, uncertainties);
criterion_main!(benches);
