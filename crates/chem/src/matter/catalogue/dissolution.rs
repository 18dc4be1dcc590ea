//! What one formula unit of a salt gives to a water when it dissolves.

use crate::matter::component::{Component, Role};
use crate::matter::formula::Formula;

/// The amounts that one mol of a salt adds to the conserved components of a water.
///
/// Carbonate is counted as hydrogencarbonate and weak acids in the form that [`Component::formula`] writes
/// (citrate as its 3− ion), so the mass closes exactly: molar mass = Σ components + carbonate·M(HCO3) +
/// hydrogen·M(H) + water·M(H2O).
#[derive(Clone, Debug, PartialEq)]
pub struct Dissolution {
    /// mol of each component per mol of salt; the carbonate system stands apart in [`Dissolution::carbonate`].
    pub components: Vec<(Component, f64)>,
    /// mol of dissolved inorganic carbon per mol of salt.
    pub carbonate: f64,
    /// mol of H+ given (acids, positive) or taken (bases, negative) per mol of salt, against the components as
    /// written: Na2CO3 takes 1, CO2 gives 1, NaHCO3 neither, H3PO4 gives 3.
    pub hydrogen: f64,
    /// mol of water set free per mol of salt, water of crystallisation included; negative where water is bound, as
    /// by CO2. Counted beside `hydrogen`: CaO + 2 H+ = Ca2+ + H2O sets 1 free.
    pub water: f64,
    /// Charge of all that is given; 0 for every row, and kept so that a test can say so.
    charge: f64,
}

impl Dissolution {
    /// Reads a cell of the table: `Na 1; H 2; PO4 1`. The words H, OH, CO2, HCO3 and CO3 stand besides the ids of
    /// components. `None` when a word is unknown.
    pub(super) fn read(cell: impl Iterator<Item = &'static str>, formula: &Formula) -> Option<Dissolution> {
        let mut given =
            Dissolution { components: Vec::new(), carbonate: 0.0, hydrogen: 0.0, water: 0.0, charge: 0.0 };
        for item in cell {
            let (word, count) = item.rsplit_once(' ')?;
            given.add(word.trim(), count.parse().ok()?)?;
        }
        given.water = given.loose_oxygen(formula);
        Some(given)
    }

    fn add(&mut self, word: &str, count: f64) -> Option<()> {
        let (carbonate, hydrogen, charge) = match word {
            "H" => (0.0, 1.0, 1.0),
            "OH" => (0.0, -1.0, -1.0),
            "CO2" => (1.0, 1.0, 0.0),
            "HCO3" => (1.0, 0.0, -1.0),
            "CO3" => (1.0, -1.0, -2.0),
            id => {
                let component = Component::read(id)?;
                self.components.push((component, count));
                (0.0, 0.0, f64::from(component.charge()))
            }
        };
        self.carbonate += carbonate * count;
        self.hydrogen += hydrogen * count;
        self.charge += charge * count;
        Some(())
    }

    /// Oxygen of the formula that no component holds: it leaves, or comes, as water.
    fn loose_oxygen(&self, formula: &Formula) -> f64 {
        let held: f64 = self.components.iter().map(|(component, count)| oxygens(*component) * count).sum();
        formula.count("O") - held - 3.0 * self.carbonate
    }

    /// Alkalinity in the charge form, eq per mol of salt: strong cations less strong anions. 2 for Na2CO3, 0 for
    /// CO2 and NaCl, −1 for HCl, 1 for NaH2PO4.
    pub fn alkalinity(&self) -> f64 {
        self.components
            .iter()
            .filter(|(component, _)| matches!(component.role(), Role::StrongCation | Role::StrongAnion))
            .map(|(component, count)| f64::from(component.charge()) * count)
            .sum()
    }

    /// mol of one component per mol of salt; 0 where it gives none.
    pub fn of(&self, component: Component) -> f64 {
        self.components.iter().filter(|(own, _)| *own == component).map(|(_, count)| count).sum()
    }

    /// Sum of the charges given, in mol per mol of salt: 0 for every row.
    pub fn charge(&self) -> f64 {
        self.charge
    }
}

/// Oxygen atoms that dissolve with a component. Boron is written as the element and dissolves as B(OH)3.
fn oxygens(component: Component) -> f64 {
    if component == Component::B { 3.0 } else { component.formula().count("O") }
}
