//! Titration: how much of an acid, a base or a salt brings a water to a pH, in a closed vessel or under a gas that is
//! held.
//!
//! At a pH that is held, the alkalinity that a water needs and the alkalinity that it has both move in proportion to
//! what is added, but for the activity coefficients. So the amount is sought as the root of the alkalinity that is
//! missing at the wanted pH, and not on the steep and flat curve of pH against amount.

use std::sync::LazyLock;

use libm::{exp, log};

use super::fault::EquilibriumError;
use super::model::Model;
use super::sensitivity::Input;
use super::speciation::Speciation;
use super::system::{Given, Known, System};
use super::validity;
use crate::composition::added::Added;
use crate::composition::pure_water;
use crate::composition::totals::Totals;
use crate::matter::catalogue;
use crate::matter::component::Component;
use std::sync::Arc;

/// Most that is added, mol per kg of water.
pub const MOST: f64 = 1.0;
/// Least that is tried where a pH is out of reach, mol per kg of water.
const LEAST: f64 = 1e-9;
/// Most steps until the root stands inside a bracket, and until the bracket is closed.
const MOST_STEPS: usize = 100;
/// Halvings of the way to where the model ends.
const HALVINGS: usize = 40;
/// Cuts of the search for the nearest pH, each to 0.618 of what was left.
const CUTS: usize = 45;
/// How near to the nearest pH is near enough: closer than anybody measures, and levels that are flat need no more.
const NEAR_ENOUGH: f64 = 0.01;
/// 1/φ, the share that each of those cuts leaves.
const GOLDEN: f64 = 0.618_033_988_749_894_9;

/// What happens to CO2 on the way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Vessel {
    /// No CO2 is lost or gained.
    Closed {
        /// Carbonate in the water before, mol per kg of water.
        dic: f64,
    },
    /// CO2 stays in equilibrium with a partial pressure.
    Open {
        /// Partial pressure of CO2, bar.
        pco2_bar: f64,
    },
}

/// A water that something is added to.
#[derive(Clone, Debug)]
pub struct Titration<'a> {
    /// The model at the temperature of the water.
    pub model: &'a Model,
    /// The water before.
    pub water: &'a Totals,
    /// Ions of the water that the model has no constants for, so few that they are passed over.
    pub left_out: &'a [Component],
    /// What is added.
    pub added: &'a Added,
    /// What becomes of CO2.
    pub vessel: Vessel,
}

/// A water with what was added to it.
#[derive(Clone, Debug)]
pub struct Titrated {
    /// Added, mol per kg of the water before.
    pub moles: f64,
    /// Kilograms of water that one kilogram of it became: crystals and neutralisation bring water.
    pub water_kg: f64,
    /// The water after, with the carbonate that it then holds.
    pub totals: Totals,
    /// Its equilibrium.
    pub state: Speciation,
    /// Why it stands at the nearest pH and not at the wanted one.
    pub short: Option<Short>,
}

/// Why a pH is out of reach.
#[derive(Clone, Debug, PartialEq)]
pub enum Short {
    /// What is added moves the water away from the wanted pH.
    Away,
    /// The pH levels off, or turns back, before it is there; the water stands within 0.01 of the nearest with the least that
    /// brings it there.
    LevelsOff,
    /// [`MOST`] is not enough.
    Most,
    /// The model ends before it is there.
    Ends(EquilibriumError),
}

impl Titration<'_> {
    /// The water with so much added, mol per kg of the water before.
    ///
    /// # Errors
    /// As [`Model::speciate`].
    pub fn at(&self, moles: f64) -> Result<Titrated, EquilibriumError> {
        let (totals, water_kg) = self.with(moles)?;
        let state = self.solved(&totals, self.carbonate(moles, water_kg), None)?;
        validity::check(&state)?;
        let totals = totals.with_dic(state.dic);
        Ok(Titrated { moles, water_kg, totals, state, short: None })
    }

    /// The water brought to a pH, or as near to it as what is added can bring it.
    ///
    /// # Errors
    /// As [`Model::speciate`], for the water with nothing added.
    ///
    /// ```
    /// use springwright_chem::composition::{added::Added, totals::Totals};
    /// use springwright_chem::equilibrium::Model;
    /// use springwright_chem::equilibrium::titration::{Titration, Vessel};
    /// use springwright_chem::matter::catalogue;
    /// let model = Model::at_celsius(20.0)?;
    /// let soda = Added::of_salt(catalogue::find("sodium_bicarbonate")?)?;
    /// let water = Totals::pure().with_added(&[(0.004, &soda)])?;
    /// let citric = Added::of_salt(catalogue::find("citric_acid_anhydrous")?)?;
    /// let vessel = Vessel::Closed { dic: 0.004 };
    /// let titration = Titration { model: &model, water: &water, left_out: &[], added: &citric, vessel };
    /// let sour = titration.to(4.0)?;
    /// // citric acid gives about one of its three hydrogens at pH 4
    /// assert!((sour.state.ph - 4.0).abs() < 1e-9 && (sour.moles - 0.004).abs() < 3e-4);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn to(&self, ph: f64) -> Result<Titrated, EquilibriumError> {
        let start = self.at(0.0)?;
        match self.root(ph).map(|moles| self.at(moles)) {
            Some(Ok(titrated)) => Ok(titrated),
            Some(Err(_)) | None => Ok(self.nearest(ph, start)),
        }
    }

    fn with(&self, moles: f64) -> Result<(Totals, f64), EquilibriumError> {
        let refused = |_| EquilibriumError::Amount { what: "what is added", value: moles };
        let totals = self.water.with_added(&[(moles, self.added)]).map_err(refused)?;
        Ok((totals, 1.0 + moles * self.added.water() * pure_water::molar_mass() / 1000.0))
    }

    fn carbonate(&self, moles: f64, water_kg: f64) -> Known {
        match self.vessel {
            Vessel::Closed { dic } => {
                let brought = self.added.per_mole().dic().unwrap_or(0.0);
                Known::Dic((dic + moles * brought) / water_kg)
            }
            Vessel::Open { pco2_bar } => Known::Pco2(pco2_bar),
        }
    }

    /// The equilibrium by its alkalinity, or at a pH that is held; the reach of the model is not judged.
    fn solved(
        &self,
        totals: &Totals,
        carbonate: Known,
        ph: Option<f64>,
    ) -> Result<Speciation, EquilibriumError> {
        let whole = Given::of(totals, carbonate);
        let mut given = self.left_out.iter().fold(whole, |given, component| given.with(*component, 0.0));
        if let Some(ph) = ph {
            given.carbonate = [Known::Ph(ph), carbonate];
        }
        given.check()?;
        Arc::new(System::of(self.model, &given.totals)?).solve(&given)
    }

    /// Alkalinity that the water would need at a pH beyond what it has, eq per kg of its water.
    fn missing(&self, moles: f64, ph: f64) -> Option<f64> {
        let (totals, water_kg) = self.with(moles).ok()?;
        let held = self.solved(&totals, self.carbonate(moles, water_kg), Some(ph)).ok()?;
        Some(held.alkalinity - totals.alkalinity()).filter(|missing| missing.is_finite())
    }

    /// Amount at which nothing is missing at a pH; none where there is none up to [`MOST`].
    fn root(&self, ph: f64) -> Option<f64> {
        let first = self.missing(0.0, ph)?;
        let small = 1e-15 + 1e-13 * self.water.alkalinity().abs();
        if first.abs() <= small {
            return Some(0.0);
        }
        let ((mut low, mut at_low), (mut high, mut at_high)) = self.bracket(ph, first)?;
        let mut moles = high;
        let mut moved_low = None;
        for _ in 0..MOST_STEPS {
            let chord = low - at_low * (high - low) / (at_high - at_low);
            let next = if chord > low && chord < high { chord } else { 0.5 * (low + high) };
            let settled = (next - moles).abs() <= 1e-15 * moles;
            moles = next;
            let missing = self.missing(moles, ph)?;
            if settled || missing.abs() <= small {
                return Some(moles);
            }
            let moves_low = (missing > 0.0) == (at_low > 0.0);
            // an end that stays twice is counted for half, so that both ends close in (Illinois)
            let share = if moved_low == Some(moves_low) { 0.5 } else { 1.0 };
            moved_low = Some(moves_low);
            if moves_low {
                (low, at_low, at_high) = (moles, missing, share * at_high);
            } else {
                (high, at_high, at_low) = (moles, missing, share * at_low);
            }
        }
        Some(moles)
    }

    /// Two amounts on either side of the root, each with what is missing there.
    fn bracket(&self, ph: f64, first: f64) -> Option<((f64, f64), (f64, f64))> {
        let mut low = (0.0, first);
        let mut moles = first.abs().min(MOST);
        for _ in 0..MOST_STEPS {
            let missing = self.missing(moles, ph)?;
            if (missing > 0.0) != (first > 0.0) {
                return Some((low, (moles, missing)));
            }
            if moles >= MOST {
                return None;
            }
            let chord = moles - missing * (moles - low.0) / (missing - low.1);
            let reach = if chord > moles { 1.2 * chord } else { 8.0 * moles };
            low = (moles, missing);
            moles = reach.clamp(1.5 * moles, 8.0 * moles).min(MOST);
        }
        None
    }

    /// The water as near to a pH as it can be brought.
    fn nearest(&self, ph: f64, start: Titrated) -> Titrated {
        let (most, ends) = self.reach();
        let off = |moles: f64| self.at(moles).map_or(f64::INFINITY, |one| (one.state.ph - ph).abs());
        let (mut low, mut high) = (log(LEAST), log(most));
        for _ in 0..CUTS {
            let (left, right) = (high - GOLDEN * (high - low), low + GOLDEN * (high - low));
            if off(exp(left)) <= off(exp(right)) {
                high = right;
            } else {
                low = left;
            }
        }
        let turning = self.enough(exp(0.5 * (low + high)), ph);
        let candidates = [(turning, Short::LevelsOff), (most, ends.map_or(Short::Most, Short::Ends))];
        let mut best = Titrated { short: Some(Short::Away), ..start };
        for (moles, short) in candidates {
            let Ok(one) = self.at(moles) else { continue };
            if (one.state.ph - ph).abs() < (best.state.ph - ph).abs() {
                best = Titrated { short: Some(short), ..one };
            }
        }
        best
    }

    /// The least that brings the water within [`NEAR_ENOUGH`] of the pH to which so much brings it.
    fn enough(&self, moles: f64, ph: f64) -> f64 {
        let off = |moles: f64| self.at(moles).map_or(f64::INFINITY, |one| (one.state.ph - ph).abs());
        let most_off = off(moles) + NEAR_ENOUGH;
        let (mut low, mut high) = (log(LEAST), log(moles));
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + high);
            if off(exp(middle)) <= most_off { high = middle } else { low = middle }
        }
        exp(high)
    }

    /// The most that may be added within the reach of the model, and what ends it.
    fn reach(&self) -> (f64, Option<EquilibriumError>) {
        let Err(mut why) = self.at(MOST) else { return (MOST, None) };
        let (mut low, mut high) = (log(LEAST), log(MOST));
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + high);
            match self.at(exp(middle)) {
                Ok(_) => low = middle,
                Err(error) => (high, why) = (middle, error),
            }
        }
        (exp(low), Some(why))
    }
}

/// A water brought to a pH with strong acid or strong base.
#[derive(Clone, Debug)]
pub struct Strong {
    /// Acid, eq per kg of the water before; below zero it was base.
    pub acid: f64,
    /// The water at the end.
    pub end: Titrated,
}

/// Brings a water to a pH with hydrochloric acid or sodium hydroxide. The acid needed is the fall of the alkalinity in
/// its charge form, whatever weak acids and complexes the water holds.
///
/// ```
/// use springwright_chem::composition::{added::Added, totals::Totals};
/// use springwright_chem::equilibrium::Model;
/// use springwright_chem::equilibrium::titration::{Vessel, strong};
/// use springwright_chem::matter::catalogue;
/// let model = Model::at_celsius(20.0)?;
/// let soda = Added::of_salt(catalogue::find("sodium_bicarbonate")?)?;
/// let water = Totals::pure().with_added(&[(0.004, &soda)])?;
/// let end = strong(&model, &water, &[], Vessel::Closed { dic: 0.004 }, 5.2)?;
/// // nearly all of the alkalinity is gone at pH 5.2
/// assert!((end.acid - 0.0037).abs() < 0.0003);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// As [`Titration::to`].
pub fn strong(
    model: &Model,
    water: &Totals,
    left_out: &[Component],
    vessel: Vessel,
    ph: f64,
) -> Result<Strong, EquilibriumError> {
    let [acid, base] = &*STRONG;
    let down = Titration { model, water, left_out, added: acid, vessel };
    if down.at(0.0)?.state.ph >= ph {
        let end = down.to(ph)?;
        return Ok(Strong { acid: end.moles, end });
    }
    let end = Titration { added: base, ..down }.to(ph)?;
    Ok(Strong { acid: -end.moles, end })
}

/// The water with so much strong acid, eq per kg of the water before; below zero strong base.
///
/// # Errors
/// As [`Titration::at`].
pub fn strongly(
    model: &Model,
    water: &Totals,
    left_out: &[Component],
    vessel: Vessel,
    acid: f64,
) -> Result<Titrated, EquilibriumError> {
    let [down, up] = &*STRONG;
    let added = if acid < 0.0 { up } else { down };
    Titration { model, water, left_out, added, vessel }.at(acid.abs())
}

/// Hydrochloric acid and sodium hydroxide.
static STRONG: LazyLock<[Added; 2]> = LazyLock::new(|| {
    ["hydrochloric_acid", "sodium_hydroxide"].map(|id| {
        let salt = catalogue::find(id).expect("the catalogue carries both");
        Added::of_salt(salt).expect("both have one composition")
    })
});

/// Buffer capacity of a water that was solved from its alkalinity: strong base per unit of pH, mol/kg. What else is
/// held (all carbonate, or a pressure of CO2) stays as it is. None for a state without such a derivative.
pub fn buffer_capacity(state: &Speciation) -> Option<f64> {
    if !matches!(state.given().carbonate[0], Known::Alkalinity(_)) {
        return None;
    }
    let slope = state.sensitivities(&[Input::FirstCarbonate])?.ph(Input::FirstCarbonate)?;
    (slope > 0.0 && slope.is_finite()).then(|| 1.0 / slope)
}
