//! Slips of pen and of scanning that still read as some formula: the letter `I` for `l`, `0` for `O`, a lost
//! dot before the water. Each is an error that lists what may be meant, never a silent other substance.

use super::super::element::{self, Element};
use super::{Formula, Piece};

/// Pairs of capitals that are two elements as written but far more often one element in capitals.
const SHOUTED: [(&str, &str); 7] =
    [("CU", "Cu"), ("NI", "Ni"), ("SI", "Si"), ("PB", "Pb"), ("SN", "Sn"), ("BI", "Bi"), ("COSO", "CoSO")];

/// Other spellings that may be meant by a text that was read as it stands; empty when nothing is suspicious.
pub(super) fn suspected(body: &str, formula: &Formula) -> Vec<String> {
    let mut meant = Vec::new();
    let dry = formula.anhydrous();
    let organic = dry.count("C") > 0.0 && dry.count("H") > 0.0;
    for part in &formula.parts {
        suspect_pieces(&part.pieces, organic, body, &mut meant);
    }
    if !body.chars().any(|c| c.is_ascii_lowercase()) {
        for (capitals, element) in SHOUTED {
            if body.contains(capitals) {
                meant.push(body.replace(capitals, element));
            }
        }
    }
    meant
}

fn suspect_pieces(pieces: &[Piece], organic: bool, body: &str, meant: &mut Vec<String>) {
    for (at, piece) in pieces.iter().enumerate() {
        match piece {
            Piece::Group(inner, _) => suspect_pieces(inner, organic, body, meant),
            Piece::Atom(element, count) => {
                let digits = count.to_string();
                let symbol = element.symbol;
                if *count >= 20 && digits.contains('0') && !organic && symbol != "O" {
                    let written = format!("{symbol}{digits}");
                    meant.push(body.replacen(&written, &format!("{symbol}{}", digits.replace('0', "O")), 1));
                }
                if symbol == "C" && digits.starts_with('1') && *count > 9 && !organic {
                    meant.push(body.replacen(&format!("C{digits}"), &format!("Cl{}", &digits[1..]), 1));
                }
                if symbol == "C" && *count == 1 && next_is(pieces, at, "I") {
                    meant.push(body.replacen("CI", "Cl", 1));
                }
            }
        }
    }
}

fn next_is(pieces: &[Piece], at: usize, symbol: &str) -> bool {
    matches!(pieces.get(at + 1), Some(Piece::Atom(element, _)) if element.symbol == symbol)
}

/// The ways to put the lost dot back into a part that ends in `H2O`: `MgSO47H2O` gives `MgSO4·7H2O` and others.
pub(super) fn lost_dot(body: &str) -> Vec<String> {
    let Some(front) = body.strip_suffix("H2O") else { return Vec::new() };
    let stem = front.trim_end_matches(|c: char| c.is_ascii_digit());
    let digits = &front[stem.len()..];
    if stem.is_empty() {
        return Vec::new();
    }
    (0..=digits.len())
        .rev()
        .map(|at| digits.split_at(at))
        .filter(|(base, water)| !base.starts_with('0') && !water.starts_with('0'))
        .map(|(base, water)| format!("{stem}{base}·{water}H2O"))
        .filter(|dotted| Formula::read(dotted).is_ok())
        .collect()
}

/// Spellings with other capitals that do consist of elements: for `co` both `Co` and `CO`. At most six,
/// two-letter symbols tried first; none for a text of more than 16 letters, which is no formula in lower case.
pub(super) fn capitals(body: &str) -> Vec<String> {
    let signs: Vec<char> = body.chars().collect();
    if signs.iter().filter(|c| c.is_ascii_alphabetic()).count() > 16 {
        return Vec::new();
    }
    let mut found = Vec::new();
    spell(&signs, 0, &mut String::new(), &mut found);
    found.retain(|spelled| spelled != body);
    found
}

fn spell(signs: &[char], at: usize, so_far: &mut String, found: &mut Vec<String>) {
    if found.len() >= 6 {
        return;
    }
    let Some(&sign) = signs.get(at) else {
        found.push(so_far.clone());
        return;
    };
    let length = so_far.len();
    if !sign.is_ascii_alphabetic() {
        so_far.push(sign);
        spell(signs, at + 1, so_far, found);
        so_far.truncate(length);
        return;
    }
    for width in [2, 1] {
        if let Some(element) = element_of(signs.get(at..at + width)) {
            so_far.push_str(element.symbol);
            spell(signs, at + width, so_far, found);
            so_far.truncate(length);
        }
    }
}

fn element_of(letters: Option<&[char]>) -> Option<&'static Element> {
    let letters: String = letters?.iter().collect();
    element::all().iter().find(|element| element.symbol.eq_ignore_ascii_case(&letters))
}
