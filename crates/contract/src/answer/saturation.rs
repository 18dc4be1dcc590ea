//! Answers `saturation`.

use springwright_chem::equilibrium::Speciation;
use springwright_chem::phases::saturation::{self, Saturation};
use springwright_chem::phases::solids::{self, Solid};
use springwright_chem::properties::SolvedWater;
use springwright_chem::sources;

use super::faults::{fault, own};
use super::speciation::{Solved, solve};
use super::{said, state};
use crate::problem::Fault;
use crate::reading::{Read, below};
use crate::said::NotJudged;
use crate::saturation::{SaturationAnswer, SaturationAt, SaturationRequest, SolidSaturation};

/// How far a water stands from the solids that it could make.
pub(super) fn answer(read: Read<SaturationRequest>) -> Result<SaturationAnswer, Vec<Fault>> {
    let Read { request, value, mut assumptions, .. } = read;
    let asked = asked(request.solids.as_deref());
    let solved = solve(&request.water, request.temperature_c, request.co2.as_ref(), &mut assumptions);
    let (asked, solved) = match (asked, solved) {
        (Ok(asked), Ok(solved)) => (asked, solved),
        (asked, solved) => {
            return Err([asked.err(), solved.err()].into_iter().flatten().flatten().collect());
        }
    };
    let Solved { water, state, mut not_judged, findings } = solved;
    let mut at_temperatures = Vec::new();
    for (at, celsius) in request.temperatures_c.iter().flatten().enumerate() {
        at_temperatures.push(elsewhere(&state, *celsius, &asked, &below("/temperatures_c", at))?);
    }
    said::strictly(request.strict, &assumptions)?;
    let found = indices(&state, &state.state, &asked);
    not_judged.extend(missing(request.solids.as_deref(), &found));
    Ok(SaturationAnswer {
        water,
        saturation: found,
        at_temperatures,
        not_judged,
        assumptions,
        findings,
        cautions: said::cautions(&state.solution),
        provenance: state::provenance(&value),
    })
}

/// The solids that are asked for, or every name that is none.
fn asked(names: Option<&[String]>) -> Result<Vec<&'static Solid>, Vec<Fault>> {
    let Some(names) = names else { return Ok(solids::solids().iter().collect()) };
    let (mut found, mut faults) = (Vec::new(), Vec::new());
    for (at, name) in names.iter().enumerate() {
        match solid(name, &below("/solids", at)) {
            Ok(solid) => found.push(solid),
            Err(own) => faults.push(own),
        }
    }
    if faults.is_empty() { Ok(found) } else { Err(faults) }
}

/// A solid by its id.
pub(super) fn solid(name: &str, pointer: &str) -> Result<&'static Solid, Fault> {
    solids::find(name).ok_or_else(|| {
        let ids = || solids::solids().iter().map(|solid| solid.id);
        let mend = super::nearest(name, ids())
            .map_or_else(|| "use an id such as calcite".to_owned(), |near| format!("did you mean '{near}'?"));
        Fault {
            accepted: ids().map(str::to_owned).collect(),
            ..own(pointer, "solid_unknown", format!("'{name}' is no solid of the model"), &mend)
        }
    })
}

fn indices(water: &SolvedWater, state: &Speciation, asked: &[&'static Solid]) -> Vec<SolidSaturation> {
    let known = asked.iter().filter(|solid| water.states_parts_of(solid));
    let found = known.filter_map(|solid| saturation::of(state, solid));
    found.map(|one| index(&one, state.celsius())).collect()
}

fn index(one: &Saturation, celsius: f64) -> SolidSaturation {
    SolidSaturation {
        solid: one.solid.id.to_owned(),
        formula: one.solid.formula.to_owned(),
        si: one.index,
        si_per_ion: one.per_ion,
        log_k: one.solid.log_k_at(celsius),
        log_k_uncertainty: one.uncertainty,
        measured: one.measured,
        source: sources::citation(one.solid.source).to_owned(),
    }
}

/// The same water, closed, at another temperature.
fn elsewhere(
    water: &SolvedWater,
    celsius: f64,
    asked: &[&'static Solid],
    pointer: &str,
) -> Result<SaturationAt, Vec<Fault>> {
    let state = water.closed_at(celsius).map_err(|error| vec![fault(pointer, &error)])?;
    Ok(SaturationAt { temperature_c: celsius, ph: state.ph, saturation: indices(water, &state, asked) })
}

/// Solids that were asked for by name and whose parts are not all in the water.
fn missing(names: Option<&[String]>, found: &[SolidSaturation]) -> Vec<NotJudged> {
    let absent = |name: &&String| found.iter().all(|one| one.solid != **name);
    let entry = |name: &String| NotJudged {
        what: name.clone(),
        why: "a part of it is not in the water, or stands on no sheet".to_owned(),
    };
    names.into_iter().flatten().filter(absent).map(entry).collect()
}
