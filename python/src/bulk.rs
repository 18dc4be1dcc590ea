//! Many requests at once, on threads that live no longer than the call: nothing is left running that a fork could
//! catch half-way.

use std::num::NonZero;
use std::sync::OnceLock;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::mpsc::{self, RecvTimeoutError};
use std::thread;
use std::time::Duration;

use pyo3::prelude::*;
use pyo3::pybacked::PyBackedBytes;
use springwright_contract::Problem;
use springwright_contract::answer;
use springwright_contract::bulk::{BulkAnswer, BulkRow, RowStatus};
use springwright_contract::reading::Amounts;

use crate::reply;

/// How often a long call looks whether somebody pressed Ctrl-C.
const LOOK_UP: Duration = Duration::from_millis(100);

/// Lines to answer, the answers so far, and which line is next.
struct Work<'a> {
    name: &'a str,
    lines: &'a [PyBackedBytes],
    answers: Vec<OnceLock<String>>,
    next: AtomicUsize,
    stop: AtomicBool,
}

impl Work<'_> {
    /// Takes one line after another until none is left.
    fn run(&self) {
        while !self.stop.load(Ordering::Relaxed) {
            let at = self.next.fetch_add(1, Ordering::Relaxed);
            let (Some(line), Some(answer)) = (self.lines.get(at), self.answers.get(at)) else { return };
            let text = match reply::guarded(|| Ok(answer::bulk_line(self.name, line, Amounts::Expressions))) {
                (200, text) => text,
                _ => failed(line),
            };
            answer.get_or_init(|| text);
        }
    }
}

/// The line that says that the engine itself failed on a row.
fn failed(line: &[u8]) -> String {
    let id = serde_json::from_slice::<BulkRow>(line).map(|row| row.id).unwrap_or_default();
    let problem = Some(Problem::own_failure());
    serde_json::to_string(&BulkAnswer { id, status: RowStatus::Refused, answer: None, problem })
        .unwrap_or_default()
}

/// Answers every line, in order, on at most `threads` threads, or as many as the machine offers. The answers do not
/// depend on their number.
///
/// # Errors
/// What a signal handler of Python raises meanwhile, such as `KeyboardInterrupt`.
pub fn answer_all(
    py: Python<'_>,
    name: &str,
    lines: &[PyBackedBytes],
    threads: Option<usize>,
) -> PyResult<Vec<String>> {
    let work = Work {
        name,
        lines,
        answers: lines.iter().map(|_| OnceLock::new()).collect(),
        next: AtomicUsize::new(0),
        stop: AtomicBool::new(false),
    };
    let threads = threads.or_else(|| thread::available_parallelism().ok().map(NonZero::get)).unwrap_or(1);
    py.detach(|| run_on_threads(&work, threads.clamp(1, lines.len().max(1))))?;
    Ok(work.answers.into_iter().filter_map(OnceLock::into_inner).collect())
}

/// Runs the work on threads and looks up for signals until all of them are done.
fn run_on_threads(work: &Work<'_>, threads: usize) -> PyResult<()> {
    thread::scope(|scope| {
        let (running, all_done) = mpsc::channel::<()>();
        for _ in 0..threads {
            let running = running.clone();
            let spawned = thread::Builder::new().spawn_scoped(scope, move || {
                work.run();
                drop(running);
            });
            if spawned.is_err() {
                // No thread to be had: this one does the work, at worst alone.
                work.run();
            }
        }
        drop(running);
        while let Err(RecvTimeoutError::Timeout) = all_done.recv_timeout(LOOK_UP) {
            if let Err(raised) = Python::attach(|py| py.check_signals()) {
                work.stop.store(true, Ordering::Relaxed);
                return Err(raised);
            }
        }
        Ok(())
    })
}
