//! `springwright config`.

use std::process::ExitCode;

use super::{Configured, failed, print};

pub(super) fn run(configured: Configured) -> ExitCode {
    match configured.settings() {
        Ok(settings) => print(&settings.shown()),
        Err(error) => failed(error),
    }
}
