//! Where keys are looked up.

use std::path::{Path, PathBuf};
use std::pin::Pin;

use super::line::spoken;
use super::{KeyDigest, KeyLine, KeyLineError, Permission};
use crate::settings::Settings;

/// Who holds a key, and what it opens.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Holder {
    /// The label of the key; appears in answers and logs, so no secret.
    pub label: String,
    /// What it opens.
    pub may: Vec<Permission>,
}

/// The holder of a key, once the store has looked.
pub type Found<'a> = Pin<Box<dyn Future<Output = Option<Holder>> + Send + 'a>>;

/// A place that knows the holder of a key. Small on purpose: a store in a database implements it as well.
pub trait KeyStore: Send + Sync {
    /// Who holds this key.
    fn find<'a>(&'a self, key: &'a str) -> Found<'a>;
    /// Whether there is no key at all, so that requests are not asked for one.
    fn is_empty(&self) -> bool;
}

/// Why the configured keys cannot be used.
#[derive(Debug, thiserror::Error)]
pub enum KeyError {
    /// The key file cannot be opened.
    #[error("the key file {} cannot be read: {source}", .path.display())]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// A line is not a key line.
    #[error("{place}, line {line}: {source}")]
    Line {
        /// The file or the setting.
        place: String,
        /// Line number, from 1.
        line: usize,
        /// What is wrong with it.
        source: KeyLineError,
    },
    /// Two keys bear one label.
    #[error("two keys bear the label \"{0}\"")]
    LabelTwice(String),
    /// A key file is named and holds no key: the service would be open.
    #[error("the key file {} holds no key", .0.display())]
    Empty(PathBuf),
}

/// The keys of the key file and of the setting `keys`, read once at the start.
#[derive(Default)]
pub struct Keys(Vec<KeyLine>);

impl Keys {
    /// Reads the configured keys.
    ///
    /// # Errors
    /// When the file cannot be read or is empty, a line is wrong, or a label stands twice.
    pub fn read(settings: &Settings) -> Result<Self, KeyError> {
        let mut keys = lines(&settings.keys, "the setting keys")?;
        if !settings.key_file.as_os_str().is_empty() {
            keys.extend(file(&settings.key_file)?);
        }
        let mut labels: Vec<_> = keys.iter().map(|key| key.label.as_str()).collect();
        labels.sort_unstable();
        if let Some(pair) = labels.windows(2).find(|pair| pair[0] == pair[1]) {
            return Err(KeyError::LabelTwice(pair[0].to_owned()));
        }
        Ok(Self(keys))
    }
}

fn file(path: &Path) -> Result<Vec<KeyLine>, KeyError> {
    let text = std::fs::read_to_string(path)
        .map_err(|source| KeyError::Unreadable { path: path.to_owned(), source })?;
    let keys = lines(&text, &path.display().to_string())?;
    if keys.is_empty() { Err(KeyError::Empty(path.to_owned())) } else { Ok(keys) }
}

fn lines(text: &str, place: &str) -> Result<Vec<KeyLine>, KeyError> {
    spoken(text)
        .map(|(line, words)| {
            KeyLine::read(words).map_err(|source| KeyError::Line { place: place.to_owned(), line, source })
        })
        .collect()
}

impl Keys {
    /// Looks at every key whatever it finds, so that the time tells nothing.
    fn holder(&self, key: &str) -> Option<Holder> {
        let digest = KeyDigest::of(key);
        let found = self
            .0
            .iter()
            .fold(None, |found, line| if line.digest.same_as(&digest) { Some(line) } else { found });
        found.map(|line| Holder { label: line.label.clone(), may: line.may.clone() })
    }
}

impl KeyStore for Keys {
    fn find<'a>(&'a self, key: &'a str) -> Found<'a> {
        Box::pin(std::future::ready(self.holder(key)))
    }

    fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn settings(keys: &str) -> Settings {
        Settings { keys: keys.to_owned(), ..Settings::default() }
    }

    #[test]
    fn a_key_is_found_by_its_digest_only() {
        let text = format!("one {}; two {}", KeyDigest::of("a").text(), KeyDigest::of("b").text());
        let keys = Keys::read(&settings(&text)).unwrap();
        assert_eq!(keys.holder("b").unwrap().label, "two");
        assert!(keys.holder("c").is_none());
        assert!(!keys.is_empty());
    }

    #[test]
    fn a_label_that_stands_twice_is_refused() {
        let digest = KeyDigest::of("a").text();
        let error = Keys::read(&settings(&format!("one {digest}; one {digest}"))).err().unwrap();
        assert_eq!(error.to_string(), "two keys bear the label \"one\"");
    }

    #[test]
    fn a_wrong_line_is_named() {
        let error = Keys::read(&settings("one x")).err().unwrap();
        assert!(error.to_string().starts_with("the setting keys, line 1: "), "{error}");
    }
}
