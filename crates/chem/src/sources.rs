//! The sources that every row of every table names by key.

use std::sync::LazyLock;

use crate::table::Table;

static SOURCES: LazyLock<Vec<(&'static str, &'static str)>> = LazyLock::new(|| {
    Table::read(include_str!("../data/sources.tsv"))
        .rows()
        .map(|row| (row.text("key"), row.text("citation")))
        .collect()
});

/// The citation behind a source key; empty for a key that no row has.
pub fn citation(key: &str) -> &'static str {
    SOURCES.iter().find(|(known, _)| *known == key).map_or("", |(_, citation)| citation)
}
