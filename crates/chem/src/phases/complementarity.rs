//! Small linear complementarity problems: y ≥ 0, A y − b ≥ 0, and of each pair one is zero.
//!
//! With A = ν H⁻¹ νᵀ they say which of several solids form from a linearised water and how much. A may be singular:
//! polymorphs take the same ions out.

use crate::equilibrium::linear;

/// Share of a diagonal below which a solid counts as taking out the same ions as those already there.
const DEPENDENT: f64 = 1e-9;

/// The members of an answer: which y are not bound to zero, and their values.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Answer {
    /// Places of the members, in the order in which they came in.
    pub(super) members: Vec<usize>,
    /// y of every place; zero for what is no member.
    pub(super) y: Vec<f64>,
}

/// Solves the problem of `n` places; `a` is row-major, positive semidefinite and symmetric but for rounding. A place
/// comes in where A y − b is below `-slack`; it grows until its own row is met, and a member that this drives to
/// zero leaves. Each step lowers a convex function, so none comes back to a set of members; the steps are counted
/// besides. None when no answer exists or the count ran out.
pub(super) fn solve(a: &[f64], b: &[f64], n: usize, slack: f64) -> Option<Answer> {
    let mut answer = Answer { members: Vec::with_capacity(n), y: vec![0.0; n] };
    for _ in 0..20 * (n + 1) {
        let lacks = |i: usize| b[i] - (0..n).map(|j| a[i * n + j] * answer.y[j]).sum::<f64>();
        let outside = (0..n).filter(|i| !answer.members.contains(i));
        let worst = outside
            .map(|i| (i, lacks(i)))
            .filter(|(_, lack)| *lack > slack)
            .max_by(|(_, one), (_, other)| one.total_cmp(other));
        let Some((place, lack)) = worst else { return Some(answer) };
        enter(a, n, place, lack, &mut answer)?;
    }
    None
}

/// Lets a place in, growing it while the rows of the members stay met.
fn enter(a: &[f64], n: usize, place: usize, mut lack: f64, answer: &mut Answer) -> Option<()> {
    for _ in 0..=n {
        let members = &answer.members;
        let fall = fall(a, n, place, members)?;
        let own = a[place * n + place];
        let rest: f64 = members.iter().zip(&fall).map(|(j, u)| a[place * n + j] * u).sum();
        let curvature = own - rest;
        let full = if curvature > DEPENDENT * own { lack / curvature } else { f64::INFINITY };
        let blocked = members
            .iter()
            .zip(&fall)
            .enumerate()
            .filter(|(_, (_, u))| **u > 0.0)
            .map(|(at, (j, u))| (at, answer.y[*j] / u))
            .min_by(|(_, one), (_, other)| one.total_cmp(other));
        let step = blocked.map_or(full, |(_, most)| most.min(full));
        if !step.is_finite() {
            return None;
        }
        members.iter().zip(&fall).for_each(|(j, u)| answer.y[*j] = (answer.y[*j] - step * u).max(0.0));
        answer.y[place] += step;
        match blocked {
            Some((at, most)) if most < full => {
                let gone = answer.members.remove(at);
                answer.y[gone] = 0.0;
                lack -= step * curvature;
            }
            _ => {
                answer.members.push(place);
                return Some(());
            }
        }
    }
    None
}

/// How much each member falls for each unit of a place that comes in.
fn fall(a: &[f64], n: usize, place: usize, members: &[usize]) -> Option<Vec<f64>> {
    let k = members.len();
    let mut matrix: Vec<f64> = members.iter().flat_map(|i| members.iter().map(|j| a[*i * n + *j])).collect();
    let mut fall: Vec<f64> = members.iter().map(|i| a[*i * n + place]).collect();
    linear::solve(&mut matrix, &mut fall, k, 1).then_some(fall)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Identity: the conditions themselves, to 1e-12, for 300 generated problems A = Bᵀ B, a third of them with two
    /// places alike.
    #[test]
    fn answers_meet_the_conditions() {
        let mut seed = 7_u64;
        let mut draw = move || {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (seed >> 11) as f64 / (1_u64 << 53) as f64 - 0.5
        };
        for case in 0..300 {
            let (n, rank) = (2 + case % 5, 8);
            let mut root: Vec<f64> = (0..n * rank).map(|_| draw()).collect();
            let mut b: Vec<f64> = (0..n).map(|_| draw()).collect();
            if case % 3 == 0 {
                (0..rank).for_each(|r| root[rank + r] = root[r]);
                b[1] = b[0] + if case % 2 == 0 { 0.1 } else { 0.0 };
            }
            let dot = |i: usize, j: usize| (0..rank).map(|r| root[i * rank + r] * root[j * rank + r]).sum();
            let a: Vec<f64> = (0..n * n).map(|at| dot(at / n, at % n)).collect();
            let y = solve(&a, &b, n, 1e-13).unwrap().y;
            for i in 0..n {
                let w: f64 = (0..n).map(|j| a[i * n + j] * y[j]).sum::<f64>() - b[i];
                assert!(y[i] >= 0.0 && w > -1e-12 && (y[i] * w).abs() < 1e-11, "case {case}: {} {w}", y[i]);
            }
        }
    }

    /// A polymorph of a lower product takes the place of another, whatever came first.
    #[test]
    fn the_more_stable_stays() {
        let a = [2.0, 2.0, 2.0, 2.0];
        assert_eq!(solve(&a, &[1.0, 1.5], 2, 1e-13).unwrap().members, [1]);
        assert_eq!(solve(&a, &[1.5, 1.0], 2, 1e-13).unwrap().members, [0]);
        assert_eq!(solve(&a, &[1.0, 1.0], 2, 1e-13).unwrap().members.len(), 1);
        assert_eq!(solve(&a, &[-1.0, -2.0], 2, 1e-13).unwrap().members.len(), 0);
    }
}
