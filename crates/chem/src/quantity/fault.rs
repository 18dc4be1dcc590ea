//! What can be wrong with a written amount, its unit, its basis or a conversion.

use thiserror::Error;

use crate::fault::{Fault, Kind};

/// Why an amount was not read or not converted.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum QuantityError {
    /// The text is no number.
    #[error("\"{text}\" is not a number")]
    NumberMalformed {
        /// The text as given.
        text: String,
    },
    /// A comma or dot may part thousands or decimals.
    #[error("\"{text}\" can be read as {}", readings.join(" or "))]
    NumberAmbiguous {
        /// The text as given.
        text: String,
        /// The readings, written without separators of thousands.
        readings: Vec<String>,
    },
    /// Some numbers of one table have a decimal comma, others a decimal point.
    #[error(
        "\"{text}\" stands in a table where \"{comma}\" has a decimal comma and \"{point}\" a decimal point"
    )]
    NumbersMixed {
        /// The number in question.
        text: String,
        /// A number of the table with a decimal comma.
        comma: String,
        /// A number of the table with a decimal point.
        point: String,
    },
    /// The amount is below zero.
    #[error("{what} is {value}; it cannot be negative")]
    Negative {
        /// What is negative.
        what: &'static str,
        /// The number.
        value: f64,
    },
    /// The amount is infinite or not a number.
    #[error("{what} is not a finite number")]
    NotFinite {
        /// What is not finite.
        what: &'static str,
    },
    /// The amount is outside what is physical or accepted.
    #[error("{what} is {value}{}; it must lie between {least} and {most}{}", spaced(unit), spaced(unit))]
    OutOfRange {
        /// What is out of range.
        what: &'static str,
        /// The number.
        value: f64,
        /// Least accepted.
        least: f64,
        /// Most accepted.
        most: f64,
        /// Unit of the three numbers; empty for a plain number.
        unit: &'static str,
    },
    /// The unit is not in the table.
    #[error("\"{text}\" is not a unit of the table")]
    UnitUnknown {
        /// The text as given.
        text: String,
        /// Symbols that look alike.
        near: Vec<&'static str>,
    },
    /// The unit names more than one thing.
    #[error("\"{text}\" may be {between}: {}", choices.join(" or "))]
    UnitAmbiguous {
        /// The text as given.
        text: String,
        /// What it may be, in words.
        between: &'static str,
        /// The readings; with the number where one was given.
        choices: Vec<String>,
    },
    /// The amount has no unit.
    #[error("\"{text}\" has no unit")]
    UnitMissing {
        /// The text as given.
        text: String,
    },
    /// An amount of this kind cannot be stated in that unit.
    #[error("{subject} cannot be stated in {unit}{}", from.map(|f| format!(" from {f}")).unwrap_or_default())]
    UnitMismatch {
        /// What the amount is of.
        subject: String,
        /// The unit that does not fit.
        unit: &'static str,
        /// The unit it was to be made from.
        from: Option<&'static str>,
    },
    /// What stands after "as" is no formula and no known name.
    #[error("\"{text}\" after \"as\" is no formula and no known name")]
    BasisUnknown {
        /// The text as given.
        text: String,
        /// Formulas that may be meant.
        near: Vec<String>,
    },
    /// The amount cannot be expressed as that.
    #[error("{subject} cannot be expressed as {basis}: {why}")]
    BasisImpossible {
        /// What the amount is of.
        subject: String,
        /// The basis.
        basis: String,
        /// Why not, in plain words.
        why: &'static str,
    },
    /// A mass of hardness or alkalinity needs to say what it is expressed as.
    #[error("{subject} as a mass does not say what it is expressed as")]
    BasisMissing {
        /// What the amount is of.
        subject: String,
    },
    /// Equivalents of something without a fixed charge.
    #[error("{subject} has no fixed number of equivalents: {why}")]
    EquivalentsUndefined {
        /// What the amount is of.
        subject: String,
        /// Why not, in plain words.
        why: &'static str,
    },
    /// Litres and kilograms need the density or the water in a litre.
    #[error("between {from} and {to} the {needed} is needed")]
    SolutionMissing {
        /// Unit of the amount.
        from: &'static str,
        /// Unit asked for.
        to: &'static str,
        /// What is needed, in words.
        needed: &'static str,
    },
    /// "Not detected" or "trace" without the limit.
    #[error("\"{text}\" does not state the limit below which nothing is seen")]
    LimitUnstated {
        /// The text as given.
        text: String,
    },
    /// A sign of comparison other than "below".
    #[error("\"{text}\" is not one amount: only \"<\" before a limit of detection can be used")]
    ComparatorUnsupported {
        /// The text as given.
        text: String,
    },
    /// The expression as a whole cannot be read.
    #[error("\"{text}\" cannot be read as an amount: {why}")]
    ExpressionMalformed {
        /// The text as given.
        text: String,
        /// Why, in plain words.
        why: &'static str,
    },
}

/// A unit with the space before it; nothing for a plain number.
fn spaced(unit: &str) -> String {
    if unit.is_empty() { String::new() } else { format!(" {unit}") }
}

impl Fault for QuantityError {
    fn code(&self) -> &'static str {
        use QuantityError as E;
        match self {
            E::NumberMalformed { .. } => "number_malformed",
            E::NumberAmbiguous { .. } => "number_ambiguous",
            E::NumbersMixed { .. } => "numbers_mixed",
            E::Negative { .. } => "negative",
            E::NotFinite { .. } => "not_finite",
            E::OutOfRange { .. } => "out_of_range",
            E::UnitUnknown { .. } => "unit_unknown",
            E::UnitAmbiguous { .. } => "unit_ambiguous",
            E::UnitMissing { .. } => "unit_missing",
            E::UnitMismatch { .. } => "unit_mismatch",
            E::BasisUnknown { .. } => "basis_unknown",
            E::BasisImpossible { .. } => "basis_impossible",
            E::BasisMissing { .. } => "basis_missing",
            E::EquivalentsUndefined { .. } => "equivalents_undefined",
            E::SolutionMissing { .. } => "density_missing",
            E::LimitUnstated { .. } => "limit_unstated",
            E::ComparatorUnsupported { .. } => "comparator_unsupported",
            E::ExpressionMalformed { .. } => "expression_malformed",
        }
    }

    fn kind(&self) -> Kind {
        use QuantityError as E;
        match self {
            E::NumberMalformed { .. } | E::ComparatorUnsupported { .. } | E::ExpressionMalformed { .. } => {
                Kind::Malformed
            }
            E::NumberAmbiguous { .. } | E::UnitAmbiguous { .. } => Kind::Ambiguous,
            E::NumbersMixed { .. } | E::UnitMismatch { .. } | E::BasisImpossible { .. } => Kind::Inconsistent,
            E::Negative { .. } | E::NotFinite { .. } | E::OutOfRange { .. } => Kind::OutOfRange,
            E::UnitUnknown { .. } | E::BasisUnknown { .. } => Kind::Unknown,
            E::UnitMissing { .. }
            | E::BasisMissing { .. }
            | E::SolutionMissing { .. }
            | E::LimitUnstated { .. }
            | E::EquivalentsUndefined { .. } => Kind::Insufficient,
        }
    }

    fn accepted(&self) -> Vec<String> {
        use QuantityError as E;
        match self {
            E::NumberAmbiguous { readings, .. } => readings.clone(),
            E::OutOfRange { least, most, unit, .. } => vec![format!("{least} to {most}{}", spaced(unit))],
            E::UnitUnknown { near, .. } => near.iter().map(|symbol| (*symbol).to_owned()).collect(),
            E::UnitAmbiguous { choices, .. } => choices.clone(),
            E::BasisUnknown { near, .. } => near.clone(),
            E::BasisMissing { .. } => ["CaCO3", "CaO", "HCO3"].map(str::to_owned).to_vec(),
            _ => Vec::new(),
        }
    }

    fn mend(&self) -> String {
        use QuantityError as E;
        let plain = match self {
            E::NumberMalformed { .. } => "Write digits with one decimal point, like 12.5.",
            E::NumberAmbiguous { .. } => "Write it without separators of thousands and with a decimal point.",
            E::NumbersMixed { .. } => {
                "Write all numbers of the table with a decimal point, or all with a comma."
            }
            E::Negative { .. } => {
                "Give zero or more; for a reading below detection write <0.1 with its limit."
            }
            E::NotFinite { .. } => "Leave out what was not measured; give a number for what was.",
            E::OutOfRange { .. } => "Check the number and its unit.",
            E::UnitUnknown { .. } => "Write a unit of the table, like mg/L, mmol/L, dH, gr/gal_us, uS/cm.",
            E::UnitAmbiguous { .. } => "Write the one that is meant.",
            E::UnitMissing { .. } => "Write the unit after the number, like 190 mg/L.",
            E::UnitMismatch { .. } => "Ask for a unit of the same sort.",
            E::BasisUnknown { .. } => "Write a formula after \"as\", like CaCO3, N, SiO2.",
            E::BasisImpossible { .. } => "Leave the basis out, or name one that holds the same element.",
            E::BasisMissing { .. } => "Say what the number is expressed as, like 190 mg/L as CaCO3.",
            E::EquivalentsUndefined { .. } => "State it in mg/L or mmol/L.",
            E::SolutionMissing { needed, .. } => return format!("Give the {needed}."),
            E::LimitUnstated { .. } => {
                "Write the limit of detection, like <0.1 mg/L, or leave the entry out."
            }
            E::ComparatorUnsupported { .. } => "Write one amount, or < with the limit of detection.",
            E::ExpressionMalformed { .. } => {
                "Write number, unit and basis, like 190 ± 4 mg/L as CaCO3 (k=2)."
            }
        };
        plain.to_owned()
    }
}
