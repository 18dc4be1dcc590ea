//! Reads what is asked of a life: every fault of parts, stages and limits at once.

use springwright_chem::equilibrium::carbonation::CarbonDioxide;
use springwright_chem::properties::Held;
use springwright_chem::properties::life_path::{Doing, LifePathError, Stage, out_of_order};

use super::Asked;
use crate::answer::faults::{both, fault, out_of_place, own};
use crate::answer::mixture::{self, pour};
use crate::answer::{co2, haze, said};
use crate::co2::{Co2, Co2State};
use crate::life_path::{LifePathRequest, LifeStage, LifeStageKind};
use crate::problem::Fault;
use crate::reading::below;
use crate::said::{Assumption, Finding};

/// Warmest stage but a kettle, °C: so far the litre of a water is known.
const WARMEST_C: f64 = 60.0;
/// States of the carbon dioxide to which a water is carbonated.
const WANTED: [(&str, Co2State); 4] = [
    ("volumes", Co2State::Volumes),
    ("dissolved", Co2State::Dissolved),
    ("keg", Co2State::Keg),
    ("partial_pressure", Co2State::PartialPressure),
];

/// What is asked, or every fault of it.
pub(super) fn asked<'a>(
    request: &'a LifePathRequest,
    assumptions: &mut Vec<Assumption>,
    findings: &mut Vec<Finding>,
) -> Result<Asked<'a>, Vec<Fault>> {
    let parts = mixture::parts(&request.parts, assumptions, findings);
    let celsius = mixture::temperature(request.temperature_c, assumptions);
    let altitude_m = altitude(request, assumptions);
    let stages = stages(&request.stages, celsius, altitude_m);
    let limits = haze::limits(request.haze_limits.as_deref(), request.visible_mg_per_l);
    let ((parts, stages), limits) = both(both(parts, stages), limits)?;
    let pairs: Vec<_> = parts.iter().map(|part| (part.amount, &part.source)).collect();
    let poured = pour(&pairs, celsius)?;
    Ok(Asked { request, parts, poured, stages, limits, altitude_m })
}

fn altitude(request: &LifePathRequest, assumptions: &mut Vec<Assumption>) -> f64 {
    request.altitude_m.unwrap_or_else(|| {
        assumptions.push(said::assumed(
            "altitude_assumed",
            "/altitude_m",
            "The air presses as at sea level.",
            "At 1000 m a gauge shows 0.11 bar more over the same water, and an open water holds a ninth less carbon dioxide.",
        ));
        0.0
    })
}

/// The stages, the mixing first, or every fault of them.
fn stages(stated: &[LifeStage], mixed_c: f64, altitude_m: f64) -> Result<Vec<Stage>, Vec<Fault>> {
    let mut faults = Vec::new();
    let mut celsius = mixed_c;
    let mut stages = vec![Stage { doing: Doing::Mixed, celsius }];
    for (at, stage) in stated.iter().enumerate() {
        let pointer = below("/stages", at);
        celsius = stage.temperature_c.unwrap_or(celsius);
        if stage.stage != LifeStageKind::Kettle && celsius > WARMEST_C {
            faults.push(too_warm(stage, &pointer, celsius));
        }
        faults.extend(misplaced(stage, &pointer));
        match doing(stage, &pointer, altitude_m) {
            Ok(doing) => stages.push(Stage { doing, celsius }),
            Err(own) => {
                faults.extend(own);
                // stands in, so that the stages after it are read at their place
                stages.push(Stage { doing: Doing::Flat, celsius });
            }
        }
    }
    if faults.is_empty() {
        faults.extend(out_of_order(&stages).iter().map(in_order));
    }
    if faults.is_empty() { Ok(stages) } else { Err(faults) }
}

fn in_order(error: &LifePathError) -> Fault {
    let stage = error.stage().and_then(|stage| stage.checked_sub(1)).unwrap_or_default();
    fault(below(&below("/stages", stage), "stage"), error)
}

fn too_warm(stage: &LifeStage, pointer: &str, celsius: f64) -> Fault {
    let message =
        format!("at {celsius} °C the litre of a water is not known: the model ends at {WARMEST_C} °C");
    let mend = "state a temperature of at most 60 °C, or heat it in a kettle, which reaches 95 °C";
    let place =
        if stage.temperature_c.is_some() { below(pointer, "temperature_c") } else { pointer.to_owned() };
    own(place, "out_of_range", message, mend)
}

/// Fields that a stage does not take.
fn misplaced(stage: &LifeStage, pointer: &str) -> Vec<Fault> {
    use LifeStageKind as K;
    let mut wrong = Vec::new();
    if stage.co2.is_some() && stage.stage != K::Carbonated {
        wrong.push("co2");
    }
    if stage.headspace_percent.is_some() && stage.stage != K::Bottled {
        wrong.push("headspace_percent");
    }
    wrong.into_iter().map(|field| out_of_place(&below(pointer, field), field, "this stage")).collect()
}

fn doing(stage: &LifeStage, pointer: &str, altitude_m: f64) -> Result<Doing, Vec<Fault>> {
    let missing = |field: &str| {
        let message = format!("this stage needs {field}");
        vec![own(below(pointer, field), "field_missing", message, "state it")]
    };
    match stage.stage {
        LifeStageKind::Carbonated => match &stage.co2 {
            Some(wanted) => carbonated(wanted, &below(pointer, "co2"), altitude_m),
            None => Err(missing("co2")),
        },
        LifeStageKind::Bottled => match stage.headspace_percent {
            Some(headspace_percent) => Ok(Doing::Bottled { headspace_percent }),
            None => Err(missing("headspace_percent")),
        },
        LifeStageKind::Stands => Ok(Doing::Stands),
        LifeStageKind::Opened => Ok(Doing::Opened),
        LifeStageKind::Flat => Ok(Doing::Flat),
        LifeStageKind::Kettle => Ok(Doing::Kettle),
    }
}

/// The state to which a water is carbonated.
fn carbonated(wanted: &Co2, pointer: &str, altitude_m: f64) -> Result<Doing, Vec<Fault>> {
    if !WANTED.iter().any(|(_, state)| *state == wanted.state) {
        let message = "a water is carbonated to what it is to hold, or under a gas";
        let accepted = WANTED.iter().map(|(word, _)| (*word).to_owned()).collect();
        let mend = "state one of these; what happens to it afterwards is a stage of its own";
        return Err(vec![Fault { accepted, ..own(below(pointer, "state"), "co2_not_held", message, mend) }]);
    }
    let mut faults: Vec<Fault> = [("temperature_c", wanted.temperature_c), ("altitude_m", wanted.altitude_m)]
        .into_iter()
        .filter(|(_, value)| value.is_some())
        .map(|(field, _)| {
            let message = format!("{field} stands here, but it is that of the stage or of the whole life");
            own(below(pointer, field), "field_out_of_place", message, "leave it out here, and state it there")
        })
        .collect();
    let plain = Co2 { temperature_c: None, altitude_m: Some(altitude_m), ..wanted.clone() };
    let plain = if wanted.state == Co2State::Keg { plain } else { Co2 { altitude_m: None, ..plain } };
    match co2::read(Some(&plain), pointer, &mut Vec::new()) {
        Ok(Held::Here(co2)) if faults.is_empty() => Ok(Doing::Carbonated(co2)),
        Ok(Held::Closed) if faults.is_empty() => {
            Ok(Doing::Carbonated(CarbonDioxide::Volumes { volumes: 0.0 }))
        }
        read => {
            faults.extend(read.err().unwrap_or_default());
            Err(faults)
        }
    }
}
