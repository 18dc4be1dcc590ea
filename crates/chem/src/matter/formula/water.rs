//! Water of crystallisation, told apart from the rest of a formula.

use super::super::element;
use super::{Part, Piece};

/// One water.
pub(super) fn pieces() -> Vec<Piece> {
    ["H", "O"]
        .iter()
        .filter_map(|s| element::of_symbol(s))
        .zip([2, 1])
        .map(|(e, n)| Piece::Atom(e, n))
        .collect()
}

/// Whether the pieces are one water.
pub(super) fn is(pieces: &[Piece]) -> bool {
    pieces.len() == 2 && ends(pieces)
}

/// Whether the last two pieces are `H2O`.
pub(super) fn ends(pieces: &[Piece]) -> bool {
    matches!(pieces, [.., Piece::Atom(h, 2), Piece::Atom(o, 1)] if h.symbol == "H" && o.symbol == "O")
}

/// Takes water out of a part: `H2O` itself, and brackets that hold nothing but `H2O`. Answers the rest and the
/// water in mol per mol of the whole formula.
pub(super) fn without(part: Part) -> (Part, f64) {
    if is(&part.pieces) {
        return (Part { count: 1.0, pieces: Vec::new() }, part.count);
    }
    let mut water = 0.0;
    let pieces = drained(part.pieces, part.count, &mut water);
    if is(&pieces) {
        // What is left of it is one more water: `H2O(H2O)` is two.
        return (Part { count: 1.0, pieces: Vec::new() }, water + part.count);
    }
    (Part { count: part.count, pieces }, water)
}

fn drained(pieces: Vec<Piece>, times: f64, water: &mut f64) -> Vec<Piece> {
    let mut rest = Vec::with_capacity(pieces.len());
    for piece in pieces {
        match piece {
            Piece::Group(inner, count) if is(&inner) => *water += times * f64::from(count),
            Piece::Group(inner, count) => {
                let before = *water;
                let mut inner = drained(inner, times * f64::from(count), water);
                match (inner.as_slice(), count) {
                    ([], _) => {}
                    ([Piece::Atom(..)], 1) if *water > before => rest.append(&mut inner),
                    _ => rest.push(Piece::Group(inner, count)),
                }
            }
            atom => rest.push(atom),
        }
    }
    rest
}
