//! A dense table of linear expressions: each row quantity as a sum of column quantities, and the exchange of one
//! for the other.

/// Rows of coefficients, one after the other.
#[derive(Clone)]
pub(super) struct Table {
    width: usize,
    cells: Vec<f64>,
    pivot_row: Vec<f64>,
}

impl Table {
    pub(super) fn new(width: usize, cells: Vec<f64>) -> Self {
        Self { width, cells, pivot_row: vec![0.0; width] }
    }

    pub(super) fn row(&self, row: usize) -> &[f64] {
        &self.cells[row * self.width..(row + 1) * self.width]
    }

    pub(super) fn at(&self, row: usize, column: usize) -> f64 {
        self.cells[row * self.width + column]
    }

    /// One column, from the first row down.
    pub(super) fn column(&self, column: usize) -> impl Iterator<Item = f64> {
        self.cells.iter().skip(column).step_by(self.width.max(1)).copied()
    }

    /// Number of cells, the measure of work.
    pub(super) fn cells(&self) -> u64 {
        self.cells.len() as u64
    }

    /// Becomes a copy of another table of the same shape.
    pub(super) fn assign(&mut self, other: &Self) {
        self.cells.copy_from_slice(&other.cells);
    }

    /// Exchanges row quantity and column quantity; the cell where they meet must not be zero.
    pub(super) fn exchange(&mut self, row: usize, column: usize) {
        let width = self.width;
        let start = row * width;
        self.pivot_row.copy_from_slice(&self.cells[start..start + width]);
        let inverse = 1.0 / self.pivot_row[column];
        for (index, cells) in self.cells.chunks_exact_mut(width).enumerate() {
            if index == row || cells[column] == 0.0 {
                continue;
            }
            let factor = cells[column] * inverse;
            for (cell, pivot) in cells.iter_mut().zip(&self.pivot_row) {
                *cell -= factor * pivot;
            }
            cells[column] = factor;
        }
        for cell in &mut self.cells[start..start + width] {
            *cell *= -inverse;
        }
        self.cells[start + column] = inverse;
    }

    /// Swaps two rows and the two columns of the same numbers (square tables only).
    pub(super) fn swap_both(&mut self, a: usize, b: usize) {
        for column in 0..self.width {
            self.cells.swap(a * self.width + column, b * self.width + column);
        }
        for cells in self.cells.chunks_exact_mut(self.width) {
            cells.swap(a, b);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Table;

    /// Identity: exchanging twice at the same place gives the table back; and y = T x holds with roles exchanged.
    #[test]
    fn exchange_keeps_the_equations() {
        let cells = vec![2.0, -1.0, 0.5, 1.0, 3.0, -2.0];
        let mut table = Table::new(3, cells.clone());
        let x = [0.7, -0.4, 1.3];
        let y: Vec<f64> = (0..2).map(|r| (0..3).map(|c| table.at(r, c) * x[c]).sum()).collect();
        table.exchange(1, 1);
        let driven = [x[0], y[1], x[2]];
        let got: Vec<f64> = (0..2).map(|r| (0..3).map(|c| table.at(r, c) * driven[c]).sum()).collect();
        assert!((got[0] - y[0]).abs() < 1e-14 && (got[1] - x[1]).abs() < 1e-14);
        table.exchange(1, 1);
        for (got, want) in table.cells.iter().zip(&cells) {
            assert!((got - want).abs() < 1e-14);
        }
    }
}
