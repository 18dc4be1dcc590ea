//! What is at hand: waters, salts, balances, and the order that names them all.

use super::fault::FormulationError;
use super::wish::Wish;
use crate::composition::added::Added;
use crate::composition::state::Solution;
use crate::matter::catalogue::{Form, MatterError, Salt};
use crate::numeric::Objective;
use crate::properties::Held;

/// A water that may be poured.
#[derive(Clone, Debug)]
pub struct Source {
    /// What people call it.
    pub name: String,
    /// The water at the temperature at which it is poured.
    pub water: Solution,
    /// Least share in the water poured, percent by mass.
    pub least_percent: Option<f64>,
    /// Greatest share in the water poured, percent by mass.
    pub most_percent: Option<f64>,
    /// Price of 1000 litres.
    pub price_per_1000_l: Option<f64>,
}

impl Source {
    /// Mass in kg of the source that carries one kilogram of water.
    pub(super) fn mass_per_kg_water(&self) -> f64 {
        1.0 + self.water.totals().solute_mass() / 1000.0
    }

    /// Price of what carries one kilogram of water.
    pub(super) fn price_per_kg_water(&self) -> f64 {
        let litres = self.mass_per_kg_water() / self.water.density_kg_per_l();
        self.price_per_1000_l.unwrap_or(0.0) * litres / 1000.0
    }
}

/// A salt on the shelf.
#[derive(Clone, Debug)]
pub struct Choice {
    /// Its row of the catalogue.
    pub salt: &'static Salt,
    /// What one mole of it adds.
    pub added: Added,
    /// g of the stated formula in 100 g weighed.
    pub assay_percent: f64,
    /// Price of one kilogram as sold.
    pub price_per_kg: Option<f64>,
    /// What is left of it, g.
    pub stock_g: Option<f64>,
    /// Least mass that must go in, g.
    pub least_g: Option<f64>,
    /// Greatest mass that may go in, g.
    pub most_g: Option<f64>,
}

impl Choice {
    /// A salt of the catalogue at an assay in percent, without price or limits.
    ///
    /// # Errors
    /// [`MatterError`] for what may not or cannot be weighed into a drink.
    pub fn new(salt: &'static Salt, assay_percent: f64) -> Result<Choice, MatterError> {
        let gives = salt.weighable()?.dissolution()?;
        let molar_mass = salt.molar_mass().unwrap_or(f64::NAN);
        let added = Added::new(molar_mass, &gives.components, gives.carbonate);
        Ok(Choice {
            salt,
            added,
            assay_percent,
            price_per_kg: None,
            stock_g: None,
            least_g: None,
            most_g: None,
        })
    }

    /// Whether it can be weighed into plain water and dissolves there at drink strength.
    ///
    /// # Errors
    /// [`FormulationError::NotWeighed`] for a gas, [`FormulationError::NeedsCo2OrAcid`] for chalk and the like.
    pub fn goes_into_plain_water(&self) -> Result<(), FormulationError> {
        let name = self.salt.name;
        if self.salt.form == Form::Gas {
            return Err(FormulationError::NotWeighed { name });
        }
        match self.salt.needs.filter(|need| need.bars_plain_water()) {
            Some(need) => Err(FormulationError::NeedsCo2OrAcid { name, why: need.why }),
            None => Ok(()),
        }
    }

    /// mol of the stated formula in one gram weighed.
    pub(super) fn moles_per_g(&self) -> f64 {
        self.assay_percent / 100.0 / self.added.molar_mass()
    }

    /// kg of water that one mole brings to the solvent.
    pub(super) fn water_kg_per_mole(&self) -> f64 {
        self.added.water() * crate::composition::pure_water::molar_mass() / 1000.0
    }
}

/// A balance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Balance {
    /// Readability, g.
    pub step_g: f64,
    /// Least mass that is weighed on it, g.
    pub least_g: f64,
    /// Greatest mass it takes, g.
    pub most_g: f64,
}

impl Balance {
    /// Mass of a number of steps, g: the decimal that the balance shows, where its step is a decimal fraction.
    pub fn mass_g(&self, steps: i64) -> f64 {
        let per_gram = (1.0 / self.step_g).round();
        if per_gram >= 1.0 && (per_gram * self.step_g - 1.0).abs() < 1e-12 {
            steps as f64 / per_gram
        } else {
            steps as f64 * self.step_g
        }
    }

    /// Steps that a mass in g comes to, rounded down; a mass within a billionth of a step counts as whole.
    pub(super) fn steps_within(&self, mass_g: f64) -> i64 {
        (mass_g / self.step_g * (1.0 + 1e-12) + 1e-9).floor().clamp(0.0, 1e12) as i64
    }

    /// Steps that a mass in g comes to, rounded up.
    pub(super) fn steps_covering(&self, mass_g: f64) -> i64 {
        (mass_g / self.step_g * (1.0 - 1e-12) - 1e-9).ceil().clamp(0.0, 1e12) as i64
    }
}

/// What is asked for: how much water, from what, toward which wishes.
#[derive(Clone, Debug)]
pub struct Order {
    /// Litres of finished water.
    pub volume_l: f64,
    /// Temperature of the finished water, °C.
    pub temperature_c: f64,
    /// The waters; at least one.
    pub sources: Vec<Source>,
    /// The salts.
    pub shelf: Vec<Choice>,
    /// The wishes; at least one.
    pub wishes: Vec<Wish>,
    /// The balances; at least one.
    pub balances: Vec<Balance>,
    /// Greatest number of weighings.
    pub most_salts: Option<usize>,
    /// What the `near` wishes are judged by.
    pub objective: Objective,
    /// How the carbon dioxide of the finished water is held.
    pub co2: Held,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_balance_shows_decimals() {
        let centigram = Balance { step_g: 0.01, least_g: 0.01, most_g: 200.0 };
        assert_eq!(centigram.mass_g(1407), 14.07);
        assert_eq!(centigram.mass_g(29), 0.29);
        let gram = Balance { step_g: 2.0, least_g: 2.0, most_g: 1000.0 };
        assert_eq!(gram.mass_g(21), 42.0);
    }

    #[test]
    fn steps_of_a_mass_do_not_lose_one_to_binary_fractions() {
        let centigram = Balance { step_g: 0.01, least_g: 0.01, most_g: 200.0 };
        for steps in [1_i64, 29, 57, 1407, 19_999] {
            let mass = steps as f64 * 0.01;
            assert_eq!((centigram.steps_within(mass), centigram.steps_covering(mass)), (steps, steps));
        }
        assert_eq!((centigram.steps_within(0.019), centigram.steps_covering(0.011)), (1, 2));
    }
}
