//! How one node of the tree is settled or divided. Every candidate is solved before one is chosen: a child that is
//! pruned tightens the node for nothing, and the choice that is left is the strongest.

use super::program::{Program, Verdict};
use super::tree::{Offer, PROOF, TIE, Tree, WHOLE};

/// What to do with a node after a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Next {
    /// Nothing is left in it.
    Settled,
    /// It was tightened; look again.
    Again,
}

/// Room for rounding when a price closes steps off.
const PRICE_ROOM: f64 = 1e-6;

impl<P: Program> Tree<'_, P> {
    /// One step of settling a node.
    pub(super) fn step(&mut self, node: &mut P) -> Next {
        if !node.sound() {
            return self.halve(node);
        }
        self.tighten_by_prices(node);
        let mut positive = Vec::new();
        let mut used = 0;
        for column in (0..self.columns.len()).filter(|&c| self.columns[c].counted) {
            if node.limits(column).0 > 0.0 {
                used += 1;
            } else if self.steps(node, column) > WHOLE {
                positive.push(column);
            }
        }
        if used > self.most_columns {
            return Next::Settled;
        }
        if used == self.most_columns {
            return match self.close_others(node) {
                Some(next) => next,
                None => self.branch_on_steps(node),
            };
        }
        if used + positive.len() > self.most_columns {
            return self.branch_on_use(node, &positive, used);
        }
        self.branch_on_steps(node)
    }

    /// Solves a node whose bounds have changed.
    fn again(&mut self, node: &mut P) -> Next {
        match node.solve(self.form, self.cutoff(), &mut self.meter) {
            Verdict::Cut | Verdict::Empty => Next::Settled,
            Verdict::Optimal | Verdict::Stalled => Next::Again,
        }
    }

    /// A child of `node` with other bounds for one column, solved; `None` when nothing is left in it.
    fn child(&mut self, node: &P, column: usize, lower: i64, upper: i64) -> Option<P> {
        if lower > upper {
            return None;
        }
        let mut child = self.copy(node);
        self.restrict(&mut child, column, lower, upper);
        match child.solve(self.form, self.cutoff(), &mut self.meter) {
            Verdict::Cut | Verdict::Empty => {
                self.recycle(child);
                None
            }
            Verdict::Optimal | Verdict::Stalled => Some(child),
        }
    }

    /// Closes off steps that cost more than the node may still lose.
    fn tighten_by_prices(&mut self, node: &mut P) {
        let room = self.cutoff() - node.bound();
        if !room.is_finite() {
            return;
        }
        for column in 0..self.columns.len() {
            let per_step = node.price(column) * self.form.unit[column];
            if per_step == 0.0 {
                continue;
            }
            let most = (room / per_step.abs() + PRICE_ROOM).floor();
            let (lower, upper) = self.limits(node, column);
            if most >= (upper - lower) as f64 {
                continue;
            }
            let least = self.columns[column].least_used();
            if per_step > 0.0 {
                let upper = lower + most as i64;
                self.restrict(node, column, lower, if lower == 0 && upper < least { 0 } else { upper });
            } else {
                self.restrict(node, column, (upper - most as i64).max(least).min(upper), upper);
            }
        }
    }

    /// As many columns are in use as may be: the others are out. `None` when they were out already.
    fn close_others(&mut self, node: &mut P) -> Option<Next> {
        let mut moved = false;
        for column in (0..self.columns.len()).filter(|&c| self.columns[c].counted) {
            let (lower, upper) = self.limits(node, column);
            if lower == 0 && upper > 0 {
                moved |= self.steps(node, column) != 0.0;
                self.restrict(node, column, 0, 0);
            }
        }
        moved.then(|| self.again(node))
    }

    /// More columns are positive than may be used: what would each cost to leave out?
    fn branch_on_use(&mut self, node: &mut P, positive: &[usize], mut used: usize) -> Next {
        let mut dearest: Option<(usize, P)> = None;
        let mut settled = Vec::new();
        for &column in positive {
            match self.child(node, column, 0, 0) {
                None => {
                    settled.push(column);
                    used += 1;
                    if used >= self.most_columns {
                        break;
                    }
                }
                Some(out) => {
                    let more = dearest.as_ref().is_none_or(|(_, best)| out.bound() > best.bound());
                    let loser =
                        if more { dearest.replace((column, out)).map(|(_, old)| old) } else { Some(out) };
                    if let Some(loser) = loser {
                        self.recycle(loser);
                    }
                }
            }
        }
        if !settled.is_empty() {
            if let Some((_, out)) = dearest {
                self.recycle(out);
            }
            return self.take_in(node, &settled);
        }
        let Some((column, out)) = dearest else { return Next::Settled };
        self.push(out);
        self.take_in(node, &[column])
    }

    /// Takes columns into use for good.
    fn take_in(&mut self, node: &mut P, columns: &[usize]) -> Next {
        let mut moved = false;
        for &column in columns {
            let least = self.columns[column].least_used();
            let (_, upper) = self.limits(node, column);
            if upper < least {
                return Next::Settled;
            }
            moved |= self.steps(node, column) < least as f64;
            self.restrict(node, column, least, upper);
        }
        if moved { self.again(node) } else { Next::Again }
    }

    /// Few enough columns are positive: their steps must become whole.
    fn branch_on_steps(&mut self, node: &mut P) -> Next {
        self.round(node);
        if node.bound() >= self.cutoff() {
            return Next::Settled;
        }
        let mut strongest: Option<(f64, P, P)> = None;
        for column in 0..self.columns.len() {
            let Some((down, up)) = self.division(node, column) else { continue };
            let (lower, upper) = self.limits(node, column);
            let below = self.child(node, column, lower, down.min(upper));
            let above = self.child(node, column, up.max(lower), upper);
            let (below, above) = match (below, above) {
                (None, None) => {
                    self.recycle_pair(strongest);
                    return Next::Settled;
                }
                (Some(only), None) | (None, Some(only)) => {
                    self.recycle_pair(strongest);
                    self.recycle(std::mem::replace(node, only));
                    return Next::Again;
                }
                (Some(below), Some(above)) => (below, above),
            };
            let strength = below.bound().min(above.bound());
            let more = strongest.as_ref().is_none_or(|(best, ..)| strength > *best);
            let loser =
                if more { strongest.replace((strength, below, above)) } else { Some((0.0, below, above)) };
            self.recycle_pair(loser);
        }
        let Some((_, below, above)) = strongest else { return self.leaf(node) };
        self.descend_into(node, below, above)
    }

    /// Goes on with the child of smaller bound and keeps the other for later.
    fn descend_into(&mut self, node: &mut P, a: P, b: P) -> Next {
        let (first, second) = if a.bound() <= b.bound() { (a, b) } else { (b, a) };
        self.push(second);
        self.recycle(std::mem::replace(node, first));
        Next::Again
    }

    fn recycle_pair(&mut self, pair: Option<(f64, P, P)>) {
        if let Some((_, a, b)) = pair {
            self.recycle(a);
            self.recycle(b);
        }
    }

    /// Most steps of the lower child and fewest of the upper one, if the column's steps are not whole.
    fn division(&self, node: &P, column: usize) -> Option<(i64, i64)> {
        let value = self.steps(node, column);
        let least = self.columns[column].least_used();
        if node.limits(column).0 == 0.0 && value > WHOLE && value < least as f64 - WHOLE {
            return Some((0, least));
        }
        if (value - value.round()).abs() <= WHOLE {
            return None;
        }
        let down = value.floor() as i64;
        Some((if down < least && node.limits(column).0 == 0.0 { 0 } else { down }, (down + 1).max(least)))
    }

    /// All steps are whole: an answer, and the best of its node unless rounding broke a hard row.
    fn leaf(&mut self, node: &mut P) -> Next {
        let steps: Vec<i64> = (0..self.columns.len()).map(|c| self.steps(node, c).round() as i64).collect();
        let offer = self.offer(&steps);
        if let Offer::Holds(value) = offer
            && value <= node.bound() + PROOF
        {
            let best = self.best.as_ref().map_or(f64::INFINITY, |best| best.value);
            if !self.tie && value <= best + TIE {
                self.tie = !node.lone(self.form, 2.0 * TIE);
            }
            return Next::Settled;
        }
        for (column, &count) in steps.iter().enumerate() {
            let (lower, upper) = self.limits(node, column);
            if lower < upper {
                let least = self.columns[column].least_used();
                let (down, up) = if count <= lower {
                    (lower, (lower + 1).max(least))
                } else {
                    let down = count - 1;
                    (if lower == 0 && down < least { 0 } else { down }, count)
                };
                return self.divide(node, column, down, up);
            }
        }
        if offer == Offer::Broken && self.form.shares > 0 {
            // The program holds that some shares keep the hard rows; judged exactly, those it gives do not.
            self.given_up = self.given_up.min(node.bound());
        }
        Next::Settled
    }

    /// Divides a node without having solved its candidates.
    fn divide(&mut self, node: &mut P, column: usize, down: i64, up: i64) -> Next {
        let (lower, upper) = self.limits(node, column);
        match (self.child(node, column, lower, down), self.child(node, column, up, upper)) {
            (Some(below), Some(above)) => self.descend_into(node, below, above),
            (Some(only), None) | (None, Some(only)) => {
                self.recycle(std::mem::replace(node, only));
                Next::Again
            }
            (None, None) => Next::Settled,
        }
    }

    /// A node whose program did not end is divided at the middle of its widest column.
    fn halve(&mut self, node: &mut P) -> Next {
        let mut widest: Option<(i64, usize)> = None;
        for column in 0..self.columns.len() {
            let (lower, upper) = self.limits(node, column);
            if upper > lower && widest.is_none_or(|(most, _)| upper - lower > most) {
                widest = Some((upper - lower, column));
            }
        }
        let Some((_, column)) = widest else {
            let steps: Vec<i64> = (0..self.columns.len()).map(|c| self.limits(node, c).0).collect();
            if self.offer(&steps) == Offer::Broken && self.form.shares > 0 {
                self.given_up = self.given_up.min(node.bound());
            }
            return Next::Settled;
        };
        let (lower, upper) = self.limits(node, column);
        let least = self.columns[column].least_used();
        let middle = lower + (upper - lower) / 2;
        let up = (middle + 1).max(least).min(upper);
        let down = if lower == 0 && middle < least { 0 } else { middle };
        self.divide(node, column, down, up)
    }
}
