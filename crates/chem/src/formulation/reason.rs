//! Why a wish is not met: what ties it, what it would cost elsewhere, which salt would free it.

use super::ceiling::{Ceiling, most_g};
use super::counting::Rule;
use super::fault::FormulationError;
use super::frame::{Frame, Litre, Origin};
use super::freeing;
use super::means::Order;
use super::outcome::Blend;
use super::settle::{Settled, relax};
use super::tangent::lean;
use super::wish::Quantity;
use super::words::{amount, listed, number};
use crate::matter::catalogue::Salt;
use crate::numeric::{self, Feasibility, Row};

/// What ties a wish.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tie {
    /// A wish, by position.
    Wish(usize),
    /// A water, by position.
    Source(usize),
    /// A salt, by position.
    Choice(usize),
}

/// One reason why a wish is not met.
#[derive(Clone, Debug)]
pub struct Reason {
    /// Stable code.
    pub code: &'static str,
    /// The reason in words.
    pub text: String,
    /// What ties it.
    pub tied_by: Vec<Tie>,
    /// What would free it, in words.
    pub way_out: Option<String>,
    /// Salts of the catalogue that would free it.
    pub freeing: Vec<&'static Salt>,
}

impl Reason {
    pub(super) fn new(code: &'static str, text: String) -> Reason {
        Reason { code, text, tied_by: Vec::new(), way_out: None, freeing: Vec::new() }
    }
}

/// What a reason is found from.
pub(super) struct Scene<'a> {
    pub order: &'a Order,
    pub rules: &'a [Rule],
    pub frame: Frame<'a>,
    pub settled: &'a Settled,
    pub blend: &'a Blend,
}

/// Adds to each unmet wish of a blend why it is not met.
pub(super) fn explain(
    order: &Order,
    rules: &[Rule],
    settled: &Settled,
    blend: &mut Blend,
) -> Result<(), FormulationError> {
    let unmet: Vec<usize> = (0..rules.len()).filter(|at| !blend.reached[*at].met).collect();
    if unmet.is_empty() {
        return Ok(());
    }
    // A demand that is missed holds nothing back, it comes before every wish.
    let held: Vec<Rule> = rules.iter().zip(&blend.reached).map(|(rule, got)| held(rule, got.met)).collect();
    let litre = lean(order, settled.litre.clone(), true);
    let frame = Frame::new(order, &litre, &held, &settled.balance_of);
    let scene = Scene { order, rules: &held, frame, settled, blend };
    let mut reasons = Vec::new();
    for at in &unmet {
        let of_state = order.wishes[*at].property().is_some();
        let reason = if of_state { scene.why_property(*at, &rules[*at])? } else { scene.why(*at)? };
        reasons.push(scene.behind_missed(*at, reason));
    }
    let tied: Vec<usize> = unmet
        .iter()
        .zip(&reasons)
        .filter(|(at, reason)| may_be_freed(order, **at, reason))
        .map(|(at, _)| *at)
        .collect();
    let freeing = freeing::salts(order, &held, settled, &tied)?;
    for (at, mut reason) in unmet.iter().zip(reasons) {
        if let Some(own) = tied.iter().position(|tied| tied == at) {
            reason.freeing = freeing[own].clone();
        }
        blend.reached[*at].why.push(reason);
    }
    Ok(())
}

/// A rule as it stands: only a linear demand is always held.
fn held(rule: &Rule, met: bool) -> Rule {
    let missed = !met && rule.near.is_none();
    let mut rule = rule.clone();
    if missed {
        (rule.low, rule.high, rule.exact) = (None, None, None);
    }
    rule
}

/// Whether another salt could help at all. Of a property of the solved state its tangent does not tell that.
fn may_be_freed(order: &Order, at: usize, reason: &Reason) -> bool {
    let linear = order.wishes[at].property().is_none();
    linear && matches!(reason.code, "no_source" | "tied" | "held_back" | "mass_limit")
}

impl Scene<'_> {
    fn why(&self, at: usize) -> Result<Reason, FormulationError> {
        let asked = self.rules[at].near.unwrap_or(0.0);
        let got = self.blend.reached[at].value;
        let row = self.frame.wish_row(at, asked);
        let up = got < asked;
        let direction = if up { 1.0 } else { -1.0 };
        let brought = self.frame.brought(at, asked);
        let helpers = self.helpers(&row, &brought, direction);
        if helpers.is_empty() {
            return Ok(self.without_helpers(at, &brought, direction, up));
        }
        if let Some(reason) = self.grid_or_count(at, asked)? {
            return Ok(reason);
        }
        self.tied(at, asked)
    }

    /// Salts and waters of which more (or less) would help by what they bring, and that have room for it.
    pub(super) fn helpers(&self, row: &Row, brought: &[f64], direction: f64) -> Vec<Tie> {
        let columns = self.frame.columns();
        let salt = |at: &usize| {
            let (steps, push) = (self.settled.answer.steps[*at], brought[*at] * direction);
            (push > 1e-15 && steps < columns[*at].most_steps) || (push < -1e-15 && steps > 0)
        };
        let mut helpers: Vec<Tie> = (0..columns.len()).filter(salt).map(Tie::Choice).collect();
        let limits = self.share_limits();
        let water = |at: usize| !limits.contains(&at);
        let moves = row.shares.iter().any(|push| push.abs() > 1e-12);
        if moves
            && self.order.sources.len() > 1
            && (0..self.order.sources.len()).filter(|at| water(*at)).count() > 1
        {
            helpers.push(Tie::Source(0));
        }
        helpers
    }

    /// Waters that stand at a limit of their share.
    fn share_limits(&self) -> Vec<usize> {
        let at_limit = |at: &usize| {
            let (source, share) = (&self.order.sources[*at], self.blend.pourings[*at].share_percent);
            let least = source.least_percent.unwrap_or(0.0);
            let most = source.most_percent.unwrap_or(100.0);
            share <= least + 1e-6 || share >= most - 1e-6
        };
        (0..self.order.sources.len()).filter(at_limit).collect()
    }

    /// Nothing on the shelf moves the wish the right way.
    fn without_helpers(&self, at: usize, brought: &[f64], direction: f64, up: bool) -> Reason {
        let what = self.named(at);
        let full: Vec<usize> = (0..brought.len()).filter(|c| brought[*c] * direction > 1e-15).collect();
        if let Some(first) = full.first() {
            return self.mass_limit(*first, &what);
        }
        if up {
            let text = format!("nothing on the shelf brings more {what}");
            return Reason::new("no_source", text);
        }
        let mut reason =
            Reason::new("already_over", format!("the water alone already holds more {what} than asked"));
        reason.tied_by = (0..self.order.sources.len()).map(Tie::Source).collect();
        let limited = self.order.sources.len() > 1 && !self.share_limits().is_empty();
        if limited {
            reason.code = "share_limit";
            reason.text = format!(
                "the waters may not be shared out further, and what is poured holds more {what} than asked"
            );
        }
        let (asked, got) = (self.rules[at].near.unwrap_or(0.0), self.blend.reached[at].value);
        if asked > 0.0 && got > 0.0 {
            let share = number(100.0 * (1.0 - asked / got));
            reason.way_out = Some(format!("take purified water for about {share} % of it"));
        }
        reason
    }

    pub(super) fn mass_limit(&self, choice: usize, what: &str) -> Reason {
        let (mass, ceiling) = most_g(self.order, choice, self.settled.balance_of[choice]);
        let (name, mass) = (self.order.shelf[choice].salt.name, number(mass));
        let (text, way_out) = match ceiling {
            Ceiling::Balance => (
                format!("no balance takes more than {mass} g of {name}"),
                "weigh it in parts, or take a larger balance",
            ),
            Ceiling::Stock => (format!("only {mass} g of {name} are left"), "take another lot beside it"),
            Ceiling::Order => (format!("no more than {mass} g of {name} may go in"), "allow more of it"),
            Ceiling::Solubility => {
                (format!("this water dissolves only {mass} g of {name}"), "make more water")
            }
        };
        let mut reason = Reason::new("mass_limit", format!("{text}, and it is what brings {what}"));
        reason.tied_by = vec![Tie::Choice(choice)];
        reason.way_out = Some(way_out.to_owned());
        reason
    }

    /// Met without whole steps and without a limit on the number of salts: then one of these is what is in the way.
    pub(super) fn grid_or_count(&self, at: usize, asked: f64) -> Result<Option<Reason>, FormulationError> {
        let Some(free) = relax(&self.frame)? else { return Ok(None) };
        if !self.frame.within(at, asked, &free.steps, &free.shares) {
            return Ok(None);
        }
        let used = self.blend.weighings.len();
        if self.order.most_salts.is_some_and(|most| used >= most)
            && free.steps.iter().filter(|n| **n > 1e-9).count() > used
        {
            let mut reason = Reason::new(
                "most_salts",
                format!("with more than {used} weighings {} would be met", self.named(at)),
            );
            reason.way_out = Some("allow one weighing more".to_owned());
            return Ok(Some(reason));
        }
        let text = format!(
            "the steps and least masses of the balance are too coarse for {} in this volume",
            self.named(at)
        );
        let mut reason = Reason::new("grid", text);
        reason.way_out =
            Some("take a finer balance, make more water, or weigh from a stock solution".to_owned());
        Ok(Some(reason))
    }

    /// Other demands or wishes are in the way: what they become when this one is held.
    pub(super) fn tied(&self, at: usize, asked: f64) -> Result<Reason, FormulationError> {
        let mut held = self.rules.to_vec();
        let tolerance = self.order.wishes[at].tolerance.of_size(held[at].size(asked));
        let (low, high) = (asked - tolerance, asked + tolerance);
        held[at].low = Some(held[at].low.map_or(low, |own| own.max(low)));
        held[at].high = Some(held[at].high.map_or(high, |own| own.min(high)));
        held[at].near = None;
        let litre: &Litre = self.frame.litre;
        let frame = Frame::new(self.order, litre, &held, &self.settled.balance_of);
        match relax(&frame)? {
            Some(forced) => Ok(self.price_of(at, &forced.steps, &forced.shares)),
            None => self.held_back(at, &frame),
        }
    }

    /// The other wishes that get worse when this one is held.
    fn price_of(&self, at: usize, steps: &[f64], shares: &[f64]) -> Reason {
        let mut worse = Vec::new();
        let mut words = Vec::new();
        for other in self.frame.near().filter(|other| *other != at) {
            let asked = self.rules[other].near.unwrap_or(0.0);
            let now = (self.blend.reached[other].value - asked).abs();
            let then = self.frame.off(other, asked, steps, shares);
            if then.abs() > now + 0.01 * self.rules[other].size(asked) {
                let rule = &self.rules[other];
                let value = amount((asked + then).max(0.0), rule.unit, rule.basis.as_ref());
                let asked = amount(asked, rule.unit, rule.basis.as_ref());
                worse.push(Tie::Wish(other));
                words.push(format!("{} {value} (asked near {asked})", self.named(other)));
            }
        }
        let what = self.named(at);
        if worse.is_empty() {
            let mut reason =
                Reason::new("weight", format!("{what} was given up for other wishes that weigh more"));
            reason.way_out = Some("give it more weight or an earlier priority".to_owned());
            return reason;
        }
        let names: Vec<String> = worse
            .iter()
            .filter_map(|tie| match tie {
                Tie::Wish(other) => Some(self.named(*other)),
                Tie::Source(_) | Tie::Choice(_) => None,
            })
            .collect();
        let mut reason =
            Reason::new("tied", format!("with these salts {what} is tied to {}", listed(&names)));
        reason.tied_by = worse;
        reason.way_out = Some(format!("holding {what} would make {}", listed(&words)));
        reason
    }

    /// Hard demands that leave no room for this wish.
    pub(super) fn held_back(&self, at: usize, frame: &Frame<'_>) -> Result<Reason, FormulationError> {
        let hard = frame.hard();
        let (problem, _) = frame.problem(frame.ungridded());
        let mut reason =
            Reason::new("held_back", format!("other demands leave no room for {}", self.named(at)));
        if let Feasibility::Infeasible(conflict) = numeric::feasibility(&problem)? {
            let ties =
                conflict.rows.iter().map(|row| tie_of(hard[*row].0)).filter(|tie| *tie != Tie::Wish(at));
            reason.tied_by = ties.collect();
            reason.tied_by.dedup();
            let names: Vec<String> = reason.tied_by.iter().map(|tie| self.name_of(*tie)).collect();
            if !names.is_empty() {
                reason.text =
                    format!("{} is held back by what is demanded of {}", self.named(at), listed(&names));
                reason.way_out = Some(format!("allow more room for {}", listed(&names)));
            } else {
                reason.text = format!("nothing on the shelf brings enough {}", self.named(at));
            }
        }
        Ok(reason)
    }

    fn name_of(&self, tie: Tie) -> String {
        match tie {
            Tie::Wish(at) => self.named(at),
            Tie::Source(at) => self.order.sources[at].name.clone(),
            Tie::Choice(at) => self.order.shelf[at].salt.name.to_owned(),
        }
    }

    pub(super) fn named(&self, at: usize) -> String {
        named(&self.order.wishes[at].quantity)
    }
}

/// What a demand is a demand of.
pub(super) fn tie_of(origin: Origin) -> Tie {
    match origin {
        Origin::AtLeast(at) | Origin::AtMost(at) | Origin::Exact(at) => Tie::Wish(at),
        Origin::LeastShare(at) | Origin::MostShare(at) | Origin::NoNegativeRest(at) => Tie::Source(at),
        Origin::LeastMass(at) => Tie::Choice(at),
    }
}

/// A quantity in words.
pub fn named(quantity: &Quantity) -> String {
    match quantity {
        Quantity::Component(component) => component.name().to_owned(),
        Quantity::Sum(parts) => {
            let names: Vec<String> = parts.iter().map(|part| part.name().to_owned()).collect();
            format!("the sum of {}", listed(&names))
        }
        Quantity::Ratio { numerator, denominator, .. } => {
            format!("the ratio of {} to {}", numerator.name(), denominator.name())
        }
        Quantity::Tds => "the sum of ions".to_owned(),
        Quantity::Residue180c => "the residue at 180 °C".to_owned(),
        Quantity::Hardness => "hardness".to_owned(),
        Quantity::Alkalinity => "alkalinity".to_owned(),
        Quantity::Cost => "the cost".to_owned(),
        Quantity::Property { property, condition } => property.named(*condition),
    }
}
