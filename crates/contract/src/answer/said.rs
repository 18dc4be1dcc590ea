//! Assumptions, findings and cautions of the chemistry as an answer says them.

use springwright_chem::assessment;
use springwright_chem::composition::assumption::Assumption as Assumed;
use springwright_chem::composition::finding::Finding as Found;
use springwright_chem::composition::state::Solution;
use springwright_chem::fault::Fault as _;
use springwright_chem::matter::catalogue::Salt;
use springwright_chem::properties::StateError;
use springwright_chem::sources;

use super::faults::own;
use crate::problem::Fault;
use crate::reading::below;
use crate::said::{Assumption, Caution, Finding, NotJudged};

/// An assumption of the chemistry about a water at a pointer.
pub(super) fn assumption(pointer: &str, assumed: &Assumed) -> Assumption {
    Assumption {
        code: assumed.code.to_owned(),
        pointer: path(pointer, &assumed.about),
        text: assumed.text.clone(),
        effect: assumed.effect.clone(),
    }
}

/// A dotted path below a pointer, as a pointer.
pub(super) fn path(pointer: &str, about: &str) -> String {
    about.split('.').filter(|step| !step.is_empty()).fold(pointer.to_owned(), |at, step| below(&at, step))
}

/// A finding of the chemistry about what stands at a pointer.
pub(super) fn finding(pointer: &str, found: &Found) -> Finding {
    Finding {
        code: found.code.to_owned(),
        pointer: pointer.to_owned(),
        text: found.text.clone(),
        source: Some(sources::citation(found.source).to_owned()).filter(|citation| !citation.is_empty()),
    }
}

/// An assumption that the contract itself makes.
pub(super) fn assumed(
    code: &str,
    pointer: impl Into<String>,
    text: impl Into<String>,
    effect: impl Into<String>,
) -> Assumption {
    Assumption { code: code.to_owned(), pointer: pointer.into(), text: text.into(), effect: effect.into() }
}

/// Cautions on a finished water, and those that stand on everything to drink.
pub(super) fn cautions(finished: &Solution) -> Vec<Caution> {
    // Where a sheet is silent the salts alone are counted: what they bring is there, whatever else may be.
    let own = assessment::for_composition(|component| finished.mg_per_l(component)).into_iter();
    own.map(caution).chain(standing()).collect()
}

/// The cautions that stand on everything to drink.
pub(super) fn standing() -> Vec<Caution> {
    assessment::standing().into_iter().map(caution).collect()
}

/// A caution of the chemistry.
pub(super) fn caution(own: assessment::Caution) -> Caution {
    Caution { code: own.code, text: own.text, source: own.source }
}

/// Cautions on handling a salt.
pub(super) fn handling(salt: &Salt) -> impl Iterator<Item = Caution> + '_ {
    salt.handling.iter().map(|handling| Caution {
        code: format!("handling_{}", handling.hazard.word()),
        text: format!("{}: {}", salt.name, handling.text),
        source: sources::citation(handling.mark.source).to_owned(),
    })
}

/// What totals alone do not judge, where the state of the water could not be solved.
pub(super) fn not_judged(why: &StateError) -> Vec<NotJudged> {
    let why = format!("{why}; {}", why.mend());
    let entry = |what: &str| NotJudged { what: what.to_owned(), why: why.clone() };
    vec![entry("pH"), entry("carbon dioxide"), entry("saturation"), entry("conductivity")]
}

/// Where a request allows no assumptions: a fault for each one that was made.
pub(super) fn strictly(strict: Option<bool>, assumptions: &[Assumption]) -> Result<(), Vec<Fault>> {
    if strict != Some(true) || assumptions.is_empty() {
        return Ok(());
    }
    let refused = |assumption: &Assumption| {
        let message = format!("strict allows no assumption: {}", assumption.text);
        own(
            assumption.pointer.clone(),
            "assumption_refused",
            message,
            "state it in the request, or leave out strict",
        )
    };
    Err(assumptions.iter().map(refused).collect())
}
