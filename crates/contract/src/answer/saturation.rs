//! Answers `saturation`.

use springwright_chem::equilibrium::Speciation;
use springwright_chem::phases::saturation::{self, Saturation};
use springwright_chem::phases::solids::{self, Solid};
use springwright_chem::properties::SolvedWater;
use springwright_chem::sources;

use super::faults::{both, fault, own};
use super::speciation::{Asked, Solved, solve};
use super::{haze, said, state, uncertainty};
use crate::problem::Fault;
use crate::reading::{Read, below};
use crate::said::NotJudged;
use crate::saturation::{SaturationAnswer, SaturationAt, SaturationRequest, SolidSaturation};

/// How far a water stands from the solids that it could make.
pub(super) fn answer(read: Read<SaturationRequest>) -> Result<SaturationAnswer, Vec<Fault>> {
    let Read { request, value, mut assumptions, .. } = read;
    let one = Asked {
        water: &request.water,
        temperature_c: request.temperature_c,
        co2: request.co2.as_ref(),
        uncertainty: request.uncertainty.as_ref(),
        value: &value,
    };
    let (asked, mut solved) = both(asked(request.solids.as_deref()), solve(&one, &mut assumptions))?;
    let temperatures = request.temperatures_c.as_deref().unwrap_or_default();
    let mut at_temperatures = Vec::new();
    for (at, celsius) in temperatures.iter().enumerate() {
        at_temperatures.push(elsewhere(&solved.state, *celsius, &asked, &below("/temperatures_c", at))?);
    }
    said::strictly(request.strict, &assumptions)?;
    let mut found = indices(&solved.state, &solved.state.state, &asked);
    let mut known = solved.carry(|water| figures(water, temperatures, &asked))?.into_iter();
    told(&mut found, &asked, &mut known);
    for there in &mut at_temperatures {
        there.ph_uncertainty = known.next().flatten().map(|u| uncertainty::of_ph(u, &solved.water));
        told(&mut there.saturation, &asked, &mut known);
    }
    let Solved { water, state, mut not_judged, findings, .. } = solved;
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
    let verdict = haze::verdicts_of(water, state);
    found
        .map(|one| SolidSaturation { verdict: verdict(one.solid.id), ..index(&one, state.celsius()) })
        .collect()
}

fn index(one: &Saturation, celsius: f64) -> SolidSaturation {
    SolidSaturation {
        solid: one.solid.id.to_owned(),
        formula: one.solid.formula.to_owned(),
        si: one.index,
        si_per_ion: one.per_ion,
        verdict: None,
        log_k: one.solid.log_k_at(celsius),
        log_k_uncertainty: one.uncertainty,
        si_uncertainty: None,
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
    let saturation = indices(water, &state, asked);
    Ok(SaturationAt { temperature_c: celsius, ph: state.ph, ph_uncertainty: None, saturation })
}

/// Every index that is asked for, here, and after the pH at each further temperature; no number where there is none.
fn figures(water: &SolvedWater, temperatures: &[f64], asked: &[&'static Solid]) -> Vec<f64> {
    let of = |state: Option<&Speciation>| {
        let index = move |solid: &&'static Solid| {
            state.and_then(|state| saturation::of(state, solid)).map_or(f64::NAN, |one| one.index)
        };
        asked.iter().map(index).collect::<Vec<_>>()
    };
    let there = temperatures.iter().flat_map(|celsius| {
        let state = water.closed_at(*celsius).ok();
        let ph = state.as_ref().map_or(f64::NAN, |state| state.ph);
        core::iter::once(ph).chain(of(state.as_ref())).collect::<Vec<_>>()
    });
    of(Some(&water.state)).into_iter().chain(there).collect()
}

/// Puts the uncertainties of the indices that are asked for beside them, that of the constant combined in.
fn told(
    rows: &mut [SolidSaturation],
    asked: &[&'static Solid],
    known: &mut impl Iterator<Item = Option<f64>>,
) {
    for (solid, u) in asked.iter().zip(known) {
        let row = rows.iter_mut().find(|row| row.solid == solid.id);
        if let (Some(row), Some(u)) = (row, u) {
            row.si_uncertainty = Some(uncertainty::together(u, row.log_k_uncertainty));
        }
    }
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
