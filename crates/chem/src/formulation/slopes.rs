//! The slopes of a property of the solved state with the totals of what waters and salts make together.
//!
//! Inputs are the amounts of the components, the alkalinity in its charge form and the carbonate that went in. A state in
//! which the carbon dioxide is held from outside does not see the last one; a closed one sees the carbonate that it holds,
//! which a keg or a headspace settled before.

use super::means::Order;
use super::property::{Property, Sight};
use crate::composition::dissolved::is_carbonate;
use crate::composition::linear::LinearSum;
use crate::composition::state::Solution;
use crate::equilibrium::constants::{GAS, WATER_MOLAR_MASS, ZERO_CELSIUS};
use crate::equilibrium::gas::compression_factor;
use crate::equilibrium::{EquilibriumError, Input, Sensitivities, Speciation};
use crate::matter::component::Component;
use crate::properties::conductivity::slopes_along;
use crate::properties::{Held, SolvedWater, StateError};

/// What the slopes of one water have in common.
pub(super) struct Slopes {
    inputs: Vec<Input>,
    /// Whether the gas over the water is held as it is, so that the carbonate that went in does not matter.
    held: bool,
    /// How the carbonate that the closed water holds moves with the totals.
    carbonate: LinearSum,
}

impl Slopes {
    /// Of what waters and salts make together, and of the same water as its carbon dioxide is held.
    ///
    /// # Errors
    /// A water that cannot be solved.
    pub fn of(order: &Order, mixed: &Solution, water: &SolvedWater) -> Result<Slopes, StateError> {
        let present = |component: &Component| {
            !is_carbonate(*component) && water.state.given().totals[component.index()] > 0.0
        };
        let mut inputs: Vec<Input> =
            Component::ALL.into_iter().filter(present).map(Input::Component).collect();
        inputs.extend([Input::FirstCarbonate, Input::SecondCarbonate]);
        let mut slopes =
            Slopes { inputs, held: matches!(order.co2, Held::Here(_)), carbonate: by_carbon(1.0) };
        slopes.carbonate = match order.co2 {
            Held::Closed => return Ok(slopes),
            Held::Here(_) => slopes.under_gas(&water.state)?,
            Held::Elsewhere(gas, celsius) => {
                let there = Solution::new(mixed.totals().clone(), celsius)?;
                slopes.under_gas(&SolvedWater::of(&there, Held::Here(gas))?.state)?
            }
            Held::Bottle(percent) => slopes.in_bottle(&water.state, percent, mixed.water_kg_per_l())?,
        };
        Ok(slopes)
    }

    /// The sensitivities of each state.
    ///
    /// # Errors
    /// A state without derivatives.
    pub fn of_sights<'a>(&self, sights: &'a [Sight]) -> Result<Vec<Sensitivities<'a>>, StateError> {
        sights.iter().map(|sight| self.sensitivities(&sight.state)).collect()
    }

    fn sensitivities<'a>(&self, state: &'a Speciation) -> Result<Sensitivities<'a>, StateError> {
        let (iterations, residual) = (state.iterations, state.residuals.equilibrium);
        let missing = EquilibriumError::NotConverged { iterations, residual };
        state.sensitivities(&self.inputs).ok_or(StateError::Equilibrium(missing))
    }

    /// The slopes of a property in one of the states, in the unit of [`Property`].
    ///
    /// # Errors
    /// A state without derivatives.
    pub fn at(
        &self,
        sight: &Sight,
        moved: &Sensitivities<'_>,
        property: Property,
    ) -> Result<LinearSum, StateError> {
        let own = match property {
            Property::Ph => self.gathered(|input| moved.ph(input)),
            Property::SaturationIndex(solid) => self.gathered(|input| moved.saturation_index(solid, input)),
            Property::Conductivity => self.conductivity(sight, moved),
            Property::FreeCo2 => {
                let litre = 1000.0 * sight.water_kg_per_l;
                self.gathered(|input| moved.molality("CO2", input)).times(litre)
            }
            Property::Osmolality => {
                self.gathered(|input| moved.ln_water(input)).times(-1000.0 / WATER_MOLAR_MASS)
            }
        };
        let held = sight.view.open || self.held && sight.view.elsewhere.is_none();
        let by_carbonate = if held { 0.0 } else { own.carbon() };
        Ok(without_carbon(own).plus(&self.carbonate.clone().times(by_carbonate)))
    }

    fn conductivity(&self, sight: &Sight, moved: &Sensitivities<'_>) -> LinearSum {
        let by = |input: &Input| {
            let of = |(id, _, _): (&'static str, i32, f64)| moved.molality(id, *input).unwrap_or(0.0);
            sight.state.species().map(of).collect()
        };
        let slopes = slopes_along(&sight.state, sight.water_kg_per_l, self.inputs.iter().map(by));
        let place = |input: Input| self.inputs.iter().position(|own| *own == input);
        self.gathered(|input| place(input).map(|place| slopes[place]))
    }

    /// Slopes by every input as a sum over totals. A property that cannot be told from an input does not move with it.
    fn gathered(&self, slope: impl Fn(Input) -> Option<f64>) -> LinearSum {
        let (mut components, mut alkalinity, mut carbon) = ([0.0; Component::COUNT], 0.0, 0.0);
        for input in &self.inputs {
            let by = slope(*input).unwrap_or(0.0);
            match input {
                Input::Component(component) => components[component.index()] = by,
                Input::FirstCarbonate => alkalinity = by,
                _ => carbon = by,
            }
        }
        LinearSum::weighted(components, alkalinity, carbon)
    }

    /// How the carbonate moves under a gas that is held: what went in does not matter.
    fn under_gas(&self, state: &Speciation) -> Result<LinearSum, StateError> {
        let moved = self.sensitivities(state)?;
        Ok(without_carbon(self.gathered(|input| moved.dic(input))))
    }

    /// How the carbonate of a bottled water moves: what is in water and headspace together is what went in.
    fn in_bottle(
        &self,
        state: &Speciation,
        percent: f64,
        water_kg_per_l: f64,
    ) -> Result<LinearSum, StateError> {
        let moved = self.sensitivities(state)?;
        let pressure = self.gathered(|input| moved.pco2(input));
        let room = percent / (100.0 - percent) / water_kg_per_l * 1e-3;
        let (kelvin, pascal) = (state.celsius() + ZERO_CELSIUS, state.pco2() * 1e5);
        // Z falls nearly straight with pressure, so that a difference tells its slope.
        let (z, step) = (compression_factor(kelvin, pascal), 1e-4 * pascal);
        let z_slope = (compression_factor(kelvin, pascal + step) - compression_factor(kelvin, pascal - step))
            / (2.0 * step.max(f64::MIN_POSITIVE));
        let per_bar = 1e5 * room / (GAS * kelvin * z) * (1.0 - pascal * z_slope / z);
        // D + h(p(D, …)) = what went in
        let kept = 1.0 / (1.0 + per_bar * pressure.carbon());
        Ok(without_carbon(pressure).times(-per_bar * kept).plus(&by_carbon(kept)))
    }
}

/// A sum that counts carbonate alone.
fn by_carbon(weight: f64) -> LinearSum {
    LinearSum::weighted([0.0; Component::COUNT], 0.0, weight)
}

/// A sum without its carbonate.
fn without_carbon(sum: LinearSum) -> LinearSum {
    let carbon = by_carbon(-sum.carbon());
    sum.plus(&carbon)
}
