//! Why nothing keeps the hard rows: a smallest set of them that cannot hold together.

use super::bounds;
use super::canonical::Canonical;
use super::dictionary::Dictionary;
use super::error::ProblemError;
use super::form::Form;
use super::problem::{HardRow, Level, Problem};
use super::program::{Meter, Program, Verdict};
use super::search::{Pass, search};
use super::tree::Aim;

/// Whether hard rows can hold together.
#[derive(Clone, Debug, PartialEq)]
pub enum Feasibility {
    /// These steps and shares keep all of them.
    Feasible {
        /// Whole steps.
        steps: Vec<i64>,
        /// Shares.
        shares: Vec<f64>,
    },
    /// They cannot; the smallest set found that cannot.
    Infeasible(Conflict),
    /// The effort ended before either was known.
    Unknown,
}

/// Hard rows that cannot hold together within the bounds of columns and shares.
#[derive(Clone, Debug, PartialEq)]
pub struct Conflict {
    /// Numbers of the rows, ascending.
    pub rows: Vec<usize>,
    /// Dropping any one of them is proved to leave rows that can hold together.
    pub irreducible: bool,
    /// They could hold together if more columns might be used.
    pub limit_on_columns: bool,
    /// Proof by one linear combination; absent when only whole steps or least steps make it impossible.
    pub certificate: Option<Certificate>,
}

/// Multipliers of hard rows whose combination cannot lie where the rows' bounds put it.
#[derive(Clone, Debug, PartialEq)]
pub struct Certificate {
    /// One multiplier for each hard row of the problem.
    pub multipliers: Vec<f64>,
}

impl Certificate {
    /// By how much the combination misses: the bounds of the rows ask for a sum of at least (or at most) so much
    /// beyond what columns and shares within their bounds can give. Above 0 it proves that nothing is feasible.
    pub fn distance(&self, problem: &Problem) -> f64 {
        let (mut ask_low, mut ask_high) = (0.0, 0.0);
        let (mut give_low, mut give_high) = (0.0, 0.0);
        for (multiplier, hard) in self.multipliers.iter().zip(&problem.hard).filter(|(y, _)| **y != 0.0) {
            let (lower, upper) = hard.bounds();
            let (one, other) = (multiplier * lower, multiplier * upper);
            ask_low += one.min(other);
            ask_high += one.max(other);
            give_low += multiplier * hard.row.constant;
            give_high += multiplier * hard.row.constant;
        }
        let mut widen = |coefficient: f64, lower: f64, upper: f64| {
            give_low += (coefficient * lower).min(coefficient * upper);
            give_high += (coefficient * lower).max(coefficient * upper);
        };
        let combined = |of: &dyn Fn(&HardRow) -> f64| {
            let rows = self.multipliers.iter().zip(&problem.hard);
            rows.fold(0.0, |sum, (y, hard)| sum + y * of(hard))
        };
        for (index, column) in problem.columns.iter().enumerate() {
            widen(combined(&|hard| hard.row.columns[index]), 0.0, column.most_steps as f64);
        }
        for (index, share) in problem.shares.iter().enumerate() {
            let of = |hard: &HardRow| hard.row.shares.get(index).copied().unwrap_or(0.0);
            widen(combined(&of), share.lower, share.upper);
        }
        (ask_low - give_high).max(give_low - ask_high)
    }
}

/// Finds steps that keep all hard rows, or a set of rows that cannot hold together: rows are left out one by one as
/// long as the rest still cannot, first with real steps, then with whole ones and the limit on columns.
///
/// ```
/// use springwright_chem::numeric::{Column, Feasibility, HardRow, Problem, Row, feasibility};
/// let row = |lower, upper| HardRow { row: Row::of_columns(&[2.0], 0.0), lower, upper };
/// let problem = Problem {
///     columns: vec![Column::up_to(100)],
///     hard: vec![row(Some(0.0), None), row(Some(7.0), None), row(None, Some(5.0))],
///     ..Problem::default()
/// };
/// let Feasibility::Infeasible(conflict) = feasibility(&problem)? else { panic!("7 ≤ x ≤ 5 cannot hold") };
/// assert_eq!(conflict.rows, [1, 2]);
/// # Ok::<(), springwright_chem::numeric::ProblemError>(())
/// ```
///
/// # Errors
/// A problem that is not well stated, see [`ProblemError`].
pub fn feasibility(problem: &Problem) -> Result<Feasibility, ProblemError> {
    problem.check()?;
    let all: Vec<usize> = (0..problem.hard.len()).collect();
    if let Real::Empty(_) = real(problem, &all) {
        return Ok(Feasibility::Infeasible(by_real_steps(problem, all)));
    }
    Ok(match whole(problem, &all, problem.most_columns) {
        Whole::Holds(steps, shares) => Feasibility::Feasible { steps, shares },
        Whole::Unknown => Feasibility::Unknown,
        Whole::Empty => Feasibility::Infeasible(by_whole_steps(problem, all)),
    })
}

/// What real steps can do with some of the rows.
enum Real {
    Holds,
    Empty(Vec<f64>),
}

/// What whole steps can do with some of the rows.
enum Whole {
    Holds(Vec<i64>, Vec<f64>),
    Empty,
    Unknown,
}

/// The problem with only these hard rows and no wishes.
fn part(problem: &Problem, rows: &[usize], most_columns: Option<usize>) -> Problem {
    let hard = rows.iter().map(|&row| problem.hard[row].clone()).collect();
    let (columns, shares) = (problem.columns.clone(), problem.shares.clone());
    Problem { columns, shares, hard, most_columns, effort: problem.effort, ..Problem::default() }
}

fn real(problem: &Problem, rows: &[usize]) -> Real {
    let part = part(problem, rows, None);
    let task = super::prices::relaxed_task(&part, &[]);
    let form = Form::new(&task, &bounds::stated(&task));
    let mut program = Dictionary::root(&form);
    if program.solve(&form, f64::INFINITY, &mut Meter::allowing(1)) != Verdict::Empty {
        return Real::Holds;
    }
    let mut multipliers = vec![0.0; problem.hard.len()];
    for (&row, multiplier) in rows.iter().zip(program.combination(&form)) {
        multipliers[row] = multiplier;
    }
    Real::Empty(multipliers)
}

fn by_real_steps(problem: &Problem, all: Vec<usize>) -> Conflict {
    let mut rows = all;
    let mut at = 0;
    while at < rows.len() {
        let mut fewer = rows.clone();
        fewer.remove(at);
        match real(problem, &fewer) {
            Real::Empty(_) => rows = fewer,
            Real::Holds => at += 1,
        }
    }
    let certificate = match real(problem, &rows) {
        Real::Empty(multipliers) => Some(Certificate { multipliers }),
        Real::Holds => None,
    };
    // Dropping one leaves real steps; whether whole ones are left too is asked as well.
    let irreducible = (0..rows.len()).all(|at| {
        let mut fewer = rows.clone();
        fewer.remove(at);
        matches!(whole(problem, &fewer, problem.most_columns), Whole::Holds(..))
    });
    Conflict { rows, irreducible, limit_on_columns: false, certificate }
}

fn whole(problem: &Problem, rows: &[usize], most_columns: Option<usize>) -> Whole {
    let canonical = Canonical::new(&part(problem, rows, most_columns), &[]);
    let none = Level::default();
    let task = super::lexicographic::task_of(&canonical, &none, &canonical.hard, &[]);
    let effort = problem.effort.coarse.saturating_add(problem.effort.fine);
    let found = search(&task, None, &[Pass { aim: Aim::Within(1e-9), effort }]);
    match found.best {
        Some(best) => Whole::Holds(canonical.steps_back(&best.steps), canonical.shares_back(&best.shares)),
        None if found.finished => Whole::Empty,
        None => Whole::Unknown,
    }
}

fn by_whole_steps(problem: &Problem, all: Vec<usize>) -> Conflict {
    let mut rows = all;
    let mut irreducible = true;
    let mut at = 0;
    while at < rows.len() {
        let mut fewer = rows.clone();
        fewer.remove(at);
        match whole(problem, &fewer, problem.most_columns) {
            Whole::Empty => rows = fewer,
            Whole::Holds(..) => at += 1,
            Whole::Unknown => {
                irreducible = false;
                at += 1;
            }
        }
    }
    let unlimited = problem.most_columns.is_some() && matches!(whole(problem, &rows, None), Whole::Holds(..));
    Conflict { rows, irreducible, limit_on_columns: unlimited, certificate: None }
}
