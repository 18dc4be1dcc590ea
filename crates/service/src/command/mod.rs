//! What the binary does from the shell.

mod calculate;
mod config;
mod healthcheck;
mod key;
mod openapi;
mod serve;

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, Parser, Subcommand};

use crate::settings::{Layer, Settings, SettingsError};

/// The engine failed, or the call itself was wrong.
const OWN_FAILURE: u8 = 1;
/// The request was refused.
const REFUSED: u8 = 2;
/// The command line was not understood (EX_USAGE of sysexits.h), so that 2 always means a refused request.
const USAGE: u8 = 64;

/// From a water analysis and a shelf of salts to grams on the scale.
#[derive(Parser)]
#[command(name = "springwright", version)]
struct Cli {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    /// Answer one request from a file, as a sheet to read or as JSON.
    Calculate(calculate::Calculate),
    /// Serve calculations over HTTP until told to stop.
    Serve(Configured),
    /// Make an API key.
    #[command(subcommand)]
    Key(key::Key),
    /// Ask a running service whether it is ready; exit code 0 says yes.
    Healthcheck(healthcheck::Healthcheck),
    /// Print the settings that hold, as a settings file, keys masked.
    Config(Configured),
    /// Print the OpenAPI document.
    Openapi,
}

/// Where settings come from: flags, then the environment, then a file, then the defaults.
#[derive(Args)]
struct Configured {
    /// Settings file (TOML).
    #[arg(long, env = "SPRINGWRIGHT_CONFIG", value_name = "FILE")]
    config: Option<PathBuf>,
    #[command(flatten)]
    flags: Layer,
}

impl Configured {
    fn settings(self) -> Result<Settings, SettingsError> {
        Settings::read(self.flags, self.config.as_deref())
    }
}

/// Reads the command line and does what it says.
pub fn run() -> ExitCode {
    let command = match Cli::try_parse() {
        Ok(cli) => cli.command,
        Err(error) => {
            let _ = error.print();
            return if error.use_stderr() { USAGE.into() } else { ExitCode::SUCCESS };
        }
    };
    match command {
        Command::Calculate(calculate) => calculate.run(),
        Command::Serve(configured) => serve::run(configured),
        Command::Key(key) => key.run(),
        Command::Healthcheck(healthcheck) => healthcheck.run(),
        Command::Config(configured) => config::run(configured),
        Command::Openapi => openapi::run(),
    }
}

/// Tells on standard error what went wrong.
fn failed(error: impl std::fmt::Display) -> ExitCode {
    eprintln!("springwright: {error}");
    OWN_FAILURE.into()
}

/// Writes to standard output; a reader that has gone away (`| head`) is no failure.
fn print(text: &str) -> ExitCode {
    use std::io::{ErrorKind, Write as _};
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => failed(error),
        _ => ExitCode::SUCCESS,
    }
}
