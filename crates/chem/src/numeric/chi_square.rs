//! The chi-square distribution: how often a sum of squares of that many independent normal numbers is larger.

use libm::{erfc, exp};

/// Probability that a sum of squares is larger than `value` by chance, for 1 or more degrees of freedom; 1 for a value
/// of 0 or without degrees of freedom. Closed sums for whole degrees: e⁻ʰ Σ hᵏ/k! with h half the value, from k = 0 for
/// even degrees, from erfc(√h) on by half steps for odd ones.
///
/// ```
/// use springwright_chem::numeric::chi_square_beyond;
/// // the 5 % point of one degree of freedom is 3.841
/// assert!((chi_square_beyond(3.841, 1) - 0.05).abs() < 1e-4);
/// ```
pub fn chi_square_beyond(value: f64, degrees: usize) -> f64 {
    if degrees == 0 || value.is_nan() || value <= 0.0 {
        return 1.0;
    }
    let half = 0.5 * value;
    let odd = degrees % 2 == 1;
    let (mut sum, mut step, mut term) = if odd {
        (erfc(half.sqrt()), 0.5, exp(-half) / (0.5 * core::f64::consts::PI.sqrt()) * half.sqrt())
    } else {
        (0.0, 0.0, exp(-half))
    };
    for _ in 0..degrees / 2 {
        sum += term;
        step += 1.0;
        term *= half / step;
    }
    sum.clamp(0.0, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Percentage points as every statistical table prints them (from memory, to their last place), 5e-4 relative.
    #[test]
    fn printed_points() {
        for (degrees, five, one) in [
            (1, 3.841, 6.635),
            (2, 5.991, 9.210),
            (3, 7.815, 11.345),
            (4, 9.488, 13.277),
            (10, 18.307, 23.209),
        ] {
            assert!((chi_square_beyond(five, degrees) / 0.05 - 1.0).abs() < 5e-4, "{degrees}");
            assert!((chi_square_beyond(one, degrees) / 0.01 - 1.0).abs() < 5e-4, "{degrees}");
        }
        assert_eq!(chi_square_beyond(0.0, 3), 1.0);
        assert_eq!(chi_square_beyond(9.0, 0), 1.0);
        assert_eq!(chi_square_beyond(1e9, 5), 0.0);
    }
}
