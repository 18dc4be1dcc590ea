//! What a laboratory reported of a water.

use std::collections::BTreeMap;

use crate::matter::component::Component;

/// pH at which the titration of an alkalinity is taken to end where the sheet does not say: an assumption.
pub const USUAL_END_POINT_PH: f64 = 4.5;

/// Temperature in °C that the litres of a sheet are taken to have where it does not say: an assumption.
pub const USUAL_TEMPERATURE_C: f64 = 20.0;

/// Of what an amount was reported.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Per {
    /// Per litre of the water, at its temperature.
    Litre,
    /// Per kilogram of the water with all that is in it.
    Kilogram,
    /// Per kilogram of H2O.
    KilogramOfWater,
}

/// One reported amount: mol of a component, eq of alkalinity, mol of calcium and magnesium for hardness, mol of
/// sodium for sodium and potassium together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reported {
    /// The amount, 0 or more.
    pub amount: f64,
    /// Of what.
    pub per: Per,
    /// The sheet says "less than".
    pub below: bool,
}

impl Reported {
    /// An amount as stated.
    pub fn new(amount: f64, per: Per) -> Reported {
        Reported { amount, per, below: false }
    }

    /// Below a limit of detection or determination.
    pub fn below(limit: f64, per: Per) -> Reported {
        Reported { amount: limit, per, below: true }
    }

    /// The amount in mol (or eq) per kg of water that is reckoned with; half of a limit.
    pub fn per_kg_water(&self, kg_per_l: f64, water_kg_per_l: f64) -> f64 {
        let counted = if self.below { 0.5 * self.amount } else { self.amount };
        match self.per {
            Per::Litre => counted / water_kg_per_l,
            Per::Kilogram => counted * kg_per_l / water_kg_per_l,
            Per::KilogramOfWater => counted,
        }
    }
}

/// What to take a component for that was not reported.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Missing {
    /// Take it as absent.
    Zero,
    /// Take it as what closes the charge balance.
    ByCharge,
}

/// What a laboratory reported. A field left out was not reported, which is never zero.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Analysis {
    /// Amounts by component. `HCO3` is alkalinity expressed as HCO3; `CO3` adds 2 eq per mol.
    pub components: BTreeMap<Component, Reported>,
    /// Alkalinity, eq. Beside `HCO3` it must agree with it within 2 %.
    pub alkalinity: Option<Reported>,
    /// pH at which the titration of alkalinity (or HCO3) ended, 3.5-5.5.
    pub end_point_ph: Option<f64>,
    /// Total hardness, mol of calcium and magnesium.
    pub hardness: Option<Reported>,
    /// Sodium and potassium reported together, mol counted as sodium.
    pub sodium_and_potassium: Option<Reported>,
    /// pH as measured.
    pub ph: Option<f64>,
    /// Temperature in °C of the litres of the sheet, 0-60.
    pub temperature_c: Option<f64>,
    /// What to take a component for that was not reported; `HCO3` rules on alkalinity.
    pub missing: BTreeMap<Component, Missing>,
    /// The component that takes up the charge gap of the sheet although it was reported.
    pub balance_on: Option<Component>,
}
