//! Exponential and logarithm without branches, so that lanes run them side by side; the same bits on every machine.

use super::lanes::Lanes;

/// ln 2 in two parts, the first with its last 20 bits empty, so that a whole multiple of it is exact.
const LN_2: (f64, f64) = (0.693_147_180_369_123_8, 1.908_214_929_270_587_7e-10);
/// 3/2 of 2^52: adding it rounds a small number to a whole one, which then stands in the low bits.
const ROUNDER: f64 = 6_755_399_441_055_744.0;
/// 1/n! from n = 2.
const INVERSE_FACTORIAL: [f64; 12] = [
    1.0 / 2.0,
    1.0 / 6.0,
    1.0 / 24.0,
    1.0 / 120.0,
    1.0 / 720.0,
    1.0 / 5_040.0,
    1.0 / 40_320.0,
    1.0 / 362_880.0,
    1.0 / 3_628_800.0,
    1.0 / 39_916_800.0,
    1.0 / 479_001_600.0,
    1.0 / 6_227_020_800.0,
];

#[inline(always)]
fn exp_one(x: f64) -> f64 {
    let inside = if x < 700.0 { x } else { 700.0 };
    let inside = if inside > -708.0 { inside } else { -708.0 };
    let rounded = inside * core::f64::consts::LOG2_E + ROUNDER;
    let whole = rounded - ROUNDER;
    let rest = inside - whole * LN_2.0 - whole * LN_2.1;
    // even and odd powers apart, so that neither waits for the other
    let square = rest * rest;
    let (mut even, mut odd) = (INVERSE_FACTORIAL[10], INVERSE_FACTORIAL[11]);
    for term in [8, 6, 4, 2, 0] {
        even = even * square + INVERSE_FACTORIAL[term];
        odd = odd * square + INVERSE_FACTORIAL[term + 1];
    }
    let sum = even + rest * odd;
    let mantissa = 1.0 + (rest + square * sum);
    let power = f64::from_bits(rounded.to_bits().wrapping_add(1023) << 52);
    let value = mantissa * power;
    if x > -708.0 { value } else { 0.0 }
}

/// e^x within 1e-15 of its value: 0 below x = -708, e^700 above 700. Not a number gives 0.
#[inline(always)]
pub(crate) fn exp<const L: usize>(x: Lanes<L>) -> Lanes<L> {
    x.map(exp_one)
}

/// Bits of √½, from where the mantissas of the logarithm begin.
const ROOT_HALF: u64 = 0x3fe6_a09e_667f_3bcd;

#[inline(always)]
fn log_one(x: f64) -> f64 {
    let lifted = x.to_bits().wrapping_sub(ROOT_HALF).wrapping_add(1024 << 52);
    let exponent = lifted >> 52;
    let mantissa = f64::from_bits(x.to_bits().wrapping_sub((exponent << 52).wrapping_sub(1024 << 52)));
    // the exponent as a number: its bits under those of 2^52
    let whole = f64::from_bits(exponent | 0x4330_0000_0000_0000) - (4_503_599_627_370_496.0 + 1024.0);
    let over = mantissa - 1.0;
    let s = over / (mantissa + 1.0);
    let z = s * s;
    let square = z * z;
    let (mut even, mut odd) = (1.0 / 23.0, 1.0 / 21.0);
    for first in [17.0, 13.0, 9.0, 5.0] {
        odd = odd * square + 1.0 / first;
        even = even * square + 1.0 / (first + 2.0);
    }
    let sum = (even * square + 1.0 / 3.0) + z * odd;
    // ln(1 + f) = f - (f²/2 - s (f²/2 + 2 z Σ)), which loses nothing where f is small
    let half = 0.5 * over * over;
    let small = half - s * (half + 2.0 * z * sum);
    whole * LN_2.0 - ((small - whole * LN_2.1) - over)
}

/// ln x within 1e-15 of its value for a normal number above zero; what it gives for others is not to be used.
#[inline(always)]
pub(crate) fn log<const L: usize>(x: Lanes<L>) -> Lanes<L> {
    x.map(log_one)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The `libm` crate (within one unit in the last place by its own tests), relative 4e-16 for e^x and 4e-16 of the larger
    /// of 1 and the value for ln x, over the whole range of use.
    #[test]
    fn agree_with_libm() {
        let mut worst = (0.0_f64, 0.0_f64);
        for step in 0..400_000 {
            let x = -700.0 + 1400.0 * f64::from(step) / 400_000.0 + 1e-5;
            for x in [x, x * 1e-2, x * 1e-5] {
                worst.0 = worst.0.max((exp_one(x) / libm::exp(x) - 1.0).abs());
            }
            let y = libm::exp(x * 0.99);
            for y in [y, 1.0 + x * 1e-3, 1.0 + x * 1e-9] {
                if y > 0.0 {
                    worst.1 = worst.1.max((log_one(y) - libm::log(y)).abs() / libm::log(y).abs().max(1e-300));
                }
            }
        }
        assert!(worst.0 < 4.5e-16 && worst.1 < 4.5e-16, "{worst:?}");
    }

    /// Definitions at the ends and exact values.
    #[test]
    fn ends_are_tame() {
        assert_eq!((exp_one(0.0), log_one(1.0)), (1.0, 0.0));
        assert_eq!((exp_one(-1e4), exp_one(f64::NEG_INFINITY)), (0.0, 0.0));
        assert!(exp_one(1e9).is_finite() && exp_one(f64::NAN) == 0.0);
        assert_eq!(log_one(4.0), libm::log(4.0));
    }

    /// Identity: every lane has the bits of the single number.
    #[test]
    fn lanes_have_the_bits_of_one() {
        let x = Lanes([-3.25, 0.1, 17.0, -600.0, 1e-9, 2.5, -0.7, 88.0]);
        for lane in 0..8 {
            assert_eq!(exp(x).0[lane].to_bits(), exp(Lanes([x.0[lane]])).0[0].to_bits());
            let y = x.abs();
            assert_eq!(log(y).0[lane].to_bits(), log(Lanes([y.0[lane]])).0[0].to_bits());
        }
    }
}
