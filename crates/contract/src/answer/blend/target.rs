//! A wish of the request as the formulation takes it.

use springwright_chem::formulation::counting::Rule;
use springwright_chem::formulation::{Condition, CountedBy, Property, Quantity, Tolerance, Wish};
use springwright_chem::matter::component::{self, Component};

use crate::answer::faults::{fault, out_of_place, own};
use crate::answer::said::assumed;
use crate::answer::{amounts, saturation};
use crate::measured::Measured;
use crate::problem::Fault;
use crate::reading::below;
use crate::said::Assumption;
use crate::wish::{self as stated};

/// When a `near` wish counts as met unless it says so itself, percent.
const USUAL_TOLERANCE_PERCENT: f64 = 5.0;
/// The same for pH and saturation indices.
const USUAL_TOLERANCE: f64 = 0.1;

/// What a wish may be about beside components.
const QUANTITIES: [&str; 13] = [
    "tds",
    "residue_180c",
    "hardness",
    "alkalinity",
    "ph",
    "si",
    "conductivity",
    "co2",
    "osmolality",
    "haze",
    "ratio",
    "sum",
    "cost",
];

/// Reads a wish, or every fault of it.
pub(in crate::answer) fn read(
    wish: &stated::Wish,
    pointer: &str,
    assumptions: &mut Vec<Assumption>,
) -> Result<Wish, Vec<Fault>> {
    let mut faults = out_of_place_fields(wish, pointer);
    let quantity = quantity(wish, pointer, assumptions).unwrap_or_else(|own| {
        faults.extend(own);
        Quantity::Tds
    });
    let mut amount = |field: &str, measured: &Option<Measured>| {
        let read = measured.as_ref().map(|measured| wanted(measured, &below(pointer, field)));
        read.transpose().unwrap_or_else(|own| {
            faults.extend(own);
            None
        })
    };
    let near = amount("near", &wish.near);
    let (at_least, at_most) = (amount("at_least", &wish.at_least), amount("at_most", &wish.at_most));
    let exact = amount("exact", &wish.exact);
    if !faults.is_empty() {
        return Err(faults);
    }
    let tolerance = tolerance(wish, pointer, assumptions);
    let wish = Wish {
        quantity,
        near,
        at_least,
        at_most,
        exact,
        tolerance,
        weight: wish.weight.unwrap_or(1.0),
        priority: wish.priority.unwrap_or(1),
    };
    // Judged here as well as in the calculation, so that its faults come with those of the other entries.
    Rule::of(&wish).map_err(|errors| errors.iter().map(|error| fault(pointer, error)).collect::<Vec<_>>())?;
    Ok(wish)
}

/// Fields that this wish does not take.
pub(super) fn out_of_place_fields(wish: &stated::Wish, pointer: &str) -> Vec<Fault> {
    let (ratio, sum, near) = (wish.of == "ratio", wish.of == "sum", wish.near.is_some());
    let logarithm = is_logarithm(&wish.of);
    let haze = wish.of == "haze";
    let in_a_state = logarithm || haze || wish.of == "conductivity";
    let fields = [
        ("numerator", wish.numerator.is_some() && !ratio, "this quantity"),
        ("denominator", wish.denominator.is_some() && !ratio, "this quantity"),
        ("counted_by", wish.counted_by.is_some() && !ratio, "this quantity"),
        ("parts", wish.parts.is_some() && !sum, "this quantity"),
        ("solid", wish.solid.is_some() && wish.of != "si" && !haze, "this quantity"),
        ("temperature_c", wish.temperature_c.is_some() && !in_a_state, "this quantity"),
        ("open", wish.open.is_some() && !in_a_state, "this quantity"),
        ("verdict", wish.verdict.is_some() && !haze, "this quantity"),
        ("near", near && haze, "a wish that takes verdict"),
        ("at_least", wish.at_least.is_some() && haze, "a wish that takes verdict"),
        ("at_most", wish.at_most.is_some() && haze, "a wish that takes verdict"),
        ("exact", wish.exact.is_some() && haze, "a wish that takes verdict"),
        ("tolerance_percent", wish.tolerance_percent.is_some() && logarithm, "a wish that takes tolerance"),
        ("tolerance_percent", wish.tolerance_percent.is_some() && !near && !logarithm, "a wish without near"),
        ("tolerance", wish.tolerance.is_some() && !logarithm, "a wish that takes tolerance_percent"),
        ("tolerance", wish.tolerance.is_some() && !near && logarithm, "a wish without near"),
        ("weight", wish.weight.is_some() && !near, "a wish without near"),
        ("priority", wish.priority.is_some() && !near, "a wish without near"),
    ];
    let misplaced = fields.into_iter().filter(|(_, misplaced, _)| *misplaced);
    misplaced.map(|(field, _, place)| out_of_place(&below(pointer, field), field, place)).collect()
}

/// A wanted amount: what is wanted is no measurement, so it carries neither a limit nor an uncertainty.
fn wanted(stated: &Measured, pointer: &str) -> Result<springwright_chem::quantity::Measured, Vec<Fault>> {
    let amount = amounts::measured(stated, pointer)?;
    if stated.comparator.is_some() || stated.uncertainty.is_some() {
        let message = "a wanted amount has neither '<' nor an uncertainty";
        let mend = "use at_most for an upper bound and tolerance_percent for how near is near enough";
        return Err(vec![own(pointer, "wish_is_no_measurement", message, mend)]);
    }
    Ok(amount)
}

/// Whether a quantity is a logarithm, of which a percentage says nothing.
fn is_logarithm(of: &str) -> bool {
    of == "ph" || of == "si"
}

/// How near is near enough, as stated or as usual.
fn tolerance(wish: &stated::Wish, pointer: &str, assumptions: &mut Vec<Assumption>) -> Tolerance {
    let logarithm = is_logarithm(&wish.of);
    let (field, text) = if logarithm {
        ("tolerance", format!("The wish counts as met within {USUAL_TOLERANCE}."))
    } else {
        ("tolerance_percent", format!("The wish counts as met within {USUAL_TOLERANCE_PERCENT} %."))
    };
    if wish.near.is_some() && wish.tolerance.or(wish.tolerance_percent).is_none() {
        let effect = "It decides only the word 'met'; grams do not change.";
        assumptions.push(assumed("tolerance_assumed", below(pointer, field), text, effect));
    }
    if logarithm {
        Tolerance::Absolute(wish.tolerance.unwrap_or(USUAL_TOLERANCE))
    } else {
        Tolerance::Percent(wish.tolerance_percent.unwrap_or(USUAL_TOLERANCE_PERCENT))
    }
}

/// What a wish is about.
fn quantity(
    wish: &stated::Wish,
    pointer: &str,
    assumptions: &mut Vec<Assumption>,
) -> Result<Quantity, Vec<Fault>> {
    let of = below(pointer, "of");
    match wish.of.as_str() {
        "tds" => Ok(Quantity::Tds),
        "residue_180c" => Ok(Quantity::Residue180c),
        "hardness" => Ok(Quantity::Hardness),
        "alkalinity" => Ok(Quantity::Alkalinity),
        "cost" => Ok(Quantity::Cost),
        "ratio" => ratio(wish, pointer, assumptions),
        "sum" => sum(wish, pointer),
        "ph" => Ok(property(Property::Ph, wish)),
        "si" => solid(wish, pointer).map(|solid| property(solid, wish)),
        "conductivity" => Ok(property(Property::Conductivity, wish)),
        "co2" => Ok(property(Property::FreeCo2, wish)),
        "osmolality" => Ok(property(Property::Osmolality, wish)),
        id => component(id, &of).map(Quantity::Component),
    }
}

fn property(property: Property, wish: &stated::Wish) -> Quantity {
    Quantity::Property { property, condition: condition(wish) }
}

/// The state in which a wish sees the finished water.
pub(super) fn condition(wish: &stated::Wish) -> Condition {
    Condition { temperature_c: wish.temperature_c, open: wish.open.unwrap_or(false) }
}

/// The solid of an index.
fn solid(wish: &stated::Wish, pointer: &str) -> Result<Property, Vec<Fault>> {
    let at = below(pointer, "solid");
    let Some(name) = &wish.solid else {
        let message = "a saturation index is that of a solid, which is not named";
        return Err(vec![own(at, "field_missing", message, "name a solid such as calcite")]);
    };
    saturation::solid(name, &at).map(Property::SaturationIndex).map_err(|own| vec![own])
}

/// A component by its id.
fn component(id: &str, pointer: &str) -> Result<Component, Vec<Fault>> {
    Component::read(id).ok_or_else(|| {
        let ids = Component::ALL.map(Component::id);
        let words = QUANTITIES;
        let meant = component::named(id).map(Component::id);
        let near = meant.or_else(|| super::super::nearest(id, ids.into_iter().chain(words)));
        let mend = near.map_or_else(
            || "use an id such as Ca, SO4 or citrate".to_owned(),
            |near| format!("did you mean '{near}'?"),
        );
        let accepted = ids.into_iter().chain(words).map(str::to_owned).collect();
        vec![Fault {
            accepted,
            ..own(pointer, "component_unknown", format!("'{id}' is nothing that a wish can be about"), &mend)
        }]
    })
}

fn ratio(
    wish: &stated::Wish,
    pointer: &str,
    assumptions: &mut Vec<Assumption>,
) -> Result<Quantity, Vec<Fault>> {
    let part = |field: &str, id: &Option<String>| match id {
        Some(id) => component(id, &below(pointer, field)),
        None => Err(vec![own(
            below(pointer, field),
            "field_missing",
            format!("a ratio needs its {field}"),
            "name a component such as Ca",
        )]),
    };
    let (numerator, denominator) =
        match (part("numerator", &wish.numerator), part("denominator", &wish.denominator)) {
            (Ok(numerator), Ok(denominator)) => (numerator, denominator),
            (numerator, denominator) => {
                let faults = [numerator.err(), denominator.err()];
                return Err(faults.into_iter().flatten().flatten().collect());
            }
        };
    if wish.counted_by.is_none() {
        let moved = numerator.molar_mass() / denominator.molar_mass();
        assumptions.push(assumed(
            "ratio_by_mass_assumed",
            below(pointer, "counted_by"),
            "The ratio is counted by mass.",
            format!("Counted by amount the same water would have {:.3} times the number.", 1.0 / moved),
        ));
    }
    let counted_by = match wish.counted_by {
        Some(stated::CountedBy::Amount) => CountedBy::Amount,
        Some(stated::CountedBy::Charge) => CountedBy::Charge,
        Some(stated::CountedBy::Mass) | None => CountedBy::Mass,
    };
    Ok(Quantity::Ratio { numerator, denominator, counted_by })
}

fn sum(wish: &stated::Wish, pointer: &str) -> Result<Quantity, Vec<Fault>> {
    let at = below(pointer, "parts");
    let parts = wish.parts.as_deref().unwrap_or_default();
    if parts.is_empty() {
        return Err(vec![own(
            at,
            "field_missing",
            "a sum needs its parts",
            "list components such as Na and K",
        )]);
    }
    let (mut read, mut faults) = (Vec::new(), Vec::new());
    for (index, id) in parts.iter().enumerate() {
        match component(id, &below(&at, index)) {
            Ok(part) if read.contains(&part) => {
                faults.push(own(
                    below(&at, index),
                    "part_twice",
                    format!("'{id}' stands twice in the sum"),
                    "list it once",
                ));
            }
            Ok(part) => read.push(part),
            Err(own) => faults.extend(own),
        }
    }
    if faults.is_empty() { Ok(Quantity::Sum(read)) } else { Err(faults) }
}
