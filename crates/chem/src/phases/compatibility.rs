//! What may stand together: every salt alone, every pair and the whole set, at the strengths and in the state in which
//! they will be used.

use super::fault::PhaseError;
use super::formation::{Formation, formations};
use super::haze::{Haze, Verdict, worst_of};
use super::haze_limits::{Limits, TimeHint};
use super::solids::Solid;
use crate::composition::added::Added;
use crate::composition::dissolved::is_carbonate;
use crate::composition::totals::Totals;
use crate::equilibrium::{Given, Known, Model, System, is_known, species_table, validity};
use crate::matter::catalogue::{MatterError, Salt};
use crate::matter::component::Component;
use libm::log10;
use std::collections::BTreeMap;
use std::sync::Arc;

/// An index so far below zero by amounts alone needs no solving, log10 units.
const FAR_BELOW: f64 = -0.3;
/// Sum of all amounts up to which no activity exceeds the amount that it belongs to, mol/kg.
const THIN: f64 = 1.0;
/// -log10 of the ion product of water at 0 °C, the highest: pH of 1 mol/kg of hydroxide.
const WATER_PK: f64 = 14.95;
/// Hydroxide that water has by itself, mol/kg, and to spare.
const WATER_ALONE: f64 = 1e-6;

/// A salt at the strength at which it is used.
#[derive(Clone, Debug)]
pub struct Portion {
    /// The salt.
    pub salt: &'static Salt,
    /// mol per kg of water of the mix.
    pub mol_per_kg: f64,
    added: Added,
}

impl Portion {
    /// A salt by amount, mol per kg of water of the mix.
    ///
    /// # Errors
    /// A salt without one composition.
    pub fn of_moles(salt: &'static Salt, mol_per_kg: f64) -> Result<Portion, MatterError> {
        Ok(Portion { salt, mol_per_kg, added: Added::of_salt(salt)? })
    }

    /// A salt by mass, g per kg of water of the mix: in a drink the same as g/L within a per cent.
    ///
    /// # Errors
    /// A salt without one composition.
    pub fn of_grams(salt: &'static Salt, g_per_kg: f64) -> Result<Portion, MatterError> {
        let mut portion = Portion::of_moles(salt, 0.0)?;
        portion.mol_per_kg = g_per_kg / portion.added.molar_mass();
        Ok(portion)
    }
}

/// In which state of carbonate salts meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Surroundings {
    /// What the salts and the water bring stays.
    Closed,
    /// Under a partial pressure of CO2, bar.
    Gas(f64),
    /// At a pH that acid or base outside this list sets; carbonate is what salts and water bring.
    Ph(f64),
}

/// The water that salts meet in.
#[derive(Clone, Copy, Debug)]
pub struct Meeting<'a> {
    /// The model at the temperature.
    pub model: &'a Model,
    /// The water before the salts.
    pub water: &'a Totals,
    /// The state.
    pub surroundings: Surroundings,
    /// The limits to judge by.
    pub limits: &'a Limits,
}

/// When a cloud comes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum When {
    /// It does not.
    Never,
    /// The mix stands for a while.
    InTime,
    /// Within hours at the latest.
    AtOnce,
}

/// What comes of salts together.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// When a cloud comes.
    pub when: When,
    /// The solid that decides; none where nothing can form.
    pub solid: Option<&'static Solid>,
    /// Its saturation index.
    pub index: Option<f64>,
    /// What falls of it, mg per kg of water; none where the index leaves no question.
    pub mg_per_kg: Option<f64>,
    /// Distance to its next limit.
    pub margin: Option<f64>,
    /// How long it takes, where a rate is published.
    pub time: Option<&'static TimeHint>,
    /// Whether one of the salts does the same by itself.
    pub by_itself: bool,
}

/// Every salt, every pair and the whole set.
#[derive(Clone, Debug)]
pub struct Compatibility {
    count: usize,
    cells: Vec<Result<Outcome, PhaseError>>,
    /// All salts together.
    pub together: Result<Outcome, PhaseError>,
}

impl Compatibility {
    /// How many salts there are.
    pub fn count(&self) -> usize {
        self.count
    }

    /// What comes of two salts of the list, in either order; of one salt alone where both are the same. None beyond
    /// the list.
    pub fn pair(&self, one: usize, other: usize) -> Option<&Result<Outcome, PhaseError>> {
        let (low, high) = (one.min(other), one.max(other));
        (high < self.count).then(|| &self.cells[high * (high + 1) / 2 + low])
    }
}

/// Judges every salt, every pair and the whole set. A pair that the model cannot judge carries its error; the others do
/// not suffer.
///
/// ```
/// use springwright_chem::composition::totals::Totals;
/// use springwright_chem::equilibrium::Model;
/// use springwright_chem::matter::catalogue;
/// use springwright_chem::phases::compatibility::{Meeting, Portion, Surroundings, When, check};
/// use springwright_chem::phases::haze_limits::Limits;
/// let shelf = [
///     Portion::of_grams(catalogue::find("sodium_chloride")?, 1.0)?,
///     Portion::of_grams(catalogue::find("potassium_chloride")?, 1.0)?,
///     Portion::of_grams(catalogue::find("calcium_chloride_dihydrate")?, 30.0)?,
///     Portion::of_grams(catalogue::find("magnesium_sulfate_heptahydrate")?, 30.0)?,
/// ];
/// let (model, water, limits) = (Model::at_celsius(20.0)?, Totals::pure(), Limits::default());
/// let meeting = Meeting { model: &model, water: &water, surroundings: Surroundings::Closed, limits: &limits };
/// let found = check(&meeting, &shelf);
/// let when = |one, other| found.pair(one, other).map(|pair| pair.as_ref().map(|p| p.when));
/// assert_eq!(when(0, 1), Some(Ok(When::Never)));
/// assert_eq!(when(2, 3), Some(Ok(When::AtOnce)));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn check(meeting: &Meeting<'_>, portions: &[Portion]) -> Compatibility {
    let mut judge = Judge::new(meeting);
    let count = portions.len();
    let mut cells: Vec<Result<Outcome, PhaseError>> = Vec::with_capacity(count * (count + 1) / 2);
    let mut alone: Vec<Option<(When, Option<&'static Solid>)>> = Vec::with_capacity(count);
    for high in 0..count {
        let single = judge.outcome(&[&portions[high]]);
        alone.push(single.as_ref().ok().map(|outcome| (outcome.when, outcome.solid)));
        for low in 0..high {
            let mut pair = judge.outcome(&[&portions[low], &portions[high]]);
            if let Ok(outcome) = &mut pair {
                outcome.by_itself = [low, high].iter().any(|at| does_the_same(alone[*at], outcome));
            }
            cells.push(pair);
        }
        cells.push(single);
    }
    let all: Vec<&Portion> = portions.iter().collect();
    let mut together = judge.outcome(&all);
    if let Ok(outcome) = &mut together {
        outcome.by_itself = alone.iter().any(|one| does_the_same(*one, outcome));
    }
    Compatibility { count, cells, together }
}

fn does_the_same(alone: Option<(When, Option<&'static Solid>)>, outcome: &Outcome) -> bool {
    let same = |a: Option<&'static Solid>| a.map(|solid| solid.id) == outcome.solid.map(|solid| solid.id);
    outcome.when > When::Never && alone.is_some_and(|(when, solid)| when == outcome.when && same(solid))
}

/// Judges mixes of one meeting; waters of the same components share a system.
pub(super) struct Judge<'a> {
    meeting: &'a Meeting<'a>,
    log_k: Vec<f64>,
    systems: BTreeMap<u64, Arc<System>>,
}

impl<'a> Judge<'a> {
    pub(super) fn new(meeting: &'a Meeting<'a>) -> Judge<'a> {
        let log_k = formations().iter().map(|made| made.solid.log_k(meeting.model.kelvin())).collect();
        Judge { meeting, log_k, systems: BTreeMap::new() }
    }

    /// What comes of some salts together.
    pub(super) fn outcome(&mut self, portions: &[&Portion]) -> Result<Outcome, PhaseError> {
        let given = self.given(portions)?;
        let candidates = self.candidates(&given);
        if candidates.is_empty() {
            return Ok(Outcome::nothing());
        }
        let system = self.system(&given)?;
        let state = system.solve(&given)?;
        validity::check(&state)?;
        let worst = worst_of(&state, &candidates, self.meeting.limits)?;
        Ok(worst.map_or_else(Outcome::nothing, |worst| Outcome::of(&worst)))
    }

    fn given(&self, portions: &[&Portion]) -> Result<Given, PhaseError> {
        let parts: Vec<(f64, &Added)> = portions.iter().map(|p| (p.mol_per_kg, &p.added)).collect();
        let totals = self.meeting.water.with_added(&parts)?;
        let mut given = Given::closed(&totals).ok_or(PhaseError::Carbonate)?;
        match self.meeting.surroundings {
            Surroundings::Closed => {}
            Surroundings::Gas(bar) => given.carbonate[1] = Known::Pco2(bar),
            Surroundings::Ph(ph) => given.carbonate[0] = Known::Ph(ph),
        }
        Ok(given)
    }

    fn system(&mut self, given: &Given) -> Result<Arc<System>, PhaseError> {
        let here = |component: &Component| given.totals[component.index()] > 0.0;
        let set = Component::ALL.into_iter().filter(here).fold(0_u64, |set, c| set | 1 << c.index());
        if let Some(system) = self.systems.get(&set) {
            return Ok(system.clone());
        }
        let system = Arc::new(System::of(self.meeting.model, &given.totals)?);
        self.systems.insert(set, system.clone());
        Ok(system)
    }

    /// The solids that haze is judged by and that these amounts could form at all. A component without constants is
    /// left to the solver to refuse.
    fn candidates(&self, given: &Given) -> Vec<&'static Solid> {
        let strange = |c: &Component| given.totals[c.index()] > 0.0 && !is_known(*c);
        let sum: f64 = given.totals.iter().sum();
        let ask = sum > THIN || Component::ALL.iter().any(strange);
        let could = |(made, log_k): &(&'static Formation, &f64)| {
            self.meeting.limits.of(made.solid).judged
                && most_index(made, **log_k, given).is_some_and(|index| ask || index > FAR_BELOW)
        };
        formations().iter().zip(&self.log_k).filter(could).map(|(made, _)| made.solid).collect()
    }
}

/// The index of a solid if everything stood as its ions; none where one is absent.
fn most_index(made: &Formation, log_k: f64, given: &Given) -> Option<f64> {
    let table = species_table();
    // under a gas or at a pH carbonate may be more than what was brought
    let carbonate = match given.carbonate[1] {
        Known::Dic(value) => value,
        other => given.carbonate[0].value().abs() + other.value(),
    };
    let most_ph = most_ph(given);
    let mut index = -log_k;
    for (species, n) in &made.solid.products {
        let row = &table.species[*species];
        let mut other = row.made_of.iter().filter_map(|(master, _)| Component::read(table.masters[*master]));
        index += n * match other.next() {
            None => {
                if *n < 0.0 {
                    -most_ph
                } else {
                    0.0
                }
            }
            Some(component) => {
                let amount =
                    if is_carbonate(component) { carbonate } else { given.totals[component.index()] };
                if amount <= 0.0 {
                    return None;
                }
                log10(amount)
            }
        };
    }
    Some(index)
}

/// The pH if no weak acid took any of the alkalinity.
fn most_ph(given: &Given) -> f64 {
    // weak acids that may carry a positive charge leave their share to hydroxide
    let lent: f64 =
        Component::ALL.into_iter().map(|c| c.top_charge().max(0.0) * given.totals[c.index()]).sum();
    match given.carbonate[0] {
        Known::Ph(ph) => ph + 1.0,
        known => (WATER_PK + log10((known.value() + lent).max(0.0) + WATER_ALONE)).min(WATER_PK),
    }
}

impl Outcome {
    fn nothing() -> Outcome {
        Outcome {
            when: When::Never,
            solid: None,
            index: None,
            mg_per_kg: None,
            margin: None,
            time: None,
            by_itself: false,
        }
    }

    fn of(worst: &Haze) -> Outcome {
        Outcome {
            when: match worst.verdict {
                Verdict::Clouds => When::AtOnce,
                Verdict::Metastable => When::InTime,
                _ => When::Never,
            },
            solid: Some(worst.saturation.solid),
            index: Some(worst.saturation.index),
            mg_per_kg: worst.precipitable_mg_per_kg,
            margin: Some(worst.margin),
            time: worst.time,
            by_itself: false,
        }
    }
}
