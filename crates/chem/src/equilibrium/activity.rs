//! Activity coefficients by the Pitzer equations, one form from the tap to the stock bottle.
//!
//! Pitzer (1973, 1991) in the form of Harvie, Møller and Weare (1984), with the unsymmetrical mixing terms of
//! Pitzer (1975). Molality in mol per kg of water; logarithms are natural. There is no switch by ionic strength,
//! so there is no seam.

use super::constants::WATER_MOLAR_MASS;
use super::elementary::log;
use super::interactions::{ALPHA, B, Interactions, MOST_CHARGE, Three};
use super::lanes::Lanes;
use super::shape::{Decay, decay};
use super::unlike::{MEETINGS, Standing};
use super::values::Values;

/// Activity coefficients of one composition in each lane.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Activity<const L: usize> {
    /// ln of the molal activity coefficient of each species, on the Pitzer single-ion convention.
    pub(crate) ln_coefficient: Vec<Lanes<L>>,
    /// ln of the activity of water.
    pub(crate) ln_water: Lanes<L>,
    /// Osmotic coefficient.
    pub(crate) osmotic: Lanes<L>,
    /// Ionic strength, mol/kg.
    pub(crate) ionic_strength: Lanes<L>,
}

/// The sums that every activity coefficient shares.
pub(super) struct Common<const L: usize> {
    pub(super) i: Lanes<L>,
    pub(super) root: Lanes<L>,
    /// Σ m|z|.
    pub(super) z: Lanes<L>,
    /// Σ m.
    solutes: Lanes<L>,
    pub(super) decays: [Decay<L>; 4],
    /// Molality by sign and charge number.
    pub(super) by_charge: [[Lanes<L>; MOST_CHARGE + 1]; 2],
}

impl<const L: usize> Common<L> {
    #[inline(always)]
    pub(super) fn of(interactions: &Interactions, m: &[Lanes<L>]) -> Self {
        let mut by_charge = [[Lanes::default(); MOST_CHARGE + 1]; 2];
        for (molality, (sign, number)) in m.iter().zip(&interactions.group) {
            by_charge[*sign][*number] += *molality;
        }
        let (mut i, mut z) = (Lanes::default(), Lanes::default());
        let mut solutes = by_charge[0][0];
        for (number, (cations, anions)) in by_charge[0].iter().zip(&by_charge[1]).enumerate().skip(1) {
            let charge = number as f64;
            let both = *cations + *anions;
            i += (0.5 * charge * charge) * both;
            z += charge * both;
            solutes += both;
        }
        let root = i.sqrt();
        let mut decays = [Decay::default(); 4];
        for (at, alpha) in ALPHA.iter().enumerate().filter(|(at, _)| interactions.has_alpha[*at]) {
            decays[at] = decay(*alpha * root);
        }
        Common { i, root, z, solutes, decays, by_charge }
    }
}

/// What the terms of two and three species add up to beside their part in the coefficients.
struct Sums<const L: usize> {
    /// Σ Σ m m B^φ without its exponentials, and θ and λ.
    plain: Lanes<L>,
    /// Σ Σ m m b1 (or b2) by exponent.
    decaying: [Lanes<L>; 4],
    /// Σ Σ m m C.
    triple: Lanes<L>,
    /// Σ Σ Σ m m m ψ, and ζ.
    threes: Lanes<L>,
}

impl Interactions {
    /// Activity coefficients, water activity and osmotic coefficient at molalities `m`, mol/kg, written to `out`.
    pub(crate) fn evaluate<const L: usize>(&self, values: &Values<L>, m: &[Lanes<L>], out: &mut Activity<L>) {
        let common = Common::of(self, m);
        let Common { i, root, z, decays, .. } = &common;
        out.ln_coefficient.clear();
        out.ln_coefficient.resize(m.len(), Lanes::default());
        let ln_coefficient = out.ln_coefficient.as_mut_slice();
        let sums = self.sums(values, &common, m, ln_coefficient);
        let debye = 1.0 + B * *root;
        let ratio = *root / debye;
        let mut f = -values.slope * (ratio + (2.0 / B) * log(debye));
        let mut osmotic = sums.plain + *z * sums.triple + sums.threes - values.slope * *i * ratio;
        let mut sloping = Lanes::default();
        for at in (0..ALPHA.len()).filter(|at| self.has_alpha[*at]) {
            osmotic += sums.decaying[at] * decays[at].exponential;
            sloping += sums.decaying[at] * decays[at].slope;
        }
        f += sloping / i.at_least(Lanes::all(1e-300));
        let mut by_charge = [[Lanes::default(); MOST_CHARGE + 1]; 2];
        if !self.unlike.is_empty() {
            f += self.electrostatic(values, &common, &mut by_charge, &mut osmotic);
        }
        for sums_of_sign in &mut by_charge {
            for (number, sum) in sums_of_sign.iter_mut().enumerate().skip(1) {
                let charge = number as f64;
                *sum += (charge * charge) * f + charge * sums.triple;
            }
        }
        for (value, (sign, number)) in ln_coefficient.iter_mut().zip(&self.group) {
            *value += by_charge[*sign][*number];
        }
        out.osmotic = 1.0 + 2.0 * osmotic / common.solutes.at_least(Lanes::all(1e-300));
        out.ln_water = -WATER_MOLAR_MASS * (common.solutes + 2.0 * osmotic);
        out.ionic_strength = *i;
    }

    /// Adds the terms of two and three species to the coefficients.
    #[inline(always)]
    fn sums<const L: usize>(
        &self,
        values: &Values<L>,
        common: &Common<L>,
        m: &[Lanes<L>],
        ln_coefficient: &mut [Lanes<L>],
    ) -> Sums<L> {
        let of = values.of.as_slice();
        let decays = &common.decays;
        let mut decaying = [Lanes::default(); 4];
        let (mut plain, mut triple, mut threes) = (Lanes::default(), Lanes::default(), Lanes::default());
        for pair in &self.pairs {
            let (a, b) = (m[pair.a], m[pair.b]);
            let (b0, b1, c) = (of[pair.b0], of[pair.b1], of[pair.c]);
            let mut virial = b0 + b1 * decays[pair.first].g;
            let product = a * b;
            if let Some((last, b2)) = pair.strong {
                let b2 = of[b2];
                virial += b2 * decays[last].g;
                decaying[last] += product * b2;
            }
            let both = virial + virial + common.z * c;
            ln_coefficient[pair.a] += b * both;
            ln_coefficient[pair.b] += a * both;
            plain += product * b0;
            decaying[pair.first] += product * b1;
            triple += product * c;
        }
        for two in &self.twos {
            let (a, b, value) = (m[two.a], m[two.b], of[two.value]);
            let twice = value + value;
            ln_coefficient[two.a] += b * twice;
            ln_coefficient[two.b] += a * twice;
            plain += a * b * value;
        }
        for Three { a, b, thirds } in &self.threes {
            let product = m[*a] * m[*b];
            let mut sum = Lanes::default();
            for (c, value) in thirds {
                let value = of[*value];
                sum += m[*c] * value;
                ln_coefficient[*c] += product * value;
            }
            ln_coefficient[*a] += m[*b] * sum;
            ln_coefficient[*b] += m[*a] * sum;
            threes += product * sum;
        }
        Sums { plain, decaying, triple, threes }
    }

    /// The unsymmetrical mixing terms by sign and charge number; answers their share of F.
    #[inline(always)]
    fn electrostatic<const L: usize>(
        &self,
        values: &Values<L>,
        common: &Common<L>,
        by_charge: &mut [[Lanes<L>; MOST_CHARGE + 1]; 2],
        osmotic: &mut Lanes<L>,
    ) -> Lanes<L> {
        let standing = Standing::at(common.i, values.slope);
        let mut f = Lanes::default();
        for which in &self.unlike {
            let (z, w) = MEETINGS[*which];
            let (value, slope) = standing.term(*which);
            let twice = value + value;
            for (amounts, sums) in common.by_charge.iter().zip(by_charge.iter_mut()) {
                sums[z] += amounts[w] * twice;
                sums[w] += amounts[z] * twice;
                let product = amounts[z] * amounts[w];
                f += product * slope;
                *osmotic += product * (value + common.i * slope);
            }
        }
        f
    }
}
