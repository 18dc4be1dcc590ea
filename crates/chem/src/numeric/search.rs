//! One search from start to end: bounds first, then the tree in counted passes.

use super::answer::Counts;
use super::bounds::{self, Range};
use super::dictionary::Dictionary;
use super::form::Form;
use super::incumbent::{Allowed, Point};
use super::judge::{Ceiling, Judge};
use super::problem::{Column, HardRow, Objective, Row, Share};
use super::program::Program;
use super::sweep::Sweep;
use super::tree::{Aim, PROOF, Tree};

/// What one search is about; lists in canonical order.
#[derive(Clone, Copy)]
pub(super) struct Task<'a> {
    pub(super) columns: &'a [Column],
    pub(super) shares: &'a [Share],
    pub(super) wishes: &'a [Row],
    pub(super) objective: Objective,
    pub(super) hard: &'a [HardRow],
    pub(super) ceilings: &'a [Ceiling<'a>],
    pub(super) most_columns: usize,
}

/// One pass through the tree.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pass {
    pub(super) aim: Aim,
    /// Relaxations allowed.
    pub(super) effort: u64,
}

/// What a search found.
#[derive(Clone, Debug)]
pub(super) struct Found {
    pub(super) best: Option<Point>,
    /// Nothing can have a smaller objective.
    pub(super) bound: f64,
    /// The last pass ran to its end.
    pub(super) finished: bool,
    /// Another answer ties, or might.
    pub(super) tie: bool,
    pub(super) counts: Counts,
}

/// Searches by sizes or by squares, as the task says.
pub(super) fn search(task: &Task<'_>, start: Option<&Point>, passes: &[Pass]) -> Found {
    match task.objective {
        Objective::RelativeDeviation => search_by::<Dictionary>(task, start, passes),
        Objective::LeastSquares => search_by::<Sweep>(task, start, passes),
    }
}

fn search_by<P: Program>(task: &Task<'_>, start: Option<&Point>, passes: &[Pass]) -> Found {
    let judge = Judge::new(task);
    let mut ranges = bounds::stated(task);
    let mut found = Found {
        best: start.and_then(|point| judged(task, &judge, point)),
        bound: f64::NEG_INFINITY,
        finished: false,
        tie: false,
        counts: Counts::default(),
    };
    if found.best.is_none() {
        found.best = unused::<P>(task, &judge, &ranges);
    }
    for pass in passes {
        bounds::tighten(task, &mut ranges, found.best.as_ref().map(|best| best.value));
        let form = Form::new(task, &ranges);
        let mut tree = Tree::<P>::new(&form, &judge, task.columns, task.most_columns, pass.aim, pass.effort);
        tree.best = found.best.take();
        let open = tree.run();
        found.finished = open == f64::INFINITY;
        let margin = match pass.aim {
            Aim::Within(margin) => margin,
            Aim::Ties => PROOF,
        };
        let reached = tree.best.as_ref().map_or(f64::INFINITY, |best| best.value - margin);
        found.bound = found.bound.max(open.min(reached));
        found.best = tree.best.take();
        found.tie = tree.tie;
        found.counts.add(tree.meter.counts);
        if !found.finished || found.best.is_none() {
            break;
        }
    }
    found
}

/// A known point with its objective in this task, if it keeps this task's rows.
fn judged(task: &Task<'_>, judge: &Judge, point: &Point) -> Option<Point> {
    let allowed = Allowed { columns: task.columns, most_columns: task.most_columns };
    let score = judge.score(&judge.rows(&point.steps, &point.shares));
    let holds = score.violation == 0.0 && allowed.fit(&point.steps);
    holds.then(|| Point { value: score.value, ..point.clone() })
}

/// The answer that uses no column, if the hard rows allow it.
fn unused<P: Program>(task: &Task<'_>, judge: &Judge, ranges: &[Range]) -> Option<Point> {
    let steps = vec![0; task.columns.len()];
    if task.shares.is_empty() {
        return judged(task, judge, &Point { steps, shares: Vec::new(), value: 0.0 });
    }
    let form = Form::new(task, ranges);
    let mut tree = Tree::<P>::new(&form, judge, task.columns, task.most_columns, Aim::Within(0.0), 1);
    tree.offer(&steps);
    tree.best.take()
}
