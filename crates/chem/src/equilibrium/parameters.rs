//! The interaction parameters of the Pitzer equations, as tabulated: which ions, which parameter, which course
//! with temperature.

use super::species::{Class, SpeciesTable, table};
use super::temperature::{Course, number};
use crate::table::{Row, Table};
use std::sync::LazyLock;

/// Parameters of one cation with one anion at one temperature.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Binary {
    pub(crate) b0: f64,
    pub(crate) b1: f64,
    pub(crate) b2: f64,
    pub(crate) cphi: f64,
}

struct PairRow {
    cation: usize,
    anion: usize,
    which: usize,
    course: Course,
}

/// A mixing parameter of two or three species (θ and λ of two; ψ and ζ of three).
pub(crate) struct Mixing {
    pub(crate) species: Vec<usize>,
    pub(crate) course: Course,
}

/// Every tabulated row, resolved to species.
pub(crate) struct Parameters {
    pairs: Vec<PairRow>,
    published: Vec<bool>, // by species: has at least one pair row
    defaults: Vec<(i32, i32, bool, Binary)>,
    pub(crate) mixing: Vec<Mixing>,
}

/// The tables of interaction parameters, read once.
pub(crate) fn parameters() -> &'static Parameters {
    static PARAMETERS: LazyLock<Parameters> = LazyLock::new(read);
    &PARAMETERS
}

fn read() -> Parameters {
    let table = table();
    let mut published = vec![false; table.species.len()];
    let mut pairs = Vec::new();
    for row in Table::read(include_str!("../../data/pitzer_pairs.tsv")).rows() {
        let which = ["b0", "b1", "b2", "cphi"].iter().position(|name| *name == row.text("parameter"));
        let which = which.expect("a compiled-in pair row names b0, b1, b2 or cphi");
        let (cation, anion) = (species(&row, "species_a", table), species(&row, "species_b", table));
        published[cation] = true;
        published[anion] = true;
        pairs.push(PairRow { cation, anion, which, course: Course::of(&row) });
    }
    let mixed = Table::read(include_str!("../../data/pitzer_mixing.tsv"));
    let mixing = mixed.rows().map(|row| mixing(&row, table)).collect();
    let estimated = Table::read(include_str!("../../data/pitzer_defaults.tsv"));
    let defaults = estimated.rows().map(|row| default(&row)).collect();
    Parameters { pairs, published, defaults, mixing }
}

fn species(row: &Row<'_>, column: &str, table: &SpeciesTable) -> usize {
    table.index(row.text(column)).expect("a compiled-in parameter row names species of the table")
}

fn mixing(row: &Row<'_>, table: &SpeciesTable) -> Mixing {
    let columns = ["species_a", "species_b", "species_c"];
    let named = columns.iter().filter(|column| !row.text(column).is_empty());
    Mixing { species: named.map(|column| species(row, column, table)).collect(), course: Course::of(row) }
}

fn default(row: &Row<'_>) -> (i32, i32, bool, Binary) {
    let binary = Binary { b0: number(row, "b0"), b1: number(row, "b1"), ..Binary::default() };
    let charges = (number(row, "cation_charge") as i32, number(row, "anion_charge") as i32);
    (charges.0, charges.1, row.text("class") == "organic", binary)
}

impl Parameters {
    /// The parameters of every cation (row) with every anion (column) of the species table at a temperature in
    /// kelvin; entries that are not such a pair stay zero.
    pub(crate) fn binaries(&self, kelvin: f64) -> Vec<Vec<Binary>> {
        let all = &table().species;
        let mut out = vec![vec![Binary::default(); all.len()]; all.len()];
        let mut tabulated = vec![vec![false; all.len()]; all.len()];
        for row in &self.pairs {
            let binary = &mut out[row.cation][row.anion];
            let value = row.course.at(kelvin);
            match row.which {
                0 => binary.b0 = value,
                1 => binary.b1 = value,
                2 => binary.b2 = value,
                _ => binary.cphi = value,
            }
            tabulated[row.cation][row.anion] = true;
        }
        for (c, cation) in all.iter().enumerate().filter(|(_, species)| species.charge > 0) {
            for (a, anion) in all.iter().enumerate().filter(|(_, species)| species.charge < 0) {
                if !tabulated[c][a] && self.is_estimated(c, a) {
                    let organic = anion.class == Class::Organic;
                    out[c][a] = self.default_of(cation.charge, -anion.charge, organic);
                }
            }
        }
        out
    }

    /// Whether a pair takes the estimated parameters: one of the two has no published ones at all. A pair of two
    /// well-known ions that no paper gives is zero, as in the papers that leave it out.
    fn is_estimated(&self, cation: usize, anion: usize) -> bool {
        let all = &table().species;
        [cation, anion]
            .iter()
            .any(|at| !self.published[*at] || matches!(all[*at].class, Class::Pair | Class::Organic))
    }

    fn default_of(&self, cation: i32, anion: i32, organic: bool) -> Binary {
        let fits = |row: &&(i32, i32, bool, Binary)| row.0 == cation && row.1 == anion;
        let own = self.defaults.iter().filter(fits).find(|row| organic && row.2);
        let any = self.defaults.iter().filter(fits).find(|row| !row.2);
        own.or(any).map(|row| row.3).unwrap_or_default()
    }
}
