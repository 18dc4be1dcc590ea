//! The functions g and g' of the Pitzer equations, with series where they cancel.

use super::elementary::exp;
use super::lanes::Lanes;

/// Below this argument the closed forms lose too many digits.
const SMALL: f64 = 0.03;
/// 2 (n - 1)/n! with alternating sign, from n = 2: g as a series in x from x^0.
const G: [f64; 7] = [1.0, -2.0 / 3.0, 1.0 / 4.0, -1.0 / 15.0, 1.0 / 72.0, -1.0 / 420.0, 1.0 / 2880.0];
/// (n - 1)(n - 2)/n! with alternating sign, from n = 3: g' as a series in x from x^1.
const SLOPE: [f64; 6] = [-1.0 / 3.0, 1.0 / 4.0, -1.0 / 10.0, 1.0 / 36.0, -1.0 / 168.0, 1.0 / 960.0];

/// The functions of x = α√I that every second virial coefficient is made of.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Decay<const L: usize> {
    /// g(x) = 2 [1 - (1 + x) e^-x] / x².
    pub(crate) g: Lanes<L>,
    /// g'(x) = -2 [1 - (1 + x + x²/2) e^-x] / x², which over I is dg/dI.
    pub(crate) slope: Lanes<L>,
    /// e^-x.
    pub(crate) exponential: Lanes<L>,
}

/// The three functions at `x` >= 0.
#[inline(always)]
pub(crate) fn decay<const L: usize>(x: Lanes<L>) -> Decay<L> {
    let exponential = exp(-x);
    let square = x * x;
    let inverse = 2.0 / square;
    let linear = (1.0 + x) * exponential;
    let g = inverse * (1.0 - linear);
    let slope = exponential - g;
    let (mut g_series, mut slope_series) = (Lanes::all(G[6]), Lanes::all(SLOPE[5]));
    (0..6).rev().for_each(|n| g_series = g_series * x + G[n]);
    (0..5).rev().for_each(|n| slope_series = slope_series * x + SLOPE[n]);
    slope_series = slope_series * x;
    let pick = |series: Lanes<L>, closed: Lanes<L>| {
        Lanes::of(|lane| if x.0[lane] < SMALL { series.0[lane] } else { closed.0[lane] })
    };
    Decay { g: pick(g_series, g), slope: pick(slope_series, slope), exponential }
}

/// d g'(x) / dx.
pub(crate) fn slope_slope(x: f64, decay: &Decay<1>) -> f64 {
    if x < SMALL {
        let (mut sum, mut power) = (0.0, 1.0);
        for (n, factor) in SLOPE.iter().enumerate() {
            sum += (n + 1) as f64 * factor * power;
            power *= x;
        }
        return sum;
    }
    -decay.exponential.0[0] - 2.0 * decay.slope.0[0] / x
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: f64) -> (f64, f64, f64) {
        let decay = decay(Lanes([x]));
        (decay.g.0[0], decay.slope.0[0], slope_slope(x, &decay))
    }

    /// Identities: series and closed form meet at the seam (1e-11), and the slopes are derivatives (1e-7).
    #[test]
    fn series_meets_closed_form() {
        let (below, above) = (at(SMALL - 1e-14), at(SMALL));
        assert!((below.0 - above.0).abs() < 1e-11 && (below.1 - above.1).abs() < 1e-11);
        assert!((below.2 - above.2).abs() < 1e-10, "{} {}", below.2, above.2);
        for x in [1e-3, 0.01, 0.1, 0.29, 0.31, 2.0, 9.0] {
            let h = 1e-5 * x;
            let g = (at(x + h).0 - at(x - h).0) / (2.0 * h);
            assert!((g * x / 2.0 - at(x).1).abs() < 1e-7);
            let slope = (at(x + h).1 - at(x - h).1) / (2.0 * h);
            assert!((slope - at(x).2).abs() < 1e-7, "{x}");
        }
        assert_eq!(at(0.0).0, 1.0);
    }
}
