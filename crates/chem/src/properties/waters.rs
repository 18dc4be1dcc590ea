//! Tables of waters: columns in, columns out, a row for each water.
//!
//! Rows of the same components are solved side by side in lanes. A row has the bits of the same water solved alone,
//! whatever stands beside it, and a bad row spoils nothing: it has its status, and its cells are not touched. The columns
//! belong to the caller, so memory does not grow with the table.

use crate::composition::dissolved::is_carbonate;
use crate::equilibrium::plan::Question;
use crate::equilibrium::validity::WATERS_C;
use crate::equilibrium::{EquilibriumError, Given, Known, Scheme};
use crate::fault::{Fault, Kind as FaultKind};
use crate::matter::component::Component;
use crate::phases::solids::Solid;
use kind::Kind;
use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use std::sync::Arc;
use thiserror::Error;

mod batch;
mod current;
mod kind;

/// Rows that are sorted by kind at a time.
const CHUNK: usize = 2048;
/// Kinds of water kept at hand.
const MOST_KINDS: usize = 64;

/// How one row came out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Status {
    /// Solved; its cells are filled.
    #[default]
    Answered,
    /// The temperature lies outside the model.
    Temperature,
    /// A component is dissolved that the model has no constants for.
    Component,
    /// Stronger than the model reaches.
    TooStrong,
    /// An amount is negative or not a number.
    Amount,
    /// No water has the two carbonate quantities together.
    NoSuchWater,
    /// The counted search did not settle.
    NotConverged,
}

impl Status {
    /// The status word of a row: `answered`, `refused` or `not_converged`.
    pub fn word(self) -> &'static str {
        match self {
            Status::Answered => "answered",
            Status::NotConverged => "not_converged",
            _ => "refused",
        }
    }

    /// The code of the fault, as [`EquilibriumError`] has it; none for an answered row. The fault with its figures comes
    /// from solving the row alone.
    pub fn code(self) -> Option<&'static str> {
        match self {
            Status::Answered => None,
            Status::Temperature => Some("temperature_outside_model"),
            Status::Component => Some("outside_model"),
            Status::TooStrong => Some("too_strong_for_model"),
            Status::Amount => Some("amount_out_of_range"),
            Status::NoSuchWater => Some("no_such_water"),
            Status::NotConverged => Some("not_converged"),
        }
    }
}

impl From<&EquilibriumError> for Status {
    fn from(error: &EquilibriumError) -> Status {
        match error {
            EquilibriumError::Temperature { .. } => Status::Temperature,
            EquilibriumError::Component { .. } => Status::Component,
            EquilibriumError::TooStrong { .. } => Status::TooStrong,
            EquilibriumError::Amount { .. } | EquilibriumError::StatedTwice { .. } => Status::Amount,
            EquilibriumError::NoSuchWater { .. } => Status::NoSuchWater,
            EquilibriumError::NotConverged { .. } => Status::NotConverged,
        }
    }
}

/// A quantity of the carbonate system, a row for each water; units as [`Known`] has them.
#[derive(Clone, Copy, Debug)]
pub enum Carbonate<'a> {
    /// Alkalinity in its charge form, eq/kg water.
    Alkalinity(&'a [f64]),
    /// All dissolved carbonate, mol/kg water.
    Dic(&'a [f64]),
    /// pH.
    Ph(&'a [f64]),
    /// Partial pressure of CO2, bar.
    Pco2(&'a [f64]),
    /// Dissolved CO2, mol/kg water.
    Co2(&'a [f64]),
}

impl<'a> Carbonate<'a> {
    fn column(self) -> &'a [f64] {
        match self {
            Carbonate::Alkalinity(column)
            | Carbonate::Dic(column)
            | Carbonate::Ph(column)
            | Carbonate::Pco2(column)
            | Carbonate::Co2(column) => column,
        }
    }

    fn known(self, row: usize) -> Known {
        let value = self.column()[row];
        match self {
            Carbonate::Alkalinity(_) => Known::Alkalinity(value),
            Carbonate::Dic(_) => Known::Dic(value),
            Carbonate::Ph(_) => Known::Ph(value),
            Carbonate::Pco2(_) => Known::Pco2(value),
            Carbonate::Co2(_) => Known::Co2(value),
        }
    }
}

/// Waters as columns of equal length.
#[derive(Clone, Copy, Debug)]
pub struct Waters<'a> {
    /// Temperature, °C.
    pub temperature_c: &'a [f64],
    /// Conserved amounts, mol per kg of water; a component without a column is not there. Carbonate stands in
    /// `carbonate`.
    pub totals: &'a [(Component, &'a [f64])],
    /// Two quantities of the carbonate system.
    pub carbonate: [Carbonate<'a>; 2],
}

/// The water in a litre of a row, kg: from the density of the row at a temperature in °C with an alkalinity, eq/kg, and
/// dissolved carbonate, mol/kg. What is not above zero leaves the conductivity of the row out.
pub type WaterPerLitre<'a> = &'a dyn Fn(usize, f64, f64, f64) -> f64;

/// A solid with the column of its saturation index.
pub type Index<'a> = (&'static Solid, &'a mut [f64]);

/// Where the answers go; each column as long as the table. A cell without an answer is not touched: every cell of a row
/// that is not answered, an index of a solid whose ions are absent, a conductivity outside its equation, a pressure that no gas has.
#[derive(Default)]
pub struct Answers<'a> {
    /// How each row came out.
    pub status: &'a mut [Status],
    /// pH.
    pub ph: Option<&'a mut [f64]>,
    /// Alkalinity, eq/kg water.
    pub alkalinity: Option<&'a mut [f64]>,
    /// All dissolved carbonate, mol/kg water.
    pub dic: Option<&'a mut [f64]>,
    /// Dissolved CO2, mol/kg water.
    pub co2: Option<&'a mut [f64]>,
    /// CO2 pressure that the water stands in equilibrium with, bar.
    pub pco2_bar: Option<&'a mut [f64]>,
    /// Ionic strength, mol/kg water.
    pub ionic_strength: Option<&'a mut [f64]>,
    /// Largest residual of mass, charge and equilibrium.
    pub residual: Option<&'a mut [f64]>,
    /// Saturation indices.
    pub saturation: Vec<Index<'a>>,
    /// The water in a litre; without it there is no conductivity.
    pub water_kg_per_l: Option<WaterPerLitre<'a>>,
    /// Conductivity at the temperature of the row, µS/cm.
    pub conductivity: Option<&'a mut [f64]>,
    /// Conductivity of the same closed water solved at 25 °C, µS/cm.
    pub conductivity_25c: Option<&'a mut [f64]>,
}

/// What can be wrong with a whole table.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum TableError {
    /// A column is not as long as the table.
    #[error("the column {what} has {got} rows; the table has {rows}")]
    Length {
        /// Which column.
        what: &'static str,
        /// Its length.
        got: usize,
        /// Length of the temperature column.
        rows: usize,
    },
    /// The two carbonate quantities say the same thing.
    #[error(transparent)]
    Carbonate(#[from] EquilibriumError),
}

impl Fault for TableError {
    fn code(&self) -> &'static str {
        match self {
            TableError::Length { .. } => "columns_differ_in_length",
            TableError::Carbonate(error) => error.code(),
        }
    }

    fn kind(&self) -> FaultKind {
        match self {
            TableError::Length { .. } => FaultKind::OutOfRange,
            TableError::Carbonate(error) => error.kind(),
        }
    }

    fn mend(&self) -> String {
        match self {
            TableError::Length { rows, .. } => format!("Give every column {rows} rows."),
            TableError::Carbonate(error) => error.mend(),
        }
    }
}

/// Solves every row of a table.
///
/// ```
/// use springwright_chem::matter::component::Component;
/// use springwright_chem::phases::solids;
/// use springwright_chem::properties::waters::{Answers, Carbonate, Status, Waters, solve};
/// let (alkalinity, dic, calcium) = ([0.004, 0.004, 0.004], [0.0042; 3], [0.002, -1.0, 0.001]);
/// let waters = Waters {
///     temperature_c: &[12.0, 12.0, 60.0],
///     totals: &[(Component::CA, &calcium)],
///     carbonate: [Carbonate::Alkalinity(&alkalinity), Carbonate::Dic(&dic)],
/// };
/// let (mut status, mut ph, mut index) = ([Status::Answered; 3], [0.0; 3], [0.0; 3]);
/// let calcite = solids::find("calcite").expect("a solid of the table");
/// let mut answers = Answers { status: &mut status, ph: Some(&mut ph), ..Answers::default() };
/// answers.saturation.push((calcite, &mut index));
/// solve(&waters, &mut answers)?;
/// assert_eq!(status.map(Status::word), ["answered", "refused", "answered"]);
/// assert!(index[0] > 0.0 && ph[1] == 0.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// Columns of different length; two carbonate quantities that say the same thing. What is wrong with one row is its
/// status.
pub fn solve(waters: &Waters<'_>, answers: &mut Answers<'_>) -> Result<(), TableError> {
    check(waters, answers)?;
    let mut kinds: BTreeMap<u64, Kind> = BTreeMap::new();
    let mut order: Vec<(u64, u8, usize)> = Vec::with_capacity(CHUNK);
    let rows = waters.temperature_c.len();
    for from in (0..rows).step_by(CHUNK) {
        order.clear();
        for row in from..rows.min(from + CHUNK) {
            match waters.sort(row) {
                Ok((mask, question)) => order.push((mask, question, row)),
                Err(status) => answers.status[row] = status,
            }
        }
        order.sort_unstable();
        for alike in order.chunk_by(|a, b| (a.0, a.1) == (b.0, b.1)) {
            let (mask, _, first) = alike[0];
            if kinds.len() >= MOST_KINDS && !kinds.contains_key(&mask) {
                kinds.clear();
            }
            let kind = match kinds.entry(mask) {
                Entry::Occupied(entry) => entry.into_mut(),
                Entry::Vacant(entry) => match Scheme::of(&waters.given(first).totals) {
                    Ok(scheme) => entry.insert(Kind::new(Arc::new(scheme), answers)),
                    Err(error) => {
                        let status = Status::from(&error);
                        alike.iter().for_each(|(_, _, row)| answers.status[*row] = status);
                        continue;
                    }
                },
            };
            kind.solve(waters, alike, answers);
        }
    }
    Ok(())
}

fn check(waters: &Waters<'_>, answers: &Answers<'_>) -> Result<(), TableError> {
    let rows = waters.temperature_c.len();
    let mut lengths = vec![
        ("status", answers.status.len()),
        ("first carbonate quantity", waters.carbonate[0].column().len()),
        ("second carbonate quantity", waters.carbonate[1].column().len()),
    ];
    lengths.extend(waters.totals.iter().map(|(component, column)| (component.id(), column.len())));
    let named = [
        ("ph", &answers.ph),
        ("alkalinity", &answers.alkalinity),
        ("dic", &answers.dic),
        ("co2", &answers.co2),
        ("pco2_bar", &answers.pco2_bar),
        ("ionic_strength", &answers.ionic_strength),
        ("residual", &answers.residual),
        ("conductivity", &answers.conductivity),
        ("conductivity_25c", &answers.conductivity_25c),
    ];
    lengths.extend(named.iter().filter_map(|(name, column)| Some((*name, column.as_ref()?.len()))));
    lengths.extend(answers.saturation.iter().map(|(solid, column)| (solid.id, column.len())));
    if let Some((what, got)) = lengths.into_iter().find(|(_, length)| *length != rows) {
        return Err(TableError::Length { what, got, rows });
    }
    let kinds = waters.carbonate.map(|quantity| match quantity {
        Carbonate::Alkalinity(_) => Known::Alkalinity(1.0),
        Carbonate::Dic(_) => Known::Dic(1.0),
        Carbonate::Ph(_) => Known::Ph(1.0),
        Carbonate::Pco2(_) => Known::Pco2(1.0),
        Carbonate::Co2(_) => Known::Co2(1.0),
    });
    Ok(Given::new(kinds[0], kinds[1]).check()?)
}

impl Waters<'_> {
    /// What is known of one row.
    pub fn given(&self, row: usize) -> Given {
        let mut given = Given::new(self.carbonate[0].known(row), self.carbonate[1].known(row));
        for (component, column) in self.totals.iter().filter(|(component, _)| !is_carbonate(*component)) {
            given.totals[component.index()] += column[row];
        }
        given
    }

    /// Which components a row has and which question it asks; or why it cannot be asked.
    fn sort(&self, row: usize) -> Result<(u64, u8), Status> {
        let given = self.given(row);
        given.check().map_err(|error| Status::from(&error))?;
        if !(WATERS_C.0..=WATERS_C.1).contains(&self.temperature_c[row]) {
            return Err(Status::Temperature);
        }
        let mut mask = 0;
        for (at, amount) in given.totals.iter().enumerate() {
            mask |= u64::from(*amount > 0.0) << at;
        }
        // the questions that the short way does not take stand in a row of their own
        Ok((mask, Question::of(given.carbonate).map_or(u8::MAX, |question| question.number() as u8)))
    }
}
