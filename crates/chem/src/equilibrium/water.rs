//! Water itself: density, relative permittivity, vapour pressure and the Debye–Hückel slope that follows.

use super::constants::{
    ATMOSPHERE, AVOGADRO, BOLTZMANN, ELEMENTARY_CHARGE, VACUUM_PERMITTIVITY, ZERO_CELSIUS,
};
use super::elementary;
use super::lanes::Lanes;
use crate::composition::pure_water::kell_1975;
use libm::exp;

/// Density of air-free water at 1 atm, kg/m³, for 0 to 100 °C given in kelvin (Kell 1975, ±0.01 kg/m³).
pub fn density(kelvin: f64) -> f64 {
    kell_1975(kelvin - ZERO_CELSIUS)
}

/// Relative permittivity of water at a pressure in bar, 0 to 350 °C given in kelvin (Bradley and Pitzer 1979).
pub fn permittivity(kelvin: f64, bar: f64) -> f64 {
    permittivity_of(Lanes([kelvin]), bar).0[0]
}

/// [`permittivity`] in lanes.
#[inline(always)]
pub(crate) fn permittivity_of<const L: usize>(kelvin: Lanes<L>, bar: f64) -> Lanes<L> {
    let at_1000_bar = 342.79 * elementary::exp(kelvin * (-5.0866e-3 + 9.469e-7 * kelvin));
    let c = -2.0525 + 3115.9 / (kelvin - 182.89);
    let b = -8032.5 + 4.2142e6 / kelvin + 2.1417 * kelvin;
    at_1000_bar + c * elementary::log((b + bar) / (b + 1000.0))
}

/// Debye–Hückel slope for the osmotic coefficient, (kg/mol)^½: the A of the Pitzer equations.
///
/// The Pitzer parameters of the tables belong to this slope within 0.1 %; no other permittivity may be put in.
pub fn debye_huckel_slope(kelvin: f64) -> f64 {
    debye_huckel_slope_of(Lanes([kelvin])).0[0]
}

/// [`debye_huckel_slope`] in lanes.
#[inline(always)]
pub(crate) fn debye_huckel_slope_of<const L: usize>(kelvin: Lanes<L>) -> Lanes<L> {
    const PI: f64 = core::f64::consts::PI;
    const SQUARE: f64 = ELEMENTARY_CHARGE * ELEMENTARY_CHARGE;
    let permittivity = permittivity_of(kelvin, ATMOSPHERE / 1e5);
    let charge_energy = SQUARE / (4.0 * PI * VACUUM_PERMITTIVITY * BOLTZMANN * permittivity * kelvin);
    let ions = 2.0 * PI * AVOGADRO * kelvin.map(density);
    ions.sqrt() * charge_energy * charge_energy.sqrt() / 3.0
}

/// Vapour pressure of water, Pa, 0 to 100 °C given in kelvin (Wagner and Pruss 1993, as in IAPWS SR1-86(1992)).
pub fn vapour_pressure(kelvin: f64) -> f64 {
    const CRITICAL_KELVIN: f64 = 647.096;
    const CRITICAL_PASCAL: f64 = 22.064e6;
    let tau = 1.0 - kelvin / CRITICAL_KELVIN;
    let root = tau.sqrt();
    let tau3 = tau * tau * tau;
    let sum = -7.859_517_83 * tau + 1.844_082_59 * tau * root - 11.786_649_7 * tau3
        + 22.680_741_1 * tau3 * root
        - 15.961_871_9 * tau3 * tau
        + 1.801_225_02 * tau3 * tau3 * tau * root;
    CRITICAL_PASCAL * exp(CRITICAL_KELVIN / kelvin * sum)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Slope of the osmotic coefficient at seven temperatures: values printed with the model's documentation,
    /// computed there from the same two papers by another program; 0.02 %.
    #[test]
    fn slope_agrees_with_an_independent_evaluation() {
        let table = [
            (0.0, 0.37672),
            (10.0, 0.38211),
            (25.0, 0.39145),
            (40.0, 0.40226),
            (60.0, 0.41898),
            (80.0, 0.43838),
            (95.0, 0.45475),
        ];
        for (t, slope) in table {
            let got = debye_huckel_slope(t + ZERO_CELSIUS);
            assert!((got / slope - 1.0).abs() < 2e-4, "{t} °C: {got} against {slope}");
        }
    }

    /// CRC Handbook: density 0.99984, 0.99705, 0.98804 kg/L and vapour pressure 0.6112, 3.169, 12.34 kPa at 0,
    /// 25, 50 °C; permittivity 78.4 at 25 °C (78.304 to 78.38 between tables, 0.15 %).
    #[test]
    fn water_agrees_with_the_handbook() {
        for (t, rho, kpa) in [(0.0, 999.84, 0.6112), (25.0, 997.05, 3.169), (50.0, 988.04, 12.345)] {
            assert!((density(t + ZERO_CELSIUS) - rho).abs() < 0.01, "density at {t}");
            assert!((vapour_pressure(t + ZERO_CELSIUS) / 1000.0 / kpa - 1.0).abs() < 1e-3, "vapour at {t}");
        }
        assert!((permittivity(298.15, 1.013) / 78.36 - 1.0).abs() < 1.5e-3);
    }
}
