//! A canonical order of columns and rows, so that permuting a request does not change what is searched.

use core::cmp::Ordering;

use super::problem::{Column, HardRow, Level, Problem, Row, Share};

/// A problem in canonical order, with the way back.
pub(super) struct Canonical {
    pub(super) columns: Vec<Column>,
    pub(super) shares: Vec<Share>,
    pub(super) levels: Vec<Level>,
    pub(super) hard: Vec<HardRow>,
    pub(super) most_columns: usize,
    /// Place in the request of each column.
    pub(super) column_origin: Vec<usize>,
    /// Place in the request of each share.
    pub(super) share_origin: Vec<usize>,
}

impl Canonical {
    /// Orders the first level (the problem's own wishes), further levels and everything else.
    pub(super) fn new(problem: &Problem, further: &[Level]) -> Self {
        let own = Level { wishes: problem.wishes.clone(), objective: problem.objective };
        let mut levels: Vec<Level> = core::iter::once(own).chain(further.iter().cloned()).collect();
        for level in &mut levels {
            for row in &mut level.wishes {
                complete(row, problem);
            }
            level.wishes.sort_by_cached_key(RowKey::of);
        }
        let mut hard = problem.hard.clone();
        for row in &mut hard {
            complete(&mut row.row, problem);
        }
        hard.sort_by_cached_key(|hard| RowKey::of(&hard.row).with(hard.bounds()));
        let wished = levels.iter().flat_map(|level| &level.wishes);
        let rows: Vec<&Row> = wished.chain(hard.iter().map(|hard| &hard.row)).collect();
        let column_origin = order(problem.columns.len(), |index| {
            let column = &problem.columns[index];
            let own = [column.least_steps as f64, column.most_steps as f64, column.cost_per_step];
            let rest = [column.mass_per_step, f64::from(u8::from(column.counted))];
            rows.iter().map(|row| row.columns[index]).chain(own).chain(rest).collect()
        });
        let share_origin = order(problem.shares.len(), |index| {
            let share = &problem.shares[index];
            rows.iter().map(|row| row.shares[index]).chain([share.lower, share.upper, share.cost]).collect()
        });
        let mut canonical = Self {
            columns: column_origin.iter().map(|&i| problem.columns[i].clone()).collect(),
            shares: share_origin.iter().map(|&i| problem.shares[i].clone()).collect(),
            levels,
            hard,
            most_columns: problem.most_columns.unwrap_or(usize::MAX),
            column_origin,
            share_origin,
        };
        canonical.rearrange_rows();
        canonical
    }

    fn rearrange_rows(&mut self) {
        let wishes = self.levels.iter_mut().flat_map(|level| &mut level.wishes);
        for row in wishes.chain(self.hard.iter_mut().map(|hard| &mut hard.row)) {
            row.columns = self.column_origin.iter().map(|&i| row.columns[i]).collect();
            row.shares = self.share_origin.iter().map(|&i| row.shares[i]).collect();
        }
    }

    /// Canonical steps in the order of the request.
    pub(super) fn steps_back(&self, steps: &[i64]) -> Vec<i64> {
        let mut back = vec![0; steps.len()];
        self.column_origin.iter().zip(steps).for_each(|(&origin, &count)| back[origin] = count);
        back
    }

    /// Canonical shares in the order of the request.
    pub(super) fn shares_back(&self, shares: &[f64]) -> Vec<f64> {
        let mut back = vec![0.0; shares.len()];
        self.share_origin.iter().zip(shares).for_each(|(&origin, &share)| back[origin] = share);
        back
    }
}

/// Fills in zeros for shares that a row leaves out.
fn complete(row: &mut Row, problem: &Problem) {
    row.shares.resize(problem.shares.len(), 0.0);
}

/// What a row is sorted by: its numbers in an order that permuting columns does not change.
#[derive(Clone, Debug)]
struct RowKey(Vec<f64>);

impl RowKey {
    fn of(row: &Row) -> Self {
        let (mut columns, mut shares) = (row.columns.clone(), row.shares.clone());
        columns.sort_by(f64::total_cmp);
        shares.sort_by(f64::total_cmp);
        let numbers = core::iter::once(row.constant).chain(columns).chain(shares);
        Self(numbers.map(|x| x + 0.0).collect())
    }

    fn with(mut self, (lower, upper): (f64, f64)) -> Self {
        self.0.extend([lower, upper]);
        self
    }
}

impl Ord for RowKey {
    fn cmp(&self, other: &Self) -> Ordering {
        compare(&self.0, &other.0)
    }
}

impl PartialOrd for RowKey {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for RowKey {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for RowKey {}

fn compare(a: &[f64], b: &[f64]) -> Ordering {
    let pairs = a.iter().zip(b).map(|(x, y)| x.total_cmp(y));
    pairs.fold(Ordering::Equal, Ordering::then).then(a.len().cmp(&b.len()))
}

/// Indices 0..count sorted by their key; equal keys keep their order.
fn order(count: usize, key: impl Fn(usize) -> Vec<f64>) -> Vec<usize> {
    let mut keyed: Vec<(Vec<f64>, usize)> = (0..count).map(|index| (key(index), index)).collect();
    keyed.sort_by(|a, b| compare(&a.0, &b.0));
    keyed.into_iter().map(|(_, index)| index).collect()
}
