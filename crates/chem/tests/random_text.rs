//! No text, however strange, makes a reader panic, loop or answer a number that is not finite.
//!
//! Each reader gets a million texts, or as many as SPRINGWRIGHT_TEXTS says; `tests/soak` gives more.

use proptest::prelude::*;
use springwright_chem::fault::Fault;
use springwright_chem::matter::component::{self, Component};
use springwright_chem::matter::formula::Formula;
use springwright_chem::matter::{catalogue, element};
use springwright_chem::quantity::number::{Cell, read_numbers};
use springwright_chem::quantity::reading::read_measured;
use springwright_chem::quantity::{Basis, Subject, Unit};

/// Signs and words the readers know, so that random text gets deep into them.
const SCRAPS: &[&str] = &[
    "Ca",
    "Cl",
    "Mg",
    "S",
    "O",
    "H",
    "Na",
    "C",
    "I",
    "N",
    "H2O",
    "CO3",
    "SO4",
    "OH",
    "(",
    ")",
    "[",
    "]",
    "{",
    "}",
    "0",
    "1",
    "2",
    "5",
    "7",
    "10",
    "20",
    "203",
    "999",
    "1234",
    "·",
    ".",
    "..",
    "*",
    "x",
    "×",
    "•",
    "-",
    "+",
    "^",
    "²",
    "₂",
    "⁺",
    "⁻",
    "½",
    "/",
    ",",
    " ",
    "\u{a0}",
    "±",
    "+/-",
    "<",
    ">",
    "k=",
    "(k=2)",
    "as",
    " as ",
    "mg",
    "L",
    "/L",
    "mg/L",
    "ug",
    "µ",
    "°",
    "dH",
    "gr/gal",
    "(US)",
    "imp",
    "ppm",
    "%",
    "per",
    "litre",
    "e",
    "E",
    "e-3",
    "x10",
    "'",
    "ND",
    "n.d.",
    "NaN",
    "inf",
    "CaCO3",
    "NO3-N",
    "n",
    "½",
    "é",
    "水",
    "\u{0}",
    "\u{301}",
    "😀",
    "pH",
    "K",
    "-1",
    "L-1",
    "_",
    "=",
    "\t",
    "magnesium",
    "sulfate",
    "heptahydrate",
    "baking soda",
    "citric acid",
    "E 509",
];

/// A small generator of our own (xorshift), so that a failure can be repeated from its seed.
struct Random(u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    fn below(&mut self, limit: u64) -> u64 {
        (self.next() >> 11) % limit
    }

    /// Mostly scraps, now and then any character at all.
    fn fill(&mut self, text: &mut String) {
        text.clear();
        for _ in 0..=self.below(9) {
            if self.below(16) == 0 {
                text.extend(char::from_u32(self.below(0x11_0000) as u32));
            } else {
                text.push_str(SCRAPS[self.below(SCRAPS.len() as u64) as usize]);
            }
        }
    }
}

fn texts(seed: u64, count: usize, mut read: impl FnMut(&str)) {
    let mut random = Random(seed);
    let mut text = String::new();
    for _ in 0..count {
        random.fill(&mut text);
        read(&text);
    }
}

fn formula(text: &str) {
    if let Ok(formula) = Formula::read(text) {
        let mass = formula.molar_mass();
        assert!(mass.is_finite() && mass > 0.0, "{text}");
        let canonical = formula.canonical();
        let again = Formula::read(&canonical).unwrap_or_else(|error| panic!("{text} → {canonical}: {error}"));
        assert_eq!(again.canonical(), canonical, "{text}");
    }
}

fn measured(text: &str) {
    if let Ok(read) = read_measured(text) {
        assert!(read.measured.value().is_finite(), "{text}");
        assert!(read.measured.uncertainty().is_none_or(|u| u.is_finite() && u >= 0.0), "{text}");
    }
}

fn numbers(text: &str) {
    for cell in read_numbers(&[text, "1,234", "5"]).cells {
        if let Ok(Cell::Value(value) | Cell::Below(value)) = cell {
            assert!(value.is_finite() && value >= 0.0, "{text}");
        }
    }
}

fn unit(text: &str) {
    if let Ok(unit) = Unit::read(text) {
        assert_eq!(Unit::read(unit.symbol()), Ok(unit), "{text}");
    }
}

fn basis(text: &str) {
    if let Ok(basis) = Basis::read(text) {
        assert!(basis.molar_mass() > 0.0, "{text}");
        assert_eq!(Basis::read(basis.symbol()).as_ref(), Ok(&basis), "{text}");
    }
}

fn component(text: &str) {
    if let Some(component) = Component::read(text) {
        assert_eq!(component.id(), text);
    }
    let _ = (component::named(text), element::named(text));
}

fn salt(text: &str) {
    match catalogue::find(text) {
        Ok(salt) => assert_eq!(catalogue::find(salt.id).map(|same| same.id), Ok(salt.id), "{text}"),
        Err(fault) => assert!(!fault.mend().is_empty() && !fault.to_string().is_empty(), "{text}"),
    }
}

fn count() -> usize {
    std::env::var("SPRINGWRIGHT_TEXTS")
        .map_or(1_000_000, |count| count.parse().expect("SPRINGWRIGHT_TEXTS is a count"))
}

#[test]
fn a_million_formulas() {
    texts(11, count(), formula);
}

#[test]
fn a_million_amounts() {
    texts(12, count(), measured);
}

#[test]
fn a_million_numbers() {
    texts(13, count(), numbers);
}

#[test]
fn a_million_units() {
    texts(14, count(), unit);
}

#[test]
fn a_million_bases() {
    texts(15, count(), basis);
}

#[test]
fn a_million_components() {
    texts(16, count(), component);
}

/// A twentieth: a refusal weighs every name of the catalogue to find what was meant.
#[test]
fn fifty_thousand_salts() {
    texts(17, count() / 20, salt);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 512, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_text_is_read_or_refused(text in any::<String>()) {
        formula(&text);
        measured(&text);
        numbers(&text);
        unit(&text);
        basis(&text);
        let _ = Subject::read(&text);
    }

    /// Identity: a number printed with a decimal point, or with a comma beside a certain comma, reads back.
    #[test]
    fn a_printed_number_reads_back(value in 0.0..1e6_f64) {
        let point = format!("{value:.4}");
        let comma = point.replace('.', ",");
        let expected: f64 = point.parse().unwrap();
        prop_assert_eq!(read_numbers(&[&point]).cells[0].clone(), Ok(Cell::Value(expected)));
        prop_assert_eq!(read_numbers(&[&comma, "0,5"]).cells[0].clone(), Ok(Cell::Value(expected)));
    }

    /// Identity: an amount printed plainly reads back.
    #[test]
    fn a_printed_amount_reads_back(value in 0.0..1e6_f64, band in 0.0..1e3_f64, below in any::<bool>()) {
        let sign = if below { "<" } else { "" };
        let read = read_measured(&format!("{sign}{value} ± {band} mg/L as CaCO3 (k=2)")).unwrap();
        prop_assert_eq!(read.measured.value(), value);
        prop_assert_eq!(read.measured.uncertainty(), Some(band));
        prop_assert_eq!(read.measured.comparator().is_some(), below);
    }
}
