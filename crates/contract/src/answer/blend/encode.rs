//! What came out of an order, as an answer.

use springwright_chem::formulation::counting::Rule;
use springwright_chem::formulation::loosening::Loosening;
use springwright_chem::formulation::outcome::Got;
use springwright_chem::formulation::reason::{Reason as Why, Tie, named};
use springwright_chem::formulation::words::{amount, number};
use springwright_chem::formulation::{Blend, Impossible, Order, Origin};
use springwright_chem::matter::formula::Formula;
use springwright_chem::sources;

use super::Task;
use super::clear::Judged;
use crate::answer::said;
use crate::answer::state::Answered;
use crate::blend::{BlendAnswer, BlendStatus, Pouring, Reached, Reason, Relaxation, Weighing};
use crate::measured::Measured;
use crate::problem::Fault;
use crate::reading::below;
use crate::said::{Caution, Finding};

/// The answer of a blend that holds every demand.
pub(super) fn made(
    task: &Task<'_>,
    blend: &Blend,
    judged: &[Judged],
    finished: Answered,
    mut answer: BlendAnswer,
) -> BlendAnswer {
    let order = &task.order;
    answer.pourings = pourings(task, blend);
    answer.weighings = weighings(task, blend);
    answer.water = Some(finished.water);
    answer.not_judged = finished.not_judged;
    answer.reached = all_reached(task, blend, judged);
    let met = answer.reached.iter().all(|wish| wish.met);
    answer.status = if met { BlendStatus::Solved } else { BlendStatus::Nearest };
    answer.objective_values = blend.objectives.iter().map(|level| level.objective).collect();
    answer.gap.clone_from(&blend.gaps);
    answer.cost = blend.cost;
    answer.findings.extend(super::findings(blend));
    answer.findings.extend(finished.findings);
    answer.findings.extend(slow_salts(order, blend));
    answer.findings.extend(not_proved(blend));
    answer.cautions = handling(order, blend);
    answer.cautions.extend(said::cautions(&blend.finished));
    answer
}

/// The answer where demands collide.
pub(super) fn impossible(
    task: &Task<'_>,
    impossible: &Impossible,
    mut answer: BlendAnswer,
) -> Result<BlendAnswer, Vec<Fault>> {
    answer.conflict = impossible.conflict.iter().map(|origin| pointer_of(task, *origin)).collect();
    if impossible.limit_on_salts {
        answer.conflict.push("/most_salts".to_owned());
    }
    answer.relaxations = impossible
        .loosenings
        .iter()
        .map(|loosening| relaxation(task, impossible, loosening))
        .collect::<Result<_, _>>()?;
    let refused = |(at, rule): (usize, &Rule)| Reached {
        pointer: task.pointer(at),
        of: named(&task.order.wishes[at].quantity),
        asked: asked(rule),
        got: None,
        verdict: None,
        worst_solid: None,
        met: false,
        why: Vec::new(),
    };
    let own = impossible.rules.iter().enumerate().take(task.own_wishes()).map(refused);
    let clear = task.clear.iter().map(|wish| wish.reached(None, Vec::new()));
    answer.reached = in_order(task, own.collect(), clear.collect());
    // The ways out are waters that somebody may make.
    answer.cautions = said::standing();
    Ok(answer)
}

/// Every wish of the request as it is met, in its order. What hindered a demand to which a wish for haze came is told there.
fn all_reached(task: &Task<'_>, blend: &Blend, judged: &[Judged]) -> Vec<Reached> {
    let (own, demands) = blend.reached.split_at(task.own_wishes());
    let own = own.iter().enumerate().map(|(at, got)| reached(task, at, got)).collect();
    let clear = task.clear.iter().zip(judged).map(|(wish, judged)| {
        let places = &task.places[task.own_wishes()..];
        let of_wish = demands.iter().zip(places).filter(|(_, at)| **at == wish.at);
        let why = of_wish.flat_map(|(got, _)| got.why.iter().map(|why| reason(task, why))).collect();
        wish.reached(Some(judged), why)
    });
    in_order(task, own, clear.collect())
}

/// The wishes of the request in their order.
fn in_order(task: &Task<'_>, own: Vec<Reached>, clear: Vec<Reached>) -> Vec<Reached> {
    let of_haze = task.clear.iter().map(|wish| wish.at);
    let own = task.places.iter().copied().zip(own);
    let mut all: Vec<(usize, Reached)> = own.chain(of_haze.zip(clear)).collect();
    all.sort_by_key(|(at, _)| *at);
    all.into_iter().map(|(_, reached)| reached).collect()
}

fn pourings(task: &Task<'_>, blend: &Blend) -> Vec<Pouring> {
    let (request, order) = (task.request, &task.order);
    let poured = blend.pourings.iter().filter(|pouring| pouring.mass_kg > 0.0);
    poured
        .map(|pouring| Pouring {
            water: order.sources[pouring.source].name.clone(),
            volume_l: pouring.volume_l,
            mass_kg: pouring.mass_kg,
            share_percent: pouring.share_percent,
            temperature_c: order.sources[pouring.source].water.temperature_c(),
            lot: request.waters[pouring.source].lot.clone(),
        })
        .collect()
}

fn weighings(task: &Task<'_>, blend: &Blend) -> Vec<Weighing> {
    let (request, order) = (task.request, &task.order);
    let weighing = |weighing: &springwright_chem::formulation::outcome::Weighing| {
        let choice = &order.shelf[weighing.choice];
        Weighing {
            salt: choice.salt.id.to_owned(),
            name: choice.salt.name.to_owned(),
            formula: choice.salt.formula.as_ref().map(Formula::canonical),
            lot: request.salts[weighing.choice].lot.clone(),
            steps: weighing.steps,
            step_g: order.balances[weighing.balance].step_g,
            mass_g: weighing.mass_g,
            rounding_percent: 50.0 / weighing.steps as f64,
            assay_percent: choice.assay_percent,
            index: weighing.choice as u32,
        }
    };
    blend.weighings.iter().map(weighing).collect()
}

fn reached(task: &Task<'_>, at: usize, got: &Got) -> Reached {
    Reached {
        pointer: task.pointer(at),
        of: named(&task.order.wishes[at].quantity),
        asked: asked(&got.rule),
        got: got.present.then(|| in_unit(&got.rule, got.value)),
        verdict: None,
        worst_solid: None,
        met: got.met,
        why: got.why.iter().map(|why| reason(task, why)).collect(),
    }
}

/// A value in the unit and basis of its wish.
pub(in crate::answer) fn in_unit(rule: &Rule, value: f64) -> Measured {
    Measured {
        value,
        unit: rule.unit.symbol().to_owned(),
        basis: rule.basis.as_ref().map(|basis| basis.symbol().to_owned()),
        uncertainty: None,
        coverage_factor: None,
        comparator: None,
    }
}

/// What a wish asks, in words.
pub(in crate::answer) fn asked(rule: &Rule) -> String {
    let say = |word: &str, value: Option<f64>| {
        value.map(|value| format!("{word} {}", amount(value, rule.unit, rule.basis.as_ref())))
    };
    let parts = [
        say("near", rule.near),
        say("exactly", rule.exact),
        say("at least", rule.low),
        say("at most", rule.high),
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

fn reason(task: &Task<'_>, why: &Why) -> Reason {
    let pointer = |tie: &Tie| match tie {
        Tie::Wish(at) => task.pointer(*at),
        Tie::Source(at) => below("/waters", at),
        Tie::Choice(at) => below("/salts", at),
    };
    Reason {
        code: why.code.to_owned(),
        text: why.text.clone(),
        tied_by: why.tied_by.iter().map(pointer).collect(),
        way_out: why.way_out.clone(),
        freeing_salts: why.freeing.iter().map(|salt| salt.id.to_owned()).collect(),
    }
}

/// Where a demand stands in the request.
fn pointer_of(task: &Task<'_>, origin: Origin) -> String {
    let field = |list: &str, at: usize, field: &str| below(&below(list, at), field);
    match origin {
        Origin::AtMost(at) if at >= task.own_wishes() => task.pointer(at),
        Origin::AtLeast(at) => below(&task.pointer(at), "at_least"),
        Origin::AtMost(at) => below(&task.pointer(at), "at_most"),
        Origin::Exact(at) => below(&task.pointer(at), "exact"),
        Origin::LeastShare(at) => field("/waters", at, "at_least_percent"),
        Origin::MostShare(at) => field("/waters", at, "at_most_percent"),
        Origin::NoNegativeRest(at) => below("/waters", at),
        Origin::LeastMass(at) => field("/salts", at, "at_least_g"),
    }
}

fn relaxation(
    task: &Task<'_>,
    impossible: &Impossible,
    loosening: &Loosening,
) -> Result<Relaxation, Vec<Fault>> {
    let order = &task.order;
    let rule = |at: usize| &impossible.rules[at];
    let of_wish = |at: usize, word: &str| {
        let in_words = |value: f64| amount(value, rule(at).unit, rule(at).basis.as_ref());
        let what = named(&order.wishes[at].quantity);
        let text = format!(
            "let {what} be {word} {} instead of {}",
            in_words(loosening.bound),
            in_words(loosening.asked)
        );
        (text, Some(in_unit(rule(at), loosening.bound)))
    };
    let of_other = |name: &str, what: &str, unit: &str| {
        let (bound, asked) = (number(loosening.bound), number(loosening.asked));
        (format!("let {what} of {name} be {bound} {unit} instead of {asked} {unit}"), None)
    };
    let (text, bound) = match loosening.origin {
        Origin::AtLeast(at) => of_wish(at, "at least"),
        Origin::AtMost(at) => of_wish(at, "at most"),
        Origin::Exact(at) => of_wish(at, "exactly"),
        Origin::LeastShare(at) => of_other(&order.sources[at].name, "the least share", "%"),
        Origin::MostShare(at) => of_other(&order.sources[at].name, "the greatest share", "%"),
        Origin::NoNegativeRest(at) => of_other(&order.sources[at].name, "the share", "%"),
        Origin::LeastMass(at) => of_other(order.shelf[at].salt.name, "the least mass", "g"),
    };
    Ok(Relaxation {
        pointer: pointer_of(task, loosening.origin),
        text,
        bound,
        pourings: pourings(task, &loosening.blend),
        weighings: weighings(task, &loosening.blend),
        water: super::finished(order, &loosening.blend, None)?.water,
    })
}

/// Salts of the blend that dissolve slowly, or whose solubility is not known at this temperature.
fn slow_salts(order: &Order, blend: &Blend) -> Vec<Finding> {
    let mut findings = Vec::new();
    for weighing in &blend.weighings {
        let (salt, pointer) = (order.shelf[weighing.choice].salt, below("/salts", weighing.choice));
        if let Some(need) = salt.needs {
            findings.push(Finding {
                code: "dissolves_slowly".to_owned(),
                pointer: pointer.clone(),
                text: format!("{}: {}", salt.name, need.why),
                source: Some(sources::citation(need.mark.source).to_owned()),
            });
        }
        if salt.solubility(order.temperature_c).is_none() && !salt.is_miscible() {
            findings.push(Finding {
                code: "solubility_not_judged".to_owned(),
                pointer,
                text: format!(
                    "no solubility of {} is known at {} °C; whether it dissolves was not judged",
                    salt.name, order.temperature_c
                ),
                source: None,
            });
        }
    }
    findings
}

/// Objectives that are larger by more count as not proved.
const PROVED: f64 = 1e-9;

/// What is not proved of a blend with wishes for the solved state.
fn not_proved(blend: &Blend) -> Option<Finding> {
    blend.solved.as_ref()?;
    let proved = blend.gaps.len() == blend.objectives.len() && blend.gaps.iter().all(|gap| *gap <= PROVED);
    let held = blend.reached.iter().all(|got| got.met);
    (!proved || !held && blend.objectives.is_empty()).then(|| Finding {
        code: "not_proved".to_owned(),
        pointer: String::new(),
        text: "Wishes for pH and other properties of the solved state were searched from step to step, and every step was \
               solved in full; that no better blend exists elsewhere is not proved."
            .to_owned(),
        source: None,
    })
}

/// Cautions on handling what is weighed.
fn handling(order: &Order, blend: &Blend) -> Vec<Caution> {
    blend.weighings.iter().flat_map(|weighing| said::handling(order.shelf[weighing.choice].salt)).collect()
}
