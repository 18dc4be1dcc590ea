//! What to use instead of a salt that clouds with another: from the catalogue or the shelf, tried in the same water.

use super::compatibility::{Judge, Meeting, Outcome, Portion, When};
use super::formation::{formations, place};
use super::solids::Solid;
use crate::matter::catalogue::{Form, FormulaIs, Salt, UseClass, salts};
use crate::matter::component::Component;

/// Most salts proposed for each of the two.
const MOST: usize = 4;

/// One way out.
#[derive(Clone, Debug)]
pub struct Substitute {
    /// Place of the salt that leaves, in the list that was asked about.
    pub instead_of: usize,
    /// What is used in its place.
    pub salt: &'static Salt,
    /// What is kept at its strength.
    pub keeps: Component,
    /// mol per kg of water of the new salt.
    pub mol_per_kg: f64,
    /// What comes of it with the other salt.
    pub outcome: Outcome,
}

/// Salts that bring what one of a pair brings, but not what makes the cloud, and that stand better with the other. An
/// ordinary choice is chloride instead of sulfate beside calcium. Candidates are tried in the order given; without any,
/// in the order of the catalogue.
pub fn substitutes(
    meeting: &Meeting<'_>,
    portions: &[Portion],
    pair: (usize, usize),
    candidates: &[&'static Salt],
) -> Vec<Substitute> {
    let (Some(one), Some(other)) = (portions.get(pair.0), portions.get(pair.1)) else { return Vec::new() };
    let mut judge = Judge::new(meeting);
    let Ok(now) = judge.outcome(&[one, other]) else { return Vec::new() };
    let Some(solid) = now.solid.filter(|_| now.when > When::Never) else { return Vec::new() };
    let usual: Vec<&'static Salt> = salts().iter().filter(|salt| ordinary(salt)).collect();
    let candidates = if candidates.is_empty() { &usual[..] } else { candidates };
    let mut found = Vec::new();
    for (at, leaves, stays) in [(pair.0, one, other), (pair.1, other, one)] {
        let before = found.len();
        for salt in candidates {
            let Some((keeps, mol_per_kg)) = fits(leaves, salt, solid) else { continue };
            let Ok(portion) = Portion::of_moles(salt, mol_per_kg) else { continue };
            let Ok(outcome) = judge.outcome(&[&portion, stays]) else { continue };
            if outcome.when < now.when {
                found.push(Substitute { instead_of: at, salt, keeps, mol_per_kg, outcome });
            }
            if found.len() == before + MOST {
                break;
            }
        }
    }
    found
}

fn ordinary(salt: &Salt) -> bool {
    salt.weighable().is_ok()
        && salt.use_class == UseClass::Food
        && salt.form == Form::Solid
        && salt.formula_is == FormulaIs::Exact
        && salt.needs.is_none()
}

/// Whether a salt keeps an ion of the one that leaves without what the solid takes from that one; and how much of it.
fn fits(leaves: &Portion, salt: &'static Salt, solid: &'static Solid) -> Option<(Component, f64)> {
    let (old, new) = (leaves.salt.dissolution().ok()?, salt.dissolution().ok()?);
    let brings = formations()[place(solid)].brings;
    let in_solid = |component: Component| brings.components.iter().any(|(own, _)| *own == component);
    let takes =
        |component: Component| old.components.iter().any(|(own, _)| *own == component) && in_solid(component);
    let brings_cloud = new.components.iter().any(|(component, _)| takes(*component))
        || (brings.carbonate > 0.0 && new.carbonate > 0.0 && old.carbonate > 0.0);
    // hydroxides form from any base
    let base = new.alkalinity() > 0.0 && old.alkalinity() > 0.0;
    if brings_cloud || base || salt.id == leaves.salt.id {
        return None;
    }
    let kept =
        old.components.iter().find(|(c, _)| !in_solid(*c) && new.components.iter().any(|(n, _)| n == c))?;
    let each = new.components.iter().find(|(component, _)| *component == kept.0)?.1;
    Some((kept.0, leaves.mol_per_kg * kept.1 / each))
}
