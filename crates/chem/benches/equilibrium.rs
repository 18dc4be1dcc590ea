//! The equilibrium: one water from nothing, and tables of waters in lanes, per water.
//!
//! Components of a tap: Ca, Mg, Na, K, Cl, SO4 and carbonate, or with NO3, SiO2 and F beside them; every
//! row its own water and its own temperature where not said otherwise.
#![allow(missing_docs)]

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use springwright_chem::composition::pure_water::kell_1975;
use springwright_chem::equilibrium::{Given, Known, Model, Scheme, System};
use springwright_chem::matter::component::Component;
use springwright_chem::phases::saturation;
use springwright_chem::phases::solids::{Solid, find};
use springwright_chem::properties::waters::{Answers, Carbonate, Status, Waters, solve};
use springwright_chem::quantity::bounds::Celsius;
use std::hint::black_box;
use std::sync::Arc;

const ROWS: usize = 4096;
const SOLIDS: [&str; 20] = [
    "calcite",
    "aragonite",
    "vaterite",
    "monohydrocalcite",
    "ikaite",
    "amorphous_calcium_carbonate",
    "gypsum",
    "anhydrite",
    "dolomite",
    "magnesite",
    "nesquehonite",
    "brucite",
    "halite",
    "sylvite",
    "arcanite",
    "mirabilite",
    "epsomite",
    "nahcolite",
    "kalicinite",
    "natron",
];

/// Amounts between a soft and a hard water, evenly in their logarithm (xorshift from a fixed seed).
struct Table {
    temperature_c: Vec<f64>,
    totals: Vec<(Component, Vec<f64>)>,
    alkalinity: Vec<f64>,
    dic: Vec<f64>,
}

fn table(minor: bool) -> Table {
    let mut state = 0x9e37_79b9_7f4a_7c15_u64;
    let mut between = move |low: f64, high: f64| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        low + (high - low) * ((state >> 11) as f64 / (1_u64 << 53) as f64)
    };
    let mut amounts =
        |low: f64, high: f64| -> Vec<f64> { (0..ROWS).map(|_| 10_f64.powf(between(low, high))).collect() };
    let majors = [
        (Component::CA, -4.0, -2.3),
        (Component::MG, -4.5, -2.5),
        (Component::NA, -4.0, -2.0),
        (Component::K, -5.0, -3.0),
        (Component::CL, -4.0, -2.0),
        (Component::SO4, -4.5, -2.3),
        (Component::NO3, -5.0, -3.5),
        (Component::SIO2, -4.5, -3.3),
        (Component::F, -6.0, -4.5),
    ];
    let count = if minor { majors.len() } else { 6 };
    let totals = majors[..count].iter().map(|(c, low, high)| (*c, amounts(*low, *high))).collect();
    let alkalinity = amounts(-4.0, -2.2);
    let dic = alkalinity.iter().zip(amounts(-2.5, 0.0)).map(|(a, over)| a * (0.98 + over)).collect();
    let temperature_c = (0..ROWS).map(|_| (400.0 * between(0.0, 1.0)).round() / 10.0).collect();
    Table { temperature_c, totals, alkalinity, dic }
}

fn wanted() -> Vec<&'static Solid> {
    SOLIDS.iter().filter_map(|id| find(id)).collect()
}

fn given(table: &Table, row: usize) -> Given {
    let first = Given::new(Known::Alkalinity(table.alkalinity[row]), Known::Dic(table.dic[row]));
    table.totals.iter().fold(first, |given, (component, column)| given.with(*component, column[row]))
}

fn single(criterion: &mut Criterion) {
    for (name, minor) in [("majors", false), ("majors, nitrate, silica, fluoride", true)] {
        let table = table(minor);
        let solids = wanted();
        let model = Model::at(Celsius::new(18.0).expect("a temperature")).expect("within the model");
        let scheme = Arc::new(Scheme::of(&given(&table, 0).totals).expect("known components"));
        let system = Arc::new(System::at(&model, &scheme));
        let waters: Vec<Given> = (0..ROWS).map(|row| given(&table, row)).collect();
        let indices = |state: &springwright_chem::equilibrium::Speciation| -> f64 {
            solids.iter().filter_map(|solid| saturation::of(state, solid)).map(|one| one.index).sum()
        };
        let mut turn = waters.iter().cycle();
        criterion.bench_function(&format!("{name}: one water with 20 indices, system ready"), |bencher| {
            bencher.iter(|| turn.next().map(|water| system.solve(water).map(|state| indices(&state))));
        });
        let mut turn = waters.iter().zip(&table.temperature_c).cycle();
        criterion.bench_function(&format!("{name}: one water with 20 indices, new temperature"), |bencher| {
            bencher.iter(|| {
                turn.next().map(|(water, celsius)| {
                    let model = Model::at(Celsius::new(*celsius).expect("a temperature"));
                    let system = Arc::new(System::at(&model.expect("within the model"), &scheme));
                    system.solve(water).map(|state| indices(&state))
                })
            });
        });
        criterion.bench_function(&format!("{name}: one water with 20 indices, nothing ready"), |bencher| {
            bencher.iter(|| {
                turn.next().map(|(water, celsius)| {
                    let model = Model::at(Celsius::new(*celsius).expect("a temperature"));
                    model.and_then(|model| model.speciate(water)).map(|state| indices(&state))
                })
            });
        });
    }
}

fn in_lanes(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("tables");
    group.throughput(Throughput::Elements(ROWS as u64));
    for (name, minor) in [("majors", false), ("majors, nitrate, silica, fluoride", true)] {
        let table = table(minor);
        let solids = wanted();
        let totals: Vec<(Component, &[f64])> =
            table.totals.iter().map(|(component, column)| (*component, column.as_slice())).collect();
        let warm = vec![25.0; ROWS];
        let water = |_: usize, celsius: f64, _: f64, _: f64| kell_1975(celsius) / 1000.0;
        for (what, temperature_c, conductivities) in [
            ("pH alone", &table.temperature_c, 0),
            ("20 indices, conductivity", &table.temperature_c, 1),
            ("20 indices, conductivity, all at 25 °C", &warm, 1),
            ("20 indices, conductivity there and at 25 °C", &table.temperature_c, 2),
        ] {
            let carbonate = [Carbonate::Alkalinity(&table.alkalinity), Carbonate::Dic(&table.dic)];
            let waters = Waters { temperature_c, totals: &totals, carbonate };
            let mut status = vec![Status::NotConverged; ROWS];
            let mut cells = vec![vec![0.0; ROWS]; 3 + solids.len()];
            group.bench_function(format!("{name}: {what}"), |bencher| {
                bencher.iter(|| {
                    let mut columns = cells.iter_mut().map(Vec::as_mut_slice);
                    let mut answers =
                        Answers { status: &mut status, ph: columns.next(), ..Answers::default() };
                    if conductivities > 0 {
                        answers.water_kg_per_l = Some(&water);
                        answers.conductivity = columns.next();
                        answers.conductivity_25c = columns.next().filter(|_| conductivities > 1);
                        answers.saturation = solids.iter().copied().zip(columns).collect();
                    }
                    solve(&waters, &mut answers).expect("columns of one length");
                    black_box(&answers.ph);
                });
            });
            assert!(status.iter().all(|status| *status == Status::Answered));
        }
    }
    group.finish();
}

criterion_group!(benches, single, in_lanes);
criterion_main!(benches);
