//! The many spellings of a unit: whole spellings stand in the tables; the others are taken apart at `/`, "per"
//! and `-1`, each piece is looked up, and a qualifier ("US", "imperial", "troy") is put at the end.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use super::super::QuantityError;
use super::{FACTS, Unit};
use crate::table::Table;

/// Longest text that is read, in characters.
const LONGEST: usize = 64;

/// Words that tell units of one name apart, and what they add to the symbol.
const QUALIFIERS: [(&str, &str); 19] = [
    ("us", "_us"),
    ("usa", "_us"),
    ("american", "_us"),
    ("wine", "_us"),
    ("imp", "_imp"),
    ("imperial", "_imp"),
    ("uk", "_imp"),
    ("british", "_imp"),
    ("troy", "_troy"),
    ("av", "_av"),
    ("avdp", "_av"),
    ("avoirdupois", "_av"),
    ("ap", "_ap"),
    ("apothecary", "_ap"),
    ("apothecaries", "_ap"),
    ("apothecaries'", "_ap"),
    ("metric", "_metric"),
    ("australian", "_au"),
    ("au", "_au"),
];

/// Units whose name alone is ambiguous, with what they may be.
struct Choice {
    units: Vec<&'static str>,
    between: &'static str,
}

/// Whole spellings to units, pieces to canonical pieces, ambiguous spellings to choices.
struct Words {
    whole: BTreeMap<String, Unit>,
    folded: BTreeMap<String, Unit>,
    pieces: BTreeMap<&'static str, &'static str>,
    choices: BTreeMap<String, Choice>,
    /// Symbols in lower case with themselves.
    symbols: Vec<(String, &'static str)>,
}

static WORDS: LazyLock<Words> = LazyLock::new(|| {
    let mut whole = BTreeMap::new();
    for (facts, unit) in FACTS.iter().zip(Unit::all()) {
        for spelling in std::iter::once(&facts.symbol).chain(&facts.also) {
            whole.insert(plain(spelling), unit);
        }
    }
    let folded =
        whole.iter().filter(|(k, _)| tolerates_capitals(k)).map(|(k, u)| (k.to_lowercase(), *u)).collect();
    let mut pieces = BTreeMap::new();
    for row in Table::read(include_str!("../../../data/unit_words.tsv")).rows() {
        for word in row.list("words").chain([row.text("piece")]) {
            pieces.insert(word, row.text("piece"));
        }
    }
    let choices = Table::read(include_str!("../../../data/unit_choices.tsv"))
        .rows()
        .map(|row| {
            let choice = Choice { units: row.list("choices").collect(), between: row.text("between") };
            (row.text("word").to_owned(), choice)
        })
        .collect();
    let symbols = FACTS.iter().map(|facts| (facts.symbol.to_lowercase(), facts.symbol)).collect();
    Words { whole, folded, pieces, choices, symbols }
});

pub(super) fn read(text: &str) -> Result<Unit, QuantityError> {
    if text.trim().is_empty() {
        return Err(QuantityError::UnitMissing { text: text.to_owned() });
    }
    let unknown = |near| Err(QuantityError::UnitUnknown { text: text.trim().to_owned(), near });
    if text.chars().count() > LONGEST {
        return unknown(Vec::new());
    }
    let plain = plain(text);
    let mut tries = vec![plain.clone(), composed(&plain)];
    if tolerates_capitals(&plain) {
        tries.push(plain.to_lowercase());
        tries.push(composed(&plain.to_lowercase()));
    }
    for key in &tries {
        if let Some(choice) = WORDS.choices.get(key) {
            return Err(QuantityError::UnitAmbiguous {
                text: text.trim().to_owned(),
                between: choice.between,
                choices: choice.units.iter().map(|unit| (*unit).to_owned()).collect(),
            });
        }
        if let Some(unit) = WORDS.whole.get(key).or_else(|| WORDS.folded.get(key)) {
            return Ok(*unit);
        }
    }
    unknown(near(&tries[1]))
}

/// Capitals carry meaning in short symbols (`mS`, `MS`; `°f`, `°F`); only in words and in quotients, where
/// another reading would be absurd, they are let pass.
fn tolerates_capitals(key: &str) -> bool {
    (key.contains('/') && key.len() >= 4) || key.chars().filter(|c| c.is_ascii_alphabetic()).count() >= 4
}

/// Brings signs, spaces, dots and "per" to one form.
fn plain(text: &str) -> String {
    let mut flat = String::with_capacity(text.len());
    for sign in text.trim().chars() {
        match sign {
            'μ' | 'µ' => flat.push('u'),
            '℃' => flat.push_str("°C"),
            '℉' => flat.push_str("°F"),
            'º' | '˚' => flat.push('°'),
            'ℓ' => flat.push('L'),
            '％' => flat.push('%'),
            '⁄' | '∕' | '／' => flat.push('/'),
            '⁻' | '−' | '–' | '‐' | '‑' => flat.push('-'),
            '⁰' => flat.push('0'),
            '¹' => flat.push('1'),
            '²' => flat.push('2'),
            '³' => flat.push('3'),
            '₂' => flat.push('2'),
            '₃' => flat.push('3'),
            '·' | '⋅' | '∙' | '•' | '*' | '(' | ')' | '[' | ']' => flat.push(' '),
            '^' => {}
            c if c.is_whitespace() => flat.push(' '),
            c => flat.push(c),
        }
    }
    let flat = without_points(&flat);
    let words: Vec<&str> = flat.split(' ').filter(|word| !word.is_empty()).collect();
    let mut joined = String::with_capacity(flat.len());
    for word in words {
        let lower = word.to_lowercase();
        if lower == "per" || lower == "/" {
            joined.push('/');
            continue;
        }
        if !joined.is_empty() && !joined.ends_with(['/', '°']) && !word.starts_with('/') {
            joined.push(' ');
        }
        joined.push_str(word);
    }
    inverse_to_quotient(&joined)
}

/// Drops points of abbreviation ("gr.", "U.S.") and commas inside a number ("70,000").
fn without_points(text: &str) -> String {
    let signs: Vec<char> = text.chars().collect();
    let digit = |at: Option<usize>| at.and_then(|at| signs.get(at)).is_some_and(char::is_ascii_digit);
    let kept = signs.iter().enumerate().filter_map(|(at, &sign)| {
        let inside = digit(at.checked_sub(1)) && digit(Some(at + 1));
        match sign {
            '.' if inside => Some('.'),
            '.' if parts_words(&signs, at) => Some(' '),
            '.' => None,
            ',' if inside => None,
            other => Some(other),
        }
    });
    kept.collect()
}

/// Whether a point stands between two words (`fl.oz`, `mg.L-1`), not inside an abbreviation (`U.S.`).
fn parts_words(signs: &[char], at: usize) -> bool {
    at > 0 && signs[at - 1].is_lowercase() && signs.get(at + 1).is_some_and(|next| next.is_alphabetic())
}

/// `mg L-1` and `mg L-1` with raised signs become `mg/L`.
fn inverse_to_quotient(text: &str) -> String {
    match text.strip_suffix("-1").and_then(|front| front.rsplit_once(' ')) {
        Some((above, below)) if !text.contains('/') => format!("{above}/{below}"),
        _ => text.to_owned(),
    }
}

/// Puts canonical pieces together: `grains/US gallon` becomes `gr/gal_us`.
fn composed(plain: &str) -> String {
    let mut qualifiers = Vec::new();
    let mut parts = Vec::new();
    for part in plain.split('/') {
        let mut words = Vec::new();
        for word in part.split(' ').filter(|word| !word.is_empty()) {
            let lower = word.to_lowercase();
            match QUALIFIERS.iter().find(|(qualifier, _)| *qualifier == lower) {
                Some((_, suffix)) if !qualifiers.contains(suffix) => qualifiers.push(*suffix),
                Some(_) => {}
                None => words.push(word),
            }
        }
        parts.push(piece(&words.join("_")));
    }
    parts.join("/") + &qualifiers.concat()
}

/// The canonical piece of a word; plural and capital forms of long words are let pass.
fn piece(word: &str) -> String {
    let pieces = &WORDS.pieces;
    let lower = word.to_lowercase();
    let found = pieces.get(word).or_else(|| if word.len() >= 4 { pieces.get(lower.as_str()) } else { None });
    found.map_or_else(|| word.to_owned(), |piece| (*piece).to_owned())
}

/// Up to four symbols that differ from the text by two signs at most, nearest first.
fn near(key: &str) -> Vec<&'static str> {
    let key = key.to_lowercase();
    let mut found: Vec<(usize, &'static str)> = WORDS
        .symbols
        .iter()
        .filter(|(lower, _)| lower.len().abs_diff(key.len()) <= 2)
        .map(|(lower, symbol)| (distance(key.as_bytes(), lower.as_bytes()), *symbol))
        .filter(|(distance, symbol)| *distance <= 2 && *distance < symbol.len())
        .collect();
    found.sort_unstable();
    found.into_iter().take(4).map(|(_, symbol)| symbol).collect()
}

/// How many signs to insert, delete or change between two texts.
fn distance(a: &[u8], b: &[u8]) -> usize {
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.iter().enumerate() {
        let mut corner = row[0];
        row[0] = i + 1;
        for (j, y) in b.iter().enumerate() {
            let changed = corner + usize::from(x != y);
            corner = row[j + 1];
            row[j + 1] = changed.min(corner + 1).min(row[j] + 1);
        }
    }
    row[b.len()]
}
