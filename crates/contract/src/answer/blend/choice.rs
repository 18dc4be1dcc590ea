//! A salt of the request as a choice of the shelf.

use springwright_chem::formulation::Choice;
use springwright_chem::matter::catalogue::{self, Salt};

use crate::answer::faults::{fault, own};
use crate::answer::said::assumed;
use crate::problem::Fault;
use crate::reading::below;
use crate::said::Assumption;
use crate::salt_choice::SaltChoice;

/// Reads a salt, or every fault of it.
pub(in crate::answer) fn read(
    stated: &SaltChoice,
    pointer: &str,
    assumptions: &mut Vec<Assumption>,
) -> Result<Choice, Vec<Fault>> {
    let salt = named(stated.salt.as_deref(), stated.formula.as_deref(), pointer)?;
    if stated.assay_percent.is_none() && salt.assay_must_be_stated() {
        let message = format!("{} is sold in many strengths: its assay must be stated", salt.name);
        let mend = "state assay_percent: g of the formula in 100 g weighed, as the certificate says";
        return Err(vec![own(below(pointer, "assay_percent"), "assay_unstated", message, mend)]);
    }
    let mut choice = Choice::new(salt, stated.assay_percent.unwrap_or(100.0))
        .map_err(|error| vec![fault(pointer, &error)])?;
    choice.goes_into_plain_water().map_err(|error| vec![fault(pointer, &error)])?;
    if stated.assay_percent.is_none() {
        assumptions.push(assay(salt, pointer));
    }
    choice.price_per_kg = stated.price_per_kg;
    choice.stock_g = stated.stock_g;
    choice.least_g = stated.at_least_g;
    choice.most_g = stated.at_most_g;
    if let (Some(least), Some(most)) = (stated.at_least_g, stated.at_most_g.or(stated.stock_g))
        && least > most
    {
        let message = format!("at_least_g is {least} g, but no more than {most} g may go in");
        let mend = "let at_least_g be no more than at_most_g and stock_g";
        return Err(vec![own(below(pointer, "at_least_g"), "bounds_crossed", message, mend)]);
    }
    Ok(choice)
}

/// The salt that an id, name or formula means. With both they must mean the same.
pub(in crate::answer) fn named(
    salt: Option<&str>,
    formula: Option<&str>,
    pointer: &str,
) -> Result<&'static Salt, Vec<Fault>> {
    let find = |text: &str, field: &str| {
        catalogue::find(text).map_err(|error| vec![fault(below(pointer, field), &error)])
    };
    match (salt, formula) {
        (Some(salt), None) => find(salt, "salt"),
        (None, Some(formula)) => find(formula, "formula"),
        (Some(salt), Some(formula)) => {
            let (by_name, by_formula) = (find(salt, "salt")?, find(formula, "formula")?);
            if by_name.id == by_formula.id {
                return Ok(by_name);
            }
            let message = format!("'{salt}' is {}, but '{formula}' is {}", by_name.id, by_formula.id);
            Err(vec![own(
                pointer,
                "salt_stated_twice",
                message,
                "state one of salt and formula, or let both mean the same hydrate",
            )])
        }
        (None, None) => {
            let message = "neither salt nor formula is stated";
            Err(vec![own(
                pointer,
                "field_missing",
                message,
                "name the salt with its hydrate, or write its formula with its water",
            )])
        }
    }
}

fn assay(salt: &Salt, pointer: &str) -> Assumption {
    let effect = match salt.assay {
        Some(assay) => {
            let (lo, hi) = (assay.percent.lo, assay.percent.hi.unwrap_or(assay.percent.lo));
            format!(
                "The trade sells {lo} to {hi} %: at {lo} % its ions would come out {:.1} % lower.",
                (100.0 - lo).max(0.0)
            )
        }
        None => "At 98 % its ions would come out 2 % lower.".to_owned(),
    };
    assumed(
        "assay_assumed",
        below(pointer, "assay_percent"),
        format!("{} is taken as 100 % of its formula.", salt.name),
        effect,
    )
}
