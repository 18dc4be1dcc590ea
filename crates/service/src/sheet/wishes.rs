//! What became of the wishes.

use springwright_contract::blend::{Reached, Reason};

use super::Sheet;
use super::figure::{measured, words};
use super::table::{Edge, columns};

pub(super) fn write(sheet: &mut Sheet, reached: &[Reached]) {
    let rows: Vec<_> = reached.iter().map(row).collect();
    let lines = columns([Edge::Left, Edge::Left, Edge::Left, Edge::Left], &rows);
    for (line, wish) in lines.iter().zip(reached) {
        sheet.line(line);
        for reason in &wish.why {
            why(sheet, reason);
        }
    }
}

fn row(wish: &Reached) -> [String; 4] {
    let solid = wish.worst_solid.as_ref().map(|solid| format!(", {}", words(solid))).unwrap_or_default();
    let seen = wish.verdict.map(|verdict| format!("got {}{solid}", verdict.word()));
    let got =
        wish.got.as_ref().map(|amount| format!("got {}", measured(amount))).or(seen).unwrap_or_default();
    let met = if wish.met { "met" } else { "NOT MET" };
    [wish.of.clone(), wish.asked.clone(), got, met.to_owned()]
}

fn why(sheet: &mut Sheet, reason: &Reason) {
    sheet.paragraph("      because ", &reason.text);
    if let Some(way_out) = &reason.way_out {
        sheet.paragraph("      way out: ", way_out);
    }
}
