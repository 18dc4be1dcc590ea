//! A suspicion in plain words.

use super::likely::{LikelyRow, Reconciled};
use super::mistake::Undone;
use super::ranking::{Correction, Weighed};
use super::sheet::Of;
use crate::formulation::words::number;
use crate::matter::component::Component;
use crate::quantity::{Measured, Unit, convert};

/// A suspicion in plain words with numbers.
pub(super) fn suspicion(
    found: &Reconciled,
    weighed: &Weighed,
    corrections: &[Correction],
    adds_up: bool,
) -> String {
    let end = if adds_up { "the sheet would add up" } else { "the sheet would come closer, not yet right" };
    let row = |at: usize| name(found, found.sheet.rows[at].of);
    let written = |at: usize| amount(&found.sheet.rows[at].measured);
    match &weighed.reading.undone {
        Undone::Rows(rows) if rows.len() > 1 => {
            let (one, two) = (row(rows[0].0), row(rows[1].0));
            format!("{}If {one} and {two} had changed places, {end}.", away(found, rows[0].0))
        }
        Undone::Rows(rows) => {
            let at = rows[0].0;
            let meant = meant(found, weighed.reading.code, at, &rows[0].1.measured, rows[0].1.of);
            format!("{}If {meant}, {end}{}.", away(found, at), would_be(found, at, corrections))
        }
        Undone::TakenAt(at, celsius) => {
            format!("{}If {} had been taken at {celsius} °C, {end}.", away(found, *at), written(*at))
        }
        Undone::Missing(component) => format!(
            "The sheet is silent of {}. If {} of it were in the water, {end}.",
            component.id(),
            corrections.first().map_or_else(|| "some".to_owned(), |one| amount(&one.measured))
        ),
        Undone::Unknown(at) => format!(
            "{}No usual mistake explains {}; the rest of the sheet tells {}.",
            away(found, *at),
            row(*at),
            corrections.first().map_or_else(|| "nothing of it".to_owned(), |one| amount(&one.measured))
        ),
    }
}

/// "SO4 is 3.1 u below the rest of the sheet. "
fn away(found: &Reconciled, at: usize) -> String {
    let row: &LikelyRow = &found.rows[at];
    match row.residual.filter(|residual| residual.abs() >= 2.0) {
        Some(residual) => {
            let side = if residual < 0.0 { "below" } else { "above" };
            let size = residual.abs();
            format!("{} is {size:.1} u {side} what the rest of the sheet tells. ", name(found, row.of))
        }
        None => String::new(),
    }
}

/// What one mistake supposes of a row.
fn meant(found: &Reconciled, code: &str, at: usize, meant: &Measured, of: Of) -> String {
    let row = &found.sheet.rows[at];
    let (id, written) = (name(found, row.of), amount(&row.measured));
    match code {
        "basis" => match meant.basis() {
            Some(basis) => {
                format!("the {} of {id} were expressed as {}", plain(&row.measured), basis.symbol())
            }
            None => format!("the {} of {id} were {id} itself", plain(&row.measured)),
        },
        "unit" => format!("the {} of {id} were {}", number(row.measured.value()), unit(meant)),
        "decimal" => format!("the point of {id} had slipped, so that {written} stood for {}", amount(meant)),
        "digits" => format!("digits of {id} were swapped, so that {written} stood for {}", amount(meant)),
        "lumped" => format!("the {written} of {id} held the potassium too"),
        "solids" => format!(
            "{written} of {id} were {}",
            if of == Of::SumOfIons { "the sum of the ions" } else { "the residue after drying" }
        ),
        "hydrate" => {
            let other = meant.basis().map_or_else(String::new, |basis| basis.symbol().to_owned());
            format!("the {} of {id} had been weighed as {other}", plain(&row.measured))
        }
        _ => format!("{id} were {}", amount(meant)),
    }
}

/// ": SO4 would be 42 mg/L", where the number as it is meant is not said already.
fn would_be(found: &Reconciled, at: usize, corrections: &[Correction]) -> String {
    let Some(Correction { of: Of::Component(component), measured }) = corrections.first() else {
        return String::new();
    };
    let plain = measured.unit() == Unit::MG_PER_L && measured.basis().is_none();
    if plain && found.sheet.rows[at].measured.basis().is_none() {
        return String::new();
    }
    let mg = convert(measured, &(*component).into(), Unit::MG_PER_L, None, &found.litre);
    mg.map_or_else(|_| String::new(), |mg| format!(": {} would be {} mg/L", component.id(), number(mg)))
}

/// A row as people call it.
fn name(found: &Reconciled, of: Of) -> String {
    match of {
        Of::Salt(at) => found.sheet.salts[at].name.to_owned(),
        Of::SumOfIons => "the sum of dissolved solids".to_owned(),
        Of::Residue180c => "the residue at 180 °C".to_owned(),
        Of::Component(component) if component == Component::HCO3 => "HCO3".to_owned(),
        other => other.id().to_owned(),
    }
}

fn unit(measured: &Measured) -> String {
    let as_basis = measured.basis().map_or_else(String::new, |basis| format!(" as {}", basis.symbol()));
    format!("{}{as_basis}", measured.unit().symbol())
}

fn plain(measured: &Measured) -> String {
    format!("{} {}", number(measured.value()), measured.unit().symbol())
}

fn amount(measured: &Measured) -> String {
    format!("{} {}", number(measured.value()), unit(measured))
}
