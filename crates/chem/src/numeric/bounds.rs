//! Bounds first: how many steps of each column can occur at all in an answer better than the best known one.

use super::problem::{HardRow, Objective, Row};
use super::search::Task;

/// Fewest and most steps of a column. `lower` 0 leaves open whether the column is used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Range {
    pub(super) lower: i64,
    pub(super) upper: i64,
}

/// Rounds of tightening; each uses the bounds of the round before.
const ROUNDS: usize = 2;

/// The bounds that the columns state.
pub(super) fn stated(task: &Task<'_>) -> Vec<Range> {
    let usable = |least: i64, most: i64| if most < least { 0 } else { most };
    let ranges = task.columns.iter().map(|c| Range { lower: 0, upper: usable(c.least_used(), c.most_steps) });
    ranges.collect()
}

/// Tightens `ranges` by the hard rows, the ceilings and, when an answer of objective `best` is known, by the wished
/// rows: no row of a better answer is larger than `best` allows. Columns that touch no row are closed.
pub(super) fn tighten(task: &Task<'_>, ranges: &mut [Range], best: Option<f64>) {
    let wish_limit = best.map(|best| match task.objective {
        Objective::RelativeDeviation => best + 1e-9,
        Objective::LeastSquares => (best + 1e-9).sqrt(),
    });
    for _ in 0..ROUNDS {
        for hard in task.hard {
            let ((lower, upper), (below, above)) = (hard.bounds(), hard.tolerances());
            by_row(task, &hard.row, lower - below, upper + above, ranges);
        }
        for ceiling in task.ceilings {
            for row in ceiling.wishes {
                by_row(task, row, -ceiling.most, ceiling.most, ranges);
            }
        }
        if let Some(limit) = wish_limit {
            for row in task.wishes {
                by_row(task, row, -limit, limit, ranges);
            }
        }
    }
    for (index, range) in ranges.iter_mut().enumerate() {
        let touches = |row: &Row| row.columns[index] != 0.0;
        let hard = task.hard.iter().map(|hard: &HardRow| &hard.row);
        let under = task.ceilings.iter().flat_map(|ceiling| ceiling.wishes);
        if !task.wishes.iter().chain(hard).chain(under).any(touches) {
            range.upper = range.lower;
        }
    }
}

/// Tightens by one row that must lie between `lower` and `upper`.
fn by_row(task: &Task<'_>, row: &Row, lower: f64, upper: f64, ranges: &mut [Range]) {
    let (mut least, mut most) = (row.constant, row.constant);
    for (a, range) in row.columns.iter().zip(ranges.iter()) {
        let ends = (a * range.lower as f64, a * range.upper as f64);
        least += ends.0.min(ends.1);
        most += ends.0.max(ends.1);
    }
    for (b, share) in row.shares.iter().zip(task.shares) {
        least += (b * share.lower).min(b * share.upper);
        most += (b * share.lower).max(b * share.upper);
    }
    for (index, &a) in row.columns.iter().enumerate() {
        let range = ranges[index];
        if a == 0.0 || range.lower == range.upper {
            continue;
        }
        // The row without this column lies between these two.
        let ends = (a * range.lower as f64, a * range.upper as f64);
        let (rest_least, rest_most) = (least - ends.0.min(ends.1), most - ends.0.max(ends.1));
        let (from, to) = ((lower - rest_most) / a, (upper - rest_least) / a);
        let (from, to) = if a > 0.0 { (from, to) } else { (to, from) };
        ranges[index] = narrowed(range, from, to, task.columns[index].least_used());
    }
}

/// The whole steps of `range` between `from` and `to`, with room for rounding errors.
fn narrowed(range: Range, from: f64, to: f64, least: i64) -> Range {
    let room = |x: f64| 1e-6 + 1e-9 * x.abs();
    let mut narrow = range;
    if to + room(to) < range.upper as f64 {
        narrow.upper = ((to + room(to)).floor() as i64).max(range.lower);
    }
    if from - room(from) > range.lower as f64 {
        narrow.lower = ((from - room(from)).ceil() as i64).max(least).min(narrow.upper.max(range.lower));
    }
    if narrow.lower == 0 && narrow.upper < least {
        narrow.upper = 0;
    }
    narrow
}

#[cfg(test)]
mod tests {
    use super::{Range, narrowed};

    #[test]
    fn whole_steps_between_reals() {
        let open = Range { lower: 0, upper: 100 };
        assert_eq!(narrowed(open, -5.0, 7.9, 1), Range { lower: 0, upper: 7 });
        assert_eq!(narrowed(open, 2.1, 8.0 - 1e-12, 1), Range { lower: 3, upper: 8 });
        assert_eq!(narrowed(open, f64::NEG_INFINITY, 4.0, 5), Range { lower: 0, upper: 0 });
        assert_eq!(narrowed(open, 0.5, f64::INFINITY, 5), Range { lower: 5, upper: 100 });
    }
}
