//! The pH scale: one named convention at every ionic strength.
//!
//! Only the product a(H) γ(Cl) can be measured; a single-ion activity is a choice. Here pH is p(a_H γ_Cl) from the
//! model plus log γ_Cl by the convention of Bates and Guggenheim (1960), carried on smoothly above the 0.1 mol/kg
//! where it was agreed. Dilute waters thus stand on the NIST scale; in stocks the number carries ±0.05 at an ionic
//! strength of 1 and ±0.1 at 3, liquid junction not counted.

use super::constants::LN_10;
use super::lanes::Lanes;
use super::water::debye_huckel_slope;

/// The name of the convention, as answers print it.
pub const PH_CONVENTION: &str = "Bates-Guggenheim, extended";

/// Factor of √I in the denominator of the convention, (kg/mol)^½. Defined (Bates and Guggenheim 1960).
const DENOMINATOR: f64 = 1.5;

/// ln γ of chloride by the convention at an ionic strength in mol/kg, with the Debye–Hückel slope of the model.
pub(crate) fn ln_gamma_chloride(slope: f64, ionic_strength: f64) -> f64 {
    ln_gamma_chloride_of(Lanes([slope]), Lanes([ionic_strength])).0[0]
}

/// [`ln_gamma_chloride`] in lanes.
#[inline(always)]
pub(crate) fn ln_gamma_chloride_of<const L: usize>(slope: Lanes<L>, ionic_strength: Lanes<L>) -> Lanes<L> {
    let root = ionic_strength.sqrt();
    -3.0 * slope * root / (1.0 + DENOMINATOR * root)
}

/// d ln γ of chloride by the convention per ionic strength, kg/mol.
pub(crate) fn ln_gamma_chloride_slope(slope: f64, ionic_strength: f64) -> f64 {
    let root = ionic_strength.max(1e-20).sqrt();
    let denominator = 1.0 + DENOMINATOR * root;
    -1.5 * slope / (root * denominator * denominator)
}

/// log10 γ of chloride by the convention, at a temperature in kelvin and an ionic strength in mol/kg.
pub fn log_gamma_chloride(kelvin: f64, ionic_strength: f64) -> f64 {
    ln_gamma_chloride(debye_huckel_slope(kelvin), ionic_strength) / LN_10
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The convention of Bates and Guggenheim 1960 at I = 0.1 and 25 °C by hand with A = 0.5108 (their value):
    /// -0.5108 × 0.31623 / 1.47434 = -0.1096; 0.001 for the slope of this model.
    #[test]
    fn convention_at_a_tenth() {
        assert!((log_gamma_chloride(298.15, 0.1) + 0.1096).abs() < 1e-3);
    }
}
