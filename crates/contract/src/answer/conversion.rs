//! Answers `conversion`.

use springwright_chem::matter::component::Component;
use springwright_chem::quantity::conversion::restate;
use springwright_chem::quantity::{self as chem, Basis, Solution, Subject, Unit};

use super::amounts;
use super::digest::provenance;
use super::faults::fault;
use super::said;
use crate::conversion::{ConversionAnswer, ConversionRequest};
use crate::measured::Measured;
use crate::problem::Fault;
use crate::reading::Read;

/// One amount in another unit or basis.
pub(super) fn answer(read: Read<ConversionRequest>) -> Result<ConversionAnswer, Vec<Fault>> {
    let Read { request, value, assumptions, .. } = read;
    let mut faults = Vec::new();
    let mut keep = |result: Result<Subject, Fault>| result.map_err(|own| faults.push(own)).ok();
    let subject = keep(subject(request.of.as_deref()));
    let measured = amounts::measured(&request.measured, "/measured").map_err(|own| faults.extend(own)).ok();
    let unit = Unit::read(&request.unit).map_err(|error| faults.push(fault("/unit", &error))).ok();
    let basis = request.basis.as_deref().map(Basis::read).transpose();
    let basis = basis.map_err(|error| faults.push(fault("/basis", &error))).ok();
    let solution = Solution::new(request.density_kg_per_l, request.water_kg_per_l);
    let solution = solution.map_err(|error| faults.push(fault("/water_kg_per_l", &error))).ok();
    let (Some(subject), Some(measured), Some(unit), Some(basis), Some(solution)) =
        (subject, measured, unit, basis, solution)
    else {
        return Err(faults);
    };
    let converted = restate(&measured, &subject, unit, basis.as_ref(), &solution)
        .map_err(|error| vec![fault("", &error)])?;
    said::strictly(request.strict, &assumptions)?;
    Ok(ConversionAnswer {
        measured: amounts::stated(&converted),
        equivalents: equivalents(&measured, &subject, &solution),
        assumptions,
        provenance: provenance("conversion", &value),
    })
}

/// What an amount is of; left out where the unit alone decides.
fn subject(of: Option<&str>) -> Result<Subject, Fault> {
    let Some(of) = of else { return Ok(Subject::Plain) };
    Subject::read(of).map_err(|error| fault("/of", &error))
}

/// The same amount in the other units and bases in which people state it; those that need something unknown are
/// left out.
fn equivalents(measured: &chem::Measured, subject: &Subject, solution: &Solution) -> Vec<Measured> {
    let mut ways: Vec<(Unit, Option<&str>)> = Vec::new();
    match subject {
        Subject::Component(component) => {
            ways.extend([(Unit::MG_PER_L, None), (Unit::MMOL_PER_L, None), (Unit::MEQ_PER_L, None)]);
            ways.extend(other_bases(*component).iter().map(|basis| (Unit::MG_PER_L, Some(*basis))));
            ways.extend([(Unit::MG_PER_KG, None), (Unit::MOL_PER_KG, None)]);
        }
        Subject::Hardness | Subject::Alkalinity => {
            let bases: &[&str] =
                if *subject == Subject::Hardness { &["CaCO3", "CaO"] } else { &["CaCO3", "HCO3"] };
            ways.extend([(Unit::MMOL_PER_L, None), (Unit::MEQ_PER_L, None)]);
            ways.extend(bases.iter().map(|basis| (Unit::MG_PER_L, Some(*basis))));
            ways.extend(["dH", "fH", "e"].iter().filter_map(|degree| Some((Unit::read(degree).ok()?, None))));
        }
        Subject::Salt(_) | Subject::CarbonDioxide | Subject::Solids => {
            ways.extend([(Unit::MG_PER_L, None), (Unit::MMOL_PER_L, None), (Unit::MG_PER_KG, None)]);
        }
        Subject::Plain => {}
    }
    let restated = |(unit, basis): (Unit, Option<&str>)| {
        let basis = basis.and_then(|basis| Basis::read(basis).ok());
        restate(measured, subject, unit, basis.as_ref(), solution).ok()
    };
    ways.into_iter().filter_map(restated).map(|amount| amounts::stated(&amount)).collect()
}

/// The other bases in which sheets state a component.
fn other_bases(component: Component) -> &'static [&'static str] {
    match component.id() {
        "NO3" | "NO2" | "NH4" => &["N"],
        "SO4" => &["S"],
        "PO4" => &["P"],
        "SiO2" => &["Si"],
        "Ca" => &["CaCO3", "CaO"],
        "Mg" => &["CaCO3", "MgO"],
        "Na" => &["Na2O"],
        "K" => &["K2O"],
        "HCO3" | "CO3" => &["CaCO3"],
        _ => &[],
    }
}
