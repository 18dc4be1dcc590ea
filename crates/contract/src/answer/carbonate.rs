//! What the sheet of a water says of its carbonate system: any two of alkalinity, pH, all dissolved carbonate and free
//! carbon dioxide tell the others.

use springwright_chem::composition::analysis::Reported;
use springwright_chem::composition::state::Solution;
use springwright_chem::composition::totals::Standing;
use springwright_chem::equilibrium::carbonation::CarbonDioxide;
use springwright_chem::equilibrium::{Known, Model};
use springwright_chem::fault::Fault as _;
use springwright_chem::formulation::words::number;
use springwright_chem::matter::component::Component;
use springwright_chem::properties::solved_water::with_measured;
use springwright_chem::properties::{SolvedWater, StateError};
use springwright_chem::quantity::{Dimension, QuantityError, Subject};

use super::amounts;
use super::faults::fault;
use super::sheet::reported;
use crate::measured::Measured;
use crate::problem::Fault;
use crate::reading::below;
use crate::said::Finding;

/// Share by which a third figure may differ from what two others tell.
const AGREEMENT: f64 = 0.05;

/// The rows of an analysis that speak of carbon.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Carbon {
    /// All dissolved carbonate.
    pub dic: Option<Reported>,
    /// Free carbon dioxide.
    pub co2: Option<Reported>,
}

/// An amount of carbon: as mmol, or a mass of what it is expressed as. A mass of dissolved carbonate must say as what.
pub(super) fn row(name: &str, measured: &Measured, at: &str) -> Result<Reported, Vec<Fault>> {
    let amount = amounts::measured(measured, at)?;
    let mass = matches!(
        amount.unit().dimension(),
        Dimension::MassPerVolume | Dimension::MassPerMass | Dimension::MassPerWater
    );
    let read = if name == "dic" && mass && amount.basis().is_none() {
        Err(QuantityError::BasisMissing { subject: "dissolved carbonate".to_owned() })
    } else {
        reported(&amount, &Subject::CarbonDioxide)
    };
    read.map_err(|error| vec![fault(at, &error)])
}

/// What a sheet says of carbonate beside the alkalinity.
#[derive(Clone, Copy, Debug)]
pub(super) struct CarbonFigures {
    /// pH as measured.
    pub ph: Option<f64>,
    /// The rows that speak of carbon.
    pub carbon: Carbon,
}

/// What became of the carbonate of a sheet.
pub(super) struct Carbonate {
    /// The water with its carbonate, where two figures tell it.
    pub water: Solution,
    /// The sheet, where it states a single figure that is not the alkalinity: a gas over the water may be the other.
    pub alone: Option<CarbonFigures>,
    /// Why the carbonate could not be told although two figures stand there.
    pub unsolved: Option<StateError>,
    /// The equilibrium that told it.
    pub solved: Option<SolvedWater>,
}

impl Carbonate {
    /// A water of which nothing more is told.
    pub(super) fn untold(water: Solution) -> Carbonate {
        Carbonate { water, alone: None, unsolved: None, solved: None }
    }
}

/// The carbonate of a water by all that its sheet says of it.
pub(super) fn of_sheet(
    water: Solution,
    sheet: CarbonFigures,
    pointer: &str,
    findings: &mut Vec<Finding>,
) -> Carbonate {
    match sheet.stated(&water, &water).as_slice() {
        [] | [Known::Alkalinity(_)] => return Carbonate::untold(water),
        [_] => return Carbonate { alone: Some(sheet), ..Carbonate::untold(water) },
        _ => {}
    }
    match sheet.settled(&water, None) {
        Ok((solved, others)) => {
            findings.extend(others.iter().filter_map(|known| disagreement(*known, &solved, pointer)));
            Carbonate { solved: Some(solved.clone()), ..Carbonate::untold(solved.solution) }
        }
        Err(error) => {
            findings.push(unsolved(&error, pointer));
            Carbonate { unsolved: Some(error), ..Carbonate::untold(water) }
        }
    }
}

impl CarbonFigures {
    /// The water by its single figure and the gas that it stands under.
    pub(super) fn under(&self, water: &Solution, gas: CarbonDioxide) -> Result<Solution, StateError> {
        Ok(self.settled(water, Some(gas))?.0.solution)
    }

    /// The water by the first two figures, and the figures left over. Carbon is stated per litre of the water with all
    /// its carbon in it, so the litre and the carbon are settled in turns.
    fn settled(
        &self,
        water: &Solution,
        gas: Option<CarbonDioxide>,
    ) -> Result<(SolvedWater, Vec<Known>), StateError> {
        const ROUNDS: usize = 30;
        let model = Model::at_celsius(water.temperature_c())?;
        let figures = |litre: &Solution| -> Result<Vec<Known>, StateError> {
            let mut known = self.stated(water, litre);
            known.extend(gas.map(|gas| gas.known(&model, litre.water_kg_per_l())).transpose()?);
            Ok(known)
        };
        let mut known = figures(water)?;
        let mut water_kg_per_l = water.water_kg_per_l();
        let mut round = 0;
        loop {
            let solved = with_measured(water, known[0], known[1])?;
            round += 1;
            let moved = (solved.solution.water_kg_per_l() / water_kg_per_l - 1.0).abs();
            let next = figures(&solved.solution)?;
            // where no figure is per litre the first round says it all
            if next == known || moved < 1e-14 || round == ROUNDS {
                return Ok((solved, known[2..].to_vec()));
            }
            (known, water_kg_per_l) = (next, solved.solution.water_kg_per_l());
        }
    }

    /// The figures in the order in which they are trusted, per kilogram of the water of a litre.
    fn stated(&self, water: &Solution, litre: &Solution) -> Vec<Known> {
        let totals = water.totals();
        let known = totals.standing(Component::HCO3) == Standing::Stated;
        let per_kg =
            |reported: Reported| reported.per_kg_water(litre.density_kg_per_l(), litre.water_kg_per_l());
        [
            known.then(|| Known::Alkalinity(totals.alkalinity())),
            self.ph.map(Known::Ph),
            self.carbon.dic.map(|dic| Known::Dic(per_kg(dic))),
            self.carbon.co2.map(|co2| Known::Co2(per_kg(co2))),
        ]
        .into_iter()
        .flatten()
        .collect()
    }
}

fn unsolved(error: &StateError, pointer: &str) -> Finding {
    Finding {
        code: "carbonate_not_solved".to_owned(),
        pointer: pointer.to_owned(),
        text: format!("How much carbonate the water holds could not be told: {error}. {}", error.mend()),
        source: None,
    }
}

/// A figure that does not agree with what the two before it tell.
fn disagreement(known: Known, solved: &SolvedWater, pointer: &str) -> Option<Finding> {
    let (at, what, stated, told) = match known {
        Known::Dic(dic) => ("dic", "dissolved carbonate", 1e3 * dic, 1e3 * solved.state.dic),
        Known::Co2(co2) => ("co2", "free CO2", 1e3 * co2, 1e3 * solved.state.co2()),
        Known::Alkalinity(_) | Known::Ph(_) | Known::Pco2(_) => return None,
    };
    ((stated - told).abs() > AGREEMENT * stated.abs().max(told.abs())).then(|| Finding {
        code: "carbonate_disagrees".to_owned(),
        pointer: below(&below(pointer, "analysis"), at),
        text: format!(
            "The sheet states {} mmol/kg of {what}, but its other figures tell {}; the answer follows those.",
            number(stated),
            number(told)
        ),
        source: None,
    })
}
