//! A salt, acid or base as totals see it: what one mole of it adds to a water.

use super::dissolved;
use super::fault::CompositionError;
use super::pure_water;
use super::totals::{Totals, strong_charge};
use crate::matter::catalogue::{MatterError, Salt};
use crate::matter::component::Component;

/// What one mole of a salt, acid, base or gas adds to a water.
///
/// ```
/// use springwright_chem::composition::added::Added;
/// use springwright_chem::matter::component::Component;
/// use springwright_chem::matter::formula::Formula;
/// let epsom = Formula::read("MgSO4·7H2O")?;
/// let added = Added::new(epsom.molar_mass(), &[(Component::MG, 1.0), (Component::SO4, 1.0)], 0.0);
/// assert!((added.water() - 7.0).abs() < 1e-3);
/// # Ok::<(), springwright_chem::matter::formula::FormulaError>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Added {
    molar_mass: f64,
    per_mole: Totals,
    water: f64,
}

impl Added {
    /// From the molar mass in g/mol (water of crystallisation included), the components that one mole gives and
    /// the mol of inorganic carbon in it. `HCO3` and `CO3` among the components are passed over: `carbonate` tells
    /// the carbon, and alkalinity follows from the strong ions.
    pub fn new(molar_mass: f64, gives: &[(Component, f64)], carbonate: f64) -> Added {
        let mut per_mole = Totals::pure();
        for (component, amount) in gives.iter().filter(|(component, _)| !dissolved::is_carbonate(*component))
        {
            per_mole.amounts[component.index()] += amount;
        }
        per_mole.alkalinity = strong_charge(|component| per_mole.amounts[component.index()]);
        per_mole.carbon = carbonate;
        let water = (molar_mass - per_mole.solute_mass()) / pure_water::molar_mass();
        Added { molar_mass, per_mole, water }
    }

    /// What one mole of a catalogue salt adds.
    ///
    /// # Errors
    /// [`MatterError::CompositionVaries`] for a salt without one formula.
    ///
    /// ```
    /// use springwright_chem::{composition::added::Added, matter::catalogue};
    /// let soda = Added::of_salt(catalogue::find("sodium_bicarbonate")?)?;
    /// assert_eq!(soda.per_mole().dic(), Some(1.0));
    /// # Ok::<(), catalogue::MatterError>(())
    /// ```
    pub fn of_salt(salt: &Salt) -> Result<Added, MatterError> {
        let varies = MatterError::CompositionVaries { id: salt.id, name: salt.name };
        let dissolution = salt.dissolution()?;
        let molar_mass = salt.molar_mass().ok_or(varies)?;
        let mut added = Added::new(molar_mass, &dissolution.components, dissolution.carbonate);
        if dissolution.components.is_empty() && dissolution.carbonate == 0.0 {
            // A gas such as nitrogen leaves nothing behind that totals count, water neither.
            added.water = 0.0;
        }
        Ok(added)
    }

    /// Molar mass, g/mol.
    pub fn molar_mass(&self) -> f64 {
        self.molar_mass
    }

    /// What one mole holds, written as if it were the totals of one kilogram of water.
    pub fn per_mole(&self) -> &Totals {
        &self.per_mole
    }

    /// Water that joins the solvent, mol per mol: water of crystallisation, more or less what dissolving sets free or
    /// takes up (see the page of [`totals`](super::totals)). A whole number but for broken hydrates, when the
    /// components account for the whole formula.
    pub fn water(&self) -> f64 {
        self.water
    }
}

impl Totals {
    /// The water that results when moles of salts are dissolved in one kilogram of this water; the water of the
    /// salts joins the solvent.
    ///
    /// # Errors
    /// [`CompositionError::OutOfRange`] for an amount below 0 or not finite; [`CompositionError::NoWater`] when
    /// the salts take up all the water.
    pub fn with_added(&self, added: &[(f64, &Added)]) -> Result<Totals, CompositionError> {
        let mut sum = self.clone();
        let mut water_kg = 1.0;
        for (moles, salt) in added {
            if !moles.is_finite() || *moles < 0.0 {
                return Err(CompositionError::OutOfRange {
                    about: "added salt, mol per kg",
                    value: *moles,
                    lo: 0.0,
                    hi: f64::MAX,
                });
            }
            sum.accumulate(*moles, salt.per_mole());
            water_kg += moles * salt.water * pure_water::molar_mass() / 1000.0;
        }
        if water_kg <= 0.0 || !water_kg.is_finite() {
            return Err(CompositionError::NoWater { what: "the salts take up all of it" });
        }
        Ok(sum.scaled(1.0 / water_kg))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::matter::formula::Formula;

    fn of(formula: &str, gives: &[(&str, f64)], carbonate: f64) -> Added {
        let gives: Vec<(Component, f64)> =
            gives.iter().map(|(id, n)| (Component::read(id).unwrap(), *n)).collect();
        Added::new(Formula::read(formula).unwrap().molar_mass(), &gives, carbonate)
    }

    /// Identity of atoms: the reaction with water written out beside each, so the water is a whole number.
    #[test]
    fn water_of_each_reaction() {
        for (formula, gives, carbonate, water) in [
            ("NaCl", &[("Na", 1.0), ("Cl", 1.0)][..], 0.0, 0.0),
            ("CaCl2·2H2O", &[("Ca", 1.0), ("Cl", 2.0)], 0.0, 2.0),
            ("CaSO4·0.5H2O", &[("Ca", 1.0), ("SO4", 1.0)], 0.0, 0.5),
            // NaHCO3 = Na + CO2 + OH
            ("NaHCO3", &[("Na", 1.0)], 1.0, 0.0),
            // Na2CO3·10H2O = 2 Na + CO2 + 2 OH + 9 H2O
            ("Na2CO3·10H2O", &[("Na", 2.0)], 1.0, 9.0),
            // CaO + H2O = Ca + 2 OH
            ("CaO", &[("Ca", 1.0)], 0.0, -1.0),
            ("NaOH", &[("Na", 1.0)], 0.0, 0.0),
            ("CO2", &[], 1.0, 0.0),
            // HCl = Cl − OH + H2O
            ("HCl", &[("Cl", 1.0)], 0.0, 1.0),
            // C6H8O7·H2O = citrate − 3 OH + 4 H2O
            ("C6H8O7·H2O", &[("citrate", 1.0)], 0.0, 4.0),
            // KH2PO4 = K + HPO4 − OH + H2O
            ("KH2PO4", &[("K", 1.0), ("PO4", 1.0)], 0.0, 1.0),
            // Na2SiO3·5H2O = 2 Na + H4SiO4 + 2 OH + 2 H2O
            ("Na2SiO3·5H2O", &[("Na", 2.0), ("SiO2", 1.0)], 0.0, 2.0),
            // Na2B4O7·10H2O = 2 Na + 4 B(OH)3 + 2 OH + 3 H2O
            ("Na2B4O7·10H2O", &[("Na", 2.0), ("B", 4.0)], 0.0, 3.0),
            // NH4HCO3 = NH4 + CO2 + OH
            ("NH4HCO3", &[("NH4", 1.0)], 1.0, 0.0),
        ] {
            let added = of(formula, gives, carbonate);
            assert!((added.water() - water).abs() < 1e-9, "{formula}: {}", added.water());
        }
    }

    /// Identity of atoms over the whole catalogue: what the components do not account for is whole molecules of water
    /// beside the water of crystallisation, and the alkalinity is the hydrogen and carbonate given, with their sign.
    #[test]
    fn the_catalogue_accounts_for_every_gram() {
        for salt in crate::matter::catalogue::salts() {
            let Ok(added) = Added::of_salt(salt) else { continue };
            let reaction = added.water() - salt.water();
            assert!((reaction - reaction.round()).abs() < 1e-6, "{}: {}", salt.id, added.water());
            let dissolution = salt.dissolution().unwrap();
            assert_eq!(added.per_mole().alkalinity(), dissolution.alkalinity(), "{}", salt.id);
        }
    }

    /// Conservation of mass: water and solutes together weigh what was put in, for any salt.
    #[test]
    fn mass_is_conserved() {
        let soda = of("Na2CO3·10H2O", &[("Na", 2.0)], 1.0);
        let acid = of("C6H8O7", &[("citrate", 1.0)], 0.0);
        let water = Totals::pure().with_added(&[(0.02, &soda), (0.03, &acid)]).unwrap();
        let put_in = 1000.0 + 0.02 * soda.molar_mass() + 0.03 * acid.molar_mass();
        let water_kg = 0.04 / water.amount(Component::NA);
        assert!((water_kg * (1000.0 + water.solute_mass()) / put_in - 1.0).abs() < 1e-14);
    }

    #[test]
    fn impossible_amounts_are_refused() {
        let salt = of("NaCl", &[("Na", 1.0), ("Cl", 1.0)], 0.0);
        for amount in [-1.0, f64::NAN, f64::INFINITY] {
            assert!(Totals::pure().with_added(&[(amount, &salt)]).is_err());
        }
        let lime = of("CaO", &[("Ca", 1.0)], 0.0);
        assert!(Totals::pure().with_added(&[(60.0, &lime)]).is_err());
    }
}
