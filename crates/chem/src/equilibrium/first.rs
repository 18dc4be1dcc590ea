//! Where the short way begins: the water without its complexes, at activity coefficients by charge alone.

use super::constants::WATER_MOLAR_MASS;
use super::elementary::{exp, log};
use super::lanes::Lanes;
use super::newton::{Points, Stated};
use super::plan::{Family, Plan};
use super::scheme::{CARBON, HYDROGEN, Scheme};
use super::start::guess_hydrogen;
use super::values::Values;

/// Steps of the hydrogen balance.
const ROUNDS: usize = 4;
/// Most hydrogens that a member of a family has lost, and how many powers of the hydrogen activity are kept.
const MOST_LOST: i32 = 3;
const POWERS: usize = 8;

/// What one family adds up to per activity of its master.
struct Tally<const L: usize> {
    sum: Lanes<L>,
    bound: Lanes<L>,
    bound_squares: Lanes<L>,
    lost: Lanes<L>,
    lost_squares: Lanes<L>,
}

/// The hydrogen balance: bound, lost, and how the logarithm of their ratio moves with that of the activity.
struct Balanced<const L: usize> {
    bound: Lanes<L>,
    lost: Lanes<L>,
    slope: Lanes<L>,
}

type Powers<const L: usize> = [Lanes<L>; POWERS];

fn powers<const L: usize>(h: Lanes<L>) -> Powers<L> {
    let mut powers = [Lanes::all(1.0); POWERS];
    let inverse = 1.0 / h;
    for n in 1..=MOST_LOST as usize {
        powers[MOST_LOST as usize - n] = powers[MOST_LOST as usize - n + 1] * inverse;
    }
    for n in MOST_LOST as usize + 1..POWERS {
        powers[n] = powers[n - 1] * h;
    }
    powers
}

fn tally<const L: usize>(family: &Family, factors: &[Lanes<L>], powers: &Powers<L>) -> Tally<L> {
    let zero = Lanes::default();
    let mut tally = Tally { sum: zero, bound: zero, bound_squares: zero, lost: zero, lost_squares: zero };
    for ((_, n), factor) in family.members.iter().zip(factors) {
        let part = *factor * powers[(n + MOST_LOST).clamp(0, POWERS as i32 - 1) as usize];
        let size = f64::from(n.abs());
        tally.sum += part;
        if *n > 0 {
            tally.bound += size * part;
            tally.bound_squares += (size * size) * part;
        } else {
            tally.lost += size * part;
            tally.lost_squares += (size * size) * part;
        }
    }
    tally
}

impl<const L: usize> Points<L> {
    /// Sets the lanes to where their search begins.
    pub(crate) fn begin(&mut self, scheme: &Scheme, plan: &Plan, values: &Values<L>, stated: &mut Stated<L>) {
        stated.close(plan, values.kelvin);
        let stated = &*stated;
        self.estimate_coefficients(scheme, values, stated);
        self.hold(scheme, plan, values, stated);
        self.estimate_factors(scheme, plan, values);
        let question = plan.question;
        let co2 = exp(self.lambda[CARBON]);
        if !question.ph {
            let h = if question.alkalinity {
                self.hydrogen_of_alkalinity(plan, stated, co2)
            } else {
                self.hydrogen_of_carbonate(plan, stated, co2)
            };
            self.lambda[HYDROGEN] = log(h);
        }
        let h = exp(self.lambda[HYDROGEN]);
        let powers = powers(h);
        let mut first = plan.own.members.len();
        for (at, family) in plan.families.iter().enumerate() {
            let factors = &self.factors[first..first + family.members.len()];
            first += family.members.len();
            let Tally { sum, bound, lost, .. } = tally(family, factors, &powers);
            let amount = match at {
                0 if !question.carbonate || question.gas.is_some() => continue,
                0 if !question.dic => {
                    let rest = self.balance(plan, stated, h, None);
                    (rest.bound - rest.lost) / ((lost - bound) / sum).at_least(Lanes::all(1e-9))
                }
                _ => stated.amounts[family.master],
            };
            self.lambda[family.master] = log(amount.at_least(Lanes::all(1e-20)) / sum);
        }
    }

    /// Activity coefficients by charge and ionic strength alone, the strength from the amounts (Davies).
    fn estimate_coefficients(&mut self, scheme: &Scheme, values: &Values<L>, stated: &Stated<L>) {
        let mut strength = Lanes::default();
        let mut solutes = Lanes::default();
        for (master, amount) in scheme.masters.iter().zip(&stated.amounts).skip(CARBON + 1) {
            strength += (0.5 * master.charge * master.charge) * *amount;
            solutes += *amount;
        }
        strength = (strength + 0.5 * stated.amounts[HYDROGEN].abs()).at_most(Lanes::all(3.0));
        let root = strength.sqrt();
        let of_one = -3.0 * values.slope * (root / (1.0 + root) - 0.2 * strength);
        for (ln, charge) in self.activity.ln_coefficient.iter_mut().zip(&scheme.charge) {
            *ln = (charge * charge) * of_one;
        }
        self.activity.ionic_strength = strength;
        self.activity.ln_water = -WATER_MOLAR_MASS * solutes.at_most(Lanes::all(10.0));
    }

    /// What each member of a family comes to per activity of its master where that of hydrogen is one.
    fn estimate_factors(&mut self, scheme: &Scheme, plan: &Plan, values: &Values<L>) {
        self.factors.clear();
        for family in [&plan.own].into_iter().chain(&plan.families) {
            for (place, _) in &family.members {
                let mut ln = values.of[*place] - self.activity.ln_coefficient[*place];
                if scheme.water[*place] != 0.0 {
                    ln += scheme.water[*place] * self.activity.ln_water;
                }
                self.factors.push(exp(ln));
            }
        }
    }

    /// The hydrogen balance at a hydrogen activity, with carbonate as its amount, as CO2 of an activity or left out.
    fn balance(
        &self,
        plan: &Plan,
        stated: &Stated<L>,
        h: Lanes<L>,
        carbonate: Option<Option<Lanes<L>>>,
    ) -> Balanced<L> {
        let powers = powers(h);
        let amount = stated.amounts[HYDROGEN];
        let mut first = plan.own.members.len();
        let own = tally(&plan.own, &self.factors[..first], &powers);
        let mut bound = own.bound + (-amount).at_least(Lanes::all(0.0));
        let mut lost = own.lost + amount.at_least(Lanes::all(0.0));
        let (mut bound_slope, mut lost_slope) = (own.bound_squares, own.lost_squares);
        for (at, family) in plan.families.iter().enumerate() {
            let factors = &self.factors[first..first + family.members.len()];
            first += family.members.len();
            let of = |tally: Tally<L>, times: Lanes<L>, mean: Lanes<L>| {
                let (b, l) = (times * tally.bound, times * tally.lost);
                (b, l, times * tally.bound_squares - mean * b, times * tally.lost_squares + mean * l)
            };
            let gas = match (at, carbonate) {
                (0, None) => continue,
                (0, Some(gas)) => gas,
                _ => None,
            };
            let tally = tally(family, factors, &powers);
            let (b, l, b_slope, l_slope) = match gas {
                Some(activity) => of(tally, activity, Lanes::default()),
                None => {
                    let inverse = 1.0 / tally.sum;
                    let mean = (tally.bound - tally.lost) * inverse;
                    of(tally, stated.amounts[family.master] * inverse, mean)
                }
            };
            bound += b;
            lost += l;
            bound_slope += b_slope;
            lost_slope += l_slope;
        }
        Balanced { bound, lost, slope: bound_slope / bound + lost_slope / lost }
    }

    /// The hydrogen activity that the alkalinity asks for.
    fn hydrogen_of_alkalinity(&self, plan: &Plan, stated: &Stated<L>, co2: Lanes<L>) -> Lanes<L> {
        let question = plan.question;
        let mut h = Lanes::of(|lane| {
            let gas = question.gas.map(|_| co2.0[lane]);
            guess_hydrogen(stated.alkalinity.0[lane], stated.amounts[CARBON].0[lane], gas)
        });
        let carbonate = question.carbonate.then_some(question.gas.map(|_| co2));
        for _ in 0..ROUNDS {
            let Balanced { bound, lost, slope } = self.balance(plan, stated, h, carbonate);
            let by = -2.0 * (bound - lost) / ((bound + lost) * slope);
            let by = by.at_least(Lanes::all(-1.9)).at_most(Lanes::all(1.9));
            // e^x to second order
            h = h * ((2.0 + by) / (2.0 - by));
        }
        h.at_least(Lanes::all(1e-15)).at_most(Lanes::all(10.0))
    }

    /// The hydrogen activity at which CO2 of an activity makes up the dissolved carbonate.
    fn hydrogen_of_carbonate(&self, plan: &Plan, stated: &Stated<L>, co2: Lanes<L>) -> Lanes<L> {
        let own = plan.own.members.len();
        let mut by_lost = [Lanes::default(); 3];
        for ((_, n), factor) in plan.families[0].members.iter().zip(&self.factors[own..]) {
            by_lost[(-n).clamp(0, 2) as usize] += *factor;
        }
        let over = (stated.amounts[CARBON] / co2 - by_lost[0]).at_least(Lanes::all(1e-9));
        let root = (by_lost[1] * by_lost[1] + 4.0 * over * by_lost[2]).sqrt();
        (by_lost[1] + root) / (2.0 * over)
    }
}
