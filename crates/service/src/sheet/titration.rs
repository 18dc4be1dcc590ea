//! The sheet of a titration: what to weigh first, then what it does.

use springwright_contract::titration::{Addition, TitrationAnswer};

use super::figure::{hundredths, significant};
use super::table::{Edge, columns};
use super::{Sheet, said, water};

pub(super) fn write(sheet: &mut Sheet, answer: &TitrationAnswer) {
    let ending = if answer.reached { "" } else { " is the nearest" };
    sheet.line(&format!("Titration, pH {}{ending}", hundredths(answer.ph)));
    if let Some(why) = &answer.why_not {
        sheet.paragraph("  NOT REACHED: ", &why.text);
    }
    if let Some(addition) = &answer.addition {
        sheet.heading("Add");
        add(sheet, addition);
    }
    sheet.heading("What it does");
    for line in columns([Edge::Left, Edge::Right, Edge::Left, Edge::Left], &told(answer)) {
        sheet.line(&line);
    }
    curve(sheet, answer);
    water::write(sheet, "The water after", &answer.after);
    said::not_judged(sheet, &answer.not_judged);
    said::assumptions(sheet, &answer.assumptions);
    said::findings(sheet, &answer.findings);
    said::cautions(sheet, &answer.cautions);
    said::provenance(sheet, &answer.provenance);
}

fn add(sheet: &mut Sheet, addition: &Addition) {
    let pure = addition.assay_percent == 100.0;
    let assay =
        if pure { String::new() } else { format!("{} % assay", significant(addition.assay_percent, 4)) };
    let row = [
        addition.mass_g.map(|grams| format!("{} g", significant(grams, 4))).unwrap_or_default(),
        format!("{} g/L", significant(addition.g_per_l, 4)),
        addition.name.clone(),
        addition.formula.clone().unwrap_or_default(),
        assay,
        addition.lot.as_ref().map(|lot| format!("lot {lot}")).unwrap_or_default(),
    ];
    let edges = [Edge::Right, Edge::Right, Edge::Left, Edge::Left, Edge::Left, Edge::Left];
    for line in columns(edges, &[row]) {
        sheet.line(&line);
    }
}

fn told(answer: &TitrationAnswer) -> Vec<[String; 4]> {
    let mut rows = Vec::new();
    if let Some(ph) = answer.before.ph {
        rows.push(["pH before, closed", &hundredths(ph), "", ""].map(str::to_owned));
    }
    let mut say = |name: &str, value: Option<f64>, unit: &str, rest: String| {
        if let Some(value) = value {
            rows.push([name.to_owned(), significant(value, 4), unit.to_owned(), rest]);
        }
    };
    let base = answer.acid_meq_per_l.is_some_and(|acid| acid < 0.0);
    let to = if answer.reached || answer.addition.is_some() { answer.to_ph } else { answer.ph };
    let strong = format!("strong {} to pH {}", if base { "base" } else { "acid" }, hundredths(to));
    let whole = answer.acid_meq.map(|meq| format!("{} meq in all", significant(meq.abs(), 4)));
    say(&strong, answer.acid_meq_per_l.map(f64::abs), "meq/L", whole.unwrap_or_default());
    say("carbon dioxide set free", answer.co2_set_free_mg_per_l, "mg/L", String::new());
    say("  of it off into the gas", answer.co2_given_off_mg_per_l, "mg/L", String::new());
    say(
        "buffer capacity before",
        answer.buffer_before_mmol_per_l,
        "mmol/L for one unit of pH",
        String::new(),
    );
    say("  after", answer.buffer_after_mmol_per_l, "mmol/L for one unit of pH", String::new());
    if let Some(end) = &answer.end_point {
        say("alkalinity to that end point", Some(end.titrated_meq_per_l), "meq/L", String::new());
        say("  left there", Some(end.left_meq_per_l), "meq/L", String::new());
        let rest = "strong cations less strong anions, the sum of both".to_owned();
        say("  in its charge form", Some(end.charge_form_meq_per_l), "meq/L", rest);
    }
    rows
}

fn curve(sheet: &mut Sheet, answer: &TitrationAnswer) {
    if answer.curve.is_empty() {
        return;
    }
    sheet.heading("Curve");
    let mut rows = vec![["mmol/L", "g/L", "pH"].map(str::to_owned)];
    rows.extend(answer.curve.iter().map(|point| {
        let grams = point.g_per_l.map(|grams| significant(grams, 4)).unwrap_or_default();
        [significant(point.mmol_per_l, 4), grams, hundredths(point.ph)]
    }));
    if answer.addition.is_none() {
        rows[0][1].clear();
    }
    for line in columns([Edge::Right, Edge::Right, Edge::Right], &rows) {
        sheet.line(&line);
    }
}
