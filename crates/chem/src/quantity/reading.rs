//! Reads a written amount: number, uncertainty, unit, basis, coverage factor.

use super::number::{self, Cell, Convention};
use super::{Basis, Measured, QuantityError, Unit};

/// Longest text that is read, in characters.
const LONGEST: usize = 160;
/// The coverage factor that a text "±" without "k=" stands for.
const USUAL_COVERAGE: f64 = 2.0;

/// An amount as read, with what the reader took for granted.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// The amount.
    pub measured: Measured,
    /// Whether an uncertainty stood there without "k=" and was read as k = 2. The caller lists it as an assumption.
    pub coverage_assumed: bool,
}

/// Reads an amount as people write it.
///
/// ```
/// use springwright_chem::quantity::reading::read_measured;
/// let read = read_measured("190 ± 4 mg/L as CaCO3")?;
/// assert_eq!(read.measured.value(), 190.0);
/// assert_eq!(read.measured.unit().symbol(), "mg/L");
/// assert_eq!(read.measured.standard_uncertainty(), Some(2.0));
/// assert!(read.coverage_assumed);
/// assert!(read_measured("190 ppm").is_err());
/// # Ok::<(), springwright_chem::quantity::QuantityError>(())
/// ```
///
/// # Errors
/// [`QuantityError`] of the part that cannot be read; an amount without a unit, "ppm", "ND" without its limit and
/// `1,234` are errors that say what to write.
pub fn read_measured(text: &str) -> Result<Reading, QuantityError> {
    let malformed = |why| QuantityError::ExpressionMalformed { text: text.trim().to_owned(), why };
    if text.chars().count() > LONGEST {
        return Err(malformed("it is longer than 160 characters"));
    }
    let mut rest = tidy(text);
    if matches!(number::unmeasured(&rest), Some(Cell::Empty)) {
        return Err(malformed("it is empty"));
    }
    let below = take_below(text, &mut rest)?;
    let coverage = take_coverage(&mut rest).map_err(malformed)?;
    let pieces = pieces(&rest).map_err(malformed)?;
    let convention = number::convention(&pieces.numbers());
    let value = number::read_number(pieces.value, &convention)?;
    let (unit, basis) = unit_and_basis(&pieces.unit, pieces.value, text)?;
    let mut measured = Measured::new(value, unit)?;
    if let Some(basis) = basis {
        measured = measured.with_basis(basis)?;
    }
    if below {
        measured = measured.below();
    }
    let mut coverage_assumed = false;
    match (&pieces.band, coverage) {
        (Some(band), stated) => {
            let size = band.size(value, unit, &convention)?;
            coverage_assumed = stated.is_none();
            measured = measured.with_uncertainty(size, Some(stated.unwrap_or(USUAL_COVERAGE)))?;
        }
        (None, Some(_)) => return Err(malformed("it has a coverage factor but no uncertainty")),
        (None, None) => {}
    }
    Ok(Reading { measured, coverage_assumed })
}

/// One kind of space, of plus-minus and of dash before the parts are told apart.
fn tidy(text: &str) -> String {
    let mut flat = String::with_capacity(text.len());
    for sign in text.trim().chars() {
        match sign {
            c if c.is_whitespace() => {
                if !flat.ends_with(' ') {
                    flat.push(' ');
                }
            }
            '＜' | '﹤' => flat.push('<'),
            '−' | '﹣' | '－' => flat.push('-'),
            c => flat.push(c),
        }
    }
    for mark in ["+/-", "+-", "+ / -", "+ -"] {
        flat = flat.replace(mark, "±");
    }
    flat
}

/// Takes "<", "below", "ND <" off the front.
fn take_below(text: &str, rest: &mut String) -> Result<bool, QuantityError> {
    let whole = || text.trim().to_owned();
    if matches!(number::unmeasured(rest), Some(Cell::NotDetected | Cell::Trace)) {
        return Err(QuantityError::LimitUnstated { text: whole() });
    }
    if let Some(at) = rest.find('<') {
        let front = rest[..at].trim().trim_end_matches(['(', '[', ':']).trim();
        if !front.is_empty() && !matches!(number::unmeasured(front), Some(Cell::NotDetected)) {
            return Err(QuantityError::ComparatorUnsupported { text: whole() });
        }
        let limit = rest[at + 1..].trim();
        *rest = if front.is_empty() { limit } else { limit.trim_end_matches([')', ']']) }.to_owned();
        if rest.starts_with('=') {
            return Err(QuantityError::ComparatorUnsupported { text: whole() });
        }
        return Ok(true);
    }
    for word in ["less than ", "below "] {
        if rest.to_ascii_lowercase().starts_with(word) {
            *rest = rest[word.len()..].to_owned();
            return Ok(true);
        }
    }
    match rest.chars().next() {
        Some('>' | '≥' | '≤' | '~' | '≈' | '＞') => {
            Err(QuantityError::ComparatorUnsupported { text: whole() })
        }
        _ => Ok(false),
    }
}

/// Takes "(k=2)" or ", k = 2" off the end.
fn take_coverage(rest: &mut String) -> Result<Option<f64>, &'static str> {
    let spread = rest.replace(" =", "=").replace("= ", "=");
    let Some(at) = spread.find("k=") else { return Ok(None) };
    let starts_word = at == 0 || spread[..at].ends_with([' ', '(', '[', ',', ';']);
    let after = &spread[at + 2..];
    let end = after.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ',')).unwrap_or(after.len());
    let digits = after[..end].trim_end_matches(',').replace(',', ".");
    let k = digits.parse::<f64>().map_err(|_| "the coverage factor after k= is no number")?;
    let before = spread[..at].trim_end().trim_end_matches(['(', '[', ',', ';']).trim_end();
    let behind = after[end..].trim_start().trim_start_matches([')', ']', ',', ';']).trim_start();
    if !starts_word {
        return Err("k= does not stand alone");
    }
    *rest = format!("{before} {behind}").trim().to_owned();
    Ok(Some(k))
}

/// The parts of an expression, still as text.
struct Pieces<'a> {
    value: &'a str,
    band: Option<Band<'a>>,
    unit: String,
}

/// What stands after "±".
struct Band<'a> {
    number: &'a str,
    percent: bool,
}

impl Pieces<'_> {
    fn numbers(&self) -> Vec<&str> {
        std::iter::once(self.value).chain(self.band.as_ref().map(|band| band.number)).collect()
    }
}

impl Band<'_> {
    /// The uncertainty in the unit of the value; a percentage is of the value.
    fn size(&self, value: f64, unit: Unit, convention: &Convention) -> Result<f64, QuantityError> {
        let number = number::read_number(self.number, convention)?;
        Ok(if self.percent && unit != Unit::PERCENT { value.abs() * number / 100.0 } else { number })
    }
}

/// Tells value, band and unit apart: `190 ± 4 mg/L`, `190 mg/L ± 4 mg/L`, `190 mg/L ± 2 %`, `190 ± 2 % mg/L`.
fn pieces(text: &str) -> Result<Pieces<'_>, &'static str> {
    let (front, back) = match text.split_once('±') {
        Some((front, back)) => (front.trim(), Some(back.trim())),
        None => (text.trim(), None),
    };
    let front = front.strip_prefix('(').unwrap_or(front).trim_end_matches(['(', ',', ' ']);
    let (value, first_unit) = number_and_rest(front);
    if value.is_empty() {
        return Err("it does not start with a number");
    }
    if first_unit.starts_with(['.', ',']) {
        return Err("its number has a stray point or comma");
    }
    let mut after = first_unit.chars();
    if matches!(after.next(), Some('-' | '–' | '—')) && after.any(|c| c.is_ascii_digit()) {
        return Err("a range is not one amount");
    }
    let Some(back) = back else { return Ok(Pieces { value, band: None, unit: first_unit.to_owned() }) };
    let (number, rest) = number_and_rest(back);
    if number.is_empty() {
        return Err("no number follows the ±");
    }
    let rest = rest.trim_start_matches(')').trim();
    let (percent, second_unit) = match rest.strip_prefix('%') {
        Some(after) if !first_unit.is_empty() || !after.trim().is_empty() => (true, after.trim()),
        _ => (false, rest),
    };
    let unit = one_unit(first_unit, second_unit)?;
    Ok(Pieces { value, band: Some(Band { number, percent }), unit })
}

/// The unit of a value and of its uncertainty, when the two agree: one may be absent, or carry the basis alone.
fn one_unit(first: &str, second: &str) -> Result<String, &'static str> {
    let extends = |long: &str, short: &str| {
        long.strip_prefix(short).is_some_and(|rest| rest.is_empty() || rest.starts_with([' ', '(']))
    };
    if extends(first, second) || second.is_empty() {
        Ok(first.to_owned())
    } else if extends(second, first) || first.is_empty() {
        Ok(second.to_owned())
    } else if second.starts_with("as ") || second.starts_with("(as ") {
        Ok(format!("{first} {second}"))
    } else {
        Err("the value and its uncertainty have different units")
    }
}

/// Splits at the end of the leading number; spaces inside it part thousands only when three digits follow.
fn number_and_rest(text: &str) -> (&str, &str) {
    let word_end = text.find([' ', '/']).unwrap_or(text.len());
    if number::is_not_finite(&text[..word_end]) {
        return (&text[..word_end], text[word_end..].trim());
    }
    let signs: Vec<(usize, char)> = text.char_indices().collect();
    let digit = |at: usize| signs.get(at).is_some_and(|(_, c)| c.is_ascii_digit());
    let mut at = 0;
    while let Some((_, sign)) = signs.get(at) {
        let part_of_number = match sign {
            c if c.is_ascii_digit() => true,
            '-' | '+' | '–' => at == 0,
            '.' | ',' | '\'' | '’' => digit(at + 1),
            ' ' => {
                at > 0 && digit(at - 1) && digit(at + 1) && digit(at + 2) && digit(at + 3) && !digit(at + 4)
            }
            _ => false,
        };
        let power = power_of_ten(&signs, at);
        if power > 0 {
            at += power;
            break;
        }
        if !part_of_number {
            break;
        }
        at += 1;
    }
    let end = signs.get(at).map_or(text.len(), |(byte, _)| *byte);
    (text[..end].trim(), text[end..].trim())
}

/// How many signs from here on are `e-3`, `x10^3`, ` · 10⁻³`; 0 when none.
fn power_of_ten(signs: &[(usize, char)], from: usize) -> usize {
    let sign = |at: usize| signs.get(at).map(|(_, c)| *c);
    let digits_from = |mut at: usize| {
        let start = at;
        while sign(at).is_some_and(|c| c.is_ascii_digit() || "⁰¹²³⁴⁵⁶⁷⁸⁹".contains(c)) {
            at += 1;
        }
        (at > start).then_some(at)
    };
    if from == 0 {
        return 0;
    }
    if matches!(sign(from), Some('e' | 'E')) {
        let after = from + 1 + usize::from(matches!(sign(from + 1), Some('-' | '+')));
        return digits_from(after).map_or(0, |end| end - from);
    }
    let mut at = from + usize::from(sign(from) == Some(' '));
    if !matches!(sign(at), Some('x' | 'X' | '×' | '·' | '⋅' | '*')) {
        return 0;
    }
    at += 1 + usize::from(sign(at + 1) == Some(' '));
    if sign(at) != Some('1') || sign(at + 1) != Some('0') {
        return 0;
    }
    at += 2 + usize::from(sign(at + 2) == Some('^'));
    at += usize::from(matches!(sign(at), Some('-' | '+' | '⁻' | '⁺' | '–')));
    digits_from(at).map_or(0, |end| end - from)
}

/// Reads `mg/L as CaCO3`, `mg/L (as CaCO3)`, `mg/L CaCO3`, `mg CaCO3/L`, `mg/L-N`.
fn unit_and_basis(text: &str, value: &str, whole: &str) -> Result<(Unit, Option<Basis>), QuantityError> {
    if text.is_empty() {
        return Err(QuantityError::UnitMissing { text: whole.trim().to_owned() });
    }
    let (unit, basis) = match split_as(text) {
        Some((unit, basis)) => (unit, Some(basis)),
        None => (text, None),
    };
    if unit.is_empty() {
        return Err(QuantityError::UnitMissing { text: whole.trim().to_owned() });
    }
    if let Some(basis) = basis {
        return Ok((with_value(Unit::read(unit), value, basis)?, Some(Basis::read(basis)?)));
    }
    let error = match with_value(Unit::read(unit), value, "") {
        Ok(unit) => return Ok((unit, None)),
        Err(error) => error,
    };
    if matches!(error, QuantityError::UnitAmbiguous { .. }) {
        return Err(error);
    }
    for (unit, basis) in inner_basis(unit) {
        let Ok(basis) = Basis::read(&basis) else { continue };
        match with_value(Unit::read(&unit), value, basis.symbol()) {
            Ok(unit) => return Ok((unit, Some(basis))),
            Err(ambiguous @ QuantityError::UnitAmbiguous { .. }) => return Err(ambiguous),
            Err(_) => {}
        }
    }
    Err(error)
}

/// Splits at "as" or "expressed as", in brackets or not.
fn split_as(text: &str) -> Option<(&str, &str)> {
    let lower = text.to_ascii_lowercase();
    for mark in ["(expressed as ", "[expressed as ", "expressed as ", "(as ", "[as ", " as "] {
        if let Some(at) = lower.find(mark) {
            let basis = text[at + mark.len()..].trim().trim_end_matches([')', ']']);
            return Some((text[..at].trim(), basis.trim()));
        }
    }
    if lower.ends_with(" as") {
        return Some((text[..text.len() - 3].trim(), ""));
    }
    lower.strip_prefix("as ").map(|basis| ("", text[text.len() - basis.len()..].trim()))
}

/// Places where a basis may stand inside a unit without "as".
fn inner_basis(text: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    for (at, sign) in text.char_indices() {
        if matches!(sign, ' ' | '-' | '–') {
            let after = at + sign.len_utf8();
            found.push((text[..at].to_owned(), text[after..].trim().trim_matches(['(', ')']).to_owned()));
        }
    }
    if let Some((above, below)) = text.split_once('/')
        && let Some((mass, basis)) = above.split_once([' ', '-'])
    {
        found.push((format!("{mass}/{below}"), basis.to_owned()));
    }
    found
}

/// Puts the number, and the basis, into the choices of an ambiguous unit.
fn with_value(read: Result<Unit, QuantityError>, value: &str, basis: &str) -> Result<Unit, QuantityError> {
    read.map_err(|error| match error {
        QuantityError::UnitAmbiguous { text, between, choices } => {
            let tail = if basis.is_empty() { String::new() } else { format!(" as {basis}") };
            let choices = choices.into_iter().map(|unit| format!("{value} {unit}{tail}")).collect();
            QuantityError::UnitAmbiguous { text, between, choices }
        }
        other => other,
    })
}
