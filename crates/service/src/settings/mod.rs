//! What the service can be told: one struct, filled from defaults, then a TOML file, then the environment, then
//! flags; the later one wins. Checked once, before anything is bound, and with every fault at once.

mod check;
mod declared;
mod file;

pub use check::SettingFault;
pub use declared::{Layer, Settings};

use std::path::PathBuf;

/// Why the settings cannot be used.
#[derive(Debug, thiserror::Error)]
pub enum SettingsError {
    /// The settings file cannot be opened.
    #[error("the settings file {} cannot be read: {source}", .path.display())]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// The settings file is not TOML, or names a setting that does not exist.
    #[error("the settings file {} is not understood: {message}", .path.display())]
    NotUnderstood {
        /// The file.
        path: PathBuf,
        /// Line, column and cause.
        message: String,
    },
    /// Some settings contradict their range or each other.
    #[error("{}", list(.0))]
    Refused(Vec<SettingFault>),
}

fn list(faults: &[SettingFault]) -> String {
    faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
}

impl Settings {
    /// The settings that hold: `flags` (which already carry the environment) over `file` over the defaults.
    ///
    /// # Errors
    /// When the file cannot be read or a value is refused; all refused values are told at once.
    pub fn read(flags: Layer, file: Option<&std::path::Path>) -> Result<Self, SettingsError> {
        let file = file.map(file::read).transpose()?.unwrap_or_default();
        let settings = flags.over(file).settled();
        settings.check()?;
        Ok(settings)
    }

    /// The settings as a TOML text that can be used as a settings file again, except that key digests are masked.
    pub fn shown(&self) -> String {
        file::write(&self.masked())
    }

    fn masked(&self) -> Self {
        let mut shown = self.clone();
        shown.keys = crate::key::masked(&self.keys);
        shown
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn layer(text: &str) -> Layer {
        toml::from_str(text).unwrap()
    }

    #[test]
    fn flags_win_over_the_file_and_the_file_over_the_defaults() {
        let flags = layer("in_flight = 7");
        let file = layer("in_flight = 9\nworkers = 3");
        let settings = flags.over(file).settled();
        assert_eq!(settings.in_flight, 7);
        assert_eq!(settings.workers, 3);
        assert_eq!(settings.body_limit_bytes, Settings::default().body_limit_bytes);
    }

    #[test]
    fn a_misspelled_setting_is_an_error_not_a_silence() {
        assert!(toml::from_str::<Layer>("worker = 3").unwrap_err().to_string().contains("worker"));
    }

    #[test]
    fn shown_settings_read_back_and_hide_the_digests() {
        let digest = "ab".repeat(32);
        let settings = layer(&format!("keys = \"press {digest}\"\nrate_per_minute = 60")).settled();
        let shown = settings.shown();
        assert!(shown.contains("press") && !shown.contains(&digest), "{shown}");
        assert_eq!(layer(&shown).settled(), settings.masked());
    }

    #[test]
    fn every_refused_value_is_told_at_once() {
        let settings = layer("workers = 0\nin_flight = 0\nlisten = \"0.0.0.0:80\"").settled();
        let Err(SettingsError::Refused(faults)) = settings.check() else { panic!("must be refused") };
        let names: Vec<_> = faults.iter().map(SettingFault::setting).collect();
        assert_eq!(names, ["workers", "in_flight", "listen"]);
    }
}
