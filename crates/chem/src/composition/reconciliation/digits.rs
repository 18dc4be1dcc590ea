//! Slips of the pen in a written number: neighbouring digits swapped.

/// The numbers that result when two neighbouring digits of a written number are swapped, the decimal point staying:
/// 21.5 gives 12.5 and 25.1. A leading or lonely trailing zero is no slip that anyone would write.
///
/// ```
/// use springwright_chem::composition::reconciliation::swapped_digits;
/// assert_eq!(swapped_digits(21.5), [12.5, 25.1]);
/// assert!(swapped_digits(8.0).is_empty());
/// ```
pub fn swapped_digits(value: f64) -> Vec<f64> {
    let written = value.to_string();
    let digits: Vec<usize> =
        written.char_indices().filter(|(_, letter)| letter.is_ascii_digit()).map(|(at, _)| at).collect();
    if digits.len() != written.len() - written.matches('.').count() {
        return Vec::new();
    }
    // The nought before a point is no digit that anyone would move.
    let first = usize::from(written.starts_with("0."));
    let swapped = |pair: &[usize]| {
        let mut letters = written.clone().into_bytes();
        letters.swap(pair[0], pair[1]);
        let text = String::from_utf8(letters).ok()?;
        let leads = first == 0 && text.starts_with('0');
        let slip = text != written && !leads && !(text.contains('.') && text.ends_with('0'));
        if slip { text.parse().ok() } else { None }
    };
    digits.get(first..).unwrap_or_default().windows(2).filter_map(swapped).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn swaps_that_someone_would_write() {
        assert_eq!(swapped_digits(231.0), [321.0, 213.0]);
        assert_eq!(swapped_digits(0.21), [0.12]);
        assert_eq!(swapped_digits(110.0), [101.0]);
        assert!(swapped_digits(77.0).is_empty());
        assert!(swapped_digits(f64::NAN).is_empty());
    }
}
