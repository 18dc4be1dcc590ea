//! Columns of text that line up.

/// Which edge of a column its cells stand at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Edge {
    /// Words.
    Left,
    /// Numbers.
    Right,
}

/// Lays rows out in columns, two blanks apart and two in; a column whose cells are all empty is left out.
pub(super) fn columns<const N: usize>(edges: [Edge; N], rows: &[[String; N]]) -> Vec<String> {
    let widths: Vec<usize> =
        (0..N).map(|column| rows.iter().map(|row| row[column].chars().count()).max().unwrap_or(0)).collect();
    rows.iter()
        .map(|row| {
            let mut line = String::new();
            for ((cell, edge), &width) in row.iter().zip(edges).zip(&widths) {
                if width == 0 {
                    continue;
                }
                let blank = " ".repeat(width - cell.chars().count());
                line.push_str("  ");
                match edge {
                    Edge::Left => line.extend([cell, blank.as_str()]),
                    Edge::Right => line.extend([blank.as_str(), cell]),
                }
            }
            line.trim_end().to_owned()
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_line_up_by_characters_and_empty_columns_vanish() {
        let rows = [["a".into(), String::new(), "10".into()], ["µ·b".into(), String::new(), "1".into()]];
        assert_eq!(columns([Edge::Left, Edge::Left, Edge::Right], &rows), ["  a    10", "  µ·b   1"]);
    }
}
