//! A convex problem of the solver and the point its search starts from.

use super::activity::Activity;
use super::constants::LN_10;
use super::species::table;
use super::system::{CARBON, HYDROGEN, System};
use crate::matter::component::Role;
use libm::{exp, log};

/// Logarithm of the activity that stands for "none".
pub(super) const NONE: f64 = -1e4;

/// What is held of the CO2.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Gas {
    Molality(f64),
    LnActivity(f64),
}

/// One convex problem.
#[derive(Clone, Debug)]
pub(super) struct Problem {
    pub(super) amounts: Vec<f64>,
    pub(super) ph: Option<f64>,
    pub(super) gas: Option<Gas>,
}

/// A point of the search.
#[derive(Clone, Debug)]
pub(super) struct Point {
    pub(super) lambda: Vec<f64>,
    pub(super) m: Vec<f64>,
    pub(super) activity: Activity,
    pub(super) steps: usize,
    pub(super) settled: bool,
}

impl System {
    /// Where the search for a problem begins: everything as free ions, the pH from round carbonate constants.
    pub(super) fn start(&self, problem: &Problem) -> Point {
        let mut lambda: Vec<f64> =
            problem.amounts.iter().map(|t| if *t > 0.0 { log(*t) } else { NONE }).collect();
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
        // free ions of the strong components, to judge the ionic strength
        let mut m = vec![0.0; self.species.len()];
        for (k, master) in self.masters.iter().enumerate().filter(|(k, _)| *k > CARBON) {
            let place = self.species.iter().position(|at| at == master).unwrap_or(0);
            m[place] = problem.amounts[k].clamp(0.0, 6.0);
        }
        let mut activity = Activity::default();
        self.interactions.evaluate(&m, &mut activity);
        for k in (CARBON + 1)..self.masters.len() {
            if problem.amounts[k] > 0.0 {
                lambda[k] -= log(self.protonation(k, lambda[HYDROGEN], &activity));
            }
        }
        Point { lambda, m, activity, steps: 0, settled: false }
    }

    /// All that one master makes with H alone, per activity of the master.
    fn protonation(&self, master: usize, ln_h: f64, activity: &Activity) -> f64 {
        let alone = |place: &usize| {
            let only = |k: usize| k == HYDROGEN || k == master || self.made_of[k][*place] == 0.0;
            self.made_of[master][*place] == 1.0 && (0..self.masters.len()).all(only)
        };
        let each = |place: usize| {
            exp(self.ln_k[place] + self.made_of[HYDROGEN][place] * ln_h - activity.ln_coefficient[place])
        };
        (0..self.species.len()).filter(alone).map(each).sum()
    }

    fn weak_charge(&self, master: usize) -> f64 {
        let weak = self.component(master).is_some_and(|component| component.role() == Role::WeakAcid);
        if weak { f64::from(table().species[self.masters[master]].charge) } else { 0.0 }
    }
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
            if both > 0.0 {
                acid * acid / (both + (both * both + acid * acid).sqrt())
            } else {
                acid - alkalinity
            }
        }
        None if alkalinity <= least => (first * carbon + water).sqrt() - alkalinity,
        None if alkalinity < 0.98 * carbon => first * (carbon - alkalinity) / alkalinity,
        None if alkalinity < 1.98 * carbon => {
            second * (2.0 * carbon - alkalinity) / (alkalinity - 0.98 * carbon).max(least)
        }
        None => water / (alkalinity - 1.9 * carbon).max(1e-7),
    };
    -log(h.clamp(1e-14, 1.0)) / LN_10
}
