//! A water beside its solids: what an eye will see, and the water that is left when they are in balance.

use super::solved_water::SolvedWater;
use crate::composition::dissolved::is_carbonate;
use crate::composition::state::Solution;
use crate::equilibrium::{Model, Speciation};
use crate::matter::component::Component;
use crate::phases::PhaseError;
use crate::phases::haze::{self, WaterHaze};
use crate::phases::haze_limits::Limits;
use crate::phases::precipitation::{Precipitated, Solids, precipitate};
use crate::phases::solids::Solid;

/// A water in balance with its solids.
#[derive(Clone, Debug)]
pub struct SettledWater {
    /// The solids, and how the balance closes.
    pub balance: Precipitated,
    /// The water that is left.
    pub water: SolvedWater,
}

impl SolvedWater {
    /// Judges haze by every solid whose parts the sheets state; powders are mol per kg of water.
    ///
    /// # Errors
    /// As [`haze::judge`].
    pub fn haze(&self, powders: &[(&'static Solid, f64)], limits: &Limits) -> Result<WaterHaze, PhaseError> {
        self.haze_in(&self.state, powders, limits)
    }

    /// The same in another state of this water: warmed, or open.
    ///
    /// # Errors
    /// As [`haze::judge`].
    pub fn haze_in(
        &self,
        state: &Speciation,
        powders: &[(&'static Solid, f64)],
        limits: &Limits,
    ) -> Result<WaterHaze, PhaseError> {
        let model = Model::at_celsius(state.celsius())?;
        let judged = haze::judge(&model, state, powders, limits)?;
        Ok(judged.only(|solid| self.states_parts_of(solid)))
    }

    /// Lets the water come to balance with solids, its CO2 closed in or held by the gas that it was solved under.
    ///
    /// ```
    /// use springwright_chem::composition::added::Added;
    /// use springwright_chem::composition::state::Solution;
    /// use springwright_chem::composition::totals::Totals;
    /// use springwright_chem::matter::catalogue;
    /// use springwright_chem::matter::component::Component;
    /// use springwright_chem::phases::precipitation::Solids;
    /// use springwright_chem::properties::{Held, SolvedWater};
    /// let calcium = Added::of_salt(catalogue::find("calcium_chloride_dihydrate")?)?;
    /// let soda = Added::of_salt(catalogue::find("sodium_carbonate_anhydrous")?)?;
    /// let totals = Totals::pure().with_added(&[(0.003, &calcium), (0.003, &soda)])?;
    /// let water = SolvedWater::of(&Solution::new(totals, 20.0)?, Held::Closed)?;
    /// let settled = water.settled(&Solids::that_form())?;
    /// // what has left the water lies in it as chalk
    /// let gone = water.state.given().totals[Component::CA.index()]
    ///     - settled.balance.kilograms * settled.water.solution.totals().amount(Component::CA);
    /// assert!((gone / settled.balance.formed("calcite") - 1.0).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// As [`precipitate`].
    pub fn settled(&self, solids: &Solids) -> Result<SettledWater, PhaseError> {
        let celsius = self.solution.temperature_c();
        let balance = precipitate(&Model::at_celsius(celsius)?, self.state.given(), solids)?;
        let before = self.solution.totals();
        let amount = |component: Component| match self.left_out.contains(&component) {
            true => before.amount(component) / balance.kilograms,
            false => balance.state.given().totals[component.index()],
        };
        let totals = Component::ALL
            .into_iter()
            .filter(|component| !is_carbonate(*component))
            .fold(before.clone(), |totals, component| totals.with_amount(component, amount(component)))
            .with_alkalinity(balance.state.alkalinity)
            .with_dic(balance.state.dic);
        let water = SolvedWater {
            solution: Solution::new(totals, celsius)?,
            state: balance.state.clone(),
            headspace: None,
            left_out: self.left_out.clone(),
        };
        Ok(SettledWater { balance, water })
    }
}
