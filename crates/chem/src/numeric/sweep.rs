//! The least-squares program of a node as a square table of linear responses, kept up to date by sweeping.
//!
//! Every structural variable and every hard row has a primal quantity (its value) and a dual one (the slope of half
//! the objective along it). Where a line is *held*, the primal is given and the dual responds; where it is *free*,
//! the dual is zero and the primal responds. Exchanging the two at one line is one sweep. A held line at its lower
//! bound has a dual ≥ 0, at its upper bound ≤ 0; then the point is the optimum over the held lines alone.

use super::form::Form;
use super::program::{Multipliers, Program, Verdict};
use super::table::Table;

/// Sweeps after which the table is built anew.
const WEAR: u32 = 60;
/// Curvature below which a line counts as having none.
pub(super) const FLAT: f64 = 1e-10;

/// The square table with its quantities; see the module. Lines: structural variables, then hard rows.
pub(super) struct Sweep {
    pub(super) table: Table,
    pub(super) lines: usize,
    /// Given quantity of each line: the primal where held, the dual where free.
    pub(super) driver: Vec<f64>,
    /// Responding quantity of each line: the dual where held, the primal where free.
    pub(super) response: Vec<f64>,
    pub(super) free: Vec<bool>,
    /// Whether a held line is held at its upper bound.
    pub(super) high: Vec<bool>,
    pub(super) lower: Vec<f64>,
    pub(super) upper: Vec<f64>,
    pub(super) bound: f64,
    wear: u32,
    pub(super) sound: bool,
    /// The first solve starts from the corner of lower bounds and must first become an optimum without hard rows.
    pub(super) begun: bool,
}

/// Products of the wished rows, and the hard rows beside them.
fn products(form: &Form) -> Vec<f64> {
    let lines = form.width + form.height - form.wishes;
    let mut cells = vec![0.0; lines * lines];
    for i in 0..form.width {
        for j in 0..=i {
            let sum = (0..form.wishes).fold(0.0, |sum, row| sum + form.row(row)[i] * form.row(row)[j]);
            (cells[i * lines + j], cells[j * lines + i]) = (sum, sum);
        }
    }
    for k in form.width..lines {
        for (i, &h) in form.row(form.wishes + k - form.width).iter().enumerate() {
            (cells[k * lines + i], cells[i * lines + k]) = (h, -h);
        }
    }
    cells
}

impl Sweep {
    /// Index of a line among the variables of the form.
    pub(super) fn variable(form: &Form, line: usize) -> usize {
        if line < form.width { line } else { line + form.wishes }
    }

    /// All structural variables held at their lower bounds, all hard rows free.
    fn start(form: &Form, lower: Vec<f64>, upper: Vec<f64>) -> Self {
        let lines = form.width + form.height - form.wishes;
        let mut sweep = Self {
            table: Table::new(lines, products(form)),
            lines,
            driver: vec![0.0; lines],
            response: vec![0.0; lines],
            free: (0..lines).map(|line| line >= form.width).collect(),
            high: vec![false; lines],
            lower,
            upper,
            bound: f64::NEG_INFINITY,
            wear: 0,
            sound: false,
            begun: false,
        };
        for row in 0..form.wishes {
            let constant = form.constant[row];
            sweep.response.iter_mut().zip(form.row(row)).for_each(|(w, a)| *w += a * constant);
        }
        for line in form.width..lines {
            sweep.response[line] = form.constant[form.wishes + line - form.width];
        }
        for line in 0..form.width {
            sweep.drive(line, sweep.lower[line]);
        }
        sweep
    }

    /// Sets the given quantity of a line; all others respond.
    pub(super) fn drive(&mut self, line: usize, target: f64) {
        let step = target - self.driver[line];
        if step != 0.0 {
            self.response.iter_mut().zip(self.table.column(line)).for_each(|(r, k)| *r += k * step);
        }
        self.driver[line] = target;
    }

    /// Exchanges the roles of the two quantities of one line, which must have curvature.
    pub(super) fn toggle(&mut self, line: usize) {
        self.table.exchange(line, line);
        std::mem::swap(&mut self.driver[line], &mut self.response[line]);
        self.free[line] = !self.free[line];
        self.wear += 1;
    }

    /// Exchanges two lines of opposite kind at once, where neither could be exchanged alone.
    pub(super) fn toggle_both(&mut self, a: usize, b: usize) {
        self.table.exchange(a, b);
        self.table.exchange(b, a);
        self.table.swap_both(a, b);
        for line in [a, b] {
            std::mem::swap(&mut self.driver[line], &mut self.response[line]);
            self.free[line] = !self.free[line];
        }
        self.wear += 2;
    }

    pub(super) fn worn(&self) -> bool {
        self.wear >= WEAR
    }

    pub(super) fn fixed(&self, line: usize) -> bool {
        self.lower[line] == self.upper[line]
    }

    /// The primal quantity of a line.
    pub(super) fn primal(&self, line: usize) -> f64 {
        if self.free[line] { self.response[line] } else { self.driver[line] }
    }

    /// The dual quantity of a line.
    pub(super) fn dual(&self, line: usize) -> f64 {
        if self.free[line] { self.driver[line] } else { self.response[line] }
    }

    /// Builds the table anew from the matrix with the same lines free and held.
    pub(super) fn rebuild(&mut self, form: &Form) {
        let old_free = self.free.clone();
        let old_high = self.high.clone();
        let primal: Vec<f64> = (0..self.lines).map(|line| self.primal(line)).collect();
        let (lower, upper) = (std::mem::take(&mut self.lower), std::mem::take(&mut self.upper));
        *self = Self::start(form, lower, upper);
        self.begun = true;
        loop {
            let waiting: Vec<usize> = (0..self.lines).filter(|&l| self.free[l] != old_free[l]).collect();
            let curvature = |line: usize| self.table.at(line, line);
            let steepest = waiting.iter().copied().fold(None, |best: Option<usize>, line| match best {
                Some(b) if curvature(b) >= curvature(line) => best,
                _ => Some(line),
            });
            match steepest {
                Some(line) if curvature(line) > FLAT => self.toggle(line),
                _ => {
                    let Some((a, b)) = self.coupled(&waiting) else { break };
                    self.toggle_both(a, b);
                }
            }
        }
        self.wear = 0;
        for line in 0..self.lines {
            self.high[line] = old_high[line];
            let given = if self.free[line] { 0.0 } else { primal[line] };
            self.drive(line, given);
        }
    }

    /// The two waiting lines with the largest coupling, if any.
    fn coupled(&self, waiting: &[usize]) -> Option<(usize, usize)> {
        let mut best: Option<(f64, (usize, usize))> = None;
        for (index, &a) in waiting.iter().enumerate() {
            for &b in &waiting[index + 1..] {
                let coupling = self.table.at(a, b).abs();
                if coupling > FLAT && best.is_none_or(|(most, _)| coupling > most) {
                    best = Some((coupling, (a, b)));
                }
            }
        }
        best.map(|(_, pair)| pair)
    }
}

impl Program for Sweep {
    fn root(form: &Form) -> Self {
        let variables = || (0..form.width + form.height - form.wishes).map(|line| Self::variable(form, line));
        Self::start(
            form,
            variables().map(|v| form.lower[v]).collect(),
            variables().map(|v| form.upper[v]).collect(),
        )
    }

    fn assign(&mut self, other: &Self) {
        self.table.assign(&other.table);
        self.driver.copy_from_slice(&other.driver);
        self.response.copy_from_slice(&other.response);
        self.free.copy_from_slice(&other.free);
        self.high.copy_from_slice(&other.high);
        self.lower.copy_from_slice(&other.lower);
        self.upper.copy_from_slice(&other.upper);
        (self.bound, self.wear, self.sound) = (other.bound, other.wear, other.sound);
        self.begun = other.begun;
    }

    fn restrict(&mut self, index: usize, lower: f64, upper: f64) {
        (self.lower[index], self.upper[index]) = (lower, upper);
    }

    fn solve(&mut self, form: &Form, cutoff: f64, meter: &mut super::program::Meter) -> Verdict {
        self.run(form, cutoff, meter)
    }

    fn bound(&self) -> f64 {
        self.bound
    }

    fn sound(&self) -> bool {
        self.sound
    }

    fn value(&self, index: usize) -> f64 {
        self.primal(index)
    }

    fn price(&self, index: usize) -> f64 {
        2.0 * self.dual(index)
    }

    fn limits(&self, index: usize) -> (f64, f64) {
        (self.lower[index], self.upper[index])
    }

    /// The rows of the optimum are unique, but the objective is flat around them: whole steps that are still open
    /// count as able to move unless their price forbids it.
    fn lone(&self, form: &Form, spread: f64) -> bool {
        (0..form.width).all(|line| {
            let price = 2.0 * self.dual(line).abs();
            if self.fixed(line) {
                true
            } else if line < form.columns {
                !self.free[line] && price * form.unit[line] > spread
            } else {
                self.free[line] || price > 1e-6
            }
        })
    }

    fn multipliers(&self, form: &Form) -> Multipliers {
        let values = self.wish_values(form);
        Multipliers {
            wishes: values.iter().map(|r| 2.0 * r).collect(),
            hard: (form.width..self.lines).map(|line| 2.0 * self.dual(line)).collect(),
            structural: (0..form.width).map(|line| 2.0 * self.dual(line)).collect(),
        }
    }
}
