//! The sheet of a weighing: what to put on the balance first, then the wishes, then the water that it makes.

use springwright_contract::weighing::{RecipeWeighing, WeighedWish, WeighingPlanAnswer};

use super::figure::{in_steps, measured, significant};
use super::table::{Edge, columns};
use super::{Sheet, said, water};

pub(super) fn write(sheet: &mut Sheet, answer: &WeighingPlanAnswer) {
    sheet.line(&format!("Weighing{}", all_likely(answer.probability_percent)));
    weighings(sheet, &answer.weighings);
    wishes(sheet, &answer.wishes);
    water::write(sheet, "The finished water", &answer.water);
    said::not_judged(sheet, &answer.not_judged);
    said::assumptions(sheet, &answer.assumptions);
    said::findings(sheet, &answer.findings);
    said::cautions(sheet, &answer.cautions);
    said::provenance(sheet, &answer.provenance);
}

/// How likely all wishes are met, behind a title.
pub(super) fn all_likely(percent: Option<f64>) -> String {
    percent.map(|percent| format!(": all wishes are met with {}", likely(percent))).unwrap_or_default()
}

/// What to put on the balance, and what goes by a stock instead.
pub(super) fn weighings(sheet: &mut Sheet, weighings: &[RecipeWeighing]) {
    sheet.heading("Weigh; how far each alone may be off, bags among it");
    let mut rows = vec![["", "", "", "by the recipe", "from", "to", "", ""].map(str::to_owned)];
    rows.extend(weighings.iter().map(line));
    use Edge::{Left, Right};
    for line in columns([Right, Right, Left, Right, Right, Right, Right, Left], &rows) {
        sheet.line(&line);
    }
    stocks(sheet, weighings);
}

fn line(weighing: &RecipeWeighing) -> [String; 8] {
    let grams =
        |mass: Option<f64>| mass.map(|mass| format!("{} g", significant(mass, 4))).unwrap_or_default();
    [
        weighing.bags.filter(|bags| *bags > 0).map(|bags| format!("{} +", in_bags(bags))).unwrap_or_default(),
        format!("{} g", in_steps(weighing.steps, weighing.step_g)),
        weighing.name.clone(),
        format!("{} g", significant(weighing.recipe_g, 5)),
        grams(weighing.least_g),
        grams(weighing.most_g),
        match weighing.steps {
            0 => String::new(),
            _ => format!("± {} %", significant(weighing.rounding_percent, 2)),
        },
        weighing.lot.as_ref().map(|lot| format!("lot {lot}")).unwrap_or_default(),
    ]
}

/// A number of bags.
pub(super) fn in_bags(bags: i64) -> String {
    if bags == 1 { "1 bag".to_owned() } else { format!("{bags} bags") }
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

pub(super) fn wishes(sheet: &mut Sheet, wishes: &[WeighedWish]) {
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
