//! Tables of waters: columns in, columns out. A row has the bits that `speciation` answers for the same water alone,
//! whatever stands beside it, and a bad row spoils nothing: it has its code, and its cells stay empty.

use std::sync::LazyLock;

use springwright_chem::phases::solids::Solid;
use springwright_chem::properties::Held;
use springwright_chem::quantity::Dimension;
use springwright_chem::quantity::reading::read_measured;

use super::faults::{fault, own};
use super::sheet::{Figure, Sheet, milli};
use super::{amounts, co2, saturation};
use crate::measured::Measured;
use crate::problem::{Fault, Problem};
use crate::reading::{self, Amounts, Read, SchemaSet, below};
use crate::said::Assumption;
use crate::source_water::{Analysis, SourceWater};
use crate::table::TableRequest;

mod rows;

/// What stands in a cell without an answer. It never leaves the doors: each has its own way to say "nothing".
pub const EMPTY: f64 = f64::NAN;

/// Columns that a table answers unless it asks for some of them, in their order; those of the solids follow.
pub const ANSWERED: [&str; 9] = [
    "ph",
    "alkalinity_meq_per_l",
    "dic_mmol_per_l",
    "co2_mg_per_l",
    "pco2_bar",
    "ionic_strength_mol_per_kg",
    "density_kg_per_l",
    "conductivity_us_per_cm_at_25c",
    "conductivity_us_per_cm_at_temperature",
];

/// A table of waters that was asked for, ready for rows.
#[derive(Clone, Debug)]
pub struct WaterTable {
    /// The sheet of which every row is a copy with other figures.
    sheet: Sheet,
    fills: Vec<Fill>,
    brought_to_c: Option<f64>,
    held: Held,
    solids: Vec<&'static Solid>,
    wanted: Wanted,
    assumptions: Vec<Assumption>,
}

/// Which of the columns of [`ANSWERED`] are answered.
#[derive(Clone, Copy, Debug)]
struct Wanted([bool; ANSWERED.len()]);

impl Wanted {
    /// Reads the names, or every fault of them.
    fn read(names: Option<&[String]>) -> Result<Wanted, Vec<Fault>> {
        let Some(names) = names else { return Ok(Wanted([true; ANSWERED.len()])) };
        let mut wanted = Wanted([false; ANSWERED.len()]);
        let mut faults = Vec::new();
        for (at, name) in names.iter().enumerate() {
            match ANSWERED.iter().position(|known| known == name) {
                Some(place) => wanted.0[place] = true,
                None => {
                    let message = format!("'{name}' is no column that a table answers");
                    let accepted = ANSWERED.map(str::to_owned).to_vec();
                    let mend = "use one of these; saturation indices are asked for by solids";
                    faults.push(Fault {
                        accepted,
                        ..own(below("/answers", at), "column_unknown", message, mend)
                    });
                }
            }
        }
        if faults.is_empty() { Ok(wanted) } else { Err(faults) }
    }

    fn count(self) -> usize {
        self.0.iter().filter(|wanted| **wanted).count()
    }

    /// Writes a row of all columns into the cells of those that are answered.
    fn write(self, told: [f64; ANSWERED.len()], cells: &mut [&mut [f64]], row: usize) {
        let wanted = told.into_iter().zip(self.0).filter(|(_, wanted)| *wanted);
        wanted.zip(cells).for_each(|((value, _), cells)| cells[row] = value);
    }
}

/// What a column fills in.
#[derive(Clone, Copy, Debug)]
enum Fill {
    /// An amount; so many mmol (or meq) in one of its unit.
    Amount(Figure, f64),
    Ph,
    Temperature,
}

impl WaterTable {
    /// Reads what is asked; the columns come in the order of their names.
    ///
    /// # Errors
    /// A problem that names every fault at once.
    pub fn read(body: &[u8]) -> Result<WaterTable, Problem> {
        static SCHEMAS: LazyLock<SchemaSet> = LazyLock::new(reading::schemas_of::<TableRequest>);
        let Read { request, mut assumptions, mut faults, .. } =
            reading::read::<TableRequest>(body, &SCHEMAS, Amounts::Objects)?;
        let mut analysis = Analysis::default();
        let mut fills = Vec::new();
        for (name, unit) in &request.columns {
            match unit_of(name, unit).and_then(|unit| Ok((fill(name, &unit)?, unit))) {
                Ok((fill, unit)) => {
                    if let Unit::Of(measured) = unit {
                        analysis.0.insert(name.clone(), measured);
                    }
                    fills.push(fill);
                }
                Err(own) => faults.extend(own),
            }
        }
        let has = |wanted: &str| request.columns.contains_key(wanted);
        let water = SourceWater {
            analysis: Some(analysis),
            ph: has("ph").then_some(7.0),
            temperature_c: request.temperature_c,
            missing: request.missing.clone(),
            end_point_ph: request.end_point_ph,
            ..SourceWater::default()
        };
        if has("temperature_c") && request.temperature_c.is_some() {
            let message = "the temperature is stated for all rows and has a column";
            faults.push(own("/temperature_c", "temperature_stated_twice", message, "leave out one of them"));
        }
        let sheet = Sheet::read(&water, "/columns", &mut assumptions).map_err(|own| faults.extend(own)).ok();
        let held =
            co2::read(request.co2.as_ref(), "/co2", &mut assumptions).map_err(|own| faults.extend(own)).ok();
        let wanted = Wanted::read(request.answers.as_deref()).map_err(|own| faults.extend(own)).ok();
        let solids = request.solids.unwrap_or_default();
        let solids: Vec<_> = solids
            .iter()
            .enumerate()
            .filter_map(|(at, name)| {
                saturation::solid(name, &below("/solids", at)).map_err(|own| faults.push(own)).ok()
            })
            .collect();
        match (sheet, held, wanted) {
            (Some(sheet), Some(held), Some(wanted)) if faults.is_empty() => {
                assumptions.extend(taken_for_granted(&sheet, has("temperature_c"))?);
                let brought_to_c = request.brought_to_c;
                Ok(WaterTable { sheet, fills, brought_to_c, held, solids, wanted, assumptions })
            }
            _ => Err(Problem::refused(faults.into_iter().map(in_column).collect())),
        }
    }

    /// What was taken for granted of every row.
    pub fn assumptions(&self) -> &[Assumption] {
        &self.assumptions
    }

    /// The names of the answered columns, in their order.
    pub fn answered(&self) -> Vec<String> {
        let indices = self.solids.iter().map(|solid| format!("si_{}", solid.id));
        let wanted = ANSWERED.iter().zip(self.wanted.0).filter(|(_, wanted)| *wanted);
        wanted.map(|(name, _)| (*name).to_owned()).chain(indices).collect()
    }
}

/// What a sheet with these columns takes for granted; or what in them contradicts itself whatever the figures are.
fn taken_for_granted(sheet: &Sheet, has_temperature: bool) -> Result<Vec<Assumption>, Problem> {
    let mut assumptions = Vec::new();
    if let Err(faults) = sheet.totals(Some((&mut assumptions, &mut Vec::new()))) {
        const WHATEVER: [&str; 3] = ["rule_for_stated", "by_charge_twice", "cannot_balance_on"];
        let faults: Vec<Fault> = faults
            .into_iter()
            .filter(|fault| WHATEVER.contains(&fault.code.as_str()))
            .map(in_column)
            .collect();
        return if faults.is_empty() { Ok(Vec::new()) } else { Err(Problem::refused(faults)) };
    }
    let of_a_column = |one: &Assumption| has_temperature && one.code == "temperature_assumed";
    let of_all = |one: Assumption| Assumption {
        pointer: in_place(&one.pointer),
        effect: "It differs from row to row: speciation of a row alone tells it.".to_owned(),
        ..one
    };
    Ok(assumptions.into_iter().filter(|one| !of_a_column(one)).map(of_all).collect())
}

/// The unit of a column.
enum Unit {
    /// One of its unit.
    Of(Measured),
    Ph,
    Temperature,
}

fn unit_of(name: &str, unit: &str) -> Result<Unit, Vec<Fault>> {
    let at = below("/columns", name);
    let read = read_measured(&format!("1 {unit}")).map_err(|error| vec![fault(&at, &error)])?.measured;
    let of = |dimension: Dimension, accepted: &str, unit: Unit| {
        let message = format!("the column {name} is counted in {accepted}");
        if read.unit().dimension() == dimension {
            Ok(unit)
        } else {
            Err(vec![own(&at, "unit_mismatch", message, "state it so")])
        }
    };
    match name {
        "ph" => of(Dimension::Ph, "pH", Unit::Ph),
        "temperature_c" => of(Dimension::Temperature, "°C", Unit::Temperature),
        _ => Ok(Unit::Of(amounts::stated(&read))),
    }
}

fn fill(name: &str, unit: &Unit) -> Result<Fill, Vec<Fault>> {
    let at = below("/columns", name);
    match unit {
        Unit::Ph => Ok(Fill::Ph),
        Unit::Temperature => Ok(Fill::Temperature),
        Unit::Of(one) => {
            let figure = Figure::named(name, &at).map_err(|own| vec![own])?;
            Ok(Fill::Amount(figure, milli(figure, one, &at)?))
        }
    }
}

/// Where in the request something of the sheet stands.
fn in_place(pointer: &str) -> String {
    for field in ["missing", "temperature_c", "end_point_ph"] {
        if let Some(rest) = pointer.strip_prefix(&format!("/columns/{field}")) {
            return format!("/{field}{rest}");
        }
    }
    if pointer == "/columns/analysis" {
        "/columns".to_owned()
    } else {
        pointer.replace("/columns/analysis/", "/columns/")
    }
}

/// A fault of the sheet at the column that it speaks of.
fn in_column(mut fault: Fault) -> Fault {
    fault.pointer = in_place(&fault.pointer);
    for tail in ["/unit", "/basis"] {
        if fault.pointer.starts_with("/columns/")
            && let Some(column) = fault.pointer.strip_suffix(tail)
        {
            fault.pointer = column.to_owned();
        }
    }
    fault
}
