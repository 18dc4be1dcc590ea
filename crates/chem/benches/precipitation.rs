//! Precipitation with five solids and with all that form, calcite precipitation potential, haze of a tap, compatibility of
//! twenty salts, the life of a hard water.
#![allow(missing_docs)]

use criterion::{Criterion, criterion_group, criterion_main};
use springwright_chem::composition::state::Solution;
use springwright_chem::composition::totals::Totals;
use springwright_chem::equilibrium::carbonation::CarbonDioxide;
use springwright_chem::equilibrium::{Given, Known, Model};
use springwright_chem::matter::catalogue;
use springwright_chem::matter::component::Component;
use springwright_chem::phases::compatibility::{Meeting, Portion, Surroundings, check};
use springwright_chem::phases::haze::judge;
use springwright_chem::phases::haze_limits::Limits;
use springwright_chem::phases::potential;
use springwright_chem::phases::precipitation::{Solids, precipitate};
use springwright_chem::properties::life_path::{Doing, LifePath, Stage};
use std::hint::black_box;

const SHELF: [(&str, f64); 20] = [
    ("sodium_bicarbonate", 0.3),
    ("sodium_chloride", 0.2),
    ("sodium_sulfate_anhydrous", 0.2),
    ("potassium_bicarbonate", 0.2),
    ("potassium_chloride", 0.1),
    ("potassium_sulfate", 0.1),
    ("monopotassium_phosphate", 0.1),
    ("disodium_phosphate_anhydrous", 0.1),
    ("trisodium_citrate_dihydrate", 0.3),
    ("calcium_chloride_dihydrate", 0.3),
    ("calcium_sulfate_dihydrate", 0.3),
    ("calcium_lactate_pentahydrate", 0.3),
    ("calcium_hydroxide", 0.1),
    ("magnesium_chloride_hexahydrate", 0.3),
    ("magnesium_sulfate_heptahydrate", 0.3),
    ("magnesium_bisglycinate", 0.2),
    ("potassium_carbonate_anhydrous", 0.1),
    ("sodium_carbonate_anhydrous", 0.1),
    ("sodium_metasilicate_pentahydrate", 0.05),
    ("potassium_bitartrate", 0.2),
];

/// A stock water that lets calcite, gypsum and silica fall.
fn stock() -> Given {
    Given::new(Known::Alkalinity(0.012), Known::Dic(0.0118))
        .with(Component::CA, 0.02)
        .with(Component::MG, 0.01)
        .with(Component::NA, 0.004)
        .with(Component::SO4, 0.02)
        .with(Component::CL, 0.012)
        .with(Component::SIO2, 3e-3)
}

fn solids_of_a_water(bench: &mut Criterion) {
    let model = Model::at_celsius(20.0).expect("within the model");
    let five = ["calcite", "gypsum", "brucite", "amorphous_silica", "nesquehonite"];
    let five = five.iter().fold(Solids::none(), |solids, id| solids.allow(id).expect("a solid"));
    let (stock, all) = (stock(), Solids::that_form());
    bench.bench_function("precipitation with 5 solids", |b| {
        b.iter(|| black_box(precipitate(&model, black_box(&stock), &five)).is_ok());
    });
    bench.bench_function("precipitation with all solids", |b| {
        b.iter(|| black_box(precipitate(&model, black_box(&stock), &all)).is_ok());
    });
    let tap = Given::new(Known::Alkalinity(0.003), Known::Dic(0.0031)).with(Component::CA, 0.002);
    bench.bench_function("calcite precipitation potential", |b| {
        b.iter(|| black_box(potential::calcite(&model, black_box(&tap))).is_ok());
    });
    let state = model.speciate(&tap).expect("within the model");
    let limits = Limits::default();
    bench.bench_function("haze of a solved tap", |b| {
        b.iter(|| black_box(judge(&model, black_box(&state), &[], &limits)).is_ok());
    });
}

fn twenty_salts(bench: &mut Criterion) {
    let (model, water, limits) =
        (Model::at_celsius(20.0).expect("within the model"), Totals::pure(), Limits::default());
    let portion = |(id, grams): &(&str, f64)| {
        Portion::of_grams(catalogue::salt(id).expect("a salt"), *grams).expect("one composition")
    };
    let shelf: Vec<Portion> = SHELF.iter().map(portion).collect();
    let meeting =
        Meeting { model: &model, water: &water, surroundings: Surroundings::Closed, limits: &limits };
    bench.bench_function("compatibility of 20 salts", |b| {
        b.iter(|| check(&meeting, black_box(&shelf)).count());
    });
}

fn life_of_eight_stages(bench: &mut Criterion) {
    let totals =
        [(Component::CA, 3e-3), (Component::MG, 8e-4), (Component::SO4, 1e-3), (Component::CL, 1.2e-3)]
            .into_iter()
            .fold(Totals::pure(), |totals, (component, m)| totals.with_amount(component, m))
            .with_alkalinity(5e-3)
            .with_dic(5.2e-3);
    let stage = |doing, celsius| Stage { doing, celsius };
    let stages = [
        stage(Doing::Mixed, 12.0),
        stage(Doing::Carbonated(CarbonDioxide::Keg { gauge_bar: 2.5, altitude_m: 0.0 }), 4.0),
        stage(Doing::Bottled { headspace_percent: 5.0 }, 4.0),
        stage(Doing::Stands, 4.0),
        stage(Doing::Stands, 30.0),
        stage(Doing::Opened, 10.0),
        stage(Doing::Flat, 22.0),
        stage(Doing::Kettle, 95.0),
    ];
    let mixed = Solution::new(totals, 12.0).expect("within the model");
    let path = LifePath::of(&mixed, 0.0, &stages).expect("a life that can be");
    let limits = Limits::default();
    bench.bench_function("life of 8 stages with haze", |b| {
        b.iter(|| {
            let steps = black_box(&path).walk().expect("it can be followed");
            steps.iter().filter(|step| path.haze(step, &limits).is_ok()).count()
        });
    });
    let steps = path.walk().expect("it can be followed");
    bench.bench_function("what to change at one stage", |b| {
        b.iter(|| path.remedies(black_box(&steps), 6, &limits).len());
    });
}

criterion_group!(benches, solids_of_a_water, twenty_salts, life_of_eight_stages);
criterion_main!(benches);
