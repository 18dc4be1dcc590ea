//! Elements and their standard atomic weights (IUPAC abridged table; the year stands in each row).

use std::sync::LazyLock;

use crate::table::Table;

/// One element of the table of atomic weights.
#[derive(Clone, Debug, PartialEq)]
pub struct Element {
    /// Symbol, case-sensitive: `Na`.
    pub symbol: &'static str,
    /// Name: `sodium`.
    pub name: &'static str,
    /// Atomic number.
    pub number: u32,
    /// Abridged standard atomic weight, g/mol.
    pub weight: f64,
    /// Half-width of the band that covers normal materials, g/mol.
    pub band: f64,
    /// Year of the table the weight stands in.
    pub year: u32,
    /// Key of the source in `data/sources.tsv`.
    pub source: &'static str,
}

static ELEMENTS: LazyLock<Vec<Element>> = LazyLock::new(|| {
    Table::read(include_str!("../../data/atomic_weights.tsv"))
        .rows()
        .map(|row| Element {
            symbol: row.text("symbol"),
            name: row.text("name"),
            number: row.number("number").unwrap_or(f64::NAN) as u32,
            weight: row.number("weight").unwrap_or(f64::NAN),
            band: row.number("band").unwrap_or(f64::NAN),
            year: row.number("year").unwrap_or(f64::NAN) as u32,
            source: row.text("source"),
        })
        .collect()
});

/// Every element of the table, by atomic number.
pub fn all() -> &'static [Element] {
    &ELEMENTS
}

/// The element of a symbol. Case matters: `Co` is cobalt, `CO` is no element.
pub fn of_symbol(symbol: &str) -> Option<&'static Element> {
    ELEMENTS.iter().find(|element| element.symbol == symbol)
}

/// The element of a name, any case: `sodium`; both `sulfur` and `sulphur`.
pub fn named(name: &str) -> Option<&'static Element> {
    let name = name.trim().to_lowercase().replace("sulph", "sulf").replace("aluminum", "aluminium");
    ELEMENTS.iter().find(|element| element.name == name)
}

/// Abridged standard atomic weight in g/mol; `None` for an unknown symbol or an element without a standard
/// weight.
///
/// ```
/// assert_eq!(springwright_chem::matter::element::atomic_weight("Ca"), Some(40.078));
/// assert_eq!(springwright_chem::matter::element::atomic_weight("ca"), None);
/// ```
pub fn atomic_weight(symbol: &str) -> Option<f64> {
    of_symbol(symbol).map(|element| element.weight)
}

#[cfg(test)]
mod tests {
    use super::*;

    // IUPAC abridged table 2021, values from memory.
    #[test]
    fn weights_are_those_of_the_table_in_force() {
        for (symbol, weight) in [("H", 1.008), ("C", 12.011), ("O", 15.999), ("S", 32.06), ("Cl", 35.45)] {
            assert_eq!(atomic_weight(symbol), Some(weight));
        }
    }

    #[test]
    fn every_row_is_whole_and_in_order() {
        assert!(all().iter().all(|e| e.weight.is_finite() && e.band > 0.0 && e.year == 2021));
        assert!(all().windows(2).all(|pair| pair[0].number < pair[1].number));
    }
}
