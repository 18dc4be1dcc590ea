//! The mistakes that sheets are found with, each undone: what the row would have meant.

use std::sync::LazyLock;

use super::digits::swapped_digits;
use super::figure::Figure;
use super::sheet::{Of, Row, Sheet};
use crate::composition::added::Added;
use crate::matter::catalogue;
use crate::matter::component::Component;
use crate::quantity::{Basis, Measured, Solution, Unit};
use crate::table::Table;

/// A sort of mistake, from the table.
struct Sort {
    code: &'static str,
    of: &'static str,
    meant: Vec<&'static str>,
    odds: f64,
}

static SORTS: LazyLock<Vec<Sort>> = LazyLock::new(|| {
    let table = Table::read(include_str!("../../../data/analysis_mistakes.tsv"));
    let sort = |row: crate::table::Row<'_>| Sort {
        code: row.text("code"),
        of: row.text("of"),
        meant: row.list("meant").collect(),
        odds: row.number("odds").unwrap_or(0.0),
    };
    table.rows().map(sort).collect()
});

/// What a reading undoes.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Undone {
    /// Rows replaced by what was meant.
    Rows(Vec<(usize, Row)>),
    /// A conductivity that was taken at this temperature in °C.
    TakenAt(usize, f64),
    /// A component of which the sheet is silent.
    Missing(Component),
    /// A row that is wrong in no way that is known.
    Unknown(usize),
}

/// One way in which the sheet may be meant.
#[derive(Clone, Debug)]
pub(super) struct Reading {
    pub(super) code: &'static str,
    /// Odds before the sheet was looked at.
    pub(super) odds: f64,
    pub(super) undone: Undone,
}

/// Readings are no readings when they change an amount by less than this share.
const NO_CHANGE: f64 = 0.01;

/// Every way in which a sheet may be meant that the table knows of.
pub(super) fn readings(sheet: &Sheet, figures: &[Figure], silent: &[Component]) -> Vec<Reading> {
    let mut found = Vec::new();
    for sort in SORTS.iter() {
        let mut enter = |undone: Undone| found.push(Reading { code: sort.code, odds: sort.odds, undone });
        if sort.code == "missing" {
            silent.iter().for_each(|component| enter(Undone::Missing(*component)));
            continue;
        }
        for (at, row) in sheet.rows.iter().enumerate() {
            if !figures[at].below && figures[at].amount > 0.0 && sort.speaks_of(row.of) {
                sort.undo(sheet, at, &mut enter);
            }
        }
    }
    found
}

/// Whether the figures differ enough to tell one reading from the sheet as it stands.
pub(super) fn differs(one: &Figure, other: &Figure) -> bool {
    one.of != other.of || (one.amount - other.amount).abs() > NO_CHANGE * one.amount
}

impl Sort {
    fn speaks_of(&self, of: Of) -> bool {
        match self.of {
            "*" if self.code == "unit" => matches!(of, Of::Component(_)),
            "*" => true,
            id => id == of.id(),
        }
    }

    fn undo(&self, sheet: &Sheet, at: usize, enter: &mut impl FnMut(Undone)) {
        let row = &sheet.rows[at];
        let mut alone = |of: Of, measured: Option<Measured>| {
            if let Some(measured) = measured {
                enter(Undone::Rows(vec![(at, Row { of, measured })]));
            }
        };
        match self.code {
            "basis" => self.meant.iter().for_each(|basis| alone(row.of, as_basis(&row.measured, basis))),
            "unit" => self.meant.iter().for_each(|unit| alone(row.of, in_unit(row, unit))),
            "decimal" => self.meant.iter().for_each(|by| alone(row.of, times(&row.measured, by))),
            "digits" => {
                let swaps = swapped_digits(row.measured.value()).into_iter();
                swaps.for_each(|value| alone(row.of, with_value(&row.measured, value, 1.0)));
            }
            "lumped" if sheet.row(Of::Component(Component::K)).is_some() => {
                alone(Of::SodiumAndPotassium, Some(row.measured.clone()));
            }
            "solids" => {
                let other =
                    self.meant.iter().filter_map(|id| Of::read(id)).find(|of| sheet.row(*of).is_none());
                other.into_iter().for_each(|of| alone(of, Some(row.measured.clone())));
            }
            "hydrate" => hydrates(sheet, row).into_iter().for_each(|measured| alone(row.of, Some(measured))),
            "exchanged" => self.exchanges(sheet, at).into_iter().for_each(enter),
            "temperature" if sheet.conductivity_c.is_none_or(|celsius| celsius == 25.0) => {
                let celsius = self.meant.iter().filter_map(|celsius| celsius.parse().ok());
                celsius.for_each(|celsius| enter(Undone::TakenAt(at, celsius)));
            }
            "unexplained" => enter(Undone::Unknown(at)),
            _ => {}
        }
    }

    /// This row with each of the others in whose place it may stand.
    fn exchanges(&self, sheet: &Sheet, at: usize) -> Vec<Undone> {
        let row = &sheet.rows[at];
        let of = |id: &&str| Of::read(id);
        let partners = self.meant.iter().filter_map(of).filter_map(|of| {
            sheet.rows.iter().position(|other| other.of == of && other.measured.comparator().is_none())
        });
        let alike = |other: &usize| {
            let other = &sheet.rows[*other].measured;
            other.unit() == row.measured.unit() && other.basis() == row.measured.basis()
        };
        partners
            .filter(alike)
            .map(|other| {
                let (one, two) = (row, &sheet.rows[other]);
                Undone::Rows(vec![
                    (at, Row { of: one.of, measured: two.measured.clone() }),
                    (other, Row { of: two.of, measured: one.measured.clone() }),
                ])
            })
            .collect()
    }
}

/// The same number expressed as something else; `-` is the row itself.
fn as_basis(measured: &Measured, basis: &str) -> Option<Measured> {
    if !measured.unit().states_mass() || measured.unit().own_basis().is_some() {
        return None;
    }
    let plain = plain(measured, measured.unit())?;
    match basis {
        "-" => Some(plain),
        basis => plain.with_basis(Basis::read(basis).ok()?).ok(),
    }
}

/// The same number in another unit; mg/L of hardness and of alkalinity are as CaCO3.
fn in_unit(row: &Row, unit: &str) -> Option<Measured> {
    let unit = Unit::read(unit).ok().filter(|unit| *unit != row.measured.unit())?;
    let plain = plain(&row.measured, unit)?;
    let needs_basis = unit == Unit::MG_PER_L && matches!(row.of, Of::Hardness | Of::Alkalinity);
    if needs_basis { plain.with_basis(Basis::read("CaCO3").ok()?).ok() } else { Some(plain) }
}

/// The number and its uncertainty alone, in a unit.
fn plain(measured: &Measured, unit: Unit) -> Option<Measured> {
    let plain = Measured::new(measured.value(), unit).ok()?;
    match measured.uncertainty() {
        Some(u) => plain.with_uncertainty(u, measured.coverage_factor()).ok(),
        None => Some(plain),
    }
}

/// The point moved: a factor such as `10` or `0.1`.
fn times(measured: &Measured, by: &str) -> Option<Measured> {
    let by: f64 = by.parse().ok()?;
    let inverse = 1.0 / by;
    // A tenth is no binary number: dividing by ten writes as short as it was.
    let value = if by < 1.0 { measured.value() / inverse.round() } else { measured.value() * by };
    with_value(measured, value, by)
}

/// Another number in the same unit and basis, its uncertainty times a factor.
fn with_value(measured: &Measured, value: f64, scale: f64) -> Option<Measured> {
    let mut changed = Measured::new(value, measured.unit()).ok()?;
    if let Some(basis) = measured.basis() {
        changed = changed.with_basis(basis.clone()).ok()?;
    }
    match measured.uncertainty() {
        Some(u) => changed.with_uncertainty(u * scale, measured.coverage_factor()).ok(),
        None => Some(changed),
    }
}

/// The weighed mass as that of another hydrate of the same salt.
fn hydrates(sheet: &Sheet, row: &Row) -> Vec<Measured> {
    let Of::Salt(at) = row.of else { return Vec::new() };
    let stated = sheet.salts[at];
    let Ok(own) = Added::of_salt(stated) else { return Vec::new() };
    let other = |salt: &&catalogue::Salt| {
        salt.id != stated.id
            && Added::of_salt(salt).is_ok_and(|added| {
                added.per_mole() == own.per_mole() && (added.water() - own.water()).abs() > 0.1
            })
    };
    let basis = |salt: &catalogue::Salt| as_basis(&row.measured, &salt.formula.as_ref()?.canonical());
    catalogue::salts().iter().filter(other).filter_map(basis).collect()
}

/// The figure of a row that was changed. A salt expressed as another hydrate counts by its moles.
pub(super) fn figure(sheet: &Sheet, row: &Row, litre: &Solution) -> Option<Figure> {
    let (Of::Salt(at), Some(basis)) = (row.of, row.measured.basis()) else {
        return Figure::of(row, litre).ok();
    };
    let ratio = sheet.salts[at].molar_mass()? / basis.molar_mass();
    let mass = plain(&row.measured, row.measured.unit())?;
    let figure = Figure::of(&Row { of: row.of, measured: mass }, litre).ok()?;
    Some(Figure { amount: figure.amount * ratio, uncertainty: figure.uncertainty * ratio, ..figure })
}
