//! Reads the compiled-in tables of the catalogue and joins their rows.

use std::collections::BTreeMap;

use super::Catalogue;
use super::dissolution::Dissolution;
use super::names::{Meaning, NameKind, Names};
use super::salt::{
    Additive, Assay, Confidence, FoodUse, Form, FormulaIs, Handling, Hazard, Mark, Need, Needs, Range, Salt,
    Trust, UseClass,
};
use super::solubility::{Curve, SolidChange, SolubilityPoint};
use crate::matter::formula::Formula;
use crate::table::{Row, Table};

/// Word in the column `curve` of what mixes with water in every ratio.
const MISCIBLE: &str = "miscible";

/// The whole catalogue.
pub(super) fn catalogue() -> Catalogue {
    let curves = curves();
    let identity = Table::read(include_str!("../../../data/salts.tsv"));
    let mut salts: Vec<Salt> = identity.rows().map(|row| salt(row, &curves)).collect();
    let places: BTreeMap<&str, usize> = salts.iter().enumerate().map(|(at, salt)| (salt.id, at)).collect();

    let each = |text: &'static str, salts: &mut Vec<Salt>, set: fn(&mut Salt, Row<'_>)| {
        for row in Table::read(text).rows() {
            if let Some(at) = places.get(row.text("salt")) {
                set(&mut salts[*at], row);
            }
        }
    };
    each(include_str!("../../../data/salt_additives.tsv"), &mut salts, set_additives);
    each(include_str!("../../../data/salt_assays.tsv"), &mut salts, set_assay);
    each(include_str!("../../../data/salt_bulk_density.tsv"), &mut salts, set_bulk_density);
    each(include_str!("../../../data/salt_behaviour.tsv"), &mut salts, set_behaviour);
    each(include_str!("../../../data/salt_needs.tsv"), &mut salts, set_needs);
    each(include_str!("../../../data/salt_handling.tsv"), &mut salts, set_handling);
    let names = names(&mut salts, &places);
    Catalogue { salts, curves, names }
}

fn salt(row: Row<'_>, curves: &[Curve]) -> Salt {
    let formula = formula(row.text("formula"));
    let curve = row.text("curve");
    Salt {
        id: row.text("id"),
        name: row.text("name"),
        form: form(row.text("form")),
        formula_is: formula_is(row.text("formula_is")),
        formula_note: row.text("formula_note"),
        cas: row.text("cas"),
        cas_mark: mark(row, "cas_confidence", "cas_source"),
        gives: gives(row, formula.as_ref()),
        formula,
        food_use: food_use(row.text("food_use")),
        use_class: use_class(row.text("use_class")),
        refusal: row.text("refusal"),
        ins: None,
        eu_e: None,
        us_status: None,
        sold_as: row.text("sold_as"),
        assay: None,
        bulk_density: None,
        ph_of_1_percent: None,
        deliquesces_at: None,
        moisture: "",
        incompatible: "",
        needs: None,
        handling: Vec::new(),
        synonyms: Vec::new(),
        historical_names: Vec::new(),
        notes: row.text("notes"),
        trust: trust(row.text("trust")),
        source: row.text("source"),
        curve: curves.iter().position(|own| own.id == curve),
        miscible: curve == MISCIBLE,
    }
}

fn formula(text: &str) -> Option<Formula> {
    (!text.is_empty()).then(|| Formula::read(text).expect("compiled-in formulas are written canonically"))
}

/// What a row gives. A gas with an empty cell gives nothing that is conserved; a solid with one is not computed.
fn gives(row: Row<'_>, formula: Option<&Formula>) -> Option<Dissolution> {
    let inert_gas = row.text("form") == "gas";
    let stated = !row.text("gives").is_empty() || inert_gas;
    let given = Dissolution::read(row.list("gives"), formula.filter(|_| stated)?);
    Some(given.expect("compiled-in rows give known components"))
}

fn curves() -> Vec<Curve> {
    let mut curves: Vec<Curve> = Vec::new();
    for row in Table::read(include_str!("../../../data/salt_solubility.tsv")).rows() {
        let id = row.text("curve");
        if curves.last().is_none_or(|last| last.id != id) {
            let of = Formula::read(row.text("of")).expect("compiled-in formulas are written canonically");
            curves.push(Curve { id, of, points: Vec::new(), changes: Vec::new() });
        }
        if let Some(curve) = curves.last_mut() {
            curve.points.push(SolubilityPoint {
                celsius: value(row, "celsius"),
                grams: value(row, "grams"),
                uncertainty_percent: value(row, "uncertainty_percent"),
                mark: mark(row, "confidence", "source"),
                note: row.text("note"),
            });
        }
    }
    for row in Table::read(include_str!("../../../data/salt_solid_changes.tsv")).rows() {
        let ends = formula(row.text("from")).zip(formula(row.text("to")));
        let curve = curves.iter_mut().find(|curve| curve.id == row.text("curve"));
        if let (Some(curve), Some((from, to))) = (curve, ends) {
            let (lo, hi) = (value(row, "celsius_lo"), value(row, "celsius_hi"));
            curve.changes.push(SolidChange { lo, hi, from, to, mark: mark(row, "confidence", "source") });
        }
    }
    curves
}

fn names(salts: &mut [Salt], places: &BTreeMap<&str, usize>) -> Names {
    let mut names = Names::default();
    for row in Table::read(include_str!("../../../data/salt_names.tsv")).rows() {
        let Some(at) = places.get(row.text("salt")).copied() else { continue };
        let name = row.text("name");
        let kind = match row.text("kind") {
            "base" => NameKind::Base,
            "historical" => NameKind::Historical,
            "preparation" => NameKind::Preparation,
            _ => NameKind::Trade,
        };
        names.add(name, Meaning { salt: at, kind, sense: row.text("sense") });
        match kind {
            NameKind::Trade => salts[at].synonyms.push(name),
            NameKind::Historical => salts[at].historical_names.push(name),
            NameKind::Systematic | NameKind::Base | NameKind::Preparation => {}
        }
    }
    for (at, salt) in salts.iter().enumerate() {
        let meaning = Meaning { salt: at, kind: NameKind::Systematic, sense: "" };
        names.add(salt.id, meaning);
        let name = salt.name.split_once(" (").map_or(salt.name, |(name, _)| name);
        names.add_if_free(name, meaning);
    }
    names
}

fn set_additives(salt: &mut Salt, row: Row<'_>) {
    let additive = |column: &str, confidence: &str, source: &str| {
        let text = row.text(column);
        (!text.is_empty()).then(|| Additive { text, mark: mark(row, confidence, source) })
    };
    salt.ins = additive("ins", "ins_confidence", "ins_source");
    salt.eu_e = additive("eu_e", "eu_confidence", "eu_source");
    salt.us_status = additive("us", "us_confidence", "us_source");
}

fn set_assay(salt: &mut Salt, row: Row<'_>) {
    let of = row.text("of");
    salt.assay = range(row, "lo", "hi").map(|percent| Assay { percent, of: (!of.is_empty()).then_some(of) });
}

fn set_bulk_density(salt: &mut Salt, row: Row<'_>) {
    salt.bulk_density = range(row, "lo", "hi");
}

fn set_behaviour(salt: &mut Salt, row: Row<'_>) {
    salt.moisture = row.text("moisture");
    salt.incompatible = row.text("incompatible");
    salt.ph_of_1_percent = range(row, "ph_lo", "ph_hi");
    salt.deliquesces_at = range(row, "deliquesces_rh_lo", "deliquesces_rh_hi");
}

fn set_needs(salt: &mut Salt, row: Row<'_>) {
    let needs = match row.text("needs") {
        "co2_or_acid" => Needs::Co2OrAcid,
        "acid" => Needs::Acid,
        "never" => Needs::Never,
        _ => Needs::Time,
    };
    salt.needs = Some(Need { needs, why: row.text("why"), mark: mark(row, "confidence", "source") });
}

fn set_handling(salt: &mut Salt, row: Row<'_>) {
    let hazard = match row.text("hazard") {
        "caustic" => Hazard::Caustic,
        "acid" => Hazard::Acid,
        "oxidising" => Hazard::Oxidising,
        "dust" => Hazard::Dust,
        "heat" => Hazard::Heat,
        "fumes" => Hazard::Fumes,
        "allergen" => Hazard::Allergen,
        "asphyxiant" => Hazard::Asphyxiant,
        "pressure" => Hazard::Pressure,
        "flammable" => Hazard::Flammable,
        _ => Hazard::Harmful,
    };
    salt.handling.push(Handling { hazard, text: row.text("text"), mark: mark(row, "confidence", "source") });
}

fn value(row: Row<'_>, column: &str) -> f64 {
    row.number(column).expect("number columns of the solubility tables are filled")
}

fn range(row: Row<'_>, lo: &str, hi: &str) -> Option<Range> {
    Some(Range { lo: row.number(lo)?, hi: row.number(hi), mark: mark(row, "confidence", "source") })
}

fn mark(row: Row<'_>, confidence: &str, source: &str) -> Mark {
    let confidence = match row.text(confidence) {
        "V" => Confidence::Checked,
        "C" => Confidence::Computed,
        _ => Confidence::Memory,
    };
    Mark { confidence, source: row.text(source) }
}

fn form(word: &str) -> Form {
    match word {
        "solution" => Form::Solution,
        "gas" => Form::Gas,
        "only_in_solution" => Form::OnlyInSolution,
        "phase" => Form::Phase,
        _ => Form::Solid,
    }
}

fn formula_is(word: &str) -> FormulaIs {
    match word {
        "exact" => FormulaIs::Exact,
        "dissolved" => FormulaIs::Dissolved,
        "repeat_unit" => FormulaIs::RepeatUnit,
        "nominal" => FormulaIs::Nominal,
        _ => FormulaIs::Varies,
    }
}

fn food_use(word: &str) -> FoodUse {
    match word {
        "yes" => FoodUse::Yes,
        "poison_in_old_recipes" => FoodUse::PoisonInOldRecipes,
        _ => FoodUse::NotFood,
    }
}

fn use_class(word: &str) -> UseClass {
    match word {
        "food" => UseClass::Food,
        "process" => UseClass::Process,
        "restricted" => UseClass::Restricted,
        "concept" => UseClass::Concept,
        "lab_only" => UseClass::LabOnly,
        _ => UseClass::History,
    }
}

fn trust(word: &str) -> Trust {
    match word {
        "H" => Trust::High,
        "M" => Trust::Medium,
        _ => Trust::Low,
    }
}
