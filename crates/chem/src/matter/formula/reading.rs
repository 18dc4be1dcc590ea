//! The formula reader: charge off the end, parts between the dots, elements and brackets within each part.

use super::super::element;
use super::{Formula, FormulaError, Part, Piece, charge, slips, spelling, water};

/// Longest text that is read, in characters.
const LONGEST: usize = 200;
/// Most atoms of one kind in one place, most water, deepest bracket.
const MOST_ATOMS: u32 = 999;
const MOST_WATER: f64 = 40.0;
const DEEPEST: usize = 8;
/// A single dot before more waters than this may as well be a decimal point.
const MOST_LIKELY_WATER: f64 = 24.0;

/// Salts whose hydrate has less than one water, so that a dot before it may be a decimal point.
const FRACTIONAL_HYDRATES: [(&str, &[f64]); 2] = [("CaSO4", &[0.5, 0.6, 0.67]), ("H3PO4", &[0.5])];

pub(super) fn read(text: &str) -> Result<Formula, FormulaError> {
    let malformed = |why| FormulaError::Malformed { text: text.to_owned(), why };
    if text.chars().count() > LONGEST {
        return Err(malformed("it is longer than 200 characters"));
    }
    let plain = spelling::plain(text);
    if plain.is_empty() {
        return Err(malformed("it is empty"));
    }
    let mut readings = charge::readings(&plain).ok_or_else(|| malformed("the charge cannot be read"))?;
    if readings.len() == 1 {
        let (body, charge) = readings.remove(0);
        return Reader::new(text, body).formula(charge);
    }
    choose_charge(text, readings)
}

/// Picks the reading of an unmarked charge that is a known ion; anything else is ambiguous.
fn choose_charge(text: &str, readings: Vec<(Vec<char>, i32)>) -> Result<Formula, FormulaError> {
    let mut whole = Vec::new();
    let mut fault = None;
    for (body, charge) in readings {
        match Reader::new(text, body).formula(charge) {
            Ok(formula) => whole.push(formula),
            Err(error) => fault = Some(error),
        }
    }
    let known: Vec<usize> = (0..whole.len()).filter(|&at| charge::is_known_ion(&whole[at])).collect();
    match (known.as_slice(), whole.len(), fault) {
        ([one], _, _) => Ok(whole.swap_remove(*one)),
        (_, 0, Some(error)) => Err(error),
        (_, 1, _) => Ok(whole.swap_remove(0)),
        _ => Err(FormulaError::Ambiguous {
            text: text.to_owned(),
            readings: whole.iter().map(Formula::canonical).collect(),
        }),
    }
}

/// What stood before a part.
#[derive(Clone, Copy, PartialEq)]
enum Separator {
    None,
    Strong,
    Dot,
}

pub(super) struct Reader<'a> {
    text: &'a str,
    signs: Vec<char>,
    at: usize,
}

impl<'a> Reader<'a> {
    pub(super) fn new(text: &'a str, signs: Vec<char>) -> Reader<'a> {
        Reader { text, signs, at: 0 }
    }

    fn malformed<T>(&self, why: &'static str) -> Result<T, FormulaError> {
        Err(FormulaError::Malformed { text: self.text.to_owned(), why })
    }

    fn ambiguous<T>(&self, readings: Vec<String>) -> Result<T, FormulaError> {
        Err(FormulaError::Ambiguous { text: self.text.to_owned(), readings })
    }

    fn peek(&self) -> Option<char> {
        self.signs.get(self.at).copied()
    }

    fn skip_spaces(&mut self) {
        while self.peek() == Some(' ') {
            self.at += 1;
        }
    }

    pub(super) fn formula(mut self, charge: i32) -> Result<Formula, FormulaError> {
        let mut parts = Vec::new();
        let mut water = 0.0;
        let mut separator = Separator::None;
        loop {
            let part = self.part(separator, &parts)?;
            let (part, inner) = water::without(part);
            if parts.is_empty() || !part.pieces.is_empty() {
                parts.push(part);
            }
            water += inner;
            separator = match self.separator()? {
                Separator::None => break,
                found => found,
            };
        }
        if !(water == 0.0 || (1e-3..=MOST_WATER).contains(&water)) {
            return Err(self.out_of_range(water, 1e-3, MOST_WATER));
        }
        self.whole(parts, water, charge)
    }

    /// Judges the formula as a whole: number in front, water alone, slips of spelling.
    fn whole(&self, mut parts: Vec<Part>, mut water: f64, charge: i32) -> Result<Formula, FormulaError> {
        if parts[0].pieces.is_empty() && parts.len() > 1 {
            // Water that stands in front is water all the same.
            parts.remove(0);
        }
        if parts[0].pieces.is_empty() {
            let count = water;
            parts[0] = Part { count, pieces: water::pieces() };
            water = 0.0;
        }
        let front = parts[0].count;
        if front != 1.0 && (parts.len() == 1 || charge != 0) {
            parts[0].count = 1.0;
            let single = Formula::new(parts, water / front, charge).canonical();
            return Err(FormulaError::LeadingNumber { text: self.text.to_owned(), single });
        }
        let formula = Formula::new(parts, water, charge);
        let body: String = self.signs.iter().filter(|c| **c != ' ').collect();
        let meant = slips::suspected(&body, &formula);
        if meant.is_empty() {
            return Ok(formula);
        }
        let mut readings = meant;
        readings.push(formula.canonical());
        self.ambiguous(readings)
    }

    fn out_of_range(&self, value: f64, least: f64, most: f64) -> FormulaError {
        FormulaError::OutOfRange { text: self.text.to_owned(), value, least, most }
    }

    fn separator(&mut self) -> Result<Separator, FormulaError> {
        self.skip_spaces();
        match self.peek() {
            None => Ok(Separator::None),
            Some('·') => {
                self.at += 1;
                Ok(Separator::Strong)
            }
            Some('.') => {
                let dots = self.signs[self.at..].iter().take_while(|c| **c == '.').count();
                self.at += dots;
                if dots > 2 { self.malformed("it has a row of dots") } else { Ok(Separator::Dot) }
            }
            Some(')') => self.malformed("a bracket closes that was not opened"),
            Some('+' | '-') => self.malformed("a sign of charge stands inside it"),
            Some(_) => self.malformed("it has a sign that does not belong in a formula"),
        }
    }

    fn part(&mut self, separator: Separator, before: &[Part]) -> Result<Part, FormulaError> {
        self.skip_spaces();
        if matches!(self.peek(), Some('n' | 'x' | 'X')) && separator != Separator::None {
            return Err(FormulaError::WaterUnstated { text: self.text.to_owned() });
        }
        let start = self.at;
        let count = self.number(separator)?;
        let written: String = self.signs[start..self.at].iter().filter(|c| **c != ' ').collect();
        let from = self.at;
        let pieces = self.pieces(0)?;
        let body: String = self.signs[from..self.at].iter().filter(|c| **c != ' ').collect();
        if pieces.is_empty() {
            return self.malformed("an element symbol is missing");
        }
        if body == "H20" {
            return self.malformed("H20 is written with a zero; water is H2O");
        }
        let is_water = water::is(&pieces);
        if !is_water && water::ends(&pieces) {
            return self.ambiguous(slips::lost_dot(&body));
        }
        if is_water && separator == Separator::Dot && !before.is_empty() {
            self.judge_dot(&written, count, before)?;
        }
        if is_water && count > MOST_WATER {
            return Err(self.out_of_range(count, 1e-3, MOST_WATER));
        }
        Ok(Part { count, pieces })
    }

    /// A single dot is a separator; where it may as well be a decimal point, both readings are listed.
    fn judge_dot(&self, written: &str, count: f64, before: &[Part]) -> Result<(), FormulaError> {
        let Some(fraction) =
            written.parse::<u32>().ok().and_then(|_| format!("0.{written}").parse::<f64>().ok())
        else {
            return Ok(());
        };
        let dry = Formula::new(before.to_vec(), 0.0, 0);
        let known = FRACTIONAL_HYDRATES
            .iter()
            .any(|(base, waters)| dry.canonical() == *base && waters.contains(&fraction));
        if !known && count <= MOST_LIKELY_WATER {
            return Ok(());
        }
        self.ambiguous([count, fraction].map(|water| dry.with_water(water).canonical()).to_vec())
    }

    /// The number before a part: whole, decimal, `a/b`, `½`; 1 when there is none.
    fn number(&mut self, separator: Separator) -> Result<f64, FormulaError> {
        let whole = self.digits();
        if whole.len() > 1 && whole.starts_with('0') {
            return self.malformed("a number starts with zero");
        }
        let mut value = if whole.is_empty() { 0.0 } else { whole.parse().unwrap_or(f64::INFINITY) };
        let mut stated = !whole.is_empty();
        let decimal = matches!(self.peek(), Some('.' | ','))
            && self.signs.get(self.at + 1).is_some_and(char::is_ascii_digit)
            && (stated || separator == Separator::Strong);
        if decimal {
            self.at += 1;
            let part = self.digits();
            value = format!("{}.{part}", if whole.is_empty() { "0" } else { &whole }).parse().unwrap_or(0.0);
            stated = true;
        } else if self.peek() == Some('/') {
            self.at += 1;
            value /= self.digits().parse().unwrap_or(0.0);
        } else if let Some(fraction) = self.peek().and_then(vulgar_fraction) {
            self.at += 1;
            value += fraction;
            stated = true;
        }
        if !stated && separator != Separator::None && self.peek().is_none() {
            return self.malformed("nothing follows the dot");
        }
        self.skip_spaces();
        match (stated, value) {
            (false, _) => Ok(1.0),
            (true, v) if v > 0.0 && v <= f64::from(MOST_ATOMS) => Ok(v),
            (true, v) if v.is_finite() && v > 0.0 => Err(self.out_of_range(v, 1e-3, f64::from(MOST_ATOMS))),
            _ => self.malformed("a number is zero or not a number"),
        }
    }

    fn digits(&mut self) -> String {
        let start = self.at;
        while self.peek().is_some_and(|c| c.is_ascii_digit()) {
            self.at += 1;
        }
        self.signs[start..self.at].iter().collect()
    }

    fn pieces(&mut self, depth: usize) -> Result<Vec<Piece>, FormulaError> {
        let mut pieces = Vec::new();
        loop {
            match self.peek() {
                Some(c) if c.is_ascii_uppercase() => pieces.push(self.atom()?),
                Some('(') => pieces.push(self.group(depth)?),
                Some(' ') if depth > 0 => self.at += 1,
                Some(' ') => {
                    if self.gap(&pieces)? {
                        return Ok(pieces);
                    }
                }
                Some(c) if c.is_ascii_lowercase() => return self.unknown(c.to_string()),
                _ => return Ok(pieces),
            }
        }
    }

    /// A space inside a part. Before `nH2O` at the end it is the dot; between symbols it means nothing.
    /// Answers whether the part ends here.
    fn gap(&mut self, pieces: &[Piece]) -> Result<bool, FormulaError> {
        let gap = self.at;
        self.skip_spaces();
        let rest: String = self.signs[self.at..].iter().filter(|c| **c != ' ').collect();
        let number = rest.len() - rest.trim_start_matches(|c: char| c.is_ascii_digit()).len();
        let water =
            rest.trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '/' | '½'));
        match self.peek() {
            Some('.' | '·') => Ok(true),
            _ if water == "H2O" && !pieces.is_empty() => {
                let uncounted = matches!(pieces.last(), Some(Piece::Atom(_, 1) | Piece::Group(_, 1)));
                if uncounted && number > 0 && number + 3 == rest.len() {
                    let front: String = self.signs[..gap].iter().collect();
                    let (digits, _) = rest.split_at(number);
                    return self.ambiguous(vec![format!("{front}·{rest}"), format!("{front}{digits}·H2O")]);
                }
                self.at = gap;
                self.signs[gap] = '·';
                Ok(true)
            }
            Some(c) if c.is_ascii_digit() => self.malformed("a number stands after a space"),
            _ => Ok(false),
        }
    }

    fn atom(&mut self) -> Result<Piece, FormulaError> {
        let first = self.signs[self.at];
        let mut symbol = first.to_string();
        if let Some(second) = self.signs.get(self.at + 1).filter(|c| c.is_ascii_lowercase() && **c != 'x') {
            symbol.push(*second);
        } else if first == 'X' && self.signs.get(self.at + 1) == Some(&'e') {
            symbol.push('e');
        }
        let Some(element) = element::of_symbol(&symbol) else { return self.unknown(symbol) };
        self.at += symbol.len();
        Ok(Piece::Atom(element, self.count()?))
    }

    fn unknown<T>(&self, symbol: String) -> Result<T, FormulaError> {
        let body: String = self.signs.iter().filter(|c| **c != ' ').collect();
        let hints = slips::capitals(&body);
        Err(FormulaError::ElementUnknown { text: self.text.to_owned(), symbol, hints })
    }

    fn group(&mut self, depth: usize) -> Result<Piece, FormulaError> {
        if depth >= DEEPEST {
            return self.malformed("its brackets nest too deep");
        }
        self.at += 1;
        let pieces = self.pieces(depth + 1)?;
        if self.peek() != Some(')') {
            return self.malformed("a bracket is not closed, or a sign inside it does not belong there");
        }
        self.at += 1;
        let roman = |p: &Piece| matches!(p, Piece::Atom(element, 1) if matches!(element.symbol, "I" | "V"));
        match pieces.as_slice() {
            [] => self.malformed("a bracket is empty"),
            all if all.iter().all(roman) => {
                self.malformed("an oxidation number is not part of a formula; write the ion's charge instead")
            }
            _ => Ok(Piece::Group(pieces, self.count()?)),
        }
    }

    fn count(&mut self) -> Result<u32, FormulaError> {
        let digits = self.digits();
        match digits.as_str() {
            "" => Ok(1),
            d if d.starts_with('0') => {
                self.malformed("a zero follows a symbol; perhaps the letter O is meant")
            }
            "1" => self.malformed("a 1 follows a symbol; perhaps the letter l is meant"),
            d => match d.parse::<u32>() {
                Ok(n) if n <= MOST_ATOMS => Ok(n),
                _ => Err(self.out_of_range(d.parse().unwrap_or(f64::MAX), 1.0, f64::from(MOST_ATOMS))),
            },
        }
    }
}

fn vulgar_fraction(sign: char) -> Option<f64> {
    match sign {
        '½' => Some(0.5),
        '¼' => Some(0.25),
        '¾' => Some(0.75),
        '⅓' => Some(1.0 / 3.0),
        '⅔' => Some(2.0 / 3.0),
        _ => None,
    }
}
