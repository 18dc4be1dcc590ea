//! Numbers as people write them: no exponents, no more digits than mean something.

use springwright_contract::measured::{Comparator, Measured};

/// A number to so many significant digits, in plain decimals.
pub(super) fn significant(value: f64, digits: i32) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    // Rounding in exponent form first, so that 9.996 to three digits is 10.0 and not 10.00.
    let places = usize::try_from(digits - 1).unwrap_or(0);
    let rounded = format!("{value:.places$e}");
    let exponent: i32 = rounded.split_once('e').and_then(|(_, tail)| tail.parse().ok()).unwrap_or(0);
    let decimals = usize::try_from(digits - 1 - exponent).unwrap_or(0);
    format!("{value:.decimals$}")
}

/// A number on a logarithmic scale, to two decimals, with its sign as people write it.
pub(super) fn hundredths(value: f64) -> String {
    let text = format!("{value:.2}");
    if text == "-0.00" { "0.00".to_owned() } else { text.replace('-', "−") }
}

/// An id in words: `amorphous_silica` as `amorphous silica`.
pub(super) fn words(id: &str) -> String {
    id.replace('_', " ")
}

/// A mass that is a whole number of steps, with just the decimals that the step has.
pub(super) fn in_steps(steps: i64, step: f64) -> String {
    let decimals = format!("{step}").split_once('.').map_or(0, |(_, tail)| tail.len());
    format!("{:.decimals$}", steps as f64 * step)
}

/// A measured amount, in words.
pub(super) fn measured(amount: &Measured) -> String {
    let mut text = match amount.comparator {
        Some(Comparator::Below) => "<".to_owned(),
        None => String::new(),
    };
    text += &significant(amount.value, 4);
    if let Some(uncertainty) = amount.uncertainty {
        text += &format!(" ± {}", significant(uncertainty, 2));
    }
    if amount.unit != "1" && amount.unit != "pH" {
        text += &format!(" {}", amount.unit);
    }
    if let Some(basis) = &amount.basis {
        text += &format!(" as {basis}");
    }
    match (amount.uncertainty, amount.coverage_factor) {
        (Some(_), Some(factor)) => text + &format!(" (k = {factor})"),
        _ => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_are_counted_after_rounding() {
        for (value, digits, text) in [
            (59.876, 4, "59.88"),
            (9.996, 3, "10.0"),
            (0.012345, 3, "0.0123"),
            (123_456.0, 3, "123456"),
            (-2.5, 2, "-2.5"),
            (0.0, 3, "0"),
        ] {
            assert_eq!(significant(value, digits), text);
        }
    }

    #[test]
    fn a_mass_has_the_decimals_of_its_step() {
        assert_eq!(in_steps(135, 0.01), "1.35");
        assert_eq!(in_steps(3, 0.5), "1.5");
        assert_eq!(in_steps(7, 5.0), "35");
        assert_eq!(in_steps(12, 0.001), "0.012");
    }
}
