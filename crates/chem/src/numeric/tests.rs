//! The search against exhaustion on problems small enough to try every answer, and identities of what it promises.

use super::*;

/// A small generator of our own, so that the problems are the same on every machine: xorshift64*.
struct Draw(u64);

impl Draw {
    fn unit(&mut self) -> f64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        (self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    fn whole(&mut self, below: i64) -> i64 {
        (self.unit() * below as f64) as i64
    }
}

/// A problem of up to four columns with up to seven steps each: some rows hard, some columns with a least, sometimes
/// a limit on the number of columns.
fn small(draw: &mut Draw, objective: Objective) -> Problem {
    let columns = 1 + draw.whole(4) as usize;
    let row = |draw: &mut Draw| {
        let coefficients: Vec<f64> =
            (0..columns).map(|_| (draw.between(-0.3, 1.0) * 100.0).round() / 100.0).collect();
        let constant = draw.between(-3.0, 0.5);
        Row::of_columns(&coefficients, constant)
    };
    let wishes = (0..1 + draw.whole(4)).map(|_| row(draw)).collect();
    let hard = (0..draw.whole(3))
        .map(|_| {
            let (row, low) = (row(draw), draw.between(-3.0, 0.0));
            HardRow {
                row,
                lower: Some(low),
                upper: (draw.unit() < 0.5).then_some(low + draw.between(0.3, 3.0)),
            }
        })
        .collect();
    let column = |draw: &mut Draw| Column { least_steps: draw.whole(4), ..Column::up_to(1 + draw.whole(7)) };
    Problem {
        columns: (0..columns).map(|_| column(draw)).collect(),
        wishes,
        hard,
        most_columns: (draw.unit() < 0.5).then(|| 1 + draw.whole(3) as usize),
        objective,
        ..Problem::default()
    }
}

fn allowed(problem: &Problem, steps: &[i64]) -> bool {
    let used = steps.iter().filter(|count| **count > 0).count();
    let fits = |(column, count): (&Column, &i64)| {
        *count == 0 || (column.least_steps.max(1)..=column.most_steps).contains(count)
    };
    problem.columns.iter().zip(steps).all(fits)
        && problem.most_columns.is_none_or(|most| used <= most)
        && problem.hard.iter().all(|hard| hard.holds(steps, &[]))
}

fn score(problem: &Problem, steps: &[i64]) -> f64 {
    let value = |row: &Row| row.value(steps, &[]);
    problem
        .wishes
        .iter()
        .map(value)
        .map(|v| if problem.objective == Objective::LeastSquares { v * v } else { v.abs() })
        .sum()
}

/// The best of every answer there is.
fn by_exhaustion(problem: &Problem) -> Option<f64> {
    let mut best: Option<f64> = None;
    let mut steps = vec![0_i64; problem.columns.len()];
    loop {
        if allowed(problem, &steps) {
            let own = score(problem, &steps);
            best = Some(best.map_or(own, |best| best.min(own)));
        }
        let Some(at) = (0..steps.len()).find(|at| steps[*at] < problem.columns[*at].most_steps) else {
            return best;
        };
        steps[at] += 1;
        steps[..at].fill(0);
    }
}

fn agrees_with_exhaustion(objective: Objective, count: usize, seed: u64) {
    let mut draw = Draw(seed);
    let (mut solved, mut empty) = (0, 0);
    for number in 0..count {
        let problem = small(&mut draw, objective);
        match (by_exhaustion(&problem), solve(&problem).unwrap()) {
            (Some(best), Outcome::Solved(answer)) => {
                solved += 1;
                assert!(
                    allowed(&problem, &answer.steps),
                    "{number}: {:?} breaks a limit of {problem:?}",
                    answer.steps
                );
                let own = score(&problem, &answer.steps);
                assert!(own <= best + 1e-9, "{number}: {own} is worse than {best} in {problem:?}");
                assert!(answer.reached[0].bound <= best + 1e-9, "{number}: the bound is above what there is");
            }
            (None, Outcome::Infeasible { .. }) => empty += 1,
            (best, outcome) => {
                panic!("{number}: exhaustion finds {best:?}, the search {outcome:?} in {problem:?}")
            }
        }
    }
    assert!(solved > count / 2 && empty > count / 100, "{solved} solved and {empty} empty tell too little");
}

#[test]
fn sizes_agree_with_exhaustion() {
    agrees_with_exhaustion(Objective::RelativeDeviation, 2000, 7);
}

#[test]
fn squares_agree_with_exhaustion() {
    agrees_with_exhaustion(Objective::LeastSquares, 1000, 11);
}

/// Dropping any row of an irreducible conflict leaves rows that can hold together, by exhaustion; all of them cannot.
#[test]
fn a_conflict_cannot_be_smaller() {
    let mut draw = Draw(13);
    let mut seen = 0;
    for _ in 0..2000 {
        let problem = small(&mut draw, Objective::RelativeDeviation);
        let Feasibility::Infeasible(conflict) = feasibility(&problem).unwrap() else { continue };
        let with = |rows: &[usize]| {
            let hard = rows.iter().map(|row| problem.hard[*row].clone()).collect();
            by_exhaustion(&Problem { hard, ..problem.clone() }).is_some()
        };
        assert!(!with(&conflict.rows));
        if conflict.irreducible {
            seen += 1;
            for dropped in &conflict.rows {
                let rest: Vec<usize> = conflict.rows.iter().copied().filter(|row| row != dropped).collect();
                assert!(with(&rest), "row {dropped} is not needed");
            }
        }
    }
    assert!(seen > 20, "{seen} conflicts tell too little");
}

/// The problem scaled by ten in its coefficients and bounds has the same best steps where they are unique.
#[test]
fn a_common_scale_changes_nothing() {
    let mut draw = Draw(17);
    for _ in 0..300 {
        let problem = small(&mut draw, Objective::RelativeDeviation);
        let Outcome::Solved(answer) = solve(&problem).unwrap() else { continue };
        if answer.tie_break != TieBreak::NoTie {
            continue;
        }
        let eight = |row: &Row| Row {
            columns: row.columns.iter().map(|a| 8.0 * a).collect(),
            shares: Vec::new(),
            constant: 8.0 * row.constant,
        };
        let scaled = Problem { wishes: problem.wishes.iter().map(eight).collect(), ..problem.clone() };
        let Outcome::Solved(other) = solve(&scaled).unwrap() else { panic!("only the wishes changed") };
        assert_eq!(answer.steps, other.steps);
    }
}
