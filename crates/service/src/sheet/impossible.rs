//! A blend that cannot be: what collides, and the smallest changes that would make it possible, each solved.

use springwright_contract::blend::{BlendAnswer, Relaxation};

use super::{Sheet, pour, water, weigh};

pub(super) fn write(sheet: &mut Sheet, answer: &BlendAnswer) {
    if !answer.conflict.is_empty() {
        sheet.heading("These collide");
        for pointer in &answer.conflict {
            let wish = answer.reached.iter().find(|wish| &wish.pointer == pointer);
            let words = wish.map(|wish| format!(": {} {}", wish.of, wish.asked)).unwrap_or_default();
            sheet.paragraph("  - ", &format!("{pointer}{words}"));
        }
    }
    for (index, relaxation) in answer.relaxations.iter().enumerate() {
        way_out(sheet, index + 1, relaxation);
    }
}

fn way_out(sheet: &mut Sheet, number: usize, relaxation: &Relaxation) {
    sheet.heading(&format!("Way out {number}"));
    sheet.paragraph("  ", &relaxation.text);
    sheet.line("  pour");
    pour::write(sheet, &relaxation.pourings);
    sheet.line("  weigh");
    weigh::write(sheet, &relaxation.weighings);
    water::ions(sheet, &relaxation.water);
}
