//! What the running service counts: requests, refusals, times, rows. Counts only; never a word of a recipe.

use std::fmt::Write as _;
use std::sync::atomic::{AtomicI64, AtomicU64, Ordering::Relaxed};
use std::time::Duration;

use crate::door::operation::{Operation, operations};
use crate::readiness::Phase;

/// Statuses that are counted one by one; others are counted together as "other".
const STATUSES: [u16; 18] =
    [200, 304, 308, 400, 401, 403, 404, 405, 408, 409, 413, 415, 422, 429, 431, 500, 501, 503];

/// Upper ends of the time classes, seconds.
const TIMES: [f64; 12] = [0.0005, 0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 1.0, 2.5, 10.0];

/// Counts of one operation.
#[derive(Default)]
struct Counts {
    statuses: [AtomicU64; STATUSES.len() + 1],
    times: [AtomicU64; TIMES.len() + 1],
    microseconds: AtomicU64,
}

/// Everything that is counted; one for the whole process.
pub struct Measures {
    by_operation: Vec<Counts>,
    elsewhere: Counts,
    under_way: AtomicI64,
    rows_answered: AtomicU64,
    rows_refused: AtomicU64,
}

impl Default for Measures {
    fn default() -> Self {
        Self {
            by_operation: operations().iter().map(|_| Counts::default()).collect(),
            elsewhere: Counts::default(),
            under_way: AtomicI64::new(0),
            rows_answered: AtomicU64::new(0),
            rows_refused: AtomicU64::new(0),
        }
    }
}

impl Measures {
    /// A request has arrived.
    pub fn begin(&self) {
        self.under_way.fetch_add(1, Relaxed);
    }

    /// A request has been answered to its last byte, or its caller has gone.
    pub fn end(&self, operation: Option<&'static Operation>, status: u16, took: Duration) {
        self.under_way.fetch_sub(1, Relaxed);
        let counts = operation.map_or(&self.elsewhere, |operation| &self.by_operation[operation.index]);
        let status = STATUSES.iter().position(|&known| known == status).unwrap_or(STATUSES.len());
        let class = TIMES.iter().position(|&end| took.as_secs_f64() <= end).unwrap_or(TIMES.len());
        counts.statuses[status].fetch_add(1, Relaxed);
        counts.times[class].fetch_add(1, Relaxed);
        counts.microseconds.fetch_add(took.as_micros() as u64, Relaxed);
    }

    /// One row of a bulk request has been judged.
    pub fn row(&self, answered: bool) {
        let count = if answered { &self.rows_answered } else { &self.rows_refused };
        count.fetch_add(1, Relaxed);
    }

    /// The counts in the Prometheus text format, version 0.0.4.
    pub fn text(&self, phase: Phase) -> String {
        let mut text = String::new();
        // Writing to a String cannot fail.
        let _ = self.write(&mut text, phase);
        text
    }

    fn write(&self, out: &mut String, phase: Phase) -> std::fmt::Result {
        head(out, "springwright_ready", "gauge", "1 when the service may be asked, else 0.")?;
        writeln!(out, "springwright_ready {}", u8::from(phase == Phase::Ready))?;
        head(
            out,
            "springwright_requests_under_way",
            "gauge",
            "Requests not yet answered to their last byte.",
        )?;
        writeln!(out, "springwright_requests_under_way {}", self.under_way.load(Relaxed))?;
        head(out, "springwright_rows_total", "counter", "Rows of bulk requests, by what became of them.")?;
        for (status, count) in [("answered", &self.rows_answered), ("refused", &self.rows_refused)] {
            writeln!(out, "springwright_rows_total{{status=\"{status}\"}} {}", count.load(Relaxed))?;
        }
        head(out, "springwright_requests_total", "counter", "Requests, by operation and HTTP status.")?;
        self.each(|name, counts| counts.write_statuses(out, name))?;
        head(
            out,
            "springwright_request_seconds",
            "histogram",
            "From the head of a request to the last byte sent.",
        )?;
        self.each(|name, counts| counts.write_times(out, name))
    }

    fn each(&self, mut write: impl FnMut(&str, &Counts) -> std::fmt::Result) -> std::fmt::Result {
        for (operation, counts) in operations().iter().zip(&self.by_operation) {
            write(&operation.id, counts)?;
        }
        write("none", &self.elsewhere)
    }
}

impl Counts {
    fn write_statuses(&self, out: &mut String, operation: &str) -> std::fmt::Result {
        for (index, count) in self.statuses.iter().map(|count| count.load(Relaxed)).enumerate() {
            if count > 0 {
                let status = STATUSES.get(index).map_or("other".to_owned(), u16::to_string);
                let labels = format!("operation=\"{operation}\",status=\"{status}\"");
                writeln!(out, "springwright_requests_total{{{labels}}} {count}")?;
            }
        }
        Ok(())
    }

    fn write_times(&self, out: &mut String, operation: &str) -> std::fmt::Result {
        let counts: Vec<u64> = self.times.iter().map(|count| count.load(Relaxed)).collect();
        if counts.iter().all(|&count| count == 0) {
            return Ok(());
        }
        let mut so_far = 0;
        for (index, count) in counts.iter().enumerate() {
            so_far += count;
            let end = TIMES.get(index).map_or("+Inf".to_owned(), f64::to_string);
            let labels = format!("operation=\"{operation}\",le=\"{end}\"");
            writeln!(out, "springwright_request_seconds_bucket{{{labels}}} {so_far}")?;
        }
        let seconds = self.microseconds.load(Relaxed) as f64 * 1e-6;
        writeln!(out, "springwright_request_seconds_sum{{operation=\"{operation}\"}} {seconds}")?;
        writeln!(out, "springwright_request_seconds_count{{operation=\"{operation}\"}} {so_far}")
    }
}

fn head(out: &mut String, name: &str, kind: &str, help: &str) -> std::fmt::Result {
    writeln!(out, "# HELP {name} {help}\n# TYPE {name} {kind}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn time_classes_add_up_and_statuses_are_kept_apart() {
        let measures = Measures::default();
        let operation = operations().first();
        for (status, micros) in [(200, 400), (200, 3_000), (418, 20_000_000)] {
            measures.begin();
            measures.end(operation, status, Duration::from_micros(micros));
        }
        let text = measures.text(Phase::Ready);
        let id = &operation.unwrap().id;
        for line in [
            format!("springwright_requests_total{{operation=\"{id}\",status=\"200\"}} 2"),
            format!("springwright_requests_total{{operation=\"{id}\",status=\"other\"}} 1"),
            format!("springwright_request_seconds_bucket{{operation=\"{id}\",le=\"0.0005\"}} 1"),
            format!("springwright_request_seconds_bucket{{operation=\"{id}\",le=\"10\"}} 2"),
            format!("springwright_request_seconds_bucket{{operation=\"{id}\",le=\"+Inf\"}} 3"),
            format!("springwright_request_seconds_count{{operation=\"{id}\"}} 3"),
            "springwright_requests_under_way 0".to_owned(),
        ] {
            assert!(text.lines().any(|present| present == line), "{line} is missing in\n{text}");
        }
    }
}
