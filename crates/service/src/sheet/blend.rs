//! The sheet of a blend.

use springwright_contract::blend::{BlendAnswer, BlendStatus};

use super::figure::significant;
use super::{Sheet, impossible, pour, said, water, weigh, wishes};

pub(super) fn write(sheet: &mut Sheet, answer: &BlendAnswer) {
    sheet.line(&title(answer));
    if answer.status == BlendStatus::Impossible {
        impossible::write(sheet, answer);
    } else {
        sheet.heading("Pour");
        pour::write(sheet, &answer.pourings);
        sheet.heading("Weigh");
        weigh::write(sheet, &answer.weighings);
    }
    if let Some(finished) = &answer.water {
        water::write(sheet, "The finished water", finished);
    }
    sheet.heading("Wishes");
    wishes::write(sheet, &answer.reached);
    if let Some(cost) = answer.cost {
        sheet.line("");
        sheet.line(&format!("Cost of what states a price: {}", significant(cost, 4)));
    }
    said::not_judged(sheet, &answer.not_judged);
    said::assumptions(sheet, &answer.assumptions);
    said::findings(sheet, &answer.findings);
    said::cautions(sheet, &answer.cautions);
    said::provenance(sheet, &answer.provenance);
}

fn title(answer: &BlendAnswer) -> String {
    let ending = match answer.status {
        BlendStatus::Solved => "solved: every wish is met",
        BlendStatus::Nearest => "nearest: not every wish is met",
        BlendStatus::Impossible => "impossible: the wishes that must be held collide",
    };
    format!("Blend, {ending}")
}
