//! What came out: what to pour and weigh, the water that results, and each wish as it was reached.

use super::counting::Rule;
use super::frame::{Frame, Origin};
use super::loosening::Loosening;
use super::means::Order;
use super::reason::Reason;
use super::settle::Settled;
use super::wish::{Quantity, Wish, sum_of};
use crate::composition::closure::Closure;
use crate::composition::solids;
use crate::composition::state::Solution;
use crate::numeric::Reached;
use crate::properties::SolvedWater;

/// How an order ended.
#[derive(Clone, Debug)]
pub enum Outcome {
    /// A blend that holds every demand.
    Made(Box<Blend>),
    /// Demands that cannot be held together.
    Impossible(Impossible),
}

/// A blend.
#[derive(Clone, Debug)]
pub struct Blend {
    /// What to pour, by position of the water.
    pub pourings: Vec<Pouring>,
    /// What to weigh, by position of the salt; salts that are not used do not appear.
    pub weighings: Vec<Weighing>,
    /// The water that results, as its carbon dioxide is held.
    pub finished: Solution,
    /// What waters and salts make together, before gas comes or goes.
    pub mixed: Solution,
    /// The water that results, solved, where wishes ask for properties of its state.
    pub solved: Option<SolvedWater>,
    /// Each wish, in their order.
    pub reached: Vec<Got>,
    /// The objective of each priority.
    pub objectives: Vec<Reached>,
    /// The proved distance of each objective to the best there is, in order of priority, as far as one is proved: with
    /// wishes for properties of the solved state the best by the other wishes alone is all that is proved.
    pub gaps: Vec<f64>,
    /// Cost of salts and waters, where any states a price.
    pub cost: Option<f64>,
    /// What does not close between what went in and `finished`.
    pub closure: Closure,
}

/// A water to pour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pouring {
    /// Position of the water.
    pub source: usize,
    /// kg.
    pub mass_kg: f64,
    /// Litres at the temperature of that water.
    pub volume_l: f64,
    /// Share in the water poured, percent by mass.
    pub share_percent: f64,
}

/// A salt to weigh.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weighing {
    /// Position of the salt.
    pub choice: usize,
    /// Position of the balance.
    pub balance: usize,
    /// Whole steps of that balance.
    pub steps: i64,
    /// Mass, g.
    pub mass_g: f64,
}

/// A wish as it was reached.
#[derive(Clone, Debug)]
pub struct Got {
    /// The wish, ready for counting.
    pub rule: Rule,
    /// What is got, in the unit of the wish; for a ratio whose lower part is absent, the upper part.
    pub value: f64,
    /// Whether the water has that value: not the index of a solid of which a part is absent.
    pub present: bool,
    /// Whether it is met.
    pub met: bool,
    /// Why it is not met.
    pub why: Vec<Reason>,
}

/// Demands that cannot be held together.
#[derive(Clone, Debug)]
pub struct Impossible {
    /// A smallest set of demands that collide.
    pub conflict: Vec<Origin>,
    /// They could be held together if more salts might be weighed.
    pub limit_on_salts: bool,
    /// For each of them the smallest change that works.
    pub loosenings: Vec<Loosening>,
    /// The wishes, ready for counting.
    pub rules: Vec<Rule>,
}

/// Tells what a settled answer makes.
pub(super) fn made(order: &Order, rules: &[Rule], settled: &Settled) -> Blend {
    let steps = &settled.answer.steps;
    let masses: Vec<f64> = settled
        .water_kg
        .iter()
        .zip(&order.sources)
        .map(|(kg, source)| kg * source.mass_per_kg_water())
        .collect();
    let all: f64 = masses.iter().sum();
    let pouring = |(source, mass_kg): (usize, &f64)| Pouring {
        source,
        mass_kg: *mass_kg,
        volume_l: mass_kg / order.sources[source].water.density_kg_per_l(),
        share_percent: 100.0 * mass_kg / all,
    };
    let weighing = |(choice, steps): (usize, &i64)| {
        let balance = settled.balance_of[choice];
        let mass_g = order.balances[balance].mass_g(*steps);
        (*steps > 0).then_some(Weighing { choice, balance, steps: *steps, mass_g })
    };
    let weighings: Vec<Weighing> = steps.iter().enumerate().filter_map(weighing).collect();
    let cost = cost(order, settled, &weighings);
    let got = |(at, rule): (usize, &Rule)| {
        let value = value(order, at, rule, settled, cost.unwrap_or(0.0));
        let tangent = settled.litre.tangents[at].as_ref();
        let met = met(&order.wishes[at], rule, value, exact_slack(order, rules, settled, at));
        Got {
            rule: rule.clone(),
            value,
            present: tangent.is_none_or(|own| own.present),
            met,
            why: Vec::new(),
        }
    };
    let near = order.wishes.iter().any(|wish| wish.near.is_some());
    Blend {
        pourings: masses.iter().enumerate().map(pouring).collect(),
        reached: rules.iter().enumerate().map(got).collect(),
        weighings,
        finished: settled.finished.clone(),
        mixed: settled.mixed.clone(),
        solved: settled.solved.clone(),
        objectives: if near { settled.answer.reached.clone() } else { Vec::new() },
        gaps: if near { settled.gaps.clone() } else { Vec::new() },
        cost,
        closure: closure(order, settled),
    }
}

/// What a wish gets, in its unit.
fn value(order: &Order, at: usize, rule: &Rule, settled: &Settled, cost: f64) -> f64 {
    match &order.wishes[at].quantity {
        Quantity::Cost => cost,
        Quantity::Property { .. } => {
            settled.litre.tangents[at].as_ref().map_or(f64::NAN, |tangent| tangent.value)
        }
        other => counted(other, rule, &settled.finished),
    }
}

/// What is counted in a finished water, in the unit of the wish; not a cost and not a property.
pub(super) fn counted(quantity: &Quantity, rule: &Rule, finished: &Solution) -> f64 {
    match quantity {
        Quantity::Ratio { numerator, denominator, counted_by } => {
            let count = |component| finished.per_l(&sum_of(component).times(counted_by.per_mole(component)));
            let (upper, lower) = (count(*numerator), count(*denominator));
            if lower > 0.0 { upper / lower } else { upper }
        }
        other => {
            let factor = rule.factor(finished.density_kg_per_l(), finished.water_kg_per_l());
            // where acids outrun the bicarbonate the sums are no longer linear: what is got is told as it is
            let sum = match other {
                Quantity::Tds => solids::tds(finished.totals()).ok().map(|grams| 1000.0 * grams),
                Quantity::Residue180c => {
                    solids::residue_180c(finished.totals()).ok().map(|grams| 1000.0 * grams)
                }
                _ => None,
            };
            let per_l = sum.map_or_else(|| finished.per_l(&rule.sum), |sum| sum * finished.water_kg_per_l());
            per_l * factor
        }
    }
}

/// Whether a value meets a wish.
pub(super) fn met(wish: &Wish, rule: &Rule, value: f64, exact_slack: f64) -> bool {
    let hold = |bound: f64| 2e-9 * rule.size(bound);
    let tolerance = |near: f64| wish.tolerance.of_size(rule.size(near));
    rule.near.is_none_or(|near| (value - near).abs() <= tolerance(near) + hold(near))
        && rule.low.is_none_or(|low| value >= low - hold(low))
        && rule.high.is_none_or(|high| value <= high + hold(high))
        && rule.exact.is_none_or(|exact| (value - exact).abs() <= exact_slack + hold(exact))
}

fn exact_slack(order: &Order, rules: &[Rule], settled: &Settled, at: usize) -> f64 {
    let Some(exact) = rules[at].exact else { return 0.0 };
    Frame::new(order, &settled.litre, rules, &settled.balance_of).finest_move(at, exact) / 2.0
}

/// Cost of what is weighed and poured, where anything states a price.
fn cost(order: &Order, settled: &Settled, weighings: &[Weighing]) -> Option<f64> {
    let salts = order.shelf.iter().any(|choice| choice.price_per_kg.is_some());
    let waters = order.sources.iter().any(|source| source.price_per_1000_l.is_some());
    let priced = |w: &Weighing| w.mass_g / 1000.0 * order.shelf[w.choice].price_per_kg.unwrap_or(0.0);
    let of_salts: f64 = weighings.iter().map(priced).sum();
    let of_waters: f64 = settled
        .water_kg
        .iter()
        .zip(&order.sources)
        .map(|(kg, source)| kg * source.price_per_kg_water())
        .sum();
    (salts || waters).then_some(of_salts + of_waters)
}

/// What does not close between the waters and salts that went in and the finished water.
fn closure(order: &Order, settled: &Settled) -> Closure {
    let frame = Frame::new(order, &settled.litre, &[], &settled.balance_of);
    let waters = settled.water_kg.iter().zip(&order.sources).map(|(kg, source)| (*kg, source.water.totals()));
    let moles = settled.answer.steps.iter().enumerate().map(|(at, n)| *n as f64 * frame.moles_per_step(at));
    let salts = moles.zip(&order.shelf).map(|(moles, choice)| (moles, choice.added.per_mole()));
    let parts: Vec<_> = waters.chain(salts).collect();
    let water_kg = settled.finished.water_kg_per_l() * order.volume_l;
    Closure::of(&parts, water_kg, settled.finished.totals())
}
