pub mod mistake;
pub mod random;
pub mod water;
