//! Answers `speciation`.

use springwright_chem::composition::closure::Closure;
use springwright_chem::composition::solids;
use springwright_chem::properties::{Held, SolvedWater};

use serde_json::Value;

use super::faults;
use super::sheet::Sheet;
use super::source::{self, Source};
use super::uncertainty::{Plan, Trial};
use super::{co2, said, state, water};
use crate::co2::Co2;
use crate::problem::Fault;
use crate::reading::Read;
use crate::said::{Assumption, Finding, NotJudged};
use crate::source_water::SourceWater;
use crate::speciation::{DissolvedSpecies, SpeciationAnswer, SpeciationRequest};
use crate::uncertainty::Uncertainty;
use crate::water::Water;

/// What a request says of its one water.
pub(super) struct Asked<'a> {
    pub water: &'a SourceWater,
    pub temperature_c: Option<f64>,
    pub co2: Option<&'a Co2>,
    pub uncertainty: Option<&'a Uncertainty>,
    /// The whole request.
    pub value: &'a Value,
}

/// A water of a request, solved, with all that is said beside it.
pub(super) struct Solved {
    pub water: Water,
    pub state: SolvedWater,
    pub not_judged: Vec<NotJudged>,
    pub findings: Vec<Finding>,
    temperature_c: f64,
    held: Held,
    plan: Option<Plan>,
}

impl Solved {
    /// Carries the uncertainties of the sheet into the water, where that was asked. Answers the standard uncertainties
    /// of what else `more` reckons from the solved water; nothing where that was not asked.
    pub(super) fn carry(
        &mut self,
        more: impl Fn(&SolvedWater) -> Vec<f64>,
    ) -> Result<Vec<Option<f64>>, Vec<Fault>> {
        let Some(plan) = &self.plan else { return Ok(Vec::new()) };
        let trial = |sheets: &[Sheet]| {
            let moved = sheets.first().ok_or_else(Vec::new).and_then(source::of_moved)?;
            let solved = moved.solved(self.temperature_c, self.held)?;
            let more = more(&solved);
            Ok(Trial { more, ..Trial::of(solved) })
        };
        plan.carry(&mut self.water, &mut self.findings, &mut self.not_judged, trial)
    }
}

/// Reads and solves the one water of a request, or every fault of it.
pub(super) fn solve(asked: &Asked<'_>, assumptions: &mut Vec<Assumption>) -> Result<Solved, Vec<Fault>> {
    let mut findings = Vec::new();
    let (source, held, plan) = read(asked, assumptions, &mut findings)?;
    let temperature_c = asked.temperature_c.unwrap_or(source.water.temperature_c());
    let state = source.solved(temperature_c, held)?;
    findings.extend(solids::findings(state.solution.totals()).iter().map(|found| said::finding("", found)));
    findings.extend(state::findings(&state));
    let (water, not_judged) = water::solved(&state, None, Closure::default());
    Ok(Solved { water, state, not_judged, findings, temperature_c, held, plan })
}

fn read(
    asked: &Asked<'_>,
    assumptions: &mut Vec<Assumption>,
    findings: &mut Vec<Finding>,
) -> Result<(Source, Held, Option<Plan>), Vec<Fault>> {
    let mut faults = source::limits_out_of_place(asked.water, "/water");
    let source = Sheet::read(asked.water, "/water", assumptions).and_then(|sheet| {
        let source = source::of_sheet(&sheet, assumptions, findings);
        let plan = Plan::read(asked.uncertainty, &[&sheet], asked.value, assumptions, findings);
        faults::both(source, plan)
    });
    let held = co2::read(asked.co2, "/co2", assumptions);
    match (source, held) {
        (Ok((source, plan)), Ok(held)) if faults.is_empty() => Ok((source, held, plan)),
        (source, held) => {
            faults.extend(source.err().unwrap_or_default());
            faults.extend(held.err().unwrap_or_default());
            Err(faults)
        }
    }
}

/// The equilibrium of a water.
pub(super) fn answer(read: Read<SpeciationRequest>) -> Result<SpeciationAnswer, Vec<Fault>> {
    let Read { request, value, mut assumptions, .. } = read;
    let asked = Asked {
        water: &request.water,
        temperature_c: request.temperature_c,
        co2: request.co2.as_ref(),
        uncertainty: request.uncertainty.as_ref(),
        value: &value,
    };
    let mut solved = solve(&asked, &mut assumptions)?;
    said::strictly(request.strict, &assumptions)?;
    solved.carry(|_| Vec::new())?;
    let Solved { water, state, not_judged, findings, .. } = solved;
    Ok(SpeciationAnswer {
        species: species(&state),
        water_activity: state.state.water_activity(),
        osmotic_coefficient: state.state.osmotic,
        water,
        not_judged,
        assumptions,
        findings,
        cautions: said::cautions(&state.solution),
        provenance: state::provenance(&value),
    })
}

fn species(solved: &SolvedWater) -> Vec<DissolvedSpecies> {
    let water_kg_per_l = solved.solution.water_kg_per_l();
    let present = solved.state.species().filter(|(_, _, molality)| *molality > 0.0);
    present
        .map(|(id, charge, molality)| DissolvedSpecies {
            species: id.to_owned(),
            charge,
            mmol_per_kg: 1000.0 * molality,
            mmol_per_l: 1000.0 * molality * water_kg_per_l,
            activity_coefficient: solved.state.activity_coefficient(id).unwrap_or(1.0),
        })
        .collect()
}
