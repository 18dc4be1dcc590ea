//! Answers that tie are told apart by second searches with the objectives held at their best: least cost, fewest
//! counted columns, least mass, then as much as possible of what the request names first.

use super::answer::Counts;
use super::canonical::Canonical;
use super::incumbent::Point;
use super::judge::Ceiling;
use super::problem::{HardRow, Objective, Row};
use super::search::{Found, Pass, Task, search};
use super::tree::Aim;

/// A search among tied answers in progress.
struct Among<'a> {
    canonical: &'a Canonical,
    ceilings: &'a [Ceiling<'a>],
    hard: Vec<HardRow>,
    most_columns: usize,
    /// Relaxations left for all searches together.
    left: u64,
    /// All searches so far ran to their end.
    proved: bool,
}

/// Moves `point` to the first of the answers that tie with it; true when that is proved.
pub(super) fn tell_apart(
    canonical: &Canonical,
    hard: &[HardRow],
    ceilings: &[Ceiling<'_>],
    effort: u64,
    point: &mut Point,
    counts: &mut Counts,
) -> bool {
    let most_columns = canonical.most_columns;
    let mut among =
        Among { canonical, ceilings, hard: hard.to_vec(), most_columns, left: effort, proved: true };
    let costs = canonical.columns.iter().map(|c| c.cost_per_step).collect();
    let share_costs = canonical.shares.iter().map(|s| s.cost).collect();
    let masses = canonical.columns.iter().map(|c| c.mass_per_step).collect();
    let no_mass = vec![0.0; canonical.shares.len()];
    let unique = among.least(costs, share_costs, point, counts)
        || among.fewest(point, counts)
        || among.least(masses, no_mass, point, counts)
        || among.in_order(point, counts);
    among.proved || unique
}

impl Among<'_> {
    fn run(&mut self, wishes: &[Row], point: &Point, most_columns: usize, counts: &mut Counts) -> Found {
        let task = Task {
            columns: &self.canonical.columns,
            shares: &self.canonical.shares,
            wishes,
            objective: Objective::RelativeDeviation,
            hard: &self.hard,
            ceilings: self.ceilings,
            most_columns,
        };
        let found = search(&task, Some(point), &[Pass { aim: Aim::Ties, effort: self.left }]);
        self.left = self.left.saturating_sub(found.counts.relaxations);
        counts.add(found.counts);
        self.proved &= found.finished;
        found
    }

    /// Least of a sum of amounts that are never negative. True when a single answer is left.
    fn least(&mut self, columns: Vec<f64>, shares: Vec<f64>, point: &mut Point, counts: &mut Counts) -> bool {
        let row = Row { columns, shares, constant: 0.0 };
        let now = row.value(&point.steps, &point.shares);
        if now <= 0.0 {
            if row.columns.iter().chain(&row.shares).any(|a| *a > 0.0) {
                self.hard.push(HardRow { row, lower: None, upper: Some(0.0) });
            }
            return false;
        }
        self.improve(&row, now, point, counts)
    }

    /// Makes a row as small as possible and holds it there. `now` is its present value, above 0.
    fn improve(&mut self, row: &Row, now: f64, point: &mut Point, counts: &mut Counts) -> bool {
        let scaled = Row {
            columns: row.columns.iter().map(|a| a / now).collect(),
            shares: row.shares.iter().map(|b| b / now).collect(),
            constant: row.constant / now,
        };
        let found = self.run(core::slice::from_ref(&scaled), point, self.most_columns, counts);
        let unique = found.finished && !found.tie;
        if let Some(best) = found.best {
            *point = best;
        }
        let reached = scaled.value(&point.steps, &point.shares);
        self.hard.push(HardRow { row: scaled, lower: None, upper: Some(reached) });
        unique
    }

    /// Fewest counted columns. True when no column is used, which leaves a single choice of steps.
    fn fewest(&mut self, point: &mut Point, counts: &mut Counts) -> bool {
        loop {
            let columns = self.canonical.columns.iter().zip(&point.steps);
            let used = columns.filter(|(column, steps)| column.counted && **steps > 0).count();
            self.most_columns = self.most_columns.min(used);
            if used == 0 {
                return false;
            }
            match self.run(&[], point, used - 1, counts).best {
                Some(fewer) => *point = fewer,
                None => return false,
            }
        }
    }

    /// As much as possible of each column, then of each share, in the order of the request. True when a single
    /// answer is left.
    fn in_order(&mut self, point: &mut Point, counts: &mut Counts) -> bool {
        let (columns, shares) = (self.canonical.columns.len(), self.canonical.shares.len());
        let mut places: Vec<(usize, usize)> =
            self.canonical.column_origin.iter().enumerate().map(|(line, &origin)| (origin, line)).collect();
        let origins = self.canonical.share_origin.iter().enumerate();
        places.extend(origins.map(|(line, &origin)| (columns + origin, columns + line)));
        places.sort_unstable();
        for (_, line) in places {
            let mut row = Row { columns: vec![0.0; columns], shares: vec![0.0; shares], constant: 0.0 };
            let (most, now) = if line < columns {
                row.columns[line] = -1.0;
                let column = &self.canonical.columns[line];
                (column.most_steps as f64, point.steps[line] as f64)
            } else {
                row.shares[line - columns] = -1.0;
                (self.canonical.shares[line - columns].upper, point.shares[line - columns])
            };
            row.constant = most;
            if now < most && self.improve(&row, most - now, point, counts) {
                return true;
            }
            if line < columns {
                let fixed = Some(most - point.steps[line] as f64);
                self.hard.push(HardRow { row, lower: fixed, upper: fixed });
            }
        }
        true
    }
}
