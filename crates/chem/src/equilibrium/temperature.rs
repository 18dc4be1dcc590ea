//! How a tabulated number moves with temperature: the few functions that the source papers use.

use super::constants::{GAS, LN_10, REFERENCE, ZERO_CELSIUS};
use crate::table::Row;
use libm::log;

/// The value of a table row as a function of temperature. Each variant is named by what its paper expands in.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Course {
    /// a + b(1/T - 1/Tr) + c ln(T/Tr) + d(T - Tr) + e(T² - Tr²) + f(1/T² - 1/Tr²), Tr = 298.15 K.
    Sixfold([f64; 6]),
    /// a + b d + c d², with d = T - 298.15 K.
    Shift([f64; 3]),
    /// a + b t + c t², t in °C.
    Celsius([f64; 3]),
    /// a + b T + c/T + d log10 T + e/T² + f T².
    Log10([f64; 6]),
    /// a + b T + c T² + d/T + e ln T.
    Ln([f64; 5]),
    /// log10 K at 25 °C and the heat of reaction in kJ/mol, taken as constant (van 't Hoff).
    Heat([f64; 2]),
}

impl Course {
    /// Reads the columns `form` and `coefficients`; coefficients left out at the end are zero.
    pub(crate) fn of(row: &Row<'_>) -> Course {
        let given = numbers(row, "coefficients");
        match row.text("form") {
            "sixfold" => Course::Sixfold(filled(&given)),
            "shift" => Course::Shift(filled(&given)),
            "celsius" => Course::Celsius(filled(&given)),
            "log10" => Course::Log10(filled(&given)),
            "ln" => Course::Ln(filled(&given)),
            "heat" => Course::Heat(filled(&given)),
            other => unreachable!("form {other} of a compiled-in table is not one of the known functions"),
        }
    }

    /// The value at a temperature in kelvin.
    pub(crate) fn at(&self, kelvin: f64) -> f64 {
        let t = kelvin;
        let d = t - REFERENCE;
        match self {
            Course::Sixfold([a, b, c, e1, e2, f]) => {
                let inverse = 1.0 / t - 1.0 / REFERENCE;
                let squares = t * t - REFERENCE * REFERENCE;
                let inverse_squares = 1.0 / (t * t) - 1.0 / (REFERENCE * REFERENCE);
                a + b * inverse + c * log(t / REFERENCE) + e1 * d + e2 * squares + f * inverse_squares
            }
            Course::Shift([a, b, c]) => a + d * (b + d * c),
            Course::Celsius([a, b, c]) => {
                let celsius = t - ZERO_CELSIUS;
                a + celsius * (b + celsius * c)
            }
            Course::Log10([a, b, c, e, f, g]) => {
                a + b * t + c / t + e * (log(t) / LN_10) + f / (t * t) + g * t * t
            }
            Course::Ln([a, b, c, e, f]) => a + b * t + c * t * t + e / t + f * log(t),
            Course::Heat([log_k, kilojoule]) => {
                log_k - kilojoule * 1000.0 / (GAS * LN_10) * (1.0 / t - 1.0 / REFERENCE)
            }
        }
    }
}

/// The numbers of a cell, separated by blanks.
pub(crate) fn numbers(row: &Row<'_>, column: &str) -> Vec<f64> {
    let parts = row.text(column).split_whitespace();
    parts.map(|part| part.parse().expect("a compiled-in list holds numbers")).collect()
}

/// The number in a cell that is never empty.
pub(crate) fn number(row: &Row<'_>, column: &str) -> f64 {
    row.number(column).expect("a compiled-in number cell holds a number")
}

fn filled<const N: usize>(given: &[f64]) -> [f64; N] {
    assert!(given.len() <= N, "a compiled-in row has at most {N} coefficients for its function");
    let mut out = [0.0; N];
    out[..given.len()].copy_from_slice(given);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Identities: every function gives its first coefficient at the reference temperature, and the heat form
    /// obeys van 't Hoff (d ln K / d(1/T) = -H/R) to 1e-9.
    #[test]
    fn forms_obey_their_definitions() {
        assert_eq!(Course::Sixfold([1.5, 2.0, 3.0, 4.0, 5.0, 6.0]).at(REFERENCE), 1.5);
        assert_eq!(Course::Shift([1.5, 2.0, 3.0]).at(REFERENCE), 1.5);
        let heat = Course::Heat([-3.0, 40.0]);
        let (warm, cold) = (310.0, 280.0);
        let slope = LN_10 * (heat.at(warm) - heat.at(cold)) / (1.0 / warm - 1.0 / cold);
        assert!((slope * GAS + 40_000.0).abs() < 1e-5);
    }
}
