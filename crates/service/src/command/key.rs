//! `springwright key new`.

use std::process::ExitCode;

use clap::{Subcommand, ValueEnum};

use super::{failed, print};
use crate::key::{self, KeyDigest, KeyLine, Permission};

#[derive(Subcommand)]
pub(super) enum Key {
    /// Print a new key and the line that makes it known to a service. The key is shown this once.
    New {
        /// Who will hold the key: letters, digits, "-", "_" or ".".
        label: String,
        /// What the key opens; everything unless given.
        #[arg(long, value_enum, value_delimiter = ',')]
        may: Vec<May>,
    },
}

/// What a key opens, as said on the command line.
#[derive(Clone, Copy, ValueEnum)]
pub(super) enum May {
    /// Calculations and reference data.
    Calculate,
    /// Measures of the running service.
    Operate,
}

impl Key {
    pub(super) fn run(self) -> ExitCode {
        let Self::New { label, may } = self;
        let label = match KeyLine::label(&label) {
            Ok(label) => label,
            Err(error) => return failed(error),
        };
        let key = match key::fresh() {
            Ok(key) => key,
            Err(error) => return failed(format!("the system gave no random bits: {error}")),
        };
        let line = KeyLine { label, digest: KeyDigest::of(&key), may: permissions(&may) };
        print(&format!(
            "key, for the caller (shown this once, kept nowhere):\n  {key}\nline, for the key file of the service:\n  \
             {}\n",
            line.text()
        ))
    }
}

fn permissions(may: &[May]) -> Vec<Permission> {
    if may.is_empty() {
        return Permission::ALL.to_vec();
    }
    let mut permissions: Vec<Permission> = may
        .iter()
        .map(|may| match may {
            May::Calculate => Permission::Calculate,
            May::Operate => Permission::Operate,
        })
        .collect();
    permissions.sort_unstable();
    permissions.dedup();
    permissions
}
