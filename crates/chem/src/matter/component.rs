//! Components of a water: the amounts that mixing conserves, each with its charge and, for weak acids, its
//! constants.

use std::sync::LazyLock;

use super::formula::Formula;
use crate::table::{Row, Table};

/// A conserved component of a water. The order of the table is the order of every array indexed by
/// [`Component::index`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Component(u8);

/// What part a component plays in the charge of a water.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Role {
    /// Keeps its positive charge at every pH of a drink.
    StrongCation,
    /// Keeps its negative charge at every pH of a drink.
    StrongAnion,
    /// Its charge depends on pH: carbonate, phosphate, silica, boron, ammonium, organic acids.
    WeakAcid,
    /// Carries no charge.
    Neutral,
}

struct Facts {
    id: &'static str,
    name: &'static str,
    formula: Formula,
    molar_mass: f64,
    role: Role,
    top_charge: f64,
    pk: Vec<f64>,
    source: &'static str,
    also: Vec<&'static str>,
}

static FACTS: LazyLock<Vec<Facts>> =
    LazyLock::new(|| Table::read(include_str!("../../data/components.tsv")).rows().map(facts).collect());

fn facts(row: Row<'_>) -> Facts {
    let formula = Formula::read(row.text("formula")).expect("compiled-in formulas are written canonically");
    let role = match row.text("role") {
        "strong_cation" => Role::StrongCation,
        "strong_anion" => Role::StrongAnion,
        "weak_acid" => Role::WeakAcid,
        _ => Role::Neutral,
    };
    Facts {
        id: row.text("id"),
        name: row.text("name"),
        molar_mass: formula.molar_mass(),
        formula,
        role,
        top_charge: row.number("top_charge").unwrap_or(0.0),
        pk: row.list("pk").filter_map(|pk| pk.parse().ok()).collect(),
        source: row.text("source"),
        also: row.list("also").collect(),
    }
}

impl Component {
    /// How many components there are.
    pub const COUNT: usize = 43;

    /// Every component, in the order of [`Component::index`]: cations, anions, weak acids, organics.
    pub const ALL: [Component; Component::COUNT] = {
        let mut all = [Component(0); Component::COUNT];
        let mut at = 0;
        while at < Component::COUNT {
            all[at] = Component(at as u8);
            at += 1;
        }
        all
    };

    /// Calcium.
    pub const CA: Component = Component(0);
    /// Magnesium.
    pub const MG: Component = Component(1);
    /// Sodium.
    pub const NA: Component = Component(2);
    /// Potassium.
    pub const K: Component = Component(3);
    /// Iron, as iron(II).
    pub const FE: Component = Component(4);
    /// Manganese.
    pub const MN: Component = Component(5);
    /// Strontium.
    pub const SR: Component = Component(6);
    /// Barium.
    pub const BA: Component = Component(7);
    /// Ammonium.
    pub const NH4: Component = Component(9);
    /// Chloride.
    pub const CL: Component = Component(13);
    /// Sulfate.
    pub const SO4: Component = Component(14);
    /// Nitrate.
    pub const NO3: Component = Component(15);
    /// Fluoride.
    pub const F: Component = Component(17);
    /// The carbonate system written as bicarbonate.
    pub const HCO3: Component = Component(22);
    /// The carbonate system written as carbonate.
    pub const CO3: Component = Component(23);
    /// Phosphate.
    pub const PO4: Component = Component(24);
    /// Silica.
    pub const SIO2: Component = Component(26);
    /// Boron.
    pub const B: Component = Component(27);

    fn facts(self) -> &'static Facts {
        &FACTS[self.index()]
    }

    /// The component of an exact id: `Ca`, `SO4`, `citrate`.
    ///
    /// ```
    /// use springwright_chem::matter::component::Component;
    /// assert_eq!(Component::read("Ca"), Some(Component::CA));
    /// assert_eq!(Component::read("ca"), None);
    /// ```
    pub fn read(id: &str) -> Option<Component> {
        Component::ALL.into_iter().find(|c| c.id() == id)
    }

    /// The component a formula stands for, charge and all: `Ca^2+`, `SO4^2-`.
    pub fn of_formula(formula: &Formula) -> Option<Component> {
        Component::ALL.into_iter().find(|c| c.formula().same_substance(formula))
    }

    /// Id used at every door: `Ca`, `HCO3`, `citrate`.
    pub fn id(self) -> &'static str {
        self.facts().id
    }

    /// Name in words: `calcium`.
    pub fn name(self) -> &'static str {
        self.facts().name
    }

    /// Formula with its charge, as amounts of the component are counted.
    pub fn formula(self) -> &'static Formula {
        &self.facts().formula
    }

    /// Charge number of [`Component::formula`]; for a weak acid the charge in water depends on pH, see
    /// [`Component::charge_left`].
    pub fn charge(self) -> i32 {
        self.facts().formula.charge()
    }

    /// Molar mass of [`Component::formula`] in g/mol.
    pub fn molar_mass(self) -> f64 {
        self.facts().molar_mass
    }

    /// What part it plays in the charge of a water.
    pub fn role(self) -> Role {
        self.facts().role
    }

    /// Position in [`Component::ALL`].
    pub fn index(self) -> usize {
        usize::from(self.0)
    }

    /// pK of a weak acid at 25 °C and zero ionic strength, first proton first; empty for the others.
    pub fn pk(self) -> &'static [f64] {
        &self.facts().pk
    }

    /// Charge of the fully protonated weak acid: 0 for citric acid, +1 for ammonium and glycine.
    pub fn top_charge(self) -> f64 {
        self.facts().top_charge
    }

    /// Key of the source of the constants (or weights) in `data/sources.tsv`.
    pub fn source(self) -> &'static str {
        self.facts().source
    }

    /// Mean charge per mol at a pH, from the constants at 25 °C and zero ionic strength; for strong ions their
    /// charge at any pH. A pH that is not a number gives not a number.
    ///
    /// ```
    /// use springwright_chem::matter::component::Component;
    /// let citrate = Component::read("citrate").expect("citrate is a component");
    /// assert!((-1.5..-1.2).contains(&citrate.charge_left(4.5)));
    /// ```
    pub fn charge_left(self, ph: f64) -> f64 {
        if self.role() != Role::WeakAcid {
            return f64::from(self.charge());
        }
        // Each term is [acid less n protons]/[acid]; scaled by the largest so that no power overflows.
        let mut exponents = vec![0.0_f64];
        for pk in self.pk() {
            let last = exponents[exponents.len() - 1];
            exponents.push(last + ph - pk);
        }
        let largest = exponents.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let mut all = 0.0;
        let mut lost = 0.0;
        for (protons, exponent) in exponents.iter().enumerate() {
            let share = libm::pow(10.0, exponent - largest);
            all += share;
            lost += protons as f64 * share;
        }
        self.top_charge() - lost / all
    }
}

/// The component of a written name, any case, or of an exact id: `calcium`, `Sulphate`, `bicarbonate`, `SO4`.
pub fn named(name: &str) -> Option<Component> {
    let name = name.trim();
    Component::read(name).or_else(|| {
        let lower = name.to_lowercase();
        Component::ALL.into_iter().find(|c| {
            let facts = c.facts();
            facts.name == lower || facts.also.iter().any(|other| *other == lower)
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_fills_the_array_and_the_constants_point_right() {
        assert_eq!(FACTS.len(), Component::COUNT);
        let named = [
            (Component::CA, "Ca"),
            (Component::MG, "Mg"),
            (Component::NA, "Na"),
            (Component::K, "K"),
            (Component::FE, "Fe"),
            (Component::MN, "Mn"),
            (Component::SR, "Sr"),
            (Component::BA, "Ba"),
            (Component::NH4, "NH4"),
            (Component::CL, "Cl"),
            (Component::SO4, "SO4"),
            (Component::NO3, "NO3"),
            (Component::F, "F"),
            (Component::HCO3, "HCO3"),
            (Component::CO3, "CO3"),
            (Component::PO4, "PO4"),
            (Component::SIO2, "SiO2"),
            (Component::B, "B"),
        ];
        for (component, id) in named {
            assert_eq!(component.id(), id);
        }
    }

    #[test]
    fn every_weak_acid_has_constants_that_rise_and_no_strong_ion_has_any() {
        for c in Component::ALL {
            assert_eq!(c.role() == Role::WeakAcid, !c.pk().is_empty(), "{}", c.id());
            assert!(c.pk().windows(2).all(|pair| pair[0] < pair[1]), "{}", c.id());
            let sign = match c.role() {
                Role::StrongCation => c.charge() > 0,
                Role::StrongAnion => c.charge() < 0,
                Role::Neutral => c.charge() == 0,
                Role::WeakAcid => true,
            };
            assert!(sign, "{}", c.id());
        }
    }

    /// Identity: at pH = pK of a one-step acid half the protons are gone; far from every pK all or none.
    #[test]
    fn charge_left_follows_the_constants() {
        let of = |id| Component::read(id).unwrap();
        assert!((of("acetate").charge_left(4.756) + 0.5).abs() < 1e-12);
        assert!((Component::NH4.charge_left(9.245) - 0.5).abs() < 1e-12);
        assert!((of("citrate").charge_left(14.0) + 3.0).abs() < 1e-6);
        assert!((Component::HCO3.charge_left(8.34) + 1.0).abs() < 2e-3);
        assert!(of("glycinate").charge_left(6.0655).abs() < 1e-3);
        assert_eq!(Component::CA.charge_left(2.0), 2.0);
        // Citric acid at 4.5 by hand from Bates and Pinching's constants: shares 1 : 23.55 : 12.94 : 0.1645.
        let hand = -(23.55 + 2.0 * 12.94 + 3.0 * 0.1645) / (1.0 + 23.55 + 12.94 + 0.1645);
        assert!((of("citrate").charge_left(4.5) - hand).abs() < 2e-3);
        assert!(of("citrate").charge_left(400.0).is_finite());
    }

    #[test]
    fn names_find_their_component() {
        for (name, id) in [
            ("calcium", "Ca"),
            ("Sulphate", "SO4"),
            ("hydrogen carbonate", "HCO3"),
            ("carbonate", "CO3"),
            ("nitrate", "NO3"),
            ("nitrite", "NO2"),
            ("Silica", "SiO2"),
            ("aluminum", "Al"),
        ] {
            assert_eq!(named(name).map(Component::id), Some(id), "{name}");
        }
        assert_eq!(named("nonsense"), None);
    }
}
