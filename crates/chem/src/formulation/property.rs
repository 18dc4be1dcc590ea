//! What a wish can ask of the solved state: pH, a saturation index, conductivity, free carbon dioxide, osmolality.

use crate::composition::state::Solution;
use crate::equilibrium::{EquilibriumError, Speciation};
use crate::phases::saturation;
use crate::phases::solids::Solid;
use crate::properties::conductivity::conductivity;
use crate::properties::osmolality::osmolality;
use crate::properties::{SolvedWater, StateError};

/// Temperature at which a conductivity is compared unless the wish states another, °C.
const REFERENCE_C: f64 = 25.0;

/// A property of the solved state.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Property {
    /// pH on the scale of the model.
    Ph,
    /// Saturation index of a solid.
    SaturationIndex(&'static Solid),
    /// Conductivity, µS/cm.
    Conductivity,
    /// Dissolved CO2 with carbonic acid, mmol in a litre.
    FreeCo2,
    /// Osmolality, mosmol per kg of water.
    Osmolality,
}

impl Property {
    /// Whether it is a logarithm: what a salt brings multiplies rather than adds.
    pub(super) fn is_logarithm(self) -> bool {
        matches!(self, Property::Ph | Property::SaturationIndex(_))
    }

    /// The temperature at which the closed water has it, °C, where that is not the temperature of the water.
    pub(super) fn elsewhere(self, stated: Option<f64>, water_c: f64) -> Option<f64> {
        let usual = (self == Property::Conductivity).then_some(REFERENCE_C);
        stated.or(usual).filter(|celsius| *celsius != water_c)
    }

    /// Its name in a sentence.
    pub(super) fn named(self, temperature_c: Option<f64>) -> String {
        let what = match self {
            Property::Ph => "pH".to_owned(),
            Property::SaturationIndex(solid) => {
                format!("the saturation index of {}", solid.id.replace('_', " "))
            }
            Property::Conductivity => "conductivity".to_owned(),
            Property::FreeCo2 => "free CO2".to_owned(),
            Property::Osmolality => "osmolality".to_owned(),
        };
        let usual = (self == Property::Conductivity).then_some(REFERENCE_C);
        temperature_c.or(usual).map_or(what.clone(), |celsius| format!("{what} at {celsius} °C"))
    }

    /// Its value in a solved state of which a litre holds `water_kg_per_l` kg of water, in the unit above; none for the
    /// index of a solid of which a part is absent.
    ///
    /// # Errors
    /// A water too strong or too warm for its equation.
    pub(super) fn of(self, state: &Speciation, water_kg_per_l: f64) -> Result<Option<f64>, EquilibriumError> {
        Ok(match self {
            Property::Ph => Some(state.ph),
            Property::SaturationIndex(solid) => saturation::of(state, solid).map(|one| one.index),
            Property::Conductivity => Some(conductivity(state, water_kg_per_l)?),
            Property::FreeCo2 => Some(1000.0 * state.co2() * water_kg_per_l),
            Property::Osmolality => Some(1000.0 * osmolality(state)),
        })
    }
}

/// A state of the finished water: at its own temperature, or closed at another one.
#[derive(Clone, Debug)]
pub(super) struct Sight {
    /// °C, where it is not that of the water.
    pub elsewhere: Option<f64>,
    /// The equilibrium there.
    pub state: Speciation,
    /// kg of water in a litre there.
    pub water_kg_per_l: f64,
}

/// The states that properties at these temperatures need, each once.
///
/// # Errors
/// As [`SolvedWater::closed_at`].
pub(super) fn sights(
    water: &SolvedWater,
    temperatures: impl Iterator<Item = Option<f64>>,
) -> Result<Vec<Sight>, StateError> {
    let mut sights: Vec<Sight> = Vec::new();
    for elsewhere in temperatures {
        if sights.iter().any(|sight| sight.elsewhere == elsewhere) {
            continue;
        }
        let own = water.solution.water_kg_per_l();
        let (state, water_kg_per_l) = match elsewhere {
            None => (water.state.clone(), own),
            Some(celsius) => {
                let there = Solution::new(water.solution.totals().clone(), celsius);
                // Above the reach of the density nothing is counted in litres of that temperature.
                (water.closed_at(celsius)?, there.map_or(own, |there| there.water_kg_per_l()))
            }
        };
        sights.push(Sight { elsewhere, state, water_kg_per_l });
    }
    Ok(sights)
}
