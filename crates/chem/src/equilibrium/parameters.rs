//! The interaction parameters of the Pitzer equations, as tabulated: which ions, which parameter, which course
//! with temperature.

use super::species::{Class, SpeciesTable, table};
use super::temperature::{Course, number};
use crate::table::{Row, Table};
use std::sync::LazyLock;

/// The courses of b0, b1, b2 and Cφ of one cation with one anion.
pub(crate) type Binary = [Course; 4];

/// A mixing parameter of two or three species (θ and λ of two; ψ and ζ of three).
pub(crate) struct Mixing {
    pub(crate) species: Vec<usize>,
    pub(crate) course: Course,
}

/// Every tabulated row, resolved to species.
pub(crate) struct Parameters {
    binaries: Vec<Binary>,
    of_pair: Vec<Option<usize>>, // by cation (row) and anion (column) of the species table
    pub(crate) mixing: Vec<Mixing>,
}

/// An estimated row: charge numbers, whether for organic anions only, parameters.
type Default = (i32, i32, bool, Binary);

/// The tables of interaction parameters, read once.
pub(crate) fn parameters() -> &'static Parameters {
    static PARAMETERS: LazyLock<Parameters> = LazyLock::new(read);
    &PARAMETERS
}

fn read() -> Parameters {
    let table = table();
    let n = table.species.len();
    let mut published = vec![false; n];
    let mut parameters = Parameters { binaries: Vec::new(), of_pair: vec![None; n * n], mixing: Vec::new() };
    for row in Table::read(include_str!("../../data/pitzer_pairs.tsv")).rows() {
        let which = ["b0", "b1", "b2", "cphi"].iter().position(|name| *name == row.text("parameter"));
        let which = which.expect("a compiled-in pair row names b0, b1, b2 or cphi");
        let (cation, anion) = (species(&row, "species_a", table), species(&row, "species_b", table));
        published[cation] = true;
        published[anion] = true;
        let place = parameters.of_pair[cation * n + anion].unwrap_or(parameters.binaries.len());
        if place == parameters.binaries.len() {
            parameters.binaries.push(Binary::default());
            parameters.of_pair[cation * n + anion] = Some(place);
        }
        parameters.binaries[place][which] = Course::of(&row);
    }
    let mixed = Table::read(include_str!("../../data/pitzer_mixing.tsv"));
    parameters.mixing = mixed.rows().map(|row| mixing(&row, table)).collect();
    let estimated = Table::read(include_str!("../../data/pitzer_defaults.tsv"));
    let defaults: Vec<Default> = estimated.rows().map(|row| default(&row)).collect();
    parameters.estimate(&published, &defaults);
    parameters
}

fn species(row: &Row<'_>, column: &str, table: &SpeciesTable) -> usize {
    table.index(row.text(column)).expect("a compiled-in parameter row names species of the table")
}

fn mixing(row: &Row<'_>, table: &SpeciesTable) -> Mixing {
    let columns = ["species_a", "species_b", "species_c"];
    let named = columns.iter().filter(|column| !row.text(column).is_empty());
    Mixing { species: named.map(|column| species(row, column, table)).collect(), course: Course::of(row) }
}

fn default(row: &Row<'_>) -> Default {
    let constant = |column| Course::constant(number(row, column));
    let binary = [constant("b0"), constant("b1"), Course::default(), Course::default()];
    let charges = (number(row, "cation_charge") as i32, number(row, "anion_charge") as i32);
    (charges.0, charges.1, row.text("class") == "organic", binary)
}

impl Parameters {
    /// The parameters of a cation with an anion by their indices in the species table; none when no paper gives any
    /// and none are estimated.
    pub(crate) fn binary(&self, cation: usize, anion: usize) -> Option<&Binary> {
        self.of_pair[cation * table().species.len() + anion].map(|place| &self.binaries[place])
    }

    /// Fills in the estimated pairs: those in which one of the two has no published parameters at all. A pair of two
    /// well-known ions that no paper gives stays without, as in the papers that leave it out.
    fn estimate(&mut self, published: &[bool], defaults: &[Default]) {
        let all = &table().species;
        let unknown = |at: usize| !published[at] || matches!(all[at].class, Class::Pair | Class::Organic);
        let first = self.binaries.len();
        self.binaries.extend(defaults.iter().map(|row| row.3));
        for (c, cation) in all.iter().enumerate().filter(|(_, species)| species.charge > 0) {
            for (a, anion) in all.iter().enumerate().filter(|(_, species)| species.charge < 0) {
                let place = &mut self.of_pair[c * all.len() + a];
                if place.is_none() && (unknown(c) || unknown(a)) {
                    let fits = |row: &Default| row.0 == cation.charge && row.1 == -anion.charge;
                    let organic = anion.class == Class::Organic;
                    let own = defaults.iter().position(|row| fits(row) && organic && row.2);
                    let any = defaults.iter().position(|row| fits(row) && !row.2);
                    *place = own.or(any).map(|row| first + row);
                }
            }
        }
    }
}
