//! The catalogue: salts, acids, bases and gases of the trade, each with its hydrate, what it gives to a water,
//! how it dissolves, how it behaves, and by which names it is asked for.
//!
//! A row is found by its formula, its id, a trade name or an old name. Nothing is guessed: a name that fits more
//! than one row is an error that lists them, and what may not go into a drink is known only to be refused.
//!
//! ```
//! use springwright_chem::matter::catalogue;
//! let epsom = catalogue::find("Epsom salt")?;
//! assert_eq!(epsom.id, "magnesium_sulfate_heptahydrate");
//! assert_eq!(catalogue::find("MgSO4·7H2O")?.id, epsom.id);
//! assert!(catalogue::find("magnesium sulfate").is_err(), "how much water?");
//! assert!(catalogue::find("barium chloride dihydrate").is_err(), "a poison");
//! # Ok::<(), catalogue::MatterError>(())
//! ```

mod dissolution;
mod fault;
mod find;
mod load;
mod names;
mod salt;
mod solubility;

use std::sync::LazyLock;

pub use dissolution::Dissolution;
pub use fault::{HydrateForm, MatterError, NameChoice};
pub use find::{find, identify};
pub use salt::{
    Additive, Assay, Confidence, FoodUse, Form, FormulaIs, Handling, Hazard, Mark, Need, Needs, Range, Salt,
    Trust, UseClass,
};
pub use solubility::{Curve, SolidChange, Solubility, SolubilityPoint};

use super::formula::Formula;
use names::Names;

/// Everything that is compiled in, read once.
struct Catalogue {
    salts: Vec<Salt>,
    curves: Vec<Curve>,
    names: Names,
}

static CATALOGUE: LazyLock<Catalogue> = LazyLock::new(load::catalogue);

/// Every row of the catalogue, in the order of the table: sodium, potassium, calcium, magnesium, the other metals,
/// acids, gases, and at the end poisons of old recipes.
pub fn salts() -> &'static [Salt] {
    &CATALOGUE.salts
}

/// The row of an exact id, whether or not it may go into a drink; see [`find()`] for the judged look-up.
pub fn salt(id: &str) -> Option<&'static Salt> {
    salts().iter().find(|salt| salt.id == id)
}

/// The row of a formula, water of crystallisation included, in whatever order its atoms are written: `NaC2H3O2`
/// and `CH3COONa` are the same salt. Not judged for food use.
///
/// ```
/// use springwright_chem::matter::{catalogue::salt_of_formula, formula::Formula};
/// let salt = salt_of_formula(&Formula::read("CaSO4·1/2H2O")?);
/// assert_eq!(salt.map(|salt| salt.id), Some("calcium_sulfate_hemihydrate"));
/// # Ok::<(), springwright_chem::matter::formula::FormulaError>(())
/// ```
pub fn salt_of_formula(formula: &Formula) -> Option<&'static Salt> {
    let has = |salt: &&Salt| salt.formula.as_ref().is_some_and(|own| own.same_substance(formula));
    let spelled = |salt: &&Salt| salt.formula.as_ref().is_some_and(|own| own == formula);
    salts().iter().find(spelled).or_else(|| salts().iter().find(has))
}

/// The rows that are the same salt with any number of waters of crystallisation, in the order of the table. They
/// give the same components; only the water differs.
pub fn hydrates_of(formula: &Formula) -> Vec<&'static Salt> {
    let dry = formula.anhydrous();
    salts()
        .iter()
        .filter(|salt| salt.formula.as_ref().is_some_and(|own| own.anhydrous().same_substance(&dry)))
        .collect()
}

#[cfg(test)]
mod tests;
