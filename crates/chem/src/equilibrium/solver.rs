//! The solver: from conserved amounts to a state, in a counted number of steps.
//!
//! At fixed activity coefficients the state is the minimum of a convex function of the logarithms of the master
//! activities, D = Σ m - Σ T λ, whose gradient is the mass balance. A Newton step with a line search on D can
//! therefore not go astray, and all amounts stay positive because logarithms are what moves. The coefficients follow
//! after every step. Where the pH or the dissolved CO2 is held, its row drops out and the rest stays convex; the two
//! pairs that are not of that form (alkalinity with pH, dissolved carbonate with CO2) are bracketed roots around it.

use super::activity::Activity;
use super::constants::LN_10;
use super::fault::EquilibriumError;
use super::gas;
use super::linear;
use super::scale;
use super::speciation::{Residuals, Speciation};
use super::system::{CARBON, Given, HYDROGEN, Known, System};
use super::water::debye_huckel_slope;
use crate::matter::component::Component;
use libm::{exp, log};
use std::sync::Arc;

/// Most Newton steps of one search.
const MOST_STEPS: usize = 200;
/// Most steps of the bracketed root around it.
const MOST_ROUNDS: usize = 100;
/// A step this small in every logarithm ends the search.
const SMALL: f64 = 1e-13;
/// Residual beyond which a state is not given out.
const TOLERANCE: f64 = 1e-10;
/// Logarithm of the activity that stands for "none".
const NONE: f64 = -1e4;

/// What is held of the CO2.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Gas {
    Molality(f64),
    LnActivity(f64),
}

/// One convex problem.
#[derive(Clone, Debug)]
struct Problem {
    amounts: Vec<f64>,
    ph: Option<f64>,
    gas: Option<Gas>,
}

/// A point of the search.
#[derive(Clone, Debug)]
struct Point {
    lambda: Vec<f64>,
    m: Vec<f64>,
    activity: Activity,
    steps: usize,
    settled: bool,
}

impl System {
    /// Solves a water made of components that this system has.
    ///
    /// # Errors
    /// Amounts out of range, a component this system was not made for, carbonate quantities that no water has
    /// together, or a search that did not settle.
    pub fn solve(self: &Arc<Self>, given: &Given) -> Result<Speciation, EquilibriumError> {
        given.check()?;
        let missing = |component: &Component| {
            let carbonate = matches!(*component, Component::HCO3 | Component::CO3);
            let present = (0..self.masters.len()).any(|m| self.component(m) == Some(*component));
            !carbonate && given.totals[component.index()] > 0.0 && !present
        };
        if let Some(component) = Component::ALL.iter().find(|component| missing(component)) {
            return Err(EquilibriumError::Component { component: component.id() });
        }
        let (amounts, weak) = self.amounts(&given.totals);
        let mut problem = Problem { amounts, ph: None, gas: None };
        let (mut alkalinity, mut dic) = (None, None);
        for known in given.carbonate {
            match known {
                Known::Alkalinity(value) => alkalinity = Some(value),
                Known::Dic(value) => dic = Some(value),
                Known::Ph(value) => problem.ph = Some(value),
                Known::Co2(value) => problem.gas = Some(Gas::Molality(value)),
                Known::Pco2(bar) => problem.gas = Some(self.under_gas(bar)),
            }
        }
        problem.amounts[HYDROGEN] = -alkalinity.unwrap_or(0.0) - weak;
        problem.amounts[CARBON] = dic.unwrap_or(0.0);
        let point = match (alkalinity, dic, problem.ph, problem.gas) {
            (Some(wanted), _, Some(ph), _) => self.alkalinity_at_ph(problem, wanted, ph, weak)?,
            (_, Some(wanted), _, Some(held)) => self.dic_under_gas(problem, wanted, held)?,
            _ => self.search(&problem, None),
        };
        self.state(point, &given.totals, given.carbonate, weak)
    }

    fn under_gas(&self, bar: f64) -> Gas {
        let pascal = bar * 1e5;
        let total = pascal.max(super::constants::ATMOSPHERE);
        Gas::LnActivity(log(gas::dissolved_activity(self.model.kelvin(), pascal, total)))
    }

    /// Alkalinity with pH: the CO2 activity is the root; alkalinity rises with it at constant pH.
    fn alkalinity_at_ph(&self, problem: Problem, wanted: f64, ph: f64, weak: f64) -> Result<Point, EquilibriumError> {
        let at = |gas: f64, start: Option<&Point>| {
            let held = Problem { gas: Some(Gas::LnActivity(gas)), ph: Some(ph), ..problem.clone() };
            let point = self.search(&held, start);
            let alkalinity = -self.row(HYDROGEN, &point.m) - weak;
            (alkalinity, point)
        };
        let (bare, _) = at(NONE, None);
        let excess = wanted - bare;
        let refused = EquilibriumError::NoSuchWater {
            first: "alkalinity",
            second: "pH",
            why: "at this pH the water alone carries more alkalinity than was stated",
        };
        if !(excess > 0.0) {
            return Err(refused);
        }
        let off = |gas: f64, start: Option<&Point>| {
            let (alkalinity, point) = at(gas, start);
            (log(((alkalinity - bare) / excess).max(1e-300)), point)
        };
        root(off, (-60.0, 4.0), log(excess) - 5.0).ok_or(refused)
    }

    /// Dissolved carbonate with CO2: the pH is the root; carbonate rises with it at constant CO2.
    fn dic_under_gas(&self, problem: Problem, wanted: f64, held: Gas) -> Result<Point, EquilibriumError> {
        let refused = EquilibriumError::NoSuchWater {
            first: "dissolved carbonate",
            second: "dissolved CO2",
            why: "the CO2 alone is more than all the dissolved carbonate that was stated",
        };
        let off = |ph: f64, start: Option<&Point>| {
            let at = Problem { ph: Some(ph), gas: Some(held), ..problem.clone() };
            let point = self.search(&at, start);
            let co2 = point.m[self.co2];
            let rest = self.row(CARBON, &point.m) - co2;
            let wanted = wanted - co2;
            (if wanted > 0.0 { log((rest / wanted).max(1e-300)) } else { f64::INFINITY }, point)
        };
        root(off, (0.0, 14.0), 7.0).ok_or(refused)
    }

    /// Σ ν m of one master.
    pub(crate) fn row(&self, master: usize, m: &[f64]) -> f64 {
        self.made_of[master].iter().zip(m).map(|(n, m)| n * m).sum()
    }

    fn start(&self, problem: &Problem) -> Point {
        let mut lambda: Vec<f64> = problem.amounts.iter().map(|t| if *t > 0.0 { log(*t) } else { NONE }).collect();
        let carbon = problem.amounts[CARBON];
        // strong base of the problem: what bicarbonate and carbonate would have to carry
        let weak: f64 = (2..lambda.len()).map(|k| problem.amounts[k] * self.weak_charge(k)).sum();
        let alkalinity = -problem.amounts[HYDROGEN] - weak;
        let ph = problem.ph.unwrap_or_else(|| guess_ph(alkalinity, carbon, problem.gas));
        lambda[HYDROGEN] = -LN_10 * ph;
        if carbon > 0.0 {
            let (first, second) = (exp(-LN_10 * 6.35), exp(-LN_10 * 10.33));
            let h = exp(lambda[HYDROGEN]);
            lambda[CARBON] = log(carbon / (1.0 + first / h * (1.0 + second / h)));
        }
        let mut m = vec![0.0; self.species.len()];
        let rough = self.species.iter().enumerate().filter(|(_, at)| **at > 0);
        for (place, at) in rough {
            if let Some(master) = self.masters.iter().position(|m| m == at) {
                m[place] = problem.amounts[master].clamp(0.0, 20.0);
            }
        }
        let mut activity = Activity::default();
        self.interactions.evaluate(&m, &mut activity);
        for (k, master) in self.masters.iter().enumerate().filter(|(k, _)| *k > CARBON) {
            let place = self.species.iter().position(|at| at == master).unwrap_or(0);
            lambda[k] += activity.ln_gamma[place];
        }
        Point { lambda, m, activity, steps: 0, settled: false }
    }

    fn weak_charge(&self, master: usize) -> f64 {
        use crate::matter::component::Role;
        let weak = self.component(master).is_some_and(|component| component.role() == Role::WeakAcid);
        if weak { self.charge_of_master(master) } else { 0.0 }
    }

    fn charge_of_master(&self, master: usize) -> f64 {
        f64::from(super::species::table().species[self.masters[master]].charge)
    }

    /// Puts the held quantities into the logarithms, at the present activity coefficients.
    fn hold(&self, problem: &Problem, point: &mut Point) {
        if let Some(ph) = problem.ph {
            let slope = debye_huckel_slope_of(self);
            let convention = scale::ln_gamma_chloride(slope, point.activity.ionic_strength);
            point.lambda[HYDROGEN] = -LN_10 * ph - point.activity.ln_gamma[self.chloride] + convention;
        }
        match problem.gas {
            Some(Gas::LnActivity(value)) => point.lambda[CARBON] = value,
            Some(Gas::Molality(0.0)) => point.lambda[CARBON] = NONE,
            Some(Gas::Molality(m)) => point.lambda[CARBON] = log(m) + point.activity.ln_gamma[self.co2],
            None => {}
        }
    }

    /// Molalities from the logarithms of the master activities.
    fn fill(&self, lambda: &[f64], activity: &Activity, m: &mut [f64]) {
        for (place, value) in m.iter_mut().enumerate() {
            let mut ln = self.ln_k[place] + self.water[place] * activity.ln_water - activity.ln_gamma[place];
            for (row, lambda) in self.made_of.iter().zip(lambda) {
                if row[place] != 0.0 {
                    ln += row[place] * lambda;
                }
            }
            *value = exp(ln.min(300.0));
        }
    }

    /// The counted search for one convex problem.
    fn search(&self, problem: &Problem, start: Option<&Point>) -> Point {
        let mut point = start.cloned().unwrap_or_else(|| self.start(problem));
        point.settled = false;
        point.steps = 0;
        let free: Vec<usize> = (0..self.masters.len())
            .filter(|k| match *k {
                HYDROGEN => problem.ph.is_none(),
                CARBON => problem.gas.is_none() && problem.amounts[CARBON] > 0.0,
                other => problem.amounts[other] > 0.0,
            })
            .collect();
        for step in 0..MOST_STEPS {
            point.steps = step + 1;
            self.hold(problem, &mut point);
            self.fill(&point.lambda, &point.activity, &mut point.m);
            let Some(mut direction) = self.direction(problem, &free, &point.m) else { break };
            let longest = direction.iter().fold(0.0, |most: f64, d| most.max(d.abs()));
            if longest > 0.5 {
                self.search_line(problem, &free, &mut point, &mut direction);
            }
            free.iter().zip(&direction).for_each(|(k, d)| point.lambda[*k] += d);
            self.fill(&point.lambda, &point.activity, &mut point.m);
            let shift = self.refresh(&mut point);
            if longest < SMALL && shift < SMALL {
                point.settled = true;
                break;
            }
        }
        self.hold(problem, &mut point);
        self.fill(&point.lambda, &point.activity, &mut point.m);
        self.refresh(&mut point);
        point
    }

    /// Evaluates the activity coefficients at the present molalities; answers the largest change. Left as they are
    /// while the molalities are still wild.
    fn refresh(&self, point: &mut Point) -> f64 {
        let strength: f64 = self.charge.iter().zip(&point.m).map(|(z, m)| 0.5 * z * z * m).sum();
        if !(strength < 40.0) {
            return f64::INFINITY;
        }
        let mut next = Activity::default();
        self.interactions.evaluate(&point.m, &mut next);
        let old = &point.activity;
        let change = |(a, b): (&f64, &f64)| (a - b).abs();
        let shift = next.ln_gamma.iter().zip(&old.ln_gamma).map(change).fold(0.0, f64::max);
        point.activity = next;
        shift
    }

    /// Newton direction of the free masters at fixed activity coefficients.
    fn direction(&self, problem: &Problem, free: &[usize], m: &[f64]) -> Option<Vec<f64>> {
        let n = free.len();
        let mut matrix = vec![0.0; n * n];
        let mut right = vec![0.0; n];
        for (i, a) in free.iter().enumerate() {
            right[i] = problem.amounts[*a] - self.row(*a, m);
            for (j, b) in free.iter().enumerate().take(i + 1) {
                let rows = self.made_of[*a].iter().zip(&self.made_of[*b]).zip(m);
                let value: f64 = rows.map(|((x, y), m)| x * y * m).sum();
                matrix[i * n + j] = value;
                matrix[j * n + i] = value;
            }
        }
        // scaled by the diagonal, so that amounts of every size weigh alike
        let size: Vec<f64> = (0..n).map(|i| matrix[i * n + i].max(1e-300).sqrt()).collect();
        for i in 0..n {
            (0..n).for_each(|j| matrix[i * n + j] /= size[i] * size[j]);
            right[i] /= size[i];
        }
        linear::solve(&mut matrix, &mut right, n, 1).then(|| {
            right.iter().zip(&size).map(|(value, size)| value / size).collect()
        })
    }

    /// Shortens a long direction until D falls enough.
    fn search_line(&self, problem: &Problem, free: &[usize], point: &mut Point, direction: &mut [f64]) {
        let longest = direction.iter().fold(0.0, |most: f64, d| most.max(d.abs()));
        let cap = (20.0 / longest).min(1.0);
        direction.iter_mut().for_each(|d| *d *= cap);
        let value = |lambda: &[f64], m: &[f64]| {
            let linear: f64 = free.iter().map(|k| problem.amounts[*k] * lambda[*k]).sum();
            m.iter().sum::<f64>() - linear
        };
        let before = value(&point.lambda, &point.m);
        let slope: f64 = free
            .iter()
            .zip(direction.iter())
            .map(|(k, d)| (self.row(*k, &point.m) - problem.amounts[*k]) * d)
            .sum();
        let mut trial = point.m.clone();
        for _ in 0..60 {
            let mut lambda = point.lambda.clone();
            free.iter().zip(direction.iter()).for_each(|(k, d)| lambda[*k] += d);
            self.fill(&lambda, &point.activity, &mut trial);
            if value(&lambda, &trial) <= before + 1e-4 * slope {
                return;
            }
            direction.iter_mut().for_each(|d| *d *= 0.5);
        }
    }

    /// Turns the last point into an answer, or says that it did not settle.
    fn state(
        self: &Arc<Self>,
        point: Point,
        totals: &[f64; Component::COUNT],
        carbonate: [Known; 2],
        weak: f64,
    ) -> Result<Speciation, EquilibriumError> {
        let Point { lambda, m, activity, steps, .. } = point;
        let alkalinity = -self.row(HYDROGEN, &m) - weak;
        let convention = scale::ln_gamma_chloride(debye_huckel_slope_of(self), activity.ionic_strength);
        let ln_h = log(m[HYDROGEN]) + activity.ln_gamma[HYDROGEN];
        let mut state = Speciation {
            ph: -(ln_h + activity.ln_gamma[self.chloride] - convention) / LN_10,
            alkalinity,
            dic: self.row(CARBON, &m),
            ln_water: activity.ln_water,
            osmotic: activity.osmotic,
            ionic_strength: activity.ionic_strength,
            residuals: Residuals::default(),
            iterations: steps,
            system: self.clone(),
            molality: m,
            ln_gamma: activity.ln_gamma,
        };
        state.residuals = self.residuals(&state, &lambda, totals, carbonate);
        let Residuals { mass, charge, equilibrium } = state.residuals;
        let worst = mass.max(charge).max(equilibrium);
        if worst <= TOLERANCE {
            Ok(state)
        } else {
            Err(EquilibriumError::NotConverged { iterations: steps, residual: worst })
        }
    }

    fn residuals(
        &self,
        state: &Speciation,
        lambda: &[f64],
        totals: &[f64; Component::COUNT],
        carbonate: [Known; 2],
    ) -> Residuals {
        let m = &state.molality;
        let relative = |row: usize, wanted: f64, got: f64| {
            let size: f64 = self.made_of[row].iter().zip(m).map(|(n, m)| n.abs() * m).sum();
            (got - wanted).abs() / size.max(wanted.abs()).max(1e-300)
        };
        let mut out = Residuals::default();
        let (amounts, _) = self.amounts(totals);
        for (k, amount) in amounts.iter().enumerate().filter(|(k, amount)| *k > CARBON && **amount > 0.0) {
            out.mass = out.mass.max(relative(k, *amount, self.row(k, m)));
        }
        for known in carbonate {
            match known {
                Known::Dic(value) if value > 0.0 => out.mass = out.mass.max(relative(CARBON, value, state.dic)),
                Known::Alkalinity(value) => out.charge = relative(HYDROGEN, value, state.alkalinity),
                Known::Ph(value) => out.equilibrium = out.equilibrium.max(LN_10 * (value - state.ph).abs()),
                _ => {}
            }
        }
        for (place, molality) in m.iter().enumerate().filter(|(_, m)| **m > 1e-280) {
            let mut ln = self.ln_k[place] + self.water[place] * state.ln_water;
            self.made_of.iter().zip(lambda).for_each(|(row, lambda)| ln += row[place] * lambda);
            let off = (log(*molality) + state.ln_gamma[place] - ln).abs();
            out.equilibrium = out.equilibrium.max(off);
        }
        out
    }
}

fn debye_huckel_slope_of(system: &System) -> f64 {
    debye_huckel_slope(system.model.kelvin())
}

/// A first pH from alkalinity and dissolved carbonate (or CO2) with round constants of 25 °C.
fn guess_ph(alkalinity: f64, carbon: f64, gas: Option<Gas>) -> f64 {
    let (first, second, water) = (4.5e-7, 4.7e-11, 1e-14);
    let least = 1e-12;
    let h = match gas {
        Some(held) => {
            let co2 = match held {
                Gas::Molality(m) => m,
                Gas::LnActivity(ln) => exp(ln),
            };
            let acid = (first * co2 + water).sqrt();
            let both = 0.5 * alkalinity;
            if both > 0.0 { acid * acid / (both + (both * both + acid * acid).sqrt()) } else { acid - alkalinity }
        }
        None if alkalinity <= least => (first * carbon + water).sqrt() - alkalinity,
        None if alkalinity < 0.98 * carbon => first * (carbon - alkalinity) / alkalinity,
        None if alkalinity < 1.98 * carbon => second * (2.0 * carbon - alkalinity) / (alkalinity - 0.98 * carbon).max(least),
        None => water / (alkalinity - 1.9 * carbon).max(1e-7),
    };
    -log(h.clamp(1e-14, 1.0)) / LN_10
}

/// The root of a rising function between two ends, by secants kept inside the bracket; none when the ends do not
/// bracket it.
fn root<F>(mut off: F, ends: (f64, f64), guess: f64) -> Option<Point>
where
    F: FnMut(f64, Option<&Point>) -> (f64, Point),
{
    let (mut low, mut high) = ends;
    let ((low_value, _), (high_value, _)) = (off(low, None), off(high, None));
    if !(low_value <= 0.0 && high_value >= 0.0) {
        return None;
    }
    let mut x = guess.clamp(low, high);
    let mut last: Option<(f64, f64)> = None;
    let mut best: Option<Point> = None;
    let mut steps = 0;
    for _ in 0..MOST_ROUNDS {
        let (value, mut point) = off(x, best.as_ref());
        steps += point.steps;
        point.steps = steps;
        best = Some(point);
        if value > 0.0 {
            high = x;
        } else {
            low = x;
        }
        let slope = last.map_or(1.0, |(at, old)| (value - old) / (x - at));
        last = Some((x, value));
        let mut next = if slope > 0.0 && slope.is_finite() { x - value / slope } else { 0.5 * (low + high) };
        if !(next > low && next < high) {
            next = 0.5 * (low + high);
        }
        if value.abs() < 4e-14 || (next - x).abs() < 1e-15 * x.abs() || high - low < 1e-14 {
            break;
        }
        x = next;
    }
    best
}
