//! The sheet of a large batch: what to pour, bags and weighings, then at which volumes bags come out whole.

use springwright_contract::scale_up::{ScaleUpAnswer, ScaledPouring, WholeBags};

use super::figure::significant;
use super::table::{Edge, columns};
use super::weighing::{all_likely, in_bags, weighings, wishes};
use super::{Sheet, said, water};

pub(super) fn write(sheet: &mut Sheet, answer: &ScaleUpAnswer) {
    let times = significant(answer.times, 4);
    sheet.line(&format!("{times} times the recipe{}", all_likely(answer.plan.probability_percent)));
    sheet.heading("Pour");
    let rows: Vec<_> = answer.pourings.iter().map(pouring).collect();
    for line in columns([Edge::Left, Edge::Right, Edge::Left, Edge::Right], &rows) {
        sheet.line(&line);
    }
    weighings(sheet, &answer.plan.weighings);
    if !answer.whole_bags.is_empty() {
        sheet.heading("Whole bags come out at");
        let rows: Vec<_> = answer.whole_bags.iter().map(whole).collect();
        for line in columns([Edge::Right, Edge::Right, Edge::Left], &rows) {
            sheet.line(&line);
        }
    }
    wishes(sheet, &answer.plan.wishes);
    water::write(sheet, "The finished water", &answer.plan.water);
    said::not_judged(sheet, &answer.plan.not_judged);
    said::assumptions(sheet, &answer.plan.assumptions);
    said::findings(sheet, &answer.plan.findings);
    said::cautions(sheet, &answer.plan.cautions);
    said::provenance(sheet, &answer.plan.provenance);
}

fn pouring(pouring: &ScaledPouring) -> [String; 4] {
    [
        pouring.water.clone(),
        format!("{} L", significant(pouring.volume_l, 5)),
        format!("at {} °C", significant(pouring.temperature_c, 3)),
        format!("{} kg", significant(pouring.mass_kg, 5)),
    ]
}

fn whole(bags: &WholeBags) -> [String; 3] {
    [format!("{} L", significant(bags.volume_l, 5)), format!("{} of", in_bags(bags.bags)), bags.name.clone()]
}
