//! Settles the litres: how much water a finished litre holds depends on what is dissolved, and what is dissolved in
//! a litre depends on how much water it holds. The answer is searched again until both agree.

use super::approach::approach;
use super::counting::Rule;
use super::fault::FormulationError;
use super::finish::{agrees, finished, litre_of, litre_of_pure, mixed};
use super::frame::{Frame, Litre};
use super::means::Order;
use crate::composition::state::Solution;
use crate::numeric::{self, Answer, HardRow, Level, Outcome, Problem, Relaxed, Row};
use crate::properties::SolvedWater;

/// A settled answer.
#[derive(Clone, Debug)]
pub(super) struct Settled {
    /// Balance of each salt.
    pub balance_of: Vec<usize>,
    /// The litre for which the rows were written; the finished water has the same.
    pub litre: Litre,
    /// The answer of the search.
    pub answer: Answer,
    /// kg of water from each source.
    pub water_kg: Vec<f64>,
    /// What waters and salts make together, before gas comes or goes.
    pub mixed: Solution,
    /// The finished water.
    pub finished: Solution,
    /// The finished water solved, where wishes ask for properties of its state.
    pub solved: Option<SolvedWater>,
    /// By how much the demands on properties are missed, each over its size.
    pub missed: f64,
    /// The proved distance of each objective to the best there is, in order of priority, as far as one is proved.
    pub gaps: Vec<f64>,
}

/// The blend that is best by the linear wishes, and from there, where wishes ask for properties of the solved state,
/// the best that is found by all of them. `None` where nothing holds every linear demand.
///
/// # Errors
/// [`FormulationError::SearchEnded`] where the counted work ended first, or the litres did not settle; a water that
/// cannot be solved.
pub(super) fn settle(order: &Order, rules: &[Rule]) -> Result<Option<Settled>, FormulationError> {
    let Some(settled) = settle_linear(order, rules)? else { return Ok(None) };
    let asks_for_state = order.wishes.iter().any(|wish| wish.property().is_some());
    if asks_for_state { approach(order, rules, settled).map(Some) } else { Ok(Some(settled)) }
}

/// Searches in the litre as far as it is known, settles the litre of the steps that were found, and searches again
/// in that litre, until the search finds the same steps. `None` where nothing holds every demand.
///
/// Where many salts can stand for each other the search may find other steps that are as good, again and again; the
/// best of them is kept then. Its gap is told against the bound of the last search.
fn settle_linear(order: &Order, rules: &[Rule]) -> Result<Option<Settled>, FormulationError> {
    const SEARCHES: usize = 12;
    const KEPT_ON: usize = 3;
    let (mut litre, mut balance_of) = first_guess(order, rules)?;
    let mut best: Option<Settled> = None;
    let mut settled_searches = 0;
    for _ in 0..SEARCHES {
        let frame = Frame::new(order, &litre, rules, &balance_of);
        let (problem, further) = frame.problem(frame.columns());
        let answer = match numeric::solve_lexicographic(&problem, &further)? {
            Outcome::Solved(answer) => answer,
            Outcome::Infeasible { .. } => match larger_balances(&frame, None) {
                Some(larger) => {
                    balance_of = larger;
                    continue;
                }
                None => return Ok(best),
            },
            Outcome::Budget { .. } => return best.map(Some).ok_or(FormulationError::SearchEnded),
        };
        if let Some(larger) = larger_balances(&frame, Some(&answer)) {
            balance_of = larger;
            continue;
        }
        let own_litre = litre_of_answer(&frame, &answer)?;
        let Some(settled) = in_own_litre(order, rules, &balance_of, &litre, answer)? else {
            litre = own_litre;
            continue;
        };
        settled_searches += 1;
        let same = agrees(&litre, &settled.litre);
        litre = settled.litre.clone();
        best = Some(better(best, settled));
        if same || settled_searches > KEPT_ON {
            return Ok(best);
        }
    }
    best.map(Some).ok_or(FormulationError::SearchEnded)
}

/// The better of two settled answers by their objectives in order of priority, the later one where they tie; its
/// bounds are those of the later search.
fn better(earlier: Option<Settled>, later: Settled) -> Settled {
    let Some(mut earlier) = earlier else { return later };
    let pairs = earlier.answer.reached.iter().zip(&later.answer.reached);
    let first = pairs.map(|(a, b)| a.objective - b.objective).find(|difference| difference.abs() > 1e-9);
    if first.is_none_or(|difference| difference > 0.0) {
        return later;
    }
    for (own, last) in earlier.answer.reached.iter_mut().zip(&later.answer.reached) {
        own.bound = last.bound.min(own.objective);
        own.gap = own.objective - own.bound;
        own.proved = last.proved && own.gap <= 1e-9;
    }
    earlier.gaps = earlier.answer.reached.iter().map(|level| level.gap).collect();
    earlier
}

/// Steps that were found, with the litre that they themselves make and the shares that are best in it. `None` where
/// a demand does not hold in that litre.
fn in_own_litre(
    order: &Order,
    rules: &[Rule],
    balance_of: &[usize],
    searched_in: &Litre,
    found: Answer,
) -> Result<Option<Settled>, FormulationError> {
    const ROUNDS: usize = 30;
    let steps: Vec<f64> = found.steps.iter().map(|steps| *steps as f64).collect();
    let mut litre = searched_in.clone();
    let mut answer = found;
    for _ in 0..ROUNDS {
        let frame = Frame::new(order, &litre, rules, balance_of);
        let water_kg = frame.water_of_sources(&steps, &answer.shares);
        let mixed = mixed(&frame, &steps, &water_kg)?;
        let finished = finished(order, &mixed)?;
        let next = litre_of(order, &finished);
        if agrees(&litre, &next) {
            let gaps = answer.reached.iter().map(|level| level.gap).collect();
            let balance_of = balance_of.to_vec();
            let (solved, missed) = (None, 0.0);
            let settled =
                Settled { balance_of, litre, answer, water_kg, mixed, finished, solved, missed, gaps };
            return Ok(Some(settled));
        }
        litre = next;
        let frame = Frame::new(order, &litre, rules, balance_of);
        let (problem, further) = frame.problem(frame.columns());
        let Some(shared) = shares_of(&problem, &further, &answer.steps)? else { return Ok(None) };
        for (own, level) in answer.reached.iter_mut().zip(&shared.reached) {
            own.objective = level.objective;
            own.bound = own.bound.min(own.objective);
            own.gap = own.objective - own.bound;
        }
        answer.shares = shared.shares;
    }
    Ok(None)
}

/// The best shares of the waters for steps that stand. `None` where some demand cannot be held with them.
pub(super) fn shares_of(
    problem: &Problem,
    further: &[Level],
    steps: &[i64],
) -> Result<Option<Answer>, FormulationError> {
    let fixed = |row: &Row| {
        let brought: f64 = row.columns.iter().zip(steps).map(|(a, n)| a * *n as f64).sum();
        Row { columns: Vec::new(), shares: row.shares.clone(), constant: row.constant + brought }
    };
    let level = |level: &Level| Level {
        wishes: level.wishes.iter().map(fixed).collect(),
        objective: level.objective,
    };
    let hard = |hard: &HardRow| HardRow { row: fixed(&hard.row), ..hard.clone() };
    let standing = Problem {
        columns: Vec::new(),
        wishes: problem.wishes.iter().map(fixed).collect(),
        hard: problem.hard.iter().map(hard).collect(),
        ..problem.clone()
    };
    let further: Vec<Level> = further.iter().map(level).collect();
    Ok(match numeric::solve_lexicographic(&standing, &further)? {
        Outcome::Solved(answer) => Some(answer),
        Outcome::Infeasible { .. } | Outcome::Budget { .. } => None,
    })
}

/// The litre that an answer makes, whether or not every demand holds in it.
fn litre_of_answer(frame: &Frame<'_>, answer: &Answer) -> Result<Litre, FormulationError> {
    let steps: Vec<f64> = answer.steps.iter().map(|steps| *steps as f64).collect();
    let water_kg = frame.water_of_sources(&steps, &answer.shares);
    let mixed = mixed(frame, &steps, &water_kg)?;
    Ok(litre_of(frame.order, &finished(frame.order, &mixed)?))
}

/// The litre of the best water without whole steps, and the finest balance that takes each of its masses.
fn first_guess(order: &Order, rules: &[Rule]) -> Result<(Litre, Vec<usize>), FormulationError> {
    let mut finest: Vec<usize> = (0..order.balances.len()).collect();
    finest.sort_by(|a, b| order.balances[*a].step_g.total_cmp(&order.balances[*b].step_g));
    let mut balance_of = vec![finest[0]; order.shelf.len()];
    let mut litre = litre_of_pure(order)?;
    for _ in 0..2 {
        let frame = Frame::new(order, &litre, rules, &balance_of);
        let Some(relaxed) = relax(&frame)? else { break };
        let masses: Vec<f64> = relaxed.steps.iter().enumerate().map(|(at, n)| n * frame.step_g(at)).collect();
        let water_kg = frame.water_of_sources(&relaxed.steps, &relaxed.shares);
        let next = litre_of(order, &finished(order, &mixed(&frame, &relaxed.steps, &water_kg)?)?);
        for (at, mass) in masses.into_iter().enumerate() {
            let takes = |balance: &&usize| order.balances[**balance].most_g >= mass * (1.0 - 1e-9);
            balance_of[at] = *finest.iter().find(takes).unwrap_or(&finest[finest.len() - 1]);
        }
        litre = next;
    }
    Ok((litre, balance_of))
}

/// The best water without balances and without a limit on the number of salts.
pub(super) fn relax(frame: &Frame<'_>) -> Result<Option<Relaxed>, FormulationError> {
    let (problem, _) = frame.problem(frame.ungridded());
    Ok(numeric::relaxed(&problem)?)
}

/// Moves each salt that stands at the most its balance takes (or, where nothing was found, every salt) to the next
/// larger balance; `None` where there is nothing to move.
pub(super) fn larger_balances(frame: &Frame<'_>, answer: Option<&Answer>) -> Option<Vec<usize>> {
    let balances = &frame.order.balances;
    let mut moved = frame.balance_of.to_vec();
    for (at, balance) in moved.iter_mut().enumerate() {
        let own = balances[*balance];
        let full = answer.is_none_or(|answer| answer.steps[at] >= own.steps_within(own.most_g));
        let larger = (0..balances.len()).filter(|other| balances[*other].most_g > own.most_g);
        let next = larger.min_by(|a, b| balances[*a].most_g.total_cmp(&balances[*b].most_g));
        if let Some(next) = next.filter(|_| full) {
            *balance = next;
        }
    }
    (moved != frame.balance_of).then_some(moved)
}

/// For each salt the balance that takes most.
pub(super) fn largest_balances(order: &Order) -> Vec<usize> {
    let most = |at: usize| order.balances[at].most_g;
    let largest = (0..order.balances.len()).reduce(|best, at| if most(at) > most(best) { at } else { best });
    vec![largest.unwrap_or(0); order.shelf.len()]
}
