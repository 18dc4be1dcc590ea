//! Answers `scale-up`.

use springwright_chem::formulation::Place;

use super::mixture::Amount;
use super::said;
use super::weighing::{Task, task};
use crate::problem::Fault;
use crate::reading::Read;
use crate::scale_up::{ScaleUpAnswer, ScaleUpRequest, ScaledPouring, WholeBags};
use crate::weighing::WeighingRequest;

/// Volumes with whole bags that are told at most.
const MOST_VOLUMES: usize = 12;

/// A recipe in another volume.
pub(super) fn answer(read: Read<ScaleUpRequest>) -> Result<ScaleUpAnswer, Vec<Fault>> {
    let Read { request, value, .. } = read;
    let (mut assumptions, mut findings) = (Vec::new(), Vec::new());
    let tried = task(&request.recipe, &mut assumptions, &mut findings).map_err(inside)?;
    let litres = tried.recipe.litres().map_err(|error| inside(tried.placed(&[(Place::Whole, error)])))?;
    let times = request.volume_l / litres;
    let scaled = scaled(&request.recipe, times);
    let (mut assumptions, mut findings) = (Vec::new(), Vec::new());
    let large = task(&scaled, &mut assumptions, &mut findings).map_err(inside)?;
    assumptions.iter_mut().for_each(|one| one.pointer.insert_str(0, RECIPE));
    findings.iter_mut().for_each(|one| one.pointer.insert_str(0, RECIPE));
    said::strictly(request.recipe.strict, &assumptions)?;
    let told = findings.len();
    let mut plan = large.planned(&value, assumptions, findings).map_err(inside)?;
    let own = plan.findings.iter_mut().skip(told).filter(|one| !one.pointer.is_empty());
    own.for_each(|one| one.pointer.insert_str(0, RECIPE));
    plan.wishes.iter_mut().for_each(|wish| wish.pointer.insert_str(0, RECIPE));
    for line in &mut plan.weighings {
        let ends = line.ended_below_by.iter_mut().chain(&mut line.ended_above_by);
        ends.for_each(|pointer| pointer.insert_str(0, RECIPE));
    }
    let (pourings, whole_bags) = (pourings(&large), whole_bags(&large, request.volume_l));
    Ok(ScaleUpAnswer { times, pourings, whole_bags, plan })
}

/// Where the recipe stands in the request.
const RECIPE: &str = "/recipe";

/// Faults of the recipe at their places in the request.
fn inside(mut faults: Vec<Fault>) -> Vec<Fault> {
    faults.iter_mut().for_each(|fault| fault.pointer.insert_str(0, RECIPE));
    faults
}

/// The recipe so many times.
fn scaled(recipe: &WeighingRequest, times: f64) -> WeighingRequest {
    let mut large = recipe.clone();
    for part in &mut large.parts {
        part.volume_l = part.volume_l.map(|litres| litres * times);
        part.mass_kg = part.mass_kg.map(|kg| kg * times);
    }
    large.recipe.iter_mut().for_each(|salt| salt.mass_g *= times);
    large
}

fn pourings(large: &Task<'_>) -> Vec<ScaledPouring> {
    let pouring = |part: &super::mixture::Part| {
        let water = &part.source.water;
        let density = water.density_kg_per_l();
        let (volume_l, mass_kg) = match part.amount {
            Amount::Litres(litres) => (litres, litres * density),
            Amount::Kilograms(kg) => (kg / density, kg),
        };
        ScaledPouring {
            water: part.source.name.clone(),
            volume_l,
            mass_kg,
            temperature_c: water.temperature_c(),
        }
    };
    large.parts.iter().map(pouring).collect()
}

/// Volumes near the wanted one at which a salt comes out in whole bags.
fn whole_bags(large: &Task<'_>, volume_l: f64) -> Vec<WholeBags> {
    let mut volumes = Vec::new();
    for (at, line) in large.recipe.lines.iter().enumerate() {
        let Some(bag_g) = line.bag_g.filter(|_| line.ideal_g > 0.0) else { continue };
        let bags = line.ideal_g / bag_g;
        let mut near = [bags.floor().max(1.0), bags.ceil().max(1.0)].to_vec();
        near.dedup();
        volumes.extend(near.into_iter().map(|bags| WholeBags {
            index: at as u32,
            name: line.choice.salt.name.to_owned(),
            bags: bags as i64,
            volume_l: volume_l * bags * bag_g / line.ideal_g,
        }));
    }
    let off = |one: &WholeBags| (one.volume_l / volume_l).max(volume_l / one.volume_l);
    volumes.sort_by(|one, other| off(one).total_cmp(&off(other)));
    volumes.truncate(MOST_VOLUMES);
    volumes
}
