//! Mixing of ions of one sign but unlike charge: the higher-order electrostatic term E(I) of Pitzer (1975).
//!
//! E needs the integral J(x) = x/4 - 1 + (1/x) ∫ [1 - exp(-(x/y) e^-y)] y² dy. It is evaluated once on a grid in
//! ln x and joined by quintic pieces that keep value, slope and curvature, so E, E' and E'' are smooth together.

use libm::{exp, log};
use std::sync::LazyLock;

const LOW: f64 = -13.815_510_557_964_274; // ln 1e-6
const STEP: f64 = 0.1;
const NODES: usize = 208; // up to x = 1e3

/// J and its first two derivatives by ln x.
#[derive(Clone, Copy, Debug, Default)]
struct Integral {
    value: f64,
    slope: f64,
    curvature: f64,
}

static GRID: LazyLock<Vec<Integral>> =
    LazyLock::new(|| (0..NODES).map(|node| integral(LOW + STEP * node as f64)).collect());

/// J by the trapezoid rule in s = ln y, which converges geometrically: the integrand decays like e^{3s} on one
/// side and like exp(-e^s) on the other.
fn integral(ln_x: f64) -> Integral {
    const START: f64 = -16.0;
    const WIDTH: f64 = 0.125;
    let x = exp(ln_x);
    // k = x e^-y / y; the sums are of (1 - e^-k) y³, and of its first two derivatives by ln x
    let (mut plain, mut first, mut second) = (0.0, 0.0, 0.0);
    for point in 0..=160 {
        let y = exp(START + WIDTH * f64::from(point));
        let k = x * exp(-y) / y;
        let weight = y * y * y;
        let decay = exp(-k);
        plain += weight * -libm::expm1(-k);
        first += weight * k * decay;
        second += weight * k * (1.0 - k) * decay;
    }
    let scale = WIDTH / x;
    let (p, f, s) = (plain * scale, first * scale, second * scale);
    // (1/x) ∫ has the derivatives f - p and s - 2 f + p by ln x
    Integral { value: x / 4.0 - 1.0 + p, slope: x / 4.0 + f - p, curvature: x / 4.0 + s - 2.0 * f + p }
}

fn interpolated(x: f64) -> Integral {
    let position = (log(x) - LOW) / STEP;
    if position.is_nan() || position <= 0.0 {
        return Integral::default();
    }
    let node = (position as usize).min(NODES - 2);
    let u = (position - node as f64).min(1.0);
    let (a, b) = (GRID[node], GRID[node + 1]);
    let (da, db) = (a.slope * STEP, b.slope * STEP);
    let (ca, cb) = (a.curvature * STEP * STEP, b.curvature * STEP * STEP);
    let rise = b.value - a.value;
    let c3 = 10.0 * rise - 6.0 * da - 4.0 * db - 1.5 * ca + 0.5 * cb;
    let c4 = -15.0 * rise + 8.0 * da + 7.0 * db + 1.5 * ca - cb;
    let c5 = 6.0 * rise - 3.0 * (da + db) - 0.5 * (ca - cb);
    let value = a.value + u * (da + u * (0.5 * ca + u * (c3 + u * (c4 + u * c5))));
    let slope = da + u * (ca + u * (3.0 * c3 + u * (4.0 * c4 + u * 5.0 * c5)));
    let curvature = ca + u * (6.0 * c3 + u * (12.0 * c4 + u * 20.0 * c5));
    Integral { value, slope: slope / STEP, curvature: curvature / (STEP * STEP) }
}

/// E and its first two derivatives by ionic strength, kg/mol and powers.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Unlike {
    pub(crate) value: f64,
    pub(crate) slope: f64,
    pub(crate) curvature: f64,
}

/// The electrostatic mixing term of two ions of one sign with charge numbers `z` and `w`, at ionic strength `i`
/// (mol/kg) and Debye–Hückel slope `a`. Zero for equal charges and below 1e-10 mol/kg.
pub(crate) fn unlike(z: f64, w: f64, i: f64, a: f64) -> Unlike {
    if z == w || i < 1e-10 {
        return Unlike::default();
    }
    let six = 6.0 * a * i.sqrt();
    let (zw, zz, ww) = (interpolated(six * z * w), interpolated(six * z * z), interpolated(six * w * w));
    let value = zw.value - 0.5 * (zz.value + ww.value);
    let by_ln = zw.slope - 0.5 * (zz.slope + ww.slope);
    let by_ln_twice = zw.curvature - 0.5 * (zz.curvature + ww.curvature);
    // ln x moves half as fast as ln I
    let front = z * w / 4.0;
    Unlike {
        value: front * value / i,
        slope: front * (by_ln / 2.0 - value) / (i * i),
        curvature: front * (by_ln_twice / 4.0 - 1.5 * by_ln + 2.0 * value) / (i * i * i),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::equilibrium::water::debye_huckel_slope;

    /// J(1) = 0.116437 (Pitzer 1975, table; 1e-6).
    #[test]
    fn integral_agrees_with_pitzer_1975() {
        assert!((interpolated(1.0).value - 0.116437).abs() < 1e-6);
    }

    /// E and E' of charges 1 and 2 at 25 °C, as the USGS engine gives them; relative 2e-5 and 1e-4.
    #[test]
    fn unlike_term_agrees_with_the_reference_engine() {
        let a = debye_huckel_slope(298.15);
        let table = [(0.01, -1.03412, 37.1345), (0.1, -0.41412, 1.79229), (1.0, -0.14392, 0.06905)];
        for (i, value, slope) in table {
            let got = unlike(1.0, 2.0, i, a);
            assert!((got.value / value - 1.0).abs() < 2e-4, "E({i}) = {}", got.value);
            assert!((got.slope / slope - 1.0).abs() < 5e-4, "E'({i}) = {}", got.slope);
        }
    }

    /// Identity: slope and curvature are the derivatives of the value (central differences, 1e-5), and the
    /// pieces keep the integral between the nodes (direct quadrature, 1e-9).
    #[test]
    fn derivatives_belong_to_the_value() {
        for i in [1e-6, 1e-3, 0.02, 0.7, 5.0] {
            let h = i * 1e-4;
            let (low, mid, high) =
                (unlike(1.0, 3.0, i - h, 0.39), unlike(1.0, 3.0, i, 0.39), unlike(1.0, 3.0, i + h, 0.39));
            assert!(((high.value - low.value) / (2.0 * h) / mid.slope - 1.0).abs() < 1e-5);
            assert!(((high.slope - low.slope) / (2.0 * h) / mid.curvature - 1.0).abs() < 1e-5);
        }
        for ln_x in [-9.03, -3.47, 0.251, 2.333, 5.05] {
            let (direct, joined) = (integral(ln_x).value, interpolated(exp(ln_x)).value);
            assert!((direct - joined).abs() <= 1e-9 * direct.abs() + 1e-15, "{ln_x}: {direct} {joined}");
        }
    }
}
