//! The chemistry of made waters. Computes only: no files at run time, no clock, no environment, no logging,
//! no JSON, no threads.
//!
//! The modules stand in reading order, like the contents of a chemistry book.

pub mod fault;

pub mod sources;

pub mod data_set;

mod table;

pub mod quantity;

pub mod matter;

pub mod composition;

pub mod equilibrium;

pub mod phases;

pub mod properties;

pub mod assessment;

pub mod formulation;

pub mod numeric;
