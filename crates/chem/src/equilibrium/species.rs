//! The dissolved species of the model: what each is made of, its charge and its formation constant.
//!
//! Every species is written in *masters*: H, one ion or neutral acid for each conserved component, and water. The
//! table `log_k_species.tsv` writes a reaction from earlier species; here it is resolved down to masters.

use super::constants::LN_10;
use super::temperature::{Course, number};
use crate::table::{Row, Table};
use std::sync::LazyLock;

/// What a species is, as far as the estimated interaction parameters care.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Class {
    /// An inorganic ion with published interaction parameters.
    Ion,
    /// An uncharged molecule.
    Neutral,
    /// A complex or an ion without published parameters.
    Pair,
    /// An organic acid, its anion or a complex of it.
    Organic,
}

/// One dissolved species.
#[derive(Clone, Debug)]
pub struct Species {
    /// The name: a formula without its charge (`HCO3`), or the name of an organic ion (`citrate`).
    pub id: &'static str,
    /// Charge number.
    pub charge: i32,
    /// What it is.
    pub class: Class,
    /// Masters it is made of: index into [`SpeciesTable::masters`] and coefficient.
    pub made_of: Vec<(usize, f64)>,
    /// Water molecules taken up when it forms from masters.
    pub water: f64,
    /// Lowest and highest temperature at which every constant behind it was measured, °C.
    pub measured_c: (f64, f64),
    /// Keys into the table of sources.
    pub sources: Vec<&'static str>,
    /// ln of the formation constant from masters.
    pub(crate) formation: Course,
}

impl Species {
    /// ln of the formation constant from masters at a temperature in kelvin.
    pub fn ln_k(&self, kelvin: f64) -> f64 {
        self.formation.at(kelvin)
    }
}

/// All species of the model in the order of the table.
#[derive(Debug)]
pub struct SpeciesTable {
    /// Every species; masters come first.
    pub species: Vec<Species>,
    /// The component id of each master; the first is H with an empty id.
    pub masters: Vec<&'static str>,
}

impl SpeciesTable {
    /// The position of a species by name.
    pub fn index(&self, id: &str) -> Option<usize> {
        self.species.iter().position(|species| species.id == id)
    }

    /// The position of the master that carries a component.
    pub fn master(&self, component: &str) -> Option<usize> {
        self.masters.iter().position(|id| !component.is_empty() && *id == component)
    }
}

/// The table of species, read once.
pub fn table() -> &'static SpeciesTable {
    static TABLE: LazyLock<SpeciesTable> = LazyLock::new(read);
    &TABLE
}

const TEXT: &str = include_str!("../../data/log_k_species.tsv");

fn read() -> SpeciesTable {
    let mut table = SpeciesTable { species: Vec::new(), masters: Vec::new() };
    for row in Table::read(TEXT).rows() {
        let species =
            if row.text("reaction").is_empty() { master(&row, &mut table) } else { formed(&row, &table) };
        table.species.push(species);
    }
    table
}

fn class(row: &Row<'_>) -> Class {
    match row.text("class") {
        "ion" => Class::Ion,
        "neutral" => Class::Neutral,
        "pair" => Class::Pair,
        _ => Class::Organic,
    }
}

fn master(row: &Row<'_>, table: &mut SpeciesTable) -> Species {
    let index = table.masters.len();
    table.masters.push(row.text("coefficients"));
    Species {
        id: row.text("species"),
        charge: number(row, "charge") as i32,
        class: class(row),
        made_of: vec![(index, 1.0)],
        water: 0.0,
        measured_c: (f64::NEG_INFINITY, f64::INFINITY),
        sources: Vec::new(),
        formation: Course::default(),
    }
}

fn formed(row: &Row<'_>, table: &SpeciesTable) -> Species {
    let reaction = Reaction::read(row.text("reaction"), table);
    let mut species = Species {
        id: row.text("species"),
        charge: number(row, "charge") as i32,
        class: class(row),
        made_of: Vec::new(),
        water: reaction.water,
        measured_c: (number(row, "low_c"), number(row, "high_c")),
        sources: vec![row.text("source")],
        formation: Course::of(row).times(in_ln(row)),
    };
    let mut amounts = vec![0.0; table.masters.len()];
    for (part, times) in reaction.parts {
        let from = &table.species[part];
        from.made_of.iter().for_each(|(master, n)| amounts[*master] += times * n);
        species.water += times * from.water;
        species.formation = species.formation.plus(&from.formation.times(times));
        species.measured_c.0 = species.measured_c.0.max(from.measured_c.0);
        species.measured_c.1 = species.measured_c.1.min(from.measured_c.1);
        species.sources.extend(&from.sources);
    }
    let made = amounts.iter().enumerate().filter(|(_, n)| **n != 0.0);
    species.made_of = made.map(|(master, n)| (master, *n)).collect();
    species
}

/// The factor from the tabulated logarithm to the natural one.
pub(crate) fn in_ln(row: &Row<'_>) -> f64 {
    if row.text("quantity") == "ln_k" { 1.0 } else { LN_10 }
}

/// One side of a reaction such as `Ca + HCO3 - H`: species with their coefficients, and water.
pub(crate) struct Reaction {
    /// Index of the species and its coefficient.
    pub(crate) parts: Vec<(usize, f64)>,
    /// Coefficient of H2O.
    pub(crate) water: f64,
}

impl Reaction {
    /// Reads terms joined by ` + ` and ` - `, each with an optional coefficient before it.
    pub(crate) fn read(text: &str, table: &SpeciesTable) -> Reaction {
        let mut reaction = Reaction { parts: Vec::new(), water: 0.0 };
        let (mut sign, mut times) = (1.0, 1.0);
        for word in text.split_whitespace() {
            match word {
                "+" => (sign, times) = (1.0, 1.0),
                "-" => (sign, times) = (-1.0, 1.0),
                "H2O" => reaction.water += sign * times,
                number if number.parse::<f64>().is_ok() => times = number.parse().unwrap_or(1.0),
                id => {
                    let index = table.index(id);
                    let index = index.expect("a compiled-in reaction names species of the table");
                    reaction.parts.push((index, sign * times));
                }
            }
        }
        reaction
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Identity: every reaction balances in charge.
    #[test]
    fn every_species_balances_in_charge() {
        let table = table();
        for species in &table.species {
            let charge: f64 =
                species.made_of.iter().map(|(m, n)| n * f64::from(table.species[*m].charge)).sum();
            assert_eq!(charge, f64::from(species.charge), "{}", species.id);
        }
    }

    /// log K at 25 °C as the source papers state them: Plummer and Busenberg 1982 (6.352, 10.329, 3.224), IAPWS
    /// for water (13.995), NBS phosphoric acid (12.345, 7.198, 2.148), boric acid 9.24, citric acid 3.128, 4.761,
    /// 6.396; 0.003.
    #[test]
    fn constants_at_25_degrees_are_those_of_the_papers() {
        let table = table();
        let log_k = |id: &str| table.species[table.index(id).unwrap()].ln_k(298.15) / LN_10;
        let step = |a: &str, b: &str| log_k(a) - log_k(b);
        let expected = [
            (log_k("HCO3"), -6.352),
            (step("CO3", "HCO3"), -10.329),
            (step("CaCO3", "CO3"), 3.224),
            (log_k("OH"), -13.995),
            (log_k("HPO4"), 12.345),
            (step("H2PO4", "HPO4"), 7.199),
            (step("H3PO4", "H2PO4"), 2.148),
            (log_k("B(OH)4"), -9.238),
            (log_k("Hcitrate"), 6.396),
            (step("H2citrate", "Hcitrate"), 4.761),
            (step("H3citrate", "H2citrate"), 3.128),
        ];
        for (got, want) in expected {
            assert!((got - want).abs() < 0.003, "{got} against {want}");
        }
    }
}
