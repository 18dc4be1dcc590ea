//! The sheet of a saturation: the water, then a row for each solid and a column for each temperature.

use springwright_contract::saturation::{SaturationAnswer, SolidSaturation};

use super::figure::{hundredths, significant, words};
use super::{Sheet, said, water};

pub(super) fn write(sheet: &mut Sheet, answer: &SaturationAnswer) {
    water::write(sheet, "The water", &answer.water);
    sheet.heading("Saturation index: 0 is just saturated, above it the solid can fall out");
    let columns: Vec<(f64, &[SolidSaturation])> =
        std::iter::once((answer.water.temperature_c, &answer.saturation[..]))
            .chain(answer.at_temperatures.iter().map(|at| (at.temperature_c, &at.saturation[..])))
            .collect();
    for columns in columns.chunks(COLUMNS) {
        table(sheet, columns);
    }
    if answer
        .saturation
        .iter()
        .chain(answer.at_temperatures.iter().flat_map(|at| &at.saturation))
        .any(|one| !one.measured)
    {
        sheet.paragraph("  * ", "beyond the temperatures at which the constant was measured");
    }
    said::not_judged(sheet, &answer.not_judged);
    said::assumptions(sheet, &answer.assumptions);
    said::findings(sheet, &answer.findings);
    said::cautions(sheet, &answer.cautions);
    said::provenance(sheet, &answer.provenance);
}

/// Temperatures that stand beside each other.
const COLUMNS: usize = 6;

fn table(sheet: &mut Sheet, columns: &[(f64, &[SolidSaturation])]) {
    let Some((_, solids)) = columns.first() else { return };
    let heads =
        columns.iter().map(|(celsius, _)| format!("{:>9}", format!("{} °C", significant(*celsius, 3))));
    sheet.line(&format!("  {:36}{}", "", heads.collect::<String>()));
    for solid in *solids {
        let cells = columns.iter().map(|(_, column)| {
            let found = column.iter().find(|one| one.solid == solid.solid);
            let cell = found.map(|one| hundredths(one.si) + if one.measured { " " } else { "*" });
            format!("{:>9}", cell.unwrap_or_default())
        });
        sheet.line(&format!("  {:36}{}", words(&solid.solid), cells.collect::<String>()));
    }
}
