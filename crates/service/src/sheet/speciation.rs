//! The sheet of a speciation: the water, then its species by falling amount.

use springwright_contract::speciation::SpeciationAnswer;

use super::figure::significant;
use super::table::{Edge, columns};
use super::{Sheet, said, water};

pub(super) fn write(sheet: &mut Sheet, answer: &SpeciationAnswer) {
    water::write(sheet, "The water", &answer.water);
    sheet.heading("Species");
    let mut rows = vec![["", "charge", "mmol/kg of water", "activity coefficient"].map(str::to_owned)];
    let mut species: Vec<_> = answer.species.iter().collect();
    species.sort_by(|a, b| b.mmol_per_kg.total_cmp(&a.mmol_per_kg).then(a.species.cmp(&b.species)));
    rows.extend(species.into_iter().map(|one| {
        [
            one.species.clone(),
            charge(one.charge),
            significant(one.mmol_per_kg, 4),
            format!("{:.3}", one.activity_coefficient),
        ]
    }));
    for line in columns([Edge::Left, Edge::Right, Edge::Right, Edge::Right], &rows) {
        sheet.line(&line);
    }
    said::not_judged(sheet, &answer.not_judged);
    said::assumptions(sheet, &answer.assumptions);
    said::findings(sheet, &answer.findings);
    said::cautions(sheet, &answer.cautions);
    said::provenance(sheet, &answer.provenance);
}

fn charge(number: i32) -> String {
    let size = number.unsigned_abs();
    let size = if size == 1 { String::new() } else { size.to_string() };
    match number {
        0 => String::new(),
        1.. => format!("{size}+"),
        _ => format!("{size}−"),
    }
}
