//! The sheet of a weighing: what to put on the balance first, then the wishes, then the water that it makes.

use springwright_contract::weighing::{RecipeWeighing, WeighedWish, WeighingPlanAnswer};

use super::figure::{in_steps, measured, significant};
use super::table::{Edge, columns};
use super::{Sheet, said, water};

pub(super) fn write(sheet: &mut Sheet, answer: &WeighingPlanAnswer) {
    let all =
        answer.probability_percent.map(|percent| format!(": all wishes are met with {}", likely(percent)));
    sheet.line(&format!("Weighing{}", all.unwrap_or_default()));
    sheet.heading("Weigh; how far each alone may be off");
    let mut rows = vec![["", "", "by the recipe", "from", "to", "", ""].map(str::to_owned)];
    rows.extend(answer.weighings.iter().map(line));
    let edges = [Edge::Right, Edge::Left, Edge::Right, Edge::Right, Edge::Right, Edge::Right, Edge::Left];
    for line in columns(edges, &rows) {
        sheet.line(&line);
    }
    stocks(sheet, &answer.weighings);
    wishes(sheet, &answer.wishes);
    water::write(sheet, "The finished water", &answer.water);
    said::not_judged(sheet, &answer.not_judged);
    said::assumptions(sheet, &answer.assumptions);
    said::findings(sheet, &answer.findings);
    said::cautions(sheet, &answer.cautions);
    said::provenance(sheet, &answer.provenance);
}

fn line(weighing: &RecipeWeighing) -> [String; 7] {
    let grams =
        |mass: Option<f64>| mass.map(|mass| format!("{} g", significant(mass, 4))).unwrap_or_default();
    [
        format!("{} g", in_steps(weighing.steps, weighing.step_g)),
        weighing.name.clone(),
        format!("{} g", significant(weighing.recipe_g, 5)),
        grams(weighing.least_g),
        grams(weighing.most_g),
        format!("± {} %", significant(weighing.rounding_percent, 2)),
        weighing.lot.as_ref().map(|lot| format!("lot {lot}")).unwrap_or_default(),
    ]
}

/// What goes by a stock solution instead.
fn stocks(sheet: &mut Sheet, weighings: &[RecipeWeighing]) {
    let with = weighings.iter().filter_map(|weighing| Some((weighing, weighing.stock.as_ref()?)));
    for (at, (weighing, stock)) in with.enumerate() {
        if at == 0 {
            sheet.heading("Too little for the balance: better by a stock");
        }
        sheet.paragraph("  - ", &format!("{}: {}", weighing.name, stock.text));
    }
}

fn wishes(sheet: &mut Sheet, wishes: &[WeighedWish]) {
    if wishes.is_empty() {
        return;
    }
    sheet.heading("Wishes");
    let row = |wish: &WeighedWish| {
        let got = wish.got.as_ref().map(|got| format!("got {}", measured(got))).unwrap_or_default();
        let met = if wish.met { "met" } else { "NOT MET" };
        [wish.of.clone(), wish.asked.clone(), got, met.to_owned(), likely(wish.probability_percent)]
    };
    let rows: Vec<_> = wishes.iter().map(row).collect();
    for line in columns([Edge::Left, Edge::Left, Edge::Left, Edge::Left, Edge::Right], &rows) {
        sheet.line(&line);
    }
}

fn likely(percent: f64) -> String {
    match percent {
        sure if sure > 99.9 => "more than 99.9 %".to_owned(),
        never if never < 0.1 => "less than 0.1 %".to_owned(),
        between => format!("{between:.1} %"),
    }
}
