//! The charge at the end of a written ion, and which reading of an unmarked one is an ion that exists.

use super::super::component::Component;
use super::Formula;
use super::reading::Reader;

/// Largest charge number that is read.
const MOST_CHARGE: i32 = 8;

/// Ions that are no component of a water but are written with a charge.
const OTHER_IONS: [(&str, i32); 34] = [
    ("H", 1),
    ("H3O", 1),
    ("OH", -1),
    ("S", -2),
    ("HS", -1),
    ("HSO4", -1),
    ("HSO3", -1),
    ("HPO4", -2),
    ("H2PO4", -1),
    ("SiO3", -2),
    ("H3SiO4", -1),
    ("BH4O4", -1),
    ("B4O7", -2),
    ("BO2", -1),
    ("ClO", -1),
    ("ClO2", -1),
    ("ClO3", -1),
    ("ClO4", -1),
    ("BrO3", -1),
    ("IO3", -1),
    ("MnO4", -1),
    ("CrO4", -2),
    ("CN", -1),
    ("SCN", -1),
    ("Fe", 3),
    ("Mn", 4),
    ("Cr", 3),
    ("Co", 2),
    ("Ni", 2),
    ("Pb", 2),
    ("Cd", 2),
    ("Hg", 2),
    ("Ag", 1),
    ("Sn", 2),
];

/// Whether a formula with its charge is a component of a water or another common ion.
pub(super) fn is_known_ion(formula: &Formula) -> bool {
    Component::ALL.iter().any(|c| c.formula().same_substance(formula))
        || OTHER_IONS.iter().any(|(body, charge)| {
            *charge == formula.charge()
                && Reader::new(body, body.chars().collect())
                    .formula(*charge)
                    .is_ok_and(|ion| ion.same_substance(formula))
        })
}

/// The ways to take a charge off the end: one when it is marked or absent, several when digits before a single
/// sign may be a count or a charge. `None` when a charge is marked but cannot be read.
pub(super) fn readings(plain: &[char]) -> Option<Vec<(Vec<char>, i32)>> {
    if let Some(at) = plain.iter().position(|c| *c == '^') {
        let mark: String = plain[at + 1..].iter().filter(|c| !matches!(c, '(' | ')' | ' ')).collect();
        return Some(vec![(trimmed(&plain[..at]), marked_charge(&mark)?)]);
    }
    if plain.last() == Some(&')') {
        let open = plain.iter().rposition(|c| *c == '(')?;
        let inner: String = plain[open + 1..plain.len() - 1].iter().filter(|c| **c != ' ').collect();
        if let Some(charge) = marked_charge(&inner).filter(|_| open > 0) {
            return Some(vec![(trimmed(&plain[..open]), charge)]);
        }
    }
    let is_sign = |c: &char| matches!(c, '+' | '-');
    let last = plain.last()?;
    let digits_after = plain.iter().rev().take_while(|c| c.is_ascii_digit()).count();
    let sign_at = plain.len().checked_sub(digits_after + 1)?;
    if digits_after > 0 && is_sign(&plain[sign_at]) {
        let mark: String = plain[sign_at..].iter().collect();
        return Some(vec![(trimmed(&plain[..sign_at]), marked_charge(&mark)?)]);
    }
    if !is_sign(last) {
        return Some(vec![(plain.to_vec(), 0)]);
    }
    let signs = plain.iter().rev().take_while(|c| *c == last).count();
    let unit = if *last == '+' { 1 } else { -1 };
    let body = &plain[..plain.len() - signs];
    let digits = body.iter().rev().take_while(|c| c.is_ascii_digit()).count();
    let spaced = digits > 0 && body.get(body.len().wrapping_sub(digits + 1)) == Some(&' ');
    if signs > 1 || digits == 0 {
        return Some(vec![(trimmed(body), unit * i32::try_from(signs).ok()?)])
            .filter(|r| r[0].1.abs() <= MOST_CHARGE);
    }
    if spaced {
        let mark: String = plain[body.len() - digits..].iter().collect();
        return Some(vec![(trimmed(&body[..body.len() - digits]), marked_charge(&mark)?)]);
    }
    Some(unmarked_charges(body, digits.min(4), unit))
}

/// `Ca2+`: one charge after `Ca2`, or two after `Ca`.
fn unmarked_charges(body: &[char], digits: usize, unit: i32) -> Vec<(Vec<char>, i32)> {
    let mut found = Vec::new();
    for taken in 0..=digits {
        let (rest, mark) = body.split_at(body.len() - taken);
        let mark: String = mark.iter().collect();
        let count = if taken == 0 { Some(1) } else { mark.parse().ok().filter(|_| !mark.starts_with('0')) };
        if let Some(count) = count.filter(|n| *n <= MOST_CHARGE && !(taken > 0 && *n == 1)) {
            found.push((rest.to_vec(), unit * count));
        }
    }
    found
}

/// `2-`, `-2`, `--`, `+`.
fn marked_charge(mark: &str) -> Option<i32> {
    let digits: String = mark.chars().filter(char::is_ascii_digit).collect();
    let signs: String = mark.chars().filter(|c| !c.is_ascii_digit()).collect();
    let unit = match signs.chars().next()? {
        '+' => 1,
        '-' => -1,
        _ => return None,
    };
    let together = mark.starts_with(&digits) || mark.ends_with(&digits);
    if !together || signs.chars().any(|c| !signs.starts_with(c)) {
        return None;
    }
    let count = match (digits.is_empty(), signs.len()) {
        (true, n) => i32::try_from(n).ok()?,
        (false, 1) if !digits.starts_with('0') => digits.parse().ok()?,
        (false, _) => return None,
    };
    (count <= MOST_CHARGE).then_some(unit * count)
}

fn trimmed(signs: &[char]) -> Vec<char> {
    let end = signs.iter().rposition(|c| *c != ' ').map_or(0, |at| at + 1);
    signs[..end].to_vec()
}
