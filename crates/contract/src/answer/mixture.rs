//! Answers `mixture`.

use springwright_chem::composition::closure::Closure;
use springwright_chem::composition::mixing::mix;
use springwright_chem::composition::solids;
use springwright_chem::composition::state::Solution;

use super::faults::{both, fault, own};
use super::sheet::Sheet;
use super::source::{self, Source};
use super::state::{self, Answered};
use super::uncertainty::{Plan, Trial};
use super::{co2, said};
use crate::mixture::{MixtureAnswer, MixturePart, MixtureRequest};
use crate::problem::Fault;
use crate::reading::{Read, below};
use crate::said::{Assumption, Finding};

/// Temperature of the finished water where the request does not say, °C.
pub(super) const USUAL_TEMPERATURE_C: f64 = 20.0;

/// The water that results when waters are poured together.
pub(super) fn answer(read: Read<MixtureRequest>) -> Result<MixtureAnswer, Vec<Fault>> {
    let Read { request, value, mut assumptions, .. } = read;
    let mut findings = Vec::new();
    let parts = parts(&request.parts, &mut assumptions, &mut findings);
    let plan = parts.and_then(|parts| {
        let sheets: Vec<_> = parts.iter().map(|part| &part.sheet).collect();
        let asked = request.uncertainty.as_ref();
        Plan::read(asked, &sheets, &value, &mut assumptions, &mut findings).map(|plan| (parts, plan))
    });
    let held = co2::read(request.co2.as_ref(), "/co2", &mut assumptions);
    let ((parts, plan), held) = both(plan, held)?;
    let temperature_c = temperature(request.temperature_c, &mut assumptions);
    let poured: Vec<(Amount, &Source)> = parts.iter().map(|part| (part.amount, &part.source)).collect();
    let Poured { mixed, water_kg, closure } = pour(&poured, temperature_c)?;
    said::strictly(request.strict, &assumptions)?;
    let volume_l = |water: &Solution| Some(water_kg / water.water_kg_per_l());
    let unsolved = parts.iter().find_map(|part| part.source.unsolved.as_ref());
    let mut answered = state::answered(&mixed, volume_l, held, closure, unsolved)?;
    findings.extend(solids::findings(mixed.totals()).iter().map(|found| said::finding("", found)));
    if let Some(plan) = plan {
        let Answered { water, not_judged, .. } = &mut answered;
        plan.carry(water, &mut findings, not_judged, |sheets| {
            let sources: Vec<Source> = sheets.iter().map(source::of_moved).collect::<Result<_, _>>()?;
            let poured: Vec<_> = parts.iter().map(|part| part.amount).zip(&sources).collect();
            Ok(Trial::held(&pour(&poured, temperature_c)?.mixed, held))
        })?;
    }
    let provenance = answered.provenance(&value);
    findings.extend(answered.findings);
    Ok(MixtureAnswer {
        water: answered.water,
        not_judged: answered.not_judged,
        assumptions,
        findings,
        cautions: said::cautions(&mixed),
        provenance,
    })
}

/// How much is poured of a water.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Amount {
    Litres(f64),
    Kilograms(f64),
}

/// A water that is poured.
pub(super) struct Part {
    pub(super) amount: Amount,
    pub(super) sheet: Sheet,
    pub(super) source: Source,
}

/// Every part of the request, or every fault of them.
pub(super) fn parts(
    stated: &[MixturePart],
    assumptions: &mut Vec<Assumption>,
    findings: &mut Vec<Finding>,
) -> Result<Vec<Part>, Vec<Fault>> {
    let (mut parts, mut faults) = (Vec::new(), Vec::new());
    for (at, part) in stated.iter().enumerate() {
        match read_part(part, &below("/parts", at), assumptions, findings) {
            Ok(read) => parts.push(read),
            Err(own) => faults.extend(own),
        }
    }
    if faults.is_empty() { Ok(parts) } else { Err(faults) }
}

/// What results of pouring.
pub(super) struct Poured {
    pub(super) mixed: Solution,
    pub(super) water_kg: f64,
    pub(super) closure: Closure,
}

/// The water that results, at a temperature in °C.
pub(super) fn pour(parts: &[(Amount, &Source)], temperature_c: f64) -> Result<Poured, Vec<Fault>> {
    let kg = |(amount, source): &(Amount, &Source)| match amount {
        Amount::Litres(volume_l) => volume_l * source.water.water_kg_per_l(),
        Amount::Kilograms(mass_kg) => {
            mass_kg * source.water.water_kg_per_l() / source.water.density_kg_per_l()
        }
    };
    let pairs: Vec<_> = parts.iter().map(|part| (kg(part), part.1.water.totals())).collect();
    let whole = |error| vec![fault("/parts", &error)];
    let mixed = mix(&pairs).and_then(|totals| Solution::new(totals, temperature_c)).map_err(whole)?;
    let water_kg: f64 = pairs.iter().map(|(kg, _)| kg).sum();
    let closure = Closure::of(&pairs, water_kg, mixed.totals());
    Ok(Poured { mixed, water_kg, closure })
}

/// Temperature of the finished water, or the assumption that it is 20 °C.
pub(super) fn temperature(stated: Option<f64>, assumptions: &mut Vec<Assumption>) -> f64 {
    stated.unwrap_or_else(|| {
        assumptions.push(said::assumed(
            "temperature_assumed",
            "/temperature_c",
            format!("The finished water is taken at {USUAL_TEMPERATURE_C} °C."),
            "A litre at 4 °C holds 0.18 % more, at 30 °C 0.26 % less.",
        ));
        USUAL_TEMPERATURE_C
    })
}

/// One part: how much, and of which water.
fn read_part(
    part: &MixturePart,
    pointer: &str,
    assumptions: &mut Vec<Assumption>,
    findings: &mut Vec<Finding>,
) -> Result<Part, Vec<Fault>> {
    let fault = |code, message| Err(vec![own(pointer, code, message, "state one of them")]);
    let amount = match (part.volume_l, part.mass_kg) {
        (Some(volume_l), None) => Ok(Amount::Litres(volume_l)),
        (None, Some(mass_kg)) => Ok(Amount::Kilograms(mass_kg)),
        (Some(_), Some(_)) => fault("amount_stated_twice", "volume_l and mass_kg are both stated"),
        (None, None) => fault("field_missing", "neither volume_l nor mass_kg is stated"),
    };
    let at = below(pointer, "water");
    let limits = source::limits_out_of_place(&part.water, &at);
    let limits = if limits.is_empty() { Ok(()) } else { Err(limits) };
    let water = Sheet::read(&part.water, &at, assumptions).and_then(|sheet| {
        let source = source::of_sheet(&sheet, assumptions, findings)?;
        Ok((sheet, source))
    });
    let (((), (sheet, source)), amount) = both(both(limits, water), amount)?;
    Ok(Part { amount, sheet, source })
}
