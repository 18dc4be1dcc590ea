//! The form in which each component stands while no solver was asked: the ion that prevails at pH 8.3, where all
//! carbonate is HCO3⁻. Its charge, mass and volume serve sums, charge balance and density; pH is not needed.

use std::sync::LazyLock;

use crate::matter::component::Component;
use crate::matter::formula::Formula;
use crate::table::{Row, Table};

/// Partial molar volume of a dissolved form in cm³/mol (H⁺ is 0 by convention).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Volume {
    v0: f64,
    v1: f64,
    v2: f64,
    k: f64,
}

impl Volume {
    /// Volume in cm³/mol at a temperature in °C and no ionic strength.
    pub fn at(&self, t: f64) -> f64 {
        let from_25 = t - 25.0;
        self.v0 + self.v1 * from_25 + self.v2 * from_25 * from_25
    }

    /// What an ionic strength of 1 mol/kg of water adds to it, the limiting slope apart, in cm³/mol.
    pub fn per_strength(&self) -> f64 {
        self.k
    }
}

/// What stands in the water for one mol of a component.
#[derive(Clone, Debug)]
pub struct Form {
    /// Component id, or `carbon_dioxide`, `hydroxide`, `hydrogen`, `acid_hydrogen`.
    pub id: &'static str,
    /// Formula of the form, with its charge.
    pub formula: Formula,
    /// Charge number.
    pub charge: f64,
    /// Molar mass, g/mol.
    pub molar_mass: f64,
    /// Partial molar volume.
    pub volume: Volume,
    /// Standard uncertainty of the volume at 25 °C, cm³/mol.
    pub uncertainty: f64,
    /// Key of the source in `data/sources.tsv`.
    pub source: &'static str,
}

static FORMS: LazyLock<Vec<Form>> =
    LazyLock::new(|| Table::read(include_str!("../../data/volumes.tsv")).rows().map(form_of_row).collect());

fn form_of_row(row: Row<'_>) -> Form {
    let formula = Formula::read(row.text("form")).expect("compiled-in forms are written canonically");
    let number = |column| row.number(column).unwrap_or(f64::NAN);
    Form {
        id: row.text("component"),
        charge: f64::from(formula.charge()),
        molar_mass: formula.molar_mass(),
        formula,
        volume: Volume { v0: number("v0"), v1: number("v1"), v2: number("v2"), k: number("k") },
        uncertainty: number("uncertainty"),
        source: row.text("source"),
    }
}

fn named(id: &str) -> &'static Form {
    FORMS.iter().find(|form| form.id == id).expect("volumes.tsv has a row for every component and form")
}

static OF_COMPONENT: LazyLock<[&'static Form; Component::COUNT]> =
    LazyLock::new(|| Component::ALL.map(|component| named(component.id())));

/// Every form of the table.
pub fn all() -> &'static [Form] {
    &FORMS
}

/// The form of a component: `HPO4^2-` for phosphate, `H4SiO4` for silica.
///
/// ```
/// use springwright_chem::composition::dissolved;
/// use springwright_chem::matter::component::Component;
/// assert_eq!(dissolved::form(Component::PO4).formula.canonical(), "HPO4^2-");
/// ```
pub fn form(component: Component) -> &'static Form {
    OF_COMPONENT[component.index()]
}

static CARBON_DIOXIDE: LazyLock<&'static Form> = LazyLock::new(|| named("carbon_dioxide"));
static HYDROXIDE: LazyLock<&'static Form> = LazyLock::new(|| named("hydroxide"));
static HYDROGEN: LazyLock<&'static Form> = LazyLock::new(|| named("hydrogen"));
static ACID_HYDROGEN: LazyLock<&'static Form> = LazyLock::new(|| named("acid_hydrogen"));

/// Free carbon dioxide.
pub fn carbon_dioxide() -> &'static Form {
    &CARBON_DIOXIDE
}

/// Hydroxide.
pub fn hydroxide() -> &'static Form {
    &HYDROXIDE
}

/// Free hydrogen ion.
pub fn hydrogen() -> &'static Form {
    &HYDROGEN
}

/// The hydrogen that an undissociated weak acid holds.
pub fn acid_hydrogen() -> &'static Form {
    &ACID_HYDROGEN
}

/// Whether a component is the carbonate system, which totals count by alkalinity and carbon.
pub fn is_carbonate(component: Component) -> bool {
    component == Component::HCO3 || component == Component::CO3
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::matter::component::Role;

    /// Identity: the form carries the whole number nearest to the charge that the acid constants leave at pH 8.3.
    #[test]
    fn forms_are_the_ions_that_prevail_at_ph_8_3() {
        for component in Component::ALL {
            let form = form(component);
            let expected =
                if component == Component::CO3 { -2.0 } else { component.charge_left(8.3).round() };
            assert_eq!(form.charge, expected, "{}", component.id());
            if component.role() != Role::WeakAcid {
                assert!((form.molar_mass - component.molar_mass()).abs() < 1e-12, "{}", component.id());
            }
        }
    }

    /// Every atom of the component but hydrogen and oxygen stands in its form.
    #[test]
    fn forms_hold_their_component() {
        for component in Component::ALL {
            for (symbol, count) in component.formula().atoms() {
                if *symbol != "H" && *symbol != "O" {
                    assert_eq!(form(component).formula.count(symbol), *count, "{}", component.id());
                }
            }
        }
    }

    #[test]
    fn every_row_is_whole() {
        for form in all() {
            let v = form.volume;
            assert!([v.v0, v.v1, v.v2, v.k, form.uncertainty].iter().all(|x| x.is_finite()), "{}", form.id);
            assert!(!form.source.is_empty());
        }
        assert_eq!(all().len(), Component::COUNT + 4);
    }
}
