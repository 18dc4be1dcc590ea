//! How long a powder takes to go into solution, from the published rate of its surface and the size of its grains.
//!
//! Wetted, loose grains taken as spheres. Clumps and still water make it slower, and where the CO2 must first go into
//! solution that rules: these are the shortest times.

use super::fault::PhaseError;
use super::haze::molar_mass;
use super::solids::{Solid, find};
use super::{dissolution, saturation};
use crate::equilibrium::constants::{GAS, LN_10, REFERENCE};
use crate::equilibrium::{Given, Model};
use crate::table::Table;
use libm::{cbrt, exp, pow};
use std::sync::LazyLock;

/// Steps of the integral over the radius; even.
const STEPS: usize = 16;

/// Rates of the table.
struct Rates {
    gypsum: f64,
    gypsum_activation: f64,
    calcite: [(f64, f64); 4],
    gypsum_density: f64,
    calcite_density: f64,
}

static RATES: LazyLock<Rates> = LazyLock::new(|| {
    let table = Table::read(include_str!("../../data/dissolving.tsv"));
    let numbers = |quantity: &str| -> Vec<f64> {
        let row = table.rows().find(|row| row.text("quantity") == quantity);
        row.map_or(Vec::new(), |row| row.text("value").split(' ').filter_map(|n| n.parse().ok()).collect())
    };
    let one = |quantity| *numbers(quantity).first().expect("dissolving.tsv has every rate");
    let line = |quantity| match numbers(quantity)[..] {
        [a, b] => (a, b),
        _ => (f64::NAN, f64::NAN),
    };
    Rates {
        gypsum: one("gypsum_rate"),
        gypsum_activation: one("gypsum_activation"),
        calcite: ["calcite_log_k1", "calcite_log_k2", "calcite_log_k3_cold", "calcite_log_k3_warm"].map(line),
        gypsum_density: one("gypsum_density"),
        calcite_density: one("calcite_density"),
    }
});

/// A powder in a water.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Powder {
    /// Its amount, mol per kg of water.
    pub mol_per_kg: f64,
    /// Diameter of its grains, µm.
    pub grain_um: f64,
}

/// Seconds until a share (0 to 1) of gypsum powder is in solution in a stirred water; none where the water is saturated
/// before. Surface rate of Colombani and Bert 2007, falling with nearness to saturation.
///
/// # Errors
/// An amount, grain or share that is no number above zero; as [`Model::speciate`].
pub fn gypsum_seconds(
    model: &Model,
    given: &Given,
    powder: Powder,
    share: f64,
) -> Result<Option<f64>, PhaseError> {
    check(powder, share)?;
    let solid = the("gypsum");
    let Some(saturated) = dissolution::saturate(model, given, solid)? else { return Ok(None) };
    let rates = &*RATES;
    let warm = exp(-rates.gypsum_activation * 1e3 / GAS * (1.0 / model.kelvin() - 1.0 / REFERENCE));
    let surface = rates.gypsum * warm;
    let rate = |gone: f64| Ok(surface * (1.0 - gone * powder.mol_per_kg / saturated.dissolved.max(1e-300)));
    seconds(solid, rates.gypsum_density, powder, share, rate)
}

/// Seconds until a share (0 to 1) of calcite powder is in solution in a water whose CO2 is held or closed in, as it is
/// given; none where the water is saturated before. Rates of Plummer, Wigley and Parkhurst 1978, at each stage with
/// the pH that the water then has.
///
/// # Errors
/// An amount, grain or share that is no number above zero; as [`Model::speciate`].
pub fn calcite_seconds(
    model: &Model,
    given: &Given,
    powder: Powder,
    share: f64,
) -> Result<Option<f64>, PhaseError> {
    check(powder, share)?;
    let solid = the("calcite");
    let rates = &*RATES;
    let k = rates.calcite.map(|(a, b)| exp(LN_10 * (a + b / model.kelvin())));
    let neutral = if model.kelvin() > REFERENCE { k[3] } else { k[2] };
    let rate = |gone: f64| {
        let state = model.speciate(&dissolution::with_dissolved(given, solid, gone * powder.mol_per_kg))?;
        let away = 1.0 - saturation::of(&state, solid).map_or(0.0, |s| pow(10.0, s.index * 2.0 / 3.0));
        let forward =
            k[0] * state.activity("H") + k[1] * state.activity("CO2") + neutral * state.water_activity();
        // mmol/(cm2 s) to mol/(m2 s)
        Ok(10.0 * forward * away)
    };
    seconds(solid, rates.calcite_density, powder, share, rate)
}

fn the(id: &str) -> &'static Solid {
    find(id).expect("a solid of the compiled-in table")
}

fn check(powder: Powder, share: f64) -> Result<(), PhaseError> {
    let wrong = |value: f64| !(value.is_finite() && value > 0.0);
    let parts = [("powder", powder.mol_per_kg), ("grain size", powder.grain_um), ("share", share)];
    if let Some((what, value)) = parts.into_iter().find(|(_, value)| wrong(*value)) {
        return Err(PhaseError::Amount { what, value });
    }
    if share > 1.0 { Err(PhaseError::Amount { what: "share", value: share }) } else { Ok(()) }
}

/// ∫ dr / (rate · molar volume) from the whole grain to the core that is left, by Simpson's rule.
fn seconds(
    solid: &'static Solid,
    density: f64,
    powder: Powder,
    share: f64,
    rate: impl Fn(f64) -> Result<f64, PhaseError>,
) -> Result<Option<f64>, PhaseError> {
    let molar_volume = molar_mass(solid) / density * 1e-3; // m3/mol
    let radius = 0.5e-6 * powder.grain_um;
    let core = cbrt(1.0 - share);
    let width = (1.0 - core) / STEPS as f64;
    let mut sum = 0.0;
    for at in 0..=STEPS {
        let left = 1.0 - width * at as f64;
        let here = rate(1.0 - left * left * left)?;
        if here <= 0.0 {
            return Ok(None);
        }
        let weight = match at {
            0 | STEPS => 1.0,
            odd if odd % 2 == 1 => 4.0,
            _ => 2.0,
        };
        sum += weight / here;
    }
    Ok(Some(sum * width / 3.0 * radius / molar_volume))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::equilibrium::Known;

    fn at(celsius: f64) -> Model {
        Model::at_celsius(celsius).unwrap()
    }

    /// Worked apart from the surface alone (52 m²/kg for 50 µm): 1 g/L starts at 2.1e-6 mol/L/s and 90 % is gone in 1.5 to
    /// 2 h when stirred; 250 µm take five times that (identity of the shape, 1e-9).
    #[test]
    fn gypsum_takes_hours() {
        let pure = Given::new(Known::Alkalinity(0.0), Known::Dic(0.0));
        let time = |um: f64, celsius: f64| {
            let powder = Powder { mol_per_kg: 1.0 / 172.17, grain_um: um };
            gypsum_seconds(&at(celsius), &pure, powder, 0.9).unwrap().unwrap()
        };
        let hours = time(50.0, 25.0) / 3600.0;
        assert!((1.5..2.0).contains(&hours), "{hours}");
        assert!((time(250.0, 25.0) / time(50.0, 25.0) - 5.0).abs() < 1e-9);
        assert!(time(50.0, 4.0) > 1.3 * time(50.0, 25.0));
        // 5 g/L do not go in
        let much = Powder { mol_per_kg: 0.03, grain_um: 50.0 };
        assert_eq!(gypsum_seconds(&at(25.0), &pure, much, 0.9).unwrap(), None);
    }

    /// Worked apart from the same rates (working notes of this project): 90 % of 100 mg/L, CO2 pressure kept, 20 °C, grains
    /// of 5, 20 and 100 µm: 8, 33, 165 min at 4 atm and 31, 122, 610 min at 1 atm; 20 mg/L in air 9 h at 5 µm. 10 %.
    #[test]
    fn chalk_takes_its_time() {
        let time = |atm: f64, mg: f64, um: f64| {
            let given = Given::new(Known::Alkalinity(0.0), Known::Pco2(1.01325 * atm));
            let powder = Powder { mol_per_kg: mg * 1e-3 / 100.087, grain_um: um };
            calcite_seconds(&at(20.0), &given, powder, 0.9).unwrap().unwrap() / 60.0
        };
        for (atm, um, minutes) in [
            (4.0, 5.0, 8.0),
            (4.0, 20.0, 33.0),
            (4.0, 100.0, 165.0),
            (1.0, 5.0, 31.0),
            (1.0, 20.0, 122.0),
            (1.0, 100.0, 610.0),
        ] {
            let got = time(atm, 100.0, um);
            assert!((got / minutes - 1.0).abs() < 0.1, "{atm} atm, {um} um: {got} for {minutes}");
        }
        let hours = time(4.2e-4, 20.0, 5.0) / 60.0;
        assert!((hours / 9.0 - 1.0).abs() < 0.1, "{hours}");
    }
}
