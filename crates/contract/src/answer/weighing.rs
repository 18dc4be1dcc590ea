//! Answers `weighing`.

use serde_json::Value;
use springwright_chem::composition::{solids, state::Solution};
use springwright_chem::formulation::reason::named as named_quantity;
use springwright_chem::formulation::weighing::{Chanced, FEW_STEPS, Line, Recipe, Weighed, Weighing};
use springwright_chem::formulation::{FormulationError, Place, Wish};
use springwright_chem::matter::formula::Formula;
use springwright_chem::numeric::propagation::Chance;
use springwright_chem::properties::StateError;

use super::blend::encode::{asked, in_unit};
use super::blend::{balance, choice, target};
use super::faults::{both, fault, own};
use super::mixture::{self, Part, Poured, pour};
use super::state::{self, Answered};
use super::{co2, digest, said};
use crate::problem::Fault;
use crate::reading::{Read, below};
use crate::said::{Assumption, Caution, Finding};
use crate::salt_choice::SaltChoice;
use crate::weighing::{
    RecipeSalt, RecipeWeighing, StockSolution, WeighedWish, WeighingPlanAnswer, WeighingRequest,
};

/// Number of draws where the request does not say, and their stream.
const USUAL_DRAWS: u32 = 10_000;
const USUAL_SEED: u64 = 1;

/// What of a recipe to put on the balances.
pub(super) fn answer(read: Read<WeighingRequest>) -> Result<WeighingPlanAnswer, Vec<Fault>> {
    let Read { request, value, mut assumptions, .. } = read;
    let mut findings = Vec::new();
    let task = task(&request, &mut assumptions, &mut findings)?;
    said::strictly(request.strict, &assumptions)?;
    task.planned(&value, assumptions, findings)
}

impl Task<'_> {
    /// The plan, with what was taken for granted and noticed on the way.
    pub(super) fn planned(
        &self,
        value: &Value,
        assumptions: Vec<Assumption>,
        mut findings: Vec<Finding>,
    ) -> Result<WeighingPlanAnswer, Vec<Fault>> {
        let chance = Chance {
            draws: self.request.draws.unwrap_or(USUAL_DRAWS) as usize,
            seed: self.request.seed.unwrap_or(USUAL_SEED),
            key: digest::request_key(value),
        };
        let weighing = self.recipe.weigh(&chance).map_err(|errors| self.placed(&errors))?;
        let finished = self.finished(&weighing)?;
        findings
            .extend(solids::findings(weighing.mixed.totals()).iter().map(|found| said::finding("", found)));
        let lines: Vec<RecipeWeighing> =
            weighing.lines.iter().enumerate().map(|(at, line)| self.line(at, line)).collect();
        findings.extend(
            weighing
                .lines
                .iter()
                .zip(&lines)
                .enumerate()
                .flat_map(|(at, (line, told))| little(at, line, told)),
        );
        let provenance = finished.provenance(value);
        findings.extend(finished.findings);
        Ok(WeighingPlanAnswer {
            wishes: weighing.wishes.iter().enumerate().map(|(at, wish)| self.wish(at, wish)).collect(),
            weighings: lines,
            probability_percent: weighing.probability_percent,
            water: finished.water,
            not_judged: finished.not_judged,
            assumptions,
            findings,
            cautions: self.cautions(&weighing),
            provenance,
        })
    }
}

/// What is asked, read.
pub(super) struct Task<'a> {
    request: &'a WeighingRequest,
    pub(super) parts: Vec<Part>,
    poured: Poured,
    pub(super) recipe: Recipe,
}

/// Reads the request, or every fault of it.
pub(super) fn task<'a>(
    request: &'a WeighingRequest,
    assumptions: &mut Vec<Assumption>,
    findings: &mut Vec<Finding>,
) -> Result<Task<'a>, Vec<Fault>> {
    let parts = mixture::parts(&request.parts, assumptions, findings);
    let lines = lines(&request.recipe, assumptions);
    let wishes = wishes(request, assumptions);
    let held = co2::read(request.co2.as_ref(), "/co2", assumptions);
    let ((parts, lines), (wishes, held)) = both(both(parts, lines), both(wishes, held))?;
    let celsius = mixture::temperature(request.temperature_c, assumptions);
    if request.poured_uncertainty_percent.is_none() {
        assumptions.push(said::assumed(
            "poured_taken_as_exact",
            "/poured_uncertainty_percent",
            "What is poured is taken as exact.",
            "1 % more of it makes every ion that the salts bring 1 % less.",
        ));
    }
    let pairs: Vec<_> = parts.iter().map(|part| (part.amount, &part.source)).collect();
    let poured = pour(&pairs, celsius)?;
    let recipe = Recipe {
        poured: poured.mixed.clone(),
        water_kg: poured.water_kg,
        poured_uncertainty_percent: request.poured_uncertainty_percent.unwrap_or(0.0),
        lines,
        balances: request.balances.iter().map(balance).collect(),
        wishes,
        co2: held,
    };
    Ok(Task { request, parts, poured, recipe })
}

fn lines(stated: &[RecipeSalt], assumptions: &mut Vec<Assumption>) -> Result<Vec<Line>, Vec<Fault>> {
    let (mut lines, mut faults) = (Vec::new(), Vec::new());
    for (at, salt) in stated.iter().enumerate() {
        let pointer = below("/recipe", at);
        let RecipeSalt { salt: name, formula, assay_percent, lot, .. } = salt.clone();
        let shelved = SaltChoice { salt: name, formula, assay_percent, lot, ..SaltChoice::default() };
        match choice::read(&shelved, &pointer, assumptions) {
            Ok(choice) => lines.push(Line {
                choice,
                ideal_g: salt.mass_g,
                assay_uncertainty_percent: salt.assay_uncertainty_percent.unwrap_or(0.0),
                bag_g: salt.bag_g,
            }),
            Err(own) => faults.extend(own),
        }
        if salt.assay_uncertainty_percent.is_none() {
            assumptions.push(said::assumed(
                "assay_taken_as_exact",
                below(&pointer, "assay_uncertainty_percent"),
                "The assay is taken as exact.",
                "It narrows what is told of how likely the wishes are met.",
            ));
        }
    }
    if faults.is_empty() { Ok(lines) } else { Err(faults) }
}

fn wishes(request: &WeighingRequest, assumptions: &mut Vec<Assumption>) -> Result<Vec<Wish>, Vec<Fault>> {
    let (mut wishes, mut faults) = (Vec::new(), Vec::new());
    for (at, stated) in request.target.iter().flatten().enumerate() {
        let pointer = below("/target", at);
        if stated.of == "cost" || stated.of == "haze" {
            let message = format!("a recipe on the scale is not judged by {}", stated.of);
            let mend =
                "blend takes cost and haze; life-path and precipitation judge haze of the finished water";
            faults.push(own(below(&pointer, "of"), "wish_not_for_weighing", message, mend));
            continue;
        }
        match target::read(stated, &pointer, assumptions) {
            Ok(wish) => wishes.push(wish),
            Err(own) => faults.extend(own),
        }
    }
    if faults.is_empty() { Ok(wishes) } else { Err(faults) }
}

impl Task<'_> {
    /// Faults of the chemistry at their places.
    pub(super) fn placed(&self, errors: &[(Place, FormulationError)]) -> Vec<Fault> {
        let unsolved = self.parts.iter().find_map(|part| part.source.unsolved.as_ref());
        let one = |(place, error): &(Place, FormulationError)| match (place, error, unsolved) {
            (Place::Wish(at), ..) => fault(below("/target", *at), error),
            (Place::Balance(at), ..) => fault(below("/balances", *at), error),
            (_, FormulationError::State(StateError::Carbonate | StateError::Alkalinity), Some(deeper)) => {
                fault("/parts", deeper)
            }
            _ => fault("/parts", error),
        };
        errors.iter().map(one).collect()
    }

    fn finished(&self, weighing: &Weighing) -> Result<Answered, Vec<Fault>> {
        let poured = &self.poured;
        let kilograms = self.recipe.whole_water_kg(weighing.lines.iter().map(|line| line.mass_g));
        let litres = |water: &Solution| Some(kilograms / water.water_kg_per_l());
        if let Some(solved) = &weighing.solved {
            let volume_l = litres(&solved.solution);
            return Ok(Answered::of(solved.clone(), volume_l, poured.closure));
        }
        let unsolved = self.parts.iter().find_map(|part| part.source.unsolved.as_ref());
        state::answered(&weighing.mixed, litres, self.recipe.co2, poured.closure, unsolved)
    }

    fn line(&self, at: usize, weighed: &Weighed) -> RecipeWeighing {
        let line = &self.recipe.lines[at];
        let balance = self.recipe.balances[weighed.balance];
        let pointers = |wishes: &[usize]| wishes.iter().map(|wish| below("/target", *wish)).collect();
        let salt = line.choice.salt;
        RecipeWeighing {
            salt: salt.id.to_owned(),
            name: salt.name.to_owned(),
            formula: salt.formula.as_ref().map(Formula::canonical),
            lot: self.request.recipe[at].lot.clone(),
            recipe_g: line.ideal_g,
            bags: line.bag_g.map(|_| weighed.bags),
            steps: weighed.steps,
            step_g: balance.step_g,
            balance: weighed.balance as u32,
            mass_g: weighed.mass_g,
            portions: weighed.portions,
            rounding_percent: if weighed.steps > 0 { 50.0 / weighed.steps as f64 } else { 0.0 },
            uncertainty_g: weighed.uncertainty_g,
            least_g: weighed.tolerated.least_g,
            most_g: weighed.tolerated.most_g,
            ended_below_by: pointers(&weighed.tolerated.ended_below_by),
            ended_above_by: pointers(&weighed.tolerated.ended_above_by),
            stock: weighed.stock.map(|stock| StockSolution {
                steps: stock.steps,
                mass_g: stock.mass_g,
                flask_ml: stock.flask_ml,
                dose_ml: stock.dose_ml,
                text: format!(
                    "dissolve {} g in water, fill up to {:.0} mL, and dose {:.2} mL of it",
                    decimals(stock.mass_g, balance.step_g),
                    stock.flask_ml,
                    stock.dose_ml
                ),
            }),
        }
    }

    fn wish(&self, at: usize, wish: &Chanced) -> WeighedWish {
        let told = |value: f64| value.is_finite().then(|| in_unit(&wish.rule, value));
        WeighedWish {
            pointer: below("/target", at),
            of: named_quantity(&self.recipe.wishes[at].quantity),
            asked: asked(&wish.rule),
            got: told(wish.value),
            by_recipe: told(wish.ideal),
            met: wish.met,
            probability_percent: wish.probability_percent,
        }
    }

    fn cautions(&self, weighing: &Weighing) -> Vec<Caution> {
        let mut cautions: Vec<Caution> = Vec::new();
        for caution in self.recipe.lines.iter().flat_map(|line| said::handling(line.choice.salt)) {
            if !cautions.contains(&caution) {
                cautions.push(caution);
            }
        }
        let finished = weighing.solved.as_ref().map_or(&weighing.mixed, |solved| &solved.solution);
        cautions.into_iter().chain(said::cautions(finished)).collect()
    }
}

/// A mass with the decimals of its balance.
fn decimals(mass_g: f64, step_g: f64) -> String {
    let places = (-step_g.log10()).ceil().clamp(0.0, 6.0) as usize;
    format!("{mass_g:.places$}")
}

/// What is too little or too much for its balance.
fn little(at: usize, weighed: &Weighed, told: &RecipeWeighing) -> Vec<Finding> {
    let pointer = below(&below("/recipe", at), "mass_g");
    let say = |code: &str, text: String| Finding {
        code: code.to_owned(),
        pointer: pointer.clone(),
        text,
        source: None,
    };
    let instead = told.stock.as_ref().map(|stock| format!(" Better {}.", stock.text)).unwrap_or_default();
    let mut findings = Vec::new();
    if weighed.below_least {
        let text = format!(
            "{}: {} g are less than this balance weighs at least.{instead}",
            told.name, told.recipe_g
        );
        findings.push(say("below_least", text));
    } else if weighed.steps > 0 && weighed.steps < FEW_STEPS {
        let text = format!(
            "{}: {} g are {} steps of this balance, so that half a step is {:.0} % of it.{instead}",
            told.name, told.mass_g, weighed.steps, told.rounding_percent
        );
        findings.push(say("few_steps", text));
    }
    if weighed.portions > 1 {
        let text = format!("{}: the balance takes it in {} portions.", told.name, weighed.portions);
        findings.push(say("weighed_in_portions", text));
    }
    findings
}
