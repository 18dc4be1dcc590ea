//! The Python door: JSON text in, JSON text out. Everything that Python sees of the chemistry passes through the
//! functions of this module; the package `springwright` around it gives names, types and pages.
//!
//! A reply is what the HTTP door would send: a status and a body. Status 200 carries the answer, any other the
//! problem document. No function panics into Python, and the interpreter is free while the chemistry computes.

mod bulk;
mod reply;
mod table;

use pyo3::prelude::*;

/// The engine: JSON text in, JSON text out.
#[pymodule(gil_used = false)]
mod _native {
    use pyo3::buffer::PyBuffer;
    use pyo3::exceptions::PyValueError;
    use pyo3::prelude::*;
    use pyo3::pybacked::PyBackedBytes;
    use pyo3::types::PyBytes;
    use springwright_contract::answer;
    use springwright_contract::answer::table::WaterTable;
    use springwright_contract::problem::{Fault, Problem};
    use springwright_contract::reading::Amounts;

    use crate::reply::{self, Reply};

    /// Columns by name, as bytes.
    type Columns<'py> = Vec<(String, Bound<'py, PyBytes>)>;
    /// Status, problem or assumptions, columns, places of the codes, codes.
    type TableReply<'py> = (u16, String, Columns<'py>, Bound<'py, PyBytes>, Vec<&'static str>);

    /// Names of the calculations.
    #[pyfunction]
    fn calculations() -> Vec<&'static str> {
        answer::calculations().to_vec()
    }

    /// Answers one request: the status and the JSON text of the answer (200) or of the problem.
    #[pyfunction]
    fn calculate(py: Python<'_>, name: &str, body: &[u8]) -> Reply {
        py.detach(|| reply::guarded(|| answer::calculate(name, body, Amounts::Expressions)))
    }

    /// Answers many lines `{"id", "request"}`, each with the line `{"id", "status", "answer" | "problem"}`, in order.
    /// Without a number of threads it takes as many as the machine offers.
    #[pyfunction]
    fn calculate_bulk(
        py: Python<'_>,
        name: &str,
        lines: Vec<PyBackedBytes>,
        threads: Option<usize>,
    ) -> PyResult<Vec<String>> {
        crate::bulk::answer_all(py, name, &lines, threads)
    }

    /// Solves a table of waters: the status and the problem where it is refused as a whole; else the names of the answered
    /// columns, their cells as native doubles (NaN where a row has no answer), for each row the place of its code as one
    /// byte, and the codes; the first, empty, says that a row is answered. In place of the problem then stand the
    /// assumptions as JSON text.
    #[pyfunction]
    fn solve_table<'py>(
        py: Python<'py>,
        request: &[u8],
        columns: Vec<PyBuffer<f64>>,
        threads: Option<usize>,
    ) -> PyResult<TableReply<'py>> {
        let table = match WaterTable::read(request) {
            Ok(table) => table,
            Err(problem) => {
                return Ok((
                    problem.status,
                    problem.to_json(),
                    Vec::new(),
                    PyBytes::new(py, &[]),
                    Vec::new(),
                ));
            }
        };
        let given = columns.iter().map(|column| column.to_vec(py)).collect::<PyResult<Vec<_>>>()?;
        if given.iter().any(|column| column.len() != given[0].len()) {
            return Err(PyValueError::new_err("columns of different length"));
        }
        let solved = crate::table::solve(py, &table, &given, threads)?;
        let cells = table.answered().into_iter().zip(solved.columns);
        let cells = cells.map(|(name, column)| Ok((name, crate::table::bytes(py, &column)?)));
        let (places, codes) = crate::table::numbered(&solved.codes);
        let assumptions = serde_json::to_string(table.assumptions()).map_err(no_such_shape)?;
        Ok((200, assumptions, cells.collect::<PyResult<_>>()?, PyBytes::new(py, &places), codes))
    }

    /// A page of the catalogue: the status and the JSON text of the page (200) or of the problem.
    #[pyfunction]
    fn salts(py: Python<'_>, query: &[u8]) -> Reply {
        py.detach(|| reply::guarded(|| reply::salts(query)))
    }

    /// Version of the engine.
    #[pyfunction]
    fn engine() -> &'static str {
        answer::engine()
    }

    /// SHA-256 of the compiled-in data tables, in hex.
    #[pyfunction]
    fn data_set() -> &'static str {
        answer::data_set()
    }

    /// The same JSON as every door writes it: no spaces, shortest numbers. Status 400 where it is no JSON.
    #[pyfunction]
    fn rewrite(text: &[u8]) -> Reply {
        reply::guarded(|| reply::rewritten(text))
    }

    /// The problem that lists these faults, given and returned as JSON text.
    #[pyfunction]
    fn refusal(faults: &str) -> PyResult<String> {
        let faults: Vec<Fault> = serde_json::from_str(faults).map_err(no_such_shape)?;
        Ok(Problem::refused(faults).to_json())
    }

    /// A problem in words: its title and detail, then each fault with its place and how to mend it.
    #[pyfunction]
    fn in_words(problem: &str) -> PyResult<String> {
        let problem: Problem = serde_json::from_str(problem).map_err(no_such_shape)?;
        Ok(problem.to_string())
    }

    fn no_such_shape(error: serde_json::Error) -> PyErr {
        PyValueError::new_err(error.to_string())
    }
}
