//! The sheet of a life: the stages first, then why each is not clear and what to change, then where the carbon dioxide is.

use springwright_contract::haze::Verdict;
use springwright_contract::life_path::{LifePathAnswer, LifeStageRead};

use super::figure::significant;
use super::table::{Edge, columns};
use super::{Sheet, said, water};

pub(super) fn write(sheet: &mut Sheet, answer: &LifePathAnswer) {
    for line in answer.text_table.lines() {
        sheet.line(line);
    }
    changes(sheet, answer);
    ledger(sheet, answer);
    water::write(sheet, "The mix, closed", &answer.mixed);
    said::not_judged(sheet, &answer.not_judged);
    said::assumptions(sheet, &answer.assumptions);
    said::findings(sheet, &answer.findings);
    said::cautions(sheet, &answer.cautions);
    said::provenance(sheet, &answer.provenance);
}

/// Every stage that is not clear: why, when, and each change that helps.
fn changes(sheet: &mut Sheet, answer: &LifePathAnswer) {
    let bad = answer.stages.iter().filter(|stage| stage.verdict > Verdict::Clear);
    for (at, stage) in bad.enumerate() {
        if at == 0 {
            sheet.heading("What is not clear, and what to change");
        }
        let time = stage.time.as_ref().map(|time| format!(" ({})", time.text)).unwrap_or_default();
        sheet.paragraph("  - ", &format!("{} {}: {}{time}", stage.number, stage.name, stage.why));
        for change in &stage.changes {
            sheet.paragraph("      or ", &change.text);
        }
    }
}

/// Where the carbonate is, all as CO2.
fn ledger(sheet: &mut Sheet, answer: &LifePathAnswer) {
    sheet.heading("Carbon dioxide, bicarbonate among it, g in a litre of the mix");
    let mut rows = vec![["", "", "in the water", "in the headspace", "added", "lost"].map(str::to_owned)];
    rows.extend(answer.stages.iter().filter_map(row));
    let edges = [Edge::Right, Edge::Left, Edge::Right, Edge::Right, Edge::Right, Edge::Right];
    for line in columns(edges, &rows) {
        sheet.line(&line);
    }
}

fn row(stage: &LifeStageRead) -> Option<[String; 6]> {
    let co2 = stage.co2?;
    let grams = |value: f64| if value > 0.0 { significant(value, 4) } else { String::new() };
    Some([
        stage.number.to_string(),
        stage.name.clone(),
        grams(co2.dissolved_g_per_l),
        grams(co2.headspace_g_per_l),
        grams(co2.added_g_per_l),
        grams(co2.lost_g_per_l),
    ])
}
