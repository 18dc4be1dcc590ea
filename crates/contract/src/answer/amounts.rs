//! Measured amounts between the contract and the chemistry.

use springwright_chem::quantity::reading::read_measured;
use springwright_chem::quantity::{self as chem, Basis, Unit};

use super::faults::fault;
use super::said::assumed;
use crate::measured::{Comparator, Measured};
use crate::problem::Fault;
use crate::reading::below;
use crate::said::Assumption;

/// A stated amount as the chemistry takes it, or every fault of it.
pub(super) fn measured(stated: &Measured, pointer: &str) -> Result<chem::Measured, Vec<Fault>> {
    let at = |field: &str| below(pointer, field);
    let unit = Unit::read(&stated.unit).map_err(|error| fault(at("unit"), &error));
    let basis =
        stated.basis.as_deref().map(Basis::read).transpose().map_err(|error| fault(at("basis"), &error));
    let (unit, basis) = match (unit, basis) {
        (Ok(unit), Ok(basis)) => (unit, basis),
        (unit, basis) => return Err([unit.err(), basis.err()].into_iter().flatten().collect()),
    };
    let mut amount =
        chem::Measured::new(stated.value, unit).map_err(|error| vec![fault(at("value"), &error)])?;
    if let Some(basis) = basis {
        amount = amount.with_basis(basis).map_err(|error| vec![fault(at("basis"), &error)])?;
    }
    if let Some(uncertainty) = stated.uncertainty {
        let with = amount.with_uncertainty(uncertainty, stated.coverage_factor);
        amount = with.map_err(|error| vec![fault(at("uncertainty"), &error)])?;
    }
    Ok(match stated.comparator {
        Some(Comparator::Below) => amount.below(),
        None => amount,
    })
}

/// An amount of the chemistry as the contract states it.
pub(super) fn stated(amount: &chem::Measured) -> Measured {
    Measured {
        value: amount.value(),
        unit: amount.unit().symbol().to_owned(),
        basis: amount.basis().map(|basis| basis.symbol().to_owned()),
        uncertainty: amount.uncertainty(),
        coverage_factor: amount.coverage_factor(),
        comparator: amount.comparator().map(|_| Comparator::Below),
    }
}

/// Reads a written amount, with what the reading took for granted.
///
/// # Errors
/// The fault of the text, at the pointer.
pub(crate) fn read_expression(text: &str, pointer: &str) -> Result<(Measured, Vec<Assumption>), Fault> {
    let read = read_measured(text).map_err(|error| fault(pointer, &error))?;
    let assumptions = read.coverage_assumed.then(|| {
        assumed(
            "coverage_assumed",
            pointer,
            format!("'{text}' states ± without k: it is read as k = 2."),
            "Read as k = 1 its standard uncertainty would be twice as large.",
        )
    });
    Ok((stated(&read.measured), assumptions.into_iter().collect()))
}
