//! One line in, one line out. Whatever a line does, the next one is not touched by it.

use std::panic::AssertUnwindSafe;

use springwright_contract::bulk::{BulkAnswer, RowStatus};

use super::lines::Line;
use crate::door::rejection::Rejection;
use crate::measures::Measures;
use springwright_contract::answer::bulk_line;
use springwright_contract::reading::Amounts;

/// The answers to a handful of lines, one a line.
pub fn answered(measures: &Measures, name: &str, lines: &[Line], limit: usize) -> String {
    let mut out = String::new();
    for line in lines {
        let answer = match line {
            Line::Whole(text) => {
                std::panic::catch_unwind(AssertUnwindSafe(|| bulk_line(name, text, Amounts::Objects)))
                    .unwrap_or_else(|_| refusal(&Rejection::OwnFailure))
            }
            Line::TooLong => refusal(&Rejection::TooLarge { limit }),
        };
        measures.row(answer.contains("\"status\":\"answered\""));
        out.push_str(&answer);
        out.push('\n');
    }
    out
}

/// A last line that tells why there are no more.
pub fn refused(rejection: &Rejection) -> String {
    refusal(rejection) + "\n"
}

/// A line whose id cannot be told.
fn refusal(rejection: &Rejection) -> String {
    let problem = Some(rejection.problem());
    let answer = BulkAnswer { id: String::new(), status: RowStatus::Refused, answer: None, problem };
    serde_json::to_string(&answer).unwrap_or_default()
}
