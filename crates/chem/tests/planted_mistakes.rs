//! Sheets of invented waters with and without a planted mistake: whether the right cause is found, clean sheets are left
//! in peace, and the intervals hold the truth. `SPRINGWRIGHT_SHEETS` sets how many (tests/soak takes many more).
#![allow(clippy::unwrap_used, missing_docs)]

mod planted;

use std::collections::BTreeMap;

use planted::mistake::{Planted, SORTS, plant, shows};
use planted::random::Random;
use planted::water::{self, Truth};
use springwright_chem::composition::reconciliation::{Of, Suspicion, reconcile};
use springwright_chem::matter::component::Component;

/// A mistake that moves no check by more than this many standard uncertainties hides in the noise of any laboratory.
const SHOWS: f64 = 3.0;

fn count() -> usize {
    std::env::var("SPRINGWRIGHT_SHEETS").ok().and_then(|text| text.parse().ok()).unwrap_or(1000)
}

fn right(planted: &Planted, suspicion: &Suspicion) -> bool {
    suspicion.code == planted.code && planted.rows.contains(&suspicion.of)
}

#[test]
fn planted_mistakes_are_found() {
    let mut random = Random::new(20);
    let (mut drawn, mut tried, mut first, mut second) = (0, 0, 0, 0);
    let mut by_sort: BTreeMap<&str, (usize, usize, usize)> = BTreeMap::new();
    while tried < count() {
        let truth = Truth::draw(&mut random);
        let clean = water::sheet(&truth, &mut random);
        let mut sheet = clean.clone();
        let Some(planted) = plant(SORTS[tried % SORTS.len()], &mut sheet, &mut random) else { continue };
        drawn += 1;
        if shows(&clean, &sheet) < SHOWS {
            continue;
        }
        tried += 1;
        let found = reconcile(&sheet).unwrap();
        let suspicions = found.suspicions();
        let place = suspicions.iter().position(|suspicion| right(&planted, suspicion));
        first += usize::from(place == Some(0));
        second += usize::from(place == Some(1));
        let entry = by_sort.entry(planted.code).or_default();
        entry.0 += 1;
        entry.1 += usize::from(place.is_some_and(|place| place < 2));
        entry.2 += usize::from(suspicions.is_empty());
        if place.is_none_or(|place| place > 1) && std::env::var("SPRINGWRIGHT_SHOW").is_ok() {
            println!("{planted:?} p {:.1e} df {}", found.probability, found.degrees_of_freedom);
            for one in &suspicions {
                println!("     {} {:?} {:.2} {}", one.code, one.of, one.share, one.text);
            }
        }
    }
    println!(
        "{drawn} drawn, {tried} show; first {first}, second {second}; by sort (all, found, silent): {by_sort:?}"
    );
    assert!((first + second) as f64 >= 0.9 * tried as f64);
}

/// Nitrate left out of a sheet that is right: its bounds hold what is there, 19 times of 20.
#[test]
fn bounds_of_a_missing_ion_hold() {
    let mut random = Random::new(3);
    let mut inside = 0;
    for _ in 0..count() {
        let truth = Truth::draw(&mut random);
        let mut sheet = water::sheet(&truth, &mut random);
        sheet.rows.retain(|row| row.of != Of::Component(Component::NO3));
        let missing = reconcile(&sheet).unwrap().missing();
        let nitrate = missing.iter().find(|one| one.component == Component::NO3).unwrap();
        inside += usize::from((nitrate.at_least..=nitrate.at_most).contains(&truth.mmol["NO3"]));
    }
    println!("bounds of a missing ion hold {inside} of {}", count());
    let spread = 3.0 * (0.95 * 0.05 / count() as f64).sqrt();
    assert!(inside as f64 >= (0.95 - spread) * count() as f64);
}

#[test]
fn clean_sheets_are_left_in_peace_and_intervals_hold() {
    let mut random = Random::new(7);
    let (mut alarms, mut inside, mut intervals) = (0, 0, 0);
    for _ in 0..count() {
        let truth = Truth::draw(&mut random);
        let found = reconcile(&water::sheet(&truth, &mut random)).unwrap();
        alarms += usize::from(!found.suspicions().is_empty());
        for row in &found.rows {
            intervals += 1;
            inside += usize::from((row.likely - truth.amount(row.of)).abs() <= 1.96 * row.uncertainty);
        }
    }
    println!("{alarms} alarms of {}; {inside} of {intervals} intervals hold", count());
    assert!(alarms as f64 <= 0.05 * count() as f64);
    // Three standard deviations of a count of that many; an interval that always holds would be too wide.
    let spread = 3.0 * (0.95 * 0.05 / intervals as f64).sqrt();
    let share = inside as f64 / intervals as f64;
    assert!((0.95 - spread..0.98).contains(&share), "{share}");
}
