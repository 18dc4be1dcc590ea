//! The linear law of propagation (JCGM 100, 5.2.2) on derivatives by differences.

use super::correlation::Correlations;
use super::{Input, Spread};

/// Step of a difference, as a share of the standard uncertainty.
const STEP: f64 = 1e-3;
/// Least step, as a share of the value: a shorter one drowns in rounding.
const LEAST_STEP: f64 = 1e-5;

/// An input near which the function has no result, and why.
#[derive(Clone, Debug, PartialEq)]
pub struct Unreachable<E> {
    /// Its place in the list.
    pub input: usize,
    /// What the function said.
    pub why: E,
}

/// Every output as a linear function of every input, near the estimates.
#[derive(Clone, Debug, PartialEq)]
pub struct Linear {
    correlations: Correlations,
    uncertainties: Vec<f64>,
    /// Derivative of each output by each input, one row an input.
    slopes: Vec<Vec<f64>>,
}

impl Linear {
    /// Derivatives of a function by its inputs, at their estimates, where its outputs are `base`. The differences are
    /// central, over a thousandth of a standard uncertainty on both sides; one-sided and of the same order where an
    /// input that cannot be negative lies nearer to zero than that. An output that is not a number on either side has
    /// no derivative.
    ///
    /// # Errors
    /// The input near whose estimate the function has no result.
    pub fn of<E>(
        inputs: &[Input],
        correlations: &Correlations,
        base: &[f64],
        mut function: impl FnMut(&[f64]) -> Result<Vec<f64>, E>,
    ) -> Result<Linear, Unreachable<E>> {
        let estimates: Vec<f64> = inputs.iter().map(|input| input.value).collect();
        let mut slopes = Vec::with_capacity(inputs.len());
        for (at, input) in inputs.iter().enumerate() {
            let step = step(input);
            let mut at_distance = |steps: f64| {
                let mut moved = estimates.clone();
                moved[at] += steps * step;
                function(&moved).map_err(|why| Unreachable { input: at, why })
            };
            let one_sided = input.spread == Spread::NotNegative && input.value < step;
            slopes.push(if one_sided {
                let (near, far) = (at_distance(1.0)?, at_distance(2.0)?);
                let rows = base.iter().zip(&near).zip(&far);
                rows.map(|((here, near), far)| (4.0 * near - 3.0 * here - far) / (2.0 * step)).collect()
            } else {
                let (above, below) = (at_distance(1.0)?, at_distance(-1.0)?);
                above.iter().zip(&below).map(|(above, below)| (above - below) / (2.0 * step)).collect()
            });
        }
        let uncertainties = inputs.iter().map(|input| input.standard_uncertainty).collect();
        Ok(Linear { correlations: correlations.clone(), uncertainties, slopes })
    }

    /// Derivative of an output by an input; none where there is none.
    pub fn sensitivity(&self, output: usize, input: usize) -> Option<f64> {
        self.slopes.get(input)?.get(output).copied().filter(|slope| slope.is_finite())
    }

    /// Standard uncertainty of an output; none where a derivative is missing.
    pub fn standard_uncertainty(&self, output: usize) -> Option<f64> {
        self.covariance(output, output).map(|variance| variance.max(0.0).sqrt())
    }

    /// Covariance of two outputs (JCGM 102, 6.2); none where a derivative is missing.
    pub fn covariance(&self, one: usize, other: usize) -> Option<f64> {
        let (one, other) = (self.moved_by(one)?, self.moved_by(other)?);
        Some(one.iter().enumerate().fold(0.0, |sum, (at, moved)| sum + moved * self.with_all(at, &other)))
    }

    /// The share of each input in the variance of an output; they add up to 1. With correlations an input that
    /// outweighs another has a negative share. None where a derivative is missing or nothing moves the output.
    pub fn shares(&self, output: usize) -> Option<Vec<f64>> {
        let moved = self.moved_by(output)?;
        let variance = self.covariance(output, output).filter(|variance| *variance > 0.0)?;
        Some((0..moved.len()).map(|at| moved[at] * self.with_all(at, &moved) / variance).collect())
    }

    /// How far the standard uncertainty of each input moves an output.
    fn moved_by(&self, output: usize) -> Option<Vec<f64>> {
        let rows = self.uncertainties.iter().enumerate();
        rows.map(|(input, u)| Some(self.sensitivity(output, input)? * u)).collect()
    }

    /// What moves with an input: the sum over all inputs, weighed by their correlation with it.
    fn with_all(&self, input: usize, moved: &[f64]) -> f64 {
        let weighed =
            |sum, (at, moved): (usize, &f64)| sum + self.correlations.coefficient(input, at) * moved;
        moved.iter().enumerate().fold(0.0, weighed)
    }
}

/// Step of the difference by an input.
fn step(input: &Input) -> f64 {
    let step = (STEP * input.standard_uncertainty).max(LEAST_STEP * input.value.abs());
    if step > 0.0 { step } else { LEAST_STEP }
}
