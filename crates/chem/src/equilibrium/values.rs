//! The tabulated values of a scheme at a temperature.

use super::constants::REFERENCE;
use super::lanes::Lanes;
use super::temperature::{Course, Warmth};
use super::water;

/// The value of every course of a scheme at the temperature of each lane.
#[derive(Clone, Debug)]
pub(crate) struct Values<const L: usize> {
    /// Temperature, K.
    pub(crate) kelvin: Lanes<L>,
    /// Debye–Hückel slope for the osmotic coefficient, (kg/mol)^½.
    pub(crate) slope: Lanes<L>,
    /// The functions of temperature.
    pub(crate) warmth: Warmth<L>,
    /// By place among the courses.
    pub(crate) of: Vec<Lanes<L>>,
}

/// The courses of a scheme: each place holds one number that moves with temperature, or not.
#[derive(Clone, Debug, Default)]
pub(crate) struct Courses {
    all: Vec<Course>,
    moving: Vec<usize>,
}

impl Courses {
    /// Adds a course; answers its place. Numbers that are zero share place `none`.
    pub(crate) fn add(&mut self, course: &Course) -> usize {
        self.all.push(*course);
        if !course.is_constant() {
            self.moving.push(self.all.len() - 1);
        }
        self.all.len() - 1
    }

    /// Room for the values, with those filled in that never move.
    pub(crate) fn values<const L: usize>(&self) -> Values<L> {
        let of = self.all.iter().map(|course| Lanes::all(course.value_at_reference())).collect();
        let nowhere = Lanes::all(f64::NAN);
        Values { kelvin: nowhere, slope: nowhere, warmth: Warmth::at(Lanes::all(REFERENCE)), of }
    }

    /// Moves the values to temperatures, in kelvin; nothing is done where they stand there already.
    pub(crate) fn move_to<const L: usize>(&self, kelvin: Lanes<L>, values: &mut Values<L>) {
        if values.kelvin == kelvin {
            return;
        }
        let warmth = Warmth::at(kelvin);
        values.warmth = warmth;
        values.kelvin = kelvin;
        values.slope = water::debye_huckel_slope_of(kelvin);
        for place in &self.moving {
            values.of[*place] = self.all[*place].over(&warmth);
        }
    }
}
