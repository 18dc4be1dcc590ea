//! A point in time as records write it: RFC 3339 in UTC, to the second, so that the order of the texts is the
//! order of the moments on either database.

use crate::fault::{Fault, Kind};
use time::format_description::well_known::Rfc3339;
use time::{OffsetDateTime, UtcOffset};

/// A point in time, UTC, to the second (years 0000 to 9999).
///
/// ```
/// use springwright_records::moment::Moment;
///
/// let moment = Moment::read("2026-03-01T09:30:00.250+01:00")?;
/// assert_eq!(moment.to_string(), "2026-03-01T08:30:00Z");
/// assert!(moment < Moment::read("2026-03-01T08:30:01Z")?);
/// # Ok::<(), springwright_records::moment::MomentError>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Moment(OffsetDateTime);

/// Why a text is no moment.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum MomentError {
    /// The text is not RFC 3339.
    #[error("\"{text}\" is no date and time of RFC 3339")]
    Unreadable {
        /// The text as given.
        text: String,
    },
    /// Read, but in UTC it falls outside the years 0000 to 9999.
    #[error("\"{text}\" lies outside the years 0000 to 9999 in UTC")]
    Beyond {
        /// The text as given.
        text: String,
    },
}

impl Moment {
    /// Reads RFC 3339 with any offset; fractions of a second are dropped.
    ///
    /// # Errors
    /// [`MomentError`] when the text is not RFC 3339 or has no four-digit year in UTC.
    pub fn read(text: &str) -> Result<Self, MomentError> {
        let stated = OffsetDateTime::parse(text, &Rfc3339)
            .map_err(|_| MomentError::Unreadable { text: text.to_owned() })?;
        let utc = stated
            .checked_to_offset(UtcOffset::UTC)
            .filter(|utc| (0..=9999).contains(&utc.year()))
            .ok_or_else(|| MomentError::Beyond { text: text.to_owned() })?;
        Ok(Self(utc.truncate_to_second()))
    }
}

impl core::fmt::Display for Moment {
    fn fmt(&self, out: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let (date, clock) = (self.0.date(), self.0.time());
        write!(out, "{:04}-{:02}-{:02}T", date.year(), u8::from(date.month()), date.day())?;
        write!(out, "{:02}:{:02}:{:02}Z", clock.hour(), clock.minute(), clock.second())
    }
}

impl Fault for MomentError {
    fn code(&self) -> &'static str {
        match self {
            Self::Unreadable { .. } => "moment_unreadable",
            Self::Beyond { .. } => "moment_beyond",
        }
    }

    fn kind(&self) -> Kind {
        match self {
            Self::Unreadable { .. } => Kind::Malformed,
            Self::Beyond { .. } => Kind::OutOfRange,
        }
    }

    fn mend(&self) -> String {
        "write date, time and offset in full, such as 2026-03-01T08:30:00Z".to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The examples of RFC 3339 section 5.8, with what that section says of each.
    #[test]
    fn the_examples_of_rfc_3339_are_read() {
        let same = |one: &str, other: &str| assert_eq!(Moment::read(one), Moment::read(other));
        assert_eq!(Moment::read("1985-04-12T23:20:50.52Z").unwrap().to_string(), "1985-04-12T23:20:50Z");
        same("1996-12-19T16:39:57-08:00", "1996-12-20T00:39:57Z");
        same("1937-01-01T12:00:27.87+00:20", "1937-01-01T11:40:27Z");
    }

    #[test]
    fn what_is_no_moment_is_refused_with_its_code() {
        for text in
            ["", "now", "2026-03-01", "2026-03-01 8:00", "2026-13-01T08:00:00Z", "2026-03-01T08:00:00"]
        {
            assert_eq!(Moment::read(text).unwrap_err().code(), "moment_unreadable", "{text}");
        }
        assert_eq!(Moment::read("9999-12-31T23:00:00-02:00").unwrap_err().code(), "moment_beyond");
        assert_eq!(Moment::read("0000-01-01T00:00:00+02:00").unwrap_err().code(), "moment_beyond");
    }

    #[test]
    fn the_order_of_the_texts_is_the_order_of_the_moments() {
        let texts =
            ["0999-01-01T00:00:00Z", "2026-02-28T23:59:59Z", "2026-03-01T00:00:00Z", "2026-10-01T00:00:00Z"];
        let moments: Vec<Moment> = texts.iter().map(|text| Moment::read(text).unwrap()).collect();
        assert!(moments.is_sorted());
        assert_eq!(moments.iter().map(ToString::to_string).collect::<Vec<_>>(), texts);
    }
}
