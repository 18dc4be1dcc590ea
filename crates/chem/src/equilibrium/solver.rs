//! The solver: from conserved amounts to a state, in a counted number of steps.
//!
//! At fixed activity coefficients the state is the minimum of a convex function of the logarithms of the master
//! activities, D = Σ m - Σ T λ, whose gradient is the mass balance. A Newton step with a line search on D can
//! therefore not go astray, and all amounts stay positive because logarithms are what moves. The coefficients follow
//! after every step. Where the pH or the dissolved CO2 is held, its row drops out and the rest stays convex; the two
//! pairs that are not of that form (alkalinity with pH, dissolved carbonate with CO2) are bracketed roots around it.

use super::constants::LN_10;
use super::linear;
use super::scale;
use super::scheme::{CARBON, HYDROGEN};
use super::start::{Coefficients, Gas, NONE, Point, Problem};
use super::system::System;
use libm::{exp, log};

/// Most Newton steps of one search.
const MOST_STEPS: usize = 200;
/// Ionic strength beyond which a point of the search is not believed, mol/kg.
const STRONGEST: f64 = 20.0;
/// A step longer than this in any logarithm is shortened by the search along its line.
const LONG: f64 = 0.5;
/// Steps after which the coefficients follow only by a share of their change.
const CALM: usize = 40;
/// That share.
const DAMPED: f64 = 0.4;
/// A step this small in every logarithm ends the search.
const SMALL: f64 = 1e-13;

impl System {
    /// Puts the held quantities into the logarithms, at the present activity coefficients.
    fn hold(&self, problem: &Problem, point: &mut Point) {
        if let Some(ph) = problem.ph {
            let convention = scale::ln_gamma_chloride(self.slope(), point.activity.ionic_strength);
            point.lambda[HYDROGEN] =
                -LN_10 * ph - point.activity.ln_coefficient[self.scheme.chloride] + convention;
        }
        match problem.gas {
            Some(Gas::LnActivity(value)) => point.lambda[CARBON] = value,
            Some(Gas::Molality(0.0)) => point.lambda[CARBON] = NONE,
            Some(Gas::Molality(m)) => {
                point.lambda[CARBON] = log(m) + point.activity.ln_coefficient[self.scheme.co2]
            }
            None => {}
        }
    }

    /// Molalities from the logarithms of the master activities.
    fn fill(&self, lambda: &[f64], activity: &Coefficients, m: &mut [f64]) {
        for (place, value) in m.iter_mut().enumerate() {
            let mut ln = self.ln_k(place) + self.scheme.water[place] * activity.ln_water
                - activity.ln_coefficient[place];
            self.scheme.parts[place].iter().for_each(|(master, n)| ln += n * lambda[*master]);
            *value = exp(ln.min(300.0));
        }
    }

    /// The counted search for one convex problem.
    pub(super) fn search(&self, problem: &Problem, start: Option<&Point>) -> Point {
        let mut point = start.cloned().unwrap_or_else(|| self.start(problem));
        point.settled = false;
        point.steps = 0;
        let free: Vec<usize> = (0..self.scheme.masters.len())
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
            if longest > LONG {
                self.search_line(problem, &free, &mut point, &mut direction);
            }
            free.iter().zip(&direction).for_each(|(k, d)| point.lambda[*k] += d);
            self.fill(&point.lambda, &point.activity, &mut point.m);
            // far from balance the coefficients wait: at fixed ones the search cannot go astray
            if longest > LONG {
                continue;
            }
            let shift = self.refresh(&mut point, if step < CALM { 1.0 } else { DAMPED });
            if longest < SMALL && shift < SMALL {
                point.settled = true;
                break;
            }
        }
        self.hold(problem, &mut point);
        self.fill(&point.lambda, &point.activity, &mut point.m);
        self.refresh(&mut point, 1.0);
        point
    }

    /// Evaluates the activity coefficients at the present molalities; answers the largest change. While the
    /// molalities are wild, the coefficients are those of the same mixture at the strongest the search allows.
    fn refresh(&self, point: &mut Point, share: f64) -> f64 {
        let strength: f64 = self.scheme.charge.iter().zip(&point.m).map(|(z, m)| 0.5 * z * z * m).sum();
        let wild = strength.is_nan() || strength > STRONGEST;
        let mut next = if wild {
            let thin = |m: &f64| m * (STRONGEST / strength);
            let thinner: Vec<f64> =
                point.m.iter().map(thin).map(|m| if m.is_finite() { m } else { 0.0 }).collect();
            self.coefficients(&thinner)
        } else {
            self.coefficients(&point.m)
        };
        let change = |(a, b): (&f64, &f64)| (a - b).abs();
        let shift =
            next.ln_coefficient.iter().zip(&point.activity.ln_coefficient).map(change).fold(0.0, f64::max);
        if share < 1.0 {
            let mix = |(new, old): (&mut f64, &f64)| *new = share * *new + (1.0 - share) * old;
            next.ln_coefficient.iter_mut().zip(&point.activity.ln_coefficient).for_each(mix);
        }
        point.activity = next;
        if wild { f64::INFINITY } else { shift }
    }

    /// Newton direction of the free masters at fixed activity coefficients.
    fn direction(&self, problem: &Problem, free: &[usize], m: &[f64]) -> Option<Vec<f64>> {
        let n = free.len();
        let mut place = vec![usize::MAX; self.scheme.masters.len()];
        free.iter().enumerate().for_each(|(at, master)| place[*master] = at);
        let mut matrix = vec![0.0; n * n];
        let mut right: Vec<f64> = free.iter().map(|master| problem.amounts[*master]).collect();
        for (parts, molality) in self.scheme.parts.iter().zip(m) {
            for (a, x) in parts.iter().filter(|(a, _)| place[*a] < n) {
                let each = x * molality;
                right[place[*a]] -= each;
                for (b, y) in parts.iter().filter(|(b, _)| place[*b] < n) {
                    matrix[place[*a] * n + place[*b]] += each * y;
                }
            }
        }
        // scaled by the diagonal, so that amounts of every size weigh alike
        let size: Vec<f64> = (0..n).map(|i| matrix[i * n + i].max(1e-300).sqrt()).collect();
        for i in 0..n {
            (0..n).for_each(|j| matrix[i * n + j] /= size[i] * size[j]);
            right[i] /= size[i];
        }
        linear::solve(&mut matrix, &mut right, n, 1)
            .then(|| right.iter().zip(&size).map(|(value, size)| value / size).collect())
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
            .map(|(k, d)| (self.scheme.row(*k, &point.m) - problem.amounts[*k]) * d)
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
}
