//! `springwright openapi`.

use std::process::ExitCode;

pub(super) fn run() -> ExitCode {
    super::print(crate::door::document::text())
}
