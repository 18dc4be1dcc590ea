//! Prices: what each row is worth at the optimum of the relaxed problem, with real steps and any number of columns.

use super::bounds;
use super::dictionary::Dictionary;
use super::error::ProblemError;
use super::form::Form;
use super::problem::{Objective, Problem, Row};
use super::program::{Meter, Program, Verdict};
use super::search::Task;
use super::sweep::Sweep;

/// Optimum with real steps, and the prices that prove it.
#[derive(Clone, Debug, PartialEq)]
pub struct Relaxed {
    /// The objective, which no whole steps can beat.
    pub objective: f64,
    /// Real steps of each column.
    pub steps: Vec<f64>,
    /// Each share.
    pub shares: Vec<f64>,
    /// Slope of the objective along each wished row: between −1 and 1 for sizes, twice the row for squares. A row
    /// that is zero without effort has slope 0; a row held at zero against others has one strictly between.
    pub wishes: Vec<f64>,
    /// Change of the objective per unit by which the bound of a hard row rises; 0 where the row does not bind,
    /// above 0 at a lower and below 0 at an upper bound.
    pub hard: Vec<f64>,
    /// Change of the objective per step more of a column that stands at a bound; 0 for one between its bounds.
    pub columns: Vec<f64>,
    /// The same for each share.
    pub share_prices: Vec<f64>,
}

/// Optimum and prices with real steps, without the limit on columns and without least steps. `None` when nothing
/// keeps the hard rows. To learn about an answer's own columns, set `most_steps` of the others to 0.
///
/// ```
/// use springwright_chem::numeric::{Column, HardRow, Problem, Row, relaxed};
/// // One column wants to reach 5 but a row keeps it at 3.
/// let cap = HardRow { row: Row::of_columns(&[1.0], 0.0), lower: None, upper: Some(3.0) };
/// let problem = Problem {
///     columns: vec![Column::up_to(100)],
///     wishes: vec![Row::of_columns(&[0.2], -1.0)],
///     hard: vec![cap],
///     ..Problem::default()
/// };
/// let relaxed = relaxed(&problem)?.expect("three steps are allowed");
/// assert!((relaxed.objective - 0.4).abs() < 1e-12);
/// assert!((relaxed.hard[0] + 0.2).abs() < 1e-12); // one step more is worth 0.2
/// # Ok::<(), springwright_chem::numeric::ProblemError>(())
/// ```
///
/// # Errors
/// A problem that is not well stated, see [`ProblemError`].
pub fn relaxed(problem: &Problem) -> Result<Option<Relaxed>, ProblemError> {
    problem.check()?;
    let task = relaxed_task(problem, &problem.wishes);
    Ok(match problem.objective {
        Objective::RelativeDeviation => optimum::<Dictionary>(&task),
        Objective::LeastSquares => optimum::<Sweep>(&task),
    })
}

/// The problem in the order of the request, without the limit on columns.
pub(super) fn relaxed_task<'a>(problem: &'a Problem, wishes: &'a [Row]) -> Task<'a> {
    Task {
        columns: &problem.columns,
        shares: &problem.shares,
        wishes,
        objective: problem.objective,
        hard: &problem.hard,
        ceilings: &[],
        most_columns: usize::MAX,
    }
}

fn optimum<P: Program>(task: &Task<'_>) -> Option<Relaxed> {
    let form = Form::new(task, &bounds::stated(task));
    let mut program = P::root(&form);
    let verdict = program.solve(&form, f64::INFINITY, &mut Meter::allowing(1));
    if verdict == Verdict::Empty {
        return None;
    }
    let prices = program.multipliers(&form);
    let lines =
        |from: usize, to: usize| (from..to).map(|line| program.value(line) / form.unit[line]).collect();
    let last_share = form.columns + form.shares;
    let mut structural: Vec<f64> =
        prices.structural.iter().zip(&form.unit).map(|(g, unit)| g * unit).collect();
    Some(Relaxed {
        objective: program.bound(),
        steps: lines(0, form.columns),
        shares: lines(form.columns, last_share),
        wishes: prices.wishes,
        hard: prices.hard.iter().zip(&form.scale[form.wishes..]).map(|(g, scale)| g * scale).collect(),
        share_prices: structural.split_off(form.columns),
        columns: structural,
    })
}
