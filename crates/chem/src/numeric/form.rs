//! The problem as the programs see it: one matrix, columns scaled by powers of two so that their largest
//! coefficient is of the order of one, ceilings on sums of sizes written out as rows.

use super::bounds::Range;
use super::judge::Ceiling;
use super::problem::{Column, HardRow, Row, Share};
use super::search::Task;

/// Share of the tolerance of a hard row that the programs use, so that whole answers pass the stricter judge.
const PART_OF_TOLERANCE: f64 = 0.25e-9;

/// Matrix, bounds and scales. Variables are numbered structural first (columns, shares, helpers), then rows
/// (wishes, hard rows).
pub(super) struct Form {
    pub(super) columns: usize,
    pub(super) shares: usize,
    /// Structural variables: columns, shares, and one helper for each row under a ceiling.
    pub(super) width: usize,
    pub(super) wishes: usize,
    /// Rows: wishes, then hard rows.
    pub(super) height: usize,
    /// `height` × `width` scaled coefficients.
    pub(super) table: Vec<f64>,
    /// Value of each row when every structural variable is 0.
    pub(super) constant: Vec<f64>,
    /// Size of one step (or one whole share) in the scaled variable.
    pub(super) unit: Vec<f64>,
    /// Factor by which each row was multiplied (1 for wishes).
    pub(super) scale: Vec<f64>,
    pub(super) lower: Vec<f64>,
    pub(super) upper: Vec<f64>,
    /// How far each variable may stand outside its bounds and still count as inside.
    pub(super) tolerance: Vec<f64>,
}

/// Rows while the form is being built: coefficients over all structural variables.
struct Line {
    coefficients: Vec<f64>,
    constant: f64,
    lower: f64,
    upper: f64,
}

impl Form {
    pub(super) fn new(task: &Task<'_>, ranges: &[Range]) -> Self {
        let helpers = task.ceilings.iter().map(Ceiling::helpers).sum::<usize>();
        let width = task.columns.len() + task.shares.len() + helpers;
        let mut lines: Vec<Line> = task.wishes.iter().map(|row| Line::wish(row, task, width)).collect();
        lines.extend(task.hard.iter().map(|hard| Line::hard(hard, task, width)));
        let mut helper = task.columns.len() + task.shares.len();
        for ceiling in task.ceilings {
            push_ceiling(&mut lines, ceiling, task, width, helper);
            helper += ceiling.helpers();
        }
        let mut form = Self {
            columns: task.columns.len(),
            shares: task.shares.len(),
            width,
            wishes: task.wishes.len(),
            height: lines.len(),
            table: Vec::new(),
            constant: Vec::new(),
            unit: vec![1.0; width],
            scale: vec![1.0; lines.len()],
            lower: Vec::new(),
            upper: Vec::new(),
            tolerance: Vec::new(),
        };
        form.choose_units(&lines);
        form.set_structural(task.columns, ranges, task.shares, task.ceilings);
        form.set_rows(&lines);
        form
    }

    /// Whether a variable is a wished row, whose size is what costs.
    pub(super) fn is_wish(&self, variable: usize) -> bool {
        variable >= self.width && variable < self.width + self.wishes
    }

    pub(super) fn row(&self, row: usize) -> &[f64] {
        &self.table[row * self.width..(row + 1) * self.width]
    }

    fn choose_units(&mut self, lines: &[Line]) {
        for index in 0..self.width {
            let largest =
                |lines: &[Line]| lines.iter().fold(0.0, |m: f64, l| m.max(l.coefficients[index].abs()));
            let by_wishes = largest(&lines[..self.wishes]);
            let size = if by_wishes > 0.0 { by_wishes } else { largest(&lines[self.wishes..]) };
            self.unit[index] = power_of_two(size);
        }
    }

    fn set_structural(
        &mut self,
        columns: &[Column],
        ranges: &[Range],
        shares: &[Share],
        ceilings: &[Ceiling<'_>],
    ) {
        for (index, range) in ranges.iter().enumerate().take(columns.len()) {
            self.lower.push(range.lower as f64 * self.unit[index]);
            self.upper.push(range.upper as f64 * self.unit[index]);
        }
        for (share, unit) in shares.iter().zip(&self.unit[columns.len()..]) {
            self.lower.push(share.lower * unit);
            self.upper.push(share.upper * unit);
        }
        for ceiling in ceilings {
            for _ in 0..ceiling.helpers() {
                let unit = self.unit[self.lower.len()];
                self.lower.push(0.0);
                self.upper.push(ceiling.most * unit);
            }
        }
        let sizes = self.lower.iter().zip(&self.upper).map(|(l, u)| l.abs().max(u.abs()).max(1.0));
        self.tolerance = sizes.map(|size| 1e-11 * size).collect();
    }

    fn set_rows(&mut self, lines: &[Line]) {
        for (index, line) in lines.iter().enumerate() {
            let mut cells: Vec<f64> = line.coefficients.iter().zip(&self.unit).map(|(a, u)| a / u).collect();
            if index >= self.wishes {
                let size = cells.iter().fold(0.0, |m: f64, a| m.max(a.abs()));
                self.scale[index] = 1.0 / power_of_two(size);
                cells.iter_mut().for_each(|a| *a *= self.scale[index]);
            }
            let scale = self.scale[index];
            self.table.extend(cells);
            self.constant.push(line.constant * scale);
            self.lower.push(line.lower * scale);
            self.upper.push(line.upper * scale);
            self.tolerance.push(if index < self.wishes {
                1e-11 * line.constant.abs().max(1.0)
            } else {
                (PART_OF_TOLERANCE * line.size().max(1.0) * scale).clamp(1e-13, 1e-9)
            });
        }
    }
}

impl Line {
    fn wish(row: &Row, task: &Task<'_>, width: usize) -> Self {
        let mut coefficients = row.columns.clone();
        coefficients.extend(&row.shares);
        coefficients.resize(task.columns.len() + task.shares.len(), 0.0);
        coefficients.resize(width, 0.0);
        Self { coefficients, constant: row.constant, lower: f64::NEG_INFINITY, upper: f64::INFINITY }
    }

    fn hard(hard: &HardRow, task: &Task<'_>, width: usize) -> Self {
        let (lower, upper) = hard.bounds();
        Self { lower, upper, ..Self::wish(&hard.row, task, width) }
    }

    /// Size of the larger finite bound.
    fn size(&self) -> f64 {
        let finite = [self.lower, self.upper].into_iter().filter(|b| b.is_finite());
        finite.fold(0.0, |m: f64, b| m.max(b.abs()))
    }
}

/// Writes Σ|row| ≤ most as row + e ≥ 0, row − e ≤ 0 and Σe ≤ most; a single row needs no helper.
fn push_ceiling(lines: &mut Vec<Line>, ceiling: &Ceiling<'_>, task: &Task<'_>, width: usize, first: usize) {
    if ceiling.helpers() == 0 {
        for row in ceiling.wishes {
            let line = Line::wish(row, task, width);
            lines.push(Line { lower: -ceiling.most, upper: ceiling.most, ..line });
        }
        return;
    }
    let mut sum =
        Line { coefficients: vec![0.0; width], constant: 0.0, lower: f64::NEG_INFINITY, upper: ceiling.most };
    for (index, row) in ceiling.wishes.iter().enumerate() {
        let helper = first + index;
        let mut above = Line { lower: 0.0, ..Line::wish(row, task, width) };
        above.coefficients[helper] = 1.0;
        let mut below = Line { upper: 0.0, ..Line::wish(row, task, width) };
        below.coefficients[helper] = -1.0;
        sum.coefficients[helper] = 1.0;
        lines.extend([above, below]);
    }
    lines.push(sum);
}

/// The largest power of two not above `size`; 1 for zero and for numbers too small to be normal.
fn power_of_two(size: f64) -> f64 {
    let power = f64::from_bits(size.to_bits() & 0x7FF0_0000_0000_0000);
    if power.is_normal() { power } else { 1.0 }
}

#[cfg(test)]
mod tests {
    use super::power_of_two;

    #[test]
    fn powers_of_two() {
        for (size, want) in [(1.0, 1.0), (1.9, 1.0), (2.0, 2.0), (0.3, 0.25), (0.0, 1.0), (1e-320, 1.0)] {
            assert_eq!(power_of_two(size), want, "{size}");
        }
    }
}
