//! The derivatives of the activity coefficients.

use super::activity::Common;
use super::interactions::{ALPHA, B, Interactions, MOST_CHARGE, Three};
use super::lanes::Lanes;
use super::shape::{Decay, slope_slope};
use super::unlike::{self, MEETINGS, Standing};
use super::values::Values;

impl Interactions {
    /// The symmetric matrix d ln γ_i / d m_k in rows, kg/mol, at molalities `m`. Needs an ionic strength above zero.
    pub(crate) fn curvature(&self, values: &Values<1>, m: &[f64]) -> Vec<f64> {
        let n = m.len();
        let of = |place: usize| values.of[place].0[0];
        let lanes: Vec<Lanes<1>> = m.iter().map(|m| Lanes([*m])).collect();
        let common = Common::of(self, &lanes);
        let (i, root, z) = (common.i.0[0].max(1e-20), common.root.0[0].max(1e-10), common.z.0[0]);
        let debye = 1.0 + B * root;
        let mut f_slope = -values.slope.0[0] * (3.0 + 2.0 * B * root) / (2.0 * root * debye * debye);
        let mut f_by = vec![0.0; n]; // dF/dm at fixed I
        let mut c_by = vec![0.0; n]; // Σ m C with each species
        let mut out = vec![0.0; n * n];
        let mut put = |a: usize, b: usize, value: f64| {
            out[a * n + b] += value;
            if a != b {
                out[b * n + a] += value;
            }
        };
        let bend =
            |d: &Decay<1>, alpha: f64| slope_slope(alpha * root, d) * alpha * root / 2.0 - d.slope.0[0];
        for pair in &self.pairs {
            let (mc, ma, c) = (m[pair.a], m[pair.b], of(pair.c));
            let mut terms = vec![(pair.first, of(pair.b1))];
            terms.extend(pair.strong.map(|(last, b2)| (last, of(b2))));
            let (mut b, mut b_slope, mut b_bend) = (of(pair.b0), 0.0, 0.0);
            for (alpha, value) in terms {
                let decay = &common.decays[alpha];
                b += value * decay.g.0[0];
                b_slope += value * decay.slope.0[0] / i;
                b_bend += value * bend(decay, ALPHA[alpha]) / (i * i);
            }
            f_slope += mc * ma * b_bend;
            f_by[pair.a] += ma * b_slope;
            f_by[pair.b] += mc * b_slope;
            c_by[pair.a] += ma * c;
            c_by[pair.b] += mc * c;
            put(pair.a, pair.b, 2.0 * b + z * c);
        }
        self.twos.iter().for_each(|two| put(two.a, two.b, 2.0 * of(two.value)));
        for Three { a, b, thirds } in &self.threes {
            for (c, value) in thirds {
                put(*a, *b, m[*c] * of(*value));
                put(*a, *c, m[*b] * of(*value));
                put(*b, *c, m[*a] * of(*value));
            }
        }
        let mixing = self.electrostatic_curvature(values, &common, &mut f_by, &mut f_slope);
        for a in 0..n {
            for b in 0..n {
                let (za, zb) = (self.charge[a], self.charge[b]);
                let mut value = za * za * (f_slope * zb * zb / 2.0 + f_by[b]) + zb * zb * f_by[a];
                value += zb.abs() * c_by[a] + za.abs() * c_by[b];
                if za * zb > 0.0 {
                    value += 2.0 * mixing[za.abs() as usize][zb.abs() as usize];
                }
                out[a * n + b] += value;
            }
        }
        out
    }

    /// Adds what the unsymmetrical terms bring to the derivatives of F; answers E by two charge numbers.
    fn electrostatic_curvature(
        &self,
        values: &Values<1>,
        common: &Common<1>,
        f_by: &mut [f64],
        f_slope: &mut f64,
    ) -> [[f64; MOST_CHARGE + 1]; MOST_CHARGE + 1] {
        let mut mixing = [[0.0; MOST_CHARGE + 1]; MOST_CHARGE + 1];
        let mut slopes = mixing;
        let standing = Standing::at(common.i, values.slope);
        for which in &self.unlike {
            let (z, w) = MEETINGS[*which];
            let (value, slope) = standing.term(*which);
            (mixing[z][w], mixing[w][z]) = (value.0[0], value.0[0]);
            (slopes[z][w], slopes[w][z]) = (slope.0[0], slope.0[0]);
            for amounts in &common.by_charge {
                *f_slope += amounts[z].0[0] * amounts[w].0[0] * unlike::curvature(&standing, *which);
            }
        }
        for (value, (sign, number)) in f_by.iter_mut().zip(&self.group) {
            let amounts = &common.by_charge[*sign];
            *value += (0..=MOST_CHARGE).map(|w| amounts[w].0[0] * slopes[*number][w]).sum::<f64>();
        }
        mixing
    }
}
