//! The ranges of the settings, and the one rule that joins two of them: no key, no address beyond loopback.

use std::ops::RangeInclusive;

use super::{Settings, SettingsError};

/// One setting that is refused.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum SettingFault {
    /// The value lies outside its range.
    #[error("{setting} = {value} is outside {low} to {high}")]
    OutOfRange {
        /// Name of the setting.
        setting: &'static str,
        /// What was given.
        value: u64,
        /// Least that is accepted.
        low: u64,
        /// Most that is accepted.
        high: u64,
    },
    /// The service would be reachable from outside without a key.
    #[error(
        "listen = {listen} can be reached from other machines, and no API key is configured: run \
         \"springwright key new LABEL\", put the printed line into a file and name it with --key-file, or listen \
         on 127.0.0.1"
    )]
    Exposed {
        /// The address that was asked for.
        listen: std::net::SocketAddr,
    },
}

impl SettingFault {
    /// Name of the refused setting.
    pub fn setting(&self) -> &'static str {
        match self {
            Self::OutOfRange { setting, .. } => setting,
            Self::Exposed { .. } => "listen",
        }
    }
}

impl Settings {
    /// Refuses values outside their range and an address beyond loopback without a key.
    pub(crate) fn check(&self) -> Result<(), SettingsError> {
        let ranges: [(&'static str, u64, RangeInclusive<u64>); 10] = [
            ("workers", self.workers as u64, 1..=512),
            ("calculation_threads", self.calculation_threads as u64, 1..=1024),
            ("in_flight", self.in_flight as u64, 1..=100_000),
            ("body_limit_bytes", self.body_limit_bytes as u64, 1024..=64 << 20),
            ("bulk_ahead_bytes", self.bulk_ahead_bytes as u64, 0..=1 << 30),
            ("body_timeout_s", self.body_timeout_s, 1..=3600),
            ("answer_timeout_s", self.answer_timeout_s, 1..=3600),
            ("keep_alive_s", self.keep_alive_s, 0..=3600),
            ("drain_delay_s", self.drain_delay_s, 0..=300),
            ("drain_timeout_s", self.drain_timeout_s, 1..=3600),
        ];
        let mut faults: Vec<SettingFault> = ranges
            .into_iter()
            .filter(|(_, value, range)| !range.contains(value))
            .map(|(setting, value, range)| SettingFault::OutOfRange {
                setting,
                value,
                low: *range.start(),
                high: *range.end(),
            })
            .collect();
        if !(1..=100_000).contains(&self.rate_burst) {
            let value = u64::from(self.rate_burst);
            faults.push(SettingFault::OutOfRange { setting: "rate_burst", value, low: 1, high: 100_000 });
        }
        if !self.listen.ip().to_canonical().is_loopback() && !self.names_keys() {
            faults.push(SettingFault::Exposed { listen: self.listen });
        }
        if faults.is_empty() { Ok(()) } else { Err(SettingsError::Refused(faults)) }
    }

    /// Whether any key is configured; an empty key file is refused when it is read.
    fn names_keys(&self) -> bool {
        !self.key_file.as_os_str().is_empty() || !crate::key::masked(&self.keys).is_empty()
    }
}
