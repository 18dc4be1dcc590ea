//! The linear program of a node as a dictionary: basic variables as linear expressions of nonbasic ones.
//!
//! z_p = value_p + Σ_j table_pj · (z_j − rest_j). Wished rows cost their size: a basic one has slope +1 or −1, a
//! nonbasic one rests at its kink 0. All other variables have bounds and slope 0. The price of a nonbasic variable
//! is Σ_p slope_p · table_pj; prices are right when wished rows have |price| ≤ 1, variables at their lower bound a
//! price ≥ 0 and at their upper bound ≤ 0. Then Σ_p slope_p · value_p is a lower bound on the objective.

use super::form::Form;
use super::program::{Meter, Multipliers, Program, Verdict};
use super::table::Table;

/// Exchanges after which the table is built anew from the matrix.
const WEAR: u32 = 100;
/// Price below which a continuous variable might move without cost.
const FREE_PRICE: f64 = 1e-6;

/// Where a variable stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Place {
    /// In this row.
    Basic(u32),
    /// In this column.
    Rest(u32),
}

/// The dictionary; see the module.
pub(super) struct Dictionary {
    pub(super) table: Table,
    /// Variable of each row.
    pub(super) basic: Vec<u32>,
    /// Variable of each column.
    pub(super) nonbasic: Vec<u32>,
    place: Vec<Place>,
    pub(super) value: Vec<f64>,
    pub(super) slope: Vec<f64>,
    pub(super) price: Vec<f64>,
    rest: Vec<f64>,
    /// Whether a nonbasic variable rests at its upper bound.
    pub(super) high: Vec<bool>,
    pub(super) lower: Vec<f64>,
    pub(super) upper: Vec<f64>,
    pub(super) bound: f64,
    wear: u32,
    pub(super) sound: bool,
    /// Columns that the present dual step flips; scratch.
    pub(super) flips: Vec<bool>,
}

impl Dictionary {
    /// All rows basic with the sign of their value, each structural variable at the bound that its price asks for.
    fn start(form: &Form, lower: Vec<f64>, upper: Vec<f64>) -> Self {
        let (width, height) = (form.width, form.height);
        let mut dictionary = Self {
            table: Table::new(width, form.table.clone()),
            basic: (width as u32..(width + height) as u32).collect(),
            nonbasic: (0..width as u32).collect(),
            place: (0..width as u32).map(Place::Rest).chain((0..height as u32).map(Place::Basic)).collect(),
            value: form.constant.clone(),
            slope: vec![0.0; height],
            price: vec![0.0; width],
            rest: vec![0.0; width],
            high: vec![false; width],
            lower,
            upper,
            bound: f64::NEG_INFINITY,
            wear: 0,
            sound: false,
            flips: vec![false; width],
        };
        for j in 0..width {
            dictionary.shift(j, dictionary.lower[j]);
        }
        for row in 0..form.wishes {
            dictionary.slope[row] = if dictionary.value[row] < 0.0 { -1.0 } else { 1.0 };
        }
        dictionary.price_anew();
        for j in 0..width {
            if dictionary.price[j] < 0.0 {
                dictionary.flip(j);
            }
        }
        dictionary
    }

    /// Prices from the slopes.
    fn price_anew(&mut self) {
        self.price.fill(0.0);
        for (row, &slope) in self.slope.iter().enumerate() {
            if slope != 0.0 {
                self.price.iter_mut().zip(self.table.row(row)).for_each(|(g, t)| *g += slope * t);
            }
        }
    }

    /// Moves a nonbasic variable to `target`.
    fn shift(&mut self, column: usize, target: f64) {
        let step = target - self.rest[column];
        if step != 0.0 {
            self.value.iter_mut().zip(self.table.column(column)).for_each(|(v, t)| *v += t * step);
        }
        self.rest[column] = target;
    }

    /// Moves a nonbasic variable with two bounds to the other one.
    pub(super) fn flip(&mut self, column: usize) {
        let variable = self.nonbasic[column] as usize;
        self.high[column] = !self.high[column];
        let target = if self.high[column] { self.upper[variable] } else { self.lower[variable] };
        self.shift(column, target);
    }

    /// Exchanges basic and nonbasic: the basic variable comes to rest at `target`.
    pub(super) fn exchange(&mut self, row: usize, column: usize, target: f64) {
        let step = (target - self.value[row]) / self.table.at(row, column);
        self.value.iter_mut().zip(self.table.column(column)).for_each(|(v, t)| *v += t * step);
        self.value[row] = self.rest[column] + step;
        self.rest[column] = target;
        std::mem::swap(&mut self.basic[row], &mut self.nonbasic[column]);
        self.place[self.basic[row] as usize] = Place::Basic(row as u32);
        self.place[self.nonbasic[column] as usize] = Place::Rest(column as u32);
        self.table.exchange(row, column);
        self.wear += 1;
    }

    pub(super) fn worn(&self) -> bool {
        self.wear >= WEAR
    }

    /// Builds the table anew from the matrix for the same basis; prices that come out wrong are mended by flips,
    /// and where that is not possible the program starts afresh.
    pub(super) fn rebuild(&mut self, form: &Form) {
        let old = (self.place.clone(), self.rest.clone(), self.high.clone(), self.slope.clone());
        let (lower, upper) = (std::mem::take(&mut self.lower), std::mem::take(&mut self.upper));
        *self = Self::start(form, lower, upper);
        let resting = |variable: usize| matches!(old.0[variable], Place::Rest(_));
        for variable in (0..form.width).filter(|&v| !resting(v)) {
            let Place::Rest(column) = self.place[variable] else { continue };
            let leaves = |row: &usize| {
                let v = self.basic[*row] as usize;
                v >= form.width && resting(v)
            };
            let size = |row: usize| self.table.at(row, column as usize).abs();
            let best = (0..form.height).filter(leaves).fold(None, |best: Option<usize>, row| match best {
                Some(b) if size(b) >= size(row) => best,
                _ => Some(row),
            });
            if let Some(row) = best.filter(|&row| size(row) > 1e-13) {
                self.exchange(row, column as usize, 0.0);
            }
        }
        self.wear = 0;
        self.restore(form, &old.0, &old.1, &old.2, &old.3);
        if !self.mend_prices(form) {
            let (lower, upper) = (std::mem::take(&mut self.lower), std::mem::take(&mut self.upper));
            *self = Self::start(form, lower, upper);
        }
    }

    /// Puts resting values, sides and slopes back after the table was built anew.
    fn restore(&mut self, form: &Form, place: &[Place], rest: &[f64], high: &[bool], slope: &[f64]) {
        for column in 0..form.width {
            let variable = self.nonbasic[column] as usize;
            if let Place::Rest(before) = place[variable] {
                self.high[column] = high[before as usize];
                self.shift(column, rest[before as usize]);
            }
        }
        for row in 0..form.height {
            let variable = self.basic[row] as usize;
            let sign = if self.value[row] < 0.0 { -1.0 } else { 1.0 };
            self.slope[row] = match place[variable] {
                Place::Basic(before) => slope[before as usize],
                Place::Rest(_) if form.is_wish(variable) => sign,
                Place::Rest(_) => 0.0,
            };
        }
        self.price_anew();
    }

    /// Flips variables whose price has the wrong sign; false when one has no other bound to go to.
    fn mend_prices(&mut self, form: &Form) -> bool {
        for column in 0..form.width {
            let variable = self.nonbasic[column] as usize;
            let wrong = match (form.is_wish(variable), self.high[column]) {
                (true, _) => self.price[column].abs() - 1.0,
                (false, true) => self.price[column],
                (false, false) => -self.price[column],
            };
            if wrong <= 1e-10 || self.fixed(variable) {
                continue;
            }
            if form.is_wish(variable) || !(self.upper[variable] - self.lower[variable]).is_finite() {
                return false;
            }
            self.flip(column);
        }
        true
    }

    /// Whether a nonbasic variable cannot move at all.
    pub(super) fn fixed(&self, variable: usize) -> bool {
        self.lower[variable] == self.upper[variable]
    }
}

impl Program for Dictionary {
    fn root(form: &Form) -> Self {
        Self::start(form, form.lower.clone(), form.upper.clone())
    }

    fn assign(&mut self, other: &Self) {
        self.table.assign(&other.table);
        self.basic.copy_from_slice(&other.basic);
        self.nonbasic.copy_from_slice(&other.nonbasic);
        self.place.copy_from_slice(&other.place);
        self.value.copy_from_slice(&other.value);
        self.slope.copy_from_slice(&other.slope);
        self.price.copy_from_slice(&other.price);
        self.rest.copy_from_slice(&other.rest);
        self.high.copy_from_slice(&other.high);
        self.lower.copy_from_slice(&other.lower);
        self.upper.copy_from_slice(&other.upper);
        (self.bound, self.wear, self.sound) = (other.bound, other.wear, other.sound);
    }

    fn restrict(&mut self, index: usize, lower: f64, upper: f64) {
        (self.lower[index], self.upper[index]) = (lower, upper);
        if let Place::Rest(column) = self.place[index] {
            let target = if self.high[column as usize] { upper } else { lower };
            self.shift(column as usize, target);
        }
    }

    fn solve(&mut self, form: &Form, cutoff: f64, meter: &mut Meter) -> Verdict {
        self.run(form, cutoff, meter)
    }

    fn bound(&self) -> f64 {
        self.bound
    }

    fn sound(&self) -> bool {
        self.sound
    }

    fn value(&self, index: usize) -> f64 {
        match self.place[index] {
            Place::Basic(row) => self.value[row as usize],
            Place::Rest(column) => self.rest[column as usize],
        }
    }

    fn price(&self, index: usize) -> f64 {
        match self.place[index] {
            Place::Basic(_) => 0.0,
            Place::Rest(column) => self.price[column as usize],
        }
    }

    fn limits(&self, index: usize) -> (f64, f64) {
        (self.lower[index], self.upper[index])
    }

    fn lone(&self, form: &Form, spread: f64) -> bool {
        let mut reach = vec![0.0; form.width];
        for (column, &variable) in self.nonbasic.iter().enumerate() {
            let (variable, price) = (variable as usize, self.price[column].abs());
            let slack = if form.is_wish(variable) { 1.0 - price } else { price };
            if self.fixed(variable) {
                continue;
            }
            if variable < form.columns {
                if slack * form.unit[variable] <= spread {
                    return false;
                }
            } else if slack < FREE_PRICE {
                return false;
            } else {
                reach[column] = spread / slack;
            }
        }
        // Whole steps in the basis could only move if continuous variables carried them a whole step.
        self.basic.iter().enumerate().all(|(row, &variable)| {
            let variable = variable as usize;
            let moves = self.table.row(row).iter().zip(&reach).fold(0.0, |sum, (t, r)| sum + t.abs() * r);
            variable >= form.columns || self.fixed(variable) || moves < 0.5 * form.unit[variable]
        })
    }

    fn multipliers(&self, form: &Form) -> Multipliers {
        let of = |variable: usize| match self.place[variable] {
            Place::Basic(row) => (self.slope[row as usize], 0.0),
            Place::Rest(column) => (-self.price[column as usize], self.price[column as usize]),
        };
        let rows = form.width..form.width + form.height;
        Multipliers {
            wishes: rows.clone().take(form.wishes).map(|v| of(v).0).collect(),
            hard: rows.skip(form.wishes).map(|v| of(v).1).collect(),
            structural: (0..form.width).map(|v| of(v).1).collect(),
        }
    }
}
