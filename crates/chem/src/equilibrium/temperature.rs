//! How a tabulated number moves with temperature.
//!
//! The source papers expand in a few functions of T. Here every row is brought to one expansion,
//! a + b(1/T - 1/Tr) + c ln(T/Tr) + d(T - Tr) + e(T² - Tr²) + f(1/T² - 1/Tr²) with Tr = 298.15 K, so that at a temperature
//! the five functions are worked out once and each row is a sum of products.

use super::constants::{GAS, LN_10, REFERENCE, ZERO_CELSIUS};
use super::elementary;
use super::lanes::Lanes;
use crate::table::Row;
use libm::log;

/// The value of a table row as a function of temperature: the coefficients a to f.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Course([f64; 6]);

/// The five functions of temperature that courses are made of.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Warmth<const L: usize>([Lanes<L>; 5]);

impl<const L: usize> Warmth<L> {
    /// At temperatures in kelvin.
    #[inline(always)]
    pub(crate) fn at(kelvin: Lanes<L>) -> Self {
        let inverse = 1.0 / kelvin;
        Warmth([
            inverse - 1.0 / REFERENCE,
            elementary::log(kelvin / REFERENCE),
            kelvin - REFERENCE,
            kelvin * kelvin - REFERENCE * REFERENCE,
            inverse * inverse - 1.0 / (REFERENCE * REFERENCE),
        ])
    }
}

impl Course {
    /// The same at every temperature.
    pub(crate) const fn constant(value: f64) -> Course {
        Course([value, 0.0, 0.0, 0.0, 0.0, 0.0])
    }

    /// Reads the columns `form` and `coefficients`; coefficients left out at the end are zero.
    pub(crate) fn of(row: &Row<'_>) -> Course {
        let given = numbers(row, "coefficients");
        match row.text("form") {
            "sixfold" => Course(filled(&given)),
            "shift" => Course::shift(filled(&given)),
            "celsius" => Course::celsius(filled(&given)),
            "log10" => Course::log10(filled(&given)),
            "ln" => Course::ln(filled(&given)),
            "heat" => Course::heat(filled(&given)),
            other => unreachable!("form {other} of a compiled-in table is not one of the known functions"),
        }
    }

    /// a + b d + c d², with d = T - Tr.
    fn shift([a, b, c]: [f64; 3]) -> Course {
        Course([a, 0.0, 0.0, b - 2.0 * c * REFERENCE, c, 0.0])
    }

    /// a + b t + c t², t in °C.
    fn celsius([a, b, c]: [f64; 3]) -> Course {
        let t = REFERENCE - ZERO_CELSIUS;
        Course::shift([a + t * (b + t * c), b + 2.0 * c * t, c])
    }

    /// a + b T + c/T + d log10 T + e/T² + f T².
    fn log10([a, b, c, d, e, f]: [f64; 6]) -> Course {
        Course::at_reference(a, [c, d / LN_10, b, f, e])
    }

    /// a + b T + c T² + d/T + e ln T.
    fn ln([a, b, c, d, e]: [f64; 5]) -> Course {
        Course::at_reference(a, [d, e, b, c, 0.0])
    }

    /// log10 K at 25 °C and the heat of reaction in kJ/mol, taken as constant (van 't Hoff).
    fn heat([log_k, kilojoule]: [f64; 2]) -> Course {
        Course([log_k, -kilojoule * 1000.0 / (GAS * LN_10), 0.0, 0.0, 0.0, 0.0])
    }

    /// From the constant and the factors of 1/T, ln T, T, T² and 1/T².
    fn at_reference(constant: f64, [inverse, ln, t, square, inverse_square]: [f64; 5]) -> Course {
        let tr = REFERENCE;
        let there =
            constant + inverse / tr + ln * log(tr) + t * tr + square * (tr * tr) + inverse_square / (tr * tr);
        Course([there, inverse, ln, t, square, inverse_square])
    }

    /// Whether it is the same at every temperature.
    pub(crate) fn is_constant(&self) -> bool {
        self.0[1..].iter().all(|coefficient| *coefficient == 0.0)
    }

    /// The value that a constant course has.
    pub(crate) fn value_at_reference(&self) -> f64 {
        self.0[0]
    }

    /// The same times a number.
    pub(crate) fn times(&self, factor: f64) -> Course {
        Course(self.0.map(|coefficient| factor * coefficient))
    }

    /// The sum of two courses.
    pub(crate) fn plus(&self, other: &Course) -> Course {
        Course(core::array::from_fn(|at| self.0[at] + other.0[at]))
    }

    /// The value at temperatures.
    #[inline(always)]
    pub(crate) fn over<const L: usize>(&self, warmth: &Warmth<L>) -> Lanes<L> {
        let [a, b, c, d, e, f] = self.0;
        let [inverse, ln, shift, square, inverse_square] = warmth.0;
        // in two sums, so that neither waits for the other
        (a + b * inverse + c * ln) + (d * shift + e * square + f * inverse_square)
    }

    /// The value at a temperature in kelvin.
    pub(crate) fn at(&self, kelvin: f64) -> f64 {
        self.over(&Warmth::at(Lanes([kelvin]))).0[0]
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

    /// Identities: every expansion gives at 5, 25 and 80 °C what its own definition gives (1e-12 of its largest term), and the
    /// heat form obeys van 't Hoff (d ln K / d(1/T) = -H/R) to 1e-9.
    #[test]
    fn forms_obey_their_definitions() {
        for t in [278.15, REFERENCE, 353.15] {
            let d = t - REFERENCE;
            let celsius = t - ZERO_CELSIUS;
            let near = |course: Course, direct: f64, size: f64| {
                let got = course.at(t);
                assert!((got - direct).abs() < 1e-12 * size, "{t}: {got} for {direct}");
            };
            near(Course::shift([1.5, 0.2, -0.03]), 1.5 + d * (0.2 - d * 0.03), 1e3);
            near(Course::celsius([1.5, 0.2, -0.03]), 1.5 + celsius * (0.2 - celsius * 0.03), 1e3);
            let log10 = [-356.3094, -0.06091964, 21834.37, 126.8339, -1684915.0, 1e-6];
            let [a, b, c, e, f, g] = log10;
            let direct = a + b * t + c / t + e * (log(t) / LN_10) + f / (t * t) + g * t * t;
            near(Course::log10(log10), direct, 1e3);
            let direct = 148.0 - 0.01 * t + 1e-5 * t * t - 8966.9 / t - 24.4 * log(t);
            near(Course::ln([148.0, -0.01, 1e-5, -8966.9, -24.4]), direct, 1e3);
        }
        assert_eq!(Course([1.5, 2.0, 3.0, 4.0, 5.0, 6.0]).at(REFERENCE), 1.5);
        let heat = Course::heat([-3.0, 40.0]);
        let (warm, cold) = (310.0, 280.0);
        let slope = LN_10 * (heat.at(warm) - heat.at(cold)) / (1.0 / warm - 1.0 / cold);
        assert!((slope * GAS + 40_000.0).abs() < 1e-5);
    }
}
