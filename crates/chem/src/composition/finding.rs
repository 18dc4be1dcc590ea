//! What was noticed about a water: a remark with its source, neither an error nor an assumption.

/// A remark on a water.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// Stable snake-case code, part of the public contract.
    pub code: &'static str,
    /// The remark, in plain words.
    pub text: String,
    /// Key of its source in `data/sources.tsv`.
    pub source: &'static str,
}

impl Finding {
    pub(crate) fn new(code: &'static str, text: impl Into<String>, source: &'static str) -> Finding {
        Finding { code, text: text.into(), source }
    }
}
