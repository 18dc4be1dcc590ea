//! Lanes: the same sum for several waters at once.
//!
//! Every operation acts on each lane by itself and rounds as the single number would, so a water has the same bits in one
//! lane, in any lane of many and beside any neighbour.

use core::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// One number for each of `L` waters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Lanes<const L: usize>(pub(crate) [f64; L]);

impl<const L: usize> Default for Lanes<L> {
    fn default() -> Self {
        Lanes::all(0.0)
    }
}

impl<const L: usize> Lanes<L> {
    /// The same number in every lane.
    #[inline(always)]
    pub(crate) const fn all(value: f64) -> Self {
        Lanes([value; L])
    }

    /// A number for each lane by its place.
    #[inline(always)]
    pub(crate) fn of(mut value: impl FnMut(usize) -> f64) -> Self {
        let mut out = [0.0; L];
        out.iter_mut().enumerate().for_each(|(lane, out)| *out = value(lane));
        Lanes(out)
    }

    /// A function of each lane.
    #[inline(always)]
    pub(crate) fn map(self, mut f: impl FnMut(f64) -> f64) -> Self {
        let mut out = [0.0; L];
        out.iter_mut().zip(&self.0).for_each(|(out, a)| *out = f(*a));
        Lanes(out)
    }

    /// A function of two numbers in each lane.
    #[inline(always)]
    pub(crate) fn with(self, other: Self, mut f: impl FnMut(f64, f64) -> f64) -> Self {
        let mut out = [0.0; L];
        out.iter_mut().zip(self.0.iter().zip(&other.0)).for_each(|(out, (a, b))| *out = f(*a, *b));
        Lanes(out)
    }

    /// Square root; correctly rounded everywhere.
    #[inline(always)]
    pub(crate) fn sqrt(self) -> Self {
        self.map(f64::sqrt)
    }

    /// The larger of the two.
    #[inline(always)]
    pub(crate) fn at_least(self, other: Self) -> Self {
        self.with(other, |a, b| if a > b { a } else { b })
    }

    /// The smaller of the two.
    #[inline(always)]
    pub(crate) fn at_most(self, other: Self) -> Self {
        self.with(other, |a, b| if a < b { a } else { b })
    }

    /// The larger of the two; what is not a number is larger than any.
    #[inline(always)]
    pub(crate) fn worse(self, other: Self) -> Self {
        self.with(other, |a, b| if a > b || a.is_nan() { a } else { b })
    }

    /// Without its sign.
    #[inline(always)]
    pub(crate) fn abs(self) -> Self {
        self.map(f64::abs)
    }
}

macro_rules! lane_by_lane {
    ($operation:ident, $method:ident, $sign:tt) => {
        impl<const L: usize> $operation for Lanes<L> {
            type Output = Self;
            #[inline(always)]
            fn $method(self, other: Self) -> Self {
                self.with(other, |a, b| a $sign b)
            }
        }

        impl<const L: usize> $operation<f64> for Lanes<L> {
            type Output = Self;
            #[inline(always)]
            fn $method(self, other: f64) -> Self {
                self.map(|a| a $sign other)
            }
        }

        impl<const L: usize> $operation<Lanes<L>> for f64 {
            type Output = Lanes<L>;
            #[inline(always)]
            fn $method(self, other: Lanes<L>) -> Lanes<L> {
                other.map(|a| self $sign a)
            }
        }
    };
}

lane_by_lane!(Add, add, +);
lane_by_lane!(Sub, sub, -);
lane_by_lane!(Mul, mul, *);
lane_by_lane!(Div, div, /);

impl<const L: usize> Neg for Lanes<L> {
    type Output = Self;
    #[inline(always)]
    fn neg(self) -> Self {
        self.map(|a| -a)
    }
}

impl<const L: usize> AddAssign for Lanes<L> {
    #[inline(always)]
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl<const L: usize> SubAssign for Lanes<L> {
    #[inline(always)]
    fn sub_assign(&mut self, other: Self) {
        *self = *self - other;
    }
}
