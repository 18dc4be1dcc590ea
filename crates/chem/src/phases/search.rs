//! The counted search for the solids of a water.

use super::complementarity;
use super::fault::PhaseError;
use super::formation::{Formation, formations};
use super::frozen::{Condition, Frozen, dissolved, held_carbon};
use super::precipitation::{Precipitated, Settled};
use super::saturation;
use crate::equilibrium::constants::{LN_10, WATER_MOLAR_MASS};
use crate::equilibrium::{EquilibriumError, Given, Input, Known, Speciation, System, linear, species_table};
use crate::matter::component::Component;
use std::sync::Arc;

/// Most rounds, each one solved water.
const MOST_ROUNDS: usize = 60;
/// Distance from balance at which the search is content, log10 units.
const TIGHT: f64 = 1e-10;
/// Distance from balance beyond which no answer is given, log10 units.
const TOLERANCE: f64 = 1e-6;
/// Distance from balance below which exact slopes are worth their price, log10 units.
const NEAR: f64 = 0.1;
/// Distance from balance below which the slopes of the round before do as well, log10 units.
const NEARER: f64 = 1e-5;
/// Index from which an absent solid is watched, log10 units.
const WATCHED: f64 = -2.0;
/// Most of a solid that is dissolved at the outset, so that its ions are in the water, mol per kg.
const TRACE: f64 = 1e-6;
/// ln Ω of a solid of which the water holds no ion.
const NO_ION: f64 = -1e4;
/// Most shortenings of a step.
const MOST_SHORTENINGS: usize = 12;

/// A water with the solids that take part.
pub(super) struct Search {
    system: Arc<System>,
    start: Given,
    solids: Vec<(&'static Formation, f64)>,
}

/// A trial: what has formed of each solid, and the water that is left.
struct Trial {
    formed: Vec<f64>,
    kilograms: f64,
    state: Speciation,
    ln_omega: Vec<f64>,
    off: f64,
}

/// -d ln Ω / d formed of some solids, row-major.
struct Slopes {
    watched: Vec<usize>,
    matrix: Vec<f64>,
}

impl Search {
    /// The search for a water by alkalinity and one other quantity, and the solids by their place in the table.
    pub(super) fn new(system: Arc<System>, start: Given, playing: &[(usize, f64)]) -> Search {
        let solids = playing.iter().map(|(at, amount)| (&formations()[*at], *amount)).collect();
        Search { system, start, solids }
    }

    /// Runs it, from the solved water at the outset where one is at hand.
    pub(super) fn run(mut self, outset: Option<Speciation>) -> Result<Precipitated, PhaseError> {
        let mut now = self.outset(outset)?;
        let (mut rounds, mut known) = (0, None);
        while now.off > TIGHT && rounds < MOST_ROUNDS {
            rounds += 1;
            let watched = self.watched(&now);
            let slopes = known.take().filter(|old: &Slopes| now.off <= NEARER && old.watched == watched);
            known = slopes.or_else(|| (now.off <= NEAR).then(|| self.slopes(&now, &watched)).flatten());
            let near = known.as_ref().and_then(|slopes| self.newton(&now, slopes));
            let far = || Frozen::of(&now.state, now.kilograms, &self.conditions(&now, &watched)).solve();
            let Some(amounts) = near.or_else(far) else { break };
            let Some(next) = self.towards(&now, &watched, &amounts) else { break };
            now = next;
        }
        if now.off > TOLERANCE || now.off.is_nan() {
            return Err(PhaseError::NotConverged { rounds, residual: now.off });
        }
        Ok(self.answer(now, rounds))
    }

    /// The water at the outset, with a trace of every solid that lies in it; solids whose ions are not all here leave.
    fn outset(&mut self, solved: Option<Speciation>) -> Result<Trial, PhaseError> {
        let trace = |start: f64| -f64::min(TRACE, 0.5 * start);
        let formed: Vec<f64> = self.solids.iter().map(|(_, start)| trace(*start)).collect();
        let nothing = PhaseError::NotConverged { rounds: 0, residual: f64::NAN };
        let state = match solved {
            Some(state) => state,
            None => self.water(&formed).1.ok_or(nothing)??,
        };
        self.solids.retain(|(made, _)| saturation::of(&state, made.solid).is_some());
        let formed: Vec<f64> = self.solids.iter().map(|(_, start)| trace(*start)).collect();
        let (kilograms, _) = self.kept(&formed);
        Ok(self.trial(formed, kilograms, state))
    }

    /// kg of water left and the water given by what is left in it; none when more formed than there was.
    fn kept(&self, formed: &[f64]) -> (f64, Option<Given>) {
        let mut left = self.start.clone();
        let mut kilograms = 1.0;
        let (mut alkalinity, mut carbonate) = (0.0, 0.0);
        for ((made, _), x) in self.solids.iter().zip(formed) {
            let brings = made.brings;
            brings.components.iter().for_each(|(component, n)| left.totals[component.index()] -= n * x);
            alkalinity += brings.alkalinity * x;
            carbonate += brings.carbonate * x;
            kilograms -= WATER_MOLAR_MASS * brings.water * x;
        }
        left.totals.iter_mut().for_each(|total| *total /= kilograms);
        left.carbonate = self.start.carbonate.map(|known| match known {
            Known::Alkalinity(value) => Known::Alkalinity((value - alkalinity) / kilograms),
            Known::Dic(value) => Known::Dic((value - carbonate) / kilograms),
            held => held,
        });
        let empty = |known: &Known| matches!(known, Known::Dic(value) if *value < 0.0);
        let short = left.totals.iter().any(|total| *total < 0.0) || left.carbonate.iter().any(empty);
        (kilograms, (kilograms > 0.0 && !short).then_some(left))
    }

    fn water(&self, formed: &[f64]) -> (f64, Option<Result<Speciation, EquilibriumError>>) {
        let (kilograms, left) = self.kept(formed);
        (kilograms, left.map(|left| self.system.solve(&left)))
    }

    fn trial(&self, formed: Vec<f64>, kilograms: f64, state: Speciation) -> Trial {
        let omega = |made: &Formation| saturation::of(&state, made.solid).map_or(NO_ION, |s| LN_10 * s.index);
        let ln_omega: Vec<f64> = self.solids.iter().map(|(made, _)| omega(made)).collect();
        let mut off = 0.0_f64;
        for (((_, start), x), ln) in self.solids.iter().zip(&formed).zip(&ln_omega) {
            let away = if start + x > 0.0 { ln.abs() } else { ln.max(0.0) };
            off = off.max(away / LN_10);
        }
        Trial { formed, kilograms, state, ln_omega, off }
    }

    /// The solids that are there or may soon be.
    fn watched(&self, now: &Trial) -> Vec<usize> {
        let near =
            |at: &usize| self.solids[*at].1 + now.formed[*at] > 0.0 || now.ln_omega[*at] > LN_10 * WATCHED;
        (0..self.solids.len()).filter(near).collect()
    }

    fn conditions(&self, now: &Trial, watched: &[usize]) -> Vec<Condition> {
        let condition = |at: &usize| {
            let (made, start) = &self.solids[*at];
            let amount = start + now.formed[*at];
            Condition { ln_omega: now.ln_omega[*at], masters: made.masters.clone(), amount }
        };
        watched.iter().map(condition).collect()
    }

    /// The slopes of the watched solids, from the exact sensitivities of the water.
    fn slopes(&self, now: &Trial, watched: &[usize]) -> Option<Slopes> {
        let mut inputs = vec![Input::FirstCarbonate];
        if !held_carbon(&now.state) {
            inputs.push(Input::SecondCarbonate);
        }
        let given = now.state.given();
        let here = |component: &Component| given.totals[component.index()] > 0.0;
        inputs.extend(Component::ALL.into_iter().filter(here).map(Input::Component));
        let by = now.state.sensitivities(&inputs)?;
        let s = watched.len();
        let mut matrix = vec![0.0; s * s];
        let moved: Vec<Vec<f64>> = watched
            .iter()
            .map(|at| inputs.iter().map(|input| self.moved(now, *at, *input)).collect())
            .collect();
        for (i, at) in watched.iter().enumerate() {
            let solid = self.solids[*at].0.solid;
            for (column, input) in inputs.iter().enumerate() {
                let slope = LN_10 * by.saturation_index(solid, *input)?;
                (0..s).for_each(|j| matrix[i * s + j] -= slope * moved[j][column]);
            }
        }
        Some(Slopes { watched: watched.to_vec(), matrix })
    }

    /// How an input of the water moves for each mol of a solid that forms: what it takes out, and the water it takes.
    fn moved(&self, now: &Trial, at: usize, input: Input) -> f64 {
        let brings = self.solids[at].0.brings;
        let given = now.state.given();
        let (taken, there) = match input {
            Input::FirstCarbonate => (brings.alkalinity, given.carbonate[0].value()),
            Input::SecondCarbonate => (brings.carbonate, given.carbonate[1].value()),
            Input::Component(asked) => {
                let own = brings.components.iter().filter(|(component, _)| *component == asked);
                (own.map(|(_, n)| n).sum(), given.totals[asked.index()])
            }
            Input::LnConstant(_) => (0.0, 0.0),
        };
        (WATER_MOLAR_MASS * brings.water * there - taken) / now.kilograms
    }

    /// The amounts of the watched solids at the end of a Newton step.
    fn newton(&self, now: &Trial, slopes: &Slopes) -> Option<Vec<f64>> {
        let Slopes { watched, matrix: a } = slopes;
        let s = watched.len();
        let there: Vec<f64> = watched.iter().map(|at| self.solids[*at].1 + now.formed[*at]).collect();
        let omega: Vec<f64> = watched.iter().map(|at| now.ln_omega[*at]).collect();
        let b: Vec<f64> =
            (0..s).map(|i| omega[i] + (0..s).map(|j| a[i * s + j] * there[j]).sum::<f64>()).collect();
        let answer = complementarity::solve(a, &b, s, 0.1 * LN_10 * TIGHT)?;
        // the step of the members once more by itself: a difference of two large amounts would lose digits
        let members = &answer.members;
        let mut step: Vec<f64> = there.iter().map(|n| -n).collect();
        let mut matrix: Vec<f64> =
            members.iter().flat_map(|i| members.iter().map(|j| a[*i * s + *j])).collect();
        let gone = |i: usize| -> f64 {
            (0..s).filter(|j| !members.contains(j)).map(|j| a[i * s + j] * there[j]).sum()
        };
        let mut right: Vec<f64> = members.iter().map(|i| omega[*i] + gone(*i)).collect();
        if !linear::solve(&mut matrix, &mut right, members.len(), 1) {
            return None;
        }
        members.iter().zip(&right).for_each(|(i, value)| step[*i] = *value);
        Some(step.iter().zip(&there).map(|(step, n)| (n + step).max(0.0)).collect())
    }

    /// The trial at these amounts of the watched solids, or as far towards it as brings the balance nearer.
    fn towards(&self, now: &Trial, watched: &[usize], amounts: &[f64]) -> Option<Trial> {
        let mut nearest: Option<Trial> = None;
        let mut share = 1.0;
        for _ in 0..MOST_SHORTENINGS {
            let mut formed = now.formed.clone();
            for (at, amount) in watched.iter().zip(amounts) {
                let start = self.solids[*at].1;
                let end = if share == 1.0 {
                    amount - start
                } else {
                    formed[*at] + share * (amount - start - formed[*at])
                };
                // what has gone is exactly gone
                formed[*at] = if share == 1.0 && *amount == 0.0 { -start } else { end };
            }
            if let (kilograms, Some(Ok(state))) = self.water(&formed) {
                let trial = self.trial(formed, kilograms, state);
                if trial.off < now.off {
                    return Some(trial);
                }
                if nearest.as_ref().is_none_or(|kept| trial.off < kept.off) {
                    nearest = Some(trial);
                }
            }
            share *= 0.5;
        }
        // no step brings it nearer: a solid that just came in may look worse before it is better
        nearest.filter(|_| now.off > TOLERANCE)
    }

    fn answer(&self, end: Trial, rounds: usize) -> Precipitated {
        let celsius = end.state.celsius();
        let settled = |((made, start), (x, ln)): (&(&'static Formation, f64), (&f64, &f64))| Settled {
            solid: made.solid,
            at_start: *start,
            at_end: start + x,
            index: ln / LN_10,
            measured: made.solid.is_measured_at(celsius),
        };
        let solids: Vec<Settled> =
            self.solids.iter().zip(end.formed.iter().zip(&end.ln_omega)).map(settled).collect();
        let (ledger, gas) = self.ledger(&end);
        Precipitated {
            state: end.state,
            kilograms: end.kilograms,
            solids,
            gas,
            complementarity: end.off,
            ledger,
            rounds,
        }
    }

    /// The largest share by which start and end differ, counted from the species themselves, and the CO2 that left.
    fn ledger(&self, end: &Trial) -> (f64, f64) {
        let table = species_table();
        let (kg, mut worst) = (end.kilograms, 0.0_f64);
        let mut compare = |before: f64, after: f64, size: f64| {
            if size > 0.0 {
                worst = worst.max((before - after).abs() / size);
            }
        };
        let taken = |of: &dyn Fn(&Formation) -> f64| -> (f64, f64) {
            let rows = self.solids.iter().zip(&end.formed);
            rows.fold((0.0, 0.0), |(a, b), ((made, start), x)| {
                (a + of(made) * start, b + of(made) * (start + x))
            })
        };
        for (master, amount) in dissolved(&end.state).into_iter().enumerate() {
            let component = Component::read(table.masters[master]).filter(|c| *c != Component::HCO3);
            let Some(component) = component else { continue };
            let of = |made: &Formation| -> f64 {
                made.brings.components.iter().filter(|(c, _)| *c == component).map(|(_, n)| n).sum()
            };
            let (before, after) = taken(&of);
            let whole = self.start.totals[component.index()] + before;
            compare(whole, kg * amount + after, whole);
        }
        let (before, after) = taken(&|made| made.brings.alkalinity);
        let whole = self.start.carbonate[0].value() + before;
        let size = whole.abs() + before + kg * end.state.dic;
        compare(whole, kg * end.state.alkalinity + after, size);
        let (before, after) = taken(&|made| made.brings.carbonate);
        let out = kg * end.state.dic + after;
        match self.start.carbonate[1] {
            Known::Dic(value) => {
                compare(value + before, out, value + before);
                (worst, 0.0)
            }
            // under a gas carbonate is not conserved; what it took is told against the water at the start
            _ => (worst, self.carbonate_at_start() + before - out),
        }
    }

    fn carbonate_at_start(&self) -> f64 {
        self.system.solve(&self.start).map_or(f64::NAN, |state| state.dic)
    }
}
