//! The one place where a request becomes a calculation and its result an answer. Every door calls
//! [`calculate`]; so all of them give the same bytes.

pub mod amounts;
mod blend;
mod carbonate;
mod carbonation;
mod catalogue;
mod co2;
mod compatibility;
mod conversion;
mod digest;
mod drawing;
mod faults;
mod haze;
mod life_path;
mod mixture;
mod precipitation;
mod reconciliation;
mod said;
mod saturation;
mod scale_up;
mod sheet;
mod source;
mod speciation;
mod state;
pub mod table;
mod titration;
mod uncertainty;
mod water;
mod weighing;

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};
use serde_json::Value;
use serde_json::value::RawValue;

use crate::blend::BlendRequest;
use crate::bulk::{BulkAnswer, RowStatus};
use crate::carbonation::CarbonationRequest;
use crate::compatibility::CompatibilityRequest;
use crate::conversion::ConversionRequest;
use crate::life_path::LifePathRequest;
use crate::mixture::MixtureRequest;
use crate::precipitation::PrecipitationRequest;
use crate::problem::{Fault, Problem};
use crate::reading::{self, Amounts, Read, SchemaSet};
use crate::reconciliation::ReconciliationRequest;
use crate::saturation::SaturationRequest;
use crate::scale_up::ScaleUpRequest;
use crate::speciation::SpeciationRequest;
use crate::titration::TitrationRequest;
use crate::weighing::WeighingRequest;

pub use catalogue::{salts, salts_json};
pub use digest::{data_set, engine};
pub(crate) use faults::nearest;

/// Name of the model behind answers that need no solved state.
pub(crate) const TOTALS: &str = "totals";

/// The names of the calculations, as they stand in paths and on the command line.
pub fn calculations() -> &'static [&'static str] {
    &[
        "conversion",
        "mixture",
        "speciation",
        "saturation",
        "carbonation",
        "titration",
        "precipitation",
        "compatibility",
        "life-path",
        "blend",
        "weighing",
        "scale-up",
        "reconciliation",
    ]
}

/// Answers a request: the body of `POST /v1/calculations/{name}`, the answer as JSON text.
///
/// # Errors
/// A [`Problem`] that names every fault at once.
pub fn calculate(name: &str, body: &[u8], amounts: Amounts) -> Result<String, Problem> {
    match name {
        "conversion" => {
            static SCHEMAS: LazyLock<SchemaSet> = LazyLock::new(reading::schemas_of::<ConversionRequest>);
            respond(reading::read(body, &SCHEMAS, amounts)?, conversion::answer)
        }
        "mixture" => {
            static SCHEMAS: LazyLock<SchemaSet> = LazyLock::new(reading::schemas_of::<MixtureRequest>);
            respond(reading::read(body, &SCHEMAS, amounts)?, mixture::answer)
        }
        "speciation" => {
            static SCHEMAS: LazyLock<SchemaSet> = LazyLock::new(reading::schemas_of::<SpeciationRequest>);
            respond(reading::read(body, &SCHEMAS, amounts)?, speciation::answer)
        }
        "saturation" => {
            static SCHEMAS: LazyLock<SchemaSet> = LazyLock::new(reading::schemas_of::<SaturationRequest>);
            respond(reading::read(body, &SCHEMAS, amounts)?, saturation::answer)
        }
        "carbonation" => {
            static SCHEMAS: LazyLock<SchemaSet> = LazyLock::new(reading::schemas_of::<CarbonationRequest>);
            respond(reading::read(body, &SCHEMAS, amounts)?, carbonation::answer)
        }
        "titration" => {
            static SCHEMAS: LazyLock<SchemaSet> = LazyLock::new(reading::schemas_of::<TitrationRequest>);
            respond(reading::read(body, &SCHEMAS, amounts)?, titration::answer)
        }
        "precipitation" => {
            static SCHEMAS: LazyLock<SchemaSet> = LazyLock::new(reading::schemas_of::<PrecipitationRequest>);
            respond(reading::read(body, &SCHEMAS, amounts)?, precipitation::answer)
        }
        "compatibility" => {
            static SCHEMAS: LazyLock<SchemaSet> = LazyLock::new(reading::schemas_of::<CompatibilityRequest>);
            respond(reading::read(body, &SCHEMAS, amounts)?, compatibility::answer)
        }
        "life-path" => {
            static SCHEMAS: LazyLock<SchemaSet> = LazyLock::new(reading::schemas_of::<LifePathRequest>);
            respond(reading::read(body, &SCHEMAS, amounts)?, life_path::answer)
        }
        "blend" => {
            static SCHEMAS: LazyLock<SchemaSet> = LazyLock::new(reading::schemas_of::<BlendRequest>);
            respond(reading::read(body, &SCHEMAS, amounts)?, blend::answer)
        }
        "weighing" => {
            static SCHEMAS: LazyLock<SchemaSet> = LazyLock::new(reading::schemas_of::<WeighingRequest>);
            respond(reading::read(body, &SCHEMAS, amounts)?, weighing::answer)
        }
        "scale-up" => {
            static SCHEMAS: LazyLock<SchemaSet> = LazyLock::new(reading::schemas_of::<ScaleUpRequest>);
            respond(reading::read(body, &SCHEMAS, amounts)?, scale_up::answer)
        }
        "reconciliation" => {
            static SCHEMAS: LazyLock<SchemaSet> = LazyLock::new(reading::schemas_of::<ReconciliationRequest>);
            respond(reading::read(body, &SCHEMAS, amounts)?, reconciliation::answer)
        }
        unknown => Err(Problem::no_calculation(unknown, calculations())),
    }
}

fn respond<T, A: Serialize>(
    mut read: Read<T>,
    answer: impl FnOnce(Read<T>) -> Result<A, Vec<Fault>>,
) -> Result<String, Problem> {
    let mut faults = std::mem::take(&mut read.faults);
    let answered = answer(read);
    if faults.is_empty() {
        return finite_json(&answered.map_err(Problem::refused)?);
    }
    faults.extend(answered.err().unwrap_or_default().into_iter().filter(is_of_the_words));
    Err(Problem::refused(faults))
}

/// Whether a fault lies in what was written, and not in what a number leads to for which another stands in.
fn is_of_the_words(fault: &Fault) -> bool {
    const WRITTEN: [&str; 12] = [
        "unit_",
        "basis_",
        "number_",
        "equivalents_",
        "density_",
        "limit_",
        "expression_",
        "component_",
        "salt_",
        "hydrate_",
        "solid_",
        "field_",
    ];
    !fault.pointer.is_empty() && WRITTEN.iter().any(|written| fault.code.starts_with(written))
}

/// JSON text of an answer. A number that is not finite would be written as `null` and break the schema; it is the
/// engine's own failure and never leaves.
fn finite_json(answer: &impl Serialize) -> Result<String, Problem> {
    let value = serde_json::to_value(answer).map_err(|_| Problem::own_failure())?;
    if has_null(&value) {
        return Err(Problem::own_failure());
    }
    serde_json::to_string(&value).map_err(|_| Problem::own_failure())
}

fn has_null(value: &Value) -> bool {
    match value {
        Value::Null => true,
        Value::Array(items) => items.iter().any(has_null),
        Value::Object(fields) => fields.values().any(has_null),
        Value::Bool(_) | Value::Number(_) | Value::String(_) => false,
    }
}

/// Answers one line of a bulk request with one line. A bad row is an answer like any other and spoils no other row.
pub fn bulk_line(name: &str, line: &[u8], amounts: Amounts) -> String {
    let answer = match serde_json::from_slice::<RawRow<'_>>(line) {
        Ok(row) => bulk_row(name, row, amounts),
        Err(error) => {
            refused(String::new(), Problem::not_json(format!("a line is {{\"id\", \"request\"}}: {error}")))
        }
    };
    serde_json::to_string(&answer).unwrap_or_default()
}

/// A [`BulkRow`](crate::bulk::BulkRow) whose request is kept as written, so that a field that stands twice is seen.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawRow<'a> {
    id: String,
    #[serde(borrow)]
    request: &'a RawValue,
}

fn bulk_row(name: &str, row: RawRow<'_>, amounts: Amounts) -> BulkAnswer {
    let answered = calculate(name, row.request.get().as_bytes(), amounts)
        .and_then(|text| serde_json::from_str(&text).map_err(|_| Problem::own_failure()));
    match answered {
        Ok(answer) => {
            BulkAnswer { id: row.id, status: RowStatus::Answered, answer: Some(answer), problem: None }
        }
        Err(problem) => refused(row.id, problem),
    }
}

fn refused(id: String, problem: Problem) -> BulkAnswer {
    // The request was good; the counted work ended first.
    let ended = problem.faults.iter().any(|fault| fault.code == SEARCH_ENDED);
    let status = if ended { RowStatus::NotConverged } else { RowStatus::Refused };
    BulkAnswer { id, status, answer: None, problem: Some(problem) }
}

/// Code of the fault that says so.
const SEARCH_ENDED: &str = "search_ended";

#[cfg(test)]
mod tests {
    use springwright_chem::fault::Fault as _;
    use springwright_chem::formulation::FormulationError;

    use super::*;

    #[test]
    fn a_row_whose_search_ended_is_told_from_a_refused_one() {
        let row = |error: FormulationError| {
            refused("a".to_owned(), Problem::refused(vec![faults::fault("", &error)]))
        };
        assert_eq!(FormulationError::SearchEnded.code(), SEARCH_ENDED);
        assert_eq!(row(FormulationError::SearchEnded).status, RowStatus::NotConverged);
        assert_eq!(row(FormulationError::AsksNothing).status, RowStatus::Refused);
    }
}
