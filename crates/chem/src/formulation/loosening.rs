//! What makes an order impossible, and the smallest changes that make it possible, each solved.

use super::counting::Rule;
use super::fault::FormulationError;
use super::finish::litre_of_pure;
use super::frame::{Frame, Litre, Origin};
use super::means::Order;
use super::outcome::{Blend, Impossible, made};
use super::settle::{largest_balances, settle};
use super::wish::Quantity;
use crate::numeric::{self, Feasibility};

/// One demand moved just far enough.
#[derive(Clone, Debug)]
pub struct Loosening {
    /// The demand.
    pub origin: Origin,
    /// Its bound as asked, in the unit of the wish, in percent or in g.
    pub asked: f64,
    /// The bound that works, rounded to the side that works.
    pub bound: f64,
    /// What is made with it.
    pub blend: Blend,
}

/// Says which demands of an order collide, and loosens each of them in turn.
pub(super) fn impossible(order: &Order, rules: Vec<Rule>) -> Result<Impossible, FormulationError> {
    let litre = litre_of_pure(order)?;
    let balance_of = largest_balances(order);
    let frame = Frame::new(order, &litre, &rules, &balance_of);
    let origins: Vec<Origin> = frame.hard().into_iter().map(|(origin, _)| origin).collect();
    let (problem, _) = frame.problem(frame.columns());
    let Feasibility::Infeasible(conflict) = numeric::feasibility(&problem)? else {
        return Err(FormulationError::SearchEnded);
    };
    let mut loosenings = Vec::new();
    for row in &conflict.rows {
        let Some(found) = numeric::smallest_relaxation(&problem, *row)? else { continue };
        let value = problem.hard[*row].row.value(&found.answer.steps, &found.answer.shares);
        loosenings.extend(loosened(order, &rules, &litre, origins[*row], value)?);
    }
    Ok(Impossible {
        conflict: conflict.rows.iter().map(|row| origins[*row]).collect(),
        limit_on_salts: conflict.limit_on_columns,
        loosenings,
        rules,
    })
}

/// The order with one demand moved to where its row stands, solved; tried with more and more room, as the row was
/// read in the litre of pure water.
fn loosened(
    order: &Order,
    rules: &[Rule],
    litre: &Litre,
    origin: Origin,
    value: f64,
) -> Result<Option<Loosening>, FormulationError> {
    const ROOM: [f64; 4] = [0.0, 1e-4, 1e-3, 1e-2];
    for room in ROOM {
        let Some((asked, bound)) = moved_bound(order, rules, litre, origin, value, room) else {
            return Ok(None);
        };
        let mut eased = order.clone();
        let mut rules = rules.to_vec();
        match origin {
            Origin::AtLeast(at) => rules[at].low = Some(bound),
            Origin::AtMost(at) => rules[at].high = Some(bound),
            Origin::Exact(at) => rules[at].exact = Some(bound),
            Origin::LeastShare(at) => eased.sources[at].least_percent = Some(bound),
            Origin::MostShare(at) => eased.sources[at].most_percent = Some(bound),
            Origin::LeastMass(at) => eased.shelf[at].least_g = Some(bound),
            Origin::NoNegativeRest(_) => return Ok(None),
        }
        if let Some(settled) = settle(&eased, &rules)? {
            let blend = made(&eased, &rules, &settled);
            return Ok(Some(Loosening { origin, asked, bound, blend }));
        }
    }
    Ok(None)
}

/// The bound as asked and the one at which its row stands, with room, rounded outward to four digits.
fn moved_bound(
    order: &Order,
    rules: &[Rule],
    litre: &Litre,
    origin: Origin,
    value: f64,
    room: f64,
) -> Option<(f64, f64)> {
    let of_wish = |at: usize, asked: f64| {
        let size = rules[at].size(asked);
        let ratio = matches!(order.wishes[at].quantity, Quantity::Ratio { .. });
        if ratio { asked + value * size } else { value * size }
    };
    // Rows of shares are masses per kg of all the water, 1 within a percent for any drink.
    let percent = |asked: f64| asked + 100.0 * value * litre.water_kg / litre.density_kg;
    let (asked, bound) = match origin {
        Origin::AtLeast(at) => (rules[at].low?, of_wish(at, rules[at].low?)),
        Origin::AtMost(at) => (rules[at].high?, of_wish(at, rules[at].high?)),
        Origin::Exact(at) => (rules[at].exact?, of_wish(at, rules[at].exact?)),
        Origin::LeastShare(at) => {
            (order.sources[at].least_percent?, percent(order.sources[at].least_percent?))
        }
        Origin::MostShare(at) => (order.sources[at].most_percent?, percent(order.sources[at].most_percent?)),
        Origin::LeastMass(at) => (order.shelf[at].least_g?, value * order.shelf[at].least_g?),
        Origin::NoNegativeRest(_) => return None,
    };
    let down = bound < asked;
    let with_room = if down { bound * (1.0 - room) } else { bound * (1.0 + room) };
    Some((asked, outward(with_room, down).max(0.0)))
}

/// Rounded to four significant digits, down or up.
fn outward(value: f64, down: bool) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return value;
    }
    let mut unit = 1.0;
    while value.abs() >= 10_000.0 * unit {
        unit *= 10.0;
    }
    let mut digits = 1.0;
    while value.abs() * digits < 1000.0 && digits < 1e9 {
        digits *= 10.0;
    }
    let scaled = value / unit * digits;
    (if down { scaled.floor() } else { scaled.ceil() }) * unit / digits
}

#[cfg(test)]
mod tests {
    use super::outward;

    #[test]
    fn rounds_to_the_side_that_works() {
        assert_eq!((outward(106.1271, false), outward(106.1271, true)), (106.2, 106.1));
        assert_eq!((outward(0.012344, false), outward(0.0, true)), (0.01235, 0.0));
        assert_eq!(outward(123_456.0, false), 123_500.0);
    }
}
