//! What goes back to Python: a status and a body, as over HTTP.

use std::panic::{AssertUnwindSafe, catch_unwind};

use serde_json::Value;
use springwright_contract::Problem;
use springwright_contract::answer;
use springwright_contract::reading::{self, Amounts};
use springwright_contract::salts::SaltsQuery;

/// Status and JSON text: 200 with the answer, any other with the problem.
pub type Reply = (u16, String);

/// Runs `work` so that not even a panic crosses into Python; a panic is the engine's own failure.
pub fn guarded(work: impl FnOnce() -> Result<String, Problem>) -> Reply {
    match catch_unwind(AssertUnwindSafe(work)) {
        Ok(Ok(text)) => (200, text),
        Ok(Err(problem)) => (problem.status, problem.to_json()),
        Err(_) => {
            let problem = Problem::own_failure();
            (problem.status, problem.to_json())
        }
    }
}

/// The page of the catalogue that a query, given as JSON text, asks for.
pub fn salts(query: &[u8]) -> Result<String, Problem> {
    let schemas = reading::schemas_of::<SaltsQuery>();
    let query: SaltsQuery = reading::read(query, &schemas, Amounts::Objects)?.request;
    serde_json::to_string(&answer::salts(&query)?).map_err(|_| Problem::own_failure())
}

/// JSON text as every door writes it.
pub fn rewritten(text: &[u8]) -> Result<String, Problem> {
    let value: Value = serde_json::from_slice(text).map_err(|error| Problem::not_json(error.to_string()))?;
    Ok(value.to_string())
}
