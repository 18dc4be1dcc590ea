//! Formulation: from a wanted water to grams on the scale.
//!
//! [`wish`] says what is wanted and [`counting`] in which unit it counts; [`means`] says what is at hand; `frame`
//! writes both as linear rows over whole balance steps, [`property`] what asks for the solved state in its `tangent`;
//! `settle` searches and settles the litres, `approach` searches again and again until the solved state agrees; [`solve`]
//! tells what came out; [`reason`] says why a wish is not met, [`loosening`] what would make an impossible order possible.
//! [`weighing`] brings a recipe onto the scale.

pub mod fault;

pub mod means;

pub mod property;

pub mod wish;

pub mod counting;

mod frame;

mod slopes;

mod tangent;

mod hinge;

mod ceiling;

mod finish;

mod settle;

mod stand;

mod approach;

mod polish;

mod judged;

pub mod solve;

pub mod outcome;

pub mod loosening;

pub mod reason;

mod governing;

mod freeing;

pub mod words;

pub mod weighing;

pub use frame::Origin;

pub use fault::{FormulationError, Place};
pub use judged::unsolvable;
pub use means::{Balance, Choice, Order, Source};
pub use outcome::{Blend, Impossible, Outcome};
pub use property::{Condition, Property};
pub use wish::{CountedBy, END_POINT_PH, Quantity, Tolerance, Wish};

#[cfg(test)]
mod tangent_tests;
