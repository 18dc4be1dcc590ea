//! Water itself: molar mass and density.

use std::sync::LazyLock;

use crate::matter::formula::Formula;

static MOLAR_MASS: LazyLock<f64> = LazyLock::new(|| {
    Formula::read("H2O").map(|water| water.molar_mass()).expect("the formula of water can be read")
});

/// Molar mass of water, g/mol.
pub fn molar_mass() -> f64 {
    *MOLAR_MASS
}

/// Density of air-free water in kg/m³ (= g/L) at a temperature in °C and 101.325 kPa: Kell 1975, J. Chem. Eng.
/// Data 20, 97; valid 0-150 °C, ± 0.01 kg/m³ to 60 °C.
///
/// ```
/// use springwright_chem::composition::pure_water::kell_1975;
/// assert!((kell_1975(20.0) - 998.20).abs() < 0.01);
/// ```
pub fn kell_1975(t: f64) -> f64 {
    const ABOVE: [f64; 6] =
        [999.83952, 16.945176, -7.9870401e-3, -46.170461e-6, 105.56302e-9, -280.54253e-12];
    let above = ABOVE.iter().rev().fold(0.0, |sum, coefficient| sum * t + coefficient);
    above / (1.0 + 16.879850e-3 * t)
}

#[cfg(test)]
mod tests {
    use super::*;

    // Handbook densities of water, kg/m³ (CRC Handbook, any edition after 1975); tolerance is the last digit.
    #[test]
    fn water_weighs_what_handbooks_say() {
        for (t, handbook) in [
            (0.0, 999.84),
            (4.0, 999.97),
            (10.0, 999.70),
            (15.0, 999.10),
            (20.0, 998.20),
            (25.0, 997.05),
            (30.0, 995.65),
            (40.0, 992.22),
            (60.0, 983.20),
        ] {
            assert!((kell_1975(t) - handbook).abs() <= 0.006, "{t}: {}", kell_1975(t));
        }
    }
}
