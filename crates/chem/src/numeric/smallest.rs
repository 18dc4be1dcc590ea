//! The least change of one hard row's bounds that lets all hard rows hold.

use super::answer::{Answer, Outcome};
use super::canonical::Canonical;
use super::error::ProblemError;
use super::lexicographic::{solve, task_of};
use super::problem::{HardRow, Level, Objective, Problem, Row, Share};
use super::search::{Pass, search};
use super::tree::Aim;

/// One hard row with changed bounds, and the answer that they allow.
#[derive(Clone, Debug, PartialEq)]
pub struct Relaxation {
    /// New lower bound; the stated one where it need not change.
    pub lower: Option<f64>,
    /// New upper bound; the stated one where it need not change.
    pub upper: Option<f64>,
    /// How far a bound had to move; 0 when the row was not in the way.
    pub change: f64,
    /// No smaller change is enough, proved to 1e-9 of the row's scale.
    pub proved: bool,
    /// The best answer with the changed bounds.
    pub answer: Answer,
}

/// The least change of the bounds of hard row `row` after which all hard rows can hold, and the problem solved anew
/// with it. `None` when the other rows cannot hold even without this one (or the effort did not show it).
///
/// ```
/// use springwright_chem::numeric::{Column, HardRow, Problem, Row, smallest_relaxation};
/// let at_least = |a, bound| HardRow { row: Row::of_columns(&[a], 0.0), lower: Some(bound), upper: None };
/// let at_most = |a, bound| HardRow { row: Row::of_columns(&[a], 0.0), lower: None, upper: Some(bound) };
/// let problem = Problem {
///     columns: vec![Column::up_to(100)],
///     hard: vec![at_least(2.0, 7.0), at_most(1.0, 2.5)],
///     ..Problem::default()
/// };
/// let first = smallest_relaxation(&problem, 0)?.expect("the second row alone can hold");
/// assert_eq!((first.lower, first.answer.steps[0]), (Some(4.0), 2));
/// # Ok::<(), springwright_chem::numeric::ProblemError>(())
/// ```
///
/// # Errors
/// A problem that is not well stated, or no such row, see [`ProblemError`].
pub fn smallest_relaxation(problem: &Problem, row: usize) -> Result<Option<Relaxation>, ProblemError> {
    problem.check()?;
    let Some(hard) = problem.hard.get(row) else { return Err(ProblemError::NoSuchRow { index: row }) };
    let Some(scale) = reach(problem, hard) else { return Ok(None) };
    let stretched = stretched(problem, row, scale);
    let canonical = Canonical::new(&stretched, &[]);
    let task = task_of(&canonical, &canonical.levels[0], &canonical.hard, &[]);
    let effort = problem.effort;
    let passes = [
        Pass { aim: Aim::Within(1e-3), effort: effort.coarse },
        Pass { aim: Aim::Within(1e-9), effort: effort.fine },
    ];
    let found = search(&task, None, &passes);
    let Some(best) = found.best else { return Ok(None) };
    let steps = canonical.steps_back(&best.steps);
    let mut shares = canonical.shares_back(&best.shares);
    shares.truncate(problem.shares.len());
    let value = hard.row.value(&steps, &shares);
    let mut eased = problem.clone();
    let change = ease(&mut eased.hard[row], value);
    let (lower, upper) = (eased.hard[row].lower, eased.hard[row].upper);
    let Outcome::Solved(answer) = solve(&eased)? else { return Ok(None) };
    Ok(Some(Relaxation { lower, upper, change, proved: found.finished, answer }))
}

/// Moves the bound that `value` breaks to `value`; gives how far.
fn ease(hard: &mut HardRow, value: f64) -> f64 {
    let ((lower, upper), (below, above)) = (hard.bounds(), hard.tolerances());
    if value < lower - below {
        hard.lower = Some(value);
        return lower - value;
    }
    if value > upper + above {
        hard.upper = Some(value);
        return value - upper;
    }
    0.0
}

/// The furthest that a row can stand outside its bounds, at least a little; `None` when that is not a number.
fn reach(problem: &Problem, hard: &HardRow) -> Option<f64> {
    let (mut least, mut most) = (hard.row.constant, hard.row.constant);
    for (a, column) in hard.row.columns.iter().zip(&problem.columns) {
        let end = a * column.most_steps as f64;
        least += end.min(0.0);
        most += end.max(0.0);
    }
    for (b, share) in hard.row.shares.iter().zip(&problem.shares) {
        least += (b * share.lower).min(b * share.upper);
        most += (b * share.lower).max(b * share.upper);
    }
    let (lower, upper) = hard.bounds();
    let outside = (lower - least).max(most - upper).max(1e-6);
    (outside.is_finite() && outside <= 1e12).then_some(outside)
}

/// The problem with two more shares that stretch the row's bounds, and the wish that they be zero.
fn stretched(problem: &Problem, row: usize, most: f64) -> Problem {
    let mut stretched = problem.clone();
    let hard = &mut stretched.hard[row];
    let size = hard.bounds().0.abs().min(hard.bounds().1.abs());
    let scale = if size.is_finite() && size > 0.0 { size } else { 1.0 };
    let of_zero = vec![0.0; problem.columns.len()];
    for own in &mut stretched.hard {
        own.row.shares.resize(problem.shares.len(), 0.0);
        own.row.shares.extend([0.0, 0.0]);
    }
    let stretch = &mut stretched.hard[row].row.shares;
    let last = stretch.len();
    (stretch[last - 2], stretch[last - 1]) = (scale, -scale);
    let share = Share { lower: 0.0, upper: most / scale, cost: 0.0 };
    stretched.shares.extend([share.clone(), share]);
    let mut shares = vec![0.0; problem.shares.len()];
    shares.extend([1.0, 1.0]);
    stretched.wishes =
        Level { wishes: vec![Row { columns: of_zero, shares, constant: 0.0 }], ..Level::default() }.wishes;
    stretched.objective = Objective::RelativeDeviation;
    stretched
}
