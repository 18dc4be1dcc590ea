//! Density of a water from its totals: ion-additive volumes with one limiting slope, 0-60 °C, fitted to apparent
//! molar volumes of salts to 1 mol/kg. Within 0.05 g/L to 0.01 mol/kg; at 1 mol/kg within 0.5 (chlorides and
//! bicarbonates of Na and K) to 1.5 g/L (MgSO4, Na2CO3). Components known at 25 °C only add their own
//! uncertainty (`volumes.tsv`).

use std::sync::LazyLock;

use super::fault::CompositionError;
use super::pure_water;
use super::totals::Totals;
use crate::matter::component::Component;
use crate::table::Table;

/// Coefficient of √I in the damping of the limiting slope, (kg/mol)^½, as in the activity model.
const DAMPING: f64 = 1.2;

/// Volume of the pairing of Ca and Mg with SO4, cm³ kg/mol², fitted with the volumes of the ions.
const PAIRING: f64 = 2.673;

/// Least and greatest temperature, °C.
const TEMPERATURES: (f64, f64) = (0.0, 60.0);

/// Greatest strength, mol of salt per kg of water.
const STRONGEST: f64 = 1.0;

/// Limiting slope A_V in cm³ kg^½ mol^-3/2: the polynomial through the table in Newton's form, each node in °C with its
/// divided difference.
static SLOPE: LazyLock<Vec<(f64, f64)>> = LazyLock::new(|| {
    let mut slope = slopes();
    for order in 1..slope.len() {
        for at in (order..slope.len()).rev() {
            slope[at].1 = (slope[at].1 - slope[at - 1].1) / (slope[at].0 - slope[at - order].0);
        }
    }
    slope
});

/// The table of limiting slopes.
fn slopes() -> Vec<(f64, f64)> {
    Table::read(include_str!("../../data/volume_slope.tsv"))
        .rows()
        .map(|row| (row.number("t_c").unwrap_or(f64::NAN), row.number("a_v").unwrap_or(f64::NAN)))
        .collect()
}

/// Mass and water in a litre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Density {
    /// Density, kg/L.
    pub kg_per_l: f64,
    /// Kilograms of water (as totals count it) in a litre.
    pub water_kg_per_l: f64,
}

impl Density {
    /// Density of a water at a temperature in °C.
    ///
    /// # Errors
    /// [`CompositionError::OutsideModel`] outside 0-60 °C or above 1 mol of salt per kg of water.
    pub fn of(totals: &Totals, temperature_c: f64) -> Result<Density, CompositionError> {
        within("temperature", temperature_c, TEMPERATURES, "°C")?;
        let forms = Sums::of(totals, temperature_c);
        within("strength", forms.cations.min(forms.anions), (0.0, STRONGEST), "mol/kg")?;
        let litres = volume_l(totals, &forms, temperature_c);
        let kg = 1.0 + totals.solute_mass() / 1000.0;
        Ok(Density { kg_per_l: kg / litres, water_kg_per_l: 1.0 / litres })
    }
}

fn within(
    what: &'static str,
    value: f64,
    (lo, hi): (f64, f64),
    unit: &'static str,
) -> Result<(), CompositionError> {
    if (lo..=hi).contains(&value) {
        Ok(())
    } else {
        Err(CompositionError::OutsideModel { what, value, lo, hi, unit })
    }
}

/// What the forms in a water add up to, per kg of water.
#[derive(Default)]
struct Sums {
    /// mol of cations and of anions: for one salt the lesser is its molality.
    cations: f64,
    anions: f64,
    ionic_strength: f64,
    /// cm³ without ionic strength, and what each mol/kg of it adds.
    volume: f64,
    volume_per_strength: f64,
    /// g of water beside the kilogram.
    extra_water: f64,
}

impl Sums {
    fn of(totals: &Totals, t: f64) -> Sums {
        let mut sums = Sums::default();
        sums.extra_water = totals.each_form(|form, m| {
            if form.charge > 0.0 {
                sums.cations += m;
            } else if form.charge < 0.0 {
                sums.anions += m;
            }
            sums.ionic_strength += 0.5 * form.charge * form.charge * m;
            sums.volume += m * form.volume.at(t);
            sums.volume_per_strength += m * form.volume.per_strength();
        });
        sums
    }
}

/// Litres that one kilogram of water takes with all that is dissolved in it.
fn volume_l(totals: &Totals, forms: &Sums, t: f64) -> f64 {
    let ionic_strength = forms.ionic_strength;
    let damped = 1.0 + DAMPING * ionic_strength.sqrt();
    let of_ions = forms.volume + forms.volume_per_strength * ionic_strength;
    let limiting = limiting_slope(t) / DAMPING * ionic_strength * libm::log(damped);
    let earths = totals.amount(Component::CA) + totals.amount(Component::MG);
    let pairing = 4.0 * PAIRING * earths * totals.amount(Component::SO4) / damped;
    let of_water = (1000.0 + forms.extra_water) / pure_water::kell_1975(t);
    of_water + (of_ions + limiting + pairing) / 1000.0
}

/// The limiting slope at a temperature in °C.
fn limiting_slope(t: f64) -> f64 {
    SLOPE.iter().rev().fold(0.0, |sum, (node, difference)| difference + (t - node) * sum)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::composition::added::Added;
    use crate::matter::formula::Formula;

    fn salt(formula: &str, gives: &[(Component, f64)], carbonate: f64) -> Added {
        Added::new(Formula::read(formula).unwrap().molar_mass(), gives, carbonate)
    }

    fn kg_per_m3(molality: f64, salt: &Added, t: f64) -> f64 {
        let water = Totals::pure().with_added(&[(molality, salt)]).unwrap();
        1000.0 * Density::of(&water, t).unwrap().kg_per_l
    }

    fn nacl() -> Added {
        salt("NaCl", &[(Component::NA, 1.0), (Component::CL, 1.0)], 0.0)
    }

    // The same equation worked out by hand in another language from the printed parameters, kg/m³; last digit.
    #[test]
    fn worked_examples_of_the_equation() {
        let cacl2 = salt("CaCl2", &[(Component::CA, 1.0), (Component::CL, 2.0)], 0.0);
        let mgso4 = salt("MgSO4", &[(Component::MG, 1.0), (Component::SO4, 1.0)], 0.0);
        let caso4 = salt("CaSO4", &[(Component::CA, 1.0), (Component::SO4, 1.0)], 0.0);
        assert!((kg_per_m3(1.0, &nacl(), 25.0) - 1036.12).abs() < 0.01);
        assert!((kg_per_m3(1.0, &cacl2, 25.0) - 1082.00).abs() < 0.01);
        assert!((kg_per_m3(1.0, &mgso4, 25.0) - 1109.31).abs() < 0.01);
        assert!((kg_per_m3(0.015, &caso4, 25.0) - pure_water::kell_1975(25.0) - 2.035).abs() < 0.001);
    }

    // CRC Handbook, Concentrative Properties of Aqueous Solutions, kg/m³ at 20 °C (from memory). Tolerance: the
    // stated 0.5 kg/m³ of the model at 1 mol/kg, 0.1 at a sixth of it.
    #[test]
    fn handbook_solutions() {
        let kcl = salt("KCl", &[(Component::K, 1.0), (Component::CL, 1.0)], 0.0);
        for (salt, percent, handbook, within) in [
            (nacl(), 1.0, 1005.3, 0.1),
            (nacl(), 5.0, 1034.0, 0.5),
            (kcl.clone(), 1.0, 1004.6, 0.1),
            (kcl, 5.0, 1030.4, 0.5),
        ] {
            let molality = 1000.0 * percent / (100.0 - percent) / salt.molar_mass();
            let found = kg_per_m3(molality, &salt, 20.0);
            assert!((found - handbook).abs() <= within, "{percent} %: {found}");
        }
    }

    /// Definition: an undissociated acid and its salts weigh what went in, so mass over volume of the parts.
    #[test]
    fn a_litre_holds_what_was_weighed_in() {
        let citric = salt("C6H8O7", &[(Component::read("citrate").unwrap(), 1.0)], 0.0);
        let water = Totals::pure().with_added(&[(0.05, &citric)]).unwrap();
        let density = Density::of(&water, 20.0).unwrap();
        let kg_per_kg_water = (1.0 + 0.05 * citric.molar_mass() / 1000.0)
            / (1.0 + 0.05 * citric.water() * pure_water::molar_mass() / 1000.0);
        assert!((density.kg_per_l / density.water_kg_per_l / kg_per_kg_water - 1.0).abs() < 1e-12);
        // Apparent molar volume of citric acid about 112 cm³/mol (from memory, ± 5).
        let litres = (1.0 + 0.05 * citric.molar_mass() / 1000.0) / density.kg_per_l;
        let apparent = (1000.0 * litres - 1e6 / pure_water::kell_1975(20.0)) / 0.05;
        assert!((apparent - 112.0).abs() < 6.0, "{apparent}");
    }

    #[test]
    fn outside_its_range_it_is_refused() {
        let strong = Totals::pure().with_added(&[(1.2, &nacl())]).unwrap();
        assert!(matches!(
            Density::of(&strong, 20.0),
            Err(CompositionError::OutsideModel { what: "strength", .. })
        ));
        for t in [-0.1, 60.1, f64::NAN] {
            assert!(matches!(Density::of(&Totals::pure(), t), Err(CompositionError::OutsideModel { .. })));
        }
    }

    /// The slope at its nodes is the table, and between them it rises without waves.
    #[test]
    fn the_slope_is_smooth() {
        for (t, slope) in slopes() {
            assert!((limiting_slope(t) - slope).abs() < 1e-12);
        }
        let fine: Vec<f64> = (0..=120).map(|half| limiting_slope(f64::from(half) / 2.0)).collect();
        assert!(fine.windows(3).all(|w| w[2] - w[1] > w[1] - w[0] - 1e-5 && w[1] > w[0]));
    }
}
