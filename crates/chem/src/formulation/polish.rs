//! Whole steps around an answer, each solved in full: where one step of a balance moves the state far, the tangents do
//! not tell which of the steps around is the best.

use super::counting::Rule;
use super::fault::FormulationError;
use super::frame::{Frame, Origin};
use super::hinge::{missed, value};
use super::means::Order;
use super::settle::Settled;
use super::stand::{is_better, merit, reached, stand};
use crate::numeric::{HardRow, Level, Row};
use core::cmp::Ordering;

/// Most moves of the answer.
const MOVES: usize = 12;
/// Most waters that are solved for one move.
const SOLVED: usize = 16;
/// Steps by which one salt, or two at once, are moved.
const BY: [i64; 4] = [-1, 1, -2, 2];
/// How many times the square of what it moves a tangent may be wrong.
const BENT: f64 = 3.0;

/// The best answer that single steps lead to from an answer.
///
/// # Errors
/// A search that cannot be stated.
pub(super) fn polish(order: &Order, rules: &[Rule], mut best: Settled) -> Result<Settled, FormulationError> {
    for _ in 0..MOVES {
        let Some(better) = step(order, rules, &best)? else { break };
        best = better;
    }
    Ok(best)
}

/// The best of the steps around an answer, where one is better.
fn step(order: &Order, rules: &[Rule], from: &Settled) -> Result<Option<Settled>, FormulationError> {
    let frame = Frame::new(order, &from.litre, rules, &from.balance_of);
    let tangents = Tangents::of(&frame);
    let around = around(&frame, &from.answer.steps).into_iter();
    let told = around.map(|steps| (tangents.tell(from, &steps), steps));
    let mut promising: Vec<(Vec<f64>, Vec<i64>)> =
        told.filter(|(told, _)| is_better(told.iter().copied(), merit(from))).collect();
    promising.sort_by(|(one, _), (other, _)| {
        let pairs = one.iter().zip(other).map(|(one, other)| one.total_cmp(other));
        pairs.fold(Ordering::Equal, Ordering::then)
    });
    let mut best: Option<Settled> = None;
    for (_, steps) in promising.into_iter().take(SOLVED) {
        let shares = &from.answer.shares;
        let solved = stand(order, rules, &from.balance_of, &steps, shares, &from.litre).unwrap_or(None);
        let Some(solved) = solved else { continue };
        if is_better(merit(&solved), merit(best.as_ref().unwrap_or(from))) {
            best = Some(solved);
        }
    }
    Ok(best)
}

/// The steps around: one salt or two moved, within their limits.
fn around(frame: &Frame<'_>, steps: &[i64]) -> Vec<Vec<i64>> {
    let columns = frame.columns();
    let fits = |steps: &[i64]| {
        let used = steps.iter().filter(|steps| **steps > 0).count();
        frame.order.most_salts.is_none_or(|most| used <= most)
            && steps
                .iter()
                .zip(&columns)
                .all(|(n, column)| *n == 0 || (column.least_steps..=column.most_steps).contains(n))
    };
    let mut around: Vec<Vec<i64>> = Vec::new();
    let mut push = |moved: Vec<i64>| {
        if fits(&moved) {
            around.push(moved);
        }
    };
    for at in 0..steps.len() {
        for by in BY {
            let one = moved(steps, at, by, columns[at].least_steps);
            for other in at + 1..steps.len() {
                if steps[at] == 0 && steps[other] == 0 {
                    continue;
                }
                for by in BY {
                    push(moved(&one, other, by, columns[other].least_steps));
                }
            }
            push(one);
        }
    }
    around
}

/// Steps with one salt moved; the least that may be weighed stands for one step up from none, and none for less.
fn moved(steps: &[i64], at: usize, by: i64, least: i64) -> Vec<i64> {
    let mut moved = steps.to_vec();
    let next = steps[at] + by;
    moved[at] = match next {
        n if n >= least => n,
        _ if by > 0 => least,
        _ => 0,
    };
    moved
}

/// The rows of a frame, written once.
struct Tangents {
    levels: Vec<Level>,
    demands: Vec<(Origin, HardRow)>,
    /// The row of each property, with the weight of a deviation from what is asked of it.
    properties: Vec<(Row, f64)>,
}

impl Tangents {
    fn of(frame: &Frame<'_>) -> Tangents {
        let mut properties = Vec::new();
        for at in (0..frame.rules.len()).filter(|at| frame.is_property(*at)) {
            let rule = &frame.rules[at];
            let asked = [rule.near, rule.low, rule.high, rule.exact].into_iter().flatten();
            let weight = asked.map(|asked| frame.order.wishes[at].weight / rule.size(asked)).sum();
            properties.push((frame.wish_row(at, 0.0), weight));
        }
        Tangents { levels: frame.levels(), demands: frame.property_demands(), properties }
    }

    /// What the tangents tell of steps, taken as good as their bend may make it.
    fn tell(&self, from: &Settled, steps: &[i64]) -> Vec<f64> {
        let (real, shares): (Vec<f64>, _) = (steps.iter().map(|n| *n as f64).collect(), &from.answer.shares);
        let by: Vec<f64> =
            steps.iter().zip(&from.answer.steps).map(|(there, here)| (there - here) as f64).collect();
        let bend = |(row, weight): &(Row, f64)| {
            let moved = value(row, &by, &[]) - row.constant;
            BENT * weight * moved * moved
        };
        let room: f64 = self.properties.iter().map(bend).sum();
        let objectives = reached(&self.levels, &real, shares);
        let missed = core::iter::once(missed(&self.demands, &real, shares));
        let told = missed.chain(objectives.iter().map(|level| level.objective));
        told.map(|value| (value - room).max(0.0)).collect()
    }
}
