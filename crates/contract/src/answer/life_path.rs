//! Answers `life-path`.

use springwright_chem::assessment;
use springwright_chem::composition::solids;
use springwright_chem::equilibrium::carbonation::CO2_MOLAR_MASS;
use springwright_chem::phases::PhaseError;
use springwright_chem::phases::haze::WaterHaze;
use springwright_chem::phases::haze_limits::Limits;
use springwright_chem::properties::life_path::{LifePath, LifePathError, Step};
use springwright_chem::properties::{Held, SolvedWater, StateError};

use super::faults::fault;
use super::mixture::{Part, Poured};
use super::source::Source;
use super::{said, state, water};
use crate::haze::Verdict;
use crate::life_path::{LifePathAnswer, LifePathRequest, LifeStageRead, LifeStageWord};
use crate::problem::Fault;
use crate::reading::{Read, below};
use crate::said::{Caution, Finding, NotJudged};

mod changes;
mod encode;
mod picture;
mod read;
mod table;

/// What becomes of a water.
pub(super) fn answer(read: Read<LifePathRequest>) -> Result<LifePathAnswer, Vec<Fault>> {
    let Read { request, value, mut assumptions, .. } = read;
    let mut findings = Vec::new();
    let asked = read::asked(&request, &mut assumptions, &mut findings)?;
    said::strictly(request.strict, &assumptions)?;
    let life = asked.life()?;
    let mut not_judged = Vec::new();
    let mut told = asked.stocks(&mut not_judged);
    told.extend(asked.steps(&life)?);
    let stages: Vec<LifeStageRead> = told.iter().map(|one| one.read.clone()).collect();
    let (mixed, own) = water::solved(&life.mixed, Some(asked.litres()), asked.poured.closure);
    not_judged.extend(own);
    let highest = stages.iter().filter_map(|stage| stage.gauge_bar).reduce(f64::max);
    if request.rating_bar.is_none() && highest.is_some_and(|bar| bar > 0.0) {
        let why = "rating_bar states for which pressure it is made".to_owned();
        not_judged.push(NotJudged { what: "strength of the vessel".to_owned(), why });
    }
    findings
        .extend(solids::findings(life.mixed.solution.totals()).iter().map(|found| said::finding("", found)));
    findings.extend(state::findings(&life.mixed));
    findings.extend(fallen(&stages));
    let worst = worst(&stages);
    Ok(LifePathAnswer {
        verdict: worst.map_or(Verdict::Undersaturated, |stage| stage.verdict),
        worst_stage: worst.map(|stage| stage.number),
        highest_gauge_bar: highest,
        co2_imbalance: life.imbalance(),
        text_table: table::draw(&stages, &asked.words()),
        svg: picture::draw(&told, &asked.words(), request.rating_bar),
        cautions: cautions(&stages, &life, highest, request.rating_bar),
        mixed,
        stages,
        not_judged,
        assumptions,
        findings,
        provenance: state::provenance(&value),
    })
}

/// What is asked, read.
struct Asked<'a> {
    request: &'a LifePathRequest,
    parts: Vec<Part>,
    poured: Poured,
    stages: Vec<springwright_chem::properties::life_path::Stage>,
    limits: Limits,
    altitude_m: f64,
}

/// A life that was followed.
struct Life {
    mixed: SolvedWater,
    path: LifePath,
    steps: Vec<Step>,
}

/// A stage as it is answered, and the haze behind it.
struct Told {
    read: LifeStageRead,
    haze: WaterHaze,
}

impl Life {
    fn imbalance(&self) -> f64 {
        let pairs = self.steps.windows(2);
        pairs.map(|pair| pair[1].carbon.imbalance(&pair[0].carbon)).fold(0.0, f64::max)
    }
}

impl Asked<'_> {
    /// Litres of the mix.
    fn litres(&self) -> f64 {
        self.poured.water_kg / self.poured.mixed.water_kg_per_l()
    }

    /// Where the water lives, in words.
    fn words(&self) -> String {
        let names: Vec<&str> = self.parts.iter().map(|part| part.source.name.as_str()).collect();
        let rated = self.request.rating_bar.map(|bar| format!(", rated for {bar} bar")).unwrap_or_default();
        format!("{}, {} m above the sea{rated}", names.join(" + "), self.altitude_m)
    }

    fn life(&self) -> Result<Life, Vec<Fault>> {
        let unsolved = self.parts.iter().find_map(|part| part.source.unsolved.as_ref());
        let mixed =
            SolvedWater::of(&self.poured.mixed, Held::Closed).map_err(|error| match (&error, unsolved) {
                (StateError::Carbonate | StateError::Alkalinity, Some(deeper)) => {
                    vec![fault("/parts", deeper)]
                }
                _ => vec![fault("/parts", &error)],
            })?;
        let path = LifePath::of(&self.poured.mixed, self.altitude_m, &self.stages)
            .map_err(|error| at_stage(&error))?;
        let steps = path.walk().map_err(|error| at_stage(&error))?;
        Ok(Life { mixed, path, steps })
    }

    /// The parts that are stocks, each by itself.
    fn stocks(&self, not_judged: &mut Vec<NotJudged>) -> Vec<Told> {
        let salted = self.parts.iter().filter(|part| !part.sheet.salts().is_empty());
        let mut told: Vec<Told> = Vec::new();
        for part in salted {
            match stock(&part.source, told.len() as u32 + 1, &self.limits) {
                Ok(stock) => told.push(stock),
                Err(why) => not_judged.push(NotJudged { what: part.source.name.clone(), why }),
            }
        }
        told
    }

    fn steps(&self, life: &Life) -> Result<Vec<Told>, Vec<Fault>> {
        let stocks = self.parts.iter().filter(|part| !part.sheet.salts().is_empty()).count();
        let litre_kg = self.poured.mixed.water_kg_per_l();
        let mut told = Vec::new();
        for (at, step) in life.steps.iter().enumerate() {
            let haze = life.path.haze(step, &self.limits).map_err(|error| no_verdict(at, &error))?;
            let (stage, name) = self.named(at);
            let mut read = encode::stage(stage, name, &step.state, &haze, litre_kg);
            read.number = (stocks + at) as u32 + 1;
            read.gauge_bar = step.gauge_bar.filter(|bar| *bar > -1e-9).map(|bar| bar.max(0.0));
            read.gauge_bar = read.gauge_bar.filter(|_| read.pco2_bar.is_some());
            read.co2 = Some(encode::ledger(step, litre_kg * CO2_MOLAR_MASS));
            if self.request.suggestions != Some(false) && read.verdict > Verdict::Dissolving {
                read.changes = changes::of(life, at, &self.limits, litre_kg);
            }
            told.push(Told { read, haze });
        }
        Ok(told)
    }

    /// What a step is, and what people call it.
    fn named(&self, at: usize) -> (LifeStageWord, String) {
        let Some(stage) = at.checked_sub(1).map(|at| &self.request.stages[at]) else {
            return (LifeStageWord::Mixed, "mixed".to_owned());
        };
        let word = encode::word(stage.stage);
        (word, stage.name.clone().unwrap_or_else(|| encode::in_words(word).to_owned()))
    }
}

/// A stock by itself; or why it is not judged.
fn stock(source: &Source, number: u32, limits: &Limits) -> Result<Told, String> {
    let solved =
        SolvedWater::of(&source.water, Held::Closed).map_err(|error| match (&error, &source.unsolved) {
            (StateError::Carbonate, Some(deeper)) => deeper.to_string(),
            _ => error.to_string(),
        })?;
    let haze = solved.haze(&[], limits).map_err(|error| error.to_string())?;
    let litre_kg = solved.solution.water_kg_per_l();
    let mut read = encode::stage(LifeStageWord::Stock, source.name.clone(), &solved.state, &haze, litre_kg);
    read.number = number;
    Ok(Told { read, haze })
}

/// A fault of the life at the stage that brings it.
fn at_stage(error: &LifePathError) -> Vec<Fault> {
    let pointer = match error.stage().and_then(|stage| stage.checked_sub(1)) {
        Some(stage) => below("/stages", stage),
        None => "/parts".to_owned(),
    };
    vec![fault(pointer, error)]
}

fn no_verdict(at: usize, error: &PhaseError) -> Vec<Fault> {
    let pointer = at.checked_sub(1).map_or("/parts".to_owned(), |stage| below("/stages", stage));
    vec![fault(pointer, error)]
}

/// The stage with the harshest verdict, and among those alike that with the least margin.
fn worst(stages: &[LifeStageRead]) -> Option<&LifeStageRead> {
    let margin = |stage: &LifeStageRead| stage.margin.unwrap_or(f64::INFINITY);
    let judged = stages.iter().filter(|stage| stage.worst_solid.is_some());
    judged.min_by(|a, b| b.verdict.cmp(&a.verdict).then(margin(a).total_cmp(&margin(b))))
}

/// That a stage before has clouded, so that those after it do not hold all that they are judged by.
fn fallen(stages: &[LifeStageRead]) -> Option<Finding> {
    let clouds =
        |stage: &&LifeStageRead| stage.stage != LifeStageWord::Stock && stage.verdict == Verdict::Clouds;
    let first = stages.iter().find(clouds)?;
    if stages.last().is_some_and(|last| last.number == first.number) {
        return None;
    }
    let text = format!(
        "The water clouds at stage {}, {}. The stages after it are judged as if nothing had fallen: what stands in them is \
         less by what fell.",
        first.number, first.name
    );
    Some(Finding {
        code: "judged_as_if_nothing_fell".to_owned(),
        pointer: "/stages".to_owned(),
        text,
        source: None,
    })
}

/// Cautions on pressure and gas, on what is dissolved, and those that always stand.
fn cautions(
    stages: &[LifeStageRead],
    life: &Life,
    highest: Option<f64>,
    rating: Option<f64>,
) -> Vec<Caution> {
    let ledgers = stages.iter().filter_map(|stage| stage.co2);
    let most = ledgers.map(|co2| co2.added_g_per_l.max(co2.lost_g_per_l)).fold(0.0, f64::max);
    let over = highest.zip(rating).and_then(|(bar, rating)| assessment::for_rating(bar, rating));
    let gas = assessment::for_carbonation(highest.unwrap_or(0.0), most);
    let own = over.into_iter().chain(gas).map(said::caution);
    own.chain(said::cautions(&life.mixed.solution)).collect()
}
