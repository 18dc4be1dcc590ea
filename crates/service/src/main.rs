//! The springwright binary.
fn main() {}
