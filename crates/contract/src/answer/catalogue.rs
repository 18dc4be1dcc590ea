//! The catalogue of salts as reference data.

use springwright_chem::matter::catalogue::{self as shelf, Salt as Row, Trust};
use springwright_chem::matter::component;
use springwright_chem::matter::formula::Formula;
use springwright_chem::sources;

use super::faults::own;
use crate::problem::Problem;
use crate::salts::{Salt, SaltsPage, SaltsQuery, SolubilityPoint};

const USUAL_LIMIT: u32 = 50;
const MOST: u32 = 500;

/// A page of the catalogue, by id.
///
/// # Errors
/// A problem where `gives` names no component, `limit` is out of range or `cursor` is no id of the catalogue.
pub fn salts(query: &SaltsQuery) -> Result<SaltsPage, Problem> {
    let limit = query.limit.unwrap_or(USUAL_LIMIT);
    let wanted = query.gives.as_deref().map(component::named);
    let mut faults = Vec::new();
    if wanted == Some(None) {
        let given = query.gives.as_deref().unwrap_or_default();
        faults.push(own(
            "/gives",
            "component_unknown",
            format!("'{given}' is no component"),
            "use an id such as Ca, SO4 or citrate",
        ));
    }
    if !(1..=MOST).contains(&limit) {
        faults.push(own(
            "/limit",
            "out_of_range",
            format!("{limit} lies outside 1 to {MOST}"),
            "ask for fewer rows at once",
        ));
    }
    let cursor = query.cursor.as_deref().unwrap_or_default();
    if !cursor.is_empty() && shelf::salt(cursor).is_none() {
        faults.push(own(
            "/cursor",
            "cursor_unknown",
            format!("'{cursor}' is no id of the catalogue"),
            "use the next_cursor of the page before, or leave it out",
        ));
    }
    if !faults.is_empty() {
        return Err(Problem::refused(faults));
    }
    let mut rows: Vec<&Row> =
        shelf::salts().iter().filter(|row| matches(row, query, wanted.flatten())).collect();
    rows.sort_by_key(|row| row.id);
    let mut page: Vec<&Row> =
        rows.into_iter().filter(|row| row.id > cursor).take(limit as usize + 1).collect();
    let more = page.len() > limit as usize;
    page.truncate(limit as usize);
    let next_cursor = page.last().filter(|_| more).map(|row| row.id.to_owned());
    Ok(SaltsPage { salts: page.into_iter().map(salt).collect(), next_cursor })
}

/// The same page as JSON text.
///
/// # Errors
/// As [`salts`].
pub fn salts_json(query: &SaltsQuery) -> Result<String, Problem> {
    super::finite_json(&salts(query)?)
}

fn matches(row: &Row, query: &SaltsQuery, gives: Option<component::Component>) -> bool {
    let food = query.food.is_none_or(|food| (row.food_use.word() == "yes") == food);
    let gives = gives.is_none_or(|wanted| {
        row.gives.as_ref().is_some_and(|given| {
            let carbonate = wanted == component::Component::HCO3 || wanted == component::Component::CO3;
            given.of(wanted) > 0.0 || (carbonate && given.carbonate > 0.0)
        })
    });
    food && gives && query.search.as_deref().is_none_or(|text| speaks_of(row, text))
}

/// Whether a text stands in any name of a row, or is its formula in another spelling.
fn speaks_of(row: &Row, text: &str) -> bool {
    let lower = text.trim().to_lowercase();
    let formula = row.formula.as_ref().map(Formula::canonical).unwrap_or_default().to_lowercase();
    let names = [row.id, row.name, &formula].map(str::to_lowercase);
    let others = row.synonyms.iter().chain(&row.historical_names).map(|name| name.to_lowercase());
    names.into_iter().chain(others).any(|name| name.contains(&lower))
        || Formula::read(text)
            .is_ok_and(|read| row.formula.as_ref().is_some_and(|own| own.same_substance(&read)))
}

fn salt(row: &Row) -> Salt {
    let owned = |texts: &[&str]| texts.iter().map(|text| (*text).to_owned()).collect();
    let number = |additive: Option<shelf::Additive>| additive.map(|additive| additive.text.to_owned());
    Salt {
        id: row.id.to_owned(),
        name: row.name.to_owned(),
        formula: row.formula.as_ref().map(Formula::canonical),
        molar_mass_g_per_mol: row.molar_mass(),
        mg_per_g: mg_per_g(row),
        cas: Some(row.cas.to_owned()).filter(|cas| !cas.is_empty()),
        ins: number(row.ins),
        eu_e: number(row.eu_e),
        us_status: number(row.us_status),
        food_use: row.food_use.word().to_owned(),
        refusal: Some(row.refusal.to_owned()).filter(|why| !why.is_empty()),
        synonyms: owned(&row.synonyms),
        historical_names: owned(&row.historical_names),
        solubility: solubility(row),
        assay_at_least_percent: row.assay.map(|assay| assay.percent.lo),
        assay_at_most_percent: row.assay.and_then(|assay| assay.percent.hi),
        assay_of: row.assay.and_then(|assay| assay.of).map(str::to_owned),
        bulk_density_at_least_g_per_ml: row.bulk_density.map(|density| density.lo),
        bulk_density_at_most_g_per_ml: row.bulk_density.and_then(|density| density.hi),
        needs: row.needs.map(|need| need.needs.word().to_owned()),
        incompatibilities: row.incompatible.to_owned(),
        moisture: row.moisture.to_owned(),
        confidence: match row.trust {
            Trust::High => "high",
            Trust::Medium => "medium",
            Trust::Low => "low",
        }
        .to_owned(),
        sources: row.sources().into_iter().map(|key| sources::citation(key).to_owned()).collect(),
    }
}

/// mg of each component in a gram of the stated formula; carbonate as HCO3.
fn mg_per_g(row: &Row) -> std::collections::BTreeMap<String, f64> {
    let (Some(gives), Some(molar_mass)) = (&row.gives, row.molar_mass()) else { return Default::default() };
    let carbonate = (component::Component::HCO3, gives.carbonate);
    let all = gives.components.iter().copied().chain(Some(carbonate).filter(|(_, moles)| *moles > 0.0));
    all.map(|(part, moles)| (part.id().to_owned(), 1000.0 * moles * part.molar_mass() / molar_mass)).collect()
}

fn solubility(row: &Row) -> Vec<SolubilityPoint> {
    let Some(curve) = row.solubility_curve() else { return Vec::new() };
    let point = |point: &shelf::SolubilityPoint| SolubilityPoint {
        temperature_c: point.celsius,
        g_per_100_g_water: point.grams,
        of: curve.of.canonical(),
    };
    curve.points.iter().map(point).collect()
}
