//! Carbon dioxide gas: fugacity of the real gas and solubility in water.

use super::constants::{ATMOSPHERE, GAS, LN_10};
use super::elementary::{exp, log};
use super::lanes::Lanes;

/// Critical temperature (K), critical pressure (Pa) and acentric factor of CO2 (Span and Wagner 1996).
const CRITICAL: (f64, f64, f64) = (304.128_2, 7.377_3e6, 0.223_94);
/// Partial molar volume of dissolved CO2, m³/mol (Weiss 1974: 32.3 ± 0.5 cm³/mol).
const VOLUME_DISSOLVED: f64 = 32.3e-6;

/// Compression factor of CO2 gas at a temperature in kelvin and a pressure in pascal (Peng and Robinson 1976).
pub fn compression_factor(kelvin: f64, pascal: f64) -> f64 {
    let (a, b) = reduced(Lanes([kelvin]), Lanes([pascal]));
    compression(a, b).0[0]
}

/// The gas root of the cubic equation is the largest; Newton steps from above fall onto it. A lane that has settled is
/// not touched again.
fn compression<const L: usize>(a: Lanes<L>, b: Lanes<L>) -> Lanes<L> {
    let (c2, c1, c0) = (b - 1.0, a - b * (2.0 + 3.0 * b), b * (b * (1.0 + b) - a));
    let mut z = Lanes::all(1.0);
    let mut settled = [false; L];
    for _ in 0..30 {
        let value = ((z + c2) * z + c1) * z + c0;
        let step = value / ((3.0 * z + 2.0 * c2) * z + c1);
        z = Lanes::of(|lane| z.0[lane] - if settled[lane] { 0.0 } else { step.0[lane] });
        settled.iter_mut().zip(step.0).for_each(|(settled, step)| *settled |= step.abs() < 1e-15);
        if settled.iter().all(|settled| *settled) {
            break;
        }
    }
    z
}

fn reduced<const L: usize>(kelvin: Lanes<L>, pascal: Lanes<L>) -> (Lanes<L>, Lanes<L>) {
    let (tc, pc, omega) = CRITICAL;
    let kappa = 0.374_64 + omega * (1.542_26 - 0.269_92 * omega);
    let root = 1.0 + kappa * (1.0 - (kelvin / tc).sqrt());
    let rt = GAS * kelvin;
    let a = 0.457_235_53 * GAS * GAS * tc * tc / pc * root * root;
    let b = 0.077_796_07 * GAS * tc / pc;
    (a * pascal / (rt * rt), b * pascal / rt)
}

/// ln of the fugacity coefficient of CO2 at a total pressure above zero.
fn ln_fugacity_coefficient<const L: usize>(kelvin: Lanes<L>, pascal: Lanes<L>) -> Lanes<L> {
    let (a, b) = reduced(kelvin, pascal);
    let z = compression(a, b);
    let root2 = core::f64::consts::SQRT_2;
    let ratio = (z + (1.0 + root2) * b) / (z + (1.0 - root2) * b);
    z - 1.0 - log(z - b) - a / (2.0 * root2 * b) * log(ratio)
}

/// Fugacity coefficient of CO2 in a gas that is mostly CO2, or of a trace of it by the rule of Lewis, at a total
/// pressure in pascal up to 8 bar.
pub fn fugacity_coefficient(kelvin: f64, pascal: f64) -> f64 {
    if pascal <= 0.0 {
        return 1.0;
    }
    exp(ln_fugacity_coefficient(Lanes([kelvin]), Lanes([pascal]))).0[0]
}

/// ln of the solubility of CO2, mol/kg per atm of fugacity at 1 atm total (Plummer and Busenberg 1982, 0 to 90 °C).
pub fn ln_solubility(kelvin: f64) -> f64 {
    ln_solubility_of(Lanes([kelvin])).0[0]
}

fn ln_solubility_of<const L: usize>(t: Lanes<L>) -> Lanes<L> {
    LN_10 * (108.3865 + 0.019_850_76 * t - 6919.53 / t - 40.45154 / LN_10 * log(t) + 669_365.0 / (t * t))
}

/// ln of the activity of dissolved CO2 per pascal of its partial pressure, under a total pressure.
fn ln_activity_per_pascal<const L: usize>(kelvin: Lanes<L>, total: Lanes<L>) -> Lanes<L> {
    let pressed = VOLUME_DISSOLVED * (total - ATMOSPHERE) / (GAS * kelvin);
    ln_solubility_of(kelvin) + ln_fugacity_coefficient(kelvin, total) - pressed - log(Lanes::all(ATMOSPHERE))
}

/// Activity of dissolved CO2 (mol/kg, infinite dilution) in equilibrium with a partial pressure of CO2 under a
/// total pressure, both in pascal. Real-gas fugacity and the work against pressure are in it.
pub fn dissolved_activity(kelvin: f64, partial_pascal: f64, total_pascal: f64) -> f64 {
    partial_pascal * exp(ln_activity_per_pascal(Lanes([kelvin]), Lanes([total_pascal]))).0[0]
}

/// ln of the activity of CO2 dissolved under a partial pressure above zero, bar; the total pressure is one atmosphere or
/// the gas itself, whichever is more.
pub(crate) fn ln_dissolved<const L: usize>(kelvin: Lanes<L>, bar: Lanes<L>) -> Lanes<L> {
    let pascal = bar * 1e5;
    ln_activity_per_pascal(kelvin, pascal.at_least(Lanes::all(ATMOSPHERE))) + log(pascal)
}

/// d ln activity / d ln pressure of CO2 whose total pressure is one atmosphere or the gas itself, whichever is more.
pub fn activity_slope(kelvin: f64, partial_pascal: f64) -> f64 {
    if partial_pascal > ATMOSPHERE {
        compression_factor(kelvin, partial_pascal) - VOLUME_DISSOLVED * partial_pascal / (GAS * kelvin)
    } else {
        1.0
    }
}

/// Partial pressure of CO2, Pa, that stands in equilibrium with an activity of dissolved CO2 (mol/kg) when the total
/// pressure is one atmosphere or the gas itself, whichever is more. Infinite where no pressure of the gas presses so much
/// into water.
pub fn partial_pressure(kelvin: f64, activity: f64) -> f64 {
    partial_pressure_of(Lanes([kelvin]), Lanes([activity])).0[0]
}

/// [`partial_pressure`] in lanes.
pub(crate) fn partial_pressure_of<const L: usize>(kelvin: Lanes<L>, activity: Lanes<L>) -> Lanes<L> {
    let under_air = ln_activity_per_pascal(kelvin, Lanes::all(ATMOSPHERE));
    let pascal = activity * exp(-under_air);
    Lanes::of(|lane| match pascal.0[lane] {
        thin if thin <= ATMOSPHERE => thin,
        first => pressure_of_gas(kelvin.0[lane], activity.0[lane], first),
    })
}

/// The pressure above one atmosphere that an activity stands for, from a first value, Pa.
fn pressure_of_gas(kelvin: f64, activity: f64, first: f64) -> f64 {
    let mut pascal = first;
    for _ in 0..30 {
        let next = pascal * activity / dissolved_activity(kelvin, pascal, pascal.max(ATMOSPHERE));
        let settled = (next / pascal - 1.0).abs() < 1e-14;
        pascal = next;
        if settled || pascal <= 0.0 {
            break;
        }
    }
    if pascal.is_nan() { f64::INFINITY } else { pascal }
}

#[cfg(test)]
mod tests {
    use super::*;
    use libm::{exp, log};

    /// Weiss 1974, ln K0 = -58.0931 + 90.5069 (100/T) + 22.2940 ln(T/100) in fresh water, mol/(kg atm): 1 % from 0 to
    /// 40 °C.
    #[test]
    fn solubility_agrees_with_weiss_1974() {
        for t in [0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0] {
            let kelvin = t + 273.15;
            let weiss = -58.0931 + 90.5069 * 100.0 / kelvin + 22.2940 * log(kelvin / 100.0);
            assert!((exp(ln_solubility(kelvin) - weiss) - 1.0).abs() < 0.005, "{t}");
        }
    }

    /// Murray and Riley 1971, Bunsen coefficients at 1 atm of CO2 (IUPAC Solubility Data Series; gas at 22.263 L/mol):
    /// 1.5 % from 1 to 35 °C.
    #[test]
    fn solubility_agrees_with_murray_and_riley_1971() {
        let table = [
            (1.0, 1.647),
            (5.0, 1.420),
            (10.0, 1.193),
            (15.0, 1.010),
            (20.0, 0.865),
            (25.0, 0.752),
            (32.0, 0.634),
            (35.0, 0.591),
        ];
        for (t, bunsen) in table {
            let kelvin = t + 273.15;
            let molal = dissolved_activity(kelvin, ATMOSPHERE, ATMOSPHERE);
            let volumes = molal * crate::equilibrium::water::density(kelvin) / 1000.0 * 22.263;
            assert!((volumes / bunsen - 1.0).abs() < 0.015, "{t}: {volumes}");
        }
    }

    /// CO2 by reference equation (Span and Wagner 1996; from memory 0.983 at 3 atm, 0.9946 at 1 atm, 25 °C): 0.002.
    /// Identity: d ln φ / dp = (Z - 1)/p, to 1e-6.
    #[test]
    fn fugacity_coefficient_of_the_real_gas() {
        assert!((fugacity_coefficient(298.15, 3.0 * ATMOSPHERE) - 0.983).abs() < 0.002);
        assert!((fugacity_coefficient(298.15, ATMOSPHERE) - 0.9946).abs() < 0.001);
        for (kelvin, pascal) in [(275.0, 8e5), (298.15, 4e5), (333.0, 1e5)] {
            let h = pascal * 1e-4;
            let slope =
                log(fugacity_coefficient(kelvin, pascal + h) / fugacity_coefficient(kelvin, pascal - h))
                    / (2.0 * h);
            assert!((slope * pascal - (compression_factor(kelvin, pascal) - 1.0)).abs() < 1e-6);
        }
    }

    /// Identity: pressure to activity and back, 1e-12.
    #[test]
    fn pressure_and_activity_are_inverse() {
        for pascal in [40.0, 5e4, 1.2e5, 7e5] {
            let activity = dissolved_activity(283.15, pascal, f64::max(pascal, ATMOSPHERE));
            assert!((partial_pressure(283.15, activity) / pascal - 1.0).abs() < 1e-12);
        }
    }
}
