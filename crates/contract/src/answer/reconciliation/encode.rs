//! What the chemistry found as the contract answers it.

use springwright_chem::composition::reconciliation::{
    Check, Correction, LikelyRow, MissingIon as Missing, Suspicion as Suspected, Verdict,
};
use springwright_chem::sources;

use super::{Of, Places, Reconciled};
use crate::answer::amounts;
use crate::measured::Measured;
use crate::reconciliation::{
    AcceptanceCheck, CorrectedRow, MissingIon, ReconciledRow, ReconciliationRequest, RowVerdict, Suspicion,
};

/// Every row beside the most likely water, in the unit in which it was stated.
pub(super) fn rows(
    request: &ReconciliationRequest,
    found: &Reconciled,
    places: &Places,
) -> Vec<ReconciledRow> {
    let row = |row: &LikelyRow| {
        let pointer = places.of(row.of);
        let stated = stated(request, row, &pointer);
        let factor =
            if row.stated > 0.0 && stated.value > 0.0 { Some(stated.value / row.stated) } else { None };
        let (unit, basis, factor) = match factor {
            Some(factor) => (stated.unit.clone(), stated.basis.clone(), factor),
            // A zero says nothing of its unit; the unit in which the row is reckoned stands in.
            None => (row.of.unit().symbol().to_owned(), None, 1.0),
        };
        ReconciledRow {
            stated_uncertainty: row.stated_uncertainty * factor,
            likely: Measured {
                value: row.likely * factor,
                unit,
                basis,
                uncertainty: Some(row.uncertainty * factor),
                coverage_factor: None,
                comparator: None,
            },
            stated,
            residual: row.residual,
            verdict: verdict(row.verdict),
            pointer,
        }
    };
    found.rows.iter().map(row).collect()
}

/// The row as it stands in the request; a salt, which has no amount with a unit there, as it was read.
fn stated(request: &ReconciliationRequest, row: &LikelyRow, pointer: &str) -> Measured {
    let own = match row.of {
        Of::Conductivity => request.conductivity.clone(),
        Of::SumOfIons => request.tds.clone(),
        Of::Residue180c => request.residue_180c.clone(),
        _ => {
            let analysis = request.water.analysis.as_ref();
            let name = pointer.rsplit('/').next().unwrap_or_default();
            analysis.and_then(|analysis| analysis.0.get(name)).cloned()
        }
    };
    own.unwrap_or_else(|| Measured {
        value: row.stated,
        unit: row.of.unit().symbol().to_owned(),
        basis: None,
        uncertainty: None,
        coverage_factor: None,
        comparator: None,
    })
}

fn verdict(verdict: Verdict) -> RowVerdict {
    match verdict {
        Verdict::Fits => RowVerdict::Fits,
        Verdict::Doubtful => RowVerdict::Doubtful,
        Verdict::DoesNotFit => RowVerdict::DoesNotFit,
        Verdict::Unchecked => RowVerdict::Unchecked,
        Verdict::BelowLimit => RowVerdict::BelowLimit,
    }
}

/// A rule of acceptance.
pub(super) fn check(check: &Check) -> AcceptanceCheck {
    AcceptanceCheck {
        of: check.of.to_owned(),
        value: check.value,
        unit: check.unit.to_owned(),
        at_least: check.at_least,
        at_most: check.at_most,
        accepted: check.accepted,
        source: sources::citation(check.source).to_owned(),
    }
}

/// Something that may be wrong.
pub(super) fn suspicion(found: Suspected, places: &Places) -> Suspicion {
    let corrected = |one: &Correction| CorrectedRow {
        pointer: places.of(one.of),
        measured: amounts::stated(&one.measured),
    };
    Suspicion {
        code: found.code.to_owned(),
        pointer: places.of(found.of),
        text: found.text,
        odds: found.odds,
        share: found.share,
        chi_square: found.chi_square,
        corrected: found.corrections.iter().map(corrected).collect(),
    }
}

/// Bounds of what the sheet is silent of.
pub(super) fn missing(one: &Missing) -> MissingIon {
    let mg = |mmol: f64| mmol * one.component.molar_mass();
    MissingIon {
        of: one.component.id().to_owned(),
        at_least_mg_per_l: mg(one.at_least),
        likely_mg_per_l: mg(one.likely),
        at_most_mg_per_l: mg(one.at_most),
    }
}
