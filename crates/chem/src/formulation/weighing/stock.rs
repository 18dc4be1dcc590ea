//! A stock solution for what is too little for its balance.

use super::Line;
use crate::formulation::means::Balance;

/// Fewer steps than this are no weighing: half a step is then more than 2.5 %.
pub const FEW_STEPS: i64 = 20;
/// Steps that the salt of a stock comes to at least: half a step is then 0.5 %.
const GOOD_STEPS: f64 = 100.0;
/// Volumes of a stock, mL: measuring flasks.
const FLASKS_ML: [f64; 6] = [100.0, 200.0, 250.0, 500.0, 1000.0, 2000.0];
/// Doses, mL: pipettes and cylinders, the largest first since they measure best.
const DOSES_ML: [f64; 7] = [100.0, 50.0, 25.0, 20.0, 10.0, 5.0, 2.0];
/// Share of its solubility up to which a stock is filled.
const OF_SOLUBILITY: f64 = 0.5;
/// g in a litre where no solubility is known.
const UNKNOWN_G_PER_L: f64 = 20.0;

/// A stock solution and the dose of it that brings the mass of the recipe.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stock {
    /// Volume of the stock, mL.
    pub flask_ml: f64,
    /// Whole steps of the balance for it.
    pub steps: i64,
    /// Mass for it, g.
    pub mass_g: f64,
    /// Dose, mL.
    pub dose_ml: f64,
}

impl Stock {
    /// The smallest flask with the largest dose that weighs well and dissolves; none where no flask does.
    pub(super) fn of(line: &Line, balance: &Balance, celsius: f64) -> Option<Stock> {
        let dissolves = line.choice.salt.solubility(celsius).map_or(UNKNOWN_G_PER_L, |known| {
            let pure = known.mol_per_kg_water * line.choice.added.molar_mass();
            OF_SOLUBILITY * pure * 100.0 / line.choice.assay_percent
        });
        let tried = |flask_ml: f64, dose_ml: f64| {
            let wanted_g = line.ideal_g * flask_ml / dose_ml;
            let steps = (wanted_g / balance.step_g).round();
            let mass_g = balance.mass_g(steps as i64);
            let good = steps >= GOOD_STEPS && mass_g >= balance.least_g && mass_g <= balance.most_g;
            let clear = mass_g / flask_ml * 1000.0 <= dissolves && dose_ml <= 0.5 * flask_ml;
            // what the rounding of the stock leaves is taken up by the dose
            let dose_ml = line.ideal_g / mass_g * flask_ml;
            (good && clear).then_some(Stock { flask_ml, steps: steps as i64, mass_g, dose_ml })
        };
        FLASKS_ML.into_iter().find_map(|flask| DOSES_ML.into_iter().find_map(|dose| tried(flask, dose)))
    }
}
