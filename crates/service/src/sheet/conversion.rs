//! The sheet of a conversion.

use springwright_contract::conversion::ConversionAnswer;

use super::figure::measured;
use super::{Sheet, said};

pub(super) fn write(sheet: &mut Sheet, answer: &ConversionAnswer) {
    sheet.line(&measured(&answer.measured));
    if !answer.equivalents.is_empty() {
        sheet.heading("The same amount");
        for equivalent in &answer.equivalents {
            sheet.line(&format!("  {}", measured(equivalent)));
        }
    }
    said::assumptions(sheet, &answer.assumptions);
    said::provenance(sheet, &answer.provenance);
}
