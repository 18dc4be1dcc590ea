//! A row as a number: converted, with its standard uncertainty.

use std::sync::LazyLock;

use super::sheet::{Of, Row};
use crate::quantity::{Measured, QuantityError, Solution, convert};
use crate::table::Table;

/// A usual uncertainty of what laboratories report.
struct Usual {
    of: &'static str,
    relative: f64,
    absolute: f64,
}

static USUAL: LazyLock<Vec<Usual>> = LazyLock::new(|| {
    let table = Table::read(include_str!("../../../data/analysis_uncertainties.tsv"));
    let usual = |row: crate::table::Row<'_>| Usual {
        of: row.text("of"),
        relative: row.number("relative").unwrap_or(0.0),
        absolute: row.number("absolute").unwrap_or(0.0),
    };
    table.rows().map(usual).collect()
});

fn usual(of: &str) -> &'static Usual {
    let found = USUAL.iter().find(|row| row.of == of).or_else(|| USUAL.iter().find(|row| row.of == "other"));
    found.expect("the table has a row for all others")
}

/// A row of a sheet as a number.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Figure {
    pub(super) of: Of,
    /// In the unit of [`Of::unit`].
    pub(super) amount: f64,
    /// Standard uncertainty in that unit.
    pub(super) uncertainty: f64,
    /// The amount is a limit.
    pub(super) below: bool,
    /// The uncertainty is the usual one: nobody stated it.
    pub(super) usual: bool,
}

impl Figure {
    /// The figure of a row; `litre` tells what a litre weighs.
    pub(super) fn of(row: &Row, litre: &Solution) -> Result<Figure, QuantityError> {
        let (of, measured) = (row.of, &row.measured);
        let amount = convert(measured, &of.subject(), of.unit(), None, litre)?;
        let factor = factor(of, measured, litre)?;
        let stated = measured.standard_uncertainty().filter(|u| *u > 0.0);
        let uncertainty = match stated {
            Some(u) => u * factor,
            None => usual_uncertainty(of, amount, rounding(measured.value()) * factor),
        };
        let below = measured.comparator().is_some();
        Ok(Figure { of, amount, uncertainty, below, usual: stated.is_none() })
    }
}

/// What one of a written unit is in the unit of the row.
fn factor(of: Of, measured: &Measured, litre: &Solution) -> Result<f64, QuantityError> {
    let one = Measured::new(1.0, measured.unit())?;
    let one = measured.basis().map_or(Ok(one.clone()), |basis| one.with_basis(basis.clone()))?;
    convert(&one, &of.subject(), of.unit(), None, litre)
}

/// The usual standard uncertainty of a row, in its unit, with that of its rounding.
fn usual_uncertainty(of: Of, amount: f64, rounding: f64) -> f64 {
    let row = usual(of.id());
    let absolute = match of {
        Of::Component(component) => row.absolute / component.molar_mass(),
        _ => row.absolute,
    };
    (square(row.relative * amount) + square(absolute) + square(rounding)).sqrt()
}

/// Standard uncertainty of a rounded number by its last written place: the place over √12.
pub(super) fn rounding(value: f64) -> f64 {
    let written = value.to_string();
    let decimals = written.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    let place = (0..decimals).fold(1.0, |place, _| place / 10.0);
    place / 12.0_f64.sqrt()
}

/// What computing a quantity from ions adds to its standard uncertainty, as a share.
pub(super) fn model_share(of: Of) -> f64 {
    match of {
        Of::Conductivity => usual("conductivity_model").relative,
        Of::Residue180c => usual("residue_180c_model").relative,
        _ => 0.0,
    }
}

pub(super) fn square(value: f64) -> f64 {
    value * value
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::matter::component::Component;
    use crate::quantity::reading::read_measured;

    fn figure(of: Of, text: &str) -> Figure {
        Figure::of(&Row { of, measured: read_measured(text).unwrap().measured }, &Solution::default())
            .unwrap()
    }

    /// By hand: 40.078 mg/L of calcium is 1 mmol/L; ± 0.8 with k = 2 is 0.4 mg/L.
    #[test]
    fn a_row_becomes_a_number() {
        let calcium = figure(Of::Component(Component::CA), "40.078 ± 0.8 mg/L (k=2)");
        assert!((calcium.amount - 1.0).abs() < 1e-12 && !calcium.usual && !calcium.below);
        assert!((calcium.uncertainty - 0.4 / 40.078).abs() < 1e-12);
        // 2 % of 10 dH, 0.01 mmol/L and the rounding to a whole degree
        let hardness = figure(Of::Hardness, "10 dH");
        let degree = 10.0 / 56.077;
        let by_hand = square(0.015 * 10.0 * degree) + square(0.01) + square(degree) / 12.0;
        assert!((hardness.uncertainty / by_hand.sqrt() - 1.0).abs() < 1e-3 && hardness.usual);
        assert!(figure(Of::Component(Component::NO3), "<0.5 mg/L").below);
    }

    #[test]
    fn the_last_written_place_counts() {
        for (value, place) in [(21.5, 0.1), (12.0, 1.0), (0.25, 0.01), (350.0, 1.0)] {
            assert!((rounding(value) * 12.0_f64.sqrt() / place - 1.0).abs() < 1e-12, "{value}");
        }
    }
}
