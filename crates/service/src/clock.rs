//! The time of day for log lines; no calculation ever sees it.

use std::time::{Duration, SystemTime, UNIX_EPOCH};

/// Now, as RFC 3339 in UTC with milliseconds.
pub fn now() -> String {
    let since_epoch = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or(Duration::ZERO);
    rfc3339(since_epoch)
}

fn rfc3339(since_epoch: Duration) -> String {
    let seconds = since_epoch.as_secs();
    let (year, month, day) = date(seconds / 86_400);
    let (hour, minute, second) = (seconds / 3600 % 24, seconds / 60 % 60, seconds % 60);
    let millis = since_epoch.subsec_millis();
    format!("{year:04}-{month:02}-{day:02}T{hour:02}:{minute:02}:{second:02}.{millis:03}Z")
}

/// Gregorian date of a day counted from 1970-01-01.
fn date(mut day: u64) -> (u64, u64, u64) {
    // 400 Gregorian years are 146 097 days, so whole rounds of them change nothing but the year.
    let mut year = 1970 + 400 * (day / 146_097);
    day %= 146_097;
    while day >= days_in(year) {
        day -= days_in(year);
        year += 1;
    }
    let february = if days_in(year) == 366 { 29 } else { 28 };
    let mut month = 1;
    for length in [31, february, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] {
        if day < length {
            break;
        }
        day -= length;
        month += 1;
    }
    (year, month, day + 1)
}

fn days_in(year: u64) -> u64 {
    let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    if leap { 366 } else { 365 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_written_as_rfc_3339() {
        // Seconds as `date --utc --date=TEXT +%s` prints them.
        for (seconds, text) in [
            (0, "1970-01-01T00:00:00.000Z"),
            (951_782_400, "2000-02-29T00:00:00.000Z"),
            (1_709_251_199, "2024-02-29T23:59:59.000Z"),
            (4_107_542_400, "2100-03-01T00:00:00.000Z"),
            (13_574_563_200, "2400-02-29T00:00:00.000Z"),
        ] {
            assert_eq!(rfc3339(Duration::from_secs(seconds)), text);
        }
    }
}
