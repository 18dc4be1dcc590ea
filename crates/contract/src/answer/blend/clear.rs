//! Wishes for haze: what an eye will see of the finished water in a state is no harsher than a verdict.
//!
//! The blend is found without them first and judged in full. Where it is too harsh, the index of each solid that makes it so
//! becomes a demand on the solved state, just below its limit, and the blend is found again: so a wish that binds nothing moves
//! nothing, and what is answered was judged by index and by mass.

use springwright_chem::equilibrium::validity::WATERS_C;
use springwright_chem::formulation::{
    Blend, Condition, Order, Outcome, Place, Property, Quantity, Tolerance, Wish, solve,
};
use springwright_chem::formulation::{FormulationError, unsolvable};
use springwright_chem::phases::haze::{self as chem, Haze, WaterHaze};
use springwright_chem::phases::haze_limits::Limits;
use springwright_chem::phases::solids::Solid;
use springwright_chem::properties::SolvedWater;
use springwright_chem::quantity::{Measured, Unit};

use super::Faults;
use super::target::{condition, out_of_place_fields};
use crate::answer::faults::own;
use crate::answer::{haze, saturation};
use crate::blend::{Reached, Reason};
use crate::haze::Verdict;
use crate::problem::Fault;
use crate::reading::below;
use crate::wish::{self as stated};

/// Most times that a blend is found with more of its solids held.
const MOST_ROUNDS: usize = 6;
/// An index is held so far below its limit: a limit that is met is passed.
const BELOW_LIMIT: f64 = 1e-3;

/// A wish for haze.
pub(super) struct ClearWish {
    /// Its place among the wishes of the request.
    pub(super) at: usize,
    condition: Condition,
    /// The harshest verdict that it accepts.
    verdict: chem::Verdict,
    /// The solid that it is about; every one unless named.
    solid: Option<&'static Solid>,
}

/// A wish for haze as the finished water meets it.
pub(super) struct Judged {
    haze: WaterHaze,
    water_kg_per_l: f64,
    met: bool,
}

/// Reads a wish for haze, or every fault of it.
pub(super) fn read(wish: &stated::Wish, at: usize, pointer: &str) -> Result<ClearWish, Vec<Fault>> {
    let mut faults = out_of_place_fields(wish, pointer);
    let named = wish.solid.as_deref().map(|name| saturation::solid(name, &below(pointer, "solid")));
    let solid = named.transpose().unwrap_or_else(|own| {
        faults.push(own);
        None
    });
    if let Some(solid) = solid.filter(|solid| !Limits::default().of(solid).judged) {
        let message = format!("haze is not judged by {}: {}", solid.id, Limits::default().of(solid).note);
        faults.push(own(
            below(pointer, "solid"),
            "solid_not_judged",
            message,
            "name another solid, or none for all",
        ));
    }
    let verdict = match wish.verdict {
        None | Some(Verdict::Clear) => chem::Verdict::Clear,
        Some(Verdict::Metastable) => chem::Verdict::Metastable,
        Some(_) => {
            let message = "a finished water is wished clear, or at worst metastable";
            let accepted = ["clear", "metastable"].map(str::to_owned).to_vec();
            let place = below(pointer, "verdict");
            faults.push(Fault { accepted, ..own(place, "verdict_not_wished", message, "wish one of these") });
            chem::Verdict::Clear
        }
    };
    let (low, high) = WATERS_C;
    if let Some(celsius) = wish.temperature_c.filter(|celsius| !(low..=high).contains(celsius)) {
        let message = format!("{celsius} °C lies beyond the model, which reaches from {low} to {high} °C");
        faults.push(own(
            below(pointer, "temperature_c"),
            "temperature_outside_model",
            message,
            "state one within",
        ));
    }
    if faults.is_empty() {
        Ok(ClearWish { at, condition: condition(wish), verdict, solid })
    } else {
        Err(faults)
    }
}

/// Why an order and its salts cannot be judged for haze.
pub(super) fn faults(order: &Order, wishes: &[ClearWish]) -> Faults {
    if wishes.is_empty() { Vec::new() } else { unsolvable(order) }
}

/// Finds the blend with its wishes for haze: the outcome, and each of them as it is met. The order then holds the demands that
/// they came to, behind its own wishes; each is named by the wish that brought it.
pub(super) fn found(
    order: &mut Order,
    wishes: &[ClearWish],
    brought: &mut Vec<usize>,
) -> Result<(Outcome, Vec<Judged>), Faults> {
    let mut round = 0;
    loop {
        let outcome = solve::blend(order)?;
        let Outcome::Made(blend) = &outcome else { return Ok((outcome, Vec::new())) };
        let judged: Vec<Judged> = wishes
            .iter()
            .map(|wish| wish.judged(order, blend))
            .collect::<Result<_, _>>()
            .map_err(|error| vec![(Place::Whole, error)])?;
        round += 1;
        let before = brought.len();
        if round < MOST_ROUNDS {
            for (wish, judged) in wishes.iter().zip(&judged) {
                wish.demand(judged, order, brought);
            }
        }
        if brought.len() == before {
            return Ok((outcome, judged));
        }
    }
}

impl ClearWish {
    /// What an eye will see of a blend in the state of the wish.
    fn judged(&self, order: &Order, blend: &Blend) -> Result<Judged, FormulationError> {
        let solved = match &blend.solved {
            Some(solved) => solved.clone(),
            None => SolvedWater::of(&blend.mixed, order.co2)?,
        };
        let celsius = self.condition.temperature_c.unwrap_or(order.temperature_c);
        let state = match self.condition.open {
            true => solved.open_at(celsius),
            false if celsius == order.temperature_c => Ok(solved.state.clone()),
            false => solved.closed_at(celsius),
        };
        let state = state.map_err(springwright_chem::properties::StateError::from)?;
        let haze = solved.haze_in(&state, &[], &Limits::default())?;
        let haze = haze.only(|solid| self.solid.is_none_or(|own| core::ptr::eq(own, solid)));
        let met = haze.verdict() <= self.verdict;
        Ok(Judged { haze, water_kg_per_l: solved.solution.water_kg_per_l(), met })
    }

    /// Turns each solid that is too harsh and not held yet into a demand.
    fn demand(&self, judged: &Judged, order: &mut Order, brought: &mut Vec<usize>) {
        let harsh: Vec<&Haze> =
            judged.haze.solids.iter().filter(|haze| haze.verdict > self.verdict).collect();
        for haze in harsh {
            let quantity = Quantity::Property {
                property: Property::SaturationIndex(haze.saturation.solid),
                condition: self.condition,
            };
            let own = order.wishes.len() - brought.len();
            let held = order.wishes[own..].iter().zip(brought.iter());
            if held.clone().any(|(wish, by)| *by == self.at && wish.quantity == quantity) {
                continue;
            }
            let limit = if self.verdict == chem::Verdict::Clear {
                haze.limit.metastable_from
            } else {
                haze.limit.clouds_from
            };
            let most = (limit - BELOW_LIMIT) * haze.limit.divide;
            let Some(at_most) = Unit::read("1").and_then(|unit| Measured::new(most, unit)).ok() else {
                continue;
            };
            order.wishes.push(Wish {
                quantity,
                near: None,
                at_least: None,
                at_most: Some(at_most),
                exact: None,
                tolerance: Tolerance::Absolute(BELOW_LIMIT),
                weight: 1.0,
                priority: 1,
            });
            brought.push(self.at);
        }
    }

    /// The wish as it is answered; `why` holds what hindered the demands that it came to.
    pub(super) fn reached(&self, judged: Option<&Judged>, mut why: Vec<Reason>) -> Reached {
        let worst = judged.and_then(|judged| Some((judged.haze.worst()?, judged.water_kg_per_l)));
        let met = judged.is_some_and(|judged| judged.met);
        if let (Some((worst, water_kg_per_l)), false) = (worst, met) {
            let text = haze::verdict(worst, water_kg_per_l).why;
            why.insert(
                0,
                Reason {
                    code: "not_clear".to_owned(),
                    text,
                    tied_by: Vec::new(),
                    way_out: None,
                    freeing_salts: Vec::new(),
                },
            );
        }
        Reached {
            pointer: below("/target", self.at),
            of: "haze".to_owned(),
            asked: self.words(),
            got: None,
            verdict: judged.map(|judged| haze::word(judged.haze.verdict())),
            worst_solid: worst.map(|(worst, _)| worst.saturation.solid.id.to_owned()),
            met,
            why: if met { Vec::new() } else { why },
        }
    }

    /// What it asks, in words.
    fn words(&self) -> String {
        let solid = self.solid.map(|solid| format!("{}: ", haze::words(solid.id))).unwrap_or_default();
        let at = self.condition.temperature_c.map(|celsius| format!(" at {celsius} °C")).unwrap_or_default();
        let open = if self.condition.open { " once it stands in air" } else { "" };
        format!("{solid}{}{at}{open}", self.verdict.word())
    }
}
