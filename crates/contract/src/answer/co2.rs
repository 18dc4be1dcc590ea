//! How the carbon dioxide of a water is held, as the chemistry takes it.

use springwright_chem::equilibrium::carbonation::CarbonDioxide;
use springwright_chem::properties::Held;

use super::faults::{out_of_place, own};
use super::said::assumed;
use crate::co2::{Co2, Co2State};
use crate::problem::Fault;
use crate::reading::below;
use crate::said::Assumption;

/// Reads the state of the carbon dioxide; closed where nothing is stated.
pub(super) fn read(
    stated: Option<&Co2>,
    pointer: &str,
    assumptions: &mut Vec<Assumption>,
) -> Result<Held, Vec<Fault>> {
    let Some(co2) = stated else { return Ok(Held::Closed) };
    let mut faults: Vec<Fault> = misplaced(co2, pointer);
    let mut needed = |field: &str, value: Option<f64>| {
        if value.is_none() {
            let message = format!("this state of the carbon dioxide needs {field}");
            faults.push(own(below(pointer, field), "field_missing", message, "state it"));
        }
        value.unwrap_or_default()
    };
    let held = match co2.state {
        Co2State::Closed => Held::Closed,
        Co2State::OpenToAir => Held::Here(CarbonDioxide::OpenToAir { altitude_m: 0.0 }),
        Co2State::PartialPressure => {
            Held::Here(CarbonDioxide::PartialPressure { pco2_bar: needed("pco2_bar", co2.pco2_bar) })
        }
        Co2State::Volumes => Held::Here(CarbonDioxide::Volumes { volumes: needed("volumes", co2.volumes) }),
        Co2State::Dissolved => {
            Held::Here(CarbonDioxide::Dissolved { grams_per_l: needed("grams_per_l", co2.grams_per_l) })
        }
        Co2State::Keg => {
            let gauge_bar = needed("gauge_bar", co2.gauge_bar);
            Held::Here(CarbonDioxide::Keg { gauge_bar, altitude_m: 0.0 })
        }
        Co2State::Bottle => Held::Bottle(needed("headspace_percent", co2.headspace_percent)),
    };
    if !faults.is_empty() {
        return Err(faults);
    }
    Ok(placed(held, co2, pointer, assumptions))
}

/// The state at its height above the sea and its own temperature.
fn placed(held: Held, co2: &Co2, pointer: &str, assumptions: &mut Vec<Assumption>) -> Held {
    let mut altitude = || {
        co2.altitude_m.unwrap_or_else(|| {
            assumptions.push(assumed(
                "altitude_assumed",
                below(pointer, "altitude_m"),
                "The air presses as at sea level.",
                "At 1000 m a keg at the same gauge pressure holds 0.11 bar less.",
            ));
            0.0
        })
    };
    let here = match held {
        Held::Here(CarbonDioxide::OpenToAir { .. }) => CarbonDioxide::OpenToAir { altitude_m: altitude() },
        Held::Here(CarbonDioxide::Keg { gauge_bar, .. }) => {
            CarbonDioxide::Keg { gauge_bar, altitude_m: altitude() }
        }
        Held::Here(other) => other,
        other => return other,
    };
    co2.temperature_c.map_or(Held::Here(here), |celsius| Held::Elsewhere(here, celsius))
}

/// Fields that the state does not take.
fn misplaced(co2: &Co2, pointer: &str) -> Vec<Fault> {
    use Co2State as S;
    let fields = [
        ("pco2_bar", co2.pco2_bar, &[S::PartialPressure][..]),
        ("volumes", co2.volumes, &[S::Volumes]),
        ("grams_per_l", co2.grams_per_l, &[S::Dissolved]),
        ("gauge_bar", co2.gauge_bar, &[S::Keg]),
        ("temperature_c", co2.temperature_c, &[S::Keg]),
        ("altitude_m", co2.altitude_m, &[S::Keg, S::OpenToAir]),
        ("headspace_percent", co2.headspace_percent, &[S::Bottle]),
    ];
    let wrong = fields.into_iter().filter(|(_, value, takes)| value.is_some() && !takes.contains(&co2.state));
    wrong
        .map(|(field, ..)| out_of_place(&below(pointer, field), field, "this state of the carbon dioxide"))
        .collect()
}
