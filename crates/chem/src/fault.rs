//! What every error of the chemistry has in common: a stable code, a kind that the doors answer without a
//! wildcard, and a word on how to mend it.

/// What sort of fault it is. Small on purpose: each door matches it without a wildcard, so that a new kind does
/// not compile until every door answers it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Kind {
    /// The text or number cannot be read at all.
    Malformed,
    /// It was read, but lies outside the range that is physical or accepted.
    OutOfRange,
    /// It names something that the catalogue or a table does not have.
    Unknown,
    /// It can be read in more than one way; the choices are listed.
    Ambiguous,
    /// Two statements contradict each other.
    Inconsistent,
    /// Something that is needed was not stated.
    Insufficient,
    /// The model or its data do not reach that far.
    OutsideModel,
    /// Known, and refused for safety or law.
    Refused,
    /// A counted search ended before its answer was proved good.
    NotConverged,
}

/// An error with a stable code, a kind and a word on how to mend it; its `Display` is the message.
pub trait Fault: core::error::Error {
    /// Stable snake-case code, part of the public contract.
    fn code(&self) -> &'static str;
    /// What sort of fault it is.
    fn kind(&self) -> Kind;
    /// What would be accepted instead, one entry a choice; empty when there is no list.
    fn accepted(&self) -> Vec<String> {
        Vec::new()
    }
    /// How to mend it, in one sentence.
    fn mend(&self) -> String;
}
