//! One tree over which columns are used and how many steps of each: nodes on a heap stack, work counted.

use super::branching::Next;
use super::form::Form;
use super::incumbent::{Allowed, Move, Point, descend};
use super::judge::Judge;
use super::lattice;
use super::problem::Column;
use super::program::{Meter, Program, Verdict};

/// Answers closer than this tie.
pub(super) const TIE: f64 = 1e-9;
/// How close to a whole number of steps counts as whole.
pub(super) const WHOLE: f64 = 1e-7;
/// Relaxations after which lattice moves are worth their price.
const LATTICE_AFTER: u64 = 150;
/// Fewest allowed columns for which lattice moves are tried.
const LATTICE_COLUMNS: usize = 6;
/// Nodes at which lattice moves are tried each time, and every how many afterwards.
const LATTICE_FIRST: u64 = 64;
const LATTICE_EVERY: u64 = 8;
/// Margin below the best objective at which a node is dropped once it is known that others tie.
pub(super) const PROOF: f64 = 1e-10;

/// How the nodes are dropped.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Aim {
    /// Whatever is not better by this much is dropped.
    Within(f64),
    /// Nodes are kept until it is known whether another answer ties.
    Ties,
}

/// What came of whole steps that were tried as an answer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Offer {
    /// All hard rows hold; the objective.
    Holds(f64),
    /// A hard row, a bound or the limit on columns is broken.
    Broken,
    /// No shares make them as good as the best.
    Worse,
}

/// The search in progress.
pub(super) struct Tree<'a, P> {
    pub(super) form: &'a Form,
    pub(super) judge: &'a Judge,
    pub(super) columns: &'a [Column],
    pub(super) most_columns: usize,
    pub(super) aim: Aim,
    pub(super) best: Option<Point>,
    /// Another answer ties with the best, or might.
    pub(super) tie: bool,
    pub(super) meter: Meter,
    /// Least bound of what was given up without being settled.
    pub(super) given_up: f64,
    stack: Vec<P>,
    spare: Vec<P>,
    /// The program before any branching, from which fixed steps are settled.
    root: P,
    lattice: Option<Vec<Move>>,
    roundings: u64,
    last_rounded: Vec<i64>,
}

impl<'a, P: Program> Tree<'a, P> {
    pub(super) fn new(
        form: &'a Form,
        judge: &'a Judge,
        columns: &'a [Column],
        most_columns: usize,
        aim: Aim,
        allowed: u64,
    ) -> Self {
        Self {
            form,
            judge,
            columns,
            most_columns,
            aim,
            best: None,
            tie: false,
            meter: Meter::allowing(allowed),
            given_up: f64::INFINITY,
            stack: Vec::new(),
            spare: Vec::new(),
            root: P::root(form),
            lattice: None,
            roundings: 0,
            last_rounded: Vec::new(),
        }
    }

    /// The bound at which a node cannot hold anything wanted.
    pub(super) fn cutoff(&self) -> f64 {
        let Some(best) = &self.best else { return f64::INFINITY };
        match self.aim {
            Aim::Within(margin) => best.value - margin,
            Aim::Ties if self.tie => best.value - PROOF,
            Aim::Ties => best.value + TIE,
        }
    }

    /// Searches until nothing is left or the effort is spent; gives the least bound of what is left open.
    pub(super) fn run(&mut self) -> f64 {
        let mut first = self.copy_of_root();
        match first.solve(self.form, self.cutoff(), &mut self.meter) {
            Verdict::Cut | Verdict::Empty => return self.given_up,
            Verdict::Optimal | Verdict::Stalled => self.stack.push(first),
        }
        while let Some(node) = self.stack.pop() {
            if node.bound() >= self.cutoff() {
                self.spare.push(node);
                continue;
            }
            if self.meter.spent() {
                self.stack.push(node);
                break;
            }
            self.meter.counts.nodes += 1;
            self.look_into(node);
        }
        self.stack.iter().fold(self.given_up, |least, node| least.min(node.bound()))
    }

    /// Follows one node down until it is settled, pushing its siblings.
    fn look_into(&mut self, mut node: P) {
        loop {
            if node.bound() >= self.cutoff() {
                break;
            }
            if self.meter.spent() {
                self.stack.push(node);
                return;
            }
            match self.step(&mut node) {
                Next::Settled => break,
                Next::Again => {}
            }
        }
        self.spare.push(node);
    }

    pub(super) fn push(&mut self, node: P) {
        self.stack.push(node);
    }

    /// A program to overwrite.
    pub(super) fn blank(&mut self) -> P {
        self.spare.pop().unwrap_or_else(|| P::root(self.form))
    }

    pub(super) fn recycle(&mut self, node: P) {
        self.spare.push(node);
    }

    pub(super) fn copy(&mut self, of: &P) -> P {
        let mut copy = self.blank();
        copy.assign(of);
        self.meter.cells += (self.form.width * self.form.height / 4) as u64;
        copy
    }

    fn copy_of_root(&mut self) -> P {
        let mut copy = self.blank();
        copy.assign(&self.root);
        copy
    }

    /// Tightens a structural variable by whole steps.
    pub(super) fn restrict(&self, node: &mut P, column: usize, lower: i64, upper: i64) {
        let unit = self.form.unit[column];
        node.restrict(column, lower as f64 * unit, upper as f64 * unit);
    }

    /// Whole-step bounds of a column at a node.
    pub(super) fn limits(&self, node: &P, column: usize) -> (i64, i64) {
        let ((lower, upper), unit) = (node.limits(column), self.form.unit[column]);
        ((lower / unit).round() as i64, (upper / unit).round() as i64)
    }

    /// Steps of a column at a node, not whole in general.
    pub(super) fn steps(&self, node: &P, column: usize) -> f64 {
        node.value(column) / self.form.unit[column]
    }

    /// Tries whole steps as an answer: shares are chosen anew for them.
    pub(super) fn offer(&mut self, steps: &[i64]) -> Offer {
        let allowed = Allowed { columns: self.columns, most_columns: self.most_columns };
        if !allowed.fit(steps) {
            return Offer::Broken;
        }
        let shares = if self.form.shares == 0 { Ok(Vec::new()) } else { self.best_shares(steps) };
        let shares = match shares {
            Ok(shares) => shares,
            Err(Verdict::Cut) => return Offer::Worse,
            Err(_) => return Offer::Broken,
        };
        let score = self.judge.score(&self.judge.rows(steps, &shares));
        if score.violation > 0.0 {
            return Offer::Broken;
        }
        self.accept(Point { steps: steps.to_vec(), shares, value: score.value });
        Offer::Holds(score.value)
    }

    /// Keeps the better of the best point and this one, and notes whether they tie.
    pub(super) fn accept(&mut self, point: Point) {
        let Some(best) = &self.best else {
            self.best = Some(point);
            return;
        };
        let gain = best.value - point.value;
        let other = best.steps != point.steps;
        if gain > TIE {
            self.tie = false;
        } else if other && gain.abs() <= TIE {
            self.tie = true;
        }
        if gain > 0.0 {
            self.best = Some(point);
        }
    }

    /// The shares that suit given steps best.
    fn best_shares(&mut self, steps: &[i64]) -> Result<Vec<f64>, Verdict> {
        let mut program = self.copy_of_root();
        for (column, &count) in steps.iter().enumerate() {
            self.restrict(&mut program, column, count, count);
        }
        let cutoff = self.best.as_ref().map_or(f64::INFINITY, |best| best.value + TIE);
        let verdict = program.solve(self.form, cutoff, &mut self.meter);
        let lines = self.form.columns..self.form.columns + self.form.shares;
        let inside = |line: usize| {
            let (lower, upper) = program.limits(line);
            program.value(line).clamp(lower, upper) / self.form.unit[line]
        };
        let shares: Vec<f64> = lines.map(inside).collect();
        self.spare.push(program);
        if verdict == Verdict::Optimal { Ok(shares) } else { Err(verdict) }
    }

    /// Rounds the point of a node and walks downhill from it.
    pub(super) fn round(&mut self, node: &P) {
        let steps: Vec<i64> = (0..self.columns.len()).map(|column| self.rounded(node, column)).collect();
        if steps == self.last_rounded {
            return;
        }
        self.last_rounded.clone_from(&steps);
        self.roundings += 1;
        let lines = self.form.columns..self.form.columns + self.form.shares;
        let shares: Vec<f64> = lines.map(|line| node.value(line) / self.form.unit[line]).collect();
        let units: Vec<Move> =
            (0..steps.len()).filter(|&c| steps[c] > 0).map(|c| Move::unit(self.judge, c)).collect();
        self.walk(&units, steps.clone(), &shares);
        let often = self.roundings <= LATTICE_FIRST || self.roundings.is_multiple_of(LATTICE_EVERY);
        if self.most_columns >= LATTICE_COLUMNS && self.meter.counts.relaxations >= LATTICE_AFTER && often {
            let moves = self.lattice.take().unwrap_or_else(|| {
                let usable: Vec<usize> =
                    (0..self.columns.len()).filter(|&c| self.form.upper[c] > 0.0).collect();
                lattice::moves(self.judge, &usable, self.columns.len())
            });
            self.walk(&moves, steps, &shares);
            self.lattice = Some(moves);
        }
    }

    fn walk(&mut self, moves: &[Move], mut steps: Vec<i64>, shares: &[f64]) {
        let allowed = Allowed { columns: self.columns, most_columns: self.most_columns };
        descend(self.judge, &allowed, moves, shares, &mut steps, &mut self.meter.cells);
        self.offer(&steps);
    }

    /// Whole steps nearest to the value of a column, within its bounds at the node.
    fn rounded(&self, node: &P, column: usize) -> i64 {
        let (lower, upper) = self.limits(node, column);
        let least = self.columns[column].least_used();
        let value = self.steps(node, column);
        let whole = (value.round() as i64).clamp(lower, upper);
        if whole == 0 || whole >= least {
            return whole;
        }
        let near_none = value * 2.0 < least as f64;
        if (lower == 0 && near_none) || upper < least { lower } else { least }
    }
}
