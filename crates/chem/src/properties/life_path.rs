//! The life of a water from the mix to the kettle: where its carbon dioxide goes, what presses on its vessel, and what an
//! eye will see at each stage.
//!
//! Amounts are per kg of the water, whose other solutes stay as they are: each stage is judged as if nothing had fallen
//! before it.

mod fault;
mod remedy;
mod vessel;

pub use fault::LifePathError;
pub use remedy::{Change, Remedy};

use self::vessel::{Bottle, Vessel};
use super::fault::StateError;
use super::solved_water::{given, left_out, settled, states_parts_of};
use crate::composition::state::Solution;
use crate::composition::totals::Totals;
use crate::equilibrium::carbonation::{AIR_SHARE, CarbonDioxide, air_pressure, share};
use crate::equilibrium::water::vapour_pressure;
use crate::equilibrium::{Given, Known, Model, Speciation};
use crate::matter::component::Component;
use crate::phases::PhaseError;
use crate::phases::haze::{self, WaterHaze};
use crate::phases::haze_limits::Limits;
use crate::phases::solids::Solid;

/// What is done with the water at a stage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Doing {
    /// Poured together in an open vessel. What CO2 would press more than the air bubbles off.
    Mixed,
    /// Brought to a state of its CO2 in a vessel that is then shut, full of water.
    Carbonated(CarbonDioxide),
    /// Filled into a bottle and shut under air, the headspace so many percent of the bottle; without one it stays full at
    /// every temperature.
    Bottled {
        /// Percent of the bottle.
        headspace_percent: f64,
    },
    /// Left to stand in the vessel that it is in.
    Stands,
    /// The vessel is opened: the gas over the water is gone, and what CO2 in it would press more than the air bubbles off.
    Opened,
    /// Stood open until it is in balance with air.
    Flat,
    /// Heated in an open kettle until it is in balance with air; without the water that steams away.
    Kettle,
}

/// A stage of the life of a water.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stage {
    /// What is done.
    pub doing: Doing,
    /// Temperature, °C.
    pub celsius: f64,
}

/// Where the carbonate of a water is, all counted as CO2, mol per kg of the water.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Carbon {
    /// In the water.
    pub dissolved: f64,
    /// In the gas over it.
    pub headspace: f64,
    /// Brought in at this stage.
    pub added: f64,
    /// Lost at this stage.
    pub lost: f64,
}

impl Carbon {
    /// What water and gas hold.
    pub fn held(&self) -> f64 {
        self.dissolved + self.headspace
    }
}

/// The water at a stage.
#[derive(Clone, Debug)]
pub struct Step {
    /// The stage.
    pub stage: Stage,
    /// The equilibrium.
    pub state: Speciation,
    /// Pressure in a shut vessel over that of the air, bar; below zero where the gas alone would press less than the air.
    pub gauge_bar: Option<f64>,
    /// Where the carbonate is.
    pub carbon: Carbon,
    vessel: Vessel,
}

/// The life of a water.
#[derive(Clone, Debug)]
pub struct LifePath {
    totals: Totals,
    left_out: Vec<Component>,
    altitude_m: f64,
    stages: Vec<Stage>,
}

impl LifePath {
    /// The life of a mixed water, at a height above the sea in m. The first stage is the mixing.
    ///
    /// ```
    /// use springwright_chem::composition::added::Added;
    /// use springwright_chem::composition::state::Solution;
    /// use springwright_chem::composition::totals::Totals;
    /// use springwright_chem::equilibrium::carbonation::CarbonDioxide;
    /// use springwright_chem::matter::catalogue;
    /// use springwright_chem::phases::haze::Verdict;
    /// use springwright_chem::phases::haze_limits::Limits;
    /// use springwright_chem::properties::life_path::{Doing, LifePath, Stage};
    /// let salt = |id| Added::of_salt(catalogue::find(id)?);
    /// let (calcium, soda) = (salt("calcium_chloride_dihydrate")?, salt("sodium_bicarbonate")?);
    /// let totals = Totals::pure().with_added(&[(0.003, &calcium), (0.006, &soda)])?;
    /// let stage = |doing, celsius| Stage { doing, celsius };
    /// let stages = [
    ///     stage(Doing::Mixed, 12.0),
    ///     stage(Doing::Carbonated(CarbonDioxide::Volumes { volumes: 3.0 }), 4.0),
    ///     stage(Doing::Flat, 25.0),
    /// ];
    /// let steps = LifePath::of(&Solution::new(totals, 12.0)?, 0.0, &stages)?.walk()?;
    /// let limits = Limits::default();
    /// // bright in the keg, and hard water turns once it is flat and warm
    /// assert_eq!(steps[1].haze(&limits)?.verdict(), Verdict::Undersaturated);
    /// assert!(steps[2].haze(&limits)?.verdict() >= Verdict::Metastable);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// Carbonate that nobody stated, more than traces of an ion without constants, a stage that cannot follow the one
    /// before it.
    pub fn of(mixed: &Solution, altitude_m: f64, stages: &[Stage]) -> Result<LifePath, LifePathError> {
        let totals = mixed.totals().clone();
        totals.dic().ok_or(LifePathError::whole(StateError::Carbonate))?;
        if let Some(fault) = out_of_order(stages).into_iter().next() {
            return Err(fault);
        }
        let left_out = left_out(&totals).map_err(LifePathError::whole)?;
        Ok(LifePath { totals, left_out, altitude_m, stages: stages.to_vec() })
    }

    /// The water at every stage.
    ///
    /// # Errors
    /// What [`Model::speciate`] and [`Solution::new`] refuse at a stage, a kettle that boils below its temperature, a
    /// headspace that the warm water fills.
    pub fn walk(&self) -> Result<Vec<Step>, LifePathError> {
        let mut steps: Vec<Step> = Vec::with_capacity(self.stages.len());
        for (at, stage) in self.stages.iter().enumerate() {
            let step = self.step(*stage, steps.last()).map_err(|fault| fault.at(at))?;
            steps.push(step);
        }
        Ok(steps)
    }

    /// The water at one stage: what was before a stage that makes its own carbonate does not matter to it.
    fn water_at(&self, at: usize) -> Result<Speciation, LifePathError> {
        let own = |stage: &Stage| matches!(stage.doing, Doing::Carbonated(_) | Doing::Flat | Doing::Kettle);
        let from = self.stages[..=at].iter().rposition(own).unwrap_or(0);
        let mut step = self.step(self.stages[from], None).map_err(|fault| fault.at(from))?;
        for (next, stage) in self.stages.iter().enumerate().take(at + 1).skip(from + 1) {
            step = self.step(*stage, Some(&step)).map_err(|fault| fault.at(next))?;
        }
        Ok(step.state)
    }

    fn step(&self, stage: Stage, before: Option<&Step>) -> Result<Step, LifePathError> {
        let model = Model::at_celsius(stage.celsius)?;
        let start = Carbon { dissolved: self.totals.dic().unwrap_or(0.0), ..Carbon::default() };
        let carbon = before.map_or(start, |before| before.carbon);
        let vessel = before.map_or(Vessel::Open, |before| before.vessel);
        let (state, headspace, vessel) = match (stage.doing, vessel) {
            (Doing::Carbonated(co2), _) => (self.carbonated(stage, co2)?, 0.0, Vessel::Full),
            (Doing::Bottled { headspace_percent }, _) => {
                let bottle = self.bottle(stage, carbon.held(), headspace_percent)?;
                self.in_bottle(&model, bottle, carbon.held())?
            }
            (Doing::Stands, Vessel::Full) => {
                (model.speciate(&self.given(Known::Dic(carbon.dissolved)))?, 0.0, Vessel::Full)
            }
            (Doing::Stands, Vessel::Bottle(bottle)) => self.in_bottle(&model, bottle, carbon.held())?,
            (Doing::Mixed | Doing::Opened, _) | (Doing::Stands, Vessel::Open) => {
                (self.uncovered(&model, carbon.dissolved)?, 0.0, Vessel::Open)
            }
            (Doing::Flat | Doing::Kettle, _) => {
                let bar = AIR_SHARE * self.dry_air_bar(&model)?;
                (model.speciate(&self.given(Known::Pco2(bar)))?, 0.0, Vessel::Open)
            }
        };
        let shut = !matches!(stage.doing, Doing::Carbonated(_)) && vessel != Vessel::Open;
        let dissolved = if matches!(state.given().carbonate[1], Known::Dic(_)) {
            state.given().carbonate[1].value()
        } else {
            state.dic
        };
        let moved = if shut { 0.0 } else { dissolved + headspace - carbon.held() };
        let carbon = Carbon { dissolved, headspace, added: moved.max(0.0), lost: (-moved).max(0.0) };
        let gauge_bar = vessel.gauge_bar(&model, state.pco2(), air_pressure(self.altitude_m) / 1e5);
        Ok(Step { stage, state, gauge_bar, carbon, vessel })
    }

    fn given(&self, carbonate: Known) -> Given {
        given(&self.totals, carbonate, &self.left_out)
    }

    fn carbonated(&self, stage: Stage, co2: CarbonDioxide) -> Result<Speciation, LifePathError> {
        let there = Solution::new(self.totals.clone(), stage.celsius).map_err(StateError::from)?;
        Ok(settled(&there, co2, &self.left_out)?.state)
    }

    /// Litres that a kg of water takes with all that is in it, so much carbonate among it.
    fn litres_per_kg(&self, celsius: f64, dic: f64) -> Result<f64, LifePathError> {
        let water = Solution::new(self.totals.clone().with_dic(dic), celsius).map_err(StateError::from)?;
        Ok(1.0 / water.water_kg_per_l())
    }

    /// A bottle that is shut at a stage under air.
    fn bottle(&self, stage: Stage, whole: f64, headspace_percent: f64) -> Result<Bottle, LifePathError> {
        let water = self.litres_per_kg(stage.celsius, whole)?;
        Ok(Bottle {
            litres_per_kg: water / (1.0 - headspace_percent / 100.0),
            room: water * headspace_percent / (100.0 - headspace_percent),
            celsius: stage.celsius,
            air_bar: air_pressure(self.altitude_m) / 1e5,
        })
    }

    /// The water and the gas in a bottle that hold so much carbonate together.
    fn in_bottle(
        &self,
        model: &Model,
        bottle: Bottle,
        whole: f64,
    ) -> Result<(Speciation, f64, Vessel), LifePathError> {
        let celsius = model.celsius();
        let bottle = bottle.at(celsius, self.litres_per_kg(celsius, whole)?)?;
        let shared = share(model, &self.given(Known::Dic(whole)), bottle.room)?;
        Ok((shared.state, shared.in_gas, Vessel::Bottle(bottle)))
    }

    /// The water in an open vessel, before it comes to balance with the air: what would press more than the air is gone.
    fn uncovered(&self, model: &Model, dic: f64) -> Result<Speciation, LifePathError> {
        let state = model.speciate(&self.given(Known::Dic(dic)))?;
        let most = self.dry_air_bar(model)?;
        if state.pco2() <= most {
            return Ok(state);
        }
        Ok(model.speciate(&self.given(Known::Pco2(most)))?)
    }

    /// What the air leaves to other gases beside the vapour, bar.
    fn dry_air_bar(&self, model: &Model) -> Result<f64, LifePathError> {
        let left = air_pressure(self.altitude_m) - vapour_pressure(model.kelvin());
        if left > 0.0 {
            Ok(left / 1e5)
        } else {
            Err(LifePathError::Boils { stage: 0, celsius: model.celsius(), altitude_m: self.altitude_m })
        }
    }
}

impl LifePath {
    /// What an eye will see at a step, by every solid whose parts the sheets state.
    ///
    /// # Errors
    /// As [`haze::judge`].
    pub fn haze(&self, step: &Step, limits: &Limits) -> Result<WaterHaze, PhaseError> {
        Ok(step.haze(limits)?.only(|solid| self.states(solid)))
    }

    fn states(&self, solid: &Solid) -> bool {
        states_parts_of(&self.totals, solid)
    }
}

impl Step {
    /// What an eye will see, by every solid whose ions are here.
    ///
    /// # Errors
    /// As [`haze::judge`].
    pub fn haze(&self, limits: &Limits) -> Result<WaterHaze, PhaseError> {
        haze::judge(&Model::at_celsius(self.state.celsius())?, &self.state, &[], limits)
    }
}

/// Every stage that cannot follow the one before it.
pub fn out_of_order(stages: &[Stage]) -> Vec<LifePathError> {
    let mut faults = Vec::new();
    let (mut bottled, mut shut) = (false, false);
    for (stage, Stage { doing, .. }) in stages.iter().enumerate() {
        match doing {
            Doing::Opened if !shut => faults.push(LifePathError::NotShut { stage }),
            Doing::Bottled { .. } | Doing::Carbonated(_) if bottled => {
                faults.push(LifePathError::StillShut { stage });
            }
            _ => {}
        }
        match doing {
            Doing::Bottled { .. } => (bottled, shut) = (true, true),
            Doing::Carbonated(_) => shut = true,
            Doing::Stands => {}
            Doing::Mixed | Doing::Opened | Doing::Flat | Doing::Kettle => (bottled, shut) = (false, false),
        }
    }
    faults
}
