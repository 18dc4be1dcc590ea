//! Answers `mixture`.

use springwright_chem::composition::closure::Closure;
use springwright_chem::composition::mixing::mix;
use springwright_chem::composition::solids;
use springwright_chem::composition::state::Solution;
use springwright_chem::properties::Held;

use super::faults::{fault, own};
use super::source::{self, Source};
use super::{co2, said, state};
use crate::mixture::{MixtureAnswer, MixturePart, MixtureRequest};
use crate::problem::Fault;
use crate::reading::{Read, below};
use crate::said::{Assumption, Finding};

/// Temperature of the finished water where the request does not say, °C.
pub(super) const USUAL_TEMPERATURE_C: f64 = 20.0;

/// The water that results when waters are poured together.
pub(super) fn answer(read: Read<MixtureRequest>) -> Result<MixtureAnswer, Vec<Fault>> {
    let Read { request, value, mut assumptions, .. } = read;
    let (mut parts, mut findings, mut faults) = (Vec::new(), Vec::new(), Vec::new());
    for (at, part) in request.parts.iter().enumerate() {
        let pointer = below("/parts", at);
        match read_part(part, &pointer, &mut assumptions, &mut findings) {
            Ok(read) => parts.push(read),
            Err(own) => faults.extend(own),
        }
    }
    let held = co2::read(request.co2.as_ref(), "/co2", &mut assumptions).unwrap_or_else(|own| {
        faults.extend(own);
        Held::Closed
    });
    if !faults.is_empty() {
        return Err(faults);
    }
    let temperature_c = temperature(request.temperature_c, &mut assumptions);
    let pairs: Vec<_> = parts.iter().map(|(kg, source)| (*kg, source.water.totals())).collect();
    let whole = |error| vec![fault("/parts", &error)];
    let mixed = mix(&pairs).and_then(|totals| Solution::new(totals, temperature_c)).map_err(whole)?;
    said::strictly(request.strict, &assumptions)?;
    let water_kg: f64 = pairs.iter().map(|(kg, _)| kg).sum();
    let closure = Closure::of(&pairs, water_kg, mixed.totals());
    let volume_l = |water: &Solution| Some(water_kg / water.water_kg_per_l());
    let unsolved = parts.iter().find_map(|(_, source)| source.unsolved.as_ref());
    let answered = state::answered(&mixed, volume_l, held, closure, unsolved)?;
    findings.extend(solids::findings(mixed.totals()).iter().map(|found| said::finding("", found)));
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

/// One part: kg of its water (of H2O), and the water.
fn read_part(
    part: &MixturePart,
    pointer: &str,
    assumptions: &mut Vec<Assumption>,
    findings: &mut Vec<Finding>,
) -> Result<(f64, Source), Vec<Fault>> {
    let amount = match (part.volume_l, part.mass_kg) {
        (Some(_), Some(_)) => Err(own(
            pointer,
            "amount_stated_twice",
            "volume_l and mass_kg are both stated",
            "state one of them",
        )),
        (None, None) => {
            Err(own(pointer, "field_missing", "neither volume_l nor mass_kg is stated", "state one of them"))
        }
        one => Ok(one),
    };
    let limits = source::limits_out_of_place(&part.water, &below(pointer, "water"));
    let source = source::read(&part.water, &below(pointer, "water"), assumptions, findings);
    let (source, amount) = match (source, amount) {
        (Ok(source), Ok(amount)) if limits.is_empty() => (source, amount),
        (source, amount) => {
            let mut faults = limits;
            faults.extend(source.err().unwrap_or_default());
            faults.extend(amount.err());
            return Err(faults);
        }
    };
    let kg = match amount {
        (Some(volume_l), _) => volume_l * source.water.water_kg_per_l(),
        (None, mass_kg) => {
            mass_kg.unwrap_or(0.0) * source.water.water_kg_per_l() / source.water.density_kg_per_l()
        }
    };
    Ok((kg, source))
}
