//! Numbers and names in sentences.

use crate::quantity::{Basis, Unit};

/// A number for a sentence: three significant digits, no more than three decimals.
pub fn number(value: f64) -> String {
    let size = value.abs();
    let decimals = match size {
        s if s >= 100.0 => 0,
        s if s >= 10.0 => 1,
        s if s >= 1.0 => 2,
        _ => 3,
    };
    let text = format!("{value:.decimals$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// An amount for a sentence: `60 mg/L`, `52 mg/L as CaCO3`; a ratio, an index or a pH by its number, `2.5`.
pub fn amount(value: f64, unit: Unit, basis: Option<&Basis>) -> String {
    let unit =
        if unit == Unit::ONE || unit == Unit::PH { String::new() } else { format!(" {}", unit.symbol()) };
    let basis = basis.map(|basis| format!(" as {basis}")).unwrap_or_default();
    format!("{}{unit}{basis}", number(value))
}

/// Names in a row: `a`, `a and b`, `a, b and c`.
pub fn listed(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short() {
        assert_eq!(number(60.0), "60");
        assert_eq!(number(106.127), "106");
        assert_eq!(number(2.5049), "2.5");
        assert_eq!(number(0.0), "0");
        assert_eq!(number(0.0421), "0.042");
        assert_eq!(number(100.0), "100");
    }

    #[test]
    fn names_stand_in_a_row() {
        let names: Vec<String> = ["a", "b", "c"].map(str::to_owned).to_vec();
        assert_eq!(listed(&names), "a, b and c");
        assert_eq!(listed(&names[..2]), "a and b");
    }
}
