//! Conductivity as a row of the sheet: it bends with strength, so it is taken straight around a point and the point is
//! moved until it stands. This is where the chapter looks ahead to the solved state: bicarbonate alone is reckoned
//! ion by ion, and what the pH makes of it enters as one factor, taken from the solved water.

use super::cell::Cell;
use super::unknown::Unknown;
use crate::composition::analysis::{Analysis, Per, Reported};
use crate::composition::dissolved;
use crate::composition::state::Solution;
use crate::composition::totals::Totals;
use crate::equilibrium::Known;
use crate::matter::component::Component;
use crate::properties::StateError;
use crate::properties::conductivity::conductivity;
use crate::properties::solved_water::with_measured;

/// Amounts of the components as they stand in the water, mmol/L.
pub(super) type Amounts = [f64; Component::COUNT];

/// Conductivity from amounts.
#[derive(Clone, Debug)]
pub(super) struct Conductance {
    celsius: f64,
    /// The solved water against bicarbonate alone; 1 where no pH is known.
    factor: f64,
    /// µS/cm for one mmol/L more of each component, near the water.
    slopes: Amounts,
}

impl Conductance {
    /// At a temperature, around a water.
    pub(super) fn around(celsius: f64, amounts: &Amounts, cell: &mut Cell) -> Conductance {
        let mut slopes = [0.0; Component::COUNT];
        let here = cell.reads(celsius, amounts);
        for component in Component::ALL {
            if dissolved::form(component).charge != 0.0 {
                let step = (0.01 * amounts[component.index()].abs()).max(1e-3);
                let mut moved = *amounts;
                moved[component.index()] += step;
                slopes[component.index()] = (cell.reads(celsius, &moved) - here) / step;
            }
        }
        Conductance { celsius, factor: 1.0, slopes }
    }

    /// The same with what pH makes of the water.
    pub(super) fn with_factor(&self, factor: f64) -> Conductance {
        Conductance { factor, ..self.clone() }
    }

    /// µS/cm of a water.
    pub(super) fn of(&self, amounts: &Amounts, cell: &mut Cell) -> f64 {
        self.factor * cell.reads(self.celsius, amounts)
    }

    /// µS/cm for one unit more of something.
    pub(super) fn slope(&self, unknown: &Unknown) -> f64 {
        let of = |(component, amount): &(Component, f64)| amount * self.slopes[component.index()];
        self.factor * unknown.brings.iter().map(of).sum::<f64>()
    }

    /// The solved water at its pH against bicarbonate alone. The pH is taken at the temperature of the conductivity: ten
    /// degrees beside it move the share of CO3, and by it a conductivity at pH 9.5 by 0.3 %, below pH 9 by nothing.
    ///
    /// # Errors
    /// What has no solved state.
    pub(super) fn solved_factor(
        &self,
        amounts: &Amounts,
        ph: f64,
        cell: &mut Cell,
    ) -> Result<f64, StateError> {
        let solution = solution(amounts, self.celsius)?;
        let alkalinity = Known::Alkalinity(solution.totals().alkalinity());
        let solved = with_measured(&solution, alkalinity, Known::Ph(ph))?;
        let own = conductivity(&solved.state, solved.solution.water_kg_per_l())?;
        Ok(own / cell.reads(self.celsius, amounts))
    }
}

/// A water from what stands in it.
fn solution(amounts: &Amounts, temperature_c: f64) -> Result<Solution, StateError> {
    let mut analysis = Analysis { temperature_c: Some(temperature_c), ..Analysis::default() };
    let listed = Component::ALL.into_iter().filter(|component| amounts[component.index()] > 0.0);
    let litre = |mmol: f64| Reported::new(mmol.max(0.0) / 1000.0, Per::Litre);
    analysis.components.extend(listed.map(|component| (component, litre(amounts[component.index()]))));
    // The amounts hold the bicarbonate of the carbonate alone; the sheet of a laboratory counts more.
    analysis.components.remove(&Component::HCO3);
    analysis.components.remove(&Component::CO3);
    let carbonate = amounts[Component::HCO3.index()] + 2.0 * amounts[Component::CO3.index()];
    let reckoned = Totals::of(&analysis).map_err(|mut faults| StateError::Composition(faults.remove(0)))?;
    let water = Solution::new(reckoned.totals.clone(), temperature_c)?.water_kg_per_l();
    let alkalinity = reckoned.totals.alkalinity() + carbonate / 1000.0 / water;
    Ok(Solution::new(reckoned.totals.with_alkalinity(alkalinity), temperature_c)?)
}
