//! Activity coefficients by the Pitzer equations, one form from the tap to the stock bottle.
//!
//! Pitzer (1973, 1991) in the form of Harvie, Møller and Weare (1984), with the unsymmetrical mixing terms of
//! Pitzer (1975). Molality in mol per kg of water; logarithms are natural. There is no switch by ionic strength,
//! so there is no seam.

use super::constants::WATER_MOLAR_MASS;
use super::parameters::Binary;
use super::shape::{Decay, decay};
use super::unlike::{Unlike, unlike};

/// The closest approach in the Debye–Hückel term, (kg/mol)^½ (Pitzer 1973).
const B: f64 = 1.2;
/// The four exponents α, (kg/mol)^½: 2–2 salts take 1.4 and 12, salts with a charge of 1 take 2 and 12, others 2
/// and 50.
const ALPHA: [f64; 4] = [1.4, 2.0, 12.0, 50.0];
/// Largest charge number of the model.
const MOST_CHARGE: usize = 3;

/// One cation with one anion.
#[derive(Clone, Copy, Debug)]
struct Pair {
    cation: usize,
    anion: usize,
    first: usize, // which α goes with b1
    last: usize,  // which α goes with b2
    b0: f64,
    b1: f64,
    b2: f64,
    c: f64, // C = C^φ / (2 √|z z'|)
}

/// The interactions among a list of species at one temperature.
#[derive(Clone, Debug, Default)]
pub(crate) struct Interactions {
    charge: Vec<f64>,
    slope: f64,
    unlike: Vec<(usize, usize)>, // charge numbers of one sign that meet
    pairs: Vec<Pair>,
    twos: Vec<(usize, usize, f64)>,          // θ and λ
    threes: Vec<(usize, usize, usize, f64)>, // ψ and ζ
}

/// Activity coefficients of one composition.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Activity {
    /// ln of the molal activity coefficient of each species, on the Pitzer single-ion convention.
    pub(crate) ln_coefficient: Vec<f64>,
    /// ln of the activity of water.
    pub(crate) ln_water: f64,
    /// Osmotic coefficient.
    pub(crate) osmotic: f64,
    /// Ionic strength, mol/kg.
    pub(crate) ionic_strength: f64,
}

/// The sums that every activity coefficient shares.
struct Common {
    i: f64,
    root: f64,
    z: f64, // Σ m|z|
    decays: [Decay; 4],
    by_charge: [[f64; MOST_CHARGE + 1]; 2], // molality by sign and charge number
    mixing: [[Unlike; MOST_CHARGE + 1]; MOST_CHARGE + 1], // E of two charge numbers
}

impl Interactions {
    /// Empty interactions of species with these charges, with Debye–Hückel slope `slope`.
    pub(crate) fn new(charge: Vec<f64>, slope: f64) -> Self {
        let has = |z: usize, sign: f64| charge.contains(&(sign * z as f64));
        let numbers = (1..MOST_CHARGE).flat_map(|z| (z + 1..=MOST_CHARGE).map(move |w| (z, w)));
        let unlike =
            numbers.filter(|(z, w)| [1.0, -1.0].iter().any(|s| has(*z, *s) && has(*w, *s))).collect();
        Interactions { charge, slope, unlike, ..Interactions::default() }
    }

    /// Adds the parameters of a cation with an anion.
    pub(crate) fn add_pair(&mut self, cation: usize, anion: usize, binary: &Binary) {
        let (z, w) = (self.charge[cation], -self.charge[anion]);
        let (first, last) = match (z == 2.0 && w == 2.0, z == 1.0 || w == 1.0) {
            (true, _) => (0, 2),
            (_, true) => (1, 2),
            _ => (1, 3),
        };
        let c = binary.cphi / (2.0 * (z * w).sqrt());
        let Binary { b0, b1, b2, .. } = *binary;
        self.pairs.push(Pair { cation, anion, first, last, b0, b1, b2, c });
    }

    /// Adds a parameter of two species (θ, λ).
    pub(crate) fn add_two(&mut self, a: usize, b: usize, value: f64) {
        self.twos.push((a, b, value));
    }

    /// Adds a parameter of three species (ψ, ζ).
    pub(crate) fn add_three(&mut self, a: usize, b: usize, c: usize, value: f64) {
        self.threes.push((a, b, c, value));
    }

    fn common(&self, m: &[f64]) -> Common {
        let mut by_charge = [[0.0; MOST_CHARGE + 1]; 2];
        for (molality, z) in m.iter().zip(&self.charge) {
            by_charge[usize::from(*z < 0.0)][z.abs() as usize] += molality;
        }
        let (mut i, mut z) = (0.0, 0.0);
        for (number, (cations, anions)) in by_charge[0].iter().zip(&by_charge[1]).enumerate() {
            let charge = number as f64;
            let both = cations + anions;
            i += 0.5 * charge * charge * both;
            z += charge * both;
        }
        let root = i.sqrt();
        let mut mixing = [[Unlike::default(); MOST_CHARGE + 1]; MOST_CHARGE + 1];
        for (small, large) in &self.unlike {
            mixing[*small][*large] = unlike(*small as f64, *large as f64, i, self.slope);
            mixing[*large][*small] = mixing[*small][*large];
        }
        let decays = ALPHA.map(|alpha| decay(alpha * root));
        Common { i, root, z, decays, by_charge, mixing }
    }

    /// Activity coefficients, water activity and osmotic coefficient at molalities `m`, mol/kg, written to `out`.
    pub(crate) fn evaluate(&self, m: &[f64], out: &mut Activity) {
        let common = self.common(m);
        let Common { i, root, z, decays, .. } = &common;
        let (i, root, z) = (*i, *root, *z);
        let ln_coefficient = &mut out.ln_coefficient;
        ln_coefficient.clear();
        ln_coefficient.resize(m.len(), 0.0);
        let debye = 1.0 + B * root;
        let mut f = -self.slope * (root / debye + 2.0 / B * libm::log(debye));
        let mut osmotic = -self.slope * i * root / debye;
        let mut triple = 0.0; // Σ Σ m m C
        for pair in &self.pairs {
            let (mc, ma) = (m[pair.cation], m[pair.anion]);
            let (one, two) = (&decays[pair.first], &decays[pair.last]);
            let b = pair.b0 + pair.b1 * one.g + pair.b2 * two.g;
            let both = 2.0 * b + z * pair.c;
            ln_coefficient[pair.cation] += ma * both;
            ln_coefficient[pair.anion] += mc * both;
            let product = mc * ma;
            triple += product * pair.c;
            if i > 0.0 {
                f += product * (pair.b1 * one.slope + pair.b2 * two.slope) / i;
            }
            let b_phi = pair.b0 + pair.b1 * one.exponential + pair.b2 * two.exponential;
            osmotic += product * (b_phi + z * pair.c);
        }
        self.mix(m, ln_coefficient, &mut osmotic);
        f += self.electrostatic(&common, ln_coefficient, &mut osmotic);
        for (value, charge) in ln_coefficient.iter_mut().zip(&self.charge) {
            *value += charge * charge * f + charge.abs() * triple;
        }
        let solutes: f64 = m.iter().sum();
        out.osmotic = if solutes > 0.0 { 1.0 + 2.0 * osmotic / solutes } else { 1.0 };
        out.ln_water = -WATER_MOLAR_MASS * (solutes + 2.0 * osmotic);
        out.ionic_strength = i;
    }

    fn mix(&self, m: &[f64], ln_coefficient: &mut [f64], osmotic: &mut f64) {
        for (a, b, value) in &self.twos {
            ln_coefficient[*a] += 2.0 * m[*b] * value;
            ln_coefficient[*b] += 2.0 * m[*a] * value;
            *osmotic += m[*a] * m[*b] * value;
        }
        for (a, b, c, value) in &self.threes {
            ln_coefficient[*a] += m[*b] * m[*c] * value;
            ln_coefficient[*b] += m[*a] * m[*c] * value;
            ln_coefficient[*c] += m[*a] * m[*b] * value;
            *osmotic += m[*a] * m[*b] * m[*c] * value;
        }
    }

    /// Adds the unsymmetrical mixing terms; answers their share of F.
    fn electrostatic(&self, common: &Common, ln_coefficient: &mut [f64], osmotic: &mut f64) -> f64 {
        let mut f = 0.0;
        let mut by_sign = [[0.0; MOST_CHARGE + 1]; 2];
        for (sign, amounts) in common.by_charge.iter().enumerate() {
            for z in 1..=MOST_CHARGE {
                for w in 1..=MOST_CHARGE {
                    by_sign[sign][z] += 2.0 * amounts[w] * common.mixing[z][w].value;
                    if z < w {
                        let e = &common.mixing[z][w];
                        f += amounts[z] * amounts[w] * e.slope;
                        *osmotic += amounts[z] * amounts[w] * (e.value + common.i * e.slope);
                    }
                }
            }
        }
        for (value, charge) in ln_coefficient.iter_mut().zip(&self.charge) {
            *value += by_sign[usize::from(*charge < 0.0)][charge.abs() as usize];
        }
        f
    }

    /// The symmetric matrix d ln γ_i / d m_k in rows, kg/mol, at molalities `m`. Needs an ionic strength above zero.
    pub(crate) fn curvature(&self, m: &[f64]) -> Vec<f64> {
        let n = m.len();
        let common = self.common(m);
        let Common { i, root, z, decays, .. } = &common;
        let (i, root, z) = (i.max(1e-20), root.max(1e-10), *z);
        let debye = 1.0 + B * root;
        let mut f_slope = -self.slope * (3.0 + 2.0 * B * root) / (2.0 * root * debye * debye);
        let mut f_by = vec![0.0; n]; // dF/dm at fixed I
        let mut c_by = vec![0.0; n]; // Σ m C with each species
        let mut out = vec![0.0; n * n];
        let mut put = |a: usize, b: usize, value: f64| {
            out[a * n + b] += value;
            if a != b {
                out[b * n + a] += value;
            }
        };
        for pair in &self.pairs {
            let (mc, ma) = (m[pair.cation], m[pair.anion]);
            let (one, two) = (&decays[pair.first], &decays[pair.last]);
            let b = pair.b0 + pair.b1 * one.g + pair.b2 * two.g;
            let b_slope = (pair.b1 * one.slope + pair.b2 * two.slope) / i;
            let bend = |d: &Decay, alpha: f64| d.slope_slope * alpha * root / 2.0 - d.slope;
            let b_bend =
                (pair.b1 * bend(one, ALPHA[pair.first]) + pair.b2 * bend(two, ALPHA[pair.last])) / (i * i);
            f_slope += mc * ma * b_bend;
            f_by[pair.cation] += ma * b_slope;
            f_by[pair.anion] += mc * b_slope;
            c_by[pair.cation] += ma * pair.c;
            c_by[pair.anion] += mc * pair.c;
            put(pair.cation, pair.anion, 2.0 * b + z * pair.c);
        }
        self.twos.iter().for_each(|(a, b, value)| put(*a, *b, 2.0 * value));
        for (a, b, c, value) in &self.threes {
            put(*a, *b, m[*c] * value);
            put(*a, *c, m[*b] * value);
            put(*b, *c, m[*a] * value);
        }
        f_slope += self.electrostatic_curvature(&common, &mut f_by);
        for a in 0..n {
            for b in 0..n {
                let (za, zb) = (self.charge[a], self.charge[b]);
                let mut value = za * za * (f_slope * zb * zb / 2.0 + f_by[b]) + zb * zb * f_by[a];
                value += zb.abs() * c_by[a] + za.abs() * c_by[b];
                if za * zb > 0.0 {
                    value += 2.0 * common.mixing[za.abs() as usize][zb.abs() as usize].value;
                }
                out[a * n + b] += value;
            }
        }
        out
    }

    fn electrostatic_curvature(&self, common: &Common, f_by: &mut [f64]) -> f64 {
        let mut f_slope = 0.0;
        for amounts in &common.by_charge {
            for z in 1..MOST_CHARGE {
                for w in z + 1..=MOST_CHARGE {
                    f_slope += amounts[z] * amounts[w] * common.mixing[z][w].curvature;
                }
            }
        }
        for (value, charge) in f_by.iter_mut().zip(&self.charge) {
            let amounts = &common.by_charge[usize::from(*charge < 0.0)];
            for (w, amount) in amounts.iter().enumerate() {
                *value += amount * common.mixing[charge.abs() as usize][w].slope;
            }
        }
        f_slope
    }
}
