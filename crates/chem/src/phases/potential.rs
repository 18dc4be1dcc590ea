//! The calcite precipitation potential: how much chalk a water lets fall until it is in balance with calcite, or how much
//! it takes up.

use super::fault::PhaseError;
use super::precipitation::{Solids, precipitate};
use crate::equilibrium::carbonation::CarbonDioxide;
use crate::equilibrium::{Given, Known, Model, Speciation};
use crate::matter::formula::Formula;

/// More calcite than any water of the model takes up, mol per kg.
const PLENTY: f64 = 1.0;

/// A water brought to balance with calcite.
#[derive(Clone, Debug)]
pub struct Potential {
    /// CaCO3 that falls, below zero that dissolves, mol per kg of water.
    pub mol_per_kg: f64,
    /// The water in balance.
    pub state: Speciation,
}

impl Potential {
    /// In mmol per litre of a water with so many kg of water in the litre.
    pub fn mmol_per_l(&self, water_kg_per_l: f64) -> f64 {
        1e3 * self.mol_per_kg * water_kg_per_l
    }

    /// In mg of CaCO3 per litre of a water with so many kg of water in the litre.
    pub fn mg_per_l(&self, water_kg_per_l: f64) -> f64 {
        let chalk = Formula::read("CaCO3").map_or(f64::NAN, |formula| formula.molar_mass());
        chalk * self.mmol_per_l(water_kg_per_l)
    }
}

/// The potential of a water as it is given: closed where its carbonate is given, under a gas where that is.
///
/// ```
/// use springwright_chem::equilibrium::{Given, Known, Model};
/// use springwright_chem::matter::component::Component;
/// use springwright_chem::phases::potential;
/// let model = Model::at_celsius(25.0)?;
/// let tap = Given::new(Known::Alkalinity(0.0024), Known::Ph(8.2)).with(Component::CA, 0.001);
/// let falls = potential::calcite(&model, &tap)?.mg_per_l(0.997);
/// assert!(falls > 5.0 && falls < 15.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// As [`precipitate`].
pub fn calcite(model: &Model, given: &Given) -> Result<Potential, PhaseError> {
    let solids = Solids::none().with("calcite", PLENTY)?;
    let settled = precipitate(model, given, &solids)?;
    Ok(Potential { mol_per_kg: settled.formed("calcite"), state: settled.state })
}

/// The potential of a water that comes to balance with air as well, at a height over the sea in m.
///
/// # Errors
/// As [`precipitate`]; a height that is not a number.
pub fn calcite_in_air(model: &Model, given: &Given, altitude_m: f64) -> Result<Potential, PhaseError> {
    let air = CarbonDioxide::OpenToAir { altitude_m }.known(model, 1.0)?;
    let mut open = given.clone();
    let stated = given.carbonate.iter().find(|known| matches!(known, Known::Alkalinity(_)));
    let alkalinity = match stated {
        Some(known) => *known,
        None => Known::Alkalinity(model.speciate(given)?.alkalinity),
    };
    open.carbonate = [alkalinity, air];
    calcite(model, &open)
}
