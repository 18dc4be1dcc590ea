//! An order as linear rows over whole steps and shares, for a given content of water in a finished litre.
//!
//! With `w` kg of water in a finished litre, all of it comes from the waters and from the crystals:
//! Σ kg + Σ steps · crystal water = w · volume. The water that may take the greatest share is eliminated by this sum
//! (the *rest*); the others are shares of w · volume. So every row is linear, and `settle` finds the `w` that the
//! answer itself has.

use super::counting::Rule;
use super::means::{Choice, Order};
use super::tangent::Tangent;
use super::wish::{CountedBy, Quantity, sum_of};
use crate::composition::linear::LinearSum;
use crate::matter::component::Component;
use crate::numeric::{Column, HardRow, Level, Objective, Problem, Row, Share};

/// Where a hard row comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// `at_least` of a wish.
    AtLeast(usize),
    /// `at_most` of a wish.
    AtMost(usize),
    /// `exact` of a wish.
    Exact(usize),
    /// Least share of a water.
    LeastShare(usize),
    /// Greatest share of a water.
    MostShare(usize),
    /// No water can be poured back.
    NoNegativeRest(usize),
    /// Least mass of a salt.
    LeastMass(usize),
}

/// How litres and kilograms of the finished water are tied, as far as they are settled.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Litre {
    /// kg of water in a litre.
    pub water_kg: f64,
    /// kg of the whole in a litre.
    pub density_kg: f64,
    /// Denominators of ratio wishes, by wish, in the unit of their counting; 1 elsewhere.
    pub denominators: Vec<f64>,
    /// Wishes for properties of the solved state, by wish, as they are near some water. A wish for a property without
    /// a tangent does not stand in the frame.
    pub tangents: Vec<Option<Tangent>>,
}

/// An order as rows.
pub(super) struct Frame<'a> {
    pub order: &'a Order,
    pub litre: &'a Litre,
    /// Rules of the wishes, in their order.
    pub rules: &'a [Rule],
    /// Balance of each salt, by position.
    pub balance_of: &'a [usize],
    /// The water that is eliminated.
    rest: usize,
    /// The waters with a share of their own.
    pub(super) free: Vec<usize>,
}

impl<'a> Frame<'a> {
    pub fn new(order: &'a Order, litre: &'a Litre, rules: &'a [Rule], balance_of: &'a [usize]) -> Self {
        let most = |at: usize| order.sources[at].most_percent.unwrap_or(100.0);
        let rest = (0..order.sources.len()).reduce(|best, at| if most(at) > most(best) { at } else { best });
        let rest = rest.unwrap_or(0);
        let free = (0..order.sources.len()).filter(|at| *at != rest).collect();
        Frame { order, litre, rules, balance_of, rest, free }
    }

    /// mol of a salt in one step of its balance.
    pub fn moles_per_step(&self, at: usize) -> f64 {
        self.order.shelf[at].moles_per_g() * self.order.balances[self.balance_of[at]].step_g
    }

    /// The value of a linear sum in a litre of the finished water: mol, eq or g.
    pub fn per_litre(&self, sum: &LinearSum) -> Row {
        let of_rest = sum.of(self.order.sources[self.rest].water.totals());
        let column = |(at, choice): (usize, &Choice)| {
            let net = sum.per_mole(&choice.added) - choice.water_kg_per_mole() * of_rest;
            self.moles_per_step(at) * net / self.order.volume_l
        };
        let share =
            |at: &usize| (sum.of(self.order.sources[*at].water.totals()) - of_rest) * self.litre.water_kg;
        Row {
            columns: self.order.shelf.iter().enumerate().map(column).collect(),
            shares: self.free.iter().map(share).collect(),
            constant: of_rest * self.litre.water_kg,
        }
    }

    /// kg of water that each source gives, for steps and shares.
    pub fn water_of_sources(&self, steps: &[f64], shares: &[f64]) -> Vec<f64> {
        let all = self.litre.water_kg * self.order.volume_l;
        let mut kg = vec![0.0; self.order.sources.len()];
        let mut rest = all;
        for (at, share) in self.free.iter().zip(shares) {
            kg[*at] = share * all;
            rest -= kg[*at];
        }
        for (at, choice) in self.order.shelf.iter().enumerate() {
            rest -= steps[at] * self.moles_per_step(at) * choice.water_kg_per_mole();
        }
        // A rest of a few ulp below nothing is nothing.
        kg[self.rest] = rest.max(0.0);
        kg
    }

    /// The row of a wish in the unit in which it counts; for a property its tangent; for a ratio numerator − asked · denominator over the
    /// settled denominator, so that it is the deviation of the ratio itself.
    pub fn wish_row(&self, at: usize, asked_ratio: f64) -> Row {
        let rule = &self.rules[at];
        match &self.order.wishes[at].quantity {
            Quantity::Cost => self.cost_row(),
            Quantity::Ratio { numerator, denominator, counted_by } => {
                let count =
                    |component: Component, by: CountedBy| sum_of(component).times(by.per_mole(component));
                let over = count(*denominator, *counted_by).times(-asked_ratio);
                let sum = count(*numerator, *counted_by).plus(&over);
                scaled(self.per_litre(&sum), 1.0 / self.litre.denominators[at])
            }
            Quantity::Property { .. } => self.property_row(at, asked_ratio),
            _ => scaled(self.per_litre(&rule.sum), rule.factor(self.litre.density_kg, self.litre.water_kg)),
        }
    }

    /// What one mole of each salt brings to a wish by itself, the water of its crystals left out; only signs and
    /// zeros are meant to be read.
    pub fn brought(&self, at: usize, asked_ratio: f64) -> Vec<f64> {
        let of = |choice: &Choice| match &self.order.wishes[at].quantity {
            Quantity::Cost => choice.price_per_kg.unwrap_or(0.0),
            Quantity::Ratio { numerator, denominator, counted_by } => {
                let count = |c: Component| sum_of(c).times(counted_by.per_mole(c)).per_mole(&choice.added);
                count(*numerator) - asked_ratio * count(*denominator)
            }
            Quantity::Property { .. } => {
                self.tangent(at).map_or(0.0, |tangent| tangent.slopes.per_mole(&choice.added))
            }
            _ => self.rules[at].sum.per_mole(&choice.added),
        };
        self.order.shelf.iter().map(of).collect()
    }

    fn cost_row(&self) -> Row {
        let all = self.litre.water_kg * self.order.volume_l;
        let rest = self.order.sources[self.rest].price_per_kg_water();
        let column = |(at, choice): (usize, &Choice)| {
            let step_g = self.order.balances[self.balance_of[at]].step_g;
            let water = self.moles_per_step(at) * choice.water_kg_per_mole();
            step_g / 1000.0 * choice.price_per_kg.unwrap_or(0.0) - water * rest
        };
        let share = |at: &usize| (self.order.sources[*at].price_per_kg_water() - rest) * all;
        Row {
            columns: self.order.shelf.iter().enumerate().map(column).collect(),
            shares: self.free.iter().map(share).collect(),
            constant: rest * all,
        }
    }

    /// The `near` wishes by priority, weights folded in.
    pub fn levels(&self) -> Vec<Level> {
        let mut priorities: Vec<u32> = self.near().map(|at| self.order.wishes[at].priority).collect();
        priorities.sort_unstable();
        priorities.dedup();
        let level = |priority: u32| Level {
            wishes: self
                .near()
                .filter(|at| self.order.wishes[*at].priority == priority && self.stands(*at))
                .map(|at| self.deviation(at))
                .collect(),
            objective: self.order.objective,
        };
        priorities.into_iter().map(level).collect()
    }

    /// Positions of the wishes that ask `near`.
    pub fn near(&self) -> impl Iterator<Item = usize> + '_ {
        (0..self.rules.len()).filter(|at| self.rules[*at].near.is_some())
    }

    /// Weighted deviation of a `near` wish.
    pub fn deviation(&self, at: usize) -> Row {
        let rule = &self.rules[at];
        let asked = rule.near.unwrap_or(0.0);
        let mut row = self.wish_row(at, asked);
        if !matches!(self.order.wishes[at].quantity, Quantity::Ratio { .. }) {
            row.constant -= asked;
        }
        scaled(row, folded(self.order.objective, self.order.wishes[at].weight) / rule.size(asked))
    }

    /// How far a wish is from what it asks, in its unit, at real steps and shares.
    pub fn off(&self, at: usize, asked: f64, steps: &[f64], shares: &[f64]) -> f64 {
        let row = self.wish_row(at, asked);
        let of = |a: &[f64], x: &[f64]| a.iter().zip(x).map(|(a, x)| a * x).sum::<f64>();
        let value = row.constant + of(&row.columns, steps) + of(&row.shares, shares);
        // The row of a ratio is already its distance from what is asked.
        let ratio = matches!(self.order.wishes[at].quantity, Quantity::Ratio { .. });
        if ratio { value } else { value - asked }
    }

    /// Whether a wish is within its tolerance at real steps and shares.
    pub fn within(&self, at: usize, asked: f64, steps: &[f64], shares: &[f64]) -> bool {
        let tolerance = self.order.wishes[at].tolerance.of_size(self.rules[at].size(asked));
        self.off(at, asked, steps, shares).abs() <= tolerance + 1e-9
    }

    /// Every hard row with where it comes from.
    pub fn hard(&self) -> Vec<(Origin, HardRow)> {
        self.hard_of(|at| self.stands(at))
    }

    /// The hard rows of some wishes, of the waters and of the salts.
    pub fn hard_of(&self, counts: impl Fn(usize) -> bool) -> Vec<(Origin, HardRow)> {
        let mut rows = Vec::new();
        for at in (0..self.rules.len()).filter(|at| counts(*at)) {
            self.demands(at, &mut rows);
        }
        self.share_rows(&mut rows);
        for (at, choice) in self.order.shelf.iter().enumerate() {
            if let Some(least_g) = choice.least_g.filter(|least| *least > 0.0) {
                let mut columns = vec![0.0; self.order.shelf.len()];
                columns[at] = self.order.balances[self.balance_of[at]].step_g / least_g;
                let row = HardRow { row: Row::of_columns(&columns, 0.0), lower: Some(1.0), upper: None };
                rows.push((Origin::LeastMass(at), row));
            }
        }
        rows
    }

    pub(super) fn demands(&self, at: usize, rows: &mut Vec<(Origin, HardRow)>) {
        let rule = &self.rules[at];
        let ratio = matches!(self.order.wishes[at].quantity, Quantity::Ratio { .. });
        let mut push = |origin, bound: f64, lower: Option<f64>, upper: Option<f64>| {
            let size = rule.size(bound);
            let row = scaled(self.wish_row(at, bound), 1.0 / size);
            // The row of a ratio is already its distance from the bound.
            let base = if ratio { 0.0 } else { bound / size };
            let shift = |slack: f64| base + slack / size;
            rows.push((origin, HardRow { row, lower: lower.map(shift), upper: upper.map(shift) }));
        };
        if let Some(low) = rule.low {
            push(Origin::AtLeast(at), low, Some(0.0), None);
        }
        if let Some(high) = rule.high {
            push(Origin::AtMost(at), high, None, Some(0.0));
        }
        if let Some(exact) = rule.exact {
            let slack = self.finest_move(at, exact) / 2.0;
            push(Origin::Exact(at), exact, Some(-slack), Some(slack));
        }
    }

    /// What one step of the salt that moves a wish least, but does move it, moves it; 0 where none does. Every salt
    /// moves a property a little: there those count that move it at least a tenth as much as the strongest.
    pub fn finest_move(&self, at: usize, asked_ratio: f64) -> f64 {
        let row = self.wish_row(at, asked_ratio);
        let usable = |(at, _): &(usize, &f64)| self.order.shelf[*at].most_g != Some(0.0);
        let moves = || row.columns.iter().enumerate().filter(usable).map(|(_, c)| c.abs());
        let strongest = moves().fold(0.0, f64::max);
        let least = if self.is_property(at) { (0.1 * strongest).max(1e-15) } else { 1e-15 };
        let finest = moves().filter(|size| *size > least).fold(f64::INFINITY, f64::min);
        if finest.is_finite() { finest } else { 0.0 }
    }

    /// Shares in the water poured, by mass: mass · 100 − percent · all mass, over all the water.
    fn share_rows(&self, rows: &mut Vec<(Origin, HardRow)>) {
        let masses: Vec<Row> = (0..self.order.sources.len()).map(|at| self.mass_row(at)).collect();
        let all = masses.iter().skip(1).fold(masses[0].clone(), |sum, row| plus(&sum, row, 1.0));
        for (at, source) in self.order.sources.iter().enumerate() {
            let against = |percent: f64| plus(&masses[at], &all, -percent / 100.0);
            if let Some(percent) = source.least_percent.filter(|percent| *percent > 0.0) {
                let row = HardRow { row: against(percent), lower: Some(0.0), upper: None };
                rows.push((Origin::LeastShare(at), row));
            }
            if let Some(percent) = source.most_percent.filter(|percent| *percent < 100.0) {
                let row = HardRow { row: against(percent), lower: None, upper: Some(0.0) };
                rows.push((Origin::MostShare(at), row));
            }
        }
        let row = HardRow { row: masses[self.rest].clone(), lower: Some(0.0), upper: None };
        rows.push((Origin::NoNegativeRest(self.rest), row));
    }

    /// Mass of a source, per kg of all the water of the finished volume.
    fn mass_row(&self, at: usize) -> Row {
        let all = self.litre.water_kg * self.order.volume_l;
        let mass = self.order.sources[at].mass_per_kg_water();
        let (mut columns, mut shares) = (vec![0.0; self.order.shelf.len()], vec![0.0; self.free.len()]);
        if at != self.rest {
            if let Some(own) = self.free.iter().position(|free| *free == at) {
                shares[own] = mass;
            }
            return Row { columns, shares, constant: 0.0 };
        }
        shares.fill(-mass);
        for (column, (own, choice)) in columns.iter_mut().zip(self.order.shelf.iter().enumerate()) {
            *column = -mass * self.moles_per_step(own) * choice.water_kg_per_mole() / all;
        }
        Row { columns, shares, constant: mass }
    }

    /// The whole problem with its first priority, and the further ones.
    pub fn problem(&self, columns: Vec<Column>) -> (Problem, Vec<Level>) {
        let price = |at: &usize| self.order.sources[*at].price_per_kg_water();
        let all = self.litre.water_kg * self.order.volume_l;
        let mut levels = self.levels().into_iter();
        let first = levels.next().unwrap_or_default();
        let problem = Problem {
            columns,
            shares: self
                .free
                .iter()
                .map(|at| Share { lower: 0.0, upper: 1.0, cost: price(at) * all })
                .collect(),
            wishes: first.wishes,
            hard: self.hard().into_iter().map(|(_, row)| row).collect(),
            most_columns: self.order.most_salts,
            objective: self.order.objective,
            ..Problem::default()
        };
        (problem, levels.collect())
    }

    /// Mass of one step of a salt, g.
    pub fn step_g(&self, at: usize) -> f64 {
        self.order.balances[self.balance_of[at]].step_g
    }
}

/// A weight as it multiplies a row: the objective squares rows of `least_squares`, and the weight stands outside.
fn folded(objective: Objective, weight: f64) -> f64 {
    match objective {
        Objective::RelativeDeviation => weight,
        Objective::LeastSquares => weight.sqrt(),
    }
}

/// A row times a factor.
pub(super) fn scaled(mut row: Row, factor: f64) -> Row {
    row.columns.iter_mut().chain(&mut row.shares).for_each(|coefficient| *coefficient *= factor);
    row.constant *= factor;
    row
}

/// A row plus a factor times another.
fn plus(row: &Row, other: &Row, factor: f64) -> Row {
    let sum = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a + factor * b).collect();
    Row {
        columns: sum(&row.columns, &other.columns),
        shares: sum(&row.shares, &other.shares),
        constant: row.constant + factor * other.constant,
    }
}
