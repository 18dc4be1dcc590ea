//! What an answer says beside its numbers: what was not judged, what was taken for granted, what to beware of.

use springwright_contract::provenance::Provenance;
use springwright_contract::said::{Assumption, Caution, Finding, NotJudged};

use super::Sheet;

pub(super) fn not_judged(sheet: &mut Sheet, entries: &[NotJudged]) {
    chapter(sheet, "Not judged", entries, |entry| format!("{}: {}", entry.what, entry.why));
}

pub(super) fn assumptions(sheet: &mut Sheet, entries: &[Assumption]) {
    chapter(sheet, "Taken for granted", entries, |entry| {
        let effect =
            if entry.effect.is_empty() { String::new() } else { format!(" Effect: {}", entry.effect) };
        format!("{}{}{effect}", place(&entry.pointer), entry.text)
    });
}

pub(super) fn findings(sheet: &mut Sheet, entries: &[Finding]) {
    chapter(sheet, "Found", entries, |entry| {
        let source = entry.source.as_ref().map(|source| format!(" [{source}]")).unwrap_or_default();
        format!("{}{}{source}", place(&entry.pointer), entry.text)
    });
}

pub(super) fn cautions(sheet: &mut Sheet, entries: &[Caution]) {
    chapter(sheet, "Cautions", entries, |entry| format!("{} [{}]", entry.text, entry.source));
}

pub(super) fn provenance(sheet: &mut Sheet, provenance: &Provenance) {
    let short = |digest: &str| digest.chars().take(12).collect::<String>();
    let Provenance { engine, data_set, model, ph_convention, request_digest } = provenance;
    let (data, request) = (short(data_set), short(request_digest));
    sheet.line("");
    sheet.line(&format!("engine {engine}, data {data}, model {model}, request {request}"));
    if let Some(convention) = ph_convention {
        sheet.line(&format!("pH scale: {convention}"));
    }
}

fn chapter<T>(sheet: &mut Sheet, title: &str, entries: &[T], word: impl Fn(&T) -> String) {
    if entries.is_empty() {
        return;
    }
    sheet.heading(title);
    for entry in entries {
        sheet.paragraph("  - ", &word(entry));
    }
}

fn place(pointer: &str) -> String {
    if pointer.is_empty() { String::new() } else { format!("{pointer}: ") }
}
