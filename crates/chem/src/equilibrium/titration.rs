//! Titration: how much strong acid or base brings a water to a pH, in a closed vessel or under a gas that is held.

use super::fault::EquilibriumError;
use super::model::Model;
use super::speciation::Speciation;
use super::system::{Given, Known};
use crate::matter::component::Component;

/// Most rounds until the counter-ion of the acid or base has settled.
const MOST_ROUNDS: usize = 60;

/// What happens to CO2 on the way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Vessel {
    /// No CO2 is lost or gained.
    Closed,
    /// CO2 stays in equilibrium with a partial pressure, bar.
    Open {
        /// Partial pressure of CO2, bar.
        pco2_bar: f64,
    },
}

/// A water brought to a pH.
#[derive(Clone, Debug)]
pub struct Titrated {
    /// Strong acid added, eq per kg of water; below zero it was base.
    pub acid: f64,
    /// The water at the end.
    pub state: Speciation,
}

/// Brings a water to a pH with hydrochloric acid or sodium hydroxide. The acid needed is the fall of the alkalinity in
/// its charge form, whatever weak acids and complexes the water holds.
///
/// ```
/// use springwright_chem::equilibrium::titration::{Vessel, titrate};
/// use springwright_chem::equilibrium::{Given, Known, Model};
/// use springwright_chem::matter::component::Component;
/// use springwright_chem::quantity::bounds::Celsius;
/// let model = Model::at(Celsius::new(20.0)?)?;
/// let tap = Given::new(Known::Alkalinity(0.004), Known::Dic(0.0042)).with(Component::CA, 0.002);
/// let end = titrate(&model, &tap, 5.2, Vessel::Closed)?;
/// // nearly all of the alkalinity is gone at pH 5.2
/// assert!((end.acid - 0.0037).abs() < 0.0003);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// As [`Model::speciate`].
pub fn titrate(model: &Model, given: &Given, ph: f64, vessel: Vessel) -> Result<Titrated, EquilibriumError> {
    let start = model.speciate(given)?;
    let carbonate = match vessel {
        Vessel::Closed => Known::Dic(start.dic),
        Vessel::Open { pco2_bar } => Known::Pco2(pco2_bar),
    };
    let mut acid = 0.0;
    let mut state = start.clone();
    for _ in 0..MOST_ROUNDS {
        let mut at = given.clone();
        at.carbonate = [Known::Ph(ph), carbonate];
        at.totals[Component::CL.index()] += f64::max(acid, 0.0);
        at.totals[Component::NA.index()] += f64::max(-acid, 0.0);
        state = model.speciate(&at)?;
        let next = start.alkalinity - state.alkalinity;
        let settled = (next - acid).abs() <= 1e-14 + 1e-13 * next.abs();
        acid = next;
        if settled {
            break;
        }
    }
    Ok(Titrated { acid, state })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::bounds::Celsius;

    fn model() -> Model {
        Model::at(Celsius::new(25.0).unwrap()).unwrap()
    }

    fn tap() -> Given {
        Given::new(Known::Alkalinity(0.003), Known::Dic(0.0032))
            .with(Component::CA, 0.0015)
            .with(Component::NA, 0.0005)
            .with(Component::CL, 0.0005)
            .with(Component::PO4, 2e-5)
            .with(Component::SIO2, 2e-4)
            .with(Component::read("citrate").unwrap(), 1e-4)
    }

    /// Identity: acid there and base back is the same water (1e-12); a water titrated to its own pH takes nothing.
    #[test]
    fn there_and_back() {
        let model = model();
        let start = model.speciate(&tap()).unwrap();
        let down = titrate(&model, &tap(), 4.5, Vessel::Closed).unwrap();
        let mut acid = tap().with(Component::CL, 0.0005 + down.acid);
        acid.carbonate = [Known::Alkalinity(0.003 - down.acid), Known::Dic(0.0032)];
        assert!((model.speciate(&acid).unwrap().ph - 4.5).abs() < 1e-10);
        assert!(titrate(&model, &tap(), start.ph, Vessel::Closed).unwrap().acid.abs() < 1e-12);
        let up = titrate(&model, &tap(), 9.5, Vessel::Closed).unwrap();
        assert!(up.acid < 0.0);
    }

    /// Identity between titrated and charge-form alkalinity: the acid to the end point is A less the charge that weak acids
    /// and what is left of the carbonate system keep there.
    #[test]
    fn titrated_alkalinity_is_the_charge_form_less_what_is_left() {
        let end = titrate(&model(), &tap(), 4.5, Vessel::Open { pco2_bar: 4e-4 }).unwrap();
        let state = &end.state;
        let charge = |wanted: fn(&str) -> bool| -> f64 {
            state.species().filter(|(id, _, _)| wanted(id)).map(|(_, z, m)| f64::from(z) * m).sum()
        };
        let carbonate_and_water = charge(|id| matches!(id, "H" | "OH" | "HCO3" | "CO3"));
        let complexes = charge(|id| id.contains("citrate") || id.contains("PO4") || id.contains("SiO4"));
        let bound = 2.0
            * state
                .species()
                .filter(|(id, _, _)| id.starts_with("Ca") && *id != "Ca")
                .map(|(_, _, m)| m)
                .sum::<f64>();
        let left = -(carbonate_and_water + complexes - bound);
        assert!((0.003 - end.acid - left).abs() < 1e-12, "{} {}", 0.003 - end.acid, left);
    }

    /// Open vessels keep no CO2: the same pH asks for more acid above pH 6 than a closed one that holds less CO2 back.
    #[test]
    fn open_and_closed_differ_as_they_must() {
        let closed = titrate(&model(), &tap(), 7.0, Vessel::Closed).unwrap().acid;
        let open = titrate(&model(), &tap(), 7.0, Vessel::Open { pco2_bar: 4.2e-4 }).unwrap().acid;
        assert!(open > closed);
    }
}
