//! Tables of waters: columns of numbers in and out, on threads that live no longer than the call.

use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{self, RecvTimeoutError};
use std::thread;
use std::time::Duration;

use pyo3::prelude::*;
use pyo3::types::PyBytes;
use springwright_contract::answer::table::WaterTable;

/// Rows that a thread takes at a time.
const CHUNK: usize = 4096;
/// How often a long call looks whether somebody pressed Ctrl-C.
const LOOK_UP: Duration = Duration::from_millis(100);

/// A part of the table: its columns in, its cells out.
struct Part<'a> {
    given: Vec<&'a [f64]>,
    cells: Vec<&'a mut [f64]>,
    codes: &'a mut [Option<&'static str>],
}

/// What a table answers: its columns in their order, and for each row its code where it was not answered.
pub struct Solved {
    /// Columns, each as long as the table.
    pub columns: Vec<Vec<f64>>,
    /// Codes.
    pub codes: Vec<Option<&'static str>>,
}

/// Solves every row. The answers depend neither on the number of threads nor on the parts.
///
/// # Errors
/// What a signal handler of Python raises meanwhile, such as `KeyboardInterrupt`.
pub fn solve(
    py: Python<'_>,
    table: &WaterTable,
    given: &[Vec<f64>],
    threads: Option<usize>,
) -> PyResult<Solved> {
    let rows = given.first().map_or(0, Vec::len);
    let mut columns = vec![vec![0.0; rows]; table.answered().len()];
    let mut codes = vec![None; rows];
    let parts = Mutex::new(parts(given, &mut columns, &mut codes));
    let threads = threads.or_else(|| thread::available_parallelism().ok().map(usize::from)).unwrap_or(1);
    py.detach(|| on_threads(table, &parts, threads.clamp(1, rows.div_ceil(CHUNK).max(1))))?;
    drop(parts);
    Ok(Solved { columns, codes })
}

/// A column as the bytes of its doubles.
///
/// # Errors
/// Where Python has no memory left.
pub fn bytes<'py>(py: Python<'py>, column: &[f64]) -> PyResult<Bound<'py, PyBytes>> {
    PyBytes::new_with(py, size_of_val(column), |bytes| {
        let cells = bytes.chunks_exact_mut(size_of::<f64>()).zip(column);
        cells.for_each(|(bytes, cell)| bytes.copy_from_slice(&cell.to_ne_bytes()));
        Ok(())
    })
}

/// The place of each code among the codes that occur; the first is that of an answered row. There are far fewer than
/// a byte can number.
pub fn numbered(codes: &[Option<&'static str>]) -> (Vec<u8>, Vec<&'static str>) {
    let mut known = vec![""];
    let place = |code: &Option<&'static str>| {
        let Some(code) = *code else { return 0 };
        let at = known.iter().position(|own| *own == code).unwrap_or_else(|| {
            known.push(code);
            known.len() - 1
        });
        u8::try_from(at).unwrap_or(u8::MAX)
    };
    (codes.iter().map(place).collect(), known)
}

fn parts<'a>(
    given: &'a [Vec<f64>],
    columns: &'a mut [Vec<f64>],
    codes: &'a mut [Option<&'static str>],
) -> Vec<Part<'a>> {
    let mut cells: Vec<_> = columns.iter_mut().map(|column| column.chunks_mut(CHUNK)).collect();
    let part = |(at, codes): (usize, &'a mut [Option<&'static str>])| {
        let rows = at * CHUNK..at * CHUNK + codes.len();
        Part {
            given: given.iter().map(|column| &column[rows.clone()]).collect(),
            cells: cells.iter_mut().filter_map(Iterator::next).collect(),
            codes,
        }
    };
    let mut parts: Vec<Part<'a>> = codes.chunks_mut(CHUNK).enumerate().map(part).collect();
    // taken from the end
    parts.reverse();
    parts
}

fn on_threads(table: &WaterTable, parts: &Mutex<Vec<Part<'_>>>, threads: usize) -> PyResult<()> {
    let stop = AtomicBool::new(false);
    let work = || {
        while !stop.load(Ordering::Relaxed) {
            let taken = parts.lock().ok().and_then(|mut parts| parts.pop());
            let Some(mut part) = taken else { return };
            table.solve(&part.given, &mut part.cells, part.codes);
        }
    };
    thread::scope(|scope| {
        let (running, all_done) = mpsc::channel::<()>();
        for _ in 0..threads {
            let running = running.clone();
            let spawned = thread::Builder::new().spawn_scoped(scope, move || {
                work();
                drop(running);
            });
            if spawned.is_err() {
                work();
            }
        }
        drop(running);
        while let Err(RecvTimeoutError::Timeout) = all_done.recv_timeout(LOOK_UP) {
            if let Err(raised) = Python::attach(|py| py.check_signals()) {
                stop.store(true, Ordering::Relaxed);
                return Err(raised);
            }
        }
        Ok(())
    })
}
