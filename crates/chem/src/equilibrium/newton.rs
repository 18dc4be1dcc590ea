//! The short way to a state: Newton steps on the logarithms of the master activities, for lanes of waters.
//!
//! Each balance is written as the logarithm of what is bound over what there is to bind, which bends little, so that a few
//! steps lead from the water without its complexes to the state; the activity coefficients are followed in every step.
//! A lane that has settled is not touched again, so what its neighbours do cannot move it. A lane that has not settled
//! after a counted number of steps goes the guarded way of `solver`.

use super::activity::Activity;
use super::constants::LN_10;
use super::elementary::{exp, log};
use super::gas;
use super::lanes::Lanes;
use super::plan::{Held, Plan};
use super::scale;
use super::scheme::{CARBON, HYDROGEN, Scheme};
use super::start::NONE;
use super::system::Known;
use super::values::Values;

/// Most steps.
const MOST_STEPS: usize = 24;
/// Longest step in a logarithm.
const LONGEST: f64 = 3.0;
/// A point whose next correction is foreseen below this is final.
const SMALL: f64 = 1e-13;
/// Beyond this correction nothing is foreseen.
const NEAR: f64 = 1e-10;

/// What is given of the waters of the lanes.
#[derive(Clone, Debug, Default)]
pub(crate) struct Stated<const L: usize> {
    /// Conserved amounts by master; hydrogen holds its balance, carbonate all dissolved carbonate.
    pub(crate) amounts: Vec<Lanes<L>>,
    pub(crate) alkalinity: Lanes<L>,
    pub(crate) ph: Lanes<L>,
    /// Held CO2: molality, or pressure in bar.
    pub(crate) gas: Lanes<L>,
    /// ln of the held molality or activity of CO2.
    pub(super) ln_gas: Lanes<L>,
}

impl<const L: usize> Stated<L> {
    /// Fills in the carbonate quantities of one lane; `weak` is the charge of the weak acids as masters.
    pub(crate) fn set(&mut self, lane: usize, known: [Known; 2], weak: f64) {
        for known in known {
            match known {
                Known::Alkalinity(value) => {
                    self.alkalinity.0[lane] = value;
                    self.amounts[HYDROGEN].0[lane] = -value - weak;
                }
                Known::Dic(value) => self.amounts[CARBON].0[lane] = value,
                Known::Ph(value) => self.ph.0[lane] = value,
                Known::Co2(value) | Known::Pco2(value) => self.gas.0[lane] = value,
            }
        }
    }

    /// Turns the held CO2 into logarithms, once every lane is set.
    pub(super) fn close(&mut self, plan: &Plan, kelvin: Lanes<L>) {
        match plan.question.gas {
            Some(Held::Molality) => self.ln_gas = log(self.gas),
            Some(Held::Activity) => self.ln_gas = gas::ln_dissolved(kelvin, self.gas),
            None => {}
        }
    }
}

/// The points of a search.
#[derive(Clone, Debug)]
pub(crate) struct Points<const L: usize> {
    pub(crate) lambda: Vec<Lanes<L>>,
    pub(crate) m: Vec<Lanes<L>>,
    pub(crate) activity: Activity<L>,
    pub(crate) settled: [bool; L],
    pub(crate) steps: [usize; L],
    /// The last correction of each lane.
    pub(crate) last: Lanes<L>,
    /// By member of the families of a plan: see `first`.
    pub(super) factors: Vec<Lanes<L>>,
    next: Activity<L>,
    matrix: Vec<Lanes<L>>,
    right: Vec<Lanes<L>>,
    /// What a balance holds, and what it should hold.
    held: Vec<(Lanes<L>, Lanes<L>)>,
    shift: Vec<Lanes<L>>,
}

impl<const L: usize> Points<L> {
    /// Room for the waters of a scheme.
    pub(crate) fn new(scheme: &Scheme) -> Self {
        let zero = Lanes::default();
        let none = Activity { ln_coefficient: vec![zero; scheme.species.len()], ..Activity::default() };
        Points {
            lambda: vec![Lanes::all(NONE); scheme.masters.len()],
            m: vec![zero; scheme.species.len()],
            shift: vec![zero; scheme.species.len()],
            activity: none.clone(),
            next: none,
            settled: [false; L],
            steps: [0; L],
            last: zero,
            factors: Vec::new(),
            matrix: Vec::new(),
            right: Vec::new(),
            held: Vec::new(),
        }
    }

    /// Searches the states of the lanes.
    pub(crate) fn search(&mut self, scheme: &Scheme, plan: &Plan, values: &Values<L>, stated: &Stated<L>) {
        self.settled = [false; L];
        self.steps = [0; L];
        self.last = Lanes::all(f64::INFINITY);
        for step in 1..=MOST_STEPS {
            self.hold(scheme, plan, values, stated);
            self.fill(scheme, plan, values, stated);
            scheme.interactions.evaluate(values, &self.m, &mut self.next);
            let shift = self.shifts(scheme, plan, values);
            self.assemble(plan, stated);
            eliminate(&mut self.matrix, &mut self.right, plan.unknowns.len());
            let moved = self.take(plan, shift, step);
            self.judge(moved);
            if self.settled.iter().all(|settled| *settled) {
                break;
            }
        }
        self.hold(scheme, plan, values, stated);
        self.fill(scheme, plan, values, stated);
        for (master, place) in &plan.alone {
            let (m, ln) = (self.m[*place], log(self.m[*place]) + self.activity.ln_coefficient[*place]);
            self.lambda[*master] = Lanes::of(|lane| if m.0[lane] > 0.0 { ln.0[lane] } else { NONE });
        }
    }

    /// Puts the held quantities into the logarithms, at the present activity coefficients.
    pub(super) fn hold(&mut self, scheme: &Scheme, plan: &Plan, values: &Values<L>, stated: &Stated<L>) {
        let activity = &self.activity;
        if plan.question.ph {
            let convention = scale::ln_gamma_chloride_of(values.slope, activity.ionic_strength);
            self.lambda[HYDROGEN] =
                -LN_10 * stated.ph - activity.ln_coefficient[scheme.chloride] + convention;
        }
        match plan.question.gas {
            _ if !plan.question.carbonate => self.lambda[CARBON] = Lanes::all(NONE),
            Some(Held::Activity) => self.lambda[CARBON] = stated.ln_gas,
            Some(Held::Molality) => {
                self.lambda[CARBON] = stated.ln_gas + activity.ln_coefficient[scheme.co2];
            }
            None => {}
        }
    }

    /// Molalities from the logarithms of the master activities.
    fn fill(&mut self, scheme: &Scheme, plan: &Plan, values: &Values<L>, stated: &Stated<L>) {
        let activity = &self.activity;
        for place in &plan.formed {
            let mut ln = values.of[*place] - activity.ln_coefficient[*place];
            if scheme.water[*place] != 0.0 {
                ln += scheme.water[*place] * activity.ln_water;
            }
            for (master, n) in &scheme.parts[*place] {
                ln += *n * self.lambda[*master];
            }
            self.m[*place] = exp(ln);
        }
        for (master, place) in &plan.alone {
            self.m[*place] = stated.amounts[*master];
        }
    }

    /// How far each ln m would follow the new activity coefficients by itself; answers the longest way.
    fn shifts(&mut self, scheme: &Scheme, plan: &Plan, values: &Values<L>) -> Lanes<L> {
        let (old, new) = (&self.activity, &self.next);
        let change = |place: usize| new.ln_coefficient[place] - old.ln_coefficient[place];
        let water = new.ln_water - old.ln_water;
        let mut longest = water.abs();
        let mut hydrogen = Lanes::default();
        if plan.question.ph {
            let convention = |strength| scale::ln_gamma_chloride_of(values.slope, strength);
            hydrogen =
                convention(new.ionic_strength) - convention(old.ionic_strength) - change(scheme.chloride);
        }
        let held = plan.question.gas == Some(Held::Molality);
        let carbon = if held { change(scheme.co2) } else { Lanes::default() };
        for place in 0..scheme.species.len() {
            let own = change(place);
            longest = longest.worse(own.abs());
            let mut shift = -own;
            if scheme.water[place] != 0.0 {
                shift += scheme.water[place] * water;
            }
            if plan.question.ph {
                shift += scheme.made_of[HYDROGEN][place] * hydrogen;
            }
            if held {
                shift += scheme.made_of[CARBON][place] * carbon;
            }
            self.shift[place] = shift;
        }
        longest
    }

    /// The matrix and the right-hand side of a step.
    fn assemble(&mut self, plan: &Plan, stated: &Stated<L>) {
        let n = plan.unknowns.len();
        self.matrix.clear();
        self.matrix.resize(n * n, Lanes::default());
        self.right.clear();
        self.held.clear();
        let (m, shift) = (&self.m, &self.shift);
        let sums = |list: &[(usize, f64)]| {
            let (mut sum, mut moved) = (Lanes::default(), Lanes::default());
            for (place, n) in list {
                let part = *n * m[*place];
                sum += part;
                moved += part * shift[*place];
            }
            (sum, moved)
        };
        for balance in &plan.balances {
            let amount = stated.amounts[balance.master];
            let ((bound, bound_moved), (lost, lost_moved)) = (sums(&balance.bound), sums(&balance.lost));
            let bound = bound + (-amount).at_least(Lanes::all(0.0));
            let lost = lost + amount.at_least(Lanes::all(0.0));
            let (per_bound, per_lost) = (1.0 / bound, 1.0 / lost);
            self.right.push(lost_moved * per_lost - bound_moved * per_bound - log(bound * per_lost));
            self.held.push((per_bound, per_lost));
        }
        let sum = |list: &[(usize, f64)]| {
            let mut sum = Lanes::default();
            list.iter().for_each(|(place, n)| sum += *n * m[*place]);
            sum
        };
        for element in &plan.elements {
            let (per_bound, per_lost) = self.held[element.row];
            let mut value = sum(&element.bound) * per_bound;
            if !element.lost.is_empty() {
                value -= sum(&element.lost) * per_lost;
            }
            self.matrix[element.place] = value;
        }
    }

    /// Moves the lanes that have not settled; answers the longest correction of each.
    fn take(&mut self, plan: &Plan, mut longest: Lanes<L>, step: usize) -> Lanes<L> {
        for (unknown, by) in plan.unknowns.iter().zip(&self.right) {
            longest = longest.worse(by.abs());
            let by = by.at_least(Lanes::all(-LONGEST)).at_most(Lanes::all(LONGEST));
            let lambda = &mut self.lambda[*unknown];
            *lambda =
                Lanes::of(
                    |lane| {
                        if self.settled[lane] { lambda.0[lane] } else { lambda.0[lane] + by.0[lane] }
                    },
                );
        }
        if self.settled.iter().any(|settled| *settled) {
            let keep = |old: Lanes<L>, new: &mut Lanes<L>| {
                *new = Lanes::of(|lane| if self.settled[lane] { old.0[lane] } else { new.0[lane] });
            };
            let (old, new) = (&self.activity, &mut self.next);
            old.ln_coefficient.iter().zip(&mut new.ln_coefficient).for_each(|(old, new)| keep(*old, new));
            keep(old.ln_water, &mut new.ln_water);
            keep(old.osmotic, &mut new.osmotic);
            keep(old.ionic_strength, &mut new.ionic_strength);
        }
        core::mem::swap(&mut self.activity, &mut self.next);
        for lane in 0..L {
            if !self.settled[lane] {
                self.steps[lane] = step;
            }
        }
        longest
    }

    /// Marks the lanes whose next correction would be nothing: it is at most the last times their ratio.
    fn judge(&mut self, moved: Lanes<L>) {
        for lane in (0..L).filter(|lane| !self.settled[*lane]).collect::<Vec<_>>() {
            let (now, before) = (moved.0[lane], self.last.0[lane]);
            self.settled[lane] = now < SMALL || (now < NEAR && now * (now / before) < SMALL);
            self.last.0[lane] = now;
        }
    }
}

/// Solves the step in place; rows are scaled, so no exchange is needed near a state, and away from one the guarded way
/// is there.
fn eliminate<const L: usize>(matrix: &mut [Lanes<L>], right: &mut [Lanes<L>], n: usize) {
    for k in 0..n {
        let (above, below) = matrix.split_at_mut((k + 1) * n);
        let row = &mut above[k * n..];
        let inverse = 1.0 / row[k];
        row[k] = inverse;
        let (known, open) = right.split_at_mut(k + 1);
        for (lower, value) in below.chunks_exact_mut(n).zip(open) {
            let factor = lower[k] * inverse;
            for (lower, upper) in lower[k + 1..].iter_mut().zip(&row[k + 1..]) {
                *lower -= factor * *upper;
            }
            *value -= factor * known[k];
        }
    }
    for k in (0..n).rev() {
        let mut sum = right[k];
        for j in k + 1..n {
            sum -= matrix[k * n + j] * right[j];
        }
        right[k] = sum * matrix[k * n + k];
    }
}
