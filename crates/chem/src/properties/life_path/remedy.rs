//! What to change so that a stage is clear: each change is searched by following the whole life again, and judged in full.

use super::{Carbon, LifePath, LifePathError, Step};
use crate::composition::mixing::mix;
use crate::composition::totals::Totals;
use crate::equilibrium::{Known, Model, Speciation};
use crate::phases::haze::{self, Verdict};
use crate::phases::haze_limits::Limits;
use crate::phases::solids::{Solid, solids};

/// Halvings of the range in which a change is searched: to 1 part in 256 of it.
const HALVINGS: usize = 8;
/// Most pure water in a mix, as a share of its water.
const MOST_PURE: f64 = 0.9;
/// Alkalinity that acid leaves at least, eq per kg of water.
const LEAST_ALKALINITY: f64 = 2e-4;

/// What is changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Change {
    /// Share of pure water in the mix, by mass of water.
    PureWater,
    /// Strong acid into the mix, eq per kg of water.
    Acid,
    /// CO2 that must stay in the water, mol per kg.
    CarbonDioxide,
    /// Temperature that must not be passed, °C.
    Temperature,
}

/// A change that works.
#[derive(Clone, Debug)]
pub struct Remedy {
    /// What is changed.
    pub change: Change,
    /// To how much: the least that was found.
    pub amount: f64,
    /// The verdict then.
    pub verdict: Verdict,
    /// The water then.
    pub state: Speciation,
}

impl LifePath {
    /// The changes that each by itself leave a stage clear; none where it is, and none of a kind that cannot.
    pub fn remedies(&self, steps: &[Step], at: usize, limits: &Limits) -> Vec<Remedy> {
        let judged: Vec<&'static Solid> =
            solids().iter().filter(|solid| limits.of(solid).judged && self.states(solid)).collect();
        let search = Search { path: self, steps, at, limits, judged };
        let kinds = [Change::PureWater, Change::Acid, Change::CarbonDioxide, Change::Temperature];
        kinds.into_iter().filter_map(|change| search.least(change)).collect()
    }

    /// The same life with other totals.
    fn with(&self, totals: Totals) -> LifePath {
        LifePath { totals, ..self.clone() }
    }
}

/// The search for the changes of one stage.
struct Search<'a> {
    path: &'a LifePath,
    steps: &'a [Step],
    at: usize,
    limits: &'a Limits,
    judged: Vec<&'static Solid>,
}

impl Search<'_> {
    /// The least change of a kind that leaves the stage clear.
    fn least(&self, change: Change) -> Option<Remedy> {
        let (none, most) = self.range(change)?;
        let mut found = self.tried(change, most)?;
        let (mut too_little, mut enough) = (none, most);
        for _ in 0..HALVINGS {
            let middle = 0.5 * (too_little + enough);
            match self.tried(change, middle) {
                Some(better) => (enough, found) = (middle, better),
                None => too_little = middle,
            }
        }
        Some(found)
    }

    /// Where a change begins and where it ends; none where it has no room.
    fn range(&self, change: Change) -> Option<(f64, f64)> {
        let here = &self.steps[self.at];
        let richest = self.steps[..self.at].iter().map(|step| step.state.co2()).fold(0.0, f64::max);
        let (none, most) = match change {
            Change::PureWater => (0.0, MOST_PURE),
            Change::Acid => (0.0, self.path.totals.alkalinity() - LEAST_ALKALINITY),
            Change::CarbonDioxide => (here.state.co2(), richest),
            Change::Temperature => (here.stage.celsius, 0.0),
        };
        let room = match change {
            Change::CarbonDioxide => most > 1.01 * none,
            Change::Temperature => none > 1.0,
            Change::PureWater | Change::Acid => most > 0.0,
        };
        room.then_some((none, most))
    }

    /// The water at the stage after a change, where it is clear then.
    fn tried(&self, change: Change, amount: f64) -> Option<Remedy> {
        let state = self.changed(change, amount).ok()?;
        let worst = haze::worst_of(&state, &self.judged, self.limits).ok()?;
        let verdict = worst.map_or(Verdict::Undersaturated, |worst| worst.verdict);
        (verdict <= Verdict::Clear).then_some(Remedy { change, amount, verdict, state })
    }

    fn changed(&self, change: Change, amount: f64) -> Result<Speciation, LifePathError> {
        let path = self.path;
        match change {
            Change::PureWater => {
                let parts = [(1.0 - amount, &path.totals), (amount, &Totals::pure())];
                path.with(mix(&parts).map_err(super::StateError::from)?).water_at(self.at)
            }
            Change::Acid => {
                let left = path.totals.alkalinity() - amount;
                path.with(path.totals.clone().with_alkalinity(left)).water_at(self.at)
            }
            Change::CarbonDioxide => {
                let model = Model::at_celsius(self.steps[self.at].stage.celsius)?;
                Ok(model.speciate(&path.given(Known::Co2(amount)))?)
            }
            Change::Temperature => {
                let mut cooler = path.clone();
                cooler.stages[self.at].celsius = amount;
                cooler.water_at(self.at)
            }
        }
    }
}

impl Carbon {
    /// By how much a stage and the one before it differ beside what was added and lost, as a share of what they hold.
    pub fn imbalance(&self, before: &Carbon) -> f64 {
        let off = self.held() - before.held() - self.added + self.lost;
        let whole = self.held().max(before.held());
        if whole > 0.0 { (off / whole).abs() } else { 0.0 }
    }
}
