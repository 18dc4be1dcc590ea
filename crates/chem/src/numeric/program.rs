//! What the tree needs from the small program that it solves at each node, linear or quadratic alike.

use super::answer::Counts;
use super::form::Form;

/// How the program of a node ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Verdict {
    /// Solved.
    Optimal,
    /// Its bound reached the cutoff; the node cannot hold anything better.
    Cut,
    /// Nothing keeps the hard rows.
    Empty,
    /// The cap on steps was met; the bound is valid, the values are not an optimum.
    Stalled,
}

/// Work done so far, and how much there may be.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Meter {
    pub(super) counts: Counts,
    /// Cells touched, so that a huge problem ends in bounded time too.
    pub(super) cells: u64,
    /// Relaxations allowed.
    pub(super) allowed: u64,
}

/// Cells that one allowed relaxation stands for; a problem of ordinary size touches about 300.
const CELLS_PER_RELAXATION: u64 = 20_000;

impl Meter {
    pub(super) fn allowing(relaxations: u64) -> Self {
        Self { allowed: relaxations, ..Self::default() }
    }

    pub(super) fn spent(&self) -> bool {
        self.counts.relaxations >= self.allowed
            || self.cells >= self.allowed.saturating_mul(CELLS_PER_RELAXATION)
    }
}

/// Prices of an optimal program: how much the optimum changes with each right-hand side.
pub(super) struct Multipliers {
    /// Slope of the objective with respect to each wished row.
    pub(super) wishes: Vec<f64>,
    /// Change of the optimum per unit by which the active bound of a hard row (as scaled in the form) rises.
    pub(super) hard: Vec<f64>,
    /// Change of the optimum per unit of a structural variable at its bound (as scaled in the form).
    pub(super) structural: Vec<f64>,
}

/// A convex program over the form within bounds that only ever get tighter, solved by a method whose bound grows.
pub(super) trait Program {
    /// The program with the bounds of the form, not yet solved.
    fn root(form: &Form) -> Self;
    /// Becomes a copy of another program of the same form.
    fn assign(&mut self, other: &Self);
    /// Tightens the bounds of a structural variable.
    fn restrict(&mut self, index: usize, lower: f64, upper: f64);
    /// Solves, warm from where it stands.
    fn solve(&mut self, form: &Form, cutoff: f64, meter: &mut Meter) -> Verdict;
    /// Lower bound on the objective.
    fn bound(&self) -> f64;
    /// Whether the last solve ended at an optimum.
    fn sound(&self) -> bool;
    /// Value of a structural variable.
    fn value(&self, index: usize) -> f64;
    /// Price of a structural variable at its bound: the objective grows by at least that much per unit inwards.
    fn price(&self, index: usize) -> f64;
    /// Bounds of a structural variable.
    fn limits(&self, index: usize) -> (f64, f64);
    /// Whether no other point with the same whole steps, and no other whole steps, lie within `spread` of the
    /// optimum of this program.
    fn lone(&self, form: &Form, spread: f64) -> bool;
    /// Prices at the optimum.
    fn multipliers(&self, form: &Form) -> Multipliers;
}
