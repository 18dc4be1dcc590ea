//! How far the mass of one line may be off.

use super::{Made, Recipe};
use crate::formulation::counting::Rule;
use crate::formulation::fault::FormulationError;

/// Halvings until the end of a tolerance is known, to a millionth of its range.
const HALVINGS: usize = 20;

/// Between which masses one line may lie, all others as weighed, until a wish that is met is not.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tolerated {
    /// Least mass, g; none where the line may be left out.
    pub least_g: Option<f64>,
    /// Greatest mass, g; none where twice the mass does no harm.
    pub most_g: Option<f64>,
    /// Positions of the wishes that end it below.
    pub ended_below_by: Vec<usize>,
    /// Positions of the wishes that end it above.
    pub ended_above_by: Vec<usize>,
}

impl Recipe {
    /// How far a line may be off.
    pub(super) fn tolerated(
        &self,
        rules: &[Rule],
        masses: &[f64],
        at: usize,
        held: &[bool],
        is_met: &impl Fn(&Made) -> Vec<bool>,
    ) -> Tolerated {
        let lost = |mass: f64| -> Vec<usize> {
            let mut moved = masses.to_vec();
            moved[at] = mass;
            let met = self.make(rules, &moved, 1.0).map(|made| is_met(&made));
            // a water that cannot be judged keeps no wish
            let met = met.unwrap_or_else(|_| vec![false; held.len()]);
            (0..held.len()).filter(|wish| held[*wish] && !met[*wish]).collect()
        };
        let end = |far: f64| -> Option<(f64, Vec<usize>)> {
            let mut ended = lost(far);
            if ended.is_empty() {
                return None;
            }
            let (mut inside, mut outside) = (masses[at], far);
            for _ in 0..HALVINGS {
                let middle = 0.5 * (inside + outside);
                let there = lost(middle);
                if there.is_empty() {
                    inside = middle;
                } else {
                    (outside, ended) = (middle, there);
                }
            }
            Some((inside, ended))
        };
        let (below, above) = (end(0.0), end(2.0 * masses[at]));
        Tolerated {
            least_g: below.as_ref().map(|(mass, _)| *mass),
            most_g: above.as_ref().map(|(mass, _)| *mass),
            ended_below_by: below.map(|(_, by)| by).unwrap_or_default(),
            ended_above_by: above.map(|(_, by)| by).unwrap_or_default(),
        }
    }

    /// What `exact` leaves open: half of the least that one step of a line moves the wish.
    pub(super) fn exact_slacks(
        &self,
        rules: &[Rule],
        on: &[usize],
        masses: &[f64],
        made: &Made,
    ) -> Result<Vec<f64>, FormulationError> {
        let mut slack = vec![f64::INFINITY; rules.len()];
        for at in 0..masses.len() {
            let mut moved = masses.to_vec();
            moved[at] += self.balances[on[at]].step_g;
            let there = self.make(rules, &moved, 1.0)?;
            for (slack, (one, other)) in slack.iter_mut().zip(there.values.iter().zip(&made.values)) {
                let by = (one - other).abs();
                if by > 1e-12 * other.abs() {
                    *slack = slack.min(0.5 * by);
                }
            }
        }
        Ok(slack.into_iter().map(|slack| if slack.is_finite() { slack } else { 0.0 }).collect())
    }
}
