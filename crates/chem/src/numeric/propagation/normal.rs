//! The normal distribution and its inverse.

use libm::{erfc, log};

/// Numerator, lowest power first, and denominator without its leading 1, of a rational approximation of degree 7.
struct Rational {
    above: [f64; 8],
    below: [f64; 7],
}

impl Rational {
    fn at(&self, x: f64) -> f64 {
        let rising = |terms: &[f64]| terms.iter().rev().fold(0.0, |sum, term| sum * x + term);
        rising(&self.above) / (rising(&self.below) * x + 1.0)
    }
}

/// |p - 1/2| up to 0.425.
const MIDDLE: Rational = Rational {
    above: [
        3.387_132_872_796_366_6,
        133.141_667_891_784_38,
        1_971.590_950_306_551_3,
        13_731.693_765_509_46,
        45_921.953_931_549_87,
        67_265.770_927_008_7,
        33_430.575_583_588_13,
        2_509.080_928_730_122_7,
    ],
    below: [
        42.313_330_701_600_91,
        687.187_007_492_057_9,
        5_394.196_021_424_751,
        21_213.794_301_586_597,
        39_307.895_800_092_71,
        28_729.085_735_721_943,
        5_226.495_278_852_854,
    ],
};
/// √(-ln p) from about 1.6 to 5.
const TAIL: Rational = Rational {
    above: [
        1.423_437_110_749_683_5,
        4.630_337_846_156_546,
        5.769_497_221_460_691,
        3.647_848_324_763_204_5,
        1.270_458_252_452_368_4,
        0.241_780_725_177_450_6,
        0.022_723_844_989_269_184,
        0.000_774_545_014_278_341_4,
    ],
    below: [
        2.053_191_626_637_759,
        1.676_384_830_183_803_8,
        0.689_767_334_985_1,
        0.148_103_976_427_480_08,
        0.015_198_666_563_616_457,
        0.000_547_593_808_499_534_5,
        1.050_750_071_644_416_9e-9,
    ],
};
/// √(-ln p) above 5.
const FAR_TAIL: Rational = Rational {
    above: [
        6.657_904_643_501_103,
        5.463_784_911_164_114,
        1.784_826_539_917_291_3,
        0.296_560_571_828_504_87,
        0.026_532_189_526_576_124,
        0.001_242_660_947_388_078_4,
        2.711_555_568_743_487_6e-5,
        2.010_334_399_292_288_1e-7,
    ],
    below: [
        0.599_832_206_555_888,
        0.136_929_880_922_735_8,
        0.014_875_361_290_850_615,
        0.000_786_869_131_145_613_3,
        1.846_318_317_510_054_8e-5,
        1.421_511_758_316_446e-7,
        2.044_263_103_389_939_8e-15,
    ],
};

/// The number below which a standard normal draw falls with probability `p`, strictly between 0 and 1; to about 16
/// figures (M. J. Wichura 1988, Applied Statistics 37, 477, algorithm AS 241, PPND16).
pub(super) fn quantile(p: f64) -> f64 {
    let q = p - 0.5;
    if q.abs() <= 0.425 {
        return q * MIDDLE.at(0.180_625 - q * q);
    }
    let r = (-log(if q < 0.0 { p } else { 1.0 - p })).sqrt();
    let size = if r <= 5.0 { TAIL.at(r - 1.6) } else { FAR_TAIL.at(r - 5.0) };
    if q < 0.0 { -size } else { size }
}

/// Probability that a standard normal draw falls below `z`.
pub(super) fn probability(z: f64) -> f64 {
    0.5 * erfc(-z / core::f64::consts::SQRT_2)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Wichura 1988, the three check values of PPND16 (from memory; the standard library of Python, which
    /// works by the same paper, gives the same), to 1e-15.
    #[test]
    fn the_quantiles_are_those_of_the_paper() {
        for (p, z) in [
            (0.25, -0.674_489_750_196_081_7),
            (0.001, -3.090_232_306_167_814),
            (1e-20, -9.262_340_089_798_408),
        ] {
            assert!((quantile(p) / z - 1.0).abs() < 1e-15, "{p}: {}", quantile(p));
        }
        // Handbook two-sided limits: 90, 95, 99 %.
        for (p, z) in [(0.95, 1.644_854), (0.975, 1.959_964), (0.995, 2.575_829)] {
            assert!((quantile(p) - z).abs() < 5e-7, "{p}");
        }
    }

    /// Identity: the probability of a quantile is the probability asked for, over the whole range and across both
    /// seams, with the complementary error function of `libm` as the other side; and both tails mirror. A share e of z
    /// is a share of about e z² of the probability, so the tolerance grows with it.
    #[test]
    fn a_quantile_has_its_probability() {
        let check = |p: f64| {
            let z = quantile(p);
            assert!((probability(z) / p - 1.0).abs() < 1e-15 * (10.0 + z * z), "{p}");
        };
        let mut p = 1e-30;
        while p < 0.5 {
            check(p);
            p *= 1.09;
        }
        [0.075, 0.074_999_999, 1.388_794_386_496e-11, 1.388_794_386_497e-11, 0.5].into_iter().for_each(check);
        assert_eq!(quantile(0.5), 0.0);
        assert_eq!(quantile(0.75), -quantile(0.25));
    }
}
