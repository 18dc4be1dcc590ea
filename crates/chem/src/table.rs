//! Reads the tables that are compiled in: tab-separated text, `#` for remarks, first row the column names.

/// A compiled-in table.
pub(crate) struct Table {
    columns: Vec<&'static str>,
    rows: Vec<Vec<&'static str>>,
}

/// One row of a [`Table`], asked by column name.
#[derive(Clone, Copy)]
pub(crate) struct Row<'a> {
    table: &'a Table,
    cells: &'a [&'static str],
}

impl Table {
    /// Splits a compiled-in text into rows. Short rows are filled with empty cells.
    pub(crate) fn read(text: &'static str) -> Table {
        let mut lines = text.lines().filter(|line| !line.trim().is_empty() && !line.starts_with('#'));
        let columns: Vec<&'static str> = lines.next().unwrap_or("").split('\t').map(str::trim).collect();
        let rows = lines
            .map(|line| {
                let mut cells: Vec<&'static str> = line.split('\t').map(str::trim).collect();
                cells.resize(columns.len(), "");
                cells
            })
            .collect();
        Table { columns, rows }
    }

    /// The rows in the order of the file.
    pub(crate) fn rows(&self) -> impl Iterator<Item = Row<'_>> {
        self.rows.iter().map(|cells| Row { table: self, cells })
    }
}

impl Row<'_> {
    /// The cell of a column; empty when the column is absent or the cell is blank.
    pub(crate) fn text(&self, column: &str) -> &'static str {
        self.table.columns.iter().position(|c| *c == column).map_or("", |at| self.cells[at])
    }

    /// The cell as a number; `None` when blank or not a number.
    pub(crate) fn number(&self, column: &str) -> Option<f64> {
        self.text(column).parse().ok()
    }

    /// The cell as a list of names separated by `;`.
    pub(crate) fn list(&self, column: &str) -> impl Iterator<Item = &'static str> {
        self.text(column).split(';').map(str::trim).filter(|item| !item.is_empty())
    }
}
