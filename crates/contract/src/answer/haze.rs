//! Haze between the contract and the chemistry: limits as they are asked for, verdicts as they are answered.

use springwright_chem::equilibrium::Speciation;
use springwright_chem::phases::haze::{self as chem, Haze};
use springwright_chem::phases::haze_limits::{self, Limits};
use springwright_chem::phases::saturation::Saturation;
use springwright_chem::phases::solids;
use springwright_chem::properties::SolvedWater;
use springwright_chem::sources;

use super::faults::own;
use super::saturation::solid;
use crate::haze::{HazeLimit, HazeVerdict, TimeHint, Verdict};
use crate::problem::Fault;
use crate::reading::below;

/// The limits to judge by, or every fault of what the request sets.
pub(super) fn limits(stated: Option<&[HazeLimit]>, visible: Option<f64>) -> Result<Limits, Vec<Fault>> {
    let mut limits = Limits::default();
    let mut faults = Vec::new();
    for (at, own) in stated.into_iter().flatten().enumerate() {
        match set(limits.clone(), own, &below("/haze_limits", at)) {
            Ok(changed) => limits = changed,
            Err(fault) => faults.push(fault),
        }
    }
    if let Some(mg_per_l) = visible {
        limits = limits.seen_from(mg_per_l);
    }
    if faults.is_empty() { Ok(limits) } else { Err(faults) }
}

fn set(limits: Limits, stated: &HazeLimit, pointer: &str) -> Result<Limits, Fault> {
    let named = solid(&stated.solid, &below(pointer, "solid"))?;
    if !limits.of(named).judged {
        let judged = solids::solids().iter().filter(|solid| haze_limits::of(solid).judged);
        let message = format!("haze is not judged by {}: {}", named.id, haze_limits::of(named).note);
        let fault =
            own(below(pointer, "solid"), "solid_not_judged", message, "set the limits of another solid");
        return Err(Fault { accepted: judged.map(|solid| solid.id.to_owned()).collect(), ..fault });
    }
    if stated.metastable_si > stated.clouds_si {
        let message = format!(
            "metastable_si is {}, but it clouds from {} already",
            stated.metastable_si, stated.clouds_si
        );
        let mend = "let metastable_si be no more than clouds_si";
        return Err(own(below(pointer, "metastable_si"), "bounds_crossed", message, mend));
    }
    Ok(limits.set(named, stated.metastable_si, stated.clouds_si, stated.clouds_si))
}

/// A verdict as it is answered, in a water with so many kg of water in the litre.
pub(super) fn verdict(haze: &Haze, water_kg_per_l: f64) -> HazeVerdict {
    let Saturation { solid, index, .. } = haze.saturation;
    let limit = &haze.limit;
    let set = limit.source.is_empty();
    HazeVerdict {
        solid: solid.id.to_owned(),
        formula: solid.formula.to_owned(),
        verdict: word(haze.verdict),
        why: why(haze, water_kg_per_l),
        si: index,
        si_compared: haze.divided,
        margin: haze.margin,
        precipitable_mg_per_l: haze.precipitable_mg_per_kg.map(|mass| mass * water_kg_per_l),
        undissolved_mg_per_l: haze.undissolved_mg_per_kg.map(|mass| mass * water_kg_per_l),
        cloud_possible: haze.possible,
        metastable_si: limit.metastable_from,
        possible_si: limit.possible_from,
        clouds_si: limit.clouds_from,
        confidence: if set { "set_in_request" } else { confidence(limit.confidence) }.to_owned(),
        source: (!set).then(|| cited(limit.source)),
        note: limit.note.to_owned(),
        time: haze.time.map(time),
    }
}

/// The word of a verdict.
pub(super) fn word(verdict: chem::Verdict) -> Verdict {
    match verdict {
        chem::Verdict::Undersaturated => Verdict::Undersaturated,
        chem::Verdict::Clear => Verdict::Clear,
        chem::Verdict::Dissolving => Verdict::Dissolving,
        chem::Verdict::Metastable => Verdict::Metastable,
        chem::Verdict::Clouds => Verdict::Clouds,
    }
}

/// How long a cloud takes.
pub(super) fn time(hint: &haze_limits::TimeHint) -> TimeHint {
    TimeHint {
        text: hint.time.to_owned(),
        basis: hint.basis.to_owned(),
        confidence: confidence(hint.confidence).to_owned(),
        source: cited(hint.source),
    }
}

fn confidence(letter: &str) -> &'static str {
    match letter {
        "V" => "checked",
        "C" => "computed",
        _ => "from_memory",
    }
}

/// The citations of keys that stand in one cell.
pub(super) fn cited(keys: &str) -> String {
    let citations: Vec<&str> =
        keys.split("; ").map(sources::citation).filter(|one| !one.is_empty()).collect();
    citations.join("; ")
}

/// Why the verdict is what it is.
fn why(haze: &Haze, water_kg_per_l: f64) -> String {
    let limit = &haze.limit;
    let name = words(haze.saturation.solid.id);
    let index = if limit.divide == 1.0 {
        format!("its index {:.2}", haze.divided)
    } else {
        format!("its index {:.2} over {} ions, {:.2},", haze.saturation.index, limit.divide, haze.divided)
    };
    let falls = haze.precipitable_mg_per_kg.map(|mass| mass * water_kg_per_l);
    let mass = |value: f64| if value < 10.0 { format!("{value:.2}") } else { format!("{value:.0}") };
    match (haze.verdict, falls) {
        (chem::Verdict::Undersaturated | chem::Verdict::Clear, Some(falls)) => {
            format!("{name}: {index} is past a limit, but only {} mg/L fall, less than is seen", mass(falls))
        }
        (chem::Verdict::Undersaturated, None) => {
            format!("{name}: {index} is below 0, more of it would dissolve")
        }
        (chem::Verdict::Clear, None) => {
            format!("{name}: {index} stays below {}, from which it may turn", limit.metastable_from)
        }
        (chem::Verdict::Dissolving, _) => {
            let left = haze.undissolved_mg_per_kg.unwrap_or(0.0) * water_kg_per_l;
            match left > 0.0 {
                true => format!("{name}: powder of it lies in the water, of which {} mg/L stay", mass(left)),
                false => format!("{name}: powder of it lies in the water, and all of it will dissolve"),
            }
        }
        (chem::Verdict::Metastable, falls) => format!(
            "{name}: {index} is past {} and below {}, {} mg/L fall in time",
            limit.metastable_from,
            limit.clouds_from,
            mass(falls.unwrap_or(0.0))
        ),
        (chem::Verdict::Clouds, falls) => {
            format!("{name}: {index} is past {}, {} mg/L fall", limit.clouds_from, mass(falls.unwrap_or(0.0)))
        }
    }
}

/// An id in words.
pub(super) fn words(id: &str) -> String {
    id.replace('_', " ")
}

/// The verdict on each solid of a water by the tabulated limits; none for a solid that haze is not judged by, and for
/// no solid where the search ended.
pub(super) fn verdicts(water: &SolvedWater) -> impl Fn(&str) -> Option<Verdict> + use<> {
    verdicts_of(water, &water.state)
}

/// The same in another state of the water.
pub(super) fn verdicts_of(
    water: &SolvedWater,
    state: &Speciation,
) -> impl Fn(&str) -> Option<Verdict> + use<> {
    let judged = water.haze_in(state, &[], &Limits::default()).ok();
    move |id| judged.as_ref()?.of(id).map(|haze| word(haze.verdict))
}
