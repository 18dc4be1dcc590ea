//! The names of salts: one normal spelling, so that case, hyphens, brackets and either English do not matter.

use std::collections::BTreeMap;

/// What sort of name it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum NameKind {
    /// The systematic name with its hydrate word.
    Systematic,
    /// A name of the trade.
    Trade,
    /// A name of old books.
    Historical,
    /// The systematic name without its hydrate word.
    Base,
    /// A solution, suspension or crude form whose strength is not fixed.
    Preparation,
}

/// One meaning of a name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Meaning {
    /// Position of the row.
    pub(super) salt: usize,
    /// What sort of name it is.
    pub(super) kind: NameKind,
    /// When the name means this row; empty where that was not noted.
    pub(super) sense: &'static str,
}

/// Every name in its normal spelling, with the rows it may mean.
#[derive(Default)]
pub(super) struct Names {
    by_spelling: BTreeMap<String, Vec<Meaning>>,
}

impl Names {
    pub(super) fn add(&mut self, name: &str, meaning: Meaning) {
        let meanings = self.by_spelling.entry(normal(name)).or_default();
        if !meanings.iter().any(|own| own.salt == meaning.salt) {
            meanings.push(meaning);
        }
    }

    /// Adds a name only where no other name is spelled the same.
    pub(super) fn add_if_free(&mut self, name: &str, meaning: Meaning) {
        self.by_spelling.entry(normal(name)).or_insert_with(|| vec![meaning]);
    }

    pub(super) fn meanings(&self, text: &str) -> &[Meaning] {
        self.by_spelling.get(&normal(text)).map_or(&[], Vec::as_slice)
    }

    /// Every normal spelling with its meanings, in order of the spelling.
    pub(super) fn all(&self) -> impl Iterator<Item = (&str, &[Meaning])> {
        self.by_spelling.iter().map(|(spelling, meanings)| (spelling.as_str(), meanings.as_slice()))
    }
}

/// Hydrate words with the numbers that stand for them.
const HYDRATES: [(&str, &str); 13] = [
    ("0.5", "hemihydrate"),
    ("1", "monohydrate"),
    ("1.5", "sesquihydrate"),
    ("2", "dihydrate"),
    ("3", "trihydrate"),
    ("4", "tetrahydrate"),
    ("5", "pentahydrate"),
    ("6", "hexahydrate"),
    ("7", "heptahydrate"),
    ("9", "nonahydrate"),
    ("10", "decahydrate"),
    ("12", "dodecahydrate"),
    ("0", "anhydrous"),
];

/// Normal spelling of a name: small letters, single spaces, British chemistry (sulfate, aluminium), the hydrate
/// word last, `7-hydrate` and `7 H2O` as `heptahydrate`.
pub(super) fn normal(text: &str) -> String {
    let lower = text.trim().to_lowercase().replace("sulph", "sulf").replace("aluminum", "aluminium");
    let mut spaced = String::with_capacity(lower.len());
    let mut characters = lower.chars().peekable();
    while let Some(character) = characters.next() {
        let digit_before = spaced.chars().last().is_some_and(|c| c.is_ascii_digit());
        let digit_after = characters.peek().is_some_and(char::is_ascii_digit);
        match character {
            '\'' | '\u{2019}' => {}
            c if c.is_alphanumeric() => spaced.push(c),
            '.' if digit_before && digit_after => spaced.push('.'),
            _ => spaced.push(' '),
        }
    }
    let words = join_numbered_water(spaced.split_whitespace().collect());
    let is_hydrate = |word: &&&str| HYDRATES.iter().any(|(_, hydrate)| hydrate == *word);
    let first = words.iter().filter(|word| !is_hydrate(word));
    first.chain(words.iter().filter(is_hydrate)).copied().collect::<Vec<_>>().join(" ")
}

/// Puts the hydrate word for `7 hydrate`, `7 water`, `7 h2o` and `7h2o`.
fn join_numbered_water(words: Vec<&str>) -> Vec<&str> {
    let mut joined = Vec::with_capacity(words.len());
    let mut at = 0;
    while at < words.len() {
        let word = words[at];
        let next = words.get(at + 1).copied().unwrap_or("");
        let (number, taken) = match word.strip_suffix("h2o") {
            Some("") => ("", 1),
            Some(number) => (number, 1),
            None if matches!(next, "hydrate" | "water" | "h2o") => (word, 2),
            None => ("", 1),
        };
        match HYDRATES.iter().find(|(digits, _)| *digits == number) {
            Some((_, hydrate)) => joined.push(*hydrate),
            None => joined.extend(&words[at..at + taken]),
        }
        at += taken;
    }
    joined
}

/// Edits (a letter put in, left out, changed, or two neighbours swapped) between two spellings. Written out here
/// because the chemistry takes no crate for a dozen lines.
pub(super) fn edits(a: &str, b: &str) -> usize {
    let a: Vec<char> = a.chars().collect();
    let b: Vec<char> = b.chars().collect();
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for i in 0..a.len() {
        let mut row = vec![i + 1];
        for j in 0..b.len() {
            let mut least = (last[j] + usize::from(a[i] != b[j])).min(last[j + 1] + 1).min(row[j] + 1);
            if i > 0 && j > 0 && a[i] == b[j - 1] && a[i - 1] == b[j] {
                least = least.min(before[j - 1] + 1);
            }
            row.push(least);
        }
        before = std::mem::replace(&mut last, row);
    }
    last[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spellings_that_mean_the_same_become_the_same() {
        for text in [
            "magnesium_sulfate_heptahydrate",
            "Magnesium sulphate heptahydrate",
            " magnesium  sulfate 7-hydrate",
            "Heptahydrate magnesium sulfate",
            "magnesium sulfate, 7 H2O",
            "magnesium sulfate 7H2O",
        ] {
            assert_eq!(normal(text), "magnesium sulfate heptahydrate", "{text}");
        }
        assert_eq!(normal("Glauber's salt"), normal("glaubers salt"));
        assert_eq!(normal("calcium sulfate 0.5-hydrate"), "calcium sulfate hemihydrate");
        assert_eq!(normal("h2o"), "h2o");
        assert_eq!(normal("7"), "7");
        assert_eq!(normal(""), "");
    }

    /// Worked by hand; the swap is what sets this apart from the plain count.
    #[test]
    fn edits_are_counted() {
        for (a, b, count) in
            [("", "", 0), ("", "salt", 4), ("salt", "slat", 1), ("kitten", "sitting", 3), ("é", "e", 1)]
        {
            assert_eq!(edits(a, b), count, "{a} {b}");
            assert_eq!(edits(b, a), count, "{b} {a}");
        }
    }
}
