//! Matter: elements, formulas with their water, components of a water, the catalogue of salts.

pub mod element;

pub mod formula;

pub mod component;

pub mod catalogue;
