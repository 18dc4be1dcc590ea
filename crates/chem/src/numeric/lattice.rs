//! Short vectors of the lattice that the columns span: moves of several columns at once that change the rows
//! little. Found by the reduction of Lenstra, Lenstra and Lovász (Math. Ann. 261, 515, 1982).

use super::incumbent::Move;
use super::judge::Judge;

/// Weight of the steps themselves beside the rows, in median column lengths.
const STEP_WEIGHTS: [f64; 2] = [0.002, 0.02];
/// The reduction's bound on how much shorter each vector may be than the one before.
const SHORTENING: f64 = 0.75;
/// Swaps after which the reduction is left as it is; any stage gives valid moves.
const MOST_SWAPS: usize = 4000;
/// Largest multiple in one reduction, so that whole numbers stay exact.
const MOST_MULTIPLE: f64 = 1e9;

/// Single steps of all usable columns, then the reduced vectors at each weight.
pub(super) fn moves(judge: &Judge, usable: &[usize], columns: usize) -> Vec<Move> {
    let mut vectors: Vec<Vec<i64>> = Vec::new();
    for &column in usable {
        let mut unit = vec![0; columns];
        unit[column] = 1;
        vectors.push(unit);
    }
    for weight in STEP_WEIGHTS {
        for short in reduced(judge, usable, weight) {
            let mut vector = vec![0; columns];
            for (&column, count) in usable.iter().zip(&short) {
                vector[column] = *count;
            }
            let opposite: Vec<i64> = vector.iter().map(|n| -n).collect();
            if !vectors.contains(&vector) && !vectors.contains(&opposite) {
                vectors.push(vector);
            }
        }
    }
    vectors.iter().map(|vector| Move::of(judge, vector)).collect()
}

/// A basis under reduction: vectors over rows and weighted steps, the whole steps that make them, and their
/// orthogonal parts.
struct Basis {
    vectors: Vec<Vec<f64>>,
    steps: Vec<Vec<i64>>,
    orthogonal: Vec<Vec<f64>>,
    /// Squared lengths of the orthogonal parts.
    lengths: Vec<f64>,
    /// Part of each vector along the orthogonal part of an earlier one.
    along: Vec<Vec<f64>>,
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).fold(0.0, |sum, (x, y)| sum + x * y)
}

fn reduced(judge: &Judge, usable: &[usize], weight: f64) -> Vec<Vec<i64>> {
    let rows: Vec<&[f64]> = usable.iter().map(|&column| &judge.change(column)[..judge.wishes()]).collect();
    let mut sizes: Vec<f64> = rows.iter().map(|row| dot(row, row).sqrt()).collect();
    sizes.sort_by(f64::total_cmp);
    let median = sizes.get(sizes.len() / 2).copied().unwrap_or(0.0);
    if median == 0.0 || !median.is_finite() {
        return Vec::new();
    }
    let count = usable.len();
    let one_hot = |i: usize, size: f64| (0..count).map(move |k| if k == i { size } else { 0.0 });
    let mut basis = Basis {
        vectors: rows
            .iter()
            .enumerate()
            .map(|(i, row)| row.iter().copied().chain(one_hot(i, weight * median)).collect())
            .collect(),
        steps: (0..count).map(|i| (0..count).map(|k| i64::from(k == i)).collect()).collect(),
        orthogonal: vec![Vec::new(); count],
        lengths: vec![0.0; count],
        along: vec![vec![0.0; count]; count],
    };
    basis.reduce();
    basis.steps
}

impl Basis {
    fn reduce(&mut self) {
        let count = self.vectors.len();
        let mut swaps = 0;
        let mut at = 0;
        let mut known = 0;
        while at < count {
            if at >= known {
                self.orthogonalise(at);
                known = at + 1;
            }
            for earlier in (0..at).rev() {
                self.subtract(at, earlier);
            }
            let good = at == 0 || {
                let part = self.along[at][at - 1];
                self.lengths[at] >= (SHORTENING - part * part) * self.lengths[at - 1]
            };
            if good {
                at += 1;
                continue;
            }
            swaps += 1;
            if swaps > MOST_SWAPS {
                return;
            }
            self.vectors.swap(at, at - 1);
            self.steps.swap(at, at - 1);
            at -= 1;
            known = at;
        }
    }

    /// Orthogonal part of one vector against those before it.
    fn orthogonalise(&mut self, at: usize) {
        let mut rest = self.vectors[at].clone();
        for earlier in 0..at {
            let length = self.lengths[earlier];
            let part =
                if length > 0.0 { dot(&self.vectors[at], &self.orthogonal[earlier]) / length } else { 0.0 };
            self.along[at][earlier] = part;
            rest.iter_mut().zip(&self.orthogonal[earlier]).for_each(|(r, o)| *r -= part * o);
        }
        self.lengths[at] = dot(&rest, &rest);
        self.orthogonal[at] = rest;
    }

    /// Takes the nearest whole multiple of an earlier vector away.
    fn subtract(&mut self, at: usize, earlier: usize) {
        let multiple = self.along[at][earlier].round();
        if multiple == 0.0 || multiple.abs() > MOST_MULTIPLE {
            return;
        }
        let whole = multiple as i64;
        let grown: Option<Vec<i64>> = (self.steps[at].iter().zip(&self.steps[earlier]))
            .map(|(n, m)| whole.checked_mul(*m).and_then(|product| n.checked_sub(product)))
            .collect();
        let Some(grown) = grown.filter(|steps| steps.iter().all(|n| n.unsigned_abs() < 1 << 40)) else {
            return;
        };
        self.steps[at] = grown;
        let (before, from) = self.vectors.split_at_mut(at);
        from[0].iter_mut().zip(&before[earlier]).for_each(|(x, y)| *x -= multiple * y);
        for k in 0..earlier {
            self.along[at][k] -= multiple * self.along[earlier][k];
        }
        self.along[at][earlier] -= multiple;
    }
}
