//! Exact judging of whole steps: every row is summed anew in a fixed order, never read off a program.

use super::problem::{HardRow, Objective, Row};
use super::search::Task;

/// Part of the tolerance of a hard row within which an answer is accepted; the rest is for rounding of sums.
const PART_OF_TOLERANCE: f64 = 0.9;

/// An objective of higher priority that must not get worse: Σ|wish| ≤ `most`.
pub(super) struct Ceiling<'a> {
    pub(super) wishes: &'a [Row],
    pub(super) most: f64,
}

impl Ceiling<'_> {
    /// Helper variables that the programs need for it.
    pub(super) fn helpers(&self) -> usize {
        if self.wishes.len() > 1 { self.wishes.len() } else { 0 }
    }
}

/// How good a point is: first how far outside the hard rows, then the objective.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub(super) struct Score {
    /// Sum of what hard rows and ceilings are broken by; 0 when all hold.
    pub(super) violation: f64,
    /// The objective.
    pub(super) value: f64,
}

/// All rows of a task side by side: wishes, rows under ceilings, hard rows.
pub(super) struct Judge {
    objective: Objective,
    wishes: usize,
    /// End of the rows of each ceiling, and what they may sum to.
    ceilings: Vec<(usize, f64)>,
    hard: Vec<Band>,
    height: usize,
    constant: Vec<f64>,
    /// Coefficients, all rows of the first column, then of the second, then of the shares.
    by_line: Vec<f64>,
    columns: usize,
}

/// Bounds of a hard row, widened by the tolerance.
struct Band {
    lower: f64,
    upper: f64,
}

impl Band {
    fn of(hard: &HardRow) -> Self {
        let ((lower, upper), (below, above)) = (hard.bounds(), hard.tolerances());
        Self { lower: lower - PART_OF_TOLERANCE * below, upper: upper + PART_OF_TOLERANCE * above }
    }
}

impl Judge {
    pub(super) fn new(task: &Task<'_>) -> Self {
        let ceiling_rows = task.ceilings.iter().flat_map(|ceiling| ceiling.wishes);
        let hard_rows = task.hard.iter().map(|hard| &hard.row);
        let rows: Vec<&Row> = task.wishes.iter().chain(ceiling_rows).chain(hard_rows).collect();
        let (columns, lines) = (task.columns.len(), task.columns.len() + task.shares.len());
        let mut by_line = vec![0.0; lines * rows.len()];
        for (r, row) in rows.iter().enumerate() {
            for (line, &coefficient) in row.columns.iter().chain(&row.shares).enumerate() {
                by_line[line * rows.len() + r] = coefficient;
            }
        }
        let mut end = task.wishes.len();
        let ceilings = task.ceilings.iter().map(|ceiling| {
            end += ceiling.wishes.len();
            (end, ceiling.most)
        });
        Self {
            objective: task.objective,
            wishes: task.wishes.len(),
            ceilings: ceilings.collect(),
            hard: task.hard.iter().map(Band::of).collect(),
            height: rows.len(),
            constant: rows.iter().map(|row| row.constant).collect(),
            by_line,
            columns,
        }
    }

    /// Number of rows.
    pub(super) fn height(&self) -> usize {
        self.height
    }

    /// Number of rows that wish or bind, without those under ceilings and hard rows.
    pub(super) fn wishes(&self) -> usize {
        self.wishes
    }

    /// What one step of a column adds to each row.
    pub(super) fn change(&self, column: usize) -> &[f64] {
        &self.by_line[column * self.height..(column + 1) * self.height]
    }

    /// Values of all rows.
    pub(super) fn rows(&self, steps: &[i64], shares: &[f64]) -> Vec<f64> {
        let mut rows = self.constant.clone();
        let amounts = steps.iter().map(|&n| n as f64).chain(shares.iter().copied());
        for (line, amount) in amounts.enumerate() {
            if amount != 0.0 {
                let change = &self.by_line[line * self.height..(line + 1) * self.height];
                rows.iter_mut().zip(change).for_each(|(row, a)| *row += a * amount);
            }
        }
        debug_assert!(steps.len() == self.columns);
        rows
    }

    /// Judges row values.
    pub(super) fn score(&self, rows: &[f64]) -> Score {
        let mut violation = 0.0;
        let mut start = self.wishes;
        for &(end, most) in &self.ceilings {
            let sum = Objective::RelativeDeviation.of(&rows[start..end]);
            violation += (sum - most).max(0.0);
            start = end;
        }
        for (row, band) in rows[start..].iter().zip(&self.hard) {
            violation += (band.lower - row).max(row - band.upper).max(0.0);
        }
        Score { violation, value: self.objective.of(&rows[..self.wishes]) }
    }
}
