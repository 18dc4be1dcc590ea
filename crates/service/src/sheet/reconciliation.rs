//! The sheet of a reconciliation: which number is wrong first, then row by row, then the water.

use springwright_contract::reconciliation::{
    AcceptanceCheck, ReconciledRow, ReconciliationAnswer, RowVerdict,
};

use super::figure::{measured, significant, words};
use super::table::{Edge, columns};
use super::{Sheet, said, water};

pub(super) fn write(sheet: &mut Sheet, answer: &ReconciliationAnswer) {
    suspicions(sheet, answer);
    let percent = 100.0 * answer.probability;
    let chance = if percent < 0.1 { "under 0.1".to_owned() } else { significant(percent, 2) };
    sheet.heading(&format!(
        "Row by row: chi-square {} over {} checks, as much by chance in {chance} %",
        significant(answer.chi_square, 3),
        answer.degrees_of_freedom,
    ));
    rows(sheet, &answer.rows);
    checks(sheet, &answer.checks);
    missing(sheet, answer);
    water::write(sheet, "The most likely water", &answer.water);
    said::not_judged(sheet, &answer.not_judged);
    said::assumptions(sheet, &answer.assumptions);
    said::findings(sheet, &answer.findings);
    said::cautions(sheet, &answer.cautions);
    said::provenance(sheet, &answer.provenance);
}

fn suspicions(sheet: &mut Sheet, answer: &ReconciliationAnswer) {
    if answer.suspicions.is_empty() {
        sheet.line("Nothing on this sheet is more suspicious than chance would make it.");
        return;
    }
    sheet.line("What may be wrong, most likely first");
    for (place, one) in answer.suspicions.iter().enumerate() {
        let share = significant(100.0 * one.share, 2);
        sheet.paragraph(&format!("  {}. ", place + 1), &format!("{} ({share} % of the suspicion)", one.text));
    }
}

fn rows(sheet: &mut Sheet, all: &[ReconciledRow]) {
    let mut rows = vec![["", "stated", "most likely", "apart", ""].map(str::to_owned)];
    rows.extend(all.iter().map(|row| {
        [
            row.pointer.rsplit('/').next().unwrap_or_default().to_owned(),
            measured(&row.stated),
            measured(&row.likely),
            row.residual.map(|residual| format!("{residual:+.1} u")).unwrap_or_default(),
            verdict(row.verdict).to_owned(),
        ]
    }));
    for line in columns([Edge::Left, Edge::Right, Edge::Right, Edge::Right, Edge::Left], &rows) {
        sheet.line(&line);
    }
}

fn verdict(verdict: RowVerdict) -> &'static str {
    match verdict {
        RowVerdict::Fits => "fits",
        RowVerdict::Doubtful => "doubtful",
        RowVerdict::DoesNotFit => "DOES NOT FIT",
        RowVerdict::Unchecked => "nothing to hold it against",
        RowVerdict::BelowLimit => "a limit, not contradicted",
    }
}

fn checks(sheet: &mut Sheet, all: &[AcceptanceCheck]) {
    if all.is_empty() {
        return;
    }
    sheet.heading("Rules by which an analysis is accepted");
    let row = |check: &AcceptanceCheck| {
        let unit = if check.unit == "1" { String::new() } else { format!(" {}", check.unit) };
        [
            words(&check.of),
            format!("{}{unit}", significant(check.value, 3)),
            format!("{} to {}", significant(check.at_least, 3), significant(check.at_most, 3)),
            if check.accepted { "accepted" } else { "NOT ACCEPTED" }.to_owned(),
        ]
    };
    let rows: Vec<[String; 4]> = all.iter().map(row).collect();
    for line in columns([Edge::Left, Edge::Right, Edge::Left, Edge::Left], &rows) {
        sheet.line(&line);
    }
}

fn missing(sheet: &mut Sheet, answer: &ReconciliationAnswer) {
    if answer.missing.is_empty() {
        return;
    }
    sheet.heading("What else there could be, if it alone were there, mg/L");
    let row = |ion: &springwright_contract::reconciliation::MissingIon| {
        let [least, likely, most] =
            [ion.at_least_mg_per_l, ion.likely_mg_per_l, ion.at_most_mg_per_l].map(|mg| significant(mg, 3));
        [ion.of.clone(), likely, format!("between {least} and {most}")]
    };
    let rows: Vec<[String; 3]> = answer.missing.iter().map(row).collect();
    for line in columns([Edge::Left, Edge::Right, Edge::Left], &rows) {
        sheet.line(&line);
    }
}
