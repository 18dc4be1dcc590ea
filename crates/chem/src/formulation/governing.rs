//! Why a property of the solved state is not what is asked, and what governs it.

use super::counting::Rule;
use super::fault::FormulationError;
use super::frame::Frame;
use super::reason::{Reason, Scene, Tie};
use super::words::{amount, listed};
use crate::numeric::{self, Feasibility};

/// At most so many salts are named for a direction.
const MOST_NAMED: usize = 3;
/// A salt that moves a property by less than this part of what the strongest does is not named.
const MINOR: f64 = 0.02;

impl Scene<'_> {
    /// The reason of a wish where demands on properties are missed: they come first, so that what could be had without
    /// them is given up for coming nearer to them.
    pub(super) fn behind_missed(&self, at: usize, reason: Reason) -> Reason {
        let missed = |other: &usize| {
            *other != at && self.order.wishes[*other].property().is_some() && {
                let got = &self.blend.reached[*other];
                !got.met && got.rule.near.is_none()
            }
        };
        let missed: Vec<usize> = (0..self.rules.len()).filter(missed).collect();
        let other = matches!(reason.code, "held_back" | "grid" | "tied" | "weight" | "most_salts");
        if missed.is_empty() || !other || self.rules[at].near.is_none() {
            return reason;
        }
        let names: Vec<String> = missed.iter().map(|other| self.named(*other)).collect();
        let text = format!(
            "{} is given up for coming nearer to what is demanded of {}, which is not reached",
            self.named(at),
            listed(&names)
        );
        let mut behind = Reason::new("held_back", text);
        behind.tied_by = missed.into_iter().map(Tie::Wish).collect();
        behind.way_out = Some(format!("allow more room for {}", listed(&names)));
        behind
    }

    /// Why a property misses `asked`, the rule as it was asked.
    pub(super) fn why_property(&self, at: usize, asked: &Rule) -> Result<Reason, FormulationError> {
        let got = self.blend.reached[at].value;
        let bounds = [asked.exact, asked.low.filter(|low| got < *low), asked.high.filter(|high| got > *high)];
        let missed = bounds.into_iter().flatten().next();
        let bound = missed.or(asked.near).unwrap_or(got);
        let direction = if got < bound { 1.0 } else { -1.0 };
        let row = self.frame.wish_row(at, bound);
        let brought = self.frame.brought(at, bound);
        let mut reason = if self.helpers(&row, &brought, direction).is_empty() {
            self.nothing_left(at, &brought, direction)
        } else if missed.is_some() {
            self.not_reached(at, asked, bound)?
        } else {
            match self.grid_or_count(at, bound)? {
                Some(reason) => reason,
                None => self.tied(at, bound)?,
            }
        };
        if let Some(governed) = self.governed(&row.columns) {
            reason.text = format!("{}; {governed}", reason.text);
        }
        Ok(reason)
    }

    /// No salt with room and no water moves it the right way.
    fn nothing_left(&self, at: usize, brought: &[f64], direction: f64) -> Reason {
        let what = self.named(at);
        let word = if direction > 0.0 { "raises" } else { "lowers" };
        let full =
            |choice: &usize| brought[*choice] * direction > 1e-15 && self.settled.answer.steps[*choice] > 0;
        match (0..brought.len()).find(full) {
            Some(choice) => self.mass_limit(choice, &format!("what {word} {what}")),
            None => Reason::new("no_source", format!("nothing on the shelf {word} {what} further")),
        }
    }

    /// A demand that no blend was found to hold: what stands in its way near the water that was found.
    fn not_reached(&self, at: usize, asked: &Rule, bound: f64) -> Result<Reason, FormulationError> {
        let what = self.named(at);
        let value = amount(self.blend.reached[at].value, asked.unit, asked.basis.as_ref());
        let bound = amount(bound, asked.unit, asked.basis.as_ref());
        let text = format!("no blend was found whose {what} comes nearer to {bound} than {value}");
        let mut reason = Reason::new("not_reached", text);
        let mut held = self.rules.to_vec();
        held[at] = asked.clone();
        let frame = Frame::new(self.order, self.frame.litre, &held, &self.settled.balance_of);
        let (problem, _) = frame.problem(frame.ungridded());
        if matches!(numeric::feasibility(&problem)?, Feasibility::Infeasible(_)) {
            let collides = self.held_back(at, &frame)?;
            let others = collides.tied_by.iter().any(|tie| *tie != Tie::Wish(at));
            if others {
                (reason.tied_by, reason.way_out) = (collides.tied_by, collides.way_out);
            }
        }
        if reason.way_out.is_none() {
            reason.way_out = Some(format!("allow more room for {what}, or put other salts on the shelf"));
        }
        Ok(reason)
    }

    /// The salts that raise and lower a property by their steps, the strongest first.
    fn governed(&self, by_step: &[f64]) -> Option<String> {
        let per_gram = |at: usize| by_step[at] / self.frame.step_g(at);
        let strongest = (0..by_step.len()).map(|at| per_gram(at).abs()).fold(0.0, f64::max);
        let side = |sign: f64, word: &str| {
            let mut salts: Vec<usize> =
                (0..by_step.len()).filter(|at| sign * per_gram(*at) > MINOR * strongest).collect();
            salts.sort_by(|a, b| per_gram(*b).abs().total_cmp(&per_gram(*a).abs()));
            let name = |at: &usize| self.order.shelf[*at].salt.name.to_lowercase();
            let names: Vec<String> = salts.iter().take(MOST_NAMED).map(name).collect();
            (!names.is_empty()).then(|| format!("{word} by {}", listed(&names)))
        };
        let sides: Vec<String> = [side(1.0, "raised"), side(-1.0, "lowered")].into_iter().flatten().collect();
        (!sides.is_empty()).then(|| format!("it is {}", sides.join(" and ")))
    }
}
