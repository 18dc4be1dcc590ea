//! How inputs hang together.

use super::fault::PropagationError;

/// A pivot of the factor that is nearer to zero than this is zero: some inputs move as one.
const NOTHING: f64 = 1e-10;

/// The correlation coefficients of a list of inputs, and their factor: a matrix that is positive semidefinite.
#[derive(Clone, Debug, PartialEq)]
pub struct Correlations {
    size: usize,
    coefficients: Vec<f64>,
    /// Lower triangle L with L Lᵀ = the coefficients (Cholesky).
    factor: Vec<f64>,
}

impl Correlations {
    /// Inputs that have nothing to do with each other.
    pub fn none(size: usize) -> Correlations {
        let mut coefficients = vec![0.0; size * size];
        (0..size).for_each(|at| coefficients[at * size + at] = 1.0);
        Correlations { size, factor: coefficients.clone(), coefficients }
    }

    /// Inputs of which some pairs are correlated; all others are not.
    ///
    /// # Errors
    /// All at once: an input that is not there or is paired with itself, a pair that stands twice, a coefficient outside -1 to 1,
    /// and coefficients that contradict each other so that no quantities can have them.
    pub fn of(size: usize, pairs: &[(usize, usize, f64)]) -> Result<Correlations, Vec<PropagationError>> {
        let mut coefficients = Correlations::none(size).coefficients;
        let (mut seen, mut faults) = (Vec::new(), Vec::new());
        for (entry, (one, other, coefficient)) in pairs.iter().copied().enumerate() {
            let pair = (one.min(other), one.max(other));
            if pair.1 >= size {
                faults.push(PropagationError::NoSuchInput { entry });
                continue;
            }
            if one == other {
                faults.push(PropagationError::WithItself { entry });
            } else if seen.contains(&pair) {
                faults.push(PropagationError::StatedTwice { entry });
            }
            if !(-1.0..=1.0).contains(&coefficient) {
                faults.push(PropagationError::Coefficient { entry, coefficient });
            }
            seen.push(pair);
            coefficients[one * size + other] = coefficient;
            coefficients[other * size + one] = coefficient;
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let factor = factor(&coefficients, size).ok_or_else(|| vec![PropagationError::Contradictory])?;
        Ok(Correlations { size, coefficients, factor })
    }

    /// Number of inputs.
    pub fn size(&self) -> usize {
        self.size
    }

    /// The coefficient between two inputs; 1 of each with itself.
    pub fn coefficient(&self, one: usize, other: usize) -> f64 {
        self.coefficients[one * self.size + other]
    }

    /// Correlated standard normal numbers out of independent ones.
    pub(super) fn correlate(&self, independent: &[f64], correlated: &mut [f64]) {
        for (row, out) in correlated.iter_mut().enumerate() {
            let factors = &self.factor[row * self.size..=row * self.size + row];
            *out = factors.iter().zip(independent).fold(0.0, |sum, (factor, z)| sum + factor * z);
        }
    }
}

/// The lower factor of a matrix, none where it is not positive semidefinite.
fn factor(matrix: &[f64], size: usize) -> Option<Vec<f64>> {
    let mut lower = vec![0.0; size * size];
    for column in 0..size {
        for row in column..size {
            let product: f64 =
                (0..column).fold(0.0, |sum, at| sum + lower[row * size + at] * lower[column * size + at]);
            let left = matrix[row * size + column] - product;
            let pivot = lower[column * size + column];
            lower[row * size + column] = if row == column {
                match left {
                    left if left < -NOTHING => return None,
                    left if left <= NOTHING => 0.0,
                    left => left.sqrt(),
                }
            } else if pivot > 0.0 {
                left / pivot
            } else if left.abs() > NOTHING.sqrt() {
                return None;
            } else {
                0.0
            };
        }
    }
    Some(lower)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Identity: the factor times its transpose is the matrix (1e-15), with inputs that move as one among them.
    #[test]
    fn the_factor_gives_the_matrix_back() {
        let pairs = [(0, 1, -0.36), (0, 2, 0.86), (1, 2, -0.65), (3, 4, 1.0), (0, 3, 0.2), (0, 4, 0.2)];
        let size = 5;
        let correlations = Correlations::of(size, &pairs).unwrap();
        for row in 0..size {
            for column in 0..size {
                let product: f64 = (0..size)
                    .map(|at| correlations.factor[row * size + at] * correlations.factor[column * size + at])
                    .sum();
                assert!((product - correlations.coefficient(row, column)).abs() < 1e-15, "{row} {column}");
            }
        }
    }

    /// Three quantities can have coefficients a, b, c only if 1 + 2abc ≥ a² + b² + c²: one case on each side.
    #[test]
    fn coefficients_that_contradict_each_other_are_refused() {
        let of = |c: f64| Correlations::of(3, &[(0, 1, 0.9), (1, 2, 0.9), (0, 2, c)]);
        // with a = b = 0.9: c ≥ 2 · 0.81 - 1 = 0.62
        assert!(of(0.621).is_ok());
        assert_eq!(of(0.619), Err(vec![PropagationError::Contradictory]));
        // one moves with the second and the second with the third, but not the first with the third
        let loose = Correlations::of(3, &[(0, 1, 1.0), (1, 2, 1.0)]);
        assert_eq!(loose, Err(vec![PropagationError::Contradictory]));
    }

    #[test]
    fn pairs_that_mean_nothing_are_refused() {
        use PropagationError as P;
        let of = |pairs: &[(usize, usize, f64)]| Correlations::of(2, pairs).unwrap_err();
        assert_eq!(of(&[(0, 2, 0.5)]), [P::NoSuchInput { entry: 0 }]);
        assert_eq!(of(&[(0, 1, 0.5), (1, 0, 0.5)]), [P::StatedTwice { entry: 1 }]);
        let both = [P::WithItself { entry: 0 }, P::Coefficient { entry: 1, coefficient: 1.2 }];
        assert_eq!(of(&[(1, 1, 0.5), (0, 1, 1.2)]), both);
        assert!(matches!(of(&[(0, 1, f64::NAN)])[..], [P::Coefficient { .. }]));
    }
}
