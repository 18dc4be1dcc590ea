//! The rules by which a whole analysis is accepted, after Standard Methods 1030 E: charge, solids and conductivity as
//! stated against what the stated ions give.

use std::sync::LazyLock;

use super::likely::{Reconciled, stated_amounts};
use super::sheet::Of;
use super::unknown::{Told, unknowns};
use crate::composition::charge::ChargeBalance;
use crate::table::Table;

/// Limits of a ratio, from the table.
struct Limits {
    of: &'static str,
    at_least: f64,
    at_most: f64,
    source: &'static str,
}

static LIMITS: LazyLock<Vec<Limits>> = LazyLock::new(|| {
    let table = Table::read(include_str!("../../../data/analysis_acceptance.tsv"));
    let limits = |row: crate::table::Row<'_>| Limits {
        of: row.text("of"),
        at_least: row.number("at_least").unwrap_or(f64::NEG_INFINITY),
        at_most: row.number("at_most").unwrap_or(f64::INFINITY),
        source: row.text("source"),
    };
    table.rows().map(limits).collect()
});

/// A rule and how the sheet as stated stands to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Check {
    /// Stable snake-case name of the rule.
    pub of: &'static str,
    /// What the sheet shows, in `unit`.
    pub value: f64,
    /// `meq/L` or `%` for the charge, else `1`.
    pub unit: &'static str,
    /// Least that is accepted.
    pub at_least: f64,
    /// Most that is accepted.
    pub at_most: f64,
    /// Whether it is.
    pub accepted: bool,
    /// Key of the rule's source in `data/sources.tsv`.
    pub source: &'static str,
}

/// The rules that the sheet says enough for. A needed ion that nobody stated leaves all of them unjudged but that of
/// solids against conductivity.
pub fn checks(found: &Reconciled) -> Vec<Check> {
    let (sheet, figures) = (&found.sheet, &found.figures);
    let unknowns = unknowns(sheet, figures, None);
    let open = unknowns.iter().any(|unknown| unknown.told == Told::Free);
    let amount = |of: Of| figures.iter().find(|figure| figure.of == of && !figure.below).map(|f| f.amount);
    let solids = [Of::Residue180c, Of::SumOfIons].into_iter().find_map(amount);
    let conductivity = amount(Of::Conductivity).filter(|kappa| *kappa > 0.0);
    let mut checks = Vec::new();
    if !open {
        let values = super::system::start(&unknowns, figures);
        let charge = |sign: f64| {
            let part = unknowns.iter().zip(&values).map(|(unknown, value)| sign * unknown.charge * value);
            part.filter(|part| *part > 0.0).sum::<f64>()
        };
        let (cations, anions) = (charge(1.0), charge(-1.0));
        checks.extend(charge_check(cations, anions));
        let dried = amount(Of::Residue180c).is_some();
        let computed: f64 =
            unknowns.iter().zip(&values).map(|(unknown, value)| unknown.solids(dried) * value).sum();
        let kappa = found.conductance.of(&stated_amounts(sheet, figures), &mut found.cell());
        checks.extend(solids.and_then(|solids| ratio("tds_measured_over_calculated", solids, computed)));
        if let Some(measured) = conductivity {
            checks.extend(ratio("conductivity_measured_over_calculated", measured, kappa));
            if sheet.salts.is_empty() {
                checks.extend(ratio("cations_over_conductivity", 100.0 * cations, measured));
                checks.extend(ratio("anions_over_conductivity", 100.0 * anions, measured));
            }
        }
    }
    if let (Some(solids), Some(measured)) = (solids, conductivity) {
        checks.extend(ratio("tds_over_conductivity", solids, measured));
    }
    checks
}

fn ratio(of: &'static str, above: f64, below: f64) -> Option<Check> {
    let limits = LIMITS.iter().find(|limits| limits.of == of)?;
    if below <= 0.0 {
        return None;
    }
    let value = above / below;
    let (at_least, at_most) = (limits.at_least, limits.at_most);
    let accepted = (at_least..=at_most).contains(&value);
    Some(Check { of, value, unit: "1", at_least, at_most, accepted, source: limits.source })
}

/// The charge of sums in meq/L.
fn charge_check(cations: f64, anions: f64) -> Option<Check> {
    let balance = ChargeBalance { cations: cations / 1000.0, anions: anions / 1000.0 };
    let (limit, unit) = balance.limit_of_standard_methods()?;
    let value = if unit == "%" { balance.percent() } else { cations - anions };
    let accepted = value.abs() <= limit;
    let source = "standard_methods_1030e";
    Some(Check { of: "charge_balance", value, unit, at_least: -limit, at_most: limit, accepted, source })
}
