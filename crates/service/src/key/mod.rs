//! API keys: 256 random bits, shown once, kept as SHA-256 only.
//!
//! A key has so much chance in it that a plain digest is enough; slow hashes are for what people think up.

mod line;
mod store;

pub use line::{KeyLine, KeyLineError, masked};
pub use store::{Found, Holder, KeyError, KeyStore, Keys};

use sha2::{Digest, Sha256};

/// What a key opens.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Permission {
    /// Calculations and reference data.
    Calculate,
    /// Measures of the running service.
    Operate,
}

impl Permission {
    /// Every permission, in the order in which a key line names them.
    pub const ALL: [Self; 2] = [Self::Calculate, Self::Operate];

    /// The word in a key line.
    pub fn word(self) -> &'static str {
        match self {
            Self::Calculate => "calculate",
            Self::Operate => "operate",
        }
    }

    fn read(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|permission| permission.word() == word)
    }
}

/// SHA-256 of a key.
#[derive(Clone, Copy)]
pub struct KeyDigest([u8; 32]);

impl KeyDigest {
    /// The digest of a key as the caller sends it.
    pub fn of(key: &str) -> Self {
        Self(Sha256::digest(key.as_bytes()).into())
    }

    /// Reads 64 hexadecimal digits.
    pub fn read(text: &str) -> Option<Self> {
        let digits = text.as_bytes();
        if digits.len() != 64 {
            return None;
        }
        let mut bytes = [0; 32];
        for (byte, pair) in bytes.iter_mut().zip(digits.chunks_exact(2)) {
            let high = char::from(pair[0]).to_digit(16)?;
            let low = char::from(pair[1]).to_digit(16)?;
            *byte = (high * 16 + low) as u8;
        }
        Some(Self(bytes))
    }

    /// 64 hexadecimal digits.
    pub fn text(&self) -> String {
        hexadecimal(&self.0)
    }

    /// Equality that takes the same time wherever the first difference lies.
    pub fn same_as(&self, other: &Self) -> bool {
        let difference = self.0.iter().zip(&other.0).fold(0, |sum, (one, two)| sum | (one ^ two));
        std::hint::black_box(difference) == 0
    }
}

/// A fresh key: `sw_` and 64 hexadecimal digits of the system's random source.
///
/// # Errors
/// When the system has no random source.
pub fn fresh() -> Result<String, getrandom::Error> {
    let mut bytes = [0; 32];
    getrandom::fill(&mut bytes)?;
    Ok(format!("sw_{}", hexadecimal(&bytes)))
}

fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_digest_is_sha_256() {
        // FIPS 180-2, appendix B.1: the digest of "abc".
        let expected = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(KeyDigest::of("abc").text(), expected);
        assert!(KeyDigest::read(expected).unwrap().same_as(&KeyDigest::of("abc")));
        assert!(!KeyDigest::of("abd").same_as(&KeyDigest::of("abc")));
    }

    #[test]
    fn a_digest_is_64_hexadecimal_digits() {
        assert!(KeyDigest::read(&"0".repeat(63)).is_none());
        assert!(KeyDigest::read(&"g".repeat(64)).is_none());
        assert!(KeyDigest::read(&"ä".repeat(32)).is_none());
    }

    #[test]
    fn fresh_keys_carry_256_bits_and_differ() {
        let (one, two) = (fresh().unwrap(), fresh().unwrap());
        assert_eq!(one.len(), 3 + 64);
        assert_ne!(one, two);
    }
}
