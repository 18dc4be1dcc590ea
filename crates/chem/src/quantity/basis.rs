//! What an amount is expressed as: the formula or name after "as".

use std::fmt;
use std::sync::LazyLock;

use super::QuantityError;
use crate::fault::Fault;
use crate::matter::component::{self, Component, Role};
use crate::matter::formula::Formula;
use crate::table::Table;

/// A basis: any formula, the name of a component, or a name of `data/bases.tsv`.
///
/// ```
/// use springwright_chem::quantity::Basis;
/// assert_eq!(Basis::read("nitrogen")?.symbol(), "N");
/// assert_eq!(Basis::read("NO3-N")?.symbol(), "N");
/// assert_eq!(Basis::read("CaCO3")?.equivalents(), Some(2.0));
/// # Ok::<(), springwright_chem::quantity::QuantityError>(())
/// ```
#[derive(Clone, Debug)]
pub struct Basis {
    symbol: String,
    formula: Formula,
}

struct Named {
    symbol: &'static str,
    formula: Formula,
    also: Vec<&'static str>,
}

static NAMED: LazyLock<Vec<Named>> = LazyLock::new(|| {
    Table::read(include_str!("../../data/bases.tsv"))
        .rows()
        .map(|row| Named {
            symbol: row.text("symbol"),
            formula: Formula::read(row.text("formula"))
                .expect("compiled-in formulas are written canonically"),
            also: row.list("also").collect(),
        })
        .collect()
});

/// Metals whose charge in a simple salt or oxide is certain.
const METALS: [(&str, f64); 7] =
    [("Li", 1.0), ("Na", 1.0), ("K", 1.0), ("Mg", 2.0), ("Ca", 2.0), ("Sr", 2.0), ("Ba", 2.0)];

impl Basis {
    /// Reads what stands after "as": a formula (`CaCO3`, `SiO2`, `SO4`), a name (`nitrogen`, `lime`, `citrate`), or
    /// the laboratory form `NO3-N`.
    ///
    /// # Errors
    /// [`QuantityError::BasisUnknown`] when it is none of these.
    pub fn read(text: &str) -> Result<Basis, QuantityError> {
        let text = text.trim();
        let lower = text.to_lowercase();
        if let Some(named) = NAMED.iter().find(|n| n.symbol == text || n.also.contains(&lower.as_str())) {
            return Ok(Basis { symbol: named.symbol.to_owned(), formula: named.formula.clone() });
        }
        if let Some(component) = component::named(text) {
            return Ok(Basis::of(component));
        }
        if let Some(element) = laboratory_form(text) {
            return Basis::read(element);
        }
        match Formula::read(text) {
            Ok(formula) => Ok(Basis::of_formula(&formula)),
            Err(error) => Err(QuantityError::BasisUnknown { text: text.to_owned(), near: error.accepted() }),
        }
    }

    /// The component itself as a basis.
    pub fn of(component: Component) -> Basis {
        Basis { symbol: component.id().to_owned(), formula: component.formula().without_charge() }
    }

    fn of_formula(formula: &Formula) -> Basis {
        let formula = formula.without_charge();
        let component =
            Component::ALL.into_iter().find(|c| c.formula().without_charge().same_substance(&formula));
        let symbol = component.map_or_else(|| formula.canonical(), |c| c.id().to_owned());
        Basis { symbol, formula }
    }

    /// Canonical symbol: `CaCO3`, `N`, `citrate`.
    pub fn symbol(&self) -> &str {
        &self.symbol
    }

    /// The formula, without charge.
    pub fn formula(&self) -> &Formula {
        &self.formula
    }

    /// Molar mass in g/mol.
    pub fn molar_mass(&self) -> f64 {
        self.formula.molar_mass()
    }

    /// Equivalents of charge per mol where they are certain: the charge of an ion that keeps it, of HCO3 and CO3,
    /// or of the metal in an oxide, hydroxide or simple salt (2 for CaCO3 and for CaO).
    pub fn equivalents(&self) -> Option<f64> {
        let of_component =
            Component::ALL.into_iter().find(|c| c.id() == self.symbol).and_then(equivalents_of);
        let metals: f64 = METALS.iter().map(|(metal, charge)| self.formula.count(metal) * charge).sum();
        of_component.or(Some(metals).filter(|sum| *sum > 0.0))
    }
}

impl PartialEq for Basis {
    fn eq(&self, other: &Basis) -> bool {
        self.formula.same_substance(&other.formula)
    }
}

impl fmt::Display for Basis {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.symbol)
    }
}

/// Equivalents per mol of a component where pH does not change them by more than half a charge between its written
/// formula and neutral water; HCO3 and CO3 by definition of alkalinity.
pub(super) fn equivalents_of(component: Component) -> Option<f64> {
    let charge = f64::from(component.charge());
    let carbonate = component == Component::HCO3 || component == Component::CO3;
    let steady = component.role() != Role::WeakAcid || (component.charge_left(7.0) - charge).abs() < 0.5;
    Some(charge.abs()).filter(|c| *c > 0.0 && (carbonate || steady))
}

/// `NO3-N`, `NH4-N`, `PO4-P`, `SO4-S`, `SiO2-Si`: the element after the hyphen.
fn laboratory_form(text: &str) -> Option<&str> {
    let (ion, element) = text.rsplit_once(['-', '–', '_', '‐', '‑', '−'])?;
    let ion = Formula::read(ion.trim().trim_end_matches(['-', '+'])).ok()?;
    let element = element.trim();
    (["N", "P", "S", "Si", "C", "B"].contains(&element) && ion.count(element) == 1.0).then_some(element)
}
