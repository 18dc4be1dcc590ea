//! Finding a row by what somebody wrote: an id, a name, an old name, a formula.

use std::collections::BTreeMap;

use super::fault::{HydrateForm, MatterError, NameChoice};
use super::names::{Meaning, NameKind, edits, normal};
use super::{CATALOGUE, Salt, hydrates_of, salt_of_formula, salts};
use crate::matter::formula::{Formula, FormulaError};

/// Longest text that is searched for near names, in characters.
const LONGEST: usize = 80;
/// Most near names that are offered.
const MOST_NEAR: usize = 5;

/// The row that a text names, judged: it may be weighed into a drink.
///
/// Read in this order: an id or name in any case and either English, then a formula with its water. A bare formula
/// such as `MgSO4` is the salt without water.
///
/// # Errors
/// [`MatterError`]: unknown (with the nearest rows), water of crystallisation not stated, a name with more than
/// one meaning, a preparation of no fixed strength, refused for safety or law, only in solution, no fixed
/// composition, or a formula with more than one reading.
pub fn find(text: &str) -> Result<&'static Salt, MatterError> {
    let meanings = CATALOGUE.names.meanings(text);
    let allowed: Vec<Meaning> = meanings.iter().copied().filter(|m| row(m).weighable().is_ok()).collect();
    match (meanings.first(), allowed.is_empty()) {
        (Some(only), true) => row(only).weighable(),
        (Some(_), false) => settle(text, meanings, &allowed),
        (None, _) => by_formula(text)?.weighable(),
    }
}

/// The row that a text names, not judged: poisons, what is no food and what cannot be weighed are told as well.
/// For reading old recipes and analyses.
///
/// # Errors
/// [`MatterError`] where the text names no row, or more than one.
pub fn identify(text: &str) -> Result<&'static Salt, MatterError> {
    match CATALOGUE.names.meanings(text) {
        [] => by_formula(text),
        meanings => settle(text, meanings, meanings),
    }
}

fn row(meaning: &Meaning) -> &'static Salt {
    &CATALOGUE.salts[meaning.salt]
}

/// The one row of a name's meanings, or why there is not one; then only `offered` are listed.
fn settle(text: &str, meanings: &[Meaning], offered: &[Meaning]) -> Result<&'static Salt, MatterError> {
    let text = shown(text);
    match meanings {
        [only] if only.kind == NameKind::Preparation => {
            Err(MatterError::PreparationNamed { text, id: row(only).id, sense: only.sense })
        }
        [only] if only.kind != NameKind::Base => Ok(row(only)),
        _ => Err(hydrate_forms(offered).map_or_else(
            || MatterError::NameAmbiguous { text: text.clone(), choices: choices(offered) },
            |forms| MatterError::HydrateUnstated { text: text.clone(), forms },
        )),
    }
}

/// The meanings as hydrates of one salt; `None` where they are not.
fn hydrate_forms(meanings: &[Meaning]) -> Option<Vec<HydrateForm>> {
    let formulas: Option<Vec<&Formula>> = meanings.iter().map(|m| row(m).formula.as_ref()).collect();
    let formulas = formulas?;
    let dry = formulas.first()?.anhydrous();
    if !formulas.iter().all(|formula| formula.anhydrous().same_substance(&dry)) {
        return None;
    }
    let form = |(meaning, formula): (&Meaning, &&Formula)| HydrateForm {
        id: row(meaning).id,
        formula: formula.canonical(),
        molar_mass: formula.molar_mass(),
        factor: formula.molar_mass() / dry.molar_mass(),
    };
    Some(meanings.iter().zip(&formulas).map(form).collect())
}

fn choices(meanings: &[Meaning]) -> Vec<NameChoice> {
    let choice = |meaning: &Meaning| NameChoice {
        id: row(meaning).id,
        formula: row(meaning).formula.as_ref().map(Formula::canonical).unwrap_or_default(),
        sense: meaning.sense,
    };
    meanings.iter().map(choice).collect()
}

fn by_formula(text: &str) -> Result<&'static Salt, MatterError> {
    match Formula::read(text.trim()) {
        Ok(formula) => salt_of_formula(&formula).ok_or_else(|| {
            let hydrates = hydrates_of(&formula).into_iter().filter(|salt| salt.weighable().is_ok());
            MatterError::Unknown { text: shown(text), nearest: hydrates.map(|salt| salt.id).collect() }
        }),
        Err(FormulaError::Malformed { .. } | FormulaError::ElementUnknown { .. }) => {
            let near = spelled_alike(text).map_or_else(|| nearest(text), |salt| vec![salt.id]);
            Err(MatterError::Unknown { text: shown(text), nearest: near })
        }
        Err(other) => Err(MatterError::Formula(other)),
    }
}

/// The row whose formula differs from the text in small and capital letters only: `nacl`.
fn spelled_alike(text: &str) -> Option<&'static Salt> {
    let wanted = text.trim().to_lowercase().replace(['.', '*', ' '], "·");
    let alike =
        |salt: &&Salt| salt.formula.as_ref().is_some_and(|own| own.canonical().to_lowercase() == wanted);
    salts().iter().find(|salt| alike(salt) && salt.weighable().is_ok())
}

/// Ids of the rows with a name near the text, nearest first, then in the order of the table. What may not be
/// weighed is never offered.
fn nearest(text: &str) -> Vec<&'static str> {
    let wanted = normal(text);
    let length = wanted.chars().count();
    if !(3..=LONGEST).contains(&length) {
        return Vec::new();
    }
    let most = (length / 4).max(1);
    let mut best: BTreeMap<usize, usize> = BTreeMap::new();
    for (spelling, meanings) in CATALOGUE.names.all() {
        if spelling.chars().count().abs_diff(length) > most && !spelling.starts_with(&wanted) {
            continue;
        }
        let distance = if spelling.starts_with(&wanted) { 1 } else { edits(&wanted, spelling) };
        for meaning in meanings.iter().filter(|_| distance <= most) {
            best.entry(meaning.salt).and_modify(|own| *own = distance.min(*own)).or_insert(distance);
        }
    }
    let mut ranked: Vec<(usize, usize)> = best.into_iter().map(|(salt, distance)| (distance, salt)).collect();
    ranked.sort_unstable();
    let allowed = ranked.into_iter().map(|(_, at)| &salts()[at]).filter(|salt| salt.weighable().is_ok());
    allowed.map(|salt| salt.id).take(MOST_NEAR).collect()
}

/// The text as it is repeated in a message: not longer than a line.
fn shown(text: &str) -> String {
    let text = text.trim();
    match text.char_indices().nth(LONGEST) {
        Some((at, _)) => format!("{}…", &text[..at]),
        None => text.to_string(),
    }
}
