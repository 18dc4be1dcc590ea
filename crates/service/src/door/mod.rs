//! The HTTP door: what it offers, how it is described, what it reads and how it turns away.

pub mod body;
pub mod calculations;
pub mod document;
pub mod operation;
pub mod rejection;
