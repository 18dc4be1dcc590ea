//! What an amount is of, and how its mass, amount of substance and equivalents belong together.

use super::basis::equivalents_of;
use super::{Basis, QuantityError};
use crate::matter::component::{self, Component};
use crate::matter::formula::Formula;

/// What an amount is of.
#[derive(Clone, Debug, PartialEq)]
pub enum Subject {
    /// A component of a water. `HCO3` is alkalinity expressed as HCO3: one equivalent a mol.
    Component(Component),
    /// A salt, acid or base by its formula, water of crystallisation included.
    Salt(Formula),
    /// Dissolved carbon dioxide; the only one that is stated in volumes of gas.
    CarbonDioxide,
    /// Hardness: calcium and magnesium counted by equivalents; a mmol of it is two meq.
    Hardness,
    /// Alkalinity: what acid neutralises, by equivalents; a mmol of it is one meq.
    Alkalinity,
    /// Dissolved solids: a mass of nothing in particular.
    Solids,
    /// Something of which the unit alone says what it is: a temperature, a volume, a conductivity.
    Plain,
}

/// Elements that oxygen and hydrogen bring into every formula and that tell nothing.
const COMMON: [&str; 2] = ["H", "O"];

impl Subject {
    /// Reads what an amount is of: `Ca`, `nitrate`, `hardness`, `alkalinity`, `tds`, `co2`, or the formula of a salt.
    ///
    /// # Errors
    /// [`crate::matter::formula::FormulaError`] when it is no name and no formula.
    pub fn read(text: &str) -> Result<Subject, crate::matter::formula::FormulaError> {
        let text = text.trim();
        let subject = match text.to_lowercase().as_str() {
            "hardness" | "total hardness" => Subject::Hardness,
            "alkalinity" | "total alkalinity" => Subject::Alkalinity,
            "tds" | "residue_180c" | "dissolved solids" | "total dissolved solids" => Subject::Solids,
            "co2" | "carbon dioxide" | "free co2" => Subject::CarbonDioxide,
            "ph" | "temperature" | "conductivity" | "pressure" | "volume" | "mass" | "ratio"
            | "osmolality" => Subject::Plain,
            _ => match component::named(text) {
                Some(component) => Subject::Component(component),
                None => Subject::of_formula(Formula::read(text)?),
            },
        };
        Ok(subject)
    }

    fn of_formula(formula: Formula) -> Subject {
        match Component::of_formula(&formula) {
            Some(component) => Subject::Component(component),
            None => Subject::Salt(formula),
        }
    }

    /// Name for messages.
    pub fn name(&self) -> String {
        match self {
            Subject::Component(component) => component.id().to_owned(),
            Subject::Salt(formula) => formula.canonical(),
            Subject::CarbonDioxide => "CO2".to_owned(),
            Subject::Hardness => "hardness".to_owned(),
            Subject::Alkalinity => "alkalinity".to_owned(),
            Subject::Solids => "dissolved solids".to_owned(),
            Subject::Plain => "the amount".to_owned(),
        }
    }

    /// Grams in one mol of the subject as it is counted here; for hardness and alkalinity, which have no mass of
    /// their own, an error that asks for the basis.
    pub(super) fn molar_mass(&self) -> Result<f64, QuantityError> {
        match self {
            Subject::Component(component) => Ok(component.molar_mass()),
            Subject::Salt(formula) => Ok(formula.molar_mass()),
            Subject::CarbonDioxide => Ok(carbon_dioxide().molar_mass()),
            Subject::Hardness | Subject::Alkalinity => {
                Err(QuantityError::BasisMissing { subject: self.name() })
            }
            Subject::Solids | Subject::Plain => Ok(f64::NAN),
        }
    }

    /// Equivalents in one mol of the subject.
    pub(super) fn equivalents(&self) -> Result<f64, QuantityError> {
        let fixed = match self {
            Subject::Component(c) if c.charge() == 0 => Err("it is counted without a charge"),
            Subject::Component(c) => equivalents_of(*c).ok_or("its charge depends on pH"),
            Subject::Hardness => Ok(2.0),
            Subject::Alkalinity => Ok(1.0),
            Subject::Salt(_) => Err("name the ion that is meant"),
            Subject::CarbonDioxide | Subject::Solids | Subject::Plain => Err("it carries no charge"),
        };
        fixed.map_err(|why| QuantityError::EquivalentsUndefined { subject: self.name(), why })
    }

    /// Mols of the subject in one mol of a basis.
    pub(super) fn per_basis(&self, basis: &Basis) -> Result<f64, QuantityError> {
        let by = |ratio: Result<f64, &'static str>| {
            ratio.map_err(|why| QuantityError::BasisImpossible {
                subject: self.name(),
                basis: basis.symbol().to_owned(),
                why,
            })
        };
        match self {
            Subject::Component(c) if *c == Component::HCO3 || *c == Component::CO3 => {
                by(carbonate(*c, basis))
            }
            Subject::Component(c) => by(of_component(*c, basis)),
            Subject::Salt(formula) => by(shared(formula, basis.formula())),
            Subject::CarbonDioxide => by(shared(carbon_dioxide(), basis.formula())),
            Subject::Hardness => by(hardness(basis)),
            Subject::Alkalinity => by(alkalinity(basis)),
            Subject::Solids | Subject::Plain => by(Err("it is a mass of nothing in particular")),
        }
    }
}

impl From<Component> for Subject {
    fn from(component: Component) -> Subject {
        Subject::Component(component)
    }
}

/// CO2, for its molar mass and its carbon.
fn carbon_dioxide() -> &'static Formula {
    static CO2: std::sync::LazyLock<Formula> =
        std::sync::LazyLock::new(|| Formula::read("CO2").expect("CO2 is a formula"));
    &CO2
}

/// By the elements that both hold besides hydrogen and oxygen; they must agree.
fn shared(subject: &Formula, basis: &Formula) -> Result<f64, &'static str> {
    let mut ratio: Option<f64> = None;
    for (symbol, count) in subject.atoms().iter().filter(|(symbol, _)| !COMMON.contains(symbol)) {
        let held = basis.count(symbol);
        if held == 0.0 {
            continue;
        }
        let next = held / count;
        match ratio {
            Some(before) if (before - next).abs() > 1e-9 * before => {
                return Err("its elements stand in another proportion");
            }
            _ => ratio = Some(next),
        }
    }
    ratio.ok_or("they have no element in common")
}

/// By a common element; where there is none, CaCO3 and CaO stand for equivalents, as in ion exchange.
fn of_component(component: Component, basis: &Basis) -> Result<f64, &'static str> {
    let by_element = shared(&component.formula().without_charge(), basis.formula());
    if by_element.is_ok() || !matches!(basis.symbol(), "CaCO3" | "CaO") {
        return by_element;
    }
    match (equivalents_of(component), basis.equivalents()) {
        (Some(own), Some(of_basis)) => Ok(of_basis / own),
        _ => Err("its charge depends on pH, so it has no fixed equivalents"),
    }
}

/// HCO3 and CO3: by carbon for C, CO2 and each other's own formula, by equivalents for salts and oxides of metals.
fn carbonate(component: Component, basis: &Basis) -> Result<f64, &'static str> {
    let by_carbon = shared(&component.formula().without_charge(), basis.formula());
    if basis.symbol() == component.id() || matches!(basis.symbol(), "C" | "CO2") {
        return by_carbon;
    }
    if matches!(basis.symbol(), "HCO3" | "CO3") {
        return Err("by carbon and by charge they differ by a factor of two");
    }
    Ok(alkalinity(basis)? / if component == Component::CO3 { 2.0 } else { 1.0 })
}

/// Equivalents of alkalinity in one mol of a carbonate, bicarbonate, hydroxide or oxide.
fn alkalinity(basis: &Basis) -> Result<f64, &'static str> {
    let why = "alkalinity is expressed as a carbonate, bicarbonate, hydroxide or oxide";
    if matches!(basis.symbol(), "HCO3" | "CO3") {
        return basis.equivalents().ok_or(why);
    }
    if basis.symbol() == "OH" {
        return Ok(1.0);
    }
    let formula = basis.formula().anhydrous();
    let alkali =
        |symbol: &&str| matches!(*symbol, "C" | "H" | "O" | "Li" | "Na" | "K" | "Mg" | "Ca" | "Sr" | "Ba");
    let (carbon, oxygen) = (formula.count("C"), formula.count("O"));
    if oxygen == 0.0 || !formula.atoms().keys().all(alkali) || (carbon > 0.0 && oxygen != 3.0 * carbon) {
        return Err(why);
    }
    basis.equivalents().ok_or(why)
}

/// Mols of hardness (two equivalents each) in one mol of a salt or oxide of calcium or magnesium.
fn hardness(basis: &Basis) -> Result<f64, &'static str> {
    let metal = basis.formula().count("Ca") + basis.formula().count("Mg");
    if metal > 0.0 { Ok(metal) } else { Err("hardness is expressed as calcium or magnesium or their salts") }
}
