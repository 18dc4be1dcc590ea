//! Answers `speciation`.

use springwright_chem::composition::closure::Closure;
use springwright_chem::composition::solids;
use springwright_chem::properties::SolvedWater;

use super::source::{self, Source};
use super::{co2, said, state, water};
use crate::co2::Co2;
use crate::problem::Fault;
use crate::reading::Read;
use crate::said::{Assumption, Finding, NotJudged};
use crate::source_water::SourceWater;
use crate::speciation::{DissolvedSpecies, SpeciationAnswer, SpeciationRequest};
use crate::water::Water;

/// A water of a request, solved, with all that is said beside it.
pub(super) struct Solved {
    pub water: Water,
    pub state: SolvedWater,
    pub not_judged: Vec<NotJudged>,
    pub findings: Vec<Finding>,
}

/// Reads and solves the one water of a request, or every fault of it.
pub(super) fn solve(
    stated: &SourceWater,
    temperature_c: Option<f64>,
    co2: Option<&Co2>,
    assumptions: &mut Vec<Assumption>,
) -> Result<Solved, Vec<Fault>> {
    let mut findings = Vec::new();
    let (source, held) = read(stated, co2, assumptions, &mut findings)?;
    let temperature_c = temperature_c.unwrap_or(source.water.temperature_c());
    let solved = source.solved(temperature_c, held)?;
    findings.extend(solids::findings(solved.solution.totals()).iter().map(|found| said::finding("", found)));
    findings.extend(state::findings(&solved));
    let (water, not_judged) = water::solved(&solved, None, Closure::default());
    Ok(Solved { water, state: solved, not_judged, findings })
}

fn read(
    stated: &SourceWater,
    co2: Option<&Co2>,
    assumptions: &mut Vec<Assumption>,
    findings: &mut Vec<Finding>,
) -> Result<(Source, springwright_chem::properties::Held), Vec<Fault>> {
    let mut faults = source::limits_out_of_place(stated, "/water");
    let source = source::read(stated, "/water", assumptions, findings);
    let held = co2::read(co2, "/co2", assumptions);
    match (source, held) {
        (Ok(source), Ok(held)) if faults.is_empty() => Ok((source, held)),
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
    let solved = solve(&request.water, request.temperature_c, request.co2.as_ref(), &mut assumptions)?;
    said::strictly(request.strict, &assumptions)?;
    let Solved { water, state, not_judged, findings } = solved;
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
