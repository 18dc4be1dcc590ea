//! Wishes for properties of the solved state: searched in the tangents of a state, solved in full, and searched again in
//! the tangents of the state that was found.
//!
//! A search in tangents is exact in whole steps but believes the tangents too far. So the first ones are leaned to where
//! logarithms end (`tangent`), the later ones are laid between where a search began and where it ended, and each answer is
//! solved in full, with the shares of the waters that are best then, and only then judged. What stands at the end is the
//! best answer that was solved in full; steps of coarse balances are tried around it at last. Nothing proves that no better
//! one exists elsewhere.

use super::counting::Rule;
use super::fault::FormulationError;
use super::finish::litre_of_pure;
use super::frame::{Frame, Litre};
use super::means::Order;
use super::polish::polish;
use super::settle::{Settled, larger_balances};
use super::stand::{HELD, TIE, is_better, laid, merit, stand};
use super::tangent::lean;
use crate::numeric::{self, Answer, Effort, Outcome};

/// Most searches from one start.
const ROUNDS: usize = 12;
/// So many of them lean their tangents.
const LEANED: usize = 2;
/// So many of them take the next tangents from where the one before ended.
const STRAIGHT: usize = 5;
/// After so many answers in a row that are no better, the search ends.
const PATIENCE: usize = 4;
/// Work of one search, in relaxations.
const EFFORT: Effort = Effort { coarse: 4_000, fine: 2_000 };
/// mol of each salt in a kg of water, from which a second start takes its tangents.
const SECOND_START: f64 = 3e-4;

/// Where tangents are laid: grams of each salt and shares of the waters.
#[derive(Clone)]
struct Point {
    grams: Vec<f64>,
    shares: Vec<f64>,
}

/// From the best answer by the linear wishes to the best that is found by all of them.
///
/// # Errors
/// A water that cannot be solved.
pub(super) fn approach(order: &Order, rules: &[Rule], linear: Settled) -> Result<Settled, FormulationError> {
    let (steps, shares) = (&linear.answer.steps, &linear.answer.shares);
    let start = stand(order, rules, &linear.balance_of, steps, shares, &linear.litre)?;
    let satisfied = |settled: &Settled| {
        let levels = settled.answer.reached.iter().zip(&linear.answer.reached);
        settled.missed <= HELD && levels.clone().all(|(own, level)| own.objective <= level.objective + TIE)
    };
    let mut best = start;
    if !best.as_ref().is_some_and(satisfied) {
        let point = point_of(order, &linear.balance_of, steps, shares);
        best = searched(order, rules, &linear.balance_of, point, best)?;
        let unmet = |settled: &Settled| settled.missed > HELD || misses(order, rules, settled);
        if best.as_ref().is_none_or(unmet) {
            best = searched(order, rules, &linear.balance_of, second_start(order, &linear), best)?;
        }
    }
    let mut best = best.ok_or(FormulationError::SearchEnded)?;
    bounded(&mut best, &linear);
    Ok(best)
}

/// Whether a property is farther from what is asked near than its tolerance.
fn misses(order: &Order, rules: &[Rule], settled: &Settled) -> bool {
    let off = |at: usize| {
        let (near, tangent) = (rules[at].near?, settled.litre.tangents[at].as_ref()?);
        let tolerance = order.wishes[at].tolerance.of_size(rules[at].size(near));
        Some((tangent.value - near).abs() > tolerance)
    };
    (0..rules.len()).any(|at| off(at).unwrap_or(false))
}

/// The proved distances: the best by the linear wishes alone is a bound, as the others only add to an objective. A further
/// priority is bounded only where those before it stand at theirs, and nothing where a demand is missed.
fn bounded(best: &mut Settled, linear: &Settled) {
    let mut follows = best.missed <= HELD;
    for (own, level) in best.answer.reached.iter_mut().zip(&linear.answer.reached) {
        own.bound = if follows { level.bound.min(own.objective) } else { 0.0 };
        own.gap = own.objective - own.bound;
        own.proved = follows && own.gap <= TIE;
        if follows {
            best.gaps.push(own.gap);
        }
        follows = follows && own.gap <= TIE;
    }
}

fn point_of(order: &Order, balance_of: &[usize], steps: &[i64], shares: &[f64]) -> Point {
    let grams = |(at, steps): (usize, &i64)| *steps as f64 * order.balances[balance_of[at]].step_g;
    Point { grams: steps.iter().enumerate().map(grams).collect(), shares: shares.to_vec() }
}

/// Whether two points are the same as far as a balance and a measuring vessel tell.
fn same(one: &Point, other: &Point) -> bool {
    one.grams.iter().zip(&other.grams).all(|(a, b)| (a - b).abs() <= 1e-9 * a.max(*b))
        && one.shares.iter().zip(&other.shares).all(|(a, b)| (a - b).abs() <= 1e-7)
}

/// A little of every salt: there no slope is missing.
fn second_start(order: &Order, linear: &Settled) -> Point {
    let grams = |choice: &super::means::Choice| SECOND_START * order.volume_l / choice.moles_per_g();
    let usable = |choice: &super::means::Choice| if choice.most_g == Some(0.0) { 0.0 } else { grams(choice) };
    Point { grams: order.shelf.iter().map(usable).collect(), shares: linear.answer.shares.clone() }
}

fn halfway(one: &Point, other: &Point) -> Point {
    let mid = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| 0.5 * (a + b)).collect();
    Point { grams: mid(&one.grams, &other.grams), shares: mid(&one.shares, &other.shares) }
}

/// Searches in turns from a point. The best of what is found and of what is known already.
///
/// The next tangents are laid where the search ended, held there or not; later ones only part of the way there, so that
/// two searches that throw each other back and forth meet.
fn searched(
    order: &Order,
    rules: &[Rule],
    balance_of: &[usize],
    mut point: Point,
    mut best: Option<Settled>,
) -> Result<Option<Settled>, FormulationError> {
    let mut balance_of = balance_of.to_vec();
    let mut litre = best.as_ref().map_or_else(|| litre_of_pure(order), |best| Ok(best.litre.clone()))?;
    let mut laid_there: Option<Litre> = None;
    let (mut leaned, mut no_better) = (LEANED, 0);
    let mut last: Option<Point> = None;
    for round in 0..ROUNDS {
        let chord = leaned > 0;
        leaned = leaned.saturating_sub(1);
        litre = match laid_there.take() {
            Some(laid) => lean(order, laid, chord),
            None => match near(order, rules, &balance_of, &point, &litre, chord) {
                Ok(litre) => litre,
                Err(_) => break,
            },
        };
        let frame = Frame::new(order, &litre, rules, &balance_of);
        let Some(answer) = found(&frame)? else { break };
        if let Some(larger) = larger_balances(&frame, Some(&answer)) {
            balance_of = larger;
            continue;
        }
        let shares = &answer.shares[..frame.free.len()];
        let there = point_of(order, &balance_of, &answer.steps, shares);
        // A water beyond the model is no answer, but the way to one may lead past it.
        let solved = stand(order, rules, &balance_of, &answer.steps, shares, &litre).unwrap_or(None);
        // With one water the tangents of what stands are those of where the search ended.
        let straight = round < STRAIGHT;
        laid_there = solved.as_ref().filter(|_| straight && shares.is_empty()).map(|own| own.litre.clone());
        let better = |own: &Settled| best.as_ref().is_none_or(|best| is_better(merit(own), merit(best)));
        let solved = solved.filter(better);
        no_better = if solved.is_some() { 0 } else { no_better + 1 };
        best = solved.or(best);
        // Where the search comes back to where its tangents were laid, or to where it ended before, it has settled.
        let back = same(&point, &there) || last.as_ref().is_some_and(|last| same(last, &there));
        if (back && !chord && no_better > 0) || no_better > PATIENCE {
            break;
        }
        leaned = if back { 0 } else { leaned };
        last = Some(there.clone());
        point = if straight { there } else { halfway(&point, &there) };
    }
    best.map(|best| polish(order, rules, best)).transpose()
}

/// The litre of a point with its tangents.
fn near(
    order: &Order,
    rules: &[Rule],
    balance_of: &[usize],
    point: &Point,
    litre: &Litre,
    chord: bool,
) -> Result<Litre, FormulationError> {
    let in_steps = |(at, grams): (usize, &f64)| grams / order.balances[balance_of[at]].step_g;
    let steps: Vec<f64> = point.grams.iter().enumerate().map(in_steps).collect();
    Ok(laid(order, rules, balance_of, (&steps, &point.shares), litre, chord)?.0.litre)
}

/// The best steps in the tangents: with every demand held, or else with those on properties missed by as little as can
/// be.
fn found(frame: &Frame<'_>) -> Result<Option<Answer>, FormulationError> {
    let (mut problem, further) = frame.problem(frame.columns());
    problem.effort = EFFORT;
    if let Outcome::Solved(answer) = numeric::solve_lexicographic(&problem, &further)? {
        return Ok(Some(answer));
    }
    let (mut problem, further) = frame.approached(frame.columns());
    problem.effort = EFFORT;
    Ok(match numeric::solve_lexicographic(&problem, &further)? {
        Outcome::Solved(answer) => Some(answer),
        Outcome::Infeasible { .. } | Outcome::Budget { .. } => None,
    })
}
