//! The carbonate system: any two of alkalinity, dissolved carbonate, pH, CO2 pressure and dissolved CO2.
//!
//! Seven of the nine different pairs are one convex problem. The other two, alkalinity with pH and dissolved carbonate
//! with CO2, are the root of a rising function of one number, found inside a bracket.

use super::answer::TOLERANCE;
use super::fault::EquilibriumError;
use super::gas;
use super::lanes::Lanes;
use super::plan::Question;
use super::scheme::{CARBON, HYDROGEN};
use super::speciation::Speciation;
use super::start::{Coefficients, Gas, NONE, Point, Problem};
use super::system::{Given, Known, System};
use super::together::Together;
use libm::log;
use std::sync::Arc;

/// Most steps of a bracketed root.
const MOST_ROUNDS: usize = 100;

impl System {
    /// Solves a water made of components that this system has.
    ///
    /// # Errors
    /// Amounts out of range, a component this system was not made for, carbonate quantities that no water has
    /// together, or a search that did not settle.
    pub fn solve(self: &Arc<Self>, given: &Given) -> Result<Speciation, EquilibriumError> {
        given.check()?;
        if let Some(component) = self.scheme.lacks(&given.totals) {
            return Err(EquilibriumError::Component { component: component.id() });
        }
        let (amounts, weak) = self.scheme.amounts(&given.totals);
        let point = match self.short_way(given, &amounts) {
            Some(point) => point,
            None => self.guarded_way(given, amounts, weak)?,
        };
        self.state(point, given, weak)
    }

    /// The few steps that nearly every water needs; none when they do not settle.
    fn short_way(&self, given: &Given, amounts: &[f64]) -> Option<Point> {
        if !self.scheme.is_whole(amounts) {
            return None;
        }
        let question = Question::of(given.carbonate)?;
        let mut together = Together::<1>::new(&self.scheme);
        together.state(&self.scheme, 0, &given.totals, given.carbonate);
        let reading = together.solve(&self.scheme, question, &self.values);
        let points = together.points;
        let sound = points.settled[0] && reading.worst(0) <= TOLERANCE;
        sound.then(|| Point {
            lambda: points.lambda.iter().map(|value| value.0[0]).collect(),
            m: points.m.iter().map(|value| value.0[0]).collect(),
            activity: Coefficients::from(&points.activity),
            steps: points.steps[0],
            settled: true,
            reading: Some(reading),
        })
    }

    /// The guarded search.
    pub(super) fn guarded_way(
        &self,
        given: &Given,
        amounts: Vec<f64>,
        weak: f64,
    ) -> Result<Point, EquilibriumError> {
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
        match (alkalinity, dic, problem.ph, problem.gas) {
            (Some(wanted), _, Some(ph), _) => self.alkalinity_at_ph(problem, wanted, ph, weak),
            (_, Some(wanted), _, Some(held)) => self.dic_under_gas(problem, wanted, held),
            _ => Ok(self.search(&problem, None)),
        }
    }

    fn under_gas(&self, bar: f64) -> Gas {
        let ln = gas::ln_dissolved(Lanes([self.model.kelvin()]), Lanes([bar])).0[0];
        Gas::LnActivity(if bar > 0.0 { ln } else { NONE })
    }

    /// Alkalinity with pH: the CO2 activity is the root; alkalinity rises with it at constant pH.
    fn alkalinity_at_ph(
        &self,
        problem: Problem,
        wanted: f64,
        ph: f64,
        weak: f64,
    ) -> Result<Point, EquilibriumError> {
        let at = |gas: f64, start: Option<&Point>| {
            let held = Problem { gas: Some(Gas::LnActivity(gas)), ph: Some(ph), ..problem.clone() };
            let point = self.search(&held, start);
            let alkalinity = -self.scheme.row(HYDROGEN, &point.m) - weak;
            (alkalinity, point)
        };
        let (bare, _) = at(NONE, None);
        let excess = wanted - bare;
        let refused = EquilibriumError::NoSuchWater {
            first: "alkalinity",
            second: "pH",
            why: "at this pH the water alone carries more alkalinity than was stated",
        };
        if excess.is_nan() || excess <= 0.0 {
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
            let co2 = point.m[self.scheme.co2];
            let rest = self.scheme.row(CARBON, &point.m) - co2;
            let wanted = wanted - co2;
            (if wanted > 0.0 { log((rest / wanted).max(1e-300)) } else { f64::INFINITY }, point)
        };
        root(off, (0.0, 14.0), 7.0).ok_or(refused)
    }
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
