//! The functions g and g' of the Pitzer equations, with series where they cancel.

use libm::exp;

/// The functions of x = α√I that every second virial coefficient is made of.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Decay {
    /// g(x) = 2 [1 - (1 + x) e^-x] / x².
    pub(crate) g: f64,
    /// g'(x) = -2 [1 - (1 + x + x²/2) e^-x] / x², which over I is dg/dI.
    pub(crate) slope: f64,
    /// d g'(x) / dx.
    pub(crate) slope_slope: f64,
    /// e^-x.
    pub(crate) exponential: f64,
}

/// The four functions at `x` >= 0.
pub(crate) fn decay(x: f64) -> Decay {
    let exponential = exp(-x);
    if x < 0.3 {
        let (g, slope, slope_slope) = series(x);
        return Decay { g, slope, slope_slope, exponential };
    }
    let square = x * x;
    let g = 2.0 * (1.0 - (1.0 + x) * exponential) / square;
    let slope = -2.0 * (1.0 - (1.0 + x + 0.5 * square) * exponential) / square;
    Decay { g, slope, slope_slope: -exponential - 2.0 * slope / x, exponential }
}

/// 1 - (1 + x) e^-x = Σ (-1)^n (n-1)/n! xⁿ from n = 2, and 1 - (1 + x + x²/2) e^-x = Σ (-1)^(n+1)
/// (n-1)(n-2)/(2 n!) xⁿ from n = 3.
fn series(x: f64) -> (f64, f64, f64) {
    let (mut g, mut slope, mut slope_slope) = (0.0, 0.0, 0.0);
    let mut power = 1.0; // x^(n-2) (-1)^n / n!
    let mut below = 0.0; // x^(n-3) (-1)^n / n!
    for n in 2..14 {
        let number = f64::from(n);
        (below, power) = match n {
            2 => (0.0, 0.5),
            3 => (-1.0 / 6.0, -x / 6.0),
            _ => (-below * x / number, -power * x / number),
        };
        g += 2.0 * (number - 1.0) * power;
        slope += (number - 1.0) * (number - 2.0) * power;
        slope_slope += (number - 1.0) * (number - 2.0) * (number - 2.0) * below;
    }
    (g, slope, slope_slope)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Identities: series and closed form meet at the seam (1e-11), and the slopes are derivatives (1e-7).
    #[test]
    fn series_meets_closed_form() {
        let (below, above) = (decay(0.3 - 1e-12), decay(0.3));
        assert!((below.g - above.g).abs() < 1e-11 && (below.slope - above.slope).abs() < 1e-11);
        assert!((below.slope_slope - above.slope_slope).abs() < 1e-10);
        for x in [1e-3, 0.1, 0.29, 0.31, 2.0, 9.0] {
            let h = 1e-5 * x;
            let g = (decay(x + h).g - decay(x - h).g) / (2.0 * h);
            assert!((g * x / 2.0 - decay(x).slope).abs() < 1e-7);
            let slope = (decay(x + h).slope - decay(x - h).slope) / (2.0 * h);
            assert!((slope - decay(x).slope_slope).abs() < 1e-7);
        }
    }
}
