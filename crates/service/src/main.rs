//! The springwright binary.

use std::process::ExitCode;

fn main() -> ExitCode {
    springwright_service::command::run()
}
