//! Formulation: from a wanted water to grams on the scale.
//!
//! [`wish`] says what is wanted and [`counting`] in which unit it counts; [`means`] says what is at hand; `frame`
//! writes both as linear rows over whole balance steps; [`solve`] searches, settles the litres and tells what came
//! out; [`reason`] says why a wish is not met, [`loosening`] what would make an impossible order possible.

pub mod fault;

pub mod means;

pub mod wish;

pub mod counting;

mod frame;

mod ceiling;

mod settle;

pub mod solve;

pub mod outcome;

pub mod loosening;

pub mod reason;

mod freeing;

pub mod words;

pub use frame::Origin;

pub use fault::{FormulationError, Place};
pub use means::{Balance, Choice, Order, Source};
pub use outcome::{Blend, Impossible, Outcome};
pub use wish::{CountedBy, END_POINT_PH, Quantity, Wish};
