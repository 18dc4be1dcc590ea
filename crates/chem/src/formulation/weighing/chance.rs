//! How likely the wishes are met, by what readings, assays and poured volumes leave open: drawn along the slopes of each wish.

use super::{Made, Recipe, Unlikely};
use crate::formulation::counting::Rule;
use crate::formulation::outcome::met;
use crate::numeric::propagation::{Chance, Correlations, Input, MonteCarlo, Spread};

/// How likely wishes are met, percent.
pub(super) struct Likely {
    pub(super) all: f64,
    pub(super) each: Vec<f64>,
}

impl Recipe {
    /// How likely each wish is met, and all at once, for masses with their standard uncertainties.
    pub(super) fn likely(
        &self,
        rules: &[Rule],
        (masses, spread): (&[f64], &[f64]),
        made: &Made,
        slack: &[f64],
        chance: &Chance,
    ) -> Result<Likely, Unlikely> {
        if rules.is_empty() {
            return Ok(Likely { all: 100.0, each: Vec::new() });
        }
        let slopes = self.slopes(rules, masses, spread)?;
        let input = |u: f64| Input { value: 0.0, standard_uncertainty: u, spread: Spread::Normal };
        let mut inputs: Vec<Input> = spread.iter().map(|u| input(*u)).collect();
        inputs.push(input(self.poured_uncertainty_percent / 100.0));
        let drawn =
            MonteCarlo::of(&inputs, &Correlations::none(inputs.len()), chance, rules.len() + 1, |off| {
                let value = |wish: usize| {
                    let moved: f64 = slopes.iter().zip(off).map(|(slope, off)| slope[wish] * off).sum();
                    made.values[wish] + if moved.is_finite() { moved } else { 0.0 }
                };
                let each: Vec<bool> = (0..rules.len())
                    .map(|at| met(&self.wishes[at], &rules[at], value(at), slack[at]))
                    .collect();
                let all = each.iter().all(|met| *met);
                Ok::<_, ()>(
                    core::iter::once(all).chain(each).map(|met| if met { 100.0 } else { 0.0 }).collect(),
                )
            });
        let drawn = drawn.map_err(Err)?;
        let percent = |output: usize| drawn.mean(output).unwrap_or(0.0);
        Ok(Likely { all: percent(0), each: (1..=rules.len()).map(percent).collect() })
    }

    /// The slopes of every wish with each mass, per g, and with the share of what is poured.
    fn slopes(&self, rules: &[Rule], masses: &[f64], spread: &[f64]) -> Result<Vec<Vec<f64>>, Unlikely> {
        let between = |low: &Made, high: &Made, width: f64| -> Vec<f64> {
            high.values.iter().zip(&low.values).map(|(high, low)| (high - low) / width).collect()
        };
        let mut slopes = Vec::new();
        for (at, (mass, u)) in masses.iter().zip(spread).enumerate() {
            let step = u.max(1e-6 * mass).min(*mass);
            let there = |by: f64| {
                let mut moved = masses.to_vec();
                moved[at] += by;
                self.make(rules, &moved, 1.0).map_err(Ok)
            };
            let width = if step > 0.0 { 2.0 * step } else { 1.0 };
            slopes.push(between(&there(-step)?, &there(step)?, width));
        }
        let share = (self.poured_uncertainty_percent / 100.0).clamp(1e-5, 0.5);
        let there = |share: f64| self.make(rules, masses, share).map_err(Ok);
        slopes.push(between(&there(1.0 - share)?, &there(1.0 + share)?, 2.0 * share));
        Ok(slopes)
    }
}
