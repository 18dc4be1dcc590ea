//! A water with its equilibrium and all that follows from it: the one thing that every door answers as "the water".

use super::conductivity::conductivity;
use super::fault::StateError;
use super::osmolality::osmolality;
use crate::composition::dissolved;
use crate::composition::state::Solution;
use crate::composition::totals::{Standing, Totals};
use crate::equilibrium::carbonation::{CarbonDioxide, bottle};
use crate::equilibrium::{EquilibriumError, Given, Known, Model, Speciation, is_known};
use crate::matter::component::{Component, Role};
use crate::phases::saturation::{self, Saturation};
use crate::phases::solids::Solid;

/// Temperature at which conductivity is compared, °C.
const REFERENCE_C: f64 = 25.0;
/// Share of all charge that ions without constants may carry before the water is refused.
const TRACE: f64 = 0.01;
/// Most rounds until the density agrees with the carbon dioxide that went in.
const MOST_ROUNDS: usize = 30;

/// How the carbon dioxide of a water is held.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Held {
    /// What is dissolved stays.
    Closed,
    /// In the state, at the temperature of the water.
    Here(CarbonDioxide),
    /// Brought to the state at another temperature in °C, then closed: a keg in the cold room.
    Elsewhere(CarbonDioxide, f64),
    /// Closed into a bottle whose headspace is so many percent of it.
    Bottle(f64),
}

/// Conductivity, µS/cm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conductivity {
    /// Of the water as it is, at its temperature.
    pub at_temperature: f64,
    /// Of the same closed water solved at 25 °C: no factor stands behind it.
    pub at_25c: f64,
}

/// A gas space over a closed water.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Headspace {
    /// Pressure over that of the air, bar.
    pub gauge_bar: f64,
    /// CO2 in it, mol per kg of water.
    pub co2: f64,
}

/// A water with its equilibrium.
#[derive(Clone, Debug)]
pub struct SolvedWater {
    /// Totals with the carbonate that the water holds in this state, at its temperature.
    pub solution: Solution,
    /// The equilibrium.
    pub state: Speciation,
    /// The gas over it, where it stands in a bottle.
    pub headspace: Option<Headspace>,
    /// Ions that the model has no constants for, so few that they were left out of the equilibrium.
    pub left_out: Vec<Component>,
}

impl SolvedWater {
    /// Solves a water in a state of its carbon dioxide.
    ///
    /// # Errors
    /// Alkalinity or carbonate that nobody stated, more than traces of an ion without constants, and what
    /// [`Model::speciate`] refuses.
    ///
    /// ```
    /// use springwright_chem::composition::added::Added;
    /// use springwright_chem::composition::state::Solution;
    /// use springwright_chem::composition::totals::Totals;
    /// use springwright_chem::matter::catalogue;
    /// use springwright_chem::properties::solved_water::{Held, SolvedWater};
    /// let soda = Added::of_salt(catalogue::find("sodium_bicarbonate")?)?;
    /// let totals = Totals::pure().with_added(&[(0.004, &soda)])?;
    /// let water = SolvedWater::of(&Solution::new(totals, 20.0)?, Held::Closed)?;
    /// // a bicarbonate alone gives pH 8 to 9
    /// assert!((8.0..9.0).contains(&water.state.ph));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn of(solution: &Solution, held: Held) -> Result<SolvedWater, StateError> {
        if solution.totals().standing(Component::HCO3) != Standing::Stated {
            return Err(StateError::Alkalinity);
        }
        let left_out = left_out(solution.totals())?;
        match held {
            Held::Elsewhere(co2, celsius) => {
                let there = Solution::new(solution.totals().clone(), celsius)?;
                let carbonated = settled(&there, co2, &left_out)?;
                let totals = carbonated.solution.totals().clone();
                SolvedWater::of(&Solution::new(totals, solution.temperature_c())?, Held::Closed)
            }
            Held::Here(co2) => settled(solution, co2, &left_out),
            Held::Closed => settled(solution, CarbonDioxide::Closed { dic: dic(solution)? }, &left_out),
            Held::Bottle(percent) => bottled(solution, percent, left_out),
        }
    }

    /// Conductivity as the water is, and at 25 °C.
    ///
    /// # Errors
    /// A water too strong or too warm for the equation.
    pub fn conductivity(&self) -> Result<Conductivity, EquilibriumError> {
        let at_temperature = conductivity(&self.state, self.solution.water_kg_per_l())?;
        if self.solution.temperature_c() == REFERENCE_C {
            return Ok(Conductivity { at_temperature, at_25c: at_temperature });
        }
        let cooled = Solution::new(self.solution.totals().clone(), REFERENCE_C);
        let water_kg_per_l =
            cooled.map_or(self.solution.water_kg_per_l(), |solution| solution.water_kg_per_l());
        let at_25c = conductivity(&self.closed_at(REFERENCE_C)?, water_kg_per_l)?;
        Ok(Conductivity { at_temperature, at_25c })
    }

    /// Osmolality, osmol per kg of water.
    pub fn osmolality(&self) -> f64 {
        osmolality(&self.state)
    }

    /// The saturation index of every solid whose parts the sheets state, in the order of the table.
    pub fn saturation(&self) -> Vec<Saturation> {
        saturation::all(&self.state).into_iter().filter(|one| self.states_parts_of(one.solid)).collect()
    }

    /// Whether every component of a solid was stated by itself.
    pub fn states_parts_of(&self, solid: &Solid) -> bool {
        states_parts_of(self.solution.totals(), solid)
    }

    /// The same water in balance with air at sea level, where it now holds more CO2 than that; none where it does not.
    ///
    /// # Errors
    /// As [`SolvedWater::of`].
    pub fn in_air(&self) -> Result<Option<SolvedWater>, StateError> {
        let air = CarbonDioxide::OpenToAir { altitude_m: 0.0 };
        let Known::Pco2(bar) = air.known(&self.model()?, 1.0)? else { return Ok(None) };
        if self.state.pco2() <= bar * (1.0 + 1e-6) {
            return Ok(None);
        }
        settled(&self.solution, air, &self.left_out).map(Some)
    }

    /// Carbonate that the water holds as HCO3⁻ and as CO3²⁻, each with its complexes, mol per kg of water.
    pub fn bicarbonate_and_carbonate(&self) -> (f64, f64) {
        self.state.bicarbonate_and_carbonate()
    }

    /// The same water, closed, at another temperature in °C.
    ///
    /// # Errors
    /// As [`Model::speciate`].
    pub fn closed_at(&self, celsius: f64) -> Result<Speciation, EquilibriumError> {
        let known = Known::Dic(self.state.dic);
        Model::at_celsius(celsius)?.speciate(&given(self.solution.totals(), known, &self.left_out))
    }

    /// The same water at another temperature in °C, in balance with air at sea level there.
    ///
    /// # Errors
    /// As [`Model::speciate`].
    pub fn open_at(&self, celsius: f64) -> Result<Speciation, EquilibriumError> {
        let model = Model::at_celsius(celsius)?;
        let air = CarbonDioxide::OpenToAir { altitude_m: 0.0 }.known(&model, 1.0)?;
        model.speciate(&given(self.solution.totals(), air, &self.left_out))
    }

    fn model(&self) -> Result<Model, EquilibriumError> {
        Model::at_celsius(self.solution.temperature_c())
    }
}

/// Alkalinity and dissolved carbonate of a water of which two quantities of the carbonate system were measured, at its
/// own temperature.
///
/// # Errors
/// As [`SolvedWater::of`], but that alkalinity need not be known.
pub fn with_measured(solution: &Solution, first: Known, second: Known) -> Result<SolvedWater, StateError> {
    let totals = solution.totals();
    let left_out = left_out(totals)?;
    let mut given = given(totals, first, &left_out);
    given.carbonate = [first, second];
    let state = Model::at_celsius(solution.temperature_c())?.speciate(&given)?;
    let (mut alkalinity, mut dic) = (state.alkalinity, state.dic);
    for known in [first, second] {
        match known {
            Known::Alkalinity(stated) => alkalinity = stated,
            Known::Dic(stated) => dic = stated,
            _ => {}
        }
    }
    let totals = totals.clone().with_dic(dic).with_alkalinity(alkalinity);
    let solution = Solution::new(totals, solution.temperature_c())?;
    Ok(SolvedWater { solution, state, headspace: None, left_out })
}

/// Whether totals state every component of a solid by itself.
pub(super) fn states_parts_of(totals: &Totals, solid: &Solid) -> bool {
    let stated = |component| totals.standing(component) == Standing::Stated;
    solid.brings().components.iter().all(|(component, _)| stated(*component))
}

fn dic(solution: &Solution) -> Result<f64, StateError> {
    solution.totals().dic().ok_or(StateError::Carbonate)
}

pub(super) fn given(totals: &Totals, carbonate: Known, left_out: &[Component]) -> Given {
    left_out.iter().fold(Given::of(totals, carbonate), |given, component| given.with(*component, 0.0))
}

/// A water in a state of its carbon dioxide that is stated per litre or by a pressure; the litre grows with the gas, so
/// both are settled in turns.
pub(super) fn settled(
    solution: &Solution,
    co2: CarbonDioxide,
    left_out: &[Component],
) -> Result<SolvedWater, StateError> {
    let (totals, celsius) = (solution.totals(), solution.temperature_c());
    let model = Model::at_celsius(celsius)?;
    let mut solution = solution.clone();
    let mut round = 0;
    loop {
        let known = co2.known(&model, solution.water_kg_per_l())?;
        let state = model.speciate(&given(totals, known, left_out))?;
        let next = Solution::new(totals.clone().with_dic(state.dic), celsius)?;
        let moved = (next.water_kg_per_l() / solution.water_kg_per_l() - 1.0).abs();
        solution = next;
        round += 1;
        let per_litre = matches!(co2, CarbonDioxide::Volumes { .. } | CarbonDioxide::Dissolved { .. });
        if !per_litre || moved < 1e-14 || round == MOST_ROUNDS {
            return Ok(SolvedWater { solution, state, headspace: None, left_out: left_out.to_vec() });
        }
    }
}

fn bottled(solution: &Solution, percent: f64, left_out: Vec<Component>) -> Result<SolvedWater, StateError> {
    let whole = dic(solution)?;
    let given = given(solution.totals(), Known::Dic(whole), &left_out);
    let celsius = solution.temperature_c();
    let bottled = bottle(&Model::at_celsius(celsius)?, &given, percent, solution.water_kg_per_l())?;
    let totals = solution.totals().clone().with_dic(bottled.state.dic);
    let headspace = Some(Headspace { gauge_bar: bottled.gauge_bar, co2: bottled.headspace });
    Ok(SolvedWater { solution: Solution::new(totals, celsius)?, state: bottled.state, headspace, left_out })
}

/// Ions of a water that the model has no constants for, where they are no more than traces.
///
/// # Errors
/// More than a trace of one.
pub fn left_out(totals: &Totals) -> Result<Vec<Component>, StateError> {
    let strange = |component: &Component| totals.amount(*component) > 0.0 && !is_known(*component);
    let left: Vec<Component> = Component::ALL.into_iter().filter(strange).collect();
    if left.is_empty() {
        return Ok(left);
    }
    let charge = |component: Component| {
        let charge = dissolved::form(component).charge.abs();
        (if charge > 0.0 { charge } else { 1.0 }) * totals.amount(component).abs()
    };
    let all: f64 = Component::ALL.into_iter().map(charge).sum();
    let weak = |component: &Component| component.role() == Role::WeakAcid;
    for component in &left {
        let room = if weak(component) { totals.alkalinity().abs().min(all) } else { all };
        if charge(*component) > TRACE * room {
            return Err(StateError::Equilibrium(EquilibriumError::Component { component: component.id() }));
        }
    }
    Ok(left)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::composition::added::Added;
    use crate::matter::catalogue;

    fn made(salts: &[(&str, f64)], celsius: f64) -> Solution {
        let added: Vec<(f64, Added)> = salts
            .iter()
            .map(|(id, moles)| (*moles, Added::of_salt(catalogue::find(id).unwrap()).unwrap()))
            .collect();
        let parts: Vec<(f64, &Added)> = added.iter().map(|(moles, salt)| (*moles, salt)).collect();
        Solution::new(Totals::pure().with_added(&parts).unwrap(), celsius).unwrap()
    }

    fn drink() -> Solution {
        made(&[("sodium_bicarbonate", 3e-3), ("calcium_chloride_dihydrate", 1.5e-3)], 20.0)
    }

    /// Common practice, no published source: alkali bicarbonates give pH 8 to 9 and potassium carbonate about 11 in
    /// still water; soft water under a few bar of CO2 stands near pH 4.
    #[test]
    fn what_every_maker_knows() {
        let ph = |solution: &Solution, held| SolvedWater::of(solution, held).unwrap().state.ph;
        for salt in ["sodium_bicarbonate", "potassium_bicarbonate"] {
            assert!((8.0..9.0).contains(&ph(&made(&[(salt, 4e-3)], 20.0), Held::Closed)), "{salt}");
        }
        assert!(
            (10.7..11.3).contains(&ph(&made(&[("potassium_carbonate_anhydrous", 4e-3)], 20.0), Held::Closed))
        );
        let keg = CarbonDioxide::Keg { gauge_bar: 3.0, altitude_m: 0.0 };
        let soft = made(&[("sodium_bicarbonate", 3e-4)], 8.0);
        assert!((3.6..4.4).contains(&ph(&soft, Held::Here(keg))));
    }

    /// Identities: grams per litre that were asked stand in the litre that results (1e-12); a keg at the temperature of
    /// the water is the same as one stated for that temperature (1e-12); a bottle without headspace is a closed water.
    #[test]
    fn states_agree_with_themselves() {
        let asked = CarbonDioxide::Dissolved { grams_per_l: 6.0 };
        let water = SolvedWater::of(&drink(), Held::Here(asked)).unwrap();
        let grams = water.state.co2()
            * water.solution.water_kg_per_l()
            * crate::equilibrium::carbonation::CO2_MOLAR_MASS;
        assert!((grams / 6.0 - 1.0).abs() < 1e-12, "{grams}");
        let keg = CarbonDioxide::Keg { gauge_bar: 2.0, altitude_m: 0.0 };
        let here = SolvedWater::of(&drink(), Held::Here(keg)).unwrap();
        let there = SolvedWater::of(&drink(), Held::Elsewhere(keg, 20.0)).unwrap();
        assert!((here.state.ph - there.state.ph).abs() < 1e-12);
        let bottle = SolvedWater::of(&here.solution, Held::Bottle(0.0)).unwrap();
        assert!((bottle.state.ph - here.state.ph).abs() < 1e-12);
        // the air of the bottle stays under the cap beside the CO2 that pressed the keg to 2 bar over one atmosphere
        assert!((bottle.headspace.unwrap().gauge_bar - 3.013).abs() < 0.02);
    }

    /// A measured pH comes back from the carbonate that it implies, at its own temperature (1e-10).
    #[test]
    fn a_measured_ph_comes_back() {
        let mut sheet = drink();
        for ph in [6.2, 7.7, 8.4] {
            let alkalinity = Known::Alkalinity(sheet.totals().alkalinity());
            sheet = with_measured(&sheet, alkalinity, Known::Ph(ph)).unwrap().solution;
            assert!((SolvedWater::of(&sheet, Held::Closed).unwrap().state.ph - ph).abs() < 1e-10);
        }
    }

    /// Air takes what is above its own: a carbonated water gives off CO2 and its pH climbs; a water in balance has none.
    #[test]
    fn air_takes_the_rest() {
        let keg = CarbonDioxide::Keg { gauge_bar: 2.0, altitude_m: 0.0 };
        let water = SolvedWater::of(&drink(), Held::Here(keg)).unwrap();
        let flat = water.in_air().unwrap().unwrap();
        assert!(flat.state.ph > water.state.ph + 2.0);
        assert!(flat.in_air().unwrap().is_none());
        assert!((flat.state.alkalinity - water.state.alkalinity).abs() < 1e-15);
    }

    /// Traces without constants are left out and told; more of them is refused, never ignored.
    #[test]
    fn what_the_model_lacks_is_never_ignored() {
        let manganese = Component::read("Mn").unwrap();
        let with = |amount: f64| {
            let salt = Added::new(125.844, &[(manganese, 1.0), (Component::CL, 2.0)], 0.0);
            Solution::new(drink().totals().with_added(&[(amount, &salt)]).unwrap(), 20.0).unwrap()
        };
        assert_eq!(SolvedWater::of(&with(1e-6), Held::Closed).unwrap().left_out, [manganese]);
        assert!(matches!(
            SolvedWater::of(&with(1e-3), Held::Closed),
            Err(StateError::Equilibrium(EquilibriumError::Component { component: "Mn" }))
        ));
    }
}
