//! An analysis of twelve rows made to add up, without and with the ranking of what may be wrong: a sheet that is right,
//! and the same with a nitrate as N.
#![allow(missing_docs)]

use criterion::{Criterion, criterion_group, criterion_main};
use springwright_chem::composition::reconciliation::{Of, Row, Sheet, reconcile};
use springwright_chem::quantity::reading::read_measured;
use std::hint::black_box;

const ROWS: [(&str, &str); 12] = [
    ("Ca", "96 mg/L"),
    ("Mg", "18.2 mg/L"),
    ("Na", "23.1 mg/L"),
    ("K", "3.2 mg/L"),
    ("Cl", "41 mg/L"),
    ("SO4", "58 mg/L"),
    ("NO3", "46 mg/L"),
    ("SiO2", "12.5 mg/L"),
    ("alkalinity", "222 mg/L as CaCO3"),
    ("hardness", "315 mg/L as CaCO3"),
    ("conductivity", "705 uS/cm"),
    ("residue_180c", "432 mg/L"),
];

fn sheet(nitrate: &str) -> Option<Sheet> {
    let row = |(of, text): (&str, &str)| {
        let text = if of == "NO3" { nitrate } else { text };
        Some(Row { of: Of::read(of)?, measured: read_measured(text).ok()?.measured })
    };
    let rows = ROWS.into_iter().map(row).collect::<Option<Vec<Row>>>()?;
    Some(Sheet { rows, ph: Some(7.4), temperature_c: Some(12.0), ..Sheet::default() })
}

fn reconciliations(criterion: &mut Criterion) {
    for (name, nitrate) in [("right", "46 mg/L"), ("nitrate as N", "10.4 mg/L")] {
        let Some(sheet) = sheet(nitrate) else { continue };
        let Ok(found) = reconcile(&sheet) else { continue };
        println!("{name}: p {:.2e}, {} suspicions", found.probability, found.suspicions().len());
        criterion.bench_function(&format!("reconciliation, {name}"), |bencher| {
            bencher.iter(|| black_box(reconcile(&sheet).is_ok()));
        });
        criterion.bench_function(&format!("its suspicions, {name}"), |bencher| {
            bencher.iter(|| black_box(found.suspicions().len()));
        });
        criterion.bench_function(&format!("its bounds of what is missing, {name}"), |bencher| {
            bencher.iter(|| black_box(found.missing().len()));
        });
    }
}

criterion_group!(benches, reconciliations);
criterion_main!(benches);
