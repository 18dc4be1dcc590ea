//! Viscosity of water.

use crate::equilibrium::constants::{LN_10, ZERO_CELSIUS};
use crate::equilibrium::elementary::exp;
use crate::equilibrium::lanes::Lanes;

/// Viscosity of water, Pa s, 0 to 100 °C given in kelvin (Kestin, Sokolov and Wakeham 1978, ±0.3 %).
pub fn kestin_1978(kelvin: f64) -> f64 {
    kestin_1978_of(Lanes([kelvin])).0[0]
}

/// [`kestin_1978`] in lanes.
#[inline(always)]
pub(crate) fn kestin_1978_of<const L: usize>(kelvin: Lanes<L>) -> Lanes<L> {
    let t = kelvin - ZERO_CELSIUS;
    let d = 20.0 - t;
    let log = d / (t + 96.0) * (1.2378 + d * (-1.303e-3 + d * (3.06e-6 + d * 2.55e-8)));
    1.002e-3 * exp(LN_10 * log)
}

#[cfg(test)]
mod tests {
    /// CRC Handbook: 1.793, 1.002, 0.890, 0.547 mPa s at 0, 20, 25, 50 °C; 0.1 %.
    #[test]
    fn viscosity_agrees_with_the_handbook() {
        for (t, value) in [(0.0, 1.7931), (20.0, 1.0020), (25.0, 0.8901), (50.0, 0.5471)] {
            let got = 1000.0 * super::kestin_1978(t + 273.15);
            assert!((got / value - 1.0_f64).abs() < 1e-3, "{t}: {got}");
        }
    }
}
