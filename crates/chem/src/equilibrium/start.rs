//! A convex problem of the solver and the point its search starts from.

use super::activity::Activity;
use super::constants::LN_10;
use super::lanes::Lanes;
use super::reading::Reading;
use super::scheme::{CARBON, HYDROGEN};
use super::system::System;
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

/// Activity coefficients of one composition.
#[derive(Clone, Debug, Default)]
pub(super) struct Coefficients {
    pub(super) ln_coefficient: Vec<f64>,
    pub(super) ln_water: f64,
    pub(super) osmotic: f64,
    pub(super) ionic_strength: f64,
}

impl From<&Activity<1>> for Coefficients {
    fn from(activity: &Activity<1>) -> Self {
        Coefficients {
            ln_coefficient: activity.ln_coefficient.iter().map(|ln| ln.0[0]).collect(),
            ln_water: activity.ln_water.0[0],
            osmotic: activity.osmotic.0[0],
            ionic_strength: activity.ionic_strength.0[0],
        }
    }
}

/// A point of the search.
#[derive(Clone, Debug)]
pub(super) struct Point {
    pub(super) lambda: Vec<f64>,
    pub(super) m: Vec<f64>,
    pub(super) activity: Coefficients,
    pub(super) steps: usize,
    pub(super) settled: bool,
    /// The figures read off it, where the short way led here.
    pub(super) reading: Option<Reading<1>>,
}

impl System {
    /// The activity coefficients at molalities.
    pub(super) fn coefficients(&self, m: &[f64]) -> Coefficients {
        let m: Vec<Lanes<1>> = m.iter().map(|m| Lanes([*m])).collect();
        let mut activity = Activity::default();
        self.scheme.interactions.evaluate(&self.values, &m, &mut activity);
        Coefficients::from(&activity)
    }

    /// Where the search for a problem begins: everything as free ions, the pH from round carbonate constants.
    pub(super) fn start(&self, problem: &Problem) -> Point {
        let mut lambda: Vec<f64> =
            problem.amounts.iter().map(|t| if *t > 0.0 { log(*t) } else { NONE }).collect();
        let carbon = problem.amounts[CARBON];
        // strong base of the problem: what bicarbonate and carbonate would have to carry
        let weak: f64 =
            (2..lambda.len()).map(|k| problem.amounts[k] * self.scheme.masters[k].weak_charge).sum();
        let alkalinity = -problem.amounts[HYDROGEN] - weak;
        let ph = problem.ph.unwrap_or_else(|| {
            let co2 = problem.gas.map(|held| match held {
                Gas::Molality(m) => m,
                Gas::LnActivity(ln) => exp(ln),
            });
            -log(guess_hydrogen(alkalinity, carbon, co2)) / LN_10
        });
        lambda[HYDROGEN] = -LN_10 * ph;
        if carbon > 0.0 {
            let (first, second) = (exp(-LN_10 * 6.35), exp(-LN_10 * 10.33));
            let h = exp(lambda[HYDROGEN]);
            lambda[CARBON] = log(carbon / (1.0 + first / h * (1.0 + second / h)));
        }
        // free ions of the strong components, to judge the ionic strength
        let mut m = vec![0.0; self.scheme.species.len()];
        for (k, master) in self.scheme.masters.iter().enumerate().skip(CARBON + 1) {
            m[master.place] = problem.amounts[k].clamp(0.0, 6.0);
        }
        let activity = self.coefficients(&m);
        for k in (CARBON + 1)..self.scheme.masters.len() {
            if problem.amounts[k] > 0.0 {
                lambda[k] -= log(self.protonation(k, lambda[HYDROGEN], &activity));
            }
        }
        Point { lambda, m, activity, steps: 0, settled: false, reading: None }
    }

    /// All that one master makes with H alone, per activity of the master.
    fn protonation(&self, master: usize, ln_h: f64, activity: &Coefficients) -> f64 {
        let made_of = &self.scheme.made_of;
        let alone = |place: &usize| {
            let only = |k: usize| k == HYDROGEN || k == master || made_of[k][*place] == 0.0;
            made_of[master][*place] == 1.0 && (0..made_of.len()).all(only)
        };
        let each = |place: usize| {
            exp(self.ln_k(place) + made_of[HYDROGEN][place] * ln_h - activity.ln_coefficient[place])
        };
        (0..self.scheme.species.len()).filter(alone).map(each).sum()
    }
}

/// A first hydrogen activity from alkalinity and dissolved carbonate (or the activity of CO2) with round constants of
/// 25 °C.
pub(super) fn guess_hydrogen(alkalinity: f64, carbon: f64, co2: Option<f64>) -> f64 {
    let (first, second, water) = (4.5e-7, 4.7e-11, 1e-14);
    let least = 1e-12;
    let h = match co2 {
        Some(co2) => {
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
    h.clamp(1e-14, 1.0)
}
