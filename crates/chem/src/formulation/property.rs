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

/// In which state of the finished water a property is asked for.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Condition {
    /// °C; that of the finished water (25 °C for conductivity) where none is stated.
    pub temperature_c: Option<f64>,
    /// In balance with air there, at sea level; else with the carbonate that the finished water holds.
    pub open: bool,
}

/// A state of the finished water: as it is, or brought elsewhere.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct View {
    /// °C, where it is not that of the water.
    pub elsewhere: Option<f64>,
    /// In balance with air.
    pub open: bool,
}

impl Property {
    /// Whether it is a logarithm: what a salt brings multiplies rather than adds.
    pub(super) fn is_logarithm(self) -> bool {
        matches!(self, Property::Ph | Property::SaturationIndex(_))
    }

    /// The state in which a water at a temperature in °C has it.
    pub(super) fn view(self, condition: Condition, water_c: f64) -> View {
        let usual = (self == Property::Conductivity).then_some(REFERENCE_C);
        let elsewhere = condition.temperature_c.or(usual).filter(|celsius| *celsius != water_c);
        View { elsewhere, open: condition.open }
    }

    /// Its name in a sentence.
    pub(super) fn named(self, condition: Condition) -> String {
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
        let there =
            condition.temperature_c.or(usual).map(|celsius| format!(" at {celsius} °C")).unwrap_or_default();
        format!("{what}{there}{}", if condition.open { " once it stands in air" } else { "" })
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

/// The finished water as it is seen in a state.
#[derive(Clone, Debug)]
pub(super) struct Sight {
    /// Which state.
    pub view: View,
    /// The equilibrium there.
    pub state: Speciation,
    /// kg of water in a litre there.
    pub water_kg_per_l: f64,
}

/// The states that these views need, each once.
///
/// # Errors
/// As [`SolvedWater::closed_at`].
pub(super) fn sights(
    water: &SolvedWater,
    views: impl Iterator<Item = View>,
) -> Result<Vec<Sight>, StateError> {
    let mut sights: Vec<Sight> = Vec::new();
    for view in views {
        if sights.iter().any(|sight| sight.view == view) {
            continue;
        }
        let own = water.solution.water_kg_per_l();
        let there = view.elsewhere.unwrap_or(water.solution.temperature_c());
        let state = match view {
            View { open: true, .. } => water.open_at(there)?,
            View { elsewhere: Some(celsius), .. } => water.closed_at(celsius)?,
            View { elsewhere: None, .. } => water.state.clone(),
        };
        let totals = water.solution.totals().clone().with_dic(state.dic);
        let water_kg_per_l = match view {
            View { elsewhere: None, open: false } => own,
            // Above the reach of the density nothing is counted in litres of that temperature.
            _ => Solution::new(totals, there).map_or(own, |there| there.water_kg_per_l()),
        };
        sights.push(Sight { view, state, water_kg_per_l });
    }
    Ok(sights)
}
