//! The settings file: TOML, one setting a line.

use std::path::Path;

use super::{Layer, Settings, SettingsError};

pub(super) fn read(path: &Path) -> Result<Layer, SettingsError> {
    let text = std::fs::read_to_string(path)
        .map_err(|source| SettingsError::Unreadable { path: path.to_owned(), source })?;
    toml::from_str(&text)
        .map_err(|error| SettingsError::NotUnderstood { path: path.to_owned(), message: error.to_string() })
}

/// Every setting is a number, a text or a switch, so that writing cannot fail.
pub(super) fn write(settings: &Settings) -> String {
    toml::to_string(settings).unwrap_or_default()
}
