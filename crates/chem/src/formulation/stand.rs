//! Steps that stand: the water that they make, solved in full, with the shares that are best in it.

use super::counting::Rule;
use super::fault::FormulationError;
use super::finish::{Poured, poured};
use super::frame::{Frame, Litre};
use super::hinge::{missed, value};
use super::means::Order;
use super::settle::{Settled, shares_of};
use super::tangent::see;
use crate::numeric::{Answer, Counts, Level, Objective, Reached, Row, TieBreak};
use crate::properties::SolvedWater;

/// Most rounds until the shares of the waters agree with the state that they make.
const MOST_ROUNDS: usize = 20;
/// From this round on shares are moved only half of the way.
const DAMPED_FROM: usize = 6;
/// Shares that differ by less are the same.
const SAME_SHARE: f64 = 1e-12;
/// Objectives that differ by less tie.
pub(super) const TIE: f64 = 1e-9;
/// A demand that is missed by less, over its size, is held.
pub(super) const HELD: f64 = 2e-9;

/// The water of real steps and shares with its tangents in the litre.
///
/// # Errors
/// A water that cannot be solved; [`FormulationError::SearchEnded`] where its litre does not settle.
pub(super) fn laid(
    order: &Order,
    rules: &[Rule],
    balance_of: &[usize],
    point: (&[f64], &[f64]),
    litre: &Litre,
    chord: bool,
) -> Result<(Poured, SolvedWater), FormulationError> {
    let mut water = poured(order, rules, balance_of, point, litre)?.ok_or(FormulationError::SearchEnded)?;
    let seen = see(order, rules, &water.mixed, chord)?;
    water.litre.tangents = seen.tangents;
    Ok((water, seen.solved))
}

/// Steps in the water that they make, solved in full. `None` where a linear demand does not hold there.
///
/// # Errors
/// As [`laid`].
pub(super) fn stand(
    order: &Order,
    rules: &[Rule],
    balance_of: &[usize],
    steps: &[i64],
    shares: &[f64],
    litre: &Litre,
) -> Result<Option<Settled>, FormulationError> {
    let real: Vec<f64> = steps.iter().map(|steps| *steps as f64).collect();
    let mut shares = shares.to_vec();
    let mut round = 0;
    let (water, solved) = loop {
        let (water, solved) = laid(order, rules, balance_of, (&real, &shares), litre, false)?;
        let frame = Frame::new(order, &water.litre, rules, balance_of);
        round += 1;
        if shares.is_empty() || round == MOST_ROUNDS {
            break (water, solved);
        }
        let (problem, further) = frame.approached(frame.columns());
        let Some(best) = shares_of(&problem, &further, steps)? else { break (water, solved) };
        let part = if round >= DAMPED_FROM { 0.5 } else { 1.0 };
        let moved: Vec<f64> =
            shares.iter().zip(&best.shares).map(|(own, best)| own + part * (best - own)).collect();
        if shares.iter().zip(&moved).all(|(own, moved)| (own - moved).abs() <= SAME_SHARE) {
            break (water, solved);
        }
        shares = moved;
    };
    let frame = Frame::new(order, &water.litre, rules, balance_of);
    let linear = frame.hard_of(|at| !frame.is_property(at));
    if !linear.iter().all(|(_, hard)| hard.holds(steps, &shares)) {
        return Ok(None);
    }
    let missed = missed(&frame.property_demands(), &real, &shares);
    let reached = reached(&frame.levels(), &real, &shares);
    let answer = Answer {
        steps: steps.to_vec(),
        shares,
        reached,
        tie_break: TieBreak::Open,
        counts: Counts::default(),
    };
    let Poured { litre, water_kg, mixed } = water;
    let (balance_of, finished) = (balance_of.to_vec(), solved.solution.clone());
    let (solved, gaps) = (Some(solved), Vec::new());
    Ok(Some(Settled { balance_of, litre, answer, water_kg, mixed, finished, solved, missed, gaps }))
}

/// The objectives at real steps and shares, by priority, without any bound.
pub(super) fn reached(levels: &[Level], steps: &[f64], shares: &[f64]) -> Vec<Reached> {
    let of_level = |level: &Level| {
        let of_row = |row: &Row| match level.objective {
            Objective::RelativeDeviation => value(row, steps, shares).abs(),
            Objective::LeastSquares => value(row, steps, shares) * value(row, steps, shares),
        };
        let objective = level.wishes.iter().map(of_row).sum();
        Reached { objective, bound: 0.0, gap: objective, proved: false }
    };
    levels.iter().map(of_level).collect()
}

/// What an answer is judged by, the most important first: demands missed, then the objectives.
pub(super) fn merit(settled: &Settled) -> impl Iterator<Item = f64> + '_ {
    let missed = if settled.missed <= HELD { 0.0 } else { settled.missed };
    core::iter::once(missed).chain(settled.answer.reached.iter().map(|level| level.objective))
}

/// Whether an answer is better than another by more than a tie.
pub(super) fn is_better(one: impl Iterator<Item = f64>, other: impl Iterator<Item = f64>) -> bool {
    one.zip(other).map(|(one, other)| one - other).find(|by| by.abs() > TIE).is_some_and(|by| by < 0.0)
}
