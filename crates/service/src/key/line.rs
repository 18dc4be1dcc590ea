//! One line of a key file: `label sha256 [may=calculate,operate]`; `#` starts a remark.

use super::{KeyDigest, Permission};

/// A key as it is kept.
#[derive(Clone)]
pub struct KeyLine {
    /// Who holds the key; appears in answers and logs, so no secret.
    pub label: String,
    /// SHA-256 of the key.
    pub digest: KeyDigest,
    /// What it opens.
    pub may: Vec<Permission>,
}

/// Why a key line cannot be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum KeyLineError {
    /// The label is missing, too long or has characters that do not belong into a log.
    #[error("the label must be 1 to 64 letters, digits, \"-\", \"_\" or \".\"")]
    Label,
    /// The digest is missing or not 64 hexadecimal digits.
    #[error("the label must be followed by the SHA-256 of the key, 64 hexadecimal digits")]
    Digest,
    /// The permissions are not the known ones.
    #[error("after the digest only may=calculate, may=operate or may=calculate,operate is read")]
    Permission,
}

impl KeyLine {
    /// Checks a label.
    ///
    /// # Errors
    /// [`KeyLineError::Label`] unless it is 1 to 64 letters, digits, `-`, `_` or `.`.
    pub fn label(text: &str) -> Result<String, KeyLineError> {
        let fits = text.chars().all(|letter| letter.is_ascii_alphanumeric() || "-_.".contains(letter));
        if fits && (1..=64).contains(&text.len()) { Ok(text.to_owned()) } else { Err(KeyLineError::Label) }
    }

    /// Reads one line that is neither empty nor a remark.
    pub(super) fn read(line: &str) -> Result<Self, KeyLineError> {
        let mut words = line.split_whitespace();
        let label = Self::label(words.next().unwrap_or_default())?;
        let digest = words.next().and_then(KeyDigest::read).ok_or(KeyLineError::Digest)?;
        let may = match words.next() {
            None => Permission::ALL.to_vec(),
            Some(word) => permissions(word)?,
        };
        if words.next().is_some() {
            return Err(KeyLineError::Permission);
        }
        Ok(Self { label, digest, may })
    }

    /// The line as it stands in a key file.
    pub fn text(&self) -> String {
        let words: Vec<_> = self.may.iter().map(|permission| permission.word()).collect();
        format!("{} {} may={}", self.label, self.digest.text(), words.join(","))
    }
}

fn permissions(word: &str) -> Result<Vec<Permission>, KeyLineError> {
    let list = word.strip_prefix("may=").ok_or(KeyLineError::Permission)?;
    list.split(',').map(|name| Permission::read(name).ok_or(KeyLineError::Permission)).collect()
}

/// The lines of a key text that say something, with their numbers, remarks dropped.
pub(super) fn spoken(text: &str) -> impl Iterator<Item = (usize, &str)> {
    text.split(['\n', ';'])
        .map(|line| line.split('#').next().unwrap_or_default().trim())
        .enumerate()
        .filter(|(_, line)| !line.is_empty())
        .map(|(index, line)| (index + 1, line))
}

/// A key text with every digest replaced, for showing.
pub fn masked(text: &str) -> String {
    let label = |line: &str| line.split_whitespace().next().unwrap_or_default().to_owned();
    spoken(text).map(|(_, line)| format!("{} ****", label(line))).collect::<Vec<_>>().join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_reads_back_as_written() {
        let digest = KeyDigest::of("secret").text();
        let line = KeyLine::read(&format!("press-2  {digest}  may=calculate")).unwrap();
        assert_eq!(line.text(), format!("press-2 {digest} may=calculate"));
        assert_eq!(KeyLine::read(&format!("press {digest}")).unwrap().may, Permission::ALL);
    }

    #[test]
    fn bad_lines_say_what_is_wrong() {
        let digest = KeyDigest::of("secret").text();
        let fault = |line: &str| KeyLine::read(line).err().unwrap();
        assert_eq!(fault("presse\u{301} x"), KeyLineError::Label);
        assert_eq!(fault("press abc"), KeyLineError::Digest);
        assert_eq!(fault(&format!("press {digest} may=everything")), KeyLineError::Permission);
        assert_eq!(fault(&format!("press {digest} may=operate more")), KeyLineError::Permission);
    }

    #[test]
    fn remarks_and_empty_lines_are_passed_over() {
        let lines: Vec<_> = spoken("# head\n\none two # tail\nthree;four").collect();
        assert_eq!(lines, [(3, "one two"), (4, "three"), (5, "four")]);
    }
}
