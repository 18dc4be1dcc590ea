//! The solids of the model: what each dissolves into and its solubility product.
//!
//! A constant belongs to the activity model and to the complexes it was measured or fitted with; none of them may be
//! moved to another set.

use crate::equilibrium::constants::{LN_10, ZERO_CELSIUS};
use crate::equilibrium::lanes::Lanes;
use crate::equilibrium::species::{Reaction, in_ln};
use crate::equilibrium::species_table;
use crate::equilibrium::temperature::{Course, Warmth, number};
use crate::matter::component::{Component, Role};
use crate::matter::formula::Formula;
use crate::table::{Row, Table};
use std::sync::LazyLock;

/// A solid with its dissolution reaction.
#[derive(Clone, Debug)]
pub struct Solid {
    /// The id: lower case with underscores.
    pub id: &'static str,
    /// The formula, as written in the table.
    pub formula: &'static str,
    /// Lowest and highest temperature of the measurements, °C.
    pub measured_c: (f64, f64),
    /// Standard uncertainty of log10 K.
    pub uncertainty: f64,
    /// Key into the table of sources.
    pub source: &'static str,
    pub(crate) products: Vec<(usize, f64)>,
    pub(crate) water: f64,
    brings: Brings,
    ions: f64,
    factor: f64,
    course: Course,
}

/// What one mol of a solid brings into a water.
#[derive(Clone, Debug, PartialEq)]
pub struct Brings {
    /// Components beside carbonate, mol.
    pub components: Vec<(Component, f64)>,
    /// Alkalinity in its charge form, eq.
    pub alkalinity: f64,
    /// Carbonate, mol.
    pub carbonate: f64,
    /// Water of crystallisation, mol.
    pub water: f64,
}

/// A solid is its row of the table.
impl PartialEq for Solid {
    fn eq(&self, other: &Solid) -> bool {
        self.id == other.id
    }
}

impl Eq for Solid {}

impl Solid {
    /// log10 of the solubility product at a temperature in kelvin.
    pub fn log_k(&self, kelvin: f64) -> f64 {
        self.log_k_of(&Warmth::at(Lanes([kelvin]))).0[0]
    }

    /// [`Solid::log_k`] in lanes.
    #[inline(always)]
    pub(crate) fn log_k_of<const L: usize>(&self, warmth: &Warmth<L>) -> Lanes<L> {
        self.factor / LN_10 * self.course.over(warmth)
    }

    /// log10 of the solubility product at a temperature in °C.
    pub fn log_k_at(&self, celsius: f64) -> f64 {
        self.log_k(celsius + ZERO_CELSIUS)
    }

    /// Whether a temperature lies within the measurements, °C.
    pub fn is_measured_at(&self, celsius: f64) -> bool {
        (self.measured_c.0..=self.measured_c.1).contains(&celsius)
    }

    /// Dissolved particles that one formula unit makes, H and water not counted: the index of a solid of many ions
    /// must be divided by it before it is compared with others.
    pub fn ions(&self) -> f64 {
        self.ions
    }

    /// Water of crystallisation, mol per mol of solid.
    pub fn crystal_water(&self) -> f64 {
        self.brings.water
    }

    /// What one mol of it brings into a water.
    pub fn brings(&self) -> &Brings {
        &self.brings
    }
}

/// What one mol brings whose dissolution makes these species.
fn brought(products: &[(usize, f64)], water: f64) -> Brings {
    let table = species_table();
    let mut brings = Brings { components: Vec::new(), alkalinity: 0.0, carbonate: 0.0, water };
    for (at, times) in products {
        for (master, n) in &table.species[*at].made_of {
            let amount = times * n;
            let charge = f64::from(table.species[*master].charge);
            match Component::read(table.masters[*master]) {
                None => brings.alkalinity -= amount,
                Some(Component::HCO3) => brings.carbonate += amount,
                Some(component) => {
                    brings.components.push((component, amount));
                    if component.role() == Role::WeakAcid {
                        brings.alkalinity -= charge * amount;
                    }
                }
            }
        }
    }
    brings
}

/// Every solid, in the order of the table.
pub fn solids() -> &'static [Solid] {
    static SOLIDS: LazyLock<Vec<Solid>> = LazyLock::new(|| {
        Table::read(include_str!("../../data/log_k_solids.tsv")).rows().map(|row| solid(&row)).collect()
    });
    &SOLIDS
}

/// The solid of an id.
pub fn find(id: &str) -> Option<&'static Solid> {
    solids().iter().find(|solid| solid.id == id)
}

fn solid(row: &Row<'_>) -> Solid {
    let table = species_table();
    let reaction = Reaction::read(row.text("reaction"), table);
    let water = Formula::read(row.text("formula")).map_or(0.0, |formula| formula.water());
    let ions = reaction.parts.iter().filter(|(at, _)| table.species[*at].id != "H").map(|(_, n)| n).sum();
    Solid {
        brings: brought(&reaction.parts, water),
        ions,
        id: row.text("solid"),
        formula: row.text("formula"),
        measured_c: (number(row, "low_c"), number(row, "high_c")),
        uncertainty: number(row, "uncertainty"),
        source: row.text("source"),
        products: reaction.parts,
        water: reaction.water,
        factor: in_ln(row),
        course: Course::of(row),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Identity: every dissolution is neutral, and the metals it brings stand in the formula.
    #[test]
    fn every_dissolution_balances() {
        let table = species_table();
        for solid in solids() {
            let charge: f64 =
                solid.products.iter().map(|(at, n)| n * f64::from(table.species[*at].charge)).sum();
            assert_eq!(charge, 0.0, "{}", solid.id);
            let formula = Formula::read(solid.formula).unwrap_or_else(|e| panic!("{}: {e}", solid.id));
            for (component, n) in &solid.brings().components {
                let metal = component.id();
                if ["Ca", "Mg", "Na", "K", "Fe", "Sr"].contains(&metal) {
                    assert_eq!(formula.atoms().get(metal).copied(), Some(*n), "{}", solid.id);
                }
            }
        }
    }

    /// log K at 25 °C as the papers state them: Plummer and Busenberg 1982 (-8.480, -8.336, -7.913), Gregory, Moreno
    /// and Brown 1970 (-6.591), McDowell 1977 (-58.52 for OH, with log Kw -13.995 added), Brecevic and Nielsen 1989 (-6.40);
    /// 0.005 (0.01 for the last two).
    #[test]
    fn constants_at_25_degrees_are_those_of_the_papers() {
        let table = [
            ("calcite", -8.480, 0.002),
            ("aragonite", -8.336, 0.002),
            ("vaterite", -7.913, 0.002),
            ("brushite", -6.591, 0.002),
            ("hydroxyapatite", -58.52 - 13.995, 0.01),
            ("amorphous_calcium_carbonate", -6.40, 0.005),
            ("monohydrocalcite", -7.15, 0.005),
            ("ikaite", -6.59, 0.006),
        ];
        for (id, log_k, tolerance) in table {
            let got = find(id).unwrap().log_k(298.15);
            assert!((got - log_k).abs() < tolerance, "{id}: {got}");
        }
    }
}
