//! The whole search: objectives one after the other, each held at its best while the next is improved, then ties.

use super::answer::{Answer, Counts, Outcome, Reached, TieBreak};
use super::canonical::Canonical;
use super::error::ProblemError;
use super::incumbent::Point;
use super::judge::Ceiling;
use super::problem::{Effort, HardRow, Level, Objective, Problem, Row};
use super::search::{Found, Pass, Task, search};
use super::ties;
use super::tree::{Aim, TIE};

/// Answers a problem with one objective.
///
/// # Errors
/// A problem that is not well stated, see [`ProblemError`].
pub fn solve(problem: &Problem) -> Result<Outcome, ProblemError> {
    solve_lexicographic(problem, &[])
}

/// Answers a problem with several objectives: first the problem's own, then, among the answers within 1e-9 of its
/// best, each of `further` in turn. (A level of squares holds its row values, not only their sum.) Answers that
/// still tie are told apart by cost, number of counted columns, mass and order in the request.
///
/// ```
/// use springwright_chem::numeric::{Column, Level, Objective, Outcome, Problem, Row, solve_lexicographic};
/// // Any two steps meet the first wish; the second one prefers the second column.
/// let problem = Problem {
///     columns: vec![Column::up_to(5), Column::up_to(5)],
///     wishes: vec![Row::of_columns(&[1.0, 1.0], -2.0)],
///     ..Problem::default()
/// };
/// let second = Level { wishes: vec![Row::of_columns(&[1.0, 0.0], 0.0)], objective: Objective::RelativeDeviation };
/// let Outcome::Solved(answer) = solve_lexicographic(&problem, &[second])? else { panic!("not solved") };
/// assert_eq!(answer.steps, [0, 2]);
/// # Ok::<(), springwright_chem::numeric::ProblemError>(())
/// ```
///
/// # Errors
/// A problem or level that is not well stated, see [`ProblemError`].
pub fn solve_lexicographic(problem: &Problem, further: &[Level]) -> Result<Outcome, ProblemError> {
    problem.check()?;
    for level in further {
        problem.check_rows("wish", level.wishes.iter())?;
    }
    let canonical = Canonical::new(problem, further);
    Ok(outcome(problem, further, &canonical))
}

/// Part of the fine effort that ties get when the objectives themselves are not proved.
const UNPROVED_PART: u64 = 4;

/// One objective that has been searched, and how its best is held for what follows.
pub(super) struct Held {
    /// Objective of the best point.
    pub(super) best: f64,
    bound: f64,
    proved: bool,
}

/// The two passes of a main search.
pub(super) fn passes(effort: Effort) -> [Pass; 2] {
    [Pass { aim: Aim::Within(1e-3), effort: effort.coarse }, Pass { aim: Aim::Ties, effort: effort.fine }]
}

fn outcome(problem: &Problem, further: &[Level], canonical: &Canonical) -> Outcome {
    let mut counts = Counts::default();
    let mut hard = canonical.hard.clone();
    let mut held: Vec<Held> = Vec::new();
    let mut point: Option<Point> = None;
    let mut tie = false;
    for (index, level) in canonical.levels.iter().enumerate() {
        let ceilings = ceilings(&canonical.levels[..index], &held);
        let task = task_of(canonical, level, &hard, &ceilings);
        let found = search(&task, point.as_ref(), &passes(problem.effort));
        counts.add(found.counts);
        let Found { best: Some(best), bound, finished, .. } = found else {
            return match found.finished {
                true => Outcome::Infeasible { counts },
                false => Outcome::Budget { bound: found.bound, counts },
            };
        };
        held.push(Held { best: best.value, bound, proved: finished });
        if level.objective == Objective::LeastSquares {
            hard.extend(level.wishes.iter().map(|row| same_value(row, &best)));
        }
        tie = found.tie || !finished;
        point = Some(best);
        if !tie {
            // Nothing else comes as close: what follows has no choice left.
            held.extend(canonical.levels[index + 1..].iter().map(|level| settled(level, point.as_ref())));
            break;
        }
    }
    let Some(mut point) = point else { return Outcome::Infeasible { counts } };
    let mut tie_break = TieBreak::NoTie;
    if tie {
        let ceilings = ceilings(&canonical.levels, &held);
        let main_proved = held.iter().all(|level| level.proved);
        let effort = if main_proved { problem.effort.fine } else { problem.effort.fine / UNPROVED_PART };
        let proved = ties::tell_apart(canonical, &hard, &ceilings, effort, &mut point, &mut counts);
        tie_break = if proved && main_proved { TieBreak::Proved } else { TieBreak::Open };
    }
    Outcome::Solved(answer(problem, further, canonical, &point, &held, tie_break, counts))
}

/// A level below one that left a single answer: that answer is its best.
fn settled(level: &Level, point: Option<&Point>) -> Held {
    let best = point.map_or(0.0, |point| value_of(level, &point.steps, &point.shares));
    Held { best, bound: best, proved: true }
}

fn value_of(level: &Level, steps: &[i64], shares: &[f64]) -> f64 {
    let rows: Vec<f64> = level.wishes.iter().map(|row| row.value(steps, shares)).collect();
    level.objective.of(&rows)
}

/// Ceilings that hold levels of sizes at their best.
fn ceilings<'a>(levels: &'a [Level], held: &[Held]) -> Vec<Ceiling<'a>> {
    let searched =
        levels.iter().zip(held).filter(|(level, _)| level.objective == Objective::RelativeDeviation);
    searched.map(|(level, held)| Ceiling { wishes: &level.wishes, most: held.best + TIE }).collect()
}

/// A hard row that holds a wished row at its value.
fn same_value(row: &Row, point: &Point) -> HardRow {
    let value = row.value(&point.steps, &point.shares);
    HardRow { row: row.clone(), lower: Some(value), upper: Some(value) }
}

pub(super) fn task_of<'a>(
    canonical: &'a Canonical,
    level: &'a Level,
    hard: &'a [HardRow],
    ceilings: &'a [Ceiling<'a>],
) -> Task<'a> {
    Task {
        columns: &canonical.columns,
        shares: &canonical.shares,
        wishes: &level.wishes,
        objective: level.objective,
        hard,
        ceilings,
        most_columns: canonical.most_columns,
    }
}

fn answer(
    problem: &Problem,
    further: &[Level],
    canonical: &Canonical,
    point: &Point,
    held: &[Held],
    tie_break: TieBreak,
    counts: Counts,
) -> Answer {
    let (steps, shares) = (canonical.steps_back(&point.steps), canonical.shares_back(&point.shares));
    let own = Level { wishes: problem.wishes.clone(), objective: problem.objective };
    let levels = core::iter::once(&own).chain(further).zip(held);
    let reached = levels.map(|(level, held)| {
        let objective = value_of(level, &steps, &shares);
        let bound = held.bound.clamp(0.0, objective);
        Reached { objective, bound, gap: objective - bound, proved: held.proved }
    });
    Answer { reached: reached.collect(), steps, shares, tie_break, counts }
}
