//! The solved state of a water as an answer says it: solved where two quantities of the carbonate system are known,
//! else with the reason why not.

use springwright_chem::composition::closure::Closure;
use springwright_chem::composition::state::Solution;
use springwright_chem::equilibrium::scale::PH_CONVENTION;
use springwright_chem::properties::{Held, SolvedWater, StateError};

use serde_json::Value;

use super::faults::fault;
use super::{digest, said, water};
use crate::problem::Fault;
use crate::provenance::Provenance;
use crate::said::{Finding, NotJudged};
use crate::water::Water;

/// Name of the model behind a solved state.
const EQUILIBRIUM: &str = "equilibrium";
/// Ionic strength in mol/kg above which the choice of the pH scale shows.
const SCALE_SHOWS: f64 = 0.1;

/// A water as it is answered, with what goes beside it.
pub(super) struct Answered {
    /// The water.
    pub water: Water,
    /// The state behind it, where it was solved.
    pub solved: Option<SolvedWater>,
    /// What was not judged, and why.
    pub not_judged: Vec<NotJudged>,
    /// What the reader should know of the state.
    pub findings: Vec<Finding>,
}

impl Answered {
    /// A solved water.
    pub(super) fn of(solved: SolvedWater, volume_l: Option<f64>, closure: Closure) -> Answered {
        let (water, not_judged) = water::solved(&solved, volume_l, closure);
        Answered { water, not_judged, findings: findings(&solved), solved: Some(solved) }
    }

    /// What the answer to a request rests on.
    pub(super) fn provenance(&self, request: &Value) -> Provenance {
        if self.solved.is_some() { provenance(request) } else { digest::provenance(super::TOTALS, request) }
    }
}

/// What an answer with a solved water rests on.
pub(super) fn provenance(request: &Value) -> Provenance {
    let ph_convention = Some(PH_CONVENTION.to_owned());
    Provenance { ph_convention, ..digest::provenance(EQUILIBRIUM, request) }
}

/// The water of a solution whose carbon dioxide is held. A state that was asked for by name and cannot be solved is a
/// fault; a closed water that cannot be solved is answered by its totals, with the reason.
pub(super) fn answered(
    solution: &Solution,
    volume_l: impl Fn(&Solution) -> Option<f64>,
    held: Held,
    closure: Closure,
    unsolved: Option<&StateError>,
) -> Result<Answered, Vec<Fault>> {
    match SolvedWater::of(solution, held) {
        Ok(solved) => {
            let volume_l = volume_l(&solved.solution);
            Ok(Answered::of(solved, volume_l, closure))
        }
        Err(error) if held == Held::Closed => {
            let why = match (&error, unsolved) {
                (StateError::Carbonate, Some(deeper)) => deeper,
                _ => &error,
            };
            Ok(Answered {
                water: water::water(solution, volume_l(solution), closure),
                not_judged: said::not_judged(why),
                findings: Vec::new(),
                solved: None,
            })
        }
        Err(error) => Err(vec![fault("/co2", &error)]),
    }
}

/// What the reader should know of a solved state.
pub(super) fn findings(solved: &SolvedWater) -> Vec<Finding> {
    let mut findings = Vec::new();
    let strength = solved.state.ionic_strength;
    if strength > SCALE_SHOWS {
        findings.push(Finding {
            code: "ph_scale_chosen".to_owned(),
            pointer: String::new(),
            text: format!(
                "At an ionic strength of {strength:.2} mol/kg a pH depends on the scale that was chosen: by about \
                 0.05 at 1 mol/kg and 0.1 at 3, what a glass electrode adds not counted."
            ),
            source: None,
        });
    }
    for component in &solved.left_out {
        findings.push(Finding {
            code: "left_out_of_equilibrium".to_owned(),
            pointer: String::new(),
            text: format!(
                "The model has no constants for {}: its trace was left out of the equilibrium, which moves pH by less \
                 than 0.01.",
                component.id()
            ),
            source: None,
        });
    }
    findings
}
