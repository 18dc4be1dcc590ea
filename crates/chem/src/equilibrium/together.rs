//! Waters of one scheme solved side by side, each in a lane.

use super::lanes::Lanes;
use super::newton::{Points, Stated};
use super::plan::{Plan, Question};
use super::reading::Reading;
use super::scheme::{CARBON, Scheme};
use super::system::Known;
use super::values::Values;
use crate::matter::component::Component;

/// Room for as many waters of one scheme as there are lanes. Solving them allocates nothing.
#[derive(Clone, Debug)]
pub(crate) struct Together<const L: usize> {
    pub(crate) points: Points<L>,
    pub(super) stated: Stated<L>,
    weak: Lanes<L>,
}

impl<const L: usize> Together<L> {
    /// Room for waters of a scheme.
    pub(crate) fn new(scheme: &Scheme) -> Self {
        let amounts = vec![Lanes::default(); scheme.masters.len()];
        let stated = Stated { amounts, ..Stated::default() };
        Together { points: Points::new(scheme), stated, weak: Lanes::default() }
    }

    /// States the water of a lane: its totals, which have every component of the scheme, and its carbonate quantities.
    #[inline]
    pub(crate) fn state(
        &mut self,
        scheme: &Scheme,
        lane: usize,
        totals: &[f64; Component::COUNT],
        known: [Known; 2],
    ) {
        let mut weak = 0.0;
        for (master, place) in scheme.masters.iter().zip(&mut self.stated.amounts).skip(CARBON + 1) {
            let amount = master.component.map_or(0.0, |component| totals[component.index()]);
            weak += amount * master.weak_charge;
            place.0[lane] = amount;
        }
        self.weak.0[lane] = weak;
        self.stated.set(lane, known, weak);
    }

    /// Solves the waters of the lanes, which all ask one question.
    pub(crate) fn solve(&mut self, scheme: &Scheme, question: Question, values: &Values<L>) -> Reading<L> {
        let plan: &Plan = scheme.plan(question);
        self.points.begin(scheme, plan, values, &mut self.stated);
        self.points.search(scheme, plan, values, &self.stated);
        self.points.read(scheme, plan, values, &self.stated, self.weak)
    }
}
