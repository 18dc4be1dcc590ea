//! Chemical formulas with their water of crystallisation: one spelling in, one canonical form out, or an error
//! that lists the choices. Nothing is guessed.

mod charge;
mod fault;
mod reading;
mod slips;
mod spelling;
mod water;

use std::collections::BTreeMap;
use std::fmt::Write;

pub use fault::FormulaError;

use super::element::{self, Element};

/// A formula: one or more parts, water of crystallisation, charge.
///
/// ```
/// use springwright_chem::matter::formula::Formula;
/// let salt = Formula::read("CaCl2.2H2O")?;
/// assert_eq!(salt.canonical(), "CaCl2·2H2O");
/// assert_eq!((salt.molar_mass() * 100.0).round() / 100.0, 147.01);
/// assert_eq!(salt.water(), 2.0);
/// # Ok::<(), springwright_chem::matter::formula::FormulaError>(())
/// ```
#[derive(Clone, Debug)]
pub struct Formula {
    parts: Vec<Part>,
    water: f64,
    charge: i32,
    atoms: BTreeMap<&'static str, f64>,
}

/// A part of a formula between dots, with the number before it.
#[derive(Clone, Debug)]
struct Part {
    count: f64,
    pieces: Vec<Piece>,
}

/// An element or a bracket, with the number after it.
#[derive(Clone, Debug)]
enum Piece {
    Atom(&'static Element, u32),
    Group(Vec<Piece>, u32),
}

impl Formula {
    /// Reads a formula.
    ///
    /// Separators before water: `·` `•` `∙` `⋅` `*` `×`, `.` and `..`, a spaced number (`MgSO4 7H2O`); numbers of
    /// water may be decimal (`0.5`, `0,5`, `1/2`, `½`); brackets nest; charges as `2-`, `-2`, `--`, `^2-` or
    /// superscript.
    ///
    /// # Errors
    /// [`FormulaError`] when the text is no formula, names an unknown element, or can be read in more than one
    /// way; then the readings are listed.
    pub fn read(text: &str) -> Result<Formula, FormulaError> {
        reading::read(text)
    }

    fn new(parts: Vec<Part>, water: f64, charge: i32) -> Formula {
        let mut atoms = BTreeMap::new();
        for part in &parts {
            count_atoms(&part.pieces, part.count, &mut atoms);
        }
        if water > 0.0 {
            *atoms.entry("H").or_insert(0.0) += 2.0 * water;
            *atoms.entry("O").or_insert(0.0) += water;
        }
        Formula { parts, water, charge, atoms }
    }

    /// The one canonical spelling: `MgSO4·7H2O`, `CaSO4·0.5H2O`, `SO4^2-`. Reading it again gives the same
    /// formula.
    pub fn canonical(&self) -> String {
        let mut text = String::new();
        for (index, part) in self.parts.iter().enumerate() {
            if index > 0 {
                text.push('·');
            }
            write_count(&mut text, part.count);
            write_pieces(&mut text, &part.pieces);
        }
        if self.water > 0.0 {
            text.push('·');
            write_count(&mut text, self.water);
            text.push_str("H2O");
        }
        match (self.charge.abs(), self.charge.signum()) {
            (0, _) => {}
            (1, sign) => text.push_str(if sign > 0 { "^+" } else { "^-" }),
            (n, sign) => {
                let _ = write!(text, "^{n}{}", if sign > 0 { '+' } else { '-' });
            }
        }
        text
    }

    /// Molar mass in g/mol, water of crystallisation included.
    pub fn molar_mass(&self) -> f64 {
        self.atoms
            .iter()
            .map(|(symbol, count)| element::atomic_weight(symbol).unwrap_or(f64::NAN) * count)
            .sum()
    }

    /// Water of crystallisation, mol per mol of formula.
    pub fn water(&self) -> f64 {
        self.water
    }

    /// The same formula without its water of crystallisation.
    pub fn anhydrous(&self) -> Formula {
        Formula::new(self.parts.clone(), 0.0, self.charge)
    }

    /// The same formula with another number of waters of crystallisation (mol per mol; finite, 0 or more).
    pub fn with_water(&self, water: f64) -> Formula {
        Formula::new(self.parts.clone(), if water.is_finite() { water.max(0.0) } else { 0.0 }, self.charge)
    }

    /// The same formula written without its charge.
    pub fn without_charge(&self) -> Formula {
        Formula::new(self.parts.clone(), self.water, 0)
    }

    /// Charge number; 0 for a salt.
    pub fn charge(&self) -> i32 {
        self.charge
    }

    /// Atoms per formula by symbol, water of crystallisation included.
    pub fn atoms(&self) -> &BTreeMap<&'static str, f64> {
        &self.atoms
    }

    /// Atoms of one element per formula; 0 when it has none.
    pub fn count(&self, symbol: &str) -> f64 {
        self.atoms.get(symbol).copied().unwrap_or(0.0)
    }

    /// Whether two formulas hold the same atoms, the same water and the same charge, in whatever order they are
    /// written: `CaH2(CO3)2` and `Ca(HCO3)2`.
    pub fn same_substance(&self, other: &Formula) -> bool {
        let close = |a: f64, b: f64| (a - b).abs() <= 1e-6 * a.abs().max(1.0);
        self.charge == other.charge
            && close(self.water, other.water)
            && self.atoms.len() == other.atoms.len()
            && self.atoms.iter().zip(&other.atoms).all(|((s, n), (t, m))| s == t && close(*n, *m))
    }
}

impl PartialEq for Formula {
    /// Equal when the canonical spellings are equal.
    fn eq(&self, other: &Formula) -> bool {
        self.canonical() == other.canonical()
    }
}

fn count_atoms(pieces: &[Piece], times: f64, atoms: &mut BTreeMap<&'static str, f64>) {
    for piece in pieces {
        match piece {
            Piece::Atom(element, count) => {
                *atoms.entry(element.symbol).or_insert(0.0) += times * f64::from(*count);
            }
            Piece::Group(inner, count) => count_atoms(inner, times * f64::from(*count), atoms),
        }
    }
}

fn write_count(text: &mut String, count: f64) {
    if count != 1.0 {
        let _ = write!(text, "{count}");
    }
}

fn write_pieces(text: &mut String, pieces: &[Piece]) {
    for piece in pieces {
        let count = match piece {
            Piece::Atom(element, count) => {
                text.push_str(element.symbol);
                count
            }
            Piece::Group(inner, count) => {
                text.push('(');
                write_pieces(text, inner);
                text.push(')');
                count
            }
        };
        write_count(text, f64::from(*count));
    }
}
