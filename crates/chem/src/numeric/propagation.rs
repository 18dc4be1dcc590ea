//! How uncertainties of inputs become uncertainties of outputs, of any function that can be called.
//!
//! Two ways, both of the *Guide to the expression of uncertainty in measurement*: the linear law of propagation
//! (JCGM 100, 5.2) on derivatives by differences, and Monte Carlo (JCGM 101) on correlated normal draws. Draws come
//! from a counter-based stream under a key, so that the same request gives the same bits on every machine.
//!
//! ```
//! use springwright_chem::numeric::propagation::{Correlations, Input, Linear, Spread};
//! // the area of a sheet of 2 m by 3 m, each side known to 1 cm
//! let side = |value| Input { value, standard_uncertainty: 0.01, spread: Spread::NotNegative };
//! let inputs = [side(2.0), side(3.0)];
//! let area = |x: &[f64]| Ok::<_, ()>(vec![x[0] * x[1]]);
//! let linear = Linear::of(&inputs, &Correlations::none(2), &[6.0], area).expect("the area exists");
//! let expected = (0.02_f64 * 0.02 + 0.03 * 0.03).sqrt();
//! assert!((linear.standard_uncertainty(0).expect("a number") - expected).abs() < 1e-9);
//! ```

mod chance;
mod correlation;
mod fault;
mod linear;
mod monte_carlo;
mod normal;

#[cfg(test)]
mod tests;

pub use correlation::Correlations;
pub use fault::PropagationError;
pub use linear::{Linear, Unreachable};
pub use monte_carlo::{Chance, LEAST_DRAWS, MOST_DRAWS, MonteCarlo};

/// An input that is known only so well.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Input {
    /// Best estimate.
    pub value: f64,
    /// Standard uncertainty, 0 or more, in the unit of the value.
    pub standard_uncertainty: f64,
    /// How it may lie around the estimate.
    pub spread: Spread,
}

/// How an input may lie around its estimate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spread {
    /// Normally distributed.
    Normal,
    /// Normally distributed, and a draw below zero is taken as zero.
    NotNegative,
    /// Equally likely anywhere within √3 standard uncertainties (JCGM 100, 4.3.7).
    Uniform,
}
