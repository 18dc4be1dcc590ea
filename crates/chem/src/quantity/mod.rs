//! Quantities: units, bases, hardness degrees, old measures, and the reader of written amounts.

pub mod bounds;

pub mod unit;

pub mod basis;

pub mod measured;

pub mod number;

pub mod reading;

pub mod subject;

pub mod conversion;

mod fault;

pub use basis::Basis;
pub use conversion::{Solution, convert};
pub use fault::QuantityError;
pub use measured::{Comparator, Measured};
pub use subject::Subject;
pub use unit::{Dimension, Unit};
