//! The rules of the house as tests: layers, sources, sizes, forbidden calls, shapes, layout, links.
//!
//! Each rule is a function from text to a list of faults. It runs once over the tree, and once over a planted
//! violation, so that a rule which can no longer fail is found out.

#![allow(clippy::unwrap_used)]

mod arrows;
mod calls;
mod layout;
mod links;
mod shapes;
mod sizes;
mod sources;
mod tree;

/// Fails with every fault on a line of its own.
#[track_caller]
fn demand_none(faults: Vec<String>) {
    assert!(faults.is_empty(), "{} faults\n{}", faults.len(), faults.join("\n"));
}

/// Fails unless exactly one fault was found and it says `word`.
#[track_caller]
fn demand_one(faults: &[String], word: &str) {
    assert_eq!(faults.len(), 1, "{faults:#?}");
    assert!(faults[0].contains(word), "{} does not say {word}", faults[0]);
}
