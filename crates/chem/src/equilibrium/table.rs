//! Compiled-in tables: tab-separated text with one header line.
//!
//! The tables are part of the program, so a malformed one is a mistake of ours that the tests find at once.

/// One row of a compiled-in table, read by the name of its column.
#[derive(Clone)]
pub(crate) struct Row<'a> {
    header: Vec<&'a str>,
    cells: Vec<&'a str>,
}

impl<'a> Row<'a> {
    /// The text of a cell; empty when the row ends before it.
    pub(crate) fn text(&self, column: &str) -> &'a str {
        let at = self.header.iter().position(|name| *name == column);
        let at = at.expect("a compiled-in table has every column the code asks for");
        self.cells.get(at).copied().unwrap_or("").trim()
    }

    /// The number in a cell.
    pub(crate) fn number(&self, column: &str) -> f64 {
        self.text(column).parse().expect("a compiled-in number cell holds a number")
    }

    /// The number in a cell that may be empty.
    pub(crate) fn optional(&self, column: &str) -> Option<f64> {
        let text = self.text(column);
        (!text.is_empty()).then(|| text.parse().expect("a compiled-in number cell holds a number"))
    }

    /// The numbers of a cell, separated by blanks.
    pub(crate) fn numbers(&self, column: &str) -> Vec<f64> {
        let parts = self.text(column).split_whitespace();
        parts.map(|part| part.parse().expect("a compiled-in list holds numbers")).collect()
    }
}

/// The rows of a table; empty lines and lines that start with `#` are left out.
pub(crate) fn rows(text: &str) -> Vec<Row<'_>> {
    let mut lines = text.lines().filter(|line| !line.trim().is_empty() && !line.starts_with('#'));
    let header: Vec<&str> = lines.next().unwrap_or("").split('\t').map(str::trim).collect();
    lines.map(|line| Row { header: header.clone(), cells: line.split('\t').collect() }).collect()
}
