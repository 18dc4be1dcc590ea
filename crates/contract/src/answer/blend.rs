//! Answers `blend`.

pub(super) mod choice;
mod encode;
mod target;

use springwright_chem::composition::solids;
use springwright_chem::formulation::{Balance, FormulationError, Order, Outcome, Place, solve};
use springwright_chem::numeric;

use super::digest::provenance;
use super::faults::{fault, out_of_place, own};
use super::source::{self, Source};
use super::{mixture, said, water};
use crate::blend::{BlendAnswer, BlendRequest, BlendStatus, Objective};
use crate::co2::{Co2, Co2State};
use crate::problem::Fault;
use crate::reading::{Read, below};
use crate::said::{Assumption, Finding};

/// The blend that comes nearest to the wishes.
pub(super) fn answer(read: Read<BlendRequest>) -> Result<BlendAnswer, Vec<Fault>> {
    let Read { request, value, mut assumptions } = read;
    let mut findings = Vec::new();
    let order = order(&request, &mut assumptions, &mut findings)?;
    let outcome = solve::blend(&order).map_err(|faults| faults.iter().map(placed).collect::<Vec<_>>())?;
    said::strictly(request.strict, &assumptions)?;
    let answer = BlendAnswer {
        status: BlendStatus::Impossible,
        pourings: Vec::new(),
        weighings: Vec::new(),
        water: None,
        reached: Vec::new(),
        objective: request.objective.unwrap_or(Objective::RelativeDeviation),
        objective_values: Vec::new(),
        gap: Vec::new(),
        cost: None,
        conflict: Vec::new(),
        relaxations: Vec::new(),
        not_judged: said::not_judged(),
        assumptions,
        findings,
        cautions: Vec::new(),
        provenance: provenance(super::TOTALS, &value),
    };
    Ok(match outcome {
        Outcome::Made(blend) => encode::made(&request, &order, &blend, answer),
        Outcome::Impossible(impossible) => encode::impossible(&request, &order, &impossible, answer),
    })
}

/// The request as an order, or every fault of it.
fn order(
    request: &BlendRequest,
    assumptions: &mut Vec<Assumption>,
    findings: &mut Vec<Finding>,
) -> Result<Order, Vec<Fault>> {
    let mut faults = Vec::new();
    let mut sources = Vec::new();
    for (at, stated) in request.waters.iter().enumerate() {
        match source::read(stated, &below("/waters", at), assumptions, findings) {
            Ok(source) => sources.push(poured(stated, source)),
            Err(own) => faults.extend(own),
        }
    }
    let mut shelf = Vec::new();
    for (at, stated) in request.salts.iter().enumerate() {
        match choice::read(stated, &below("/salts", at), assumptions) {
            Ok(choice) => shelf.push(choice),
            Err(own) => faults.extend(own),
        }
    }
    let mut wishes = Vec::new();
    for (at, stated) in request.target.iter().enumerate() {
        match target::read(stated, &below("/target", at), assumptions) {
            Ok(wish) => wishes.push(wish),
            Err(own) => faults.extend(own),
        }
    }
    faults.extend(request.co2.as_ref().and_then(beyond_totals));
    if request.target.iter().any(|wish| wish.of == "cost") {
        faults.extend(unpriced(request, assumptions));
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let balance = |stated: &crate::balance::Balance| Balance {
        step_g: stated.step_g,
        least_g: stated.least_g.unwrap_or(stated.step_g),
        most_g: stated.most_g,
    };
    Ok(Order {
        volume_l: request.volume_l,
        temperature_c: mixture::temperature(request.temperature_c, assumptions),
        sources,
        shelf,
        wishes,
        balances: request.balances.iter().map(balance).collect(),
        most_salts: request.most_salts.map(|most| most as usize),
        objective: match request.objective {
            Some(Objective::LeastSquares) => numeric::Objective::LeastSquares,
            Some(Objective::RelativeDeviation) | None => numeric::Objective::RelativeDeviation,
        },
    })
}

/// Prices that a wish for the cost needs: of every salt; a water without one is counted as free, and it is said.
fn unpriced(request: &BlendRequest, assumptions: &mut Vec<Assumption>) -> Vec<Fault> {
    for (at, _) in request.waters.iter().enumerate().filter(|(_, water)| water.price_per_1000_l.is_none()) {
        assumptions.push(said::assumed(
            "water_price_assumed",
            below(&below("/waters", at), "price_per_1000_l"),
            "This water is counted as free.",
            "The cost is that of the salts and of the waters that state a price.",
        ));
    }
    let silent = request.salts.iter().enumerate().filter(|(_, salt)| salt.price_per_kg.is_none());
    let fault = |(at, _)| {
        let pointer = below(&below("/salts", at), "price_per_kg");
        own(
            pointer,
            "price_unstated",
            "a wish for the cost needs the price of every salt",
            "state price_per_kg",
        )
    };
    silent.map(fault).collect()
}

fn poured(
    stated: &crate::source_water::SourceWater,
    source: Source,
) -> springwright_chem::formulation::Source {
    springwright_chem::formulation::Source {
        name: source.name,
        water: source.water,
        least_percent: stated.at_least_percent,
        most_percent: stated.at_most_percent,
        price_per_1000_l: stated.price_per_1000_l,
    }
}

/// A state of the carbon dioxide that totals alone cannot follow, or a field that the state does not take.
fn beyond_totals(co2: &Co2) -> Option<Fault> {
    let stated = [
        ("pco2_bar", co2.pco2_bar),
        ("volumes", co2.volumes),
        ("grams_per_l", co2.grams_per_l),
        ("gauge_bar", co2.gauge_bar),
        ("temperature_c", co2.temperature_c),
        ("headspace_percent", co2.headspace_percent),
    ];
    if let (Co2State::Closed, Some((field, _))) =
        (co2.state, stated.iter().find(|(_, value)| value.is_some()))
    {
        return Some(out_of_place(&below("/co2", field), field, "a closed state"));
    }
    (co2.state != Co2State::Closed).then(|| Fault {
        accepted: vec!["closed".to_owned()],
        ..own(
            "/co2/state",
            "outside_model",
            "only a closed water can be blended: carbonation needs the solved state of the water",
            "leave co2 out, or state closed",
        )
    })
}

/// A fault of an order at its place in the request.
fn placed((place, error): &(Place, FormulationError)) -> Fault {
    let pointer = match place {
        Place::Whole => String::new(),
        Place::Source(at) => match error {
            FormulationError::Composition(own) => source::place(own, &below("/waters", at)),
            _ => below("/waters", at),
        },
        Place::Choice(at) => below("/salts", at),
        Place::Wish(at) => below("/target", at),
        Place::Balance(at) => below("/balances", at),
    };
    fault(pointer, error)
}

/// The answered water of a blend, with what does not close.
fn finished(order: &Order, blend: &springwright_chem::formulation::Blend) -> crate::water::Water {
    water::water(&blend.finished, Some(order.volume_l), blend.closure)
}

/// What the reader should know of the finished water.
fn findings(blend: &springwright_chem::formulation::Blend) -> Vec<Finding> {
    solids::findings(blend.finished.totals()).iter().map(|found| said::finding("", found)).collect()
}
