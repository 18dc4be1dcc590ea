//! Answers `blend`.

pub(super) mod choice;
mod clear;
pub(super) mod encode;
pub(super) mod target;

use springwright_chem::composition::solids;
use springwright_chem::formulation::{Balance, Blend, FormulationError, Order, Outcome, Place, Wish};
use springwright_chem::numeric;
use springwright_chem::properties::{Held, StateError};

use self::clear::{ClearWish, Judged};
use super::digest::provenance;
use super::faults::{fault, own};
use super::source::{self, Source};
use super::state::{self, Answered};
use super::{co2, mixture, said};
use crate::blend::{BlendAnswer, BlendRequest, BlendStatus, Objective};
use crate::problem::Fault;
use crate::reading::{Read, below};
use crate::said::{Assumption, Finding};

/// The blend that comes nearest to the wishes.
pub(super) fn answer(read: Read<BlendRequest>) -> Result<BlendAnswer, Vec<Fault>> {
    let Read { request, value, mut assumptions, .. } = read;
    let mut findings = Vec::new();
    let (mut task, unsolved) = task(&request, &mut assumptions, &mut findings)?;
    let (outcome, judged) = task.solved().map_err(|faults| {
        faults.iter().map(|(place, error)| placed(*place, error, &task.places, &unsolved)).collect::<Vec<_>>()
    })?;
    said::strictly(request.strict, &assumptions)?;
    let mut answer = BlendAnswer {
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
        not_judged: Vec::new(),
        assumptions,
        findings,
        cautions: Vec::new(),
        provenance: provenance(super::TOTALS, &value),
    };
    match outcome {
        Outcome::Made(blend) => {
            let finished = finished(&task.order, &blend, unsolved.iter().flatten().next())?;
            answer.provenance = finished.provenance(&value);
            Ok(encode::made(&task, &blend, &judged, finished, answer))
        }
        Outcome::Impossible(impossible) => encode::impossible(&task, &impossible, answer),
    }
}

/// What is wrong with an order, each at its place.
type Faults = Vec<(Place, FormulationError)>;

/// A request as the formulation takes it.
struct Task<'a> {
    request: &'a BlendRequest,
    order: Order,
    /// Where each wish of the order stands among those of the request.
    places: Vec<usize>,
    /// The wishes for haze, which become demands of the order where they bind.
    clear: Vec<ClearWish>,
}

impl Task<'_> {
    /// What comes of it, and how each wish for haze is met.
    fn solved(&mut self) -> Result<(Outcome, Vec<Judged>), Faults> {
        let faults = clear::faults(&self.order, &self.clear);
        if !faults.is_empty() {
            return Err(faults);
        }
        let mut brought = Vec::new();
        let found = clear::found(&mut self.order, &self.clear, &mut brought);
        self.places.extend(brought);
        found
    }

    /// Where a wish of the order stands in the request.
    fn pointer(&self, wish: usize) -> String {
        below("/target", self.places[wish])
    }

    /// How many wishes of the order are the request's own.
    fn own_wishes(&self) -> usize {
        self.request.target.len() - self.clear.len()
    }
}

/// The request as a task, with the reason why the carbonate of each water is not known; or every fault of it.
fn task<'a>(
    request: &'a BlendRequest,
    assumptions: &mut Vec<Assumption>,
    findings: &mut Vec<Finding>,
) -> Result<(Task<'a>, Vec<Option<StateError>>), Vec<Fault>> {
    let mut faults = Vec::new();
    let (mut sources, mut unsolved) = (Vec::new(), Vec::new());
    for (at, stated) in request.waters.iter().enumerate() {
        match source::read(stated, &below("/waters", at), assumptions, findings) {
            Ok(source) => {
                unsolved.push(source.unsolved.clone());
                sources.push(poured(stated, source));
            }
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
    let Wished { wishes, places, clear } = wished(&request.target, assumptions).unwrap_or_else(|own| {
        faults.extend(own);
        Wished::default()
    });
    let co2 = co2::read(request.co2.as_ref(), "/co2", assumptions).unwrap_or_else(|own| {
        faults.extend(own);
        Held::Closed
    });
    if request.target.iter().any(|wish| wish.of == "cost") {
        faults.extend(unpriced(request, assumptions));
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let order = Order {
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
        co2,
    };
    Ok((Task { request, order, places, clear }, unsolved))
}

/// The wishes of a request.
#[derive(Default)]
struct Wished {
    wishes: Vec<Wish>,
    /// The place of each among those of the request.
    places: Vec<usize>,
    clear: Vec<ClearWish>,
}

/// The wishes, or every fault of them.
fn wished(stated: &[crate::wish::Wish], assumptions: &mut Vec<Assumption>) -> Result<Wished, Vec<Fault>> {
    let (mut wished, mut faults) = (Wished::default(), Vec::new());
    for (at, stated) in stated.iter().enumerate() {
        let pointer = below("/target", at);
        let read = if stated.of == "haze" {
            clear::read(stated, at, &pointer).map(|wish| wished.clear.push(wish))
        } else {
            target::read(stated, &pointer, assumptions).map(|wish| {
                wished.wishes.push(wish);
                wished.places.push(at);
            })
        };
        faults.extend(read.err().unwrap_or_default());
    }
    if faults.is_empty() { Ok(wished) } else { Err(faults) }
}

/// A balance as the formulation takes it.
pub(super) fn balance(stated: &crate::balance::Balance) -> Balance {
    let crate::balance::Balance { step_g, least_g, most_g } = *stated;
    Balance { step_g, least_g: least_g.unwrap_or(step_g), most_g }
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

/// A fault of an order at its place in the request; a water of which nothing tells the carbonate with the deeper reason.
fn placed(
    place: Place,
    error: &FormulationError,
    places: &[usize],
    unsolved: &[Option<StateError>],
) -> Fault {
    let wish = |at: usize| below("/target", places.get(at).copied().unwrap_or(at));
    let (pointer, error) = match (place, error) {
        (Place::Source(at), FormulationError::Composition(own)) => {
            return fault(source::place(own, &below("/waters", at)), error);
        }
        (Place::Source(at), FormulationError::State(StateError::Alkalinity)) => {
            (below(&below(&below("/waters", at), "analysis"), "alkalinity"), error)
        }
        (Place::Source(at), FormulationError::State(StateError::Carbonate)) => {
            let deeper = unsolved.get(at).and_then(Option::as_ref);
            let pointer = below(&below("/waters", at), "ph");
            return deeper.map_or_else(|| fault(pointer.clone(), error), |own| fault(pointer.clone(), own));
        }
        (Place::Whole, _) => (String::new(), error),
        (Place::Source(at), _) => (below("/waters", at), error),
        (Place::Choice(at), _) => (below("/salts", at), error),
        (Place::Wish(at), FormulationError::State(_)) => (below(&wish(at), "temperature_c"), error),
        (Place::Wish(at), _) => (wish(at), error),
        (Place::Balance(at), _) => (below("/balances", at), error),
    };
    fault(pointer, error)
}

/// The answered water of a blend, with what does not close.
fn finished(order: &Order, blend: &Blend, unsolved: Option<&StateError>) -> Result<Answered, Vec<Fault>> {
    let volume_l = Some(order.volume_l);
    match &blend.solved {
        Some(solved) => Ok(Answered::of(solved.clone(), volume_l, blend.closure)),
        None => state::answered(&blend.mixed, |_| volume_l, order.co2, blend.closure, unsolved),
    }
}

/// What the reader should know of the finished water.
fn findings(blend: &Blend) -> Vec<Finding> {
    solids::findings(blend.finished.totals()).iter().map(|found| said::finding("", found)).collect()
}
