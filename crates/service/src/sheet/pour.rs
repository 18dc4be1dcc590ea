//! The waters to pour.

use springwright_contract::blend::Pouring;

use super::Sheet;
use super::figure::significant;
use super::table::{Edge, columns};

pub(super) fn write(sheet: &mut Sheet, pourings: &[Pouring]) {
    let rows: Vec<_> = pourings.iter().filter(|pouring| pouring.mass_kg > 0.0).map(row).collect();
    for line in columns([Edge::Left, Edge::Right, Edge::Left, Edge::Right, Edge::Right, Edge::Left], &rows) {
        sheet.line(&line);
    }
    for unused in pourings.iter().filter(|pouring| pouring.mass_kg <= 0.0) {
        sheet.line(&format!("  {}: none", unused.water));
    }
}

fn row(pouring: &Pouring) -> [String; 6] {
    [
        pouring.water.clone(),
        format!("{} L", significant(pouring.volume_l, 5)),
        format!("at {} °C", significant(pouring.temperature_c, 3)),
        format!("{} kg", significant(pouring.mass_kg, 5)),
        format!("{} %", significant(pouring.share_percent, 4)),
        pouring.lot.as_ref().map(|lot| format!("lot {lot}")).unwrap_or_default(),
    ]
}
