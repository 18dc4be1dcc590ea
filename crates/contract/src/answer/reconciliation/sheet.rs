//! The sheet of a request for the chemistry, and the most likely water as a water that goes in.

use springwright_chem::formulation::Choice;
use springwright_chem::quantity::{Measured as Amount, Unit};

use super::{Of, Places, Reconciled, Sheet};
use crate::answer::blend::choice::named;
use crate::answer::faults::{fault, out_of_place, own};
use crate::answer::{amounts, source};
use crate::measured::Measured;
use crate::problem::Fault;
use crate::reading::below;
use crate::reconciliation::ReconciliationRequest;
use crate::source_water::{AddedSalt, MissingRule, SourceWater};
use springwright_chem::composition::reconciliation::Row;
use springwright_chem::matter::component::Component;

/// Rows of an analysis that no check speaks of: they tell the carbonate of the water beside its pH.
const CARBON: [&str; 2] = ["dic", "co2"];

/// The sheet of a request and where its rows stand, or every fault of it.
pub(super) fn read(request: &ReconciliationRequest) -> Result<(Sheet, Places), Vec<Fault>> {
    let water = &request.water;
    let mut faults = source::limits_out_of_place(water, "/water");
    if water.balance_on.is_some() {
        let place = "a sheet of which every row is weighed";
        faults.push(out_of_place("/water/balance_on", "balance_on", place));
    }
    faults.extend(unstated(water));
    let mut rows: Vec<(Row, String)> = Vec::new();
    let mut enter = |read: Result<(Row, String), Vec<Fault>>| match read {
        Ok(row) => rows.push(row),
        Err(own) => faults.extend(own),
    };
    for (name, measured) in water.analysis.iter().flat_map(|analysis| &analysis.0) {
        if !CARBON.contains(&name.as_str()) {
            enter(analysed(name, measured));
        }
    }
    for (of, measured) in [
        (Of::Conductivity, &request.conductivity),
        (Of::SumOfIons, &request.tds),
        (Of::Residue180c, &request.residue_180c),
    ] {
        let at = below("", of.id());
        measured.iter().for_each(|measured| enter(row(of, measured, &at)));
    }
    let mut salts = Vec::new();
    for (at, salt) in water.added.iter().flatten().enumerate() {
        enter(added(salt, at, &mut salts));
    }
    let absent = absent(water, &mut faults);
    if !faults.is_empty() {
        return Err(faults);
    }
    rows.sort_by_key(|(row, _)| row.of);
    let places = Places(rows.iter().map(|(row, pointer)| (row.of, pointer.clone())).collect());
    let sheet = Sheet {
        rows: rows.into_iter().map(|(row, _)| row).collect(),
        salts,
        absent,
        ph: water.ph,
        temperature_c: water.temperature_c,
        conductivity_c: request.conductivity_temperature_c,
        end_point_ph: water.end_point_ph,
    };
    Ok((sheet, places))
}

/// A water must say what it is: an analysis, or pure.
fn unstated(water: &SourceWater) -> Option<Fault> {
    match (&water.analysis, water.pure == Some(true)) {
        (Some(_), true) => {
            let message = "the water is said to be pure and has an analysis";
            Some(own("/water", "pure_and_analysed", message, "leave out one of them"))
        }
        (None, false) => {
            let mend = "state its analysis, or pure: true with the salts that were dissolved in it";
            Some(own(
                "/water",
                "water_unstated",
                "the water has no analysis, and is not said to be pure",
                mend,
            ))
        }
        _ => None,
    }
}

fn analysed(name: &str, measured: &Measured) -> Result<(Row, String), Vec<Fault>> {
    let at = below("/water/analysis", name);
    let of = match name {
        "alkalinity" => Of::Alkalinity,
        "hardness" => Of::Hardness,
        "Na+K" => Of::SodiumAndPotassium,
        id => Of::Component(source::component(id, &at).map_err(|own| vec![own])?),
    };
    row(of, measured, &at)
}

fn row(of: Of, measured: &Measured, at: &str) -> Result<(Row, String), Vec<Fault>> {
    let measured = amounts::measured(measured, at)?;
    if of == Of::Conductivity && measured.unit().dimension() != Unit::US_PER_CM.dimension() {
        let message = format!("'{}' is no unit of conductivity", measured.unit().symbol());
        return Err(vec![own(below(at, "unit"), "unit_does_not_fit", message, "use uS/cm, mS/cm or mS/m")]);
    }
    Ok((Row { of, measured }, at.to_owned()))
}

/// A salt that was dissolved, as a row of its own.
fn added(
    stated: &AddedSalt,
    at: usize,
    salts: &mut Vec<&'static springwright_chem::matter::catalogue::Salt>,
) -> Result<(Row, String), Vec<Fault>> {
    let pointer = below("/water/added", at);
    let salt = named(stated.salt.as_deref(), stated.formula.as_deref(), &pointer)?;
    Choice::new(salt, 100.0).map_err(|error| vec![fault(&pointer, &error)])?;
    let (mg, unit, field) = match (stated.mg_per_l, stated.mg_per_kg) {
        (Some(mg), None) => (mg, Unit::MG_PER_L, "mg_per_l"),
        (None, Some(mg)) => {
            (mg, Unit::read("mg/kg_water").map_err(|error| vec![fault(&pointer, &error)])?, "mg_per_kg")
        }
        (both, _) => {
            let code = if both.is_some() { "amount_stated_twice" } else { "field_missing" };
            let message = "one of mg_per_l and mg_per_kg must be stated";
            return Err(vec![own(pointer, code, message, "state one of them")]);
        }
    };
    let measured = Amount::new(mg, unit).map_err(|error| vec![fault(below(&pointer, field), &error)])?;
    salts.push(salt);
    Ok((Row { of: Of::Salt(salts.len() - 1), measured }, below(&pointer, field)))
}

/// What the request says is not there. `by_charge` leaves it open, and all checks together find it.
fn absent(water: &SourceWater, faults: &mut Vec<Fault>) -> Vec<Component> {
    if water.pure == Some(true) {
        return Component::ALL.to_vec();
    }
    let mut absent = Vec::new();
    for (name, rule) in water.missing.iter().flatten() {
        match source::component(name, &below("/water/missing", name)) {
            Ok(component) if *rule == MissingRule::Zero => absent.push(component),
            Ok(_) => {}
            Err(own) => faults.push(own),
        }
    }
    absent
}

/// The most likely water as one that goes in: the likely amounts in place of the stated ones.
pub(super) fn likely(stated: &SourceWater, found: &Reconciled) -> SourceWater {
    let mut water = stated.clone();
    let amount = |value: f64, unit: &str| Measured {
        value,
        unit: unit.to_owned(),
        basis: None,
        uncertainty: None,
        coverage_factor: None,
        comparator: None,
    };
    if let Some(analysis) = &mut water.analysis {
        analysis.0.retain(|name, _| CARBON.contains(&name.as_str()));
        for one in found.amounts.iter().filter(|one| !one.silent || one.amount > 0.0) {
            let id = one.component.id();
            analysis.0.insert(id.to_owned(), amount(one.amount, "mmol/L"));
            water.missing.iter_mut().for_each(|rules| {
                rules.remove(id);
            });
        }
    }
    let salts: Vec<f64> =
        found.rows.iter().filter(|row| matches!(row.of, Of::Salt(_))).map(|row| row.likely).collect();
    for (salt, mg) in water.added.iter_mut().flatten().zip(salts) {
        (salt.mg_per_l, salt.mg_per_kg) = (Some(mg), None);
    }
    water
}
