//! Weighted least squares within bounds, small and dense: the point, how sharply it is told, and how much room the
//! rows leave.
//!
//! An active-set method after Stark and Parker: solve for the free columns; hold the first that leaves its bounds on
//! the way; free the held one whose slope points inward most; until none does. Every column needs a row of its own, so
//! that there is one answer.

use libm::log;

/// A row `slopes · x = target`, already divided by its standard uncertainty.
#[derive(Clone, Debug, PartialEq)]
pub struct FitRow {
    /// One number for each column.
    pub slopes: Vec<f64>,
    /// What the row should give.
    pub target: f64,
}

/// What was found.
#[derive(Clone, Debug, PartialEq)]
pub struct Fitted {
    /// The point.
    pub values: Vec<f64>,
    /// Sum of squares there.
    pub sum_of_squares: f64,
    /// ln of the determinant of the normal matrix of all columns.
    pub log_determinant: f64,
    factor: Vec<f64>,
}

/// The point within `lower` and `upper` that comes closest to all rows. `None` where the rows leave a column open,
/// bounds cross, a number is not finite, or the counted steps end.
///
/// ```
/// use springwright_chem::numeric::{FitRow, fit};
/// // x = 1, y = 2 and x + y = 0, equally sure: without bounds x = 0, y = 1; y may not pass 0.5
/// let row = |slopes: [f64; 2], target| FitRow { slopes: slopes.to_vec(), target };
/// let rows = [row([1.0, 0.0], 1.0), row([0.0, 1.0], 2.0), row([1.0, 1.0], 0.0)];
/// let found = fit(&rows, &[-9.0, -9.0], &[9.0, 0.5]).expect("each column has a row");
/// assert!((found.values[0] - 0.25).abs() < 1e-12 && found.values[1] == 0.5);
/// ```
pub fn fit(rows: &[FitRow], lower: &[f64], upper: &[f64]) -> Option<Fitted> {
    let width = lower.len();
    let sound = upper.len() == width
        && lower.iter().zip(upper).all(|(lo, hi)| lo <= hi)
        && rows.iter().all(|row| row.slopes.len() == width && row.target.is_finite());
    if !sound {
        return None;
    }
    let normal = Normal::of(rows, width);
    let factor = cholesky(&normal.matrix, width)?;
    let log_determinant = 2.0 * (0..width).map(|at| log(factor[at * width + at])).sum::<f64>();
    let values = normal.within(lower, upper)?;
    let sum_of_squares = rows.iter().map(|row| square(dot(&row.slopes, &values) - row.target)).sum();
    Some(Fitted { values, sum_of_squares, log_determinant, factor })
}

impl Fitted {
    /// Variance of a linear sum of the columns, bounds left aside.
    pub fn variance(&self, slopes: &[f64]) -> f64 {
        let forward = lower_solve(&self.factor, slopes);
        dot(&forward, &forward)
    }
}

struct Normal {
    width: usize,
    matrix: Vec<f64>,
    side: Vec<f64>,
}

impl Normal {
    fn of(rows: &[FitRow], width: usize) -> Normal {
        let (mut matrix, mut side) = (vec![0.0; width * width], vec![0.0; width]);
        for row in rows {
            for (at, slope) in row.slopes.iter().enumerate().filter(|(_, slope)| **slope != 0.0) {
                let line = matrix[at * width..(at + 1) * width].iter_mut();
                line.zip(&row.slopes).for_each(|(cell, other)| *cell += slope * other);
                side[at] += slope * row.target;
            }
        }
        Normal { width, matrix, side }
    }

    fn within(&self, lower: &[f64], upper: &[f64]) -> Option<Vec<f64>> {
        let width = self.width;
        let mut free = vec![true; width];
        let mut x: Vec<f64> = (0..width).map(|at| 0.0_f64.clamp(lower[at], upper[at])).collect();
        for _ in 0..20 * width + 20 {
            let wanted = self.of_free(&free, &x)?;
            let mut share = 1.0;
            let mut first = None;
            for at in (0..width).filter(|at| free[*at]) {
                let bound = if wanted[at] < lower[at] { lower[at] } else { upper[at] };
                if wanted[at] < lower[at] || wanted[at] > upper[at] {
                    let way = ((bound - x[at]) / (wanted[at] - x[at])).clamp(0.0, 1.0);
                    if way < share || first.is_none() {
                        (share, first) = (way, Some((at, bound)));
                    }
                }
            }
            for at in (0..width).filter(|at| free[*at]) {
                x[at] = (x[at] + share * (wanted[at] - x[at])).clamp(lower[at], upper[at]);
            }
            if let Some((at, bound)) = first {
                x[at] = bound;
                free[at] = false;
                continue;
            }
            match self.pulled_inward(&free, &x, lower, upper) {
                Some(at) => free[at] = true,
                None => return Some(x),
            }
        }
        None
    }

    /// The held column that the rows pull inward most.
    fn pulled_inward(&self, free: &[bool], x: &[f64], lower: &[f64], upper: &[f64]) -> Option<usize> {
        let mut best: Option<(f64, usize)> = None;
        for at in (0..self.width).filter(|at| !free[*at] && lower[*at] < upper[*at]) {
            let line = &self.matrix[at * self.width..(at + 1) * self.width];
            let slope = self.side[at] - dot(line, x);
            let inward = if x[at] == lower[at] { slope } else { -slope };
            let scaled = inward / line[at].sqrt();
            if scaled > 1e-9 && best.is_none_or(|(most, _)| scaled > most) {
                best = Some((scaled, at));
            }
        }
        best.map(|(_, at)| at)
    }

    /// The point of the free columns, the others held where they are.
    fn of_free(&self, free: &[bool], x: &[f64]) -> Option<Vec<f64>> {
        let columns: Vec<usize> = (0..self.width).filter(|at| free[*at]).collect();
        let held: Vec<usize> = (0..self.width).filter(|at| !free[*at]).collect();
        let cell = |i: usize, j: usize| self.matrix[i * self.width + j];
        let part: Vec<f64> = columns.iter().flat_map(|i| columns.iter().map(|j| cell(*i, *j))).collect();
        let side: Vec<f64> = columns
            .iter()
            .map(|i| self.side[*i] - held.iter().map(|j| cell(*i, *j) * x[*j]).sum::<f64>())
            .collect();
        let factor = cholesky(&part, columns.len())?;
        let solved = upper_solve(&factor, &lower_solve(&factor, &side));
        let mut wanted = x.to_vec();
        columns.iter().zip(solved).for_each(|(at, value)| wanted[*at] = value);
        Some(wanted)
    }
}

/// Lower factor of a positive matrix, row by row; none where it is not positive.
fn cholesky(matrix: &[f64], width: usize) -> Option<Vec<f64>> {
    let mut factor = vec![0.0; width * width];
    for i in 0..width {
        for j in 0..=i {
            let known: f64 = (0..j).map(|k| factor[i * width + k] * factor[j * width + k]).sum();
            let left = matrix[i * width + j] - known;
            if i == j {
                let positive = left > 1e-14 * matrix[i * width + i] && left.is_finite();
                factor[i * width + i] = if positive { left.sqrt() } else { return None };
            } else {
                factor[i * width + j] = left / factor[j * width + j];
            }
        }
    }
    Some(factor)
}

fn lower_solve(factor: &[f64], side: &[f64]) -> Vec<f64> {
    let width = side.len();
    let mut x = side.to_vec();
    for i in 0..width {
        let known: f64 = (0..i).map(|j| factor[i * width + j] * x[j]).sum();
        x[i] = (x[i] - known) / factor[i * width + i];
    }
    x
}

fn upper_solve(factor: &[f64], side: &[f64]) -> Vec<f64> {
    let width = side.len();
    let mut x = side.to_vec();
    for i in (0..width).rev() {
        let known: f64 = (i + 1..width).map(|j| factor[j * width + i] * x[j]).sum();
        x[i] = (x[i] - known) / factor[i * width + i];
    }
    x
}

fn dot(one: &[f64], other: &[f64]) -> f64 {
    one.iter().zip(other).map(|(a, b)| a * b).sum()
}

fn square(value: f64) -> f64 {
    value * value
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A deterministic stream in [-1, 1): a linear congruence (Knuth's multiplier).
    fn stream(seed: u64) -> impl FnMut() -> f64 {
        let mut state = seed;
        move || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (state >> 11) as f64 / (1u64 << 52) as f64 - 1.0
        }
    }

    /// Identity (Karush-Kuhn-Tucker): at the point the slope vanishes for free columns and points outward for held
    /// ones; with that no other point within the bounds can be better, because the problem is convex (1e-9).
    #[test]
    fn the_point_is_the_best_within_bounds() {
        let mut next = stream(5);
        let mut held = 0;
        for _ in 0..300 {
            let width = 6;
            let rows: Vec<FitRow> = (0..10)
                .map(|_| FitRow { slopes: (0..width).map(|_| next()).collect(), target: 3.0 * next() })
                .collect();
            let lower: Vec<f64> = (0..width).map(|_| next() - 0.8).collect();
            let upper: Vec<f64> = lower.iter().map(|lo| lo + 1.0 + next()).collect();
            let found = fit(&rows, &lower, &upper).unwrap();
            for at in 0..width {
                let gradient: f64 = rows
                    .iter()
                    .map(|row| row.slopes[at] * (dot(&row.slopes, &found.values) - row.target))
                    .sum();
                let x = found.values[at];
                assert!((lower[at]..=upper[at]).contains(&x));
                if x == lower[at] {
                    held += 1;
                    assert!(gradient > -1e-8);
                } else if x == upper[at] {
                    held += 1;
                    assert!(gradient < 1e-8);
                } else {
                    assert!(gradient.abs() < 1e-8, "{gradient}");
                }
            }
        }
        assert!(held > 300);
    }

    /// By hand: two measurements of one number with uncertainties 1 and 2 have the weighted mean (4 a + b)/5 and the
    /// variance 4/5.
    #[test]
    fn a_weighted_mean() {
        let rows =
            [FitRow { slopes: vec![1.0], target: 3.0 }, FitRow { slopes: vec![0.5], target: 0.5 * 8.0 }];
        let found = fit(&rows, &[0.0], &[100.0]).unwrap();
        assert!((found.values[0] - 4.0).abs() < 1e-12);
        assert!((found.variance(&[1.0]) - 0.8).abs() < 1e-12);
        assert!((found.log_determinant - 1.25_f64.ln()).abs() < 1e-12);
        assert!((found.sum_of_squares - 5.0).abs() < 1e-12);
    }

    #[test]
    fn what_is_left_open_is_said() {
        let row = FitRow { slopes: vec![1.0, 0.0], target: 1.0 };
        assert_eq!(fit(std::slice::from_ref(&row), &[0.0, 0.0], &[1.0, 1.0]), None);
        assert_eq!(fit(&[FitRow { slopes: vec![1.0], target: f64::NAN }], &[0.0], &[1.0]), None);
        assert_eq!(fit(&[FitRow { slopes: vec![1.0], target: 1.0 }], &[2.0], &[1.0]), None);
    }
}
