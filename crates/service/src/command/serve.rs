//! `springwright serve`.

use std::process::ExitCode;

use super::{Configured, failed};
use crate::application::{Application, StartError};
use crate::log;

pub(super) fn run(configured: Configured) -> ExitCode {
    log::hide_panic_messages();
    match serve(configured) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => failed(error),
    }
}

fn serve(configured: Configured) -> Result<(), StartError> {
    let application = Application::build(configured.settings()?)?;
    actix_web::rt::System::new().block_on(application.run())
}
