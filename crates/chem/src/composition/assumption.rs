//! What was taken for granted, as data: a request that leaves something open is answered, but never in silence.

/// One thing that was taken for granted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Assumption {
    /// Stable snake-case code, part of the public contract.
    pub code: &'static str,
    /// What it is about, as a dotted path inside the water: `analysis.K`.
    pub about: String,
    /// What was assumed, in plain words.
    pub text: String,
    /// What it does to the numbers.
    pub effect: String,
}

impl Assumption {
    pub(crate) fn new(
        code: &'static str,
        about: impl Into<String>,
        text: impl Into<String>,
        effect: impl Into<String>,
    ) -> Assumption {
        Assumption { code, about: about.into(), text: text.into(), effect: effect.into() }
    }
}
