//! What can be wrong with a salt that is asked for.

use thiserror::Error;

use crate::fault::{Fault, Kind};
use crate::matter::formula::FormulaError;

/// One hydrate that a name without its water may mean.
#[derive(Clone, Debug, PartialEq)]
pub struct HydrateForm {
    /// Id of the row.
    pub id: &'static str,
    /// Canonical formula with its water.
    pub formula: String,
    /// Molar mass in g/mol, water included.
    pub molar_mass: f64,
    /// g of this form that hold 1 g of the salt without water.
    pub factor: f64,
}

/// One row that a name may mean.
#[derive(Clone, Debug, PartialEq)]
pub struct NameChoice {
    /// Id of the row.
    pub id: &'static str,
    /// Canonical formula; empty where there is none.
    pub formula: String,
    /// When the name means it; empty where that was not noted.
    pub sense: &'static str,
}

/// Why a salt was not found, or may not be used.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum MatterError {
    /// No row has that name or formula.
    #[error("\"{text}\" is not in the catalogue of salts")]
    Unknown {
        /// The text as given.
        text: String,
        /// Ids of the nearest rows, nearest first.
        nearest: Vec<&'static str>,
    },
    /// The salt is known, but not how much water of crystallisation it holds.
    #[error("\"{text}\" does not say how much water of crystallisation it holds: {}", list_forms(forms))]
    HydrateUnstated {
        /// The text as given.
        text: String,
        /// The forms it may mean.
        forms: Vec<HydrateForm>,
    },
    /// The name may mean more than one salt.
    #[error("\"{text}\" may mean more than one salt: {}", list_choices(choices))]
    NameAmbiguous {
        /// The text as given.
        text: String,
        /// The rows it may mean.
        choices: Vec<NameChoice>,
    },
    /// The name is of a solution, suspension or crude form, not of the salt itself.
    #[error("\"{text}\" is not {id} itself but {sense}")]
    PreparationNamed {
        /// The text as given.
        text: String,
        /// Id of the salt in it.
        id: &'static str,
        /// What the preparation is.
        sense: &'static str,
    },
    /// Known, and refused.
    #[error("{name}{} may not be used: {why}", in_brackets(formula))]
    Refused {
        /// Id of the row.
        id: &'static str,
        /// Name for people.
        name: &'static str,
        /// Canonical formula.
        formula: Option<String>,
        /// Why it is refused.
        why: &'static str,
    },
    /// Exists only in water, so there is nothing to weigh.
    #[error("{name} has no solid to weigh: {instead}")]
    OnlyInSolution {
        /// Id of the row.
        id: &'static str,
        /// Name for people.
        name: &'static str,
        /// What to weigh in its place.
        instead: &'static str,
    },
    /// Composition varies too much to compute what it gives.
    #[error("{name} has no fixed composition, so what it gives to a water cannot be computed")]
    CompositionVaries {
        /// Id of the row.
        id: &'static str,
        /// Name for people.
        name: &'static str,
    },
    /// The text is a formula that has more than one reading.
    #[error(transparent)]
    Formula(#[from] FormulaError),
}

fn list_forms(forms: &[HydrateForm]) -> String {
    let each = forms.iter().map(|form| {
        let HydrateForm { id, formula, molar_mass, factor } = form;
        format!("{id} ({formula}, {molar_mass:.2} g/mol, {factor:.3} g for 1 g without water)")
    });
    each.collect::<Vec<_>>().join(", ")
}

fn list_choices(choices: &[NameChoice]) -> String {
    let each = choices.iter().map(|choice| match (choice.formula.as_str(), choice.sense) {
        ("", "") => choice.id.to_string(),
        (formula, "") => format!("{} ({formula})", choice.id),
        (formula, sense) => format!("{} ({formula}; {sense})", choice.id),
    });
    each.collect::<Vec<_>>().join(", ")
}

fn in_brackets(formula: &Option<String>) -> String {
    formula.as_ref().map(|formula| format!(" ({formula})")).unwrap_or_default()
}

impl Fault for MatterError {
    fn code(&self) -> &'static str {
        match self {
            MatterError::Unknown { .. } => "salt_unknown",
            MatterError::HydrateUnstated { .. } => "hydrate_unstated",
            MatterError::NameAmbiguous { .. } => "salt_name_ambiguous",
            MatterError::PreparationNamed { .. } => "preparation_named",
            MatterError::Refused { .. } => "salt_refused",
            MatterError::OnlyInSolution { .. } => "salt_only_in_solution",
            MatterError::CompositionVaries { .. } => "composition_varies",
            MatterError::Formula(error) => error.code(),
        }
    }

    fn kind(&self) -> Kind {
        match self {
            MatterError::Unknown { .. } => Kind::Unknown,
            MatterError::HydrateUnstated { .. } | MatterError::NameAmbiguous { .. } => Kind::Ambiguous,
            MatterError::PreparationNamed { .. } => Kind::Insufficient,
            MatterError::Refused { .. } | MatterError::OnlyInSolution { .. } => Kind::Refused,
            MatterError::CompositionVaries { .. } => Kind::OutsideModel,
            MatterError::Formula(error) => error.kind(),
        }
    }

    fn accepted(&self) -> Vec<String> {
        let ids = |ids: &mut dyn Iterator<Item = &'static str>| ids.map(String::from).collect();
        match self {
            MatterError::Unknown { nearest, .. } => ids(&mut nearest.iter().copied()),
            MatterError::HydrateUnstated { forms, .. } => ids(&mut forms.iter().map(|form| form.id)),
            MatterError::NameAmbiguous { choices, .. } => ids(&mut choices.iter().map(|choice| choice.id)),
            MatterError::PreparationNamed { id, .. } => ids(&mut [*id].into_iter()),
            MatterError::Refused { .. } | MatterError::OnlyInSolution { .. } => Vec::new(),
            MatterError::CompositionVaries { .. } => Vec::new(),
            MatterError::Formula(error) => error.accepted(),
        }
    }

    fn mend(&self) -> String {
        match self {
            MatterError::Unknown { nearest, .. } if nearest.is_empty() => {
                "Give a formula with its water, like MgSO4·7H2O, or an id of the catalogue.".into()
            }
            MatterError::Unknown { nearest, .. } => format!("Perhaps {} is meant.", nearest.join(" or ")),
            MatterError::HydrateUnstated { .. } => {
                "Read the label for the waters and name that form, or give the formula with its water.".into()
            }
            MatterError::NameAmbiguous { .. } => "Name the one that is meant by its id or formula.".into(),
            MatterError::PreparationNamed { id, .. } => {
                format!("Weigh {id} itself, or state what is dissolved in it and its share.")
            }
            MatterError::Refused { .. } => "Leave it out.".into(),
            MatterError::OnlyInSolution { instead, .. } => format!("Instead, {instead}."),
            MatterError::CompositionVaries { .. } => {
                "Choose a salt with a formula that gives the same mineral.".into()
            }
            MatterError::Formula(error) => error.mend(),
        }
    }
}
