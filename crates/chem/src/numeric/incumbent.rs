//! The best answer so far, and how a rounded point is improved: single and paired moves of whole steps, downhill.

use super::judge::{Judge, Score};
use super::problem::Column;

/// Rounds of descent from one starting point.
const ROUNDS: usize = 200;

/// Whole steps and shares that keep every hard row.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Point {
    pub(super) steps: Vec<i64>,
    pub(super) shares: Vec<f64>,
    pub(super) value: f64,
}

/// A move: whole steps of some columns, and what it adds to every row.
pub(super) struct Move {
    pub(super) steps: Vec<(usize, i64)>,
    pub(super) change: Vec<f64>,
}

impl Move {
    /// One step of one column.
    pub(super) fn unit(judge: &Judge, column: usize) -> Self {
        Self { steps: vec![(column, 1)], change: judge.change(column).to_vec() }
    }

    /// The steps of a whole vector.
    pub(super) fn of(judge: &Judge, vector: &[i64]) -> Self {
        let steps: Vec<(usize, i64)> =
            vector.iter().enumerate().filter(|(_, n)| **n != 0).map(|(i, n)| (i, *n)).collect();
        let mut change = vec![0.0; judge.height()];
        for &(column, count) in &steps {
            let one = judge.change(column);
            change.iter_mut().zip(one).for_each(|(c, a)| *c += a * count as f64);
        }
        Self { steps, change }
    }
}

/// What whole steps are allowed whatever the node: bounds of the columns and how many may be used.
pub(super) struct Allowed<'a> {
    pub(super) columns: &'a [Column],
    pub(super) most_columns: usize,
}

impl Allowed<'_> {
    fn fits(&self, column: usize, count: i64) -> bool {
        let limits = &self.columns[column];
        count == 0 || (count >= limits.least_used() && count <= limits.most_steps)
    }

    /// Whether all steps are within bounds and few enough columns are used.
    pub(super) fn fit(&self, steps: &[i64]) -> bool {
        let within = steps.iter().enumerate().all(|(column, &count)| self.fits(column, count));
        let used = steps.iter().zip(self.columns).filter(|(n, c)| **n > 0 && c.counted).count();
        within && used <= self.most_columns
    }
}

/// The steps after a move, if they are allowed. `sign` applies to the first move, `second` is a move and its sign.
fn moved(
    allowed: &Allowed<'_>,
    steps: &[i64],
    first: (&Move, i64),
    second: Option<(&Move, i64)>,
    into: &mut Vec<i64>,
) -> bool {
    into.clear();
    into.extend_from_slice(steps);
    let parts = [Some(first), second];
    for (part, sign) in parts.into_iter().flatten() {
        for &(column, count) in &part.steps {
            into[column] += sign * count;
        }
    }
    let touched = || parts.into_iter().flatten().flat_map(|(part, _)| &part.steps);
    if !touched().all(|&(column, _)| allowed.fits(column, into[column])) {
        return false;
    }
    let opens = touched().any(|&(column, _)| steps[column] == 0 && into[column] > 0);
    !opens || allowed.fit(into)
}

/// A step downhill: its score, a move with its sign, and a second one where two together do better.
type Step = (Score, usize, i64, Option<(usize, i64)>);

/// Walks downhill from `steps` by single moves and sums of two, taking the best of each round.
pub(super) fn descend(
    judge: &Judge,
    allowed: &Allowed<'_>,
    moves: &[Move],
    shares: &[f64],
    steps: &mut Vec<i64>,
    cells: &mut u64,
) -> Score {
    let mut rows = judge.rows(steps, shares);
    let mut score = judge.score(&rows);
    let (mut trial, mut next) = (vec![0.0; rows.len()], Vec::new());
    for _ in 0..ROUNDS {
        let mut best: Option<Step> = None;
        let mut consider = |at: usize, sign: i64, second: Option<(usize, i64)>| {
            let first = &moves[at].change;
            let s = sign as f64;
            match second {
                None => {
                    let pairs = trial.iter_mut().zip(&rows).zip(first);
                    pairs.for_each(|((t, r), a)| *t = r + s * a);
                }
                Some((other, sign)) => {
                    let o = sign as f64;
                    let pairs = trial.iter_mut().zip(&rows).zip(first).zip(&moves[other].change);
                    pairs.for_each(|(((t, r), a), b)| *t = r + s * a + o * b);
                }
            }
            let reached = judge.score(&trial);
            if reached < best.map_or(score, |(score, ..)| score) {
                let second_move = second.map(|(other, sign)| (&moves[other], sign));
                if moved(allowed, steps, (&moves[at], sign), second_move, &mut next) {
                    best = Some((reached, at, sign, second));
                }
            }
        };
        for at in 0..moves.len() {
            for sign in [1, -1] {
                consider(at, sign, None);
                for other in at + 1..moves.len() {
                    consider(at, sign, Some((other, 1)));
                    consider(at, sign, Some((other, -1)));
                }
            }
        }
        *cells += (2 * moves.len() * moves.len() * rows.len()) as u64;
        let Some((_, at, sign, second)) = best else { break };
        let second_move = second.map(|(other, sign)| (&moves[other], sign));
        moved(allowed, steps, (&moves[at], sign), second_move, &mut next);
        std::mem::swap(steps, &mut next);
        rows = judge.rows(steps, shares);
        score = judge.score(&rows);
    }
    score
}
