//! Answers `reconciliation`.

use springwright_chem::composition::closure::Closure;
use springwright_chem::composition::reconciliation::{
    Of, Reconciled, ReconciliationError, Sheet, checks, reconcile,
};
use springwright_chem::matter::component::Component;
use springwright_chem::properties::Held;

use super::faults::fault;
use super::{said, source, state};
use crate::problem::Fault;
use crate::reading::{Read, below};
use crate::reconciliation::{ReconciliationAnswer, ReconciliationRequest};
use crate::said::{Assumption, Finding};

mod encode;
mod sheet;

/// The most likely water behind an analysis, and what may be wrong with it.
pub(super) fn answer(read: Read<ReconciliationRequest>) -> Result<ReconciliationAnswer, Vec<Fault>> {
    let Read { request, value, mut assumptions, .. } = read;
    let (sheet, places) = sheet::read(&request)?;
    let found = reconcile(&sheet)
        .map_err(|errors| errors.iter().map(|error| placed(error, &places)).collect::<Vec<_>>())?;
    assumptions.extend(assumed(&found, &places));
    let mut findings = Vec::new();
    let likely = sheet::likely(&request.water, &found);
    let source = source::read(&likely, "/water", &mut assumptions, &mut findings)?;
    // The charge of the most likely water closes and leaves them no room; what they bring moves the other rows.
    for silent in assumptions.iter_mut().filter(|one| one.code == "ions_not_stated") {
        silent.effect = "What they bring, if they are there, is laid to the other rows.".to_owned();
    }
    said::strictly(request.strict, &assumptions)?;
    let water = &source.water;
    let answered =
        state::answered(water, |_| None, Held::Closed, Closure::default(), source.unsolved.as_ref())?;
    // The charge of the most likely water closes; that of the sheet is among the checks.
    findings.retain(|finding| !finding.code.starts_with("charge_balance"));
    let provenance = answered.provenance(&value);
    findings.extend(answered.findings);
    findings.extend(summary(&found, &places));
    Ok(ReconciliationAnswer {
        water: answered.water,
        rows: encode::rows(&request, &found, &places),
        chi_square: found.chi_square,
        degrees_of_freedom: found.degrees_of_freedom as u32,
        probability: found.probability,
        checks: checks(&found).iter().map(encode::check).collect(),
        suspicions: found.suspicions().into_iter().map(|one| encode::suspicion(one, &places)).collect(),
        missing: found.missing().iter().map(encode::missing).collect(),
        not_judged: answered.not_judged,
        assumptions,
        findings,
        cautions: said::cautions(water),
        provenance,
    })
}

/// Where each row of the sheet stands in the request.
struct Places(Vec<(Of, String)>);

impl Places {
    /// The pointer of a row; for a component without one, of where it would stand.
    fn of(&self, of: Of) -> String {
        let known = self.0.iter().find(|(row, _)| *row == of).map(|(_, pointer)| pointer.clone());
        known.unwrap_or_else(|| match of {
            Of::Component(Component::HCO3) => "/water/analysis/alkalinity".to_owned(),
            Of::Conductivity | Of::SumOfIons | Of::Residue180c => below("", of.id()),
            other => below("/water/analysis", other.id()),
        })
    }
}

fn placed(error: &ReconciliationError, places: &Places) -> Fault {
    let pointer = match error {
        ReconciliationError::Insufficient { component, .. } => places.of(Of::Component(*component)),
        ReconciliationError::Row { at, .. } | ReconciliationError::Twice { at, .. } => {
            places.0.get(*at).map_or_else(String::new, |(_, pointer)| pointer.clone())
        }
        ReconciliationError::Composition(own) => source::place(own, "/water"),
        _ => "/water".to_owned(),
    };
    fault(pointer, error)
}

fn assumed(found: &Reconciled, places: &Places) -> Vec<Assumption> {
    let of = |(of, own): (Of, springwright_chem::composition::assumption::Assumption)| {
        said::assumed(own.code, places.of(of), own.text, own.effect)
    };
    found.assumptions().into_iter().map(of).collect()
}

/// What the reader should know first.
fn summary(found: &Reconciled, places: &Places) -> Option<Finding> {
    let rows = found.rows.iter();
    let worst = rows.max_by(|one, other| size(one.residual).total_cmp(&size(other.residual)))?;
    let adds_up = found.probability >= 0.05;
    let chance = match 100.0 * found.probability {
        percent if percent < 0.1 => "less than 0.1 %".to_owned(),
        percent => format!("{percent:.1} %"),
    };
    let text = format!(
        "The sheet {}: chi-square {:.1} for {} checks, which chance reaches in {chance} of sheets that are right. {} is \
         furthest, {:.1} u.",
        if adds_up { "adds up" } else { "does not add up" },
        found.chi_square,
        found.degrees_of_freedom,
        worst.of.id(),
        size(worst.residual)
    );
    let code = if adds_up { "sheet_adds_up" } else { "sheet_does_not_add_up" };
    Some(Finding { code: code.to_owned(), pointer: places.of(worst.of), text, source: None })
}

fn size(residual: Option<f64>) -> f64 {
    residual.map_or(0.0, f64::abs)
}
