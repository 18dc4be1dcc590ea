//! The matrix as it is answered.

use springwright_chem::phases::PhaseError;
use springwright_chem::phases::compatibility::{Compatibility, Meeting, Outcome, When};
use springwright_chem::phases::substitutes::{self as chem};

use super::{Asked, Told};
use crate::answer::haze;
use crate::compatibility::{CloudOutcome, Pair, ShelfSaltRead, Substitute, Together};
use crate::said::NotJudged;

/// Every cell.
pub(super) fn told(asked: &Asked, found: &Compatibility) -> Told {
    let count = found.count();
    let salts: Vec<ShelfSaltRead> = (0..count).map(|at| salt(asked, at)).collect();
    let mut not_judged = Vec::new();
    let mut cell = |salts: &[usize], cell: Option<&Result<Outcome, PhaseError>>| {
        let (told, error) = together(asked, salts, cell);
        if let Some(why) = error {
            let what = match salts {
                [one, other] if one != other => format!("salts {} and {} together", one + 1, other + 1),
                [one] => format!("salt {} alone", one + 1),
                _ => "all salts together".to_owned(),
            };
            not_judged.push(NotJudged { what, why });
        }
        told
    };
    let alone: Vec<Together> = (0..count).map(|at| cell(&[at], found.pair(at, at))).collect();
    let mut pairs = Vec::new();
    for second in 1..count {
        for first in 0..second {
            let outcome = found.pair(first, second);
            let by_itself = outcome.is_some_and(|one| one.as_ref().is_ok_and(|one| one.by_itself));
            pairs.push(pair(first, second, by_itself, cell(&[first, second], outcome)));
        }
    }
    let all: Vec<usize> = (0..count).collect();
    // two salts together are their pair
    let together = cell(&all, Some(&found.together));
    Told { salts, alone, pairs, together, not_judged }
}

fn salt(asked: &Asked, at: usize) -> ShelfSaltRead {
    let shelved = &asked.shelf[at];
    let salt = shelved.choice.salt;
    ShelfSaltRead {
        number: number(at),
        salt: salt.id.to_owned(),
        name: salt.name.to_owned(),
        formula: salt.formula.as_ref().map(|formula| formula.canonical()),
        mg_per_l: 1e3 * shelved.g_per_l,
        mmol_per_l: 1e3 * shelved.g_per_l / shelved.choice.added.molar_mass(),
    }
}

fn number(at: usize) -> u32 {
    at as u32 + 1
}

fn pair(first: usize, second: usize, by_itself: bool, told: Together) -> Pair {
    let Together { outcome, solid, si, mg_per_l, margin, time, why } = told;
    let why = if by_itself { format!("{why}; one of the two does so by itself") } else { why };
    let (first, second) = (number(first), number(second));
    Pair { first, second, outcome, by_itself, solid, si, mg_per_l, margin, time, why }
}

/// One cell, and why it was not judged.
fn together(
    asked: &Asked,
    salts: &[usize],
    found: Option<&Result<Outcome, PhaseError>>,
) -> (Together, Option<String>) {
    let found = match found {
        Some(Ok(found)) => found,
        Some(Err(error)) => return (unjudged(error.to_string()), Some(error.to_string())),
        None => return (unjudged("not on the list".to_owned()), None),
    };
    let mg_per_l = found.mg_per_kg.map(|mass| mass * asked.litre_kg(salts));
    let told = Together {
        outcome: word(found.when),
        solid: found.solid.map(|solid| solid.id.to_owned()),
        si: found.index,
        mg_per_l,
        margin: found.margin,
        time: found.time.filter(|_| found.when > When::Never).map(haze::time),
        why: why(found, mg_per_l),
    };
    (told, None)
}

fn unjudged(why: String) -> Together {
    let outcome = CloudOutcome::NotJudged;
    Together { outcome, solid: None, si: None, mg_per_l: None, margin: None, time: None, why }
}

fn word(when: When) -> CloudOutcome {
    match when {
        When::Never => CloudOutcome::Never,
        When::InTime => CloudOutcome::InTime,
        When::AtOnce => CloudOutcome::AtOnce,
    }
}

fn why(found: &Outcome, mg_per_l: Option<f64>) -> String {
    let (Some(solid), Some(index), Some(margin)) = (found.solid, found.index, found.margin) else {
        return "nothing can form of them that haze is judged by".to_owned();
    };
    let name = haze::words(solid.id);
    let mass = mg_per_l.map_or(String::new(), |mass| {
        if mass < 10.0 { format!(", {mass:.2} mg/L") } else { format!(", {mass:.0} mg/L") }
    });
    match found.when {
        When::AtOnce => format!("{name} falls{mass} (index {index:.2})"),
        When::InTime => {
            format!("{name} can fall in time{mass} (index {index:.2}, {margin:.2} short of a cloud at once)")
        }
        When::Never if mg_per_l.is_some() => {
            format!("{name} could fall{mass} (index {index:.2}), less than is seen")
        }
        When::Never if index >= 0.0 => {
            format!("{name} is the nearest: index {index:.2}, {margin:.2} short of where it may turn")
        }
        When::Never => format!("{name} is the nearest: index {index:.2}, more of it would dissolve"),
    }
}

/// What to use instead, for each pair that clouds and of which neither clouds by itself.
pub(super) fn substitutes(asked: &Asked, meeting: &Meeting<'_>, pairs: &[Pair]) -> Vec<Substitute> {
    let clouds =
        |pair: &&Pair| matches!(pair.outcome, CloudOutcome::InTime | CloudOutcome::AtOnce) && !pair.by_itself;
    let mut told = Vec::new();
    for pair in pairs.iter().filter(clouds) {
        let places = (pair.first as usize - 1, pair.second as usize - 1);
        for way in chem::substitutes(meeting, &asked.portions, places, &[]) {
            let leaves = &asked.shelf[way.instead_of];
            // as many mol in the litre for each mol of the salt that leaves
            let times = way.mol_per_kg / asked.portions[way.instead_of].mol_per_kg;
            let old = leaves.g_per_l / leaves.choice.added.molar_mass();
            told.push(Substitute {
                first: pair.first,
                second: pair.second,
                instead_of: number(way.instead_of),
                salt: way.salt.id.to_owned(),
                name: way.salt.name.to_owned(),
                keeps: way.keeps.id().to_owned(),
                mg_per_l: 1e3 * old * times * way.salt.molar_mass().unwrap_or(0.0),
                outcome: word(way.outcome.when),
            });
        }
    }
    told
}
