//! What is wanted of the finished water.

use super::property::{Condition, Property};
use crate::composition::linear::LinearSum;
use crate::matter::component::Component;
use crate::quantity::Measured;

/// A quantity that a wish can be about: linear in what is dissolved, a ratio of two that are, or a property of the
/// solved state.
#[derive(Clone, Debug, PartialEq)]
pub enum Quantity {
    /// One component; `HCO3` and `CO3` are alkalinity expressed so.
    Component(Component),
    /// Components counted together.
    Sum(Vec<Component>),
    /// One component over another.
    Ratio {
        /// Upper part.
        numerator: Component,
        /// Lower part.
        denominator: Component,
        /// How both are counted.
        counted_by: CountedBy,
    },
    /// Sum of what is dissolved.
    Tds,
    /// Residue after drying at 180 °C, as computed.
    Residue180c,
    /// Calcium and magnesium.
    Hardness,
    /// Alkalinity as titrated.
    Alkalinity,
    /// Cost of salts and waters.
    Cost,
    /// A property of the solved state.
    Property {
        /// Which one.
        property: Property,
        /// In which state.
        condition: Condition,
    },
}

/// How far a `near` wish may be off and still count as met.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Tolerance {
    /// Percent of what is asked, or of the floor where that is less.
    Percent(f64),
    /// So much, in the unit of the wish: pH and indices are logarithms, of which a percentage says nothing.
    Absolute(f64),
}

impl Tolerance {
    /// In the unit of the wish, for what a deviation is divided by.
    pub fn of_size(self, size: f64) -> f64 {
        match self {
            Tolerance::Percent(percent) => percent / 100.0 * size,
            Tolerance::Absolute(value) => value,
        }
    }
}

/// How the parts of a ratio are counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CountedBy {
    /// By mass.
    Mass,
    /// By amount.
    Amount,
    /// By charge.
    Charge,
}

/// The pH at which a titration of alkalinity ends unless somebody says otherwise.
pub const END_POINT_PH: f64 = 4.5;

impl CountedBy {
    /// What one mole of a component counts.
    pub(super) fn per_mole(self, component: Component) -> f64 {
        match self {
            CountedBy::Mass => 1000.0 * component.molar_mass(),
            CountedBy::Amount => 1000.0,
            CountedBy::Charge => 1000.0 * f64::from(component.charge().abs()),
        }
    }
}

/// Whether a wish for this component is a wish for alkalinity.
pub(super) fn is_alkalinity(component: Component) -> bool {
    component == Component::HCO3 || component == Component::CO3
}

/// The sum that counts one component, mol (eq for carbonate).
pub(super) fn sum_of(component: Component) -> LinearSum {
    if is_alkalinity(component) {
        LinearSum::titrated_alkalinity(END_POINT_PH)
    } else {
        LinearSum::amount(component)
    }
}

/// One wish. Amounts are in the unit that each of them states.
#[derive(Clone, Debug, PartialEq)]
pub struct Wish {
    /// What it is about.
    pub quantity: Quantity,
    /// As near as possible to this.
    pub near: Option<Measured>,
    /// Not less than this.
    pub at_least: Option<Measured>,
    /// Not more than this.
    pub at_most: Option<Measured>,
    /// This, within half of what one step of the finest salt moves it.
    pub exact: Option<Measured>,
    /// When a `near` wish counts as met.
    pub tolerance: Tolerance,
    /// Weight of a `near` wish within its priority.
    pub weight: f64,
    /// 1 before 2 and so on.
    pub priority: u32,
}

impl Wish {
    /// The property of the solved state that it is about, and in which state.
    pub fn property(&self) -> Option<(Property, Condition)> {
        match self.quantity {
            Quantity::Property { property, condition } => Some((property, condition)),
            _ => None,
        }
    }

    /// The first amount that it states: it gives the unit in which the wish is counted.
    pub fn leading(&self) -> Option<&Measured> {
        [&self.near, &self.exact, &self.at_least, &self.at_most].into_iter().flatten().next()
    }
}
