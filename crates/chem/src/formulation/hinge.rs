//! Demands on properties of the solved state, approached rather than held: a tangent may say that nothing holds them
//! although something does, or the other way round.

use super::frame::{Frame, Origin};
use crate::numeric::{Column, HardRow, Level, Objective, Problem, Row, Share};

/// How far a demand may be missed, as a multiple of the size that its deviation is divided by.
const FARTHEST: f64 = 1e6;

impl Frame<'_> {
    /// The problem whose first objective is to miss no demand on a property, and the wishes as further ones.
    pub fn approached(&self, columns: Vec<Column>) -> (Problem, Vec<Level>) {
        let (mut problem, mut further) = self.problem(columns);
        problem.hard = self.hard_of(|at| !self.is_property(at)).into_iter().map(|(_, row)| row).collect();
        let demands = self.property_demands();
        let own = problem.shares.len();
        let widened = |row: &mut Row| row.shares.resize(own + demands.len(), 0.0);
        problem.wishes.iter_mut().for_each(widened);
        problem.hard.iter_mut().for_each(|hard| widened(&mut hard.row));
        further.iter_mut().flat_map(|level| &mut level.wishes).for_each(widened);
        let wishes = core::mem::take(&mut problem.wishes);
        further.insert(0, Level { wishes, objective: problem.objective });
        for (place, (_, demand)) in demands.iter().enumerate() {
            let (mut row, slack) = hinge(demand);
            row.shares.resize(own + demands.len(), 0.0);
            row.shares[own + place] = 1.0;
            problem.wishes.push(row);
            problem.shares.push(slack);
        }
        problem.objective = Objective::RelativeDeviation;
        (problem, further)
    }

    /// The demands on properties, as hard rows.
    pub fn property_demands(&self) -> Vec<(Origin, HardRow)> {
        let mut demands = Vec::new();
        for at in (0..self.rules.len()).filter(|at| self.is_property(*at) && self.stands(*at)) {
            self.demands(at, &mut demands);
        }
        demands
    }
}

/// By how much demands are missed at real steps and shares, each over its size.
pub(super) fn missed(demands: &[(Origin, HardRow)], steps: &[f64], shares: &[f64]) -> f64 {
    let miss = |(_, demand): &(Origin, HardRow)| {
        let value = value(&demand.row, steps, shares);
        let below = demand.lower.map_or(0.0, |lower| (lower - value).max(0.0));
        below + demand.upper.map_or(0.0, |upper| (value - upper).max(0.0))
    };
    demands.iter().map(miss).sum()
}

/// A row at real steps and shares.
pub(super) fn value(row: &Row, steps: &[f64], shares: &[f64]) -> f64 {
    let of = |a: &[f64], x: &[f64]| a.iter().zip(x).map(|(a, x)| a * x).sum::<f64>();
    row.constant + of(&row.columns, steps) + of(&row.shares, shares)
}

/// A demand as a row that is zero where it holds, with the bounds of the slack that makes it so.
fn hinge(demand: &HardRow) -> (Row, Share) {
    let mut row = demand.row.clone();
    let (lower, upper) = match (demand.lower, demand.upper) {
        (Some(lower), Some(upper)) => {
            row.constant -= 0.5 * (lower + upper);
            (-0.5 * (upper - lower), 0.5 * (upper - lower))
        }
        (Some(lower), None) => {
            row.constant -= lower;
            (-FARTHEST, 0.0)
        }
        (None, Some(upper)) => {
            row.constant -= upper;
            (0.0, FARTHEST)
        }
        (None, None) => (-FARTHEST, FARTHEST),
    };
    (row, Share { lower, upper, cost: 0.0 })
}
