//! The salts to weigh.

use springwright_contract::blend::Weighing;

use super::Sheet;
use super::figure::{in_steps, significant};
use super::table::{Edge, columns};

pub(super) fn write(sheet: &mut Sheet, weighings: &[Weighing]) {
    let rows: Vec<_> = weighings.iter().map(row).collect();
    if rows.is_empty() {
        sheet.line("  nothing");
    }
    let edges = [Edge::Right, Edge::Left, Edge::Left, Edge::Right, Edge::Right, Edge::Left];
    for line in columns(edges, &rows) {
        sheet.line(&line);
    }
}

fn row(weighing: &Weighing) -> [String; 6] {
    let pure = weighing.assay_percent == 100.0;
    [
        format!("{} g", in_steps(weighing.steps, weighing.step_g)),
        weighing.name.clone(),
        weighing.formula.clone().unwrap_or_default(),
        if pure { String::new() } else { format!("{} % assay", significant(weighing.assay_percent, 4)) },
        format!("± {} %", significant(weighing.rounding_percent, 2)),
        weighing.lot.as_ref().map(|lot| format!("lot {lot}")).unwrap_or_default(),
    ]
}
