//! What a water lets fall and what it takes up, until no solid has a reason to move: several solids at once, with the CO2
//! closed in or held by a gas.
//!
//! In balance each solid is either there, and the water is just saturated with it, or it is not there, and the water is
//! not supersaturated: n ≥ 0, SI ≤ 0, n·SI = 0. Far from that the way goes by the minimum of the water at its present
//! activity coefficients, near to it by Newton steps with the exact
//! [sensitivities](crate::equilibrium::sensitivity) of the indices. Both are counted. What forms depends on the totals
//! alone: not on the order in which solids are named, nor on the way.

use super::fault::PhaseError;
use super::formation::{formations, place};
use super::haze_limits;
use super::search::Search;
use super::solids::{Solid, find, solids};
use crate::equilibrium::{Given, Known, Model, Speciation, System, validity};
use crate::matter::component::Component;
use std::sync::Arc;

/// The solids that a water may form, and those that lie in it at the start.
///
/// A solid that lies in the water at the start may dissolve and may grow, whether or not it was allowed to form.
#[derive(Clone, Debug)]
pub struct Solids {
    /// Whether each solid of the table takes part, and how much of it is there at the start.
    entries: Vec<(bool, f64)>,
}

impl Solids {
    /// No solid may form.
    pub fn none() -> Solids {
        Solids { entries: vec![(false, 0.0); solids().len()] }
    }

    /// Every solid that forms in a drink within its life may form: all of the table but those that only tell the
    /// stable end (dolomite, magnesite, quartz, chalcedony, hydroxyapatite), see [`haze_limits`].
    pub fn that_form() -> Solids {
        Solids { entries: solids().iter().map(|solid| (haze_limits::of(solid).forms, 0.0)).collect() }
    }

    /// Also a solid, by name.
    ///
    /// # Errors
    /// A name that no solid has.
    pub fn allow(mut self, id: &str) -> Result<Solids, PhaseError> {
        self.entries[named(id)?].0 = true;
        Ok(self)
    }

    /// Without a solid, by name; what lies there at the start stays in play.
    ///
    /// # Errors
    /// A name that no solid has.
    pub fn block(mut self, id: &str) -> Result<Solids, PhaseError> {
        self.entries[named(id)?].0 = false;
        Ok(self)
    }

    /// With an amount of a solid in the water at the start, mol per kg of water.
    ///
    /// # Errors
    /// A name that no solid has; an amount that is negative or not a number.
    pub fn with(mut self, id: &str, amount: f64) -> Result<Solids, PhaseError> {
        let at = named(id)?;
        if !amount.is_finite() || amount < 0.0 {
            return Err(PhaseError::Amount { what: solids()[at].id, value: amount });
        }
        self.entries[at].1 += amount;
        Ok(self)
    }

    /// The places in the table that take part, each with its amount at the start.
    fn playing(&self) -> Vec<(usize, f64)> {
        let entries = self.entries.iter().enumerate();
        entries
            .filter(|(_, (allowed, start))| *allowed || *start > 0.0)
            .map(|(at, (_, n))| (at, *n))
            .collect()
    }
}

fn named(id: &str) -> Result<usize, PhaseError> {
    find(id).map(place).ok_or_else(|| PhaseError::UnknownSolid { id: id.to_owned() })
}

/// One solid at the end.
#[derive(Clone, Copy, Debug)]
pub struct Settled {
    /// The solid.
    pub solid: &'static Solid,
    /// Amount at the start, mol per kg of water at the start.
    pub at_start: f64,
    /// Amount at the end, mol per kg of water at the start.
    pub at_end: f64,
    /// Saturation index at the end; zero for what is there.
    pub index: f64,
    /// Whether the temperature lies within the measurements of its constant.
    pub measured: bool,
}

impl Settled {
    /// What has formed, below zero what has dissolved, mol per kg of water at the start.
    pub fn formed(&self) -> f64 {
        self.at_end - self.at_start
    }
}

/// A water in balance with its solids.
#[derive(Clone, Debug)]
pub struct Precipitated {
    /// The water that is left.
    pub state: Speciation,
    /// kg of water left for each kg at the start: crystals take water in and give it back.
    pub kilograms: f64,
    /// Every solid that took part and whose ions are all here, in the order of the table.
    pub solids: Vec<Settled>,
    /// CO2 that the gas took up, below zero what it gave, mol per kg of water at the start; zero where it was closed in.
    pub gas: f64,
    /// How far the worst solid is from its balance, log10 units: |SI| of what is there, SI above zero of what is not.
    pub complementarity: f64,
    /// The largest share of a component, of alkalinity or of carbonate that start and end differ by.
    pub ledger: f64,
    /// Rounds of the counted search.
    pub rounds: usize,
}

impl Precipitated {
    /// What became of a solid; none where it took no part or an ion of it is absent.
    pub fn solid(&self, id: &str) -> Option<&Settled> {
        self.solids.iter().find(|settled| settled.solid.id == id)
    }

    /// What has formed of a solid, mol per kg of water at the start; zero where it took no part.
    pub fn formed(&self, id: &str) -> f64 {
        self.solid(id).map_or(0.0, Settled::formed)
    }
}

/// Lets a water come to balance with its solids. A water given by dissolved carbonate keeps it in water and solids
/// together; one given by a CO2 pressure, or by dissolved CO2, is held under that gas. A given pH stands for the water
/// at the start and moves; alkalinity is conserved always.
///
/// ```
/// use springwright_chem::equilibrium::{Given, Known, Model};
/// use springwright_chem::matter::component::Component;
/// use springwright_chem::phases::precipitation::{Solids, precipitate};
/// let model = Model::at_celsius(20.0)?;
/// // 0.2 g of chalk in a litre of pure water under 1 bar of CO2 is gone
/// let water = Given::new(Known::Alkalinity(0.0), Known::Pco2(1.0));
/// let chalk = Solids::none().with("calcite", 0.002)?;
/// assert_eq!(precipitate(&model, &water, &chalk)?.formed("calcite"), -0.002);
/// // in air most of it stays
/// let water = Given::new(Known::Alkalinity(0.0), Known::Pco2(4.2e-4));
/// assert!(precipitate(&model, &water, &chalk)?.formed("calcite") > -0.0007);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// As [`Model::speciate`] for the water at the end; a search that did not settle.
pub fn precipitate(model: &Model, given: &Given, solids: &Solids) -> Result<Precipitated, PhaseError> {
    check(given)?;
    let solve = || Ok(Arc::new(System::of(model, &given.totals)?).solve(given)?);
    let start = start(given, solve)?;
    let playing = solids.playing();
    let mut totals = start.totals;
    for (at, amount) in playing.iter().filter(|(_, amount)| *amount > 0.0) {
        let brings = formations()[*at].brings;
        brings.components.iter().for_each(|(component, n)| totals[component.index()] += n * amount);
    }
    let system = Arc::new(System::of(model, &totals)?);
    let settled = Search::new(system, start, &playing).run(None)?;
    validity::check(&settled.state)?;
    Ok(settled)
}

/// What a solved water lets fall of one solid alone, mol per kg of water; its other solids wait.
pub(super) fn falls(state: &Speciation, solid: &'static Solid) -> Result<f64, PhaseError> {
    let start = start(state.given(), || Ok(state.clone()))?;
    let outset = (start == *state.given()).then(|| state.clone());
    let settled = Search::new(state.system.clone(), start, &[(place(solid), 0.0)]).run(outset)?;
    Ok(settled.formed(solid.id))
}

/// The water by alkalinity and by what is kept of its carbonate; it is solved where it is not given so.
fn start(given: &Given, solve: impl Fn() -> Result<Speciation, PhaseError>) -> Result<Given, PhaseError> {
    let [first, second] = given.carbonate;
    let gas = |known: &&Known| matches!(known, Known::Pco2(_) | Known::Co2(_));
    let kept = |known: Known| matches!(known, Known::Dic(_)) || gas(&&known);
    let mut start = given.clone();
    start.carbonate = match (first, second) {
        (Known::Alkalinity(_), other) if kept(other) => [first, second],
        (other, Known::Alkalinity(_)) if kept(other) => [second, first],
        _ => {
            let state = solve()?;
            let has_ph = given.carbonate.iter().any(|known| matches!(known, Known::Ph(_)));
            let held = given.carbonate.iter().find(gas).filter(|_| has_ph);
            [Known::Alkalinity(state.alkalinity), held.copied().unwrap_or(Known::Dic(state.dic))]
        }
    };
    Ok(start)
}

/// Amounts that are no amounts are refused here, because the search divides by them.
fn check(given: &Given) -> Result<(), PhaseError> {
    let amount = |component: Component| (component.id(), given.totals[component.index()]);
    let wrong = |(_, value): &(&'static str, f64)| !value.is_finite() || *value < 0.0;
    match Component::ALL.into_iter().map(amount).find(wrong) {
        Some((what, value)) => Err(PhaseError::Amount { what, value }),
        None => Ok(()),
    }
}
