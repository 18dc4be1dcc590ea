//! How far the model reaches.

use super::fault::EquilibriumError;
use super::scheme::CARBON;
use super::speciation::Speciation;
use super::species::{Class, table};

/// Lowest and highest temperature of a water, °C.
pub const WATERS_C: (f64, f64) = (0.0, 95.0);
/// Highest temperature above an ionic strength of 1 mol/kg, °C.
const STOCKS_C: f64 = 50.0;
/// Ionic strength up to which the whole range of temperature holds, mol/kg.
const WATERS: f64 = 1.0;
/// Highest ionic strength of chlorides and sulfates, of carbonates, and with organic ions, mol/kg.
const MOST: [(f64, &str); 3] =
    [(6.0, "chlorides and sulfates"), (3.0, "carbonates"), (0.5, "waters with organic acids or their salts")];

/// A share of carbonate or of organics below this part of the ionic strength does not decide the limit.
const MINOR: f64 = 0.02;

/// Checks a solved water against the reach of the model: 0 to 95 °C up to an ionic strength of 1, 0 to 50 °C beyond,
/// up to 6 mol/kg for chlorides and sulfates of Na, K, Mg and Ca, 3 for carbonates and 0.5 with organics.
///
/// # Errors
/// What is exceeded, with the limit that holds for this water.
pub fn check(state: &Speciation) -> Result<(), EquilibriumError> {
    let carbonate = state.system.scheme.row(CARBON, &state.molality) - state.co2();
    let all = &table().species;
    let places = state.system.scheme.species.iter().zip(&state.molality);
    let organic: f64 = places.filter(|(at, _)| all[**at].class == Class::Organic).map(|(_, m)| m).sum();
    within(state.celsius(), state.ionic_strength, carbonate, organic)
}

/// [`check`] by temperature, °C, ionic strength, carbonate beside CO2 and organics, mol/kg.
pub(crate) fn within(
    celsius: f64,
    ionic_strength: f64,
    carbonate: f64,
    organic: f64,
) -> Result<(), EquilibriumError> {
    let part = |amount: f64| amount > MINOR * ionic_strength;
    let (most, what) = match (part(organic), part(carbonate)) {
        (true, _) => MOST[2],
        (_, true) => MOST[1],
        _ => MOST[0],
    };
    if ionic_strength > most {
        return Err(EquilibriumError::TooStrong { ionic_strength, most, what });
    }
    let high = if ionic_strength > WATERS { STOCKS_C } else { WATERS_C.1 };
    // a hair of tolerance for the way through kelvin
    if celsius > high + 1e-9 || celsius < WATERS_C.0 - 1e-9 {
        return Err(EquilibriumError::Temperature { celsius, low: WATERS_C.0, high });
    }
    Ok(())
}
