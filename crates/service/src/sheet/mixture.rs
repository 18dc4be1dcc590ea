//! The sheet of a mixture.

use springwright_contract::mixture::MixtureAnswer;

use super::{Sheet, said, water};

pub(super) fn write(sheet: &mut Sheet, answer: &MixtureAnswer) {
    water::write(sheet, "The mixed water", &answer.water);
    said::not_judged(sheet, &answer.not_judged);
    said::assumptions(sheet, &answer.assumptions);
    said::findings(sheet, &answer.findings);
    said::cautions(sheet, &answer.cautions);
    said::provenance(sheet, &answer.provenance);
}
