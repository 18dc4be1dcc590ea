//! A solved state. Only the solver makes one.

use super::constants::LN_10;
use super::elementary;
use super::lanes::Lanes;
use super::species::table;
use super::system::{Given, System};
use libm::exp;
use std::sync::Arc;

/// How well a solved state satisfies the laws it was solved for; all relative to the amounts involved.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Residuals {
    /// Conservation of the components.
    pub mass: f64,
    /// Alkalinity, that is charge against the sheet's own gap.
    pub charge: f64,
    /// Mass action: the largest |ln Q - ln K| of any species.
    pub equilibrium: f64,
}

impl Residuals {
    /// The largest of them.
    pub fn worst(&self) -> f64 {
        // what is not a number is worse than any
        let both = if self.charge <= self.mass { self.mass } else { self.charge };
        if self.equilibrium <= both { both } else { self.equilibrium }
    }
}

/// The equilibrium of a water: how much of every species, how active, and what follows at once.
#[derive(Clone, Debug)]
pub struct Speciation {
    pub(crate) system: Arc<System>,
    pub(crate) given: Given,
    pub(crate) molality: Vec<f64>,
    pub(crate) ln_coefficient: Vec<f64>,
    /// ln of the activity of each master.
    pub(crate) ln_master: Vec<f64>,
    /// ln of the activity of water.
    pub ln_water: f64,
    /// Osmotic coefficient.
    pub osmotic: f64,
    /// Ionic strength, mol/kg.
    pub ionic_strength: f64,
    /// pH on the scale of [`crate::equilibrium::scale`].
    pub ph: f64,
    /// Alkalinity in its charge form, eq/kg.
    pub alkalinity: f64,
    /// All dissolved carbonate, mol/kg.
    pub dic: f64,
    /// How well the laws are satisfied.
    pub residuals: Residuals,
    /// Steps of the counted search.
    pub iterations: usize,
}

impl Speciation {
    fn place(&self, id: &str) -> Option<usize> {
        table().index(id).and_then(|at| self.system.scheme.places[at])
    }

    /// What the water was solved from.
    pub fn given(&self) -> &Given {
        &self.given
    }

    /// Molality of a species, mol/kg; zero for a species that cannot form here.
    pub fn molality(&self, id: &str) -> f64 {
        self.place(id).map_or(0.0, |at| self.molality[at])
    }

    /// ln of the activity of a species; none when it cannot form here.
    pub fn ln_activity(&self, id: &str) -> Option<f64> {
        table().index(id).and_then(|at| self.ln_activity_at(at))
    }

    /// ln of the activity of a species by its index in the table; none when it cannot form here.
    pub(crate) fn ln_activity_at(&self, species: usize) -> Option<f64> {
        let place = self.system.scheme.places[species].filter(|place| self.molality[*place] > 0.0)?;
        let Lanes([ln]) =
            self.system.scheme.ln_activity(place, &self.system.values, Lanes([self.ln_water]), |master| {
                Lanes([self.ln_master[master]])
            });
        Some(ln)
    }

    /// Activity of a species on the molal scale; zero for one that cannot form here.
    pub fn activity(&self, id: &str) -> f64 {
        self.ln_activity(id).map_or(0.0, exp)
    }

    /// Activity coefficient of a species on the single-ion convention of the model; none when it cannot form here.
    pub fn activity_coefficient(&self, id: &str) -> Option<f64> {
        self.place(id).map(|at| exp(self.ln_coefficient[at]))
    }

    /// Activity of water.
    pub fn water_activity(&self) -> f64 {
        exp(self.ln_water)
    }

    /// Dissolved CO2, mol/kg (with carbonic acid).
    pub fn co2(&self) -> f64 {
        self.molality[self.system.scheme.co2]
    }

    /// Partial pressure of CO2 that this water stands in equilibrium with, bar; infinite where no gas holds so much.
    pub fn pco2(&self) -> f64 {
        let activity =
            self.co2() * elementary::exp(Lanes([self.ln_coefficient[self.system.scheme.co2]])).0[0];
        super::gas::partial_pressure(self.system.model.kelvin(), activity) / 1e5
    }

    /// Temperature, °C.
    pub fn celsius(&self) -> f64 {
        self.system.model.celsius()
    }

    /// Every species with its charge number and molality, mol/kg, in the order of the table.
    pub fn species(&self) -> impl Iterator<Item = (&'static str, i32, f64)> + '_ {
        let rows = self.system.scheme.species.iter().zip(&self.molality);
        rows.map(|(at, m)| (table().species[*at].id, table().species[*at].charge, *m))
    }

    /// -log10 of the hydrogen activity on the single-ion convention of the model; not the reported pH.
    pub fn raw_ph(&self) -> f64 {
        -self.ln_activity("H").unwrap_or(f64::NAN) / LN_10
    }
}
