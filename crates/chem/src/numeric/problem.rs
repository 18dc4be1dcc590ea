//! What is asked: columns in whole steps, shares, wished rows, hard rows, an objective, an effort.

use super::error::ProblemError;

/// Most columns and shares together, and most rows, that a problem may have.
pub(super) const MOST_LINES: usize = 160;
/// Largest whole number of steps that a column may have.
pub(super) const MOST_STEPS: i64 = 1_000_000_000_000;
/// Largest size of a coefficient, a constant, a bound, a cost or a mass.
pub(super) const MOST_SIZE: f64 = 1e12;

/// One column of the problem, used in whole steps: either not at all or between `least_steps` and `most_steps`.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// Fewest steps when the column is used at all; 0 and 1 mean the same. 0 to 1e12.
    pub least_steps: i64,
    /// Most steps. 0 to 1e12; below `least_steps` the column cannot be used.
    pub most_steps: i64,
    /// Cost of one step, 0 or more; decides between answers that tie.
    pub cost_per_step: f64,
    /// Mass of one step, 0 or more; decides between answers that tie in cost and number of columns.
    pub mass_per_step: f64,
    /// Whether the column counts against [`Problem::most_columns`].
    pub counted: bool,
}

impl Column {
    /// A counted column with 0 to `most_steps` steps, without cost, of mass 1 a step.
    pub fn up_to(most_steps: i64) -> Self {
        Self { least_steps: 0, most_steps, cost_per_step: 0.0, mass_per_step: 1.0, counted: true }
    }

    /// Fewest steps of a column that is in use.
    pub(super) fn least_used(&self) -> i64 {
        self.least_steps.max(1)
    }
}

/// A continuous share between two finite bounds.
#[derive(Clone, Debug, PartialEq)]
pub struct Share {
    /// Smallest value, finite.
    pub lower: f64,
    /// Largest value, finite, at least `lower`.
    pub upper: f64,
    /// Cost of one whole share, 0 or more; decides between answers that tie.
    pub cost: f64,
}

/// A linear row: `constant` + Σ `columns[i]` · steps + Σ `shares[w]` · share. Rows should be without dimension and
/// of the order of one where it matters.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Row {
    /// Coefficient of one step of each column.
    pub columns: Vec<f64>,
    /// Coefficient of each share.
    pub shares: Vec<f64>,
    /// Value of the row when nothing is used.
    pub constant: f64,
}

impl Row {
    /// A row over columns only.
    pub fn of_columns(columns: &[f64], constant: f64) -> Self {
        Self { columns: columns.to_vec(), shares: Vec::new(), constant }
    }

    /// Value of the row, summed in the order of the columns, then of the shares.
    pub fn value(&self, steps: &[i64], shares: &[f64]) -> f64 {
        let mut sum = self.constant;
        for (coefficient, &count) in self.columns.iter().zip(steps) {
            sum += coefficient * count as f64;
        }
        for (coefficient, share) in self.shares.iter().zip(shares) {
            sum += coefficient * share;
        }
        sum
    }
}

/// A row that must keep within bounds; it holds when outside by no more than 1e-9 · max(1, |bound|).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct HardRow {
    /// The row.
    pub row: Row,
    /// Smallest value allowed.
    pub lower: Option<f64>,
    /// Largest value allowed.
    pub upper: Option<f64>,
}

impl HardRow {
    /// Both bounds as numbers, infinite where there is none.
    pub(super) fn bounds(&self) -> (f64, f64) {
        (self.lower.unwrap_or(f64::NEG_INFINITY), self.upper.unwrap_or(f64::INFINITY))
    }

    /// By how much `value` may stand below the lower and above the upper bound.
    pub(super) fn tolerances(&self) -> (f64, f64) {
        let of = |bound: Option<f64>| 1e-9 * bound.map_or(1.0, |b| b.abs().max(1.0));
        (of(self.lower), of(self.upper))
    }

    /// Whether the row holds for these steps and shares.
    pub fn holds(&self, steps: &[i64], shares: &[f64]) -> bool {
        let value = self.row.value(steps, shares);
        let ((lower, upper), (below, above)) = (self.bounds(), self.tolerances());
        value >= lower - below && value <= upper + above
    }
}

/// What a list of wished rows is judged by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Objective {
    /// The sum of the sizes of the rows.
    #[default]
    RelativeDeviation,
    /// The sum of the squares of the rows.
    LeastSquares,
}

impl Objective {
    /// The objective of these row values, summed in their order.
    pub(super) fn of(self, rows: &[f64]) -> f64 {
        match self {
            Self::RelativeDeviation => rows.iter().fold(0.0, |sum, r| sum + r.abs()),
            Self::LeastSquares => rows.iter().fold(0.0, |sum, r| sum + r * r),
        }
    }
}

/// One objective among several, in order of priority.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Level {
    /// The wished rows, weights folded in.
    pub wishes: Vec<Row>,
    /// How they are judged.
    pub objective: Objective,
}

/// How hard to try, counted in relaxations (small linear or quadratic programs); never a clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Relaxations for the first pass, which proves the answer to 1e-3.
    pub coarse: u64,
    /// Relaxations for the second pass, which proves it to 1e-9.
    pub fine: u64,
}

impl Default for Effort {
    fn default() -> Self {
        Self { coarse: 20_000, fine: 20_000 }
    }
}

/// The whole question. Minimises `objective` over `wishes`, subject to `hard` and `most_columns`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Problem {
    /// Columns in whole steps.
    pub columns: Vec<Column>,
    /// Continuous shares.
    pub shares: Vec<Share>,
    /// Rows that should be zero, weights folded in.
    pub wishes: Vec<Row>,
    /// Rows that must keep within bounds.
    pub hard: Vec<HardRow>,
    /// At most this many counted columns in use; no limit when absent.
    pub most_columns: Option<usize>,
    /// How the wishes are judged.
    pub objective: Objective,
    /// How hard to try.
    pub effort: Effort,
}

impl Problem {
    /// Checks sizes, lengths and ranges.
    pub(super) fn check(&self) -> Result<(), ProblemError> {
        let lines = self.columns.len() + self.shares.len();
        let rows = self.wishes.len() + self.hard.len();
        if lines > MOST_LINES || rows > MOST_LINES {
            return Err(ProblemError::TooLarge { lines, rows, most: MOST_LINES });
        }
        for (index, column) in self.columns.iter().enumerate() {
            check_column(index, column)?;
        }
        for (index, share) in self.shares.iter().enumerate() {
            let amounts = [share.lower, share.upper, share.cost];
            if amounts.iter().any(|x| !sized(*x)) || share.lower > share.upper || share.cost < 0.0 {
                return Err(ProblemError::BadShare { index });
            }
        }
        self.check_rows("wish", self.wishes.iter())?;
        self.check_rows("hard row", self.hard.iter().map(|hard| &hard.row))?;
        for (index, hard) in self.hard.iter().enumerate() {
            let stated = [hard.lower, hard.upper];
            if stated.iter().flatten().any(|bound| !sized(*bound)) || hard.bounds().0 > hard.bounds().1 {
                return Err(ProblemError::BadBounds { index });
            }
        }
        Ok(())
    }

    /// Checks lengths and sizes of rows.
    pub(super) fn check_rows<'a>(
        &self,
        what: &'static str,
        rows: impl Iterator<Item = &'a Row>,
    ) -> Result<(), ProblemError> {
        for (index, row) in rows.enumerate() {
            let shares_left_out = row.shares.is_empty();
            if row.columns.len() != self.columns.len()
                || (!shares_left_out && row.shares.len() != self.shares.len())
            {
                return Err(ProblemError::BadLength { what, index });
            }
            let mut numbers = row.columns.iter().chain(&row.shares).chain([&row.constant]);
            if numbers.any(|x| !sized(*x)) {
                return Err(ProblemError::BadNumber { what, index });
            }
        }
        Ok(())
    }
}

fn check_column(index: usize, column: &Column) -> Result<(), ProblemError> {
    let steps = [column.least_steps, column.most_steps];
    let amounts = [column.cost_per_step, column.mass_per_step];
    let bad_steps = steps.iter().any(|n| !(0..=MOST_STEPS).contains(n));
    if bad_steps || amounts.iter().any(|x| !sized(*x) || *x < 0.0) {
        return Err(ProblemError::BadColumn { index });
    }
    Ok(())
}

/// Finite, and not beyond the largest size accepted.
fn sized(x: f64) -> bool {
    x.is_finite() && x.abs() <= MOST_SIZE
}
