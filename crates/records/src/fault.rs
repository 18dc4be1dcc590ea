//! What every error of the records has in common: a stable code, a kind that the service answers without a
//! wildcard, and a word on how to mend it.

/// What sort of fault it is. Small on purpose: the service matches it without a wildcard, so that a new kind does
/// not compile until the service answers it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Kind {
    /// The text cannot be read at all.
    Malformed,
    /// It was read, but is not accepted.
    OutOfRange,
    /// No record has that name.
    Unknown,
    /// The database does not fit this version of the program.
    Incompatible,
    /// The database cannot be reached, or failed.
    Unavailable,
}

/// An error with a stable code, a kind and a word on how to mend it; its `Display` is the message.
pub trait Fault: core::error::Error {
    /// Stable snake-case code, part of the public contract.
    fn code(&self) -> &'static str;
    /// What sort of fault it is.
    fn kind(&self) -> Kind;
    /// How to mend it, in one sentence.
    fn mend(&self) -> String;
}
