//! What spans the crates.
