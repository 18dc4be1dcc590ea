//! Mixing of ions of one sign but unlike charge: the higher-order electrostatic term E(I) of Pitzer (1975).
//!
//! E needs the integral J(x) = x/4 - 1 + (1/x) ∫ [1 - exp(-(x/y) e^-y)] y² dy. It is evaluated once on a grid in
//! ln x and joined by quintic pieces that keep value, slope and curvature, so E, E' and E'' are smooth together. The
//! three integrals of two charge numbers are joined into one such curve in ln x at charges of one.

use super::elementary;
use super::lanes::Lanes;
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

/// The piece of the grid that holds ln x, its polynomial in the part u of a step from 0 to 1, and u.
fn piece(grid: &[Integral], ln_x: f64) -> ([f64; 6], f64) {
    let position = (ln_x - LOW) / STEP;
    let node = (position.max(0.0) as usize).min(grid.len() - 2);
    (joined(&grid[node], &grid[node + 1]), (position - node as f64).clamp(0.0, 1.0))
}

/// The quintic that joins two nodes.
fn joined(a: &Integral, b: &Integral) -> [f64; 6] {
    let (da, db) = (a.slope * STEP, b.slope * STEP);
    let (ca, cb) = (a.curvature * STEP * STEP, b.curvature * STEP * STEP);
    let rise = b.value - a.value;
    let c3 = 10.0 * rise - 6.0 * da - 4.0 * db - 1.5 * ca + 0.5 * cb;
    let c4 = -15.0 * rise + 8.0 * da + 7.0 * db + 1.5 * ca - cb;
    let c5 = 6.0 * rise - 3.0 * (da + db) - 0.5 * (ca - cb);
    [a.value, da, 0.5 * ca, c3, c4, c5]
}

/// Value, slope and curvature by ln x of a piece.
fn valued([c0, c1, c2, c3, c4, c5]: [f64; 6], u: f64) -> Integral {
    Integral {
        value: c0 + u * (c1 + u * (c2 + u * (c3 + u * (c4 + u * c5)))),
        slope: (c1 + u * (2.0 * c2 + u * (3.0 * c3 + u * (4.0 * c4 + u * 5.0 * c5)))) / STEP,
        curvature: (2.0 * c2 + u * (6.0 * c3 + u * (12.0 * c4 + u * 20.0 * c5))) / (STEP * STEP),
    }
}

fn integral_at(ln_x: f64) -> Integral {
    let (piece, u) = piece(&GRID, ln_x);
    valued(piece, u)
}

/// The pieces of J(zw x) - J(zz x)/2 - J(ww x)/2, by ln x.
type Curve = Vec<[f64; 6]>;

/// Charge numbers that meet.
pub(crate) const MEETINGS: [(usize, usize); 3] = [(1, 2), (1, 3), (2, 3)];

static CURVES: [LazyLock<Curve>; 3] =
    [LazyLock::new(|| curve(1.0, 2.0)), LazyLock::new(|| curve(1.0, 3.0)), LazyLock::new(|| curve(2.0, 3.0))];

fn curve(z: f64, w: f64) -> Curve {
    let node = |at: usize| {
        let ln_x = LOW + STEP * at as f64;
        let of = |factor: f64| integral_at(ln_x + log(factor));
        let (zw, zz, ww) = (of(z * w), of(z * z), of(w * w));
        Integral {
            value: zw.value - 0.5 * (zz.value + ww.value),
            slope: zw.slope - 0.5 * (zz.slope + ww.slope),
            curvature: zw.curvature - 0.5 * (zz.curvature + ww.curvature),
        }
    };
    // nine times x stays on the grid of J
    let last = NODES - 1 - (log(9.0) / STEP) as usize - 1;
    let nodes: Vec<Integral> = (0..=last).map(node).collect();
    nodes.windows(2).map(|pair| joined(&pair[0], &pair[1])).collect()
}

/// Ionic strength below which the term keeps its value, mol/kg: what it multiplies is nothing there.
const THIN: f64 = 1e-10;

/// Where a composition stands on the curves.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Standing<const L: usize> {
    i: Lanes<L>,
    node: [usize; L],
    u: Lanes<L>,
}

impl<const L: usize> Standing<L> {
    /// At an ionic strength, mol/kg, and a Debye–Hückel slope.
    #[inline(always)]
    pub(crate) fn at(i: Lanes<L>, slope: Lanes<L>) -> Self {
        let i = i.at_least(Lanes::all(THIN));
        let ln_x = elementary::log(6.0 * slope * i.sqrt());
        let position = (ln_x - LOW) * (1.0 / STEP);
        let most = CURVES[0].len() - 1;
        let mut node = [0; L];
        for (lane, node) in node.iter_mut().enumerate() {
            *node = (position.0[lane] as usize).min(most);
        }
        let u = Lanes::of(|lane| position.0[lane] - node[lane] as f64).at_most(Lanes::all(1.0));
        Standing { i, node, u }
    }

    /// E and dE/dI of the charge numbers `MEETINGS[which]`, kg/mol and its square.
    #[inline(always)]
    pub(crate) fn term(&self, which: usize) -> (Lanes<L>, Lanes<L>) {
        let curve = &CURVES[which];
        let c: [Lanes<L>; 6] = core::array::from_fn(|power| Lanes::of(|lane| curve[self.node[lane]][power]));
        let u = self.u;
        let value = c[0] + u * (c[1] + u * (c[2] + u * (c[3] + u * (c[4] + u * c[5]))));
        let slope = c[1] + u * (2.0 * c[2] + u * (3.0 * c[3] + u * (4.0 * c[4] + u * (5.0 * c[5]))));
        let (z, w) = MEETINGS[which];
        // ln x moves half as fast as ln I
        let front = (z * w) as f64 / 4.0;
        let over = front / self.i;
        (over * value, over * ((0.5 / STEP) * slope - value) / self.i)
    }
}

/// d²E/dI² beside [`Standing::term`].
pub(crate) fn curvature(standing: &Standing<1>, which: usize) -> f64 {
    let (i, u) = (standing.i.0[0], standing.u.0[0]);
    let at = valued(CURVES[which][standing.node[0]], u);
    let (z, w) = MEETINGS[which];
    (z * w) as f64 / 4.0 * (at.curvature / 4.0 - 1.5 * at.slope + 2.0 * at.value) / (i * i * i)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::equilibrium::water::debye_huckel_slope;

    struct Unlike {
        value: f64,
        slope: f64,
        curvature: f64,
    }

    /// The term of two charge numbers at ionic strength `i` and slope `a`.
    fn unlike(z: usize, w: usize, i: f64, a: f64) -> Unlike {
        let which = MEETINGS.iter().position(|pair| *pair == (z, w)).unwrap();
        let standing = Standing::at(Lanes([i]), Lanes([a]));
        let (value, slope) = standing.term(which);
        Unlike { value: value.0[0], slope: slope.0[0], curvature: curvature(&standing, which) }
    }

    fn interpolated(x: f64) -> Integral {
        integral_at(log(x))
    }

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
            let got = unlike(1, 2, i, a);
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
                (unlike(1, 3, i - h, 0.39), unlike(1, 3, i, 0.39), unlike(1, 3, i + h, 0.39));
            assert!(((high.value - low.value) / (2.0 * h) / mid.slope - 1.0).abs() < 1e-5);
            assert!(((high.slope - low.slope) / (2.0 * h) / mid.curvature - 1.0).abs() < 1e-5);
        }
        for ln_x in [-9.03, -3.47, 0.251, 2.333, 5.05] {
            let (direct, joined) = (integral(ln_x).value, interpolated(exp(ln_x)).value);
            assert!((direct - joined).abs() <= 1e-9 * direct.abs() + 1e-15, "{ln_x}: {direct} {joined}");
        }
    }
}
