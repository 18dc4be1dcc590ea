//! Propagation of whole distributions by draws (JCGM 101).

use super::chance::Stream;
use super::correlation::Correlations;
use super::fault::PropagationError;
use super::normal;
use super::{Input, Spread};

/// Least number of draws.
pub const LEAST_DRAWS: usize = 100;
/// Greatest number of draws.
pub const MOST_DRAWS: usize = 100_000;
/// Of so many draws one may be without a result.
const ONE_IN: usize = 100;

/// Which numbers are drawn: the same key and seed always give the same ones.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chance {
    /// Number of draws.
    pub draws: usize,
    /// The stream.
    pub seed: u64,
    /// What the stream belongs to, such as the digest of a request.
    pub key: [u8; 32],
}

/// What the draws came to.
#[derive(Clone, Debug, PartialEq)]
pub struct MonteCarlo {
    outputs: Vec<Moments>,
    /// Draws that had a result.
    pub solved: usize,
    /// Draws without a result, left out.
    pub unsolved: usize,
    /// Draws in which at least one input was taken as zero because it fell below.
    pub cut: usize,
}

impl MonteCarlo {
    /// Draws all inputs so many times and calls the function for each draw. Correlated inputs are drawn as correlated
    /// normal numbers; a uniform one is drawn by its probability, so that its own distribution is exact and its
    /// correlation nearly so.
    ///
    /// # Errors
    /// A number of draws out of range, and more than one draw in a hundred without a result.
    pub fn of<E>(
        inputs: &[Input],
        correlations: &Correlations,
        chance: &Chance,
        outputs: usize,
        mut function: impl FnMut(&[f64]) -> Result<Vec<f64>, E>,
    ) -> Result<MonteCarlo, PropagationError> {
        let (draws, least, most) = (chance.draws, LEAST_DRAWS, MOST_DRAWS);
        if !(least..=most).contains(&draws) {
            return Err(PropagationError::Draws { draws, least, most });
        }
        let mut stream = Stream::new(&chance.key, chance.seed);
        let mut answer =
            MonteCarlo { outputs: vec![Moments::default(); outputs], solved: 0, unsolved: 0, cut: 0 };
        let mut independent = vec![0.0; inputs.len()];
        let mut drawn = vec![0.0; inputs.len()];
        for draw in 1..=draws {
            independent.iter_mut().for_each(|z| *z = normal::quantile(stream.uniform()));
            correlations.correlate(&independent, &mut drawn);
            let mut cut = false;
            for (input, value) in inputs.iter().zip(&mut drawn) {
                *value = drawn_value(input, *value);
                if *value < 0.0 && input.spread == Spread::NotNegative {
                    (*value, cut) = (0.0, true);
                }
            }
            answer.cut += usize::from(cut);
            match function(&drawn) {
                Ok(results) => answer.take(&results),
                Err(_) => answer.unsolved += 1,
            }
            if answer.unsolved * ONE_IN > draws {
                return Err(PropagationError::Unsolved { failed: answer.unsolved, tried: draw });
            }
        }
        Ok(answer)
    }

    /// Standard deviation of an output over the draws; none where some draw had no number for it.
    pub fn standard_uncertainty(&self, output: usize) -> Option<f64> {
        let moments = self.whole(output)?;
        (self.solved > 1).then(|| (moments.squares / (self.solved - 1) as f64).sqrt())
    }

    /// Mean of an output over the draws; none where some draw had no number for it.
    pub fn mean(&self, output: usize) -> Option<f64> {
        self.whole(output).map(|moments| moments.mean)
    }

    fn whole(&self, output: usize) -> Option<&Moments> {
        self.outputs.get(output).filter(|moments| moments.count == self.solved)
    }

    fn take(&mut self, results: &[f64]) {
        self.solved += 1;
        for (moments, result) in self.outputs.iter_mut().zip(results) {
            if result.is_finite() {
                moments.take(*result);
            }
        }
    }
}

/// The value of an input for a standard normal number.
fn drawn_value(input: &Input, z: f64) -> f64 {
    let Input { value, standard_uncertainty, spread } = *input;
    match spread {
        Spread::Normal | Spread::NotNegative => value + z * standard_uncertainty,
        Spread::Uniform => {
            value + (2.0 * normal::probability(z) - 1.0) * 3.0_f64.sqrt() * standard_uncertainty
        }
    }
}

/// Running mean and sum of squared deviations (B. P. Welford 1962, Technometrics 4, 419).
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Moments {
    count: usize,
    mean: f64,
    squares: f64,
}

impl Moments {
    fn take(&mut self, value: f64) {
        self.count += 1;
        let before = value - self.mean;
        self.mean += before / self.count as f64;
        self.squares += before * (value - self.mean);
    }
}
