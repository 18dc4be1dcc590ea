//! A water at the activity coefficients that it has now, with the solids it may form: a convex problem.
//!
//! At fixed coefficients a water is the minimum of D(δ) = Σ m exp(ν·δ) − T·δ over the shifts δ of the logarithms of the
//! master activities, as in the solver; a solid adds the condition ln Ω + ν·δ ≤ 0, and the amount of it is the
//! multiplier of that condition. So the solids of a water and their amounts come from one minimum, found by Newton steps
//! with a line search and a [complementarity problem](super::complementarity) in each. It needs no constants: those are
//! in the state that it starts from.

use super::complementarity;
use crate::equilibrium::linear;
use crate::equilibrium::{Known, Speciation, species_table};
use libm::exp;

/// Most Newton steps.
const MOST_STEPS: usize = 100;
/// A step this small in every logarithm ends the search.
const SMALL: f64 = 1e-9;
/// The longest step tried in any logarithm.
const LONGEST: f64 = 20.0;
/// Share of the promised fall that a step must bring.
const ENOUGH: f64 = 1e-4;
/// Most halvings of a step.
const MOST_HALVINGS: usize = 50;

/// One solid beside the water.
#[derive(Clone, Debug)]
pub(super) struct Condition {
    /// ln Ω now.
    pub(super) ln_omega: f64,
    /// Masters of the species table in a formula unit.
    pub(super) masters: Vec<(usize, f64)>,
    /// Amount there now, mol per kg of water at the start.
    pub(super) amount: f64,
}

/// The problem.
#[derive(Clone, Debug)]
pub(super) struct Frozen {
    /// How many logarithms may move.
    free: usize,
    /// mol of each species per kg of water at the start, and its masters among the free ones.
    species: Vec<(f64, Vec<(usize, f64)>)>,
    /// mol of each free master in water and solids.
    total: Vec<f64>,
    /// ln Ω of each solid and its masters among the free ones.
    solids: Vec<(f64, Vec<(usize, f64)>)>,
    /// Size of the total, to scale.
    size: f64,
}

impl Frozen {
    /// The water of a state, `kilograms` of it for each kilogram at the start, beside solids.
    pub(super) fn of(state: &Speciation, kilograms: f64, solids: &[Condition]) -> Frozen {
        let table = species_table();
        let mut place = vec![None; table.masters.len()];
        let held = held_carbon(state).then(|| table.master("HCO3")).flatten();
        let mut free = 0;
        let mut species = Vec::with_capacity(state.molality.len());
        for (at, molality) in state.system.scheme.species.iter().zip(&state.molality) {
            if *molality <= 0.0 {
                continue;
            }
            let mut parts = Vec::with_capacity(4);
            for (master, n) in table.species[*at].made_of.iter().filter(|(m, _)| Some(*m) != held) {
                let here = *place[*master].get_or_insert_with(|| {
                    free += 1;
                    free - 1
                });
                parts.push((here, *n));
            }
            species.push((kilograms * molality, parts));
        }
        let among = |masters: &[(usize, f64)]| -> Vec<(usize, f64)> {
            masters.iter().filter_map(|(master, n)| place[*master].map(|here| (here, *n))).collect()
        };
        let mut total = vec![0.0; free];
        for (amount, parts) in &species {
            parts.iter().for_each(|(at, n)| total[*at] += n * amount);
        }
        let mut rows = Vec::with_capacity(solids.len());
        for solid in solids {
            let parts = among(&solid.masters);
            parts.iter().for_each(|(at, n)| total[*at] += n * solid.amount);
            rows.push((solid.ln_omega, parts));
        }
        let size = total.iter().map(|t| t.abs()).fold(0.0, f64::max);
        Frozen { free, species, total, solids: rows, size }
    }

    /// The amount of each solid at the minimum, mol per kg of water at the start; none when the search finds none.
    pub(super) fn solve(&self) -> Option<Vec<f64>> {
        let mut shift = vec![0.0; self.free];
        let mut amounts = vec![0.0; self.solids.len()];
        for _ in 0..MOST_STEPS {
            let (gradient, hessian) = self.slopes(&shift);
            let (mut direction, next) = self.direction(&shift, &gradient, hessian)?;
            amounts = next;
            let longest = direction.iter().fold(0.0, |most: f64, d| most.max(d.abs()));
            if longest < SMALL {
                return Some(amounts);
            }
            if longest > LONGEST {
                direction.iter_mut().for_each(|d| *d *= LONGEST / longest);
            }
            self.walk(&mut shift, &direction, &gradient, &amounts);
        }
        Some(amounts)
    }

    /// Gradient and Hessian of D, the Hessian row-major.
    fn slopes(&self, shift: &[f64]) -> (Vec<f64>, Vec<f64>) {
        let k = self.free;
        let mut gradient: Vec<f64> = self.total.iter().map(|t| -t).collect();
        let mut hessian = vec![0.0; k * k];
        for (amount, parts) in &self.species {
            let m = amount * exp(dot(parts, shift).min(300.0));
            for (i, n) in parts {
                gradient[*i] += n * m;
                parts.iter().for_each(|(j, l)| hessian[i * k + j] += n * l * m);
            }
        }
        (gradient, hessian)
    }

    /// The Newton direction that meets the conditions, and the amounts that go with it.
    fn direction(
        &self,
        shift: &[f64],
        gradient: &[f64],
        mut hessian: Vec<f64>,
    ) -> Option<(Vec<f64>, Vec<f64>)> {
        let (k, s) = (self.free, self.solids.len());
        let wide = s + 1;
        // H⁻¹ of the gradient and of every solid at once, scaled by the diagonal
        let size: Vec<f64> = (0..k).map(|i| hessian[i * k + i].max(1e-300).sqrt()).collect();
        let mut right = vec![0.0; k * wide];
        (0..k).for_each(|i| right[i * wide] = gradient[i] / size[i]);
        for (at, (_, parts)) in self.solids.iter().enumerate() {
            parts.iter().for_each(|(i, n)| right[i * wide + 1 + at] = n / size[*i]);
        }
        for i in 0..k {
            (0..k).for_each(|j| hessian[i * k + j] /= size[i] * size[j]);
        }
        if !linear::solve(&mut hessian, &mut right, k, wide) {
            return None;
        }
        (0..k).for_each(|i| (0..wide).for_each(|at| right[i * wide + at] /= size[i]));
        let column = |parts: &[(usize, f64)], at: usize| -> f64 {
            parts.iter().map(|(i, n)| n * right[i * wide + at]).sum()
        };
        let mut a = vec![0.0; s * s];
        let mut b = vec![0.0; s];
        for (i, (ln_omega, parts)) in self.solids.iter().enumerate() {
            b[i] = ln_omega + dot(parts, shift) - column(parts, 0);
            (0..s).for_each(|j| a[i * s + j] = column(parts, 1 + j));
        }
        let amounts = complementarity::solve(&a, &b, s, 1e-12)?.y;
        let towards = |i: usize| {
            let by_solids: f64 = (0..s).map(|at| right[i * wide + 1 + at] * amounts[at]).sum();
            -right[i * wide] - by_solids
        };
        Some(((0..k).map(towards).collect(), amounts))
    }

    /// Goes along a direction as far as D with a charge on unmet conditions falls.
    fn walk(&self, shift: &mut Vec<f64>, direction: &[f64], gradient: &[f64], amounts: &[f64]) {
        let charge = 2.0 * amounts.iter().fold(0.0, |most: f64, y| most.max(*y)) + self.size;
        let value = |shift: &[f64]| {
            let water: f64 =
                self.species.iter().map(|(m, parts)| m * exp(dot(parts, shift).min(300.0))).sum();
            let held: f64 = self.total.iter().zip(shift).map(|(t, d)| t * d).sum();
            water - held + charge * self.unmet(shift)
        };
        let before = value(shift);
        let promised: f64 =
            gradient.iter().zip(direction).map(|(g, d)| g * d).sum::<f64>() - charge * self.unmet(shift);
        let mut share = 1.0;
        for _ in 0..MOST_HALVINGS {
            let trial: Vec<f64> = shift.iter().zip(direction).map(|(x, d)| x + share * d).collect();
            // at the end of the search the fall drowns in rounding
            if value(&trial) <= before + ENOUGH * share * promised + 1e-14 * before.abs() {
                *shift = trial;
                return;
            }
            share *= 0.5;
        }
    }

    fn unmet(&self, shift: &[f64]) -> f64 {
        self.solids.iter().map(|(ln_omega, parts)| (ln_omega + dot(parts, shift)).max(0.0)).sum()
    }
}

fn dot(parts: &[(usize, f64)], values: &[f64]) -> f64 {
    parts.iter().map(|(at, n)| n * values[*at]).sum()
}

/// Whether the CO2 over a water is held, so that its carbonate is not conserved.
pub(super) fn held_carbon(state: &Speciation) -> bool {
    state.given.carbonate.iter().any(|known| matches!(known, Known::Pco2(_) | Known::Co2(_)))
}

/// mol of each master of the species table that is dissolved, per kg of water.
pub(super) fn dissolved(state: &Speciation) -> Vec<f64> {
    let table = species_table();
    let mut amounts = vec![0.0; table.masters.len()];
    for (at, molality) in state.system.scheme.species.iter().zip(&state.molality) {
        table.species[*at].made_of.iter().for_each(|(master, n)| amounts[*master] += n * molality);
    }
    amounts
}
