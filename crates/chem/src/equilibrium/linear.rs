//! Small dense linear systems.

/// Solves A X = B in place for the `columns` columns of `b` (row-major, n × columns) by Gaussian elimination with
/// row pivoting; `a` is row-major n × n and is used up. False when A is singular or holds what is not a number.
pub(crate) fn solve(a: &mut [f64], b: &mut [f64], n: usize, columns: usize) -> bool {
    for k in 0..n {
        let pivot = (k..n).max_by(|i, j| a[i * n + k].abs().total_cmp(&a[j * n + k].abs())).unwrap_or(k);
        let value = a[pivot * n + k];
        if value == 0.0 || !value.is_finite() {
            return false;
        }
        if pivot != k {
            (0..n).for_each(|j| a.swap(k * n + j, pivot * n + j));
            (0..columns).for_each(|j| b.swap(k * columns + j, pivot * columns + j));
        }
        for i in k + 1..n {
            let factor = a[i * n + k] / a[k * n + k];
            if factor == 0.0 {
                continue;
            }
            (k + 1..n).for_each(|j| a[i * n + j] -= factor * a[k * n + j]);
            (0..columns).for_each(|j| b[i * columns + j] -= factor * b[k * columns + j]);
        }
    }
    for k in (0..n).rev() {
        for j in 0..columns {
            let known: f64 = (k + 1..n).map(|i| a[k * n + i] * b[i * columns + j]).sum();
            b[k * columns + j] = (b[k * columns + j] - known) / a[k * n + k];
        }
    }
    b.iter().all(|value| value.is_finite())
}

#[cfg(test)]
mod tests {
    /// Identity: the solution put back gives the right-hand side, to 1e-12; a singular matrix is refused.
    #[test]
    fn solution_satisfies_the_system() {
        let a = [0.0, 2.0, 1.0, 3.0, -1.0, 0.5, 1.0, 1.0, 1.0];
        let b = [1.0, 4.0, 2.0, 5.0, 3.0, 6.0];
        let (mut left, mut x) = (a, b);
        assert!(super::solve(&mut left, &mut x, 3, 2));
        for i in 0..3 {
            for j in 0..2 {
                let got: f64 = (0..3).map(|k| a[i * 3 + k] * x[k * 2 + j]).sum();
                assert!((got - b[i * 2 + j]).abs() < 1e-12);
            }
        }
        assert!(!super::solve(&mut [1.0, 2.0, 2.0, 4.0], &mut [1.0, 1.0], 2, 1));
    }
}
