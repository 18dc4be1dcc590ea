//! Reads written numbers. Decimal comma and separators of thousands are taken only when the numbers of one table
//! or expression leave no doubt.

use super::QuantityError;

/// Longest number that is read, in characters.
const LONGEST: usize = 40;

/// Which sign parts the decimals, as far as a set of numbers tells.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Convention {
    /// No number needs to know: whole numbers, or a point that nothing contradicts.
    Open,
    /// At least one number has a decimal point for certain, and none a decimal comma.
    Point,
    /// At least one number has a decimal comma for certain, and none a decimal point.
    Comma,
    /// Numbers like `1,234` and numbers like `1.234` stand side by side and nothing tells which sign parts the
    /// decimals.
    Doubtful,
    /// Both occur for certain; the first of each is kept.
    Mixed {
        /// A number with a decimal comma.
        comma: String,
        /// A number with a decimal point.
        point: String,
    },
}

/// What stands in a cell of a table of results.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cell {
    /// A number.
    Value(f64),
    /// Below a limit: `<0.1`.
    Below(f64),
    /// "Not detected" without its limit.
    NotDetected,
    /// "Trace" without its limit.
    Trace,
    /// Nothing, or a dash.
    Empty,
}

/// The cells of a table read together; one bad cell does not spoil the others.
#[derive(Clone, Debug, PartialEq)]
pub struct Numbers {
    /// The convention the cells agree on.
    pub convention: Convention,
    /// Each cell, in order.
    pub cells: Vec<Result<Cell, QuantityError>>,
}

/// Reads the cells of one column or sheet together. `1,234` is 1.234 where another cell has a certain decimal
/// comma, 1234 where another has a certain decimal point, and an error where nothing tells.
///
/// ```
/// use springwright_chem::quantity::number::{Cell, read_numbers};
/// let sheet = read_numbers(&["12,5", "1,234", "<0,1", "n.d."]);
/// assert_eq!(sheet.cells[1], Ok(Cell::Value(1.234)));
/// assert_eq!(sheet.cells[2], Ok(Cell::Below(0.1)));
/// assert!(read_numbers(&["1,234"]).cells[0].is_err());
/// ```
pub fn read_numbers(cells: &[&str]) -> Numbers {
    let bare: Vec<(bool, String)> = cells.iter().map(|cell| bare(cell)).collect();
    let texts: Vec<&str> = bare.iter().map(|(_, text)| text.as_str()).collect();
    let convention = convention(&texts);
    let cells = bare.iter().map(|(below, text)| cell(*below, text, &convention)).collect();
    Numbers { convention, cells }
}

/// Reads one number under a convention.
///
/// # Errors
/// [`QuantityError::NumberMalformed`], [`QuantityError::NumberAmbiguous`], [`QuantityError::NumbersMixed`],
/// [`QuantityError::NotFinite`]. Negative numbers are read; what refuses them is the range of the unit.
pub fn read_number(text: &str, convention: &Convention) -> Result<f64, QuantityError> {
    let plain = plain(text);
    if is_not_finite(&plain) {
        return Err(QuantityError::NotFinite { what: "the number" });
    }
    let malformed = || QuantityError::NumberMalformed { text: text.trim().to_owned() };
    let shape = Shape::of(&plain).ok_or_else(malformed)?;
    let chosen = match (convention, shape.point, shape.comma) {
        (_, Some(point), Some(comma)) if point == comma => point,
        (Convention::Mixed { comma, point }, ..) => {
            let (comma, point) = (comma.clone(), point.clone());
            return Err(QuantityError::NumbersMixed { text: text.trim().to_owned(), comma, point });
        }
        (Convention::Comma, _, Some(comma)) => comma,
        (Convention::Point, Some(point), _) => point,
        (Convention::Open | Convention::Doubtful, Some(one), None) => one,
        (Convention::Open | Convention::Doubtful, None, Some(one)) => one,
        // A lone "1.234" is a decimal point, as in every table of science; a lone "1,234" may be either.
        (Convention::Open, Some(point), Some(_)) if !plain.contains(',') => point,
        (Convention::Open | Convention::Doubtful, Some(point), Some(comma)) => {
            let readings = [point, comma].map(|value| value.to_string()).to_vec();
            return Err(QuantityError::NumberAmbiguous { text: text.trim().to_owned(), readings });
        }
        (Convention::Comma | Convention::Point, ..) | (_, None, None) => return Err(malformed()),
    };
    if chosen.is_finite() { Ok(chosen) } else { Err(QuantityError::NotFinite { what: "the number" }) }
}

/// Words for infinity and for no number.
pub(super) fn is_not_finite(text: &str) -> bool {
    let bare = text.trim_start_matches(['-', '+', '−']).to_lowercase();
    matches!(bare.as_str(), "nan" | "inf" | "infinity" | "∞")
}

/// The convention that a set of numbers agrees on. Texts that are no numbers tell nothing.
pub fn convention(texts: &[&str]) -> Convention {
    let mut point = None;
    let mut comma = None;
    let mut doubtful_comma = false;
    let mut doubtful_point = false;
    for text in texts {
        let plain = plain(text);
        match Shape::of(&plain) {
            Some(Shape { point: Some(_), comma: None }) => point = point.or(Some((*text).trim())),
            Some(Shape { point: None, comma: Some(_) }) => comma = comma.or(Some((*text).trim())),
            Some(Shape { point: Some(a), comma: Some(b) }) if a != b => {
                doubtful_comma |= plain.contains(',');
                doubtful_point |= plain.contains('.');
            }
            _ => {}
        }
    }
    match (comma, point) {
        (Some(comma), Some(point)) => Convention::Mixed { comma: comma.to_owned(), point: point.to_owned() },
        (Some(_), None) => Convention::Comma,
        (None, Some(_)) => Convention::Point,
        (None, None) if doubtful_comma && doubtful_point => Convention::Doubtful,
        (None, None) => Convention::Open,
    }
}

/// The two readings of one number, each absent when the number cannot be read that way.
#[derive(Clone, Copy)]
struct Shape {
    point: Option<f64>,
    comma: Option<f64>,
}

impl Shape {
    fn of(plain: &str) -> Option<Shape> {
        if plain.is_empty() || plain.chars().count() > LONGEST {
            return None;
        }
        let (mantissa, exponent) = split_exponent(plain)?;
        let (sign, digits) = match mantissa.strip_prefix('-') {
            Some(rest) => ("-", rest),
            None => ("", mantissa.strip_prefix('+').unwrap_or(mantissa)),
        };
        let read = |decimal, thousands| {
            let number = ungrouped(digits, decimal, thousands)?;
            format!("{sign}{number}{exponent}").parse::<f64>().ok()
        };
        let shape = Shape { point: read('.', ','), comma: read(',', '.') };
        (shape.point.is_some() || shape.comma.is_some()).then_some(shape)
    }
}

/// Digits without separators of thousands and with a decimal point; `None` when the groups are not of three.
fn ungrouped(digits: &str, decimal: char, thousands: char) -> Option<String> {
    let (whole, part) = match digits.split_once(decimal) {
        Some((whole, part)) => (whole, Some(part)),
        None => (digits, None),
    };
    if part.is_some_and(|p| p.is_empty() || !p.chars().all(|c| c.is_ascii_digit())) {
        return None;
    }
    let separator = whole.chars().find(|c| !c.is_ascii_digit());
    let whole = match separator {
        None if whole.is_empty() => "0".to_owned(),
        None => whole.to_owned(),
        Some(sign) if sign == thousands || matches!(sign, ' ' | '\'') => {
            let groups: Vec<&str> = whole.split(sign).collect();
            let first = groups[0];
            let leads = (1..=3).contains(&first.len()) && !first.starts_with('0');
            let even = groups[1..].iter().all(|group| group.len() == 3);
            if !leads || !even || !groups.iter().all(|g| g.chars().all(|c| c.is_ascii_digit())) {
                return None;
            }
            groups.concat()
        }
        Some(_) => return None,
    };
    (part.is_some() || !digits.is_empty()).then(|| match part {
        Some(part) => format!("{whole}.{part}"),
        None => whole,
    })
}

/// Splits `1.2e3`, `1.2x10^3`, `1.2x10-3` into mantissa and `e3`. A power of ten without a raised sign before its
/// exponent (`x103`) is no number: the raised place was lost.
fn split_exponent(plain: &str) -> Option<(&str, String)> {
    let (mantissa, power) = match plain.split_once("x10").or_else(|| plain.split_once("X10")) {
        Some((mantissa, power)) => {
            (mantissa, power.strip_prefix('^').or_else(|| power.starts_with('-').then_some(power))?)
        }
        None => match plain.split_once(['e', 'E']) {
            Some(split) => split,
            None => return Some((plain, String::new())),
        },
    };
    let power = power.strip_prefix('+').unwrap_or(power);
    let digits = power.strip_prefix('-').unwrap_or(power);
    let good = (1..=3).contains(&digits.len()) && digits.chars().all(|c| c.is_ascii_digit());
    good.then(|| (mantissa, format!("e{power}")))
}

/// Plain signs: one kind of space, minus, apostrophe; multiplication before a power of ten as `x`, a raised
/// exponent after `^`. Raised digits elsewhere (marks of footnotes) stay what they are and make no number.
fn plain(text: &str) -> String {
    let mut flat = String::with_capacity(text.len());
    for sign in text.trim().chars() {
        match sign {
            '−' | '–' | '‐' | '‑' | '﹣' | '－' => flat.push('-'),
            '’' | '‘' | 'ʼ' | '＇' => flat.push('\''),
            '×' | '·' | '⋅' | '∙' | '*' => push_close(&mut flat, 'x'),
            'x' | 'X' => push_close(&mut flat, 'x'),
            c if c.is_whitespace() => {
                if !flat.ends_with(['x', '-', '+']) {
                    flat.push(' ');
                }
            }
            c => match raised(c) {
                Some(c) if flat.ends_with("x10") => {
                    flat.push('^');
                    flat.push(c);
                }
                Some(c) if flat.rsplit_once("x10^").is_some() => flat.push(c),
                _ => flat.push(c),
            },
        }
    }
    flat
}

fn push_close(flat: &mut String, sign: char) {
    while flat.ends_with(' ') {
        flat.pop();
    }
    flat.push(sign);
}

fn raised(sign: char) -> Option<char> {
    const RAISED: [char; 10] = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];
    let digit = RAISED.iter().position(|c| *c == sign).map(|at| char::from(b'0' + at as u8));
    digit.or(match sign {
        '⁻' => Some('-'),
        '⁺' => Some('+'),
        _ => None,
    })
}

/// Takes a "below" sign off a cell.
fn bare(cell: &str) -> (bool, String) {
    let cell = cell.trim();
    match cell.strip_prefix(['<', '＜']).filter(|_| unmeasured(cell).is_none()) {
        Some(rest) => (true, rest.trim().to_owned()),
        None => (false, cell.to_owned()),
    }
}

fn cell(below: bool, text: &str, convention: &Convention) -> Result<Cell, QuantityError> {
    if let (false, Some(cell)) = (below, unmeasured(text)) {
        return Ok(cell);
    }
    let value = read_number(text, convention)?;
    if value < 0.0 {
        return Err(QuantityError::Negative { what: "the number", value });
    }
    Ok(if below { Cell::Below(value) } else { Cell::Value(value) })
}

/// Words for what was looked for and not measured.
pub(super) fn unmeasured(text: &str) -> Option<Cell> {
    let lower = text.trim().to_lowercase();
    match lower.strip_suffix('.').filter(|word| !word.is_empty()).unwrap_or(&lower) {
        "nd" | "n.d" | "n d" | "not detected" | "none detected" | "bdl" | "<lod" | "<loq" | "not found"
        | "n.n" => Some(Cell::NotDetected),
        "tr" | "trace" | "traces" | "sp" => Some(Cell::Trace),
        "" | "-" | "–" | "—" | "−" | "n/a" | "na" | "--" => Some(Cell::Empty),
        _ => None,
    }
}
