//! Answers `compatibility`.

use springwright_chem::composition::added::Added;
use springwright_chem::composition::state::Solution;
use springwright_chem::composition::totals::{Standing, Totals};
use springwright_chem::equilibrium::{EquilibriumError, Known, Model, is_known};
use springwright_chem::formulation::Choice;
use springwright_chem::matter::component::Component;
use springwright_chem::phases::compatibility::{Meeting, Portion, Surroundings, check};
use springwright_chem::phases::haze_limits::Limits;
use springwright_chem::properties::solved_water::left_out;
use springwright_chem::properties::{Held, StateError};

use super::blend::choice::named;
use super::faults::{both, fault, own};
use super::{co2, haze, mixture, said, source, state};
use crate::compatibility::{CompatibilityAnswer, CompatibilityRequest, ShelfSalt};
use crate::problem::Fault;
use crate::reading::{Read, below};
use crate::said::{Assumption, Caution, Finding};

mod encode;
mod picture;
mod table;

/// Which salts may stand together.
pub(super) fn answer(read: Read<CompatibilityRequest>) -> Result<CompatibilityAnswer, Vec<Fault>> {
    let Read { request, value, mut assumptions, .. } = read;
    let mut findings = Vec::new();
    let water = water(&request, &mut assumptions, &mut findings);
    let limits = haze::limits(request.haze_limits.as_deref(), request.visible_mg_per_l);
    let ((water, shelf), limits) = both(both(water, shelf(&request.salts)), limits)?;
    said::strictly(request.strict, &assumptions)?;
    let portions = portions(&shelf, &water.poured)?;
    let asked = Asked { water, shelf, portions, limits };
    let meeting = asked.meeting();
    let found = check(&meeting, &asked.portions);
    let told = encode::told(&asked, &found);
    let substitutes = match request.suggestions {
        Some(false) => Vec::new(),
        _ => encode::substitutes(&asked, &meeting, &told.pairs),
    };
    let placed = asked.water.words();
    Ok(CompatibilityAnswer {
        temperature_c: asked.water.poured.temperature_c(),
        text_table: table::draw(&told, &placed),
        svg: picture::draw(&told, &placed),
        salts: told.salts,
        alone: told.alone,
        pairs: told.pairs,
        together: told.together,
        substitutes,
        not_judged: told.not_judged,
        assumptions,
        findings,
        cautions: asked.cautions(),
        provenance: state::provenance(&value),
    })
}

/// What is asked, read.
struct Asked {
    water: Water,
    shelf: Vec<Shelved>,
    portions: Vec<Portion>,
    limits: Limits,
}

/// The water that the salts meet in.
struct Water {
    name: String,
    /// At the temperature of the mix, ions left out that the model has no constants for.
    poured: Solution,
    model: Model,
    surroundings: Surroundings,
}

/// A salt of the shelf.
struct Shelved {
    choice: Choice,
    /// g of the formula in a litre of the mix.
    g_per_l: f64,
}

impl Asked {
    fn meeting(&self) -> Meeting<'_> {
        Meeting {
            model: &self.water.model,
            water: self.water.poured.totals(),
            surroundings: self.water.surroundings,
            limits: &self.limits,
        }
    }

    /// What comes of some salts in a litre: kg of water in it.
    fn litre_kg(&self, salts: &[usize]) -> f64 {
        let parts: Vec<(f64, &Added)> =
            salts.iter().map(|at| (self.portions[*at].mol_per_kg, &self.shelf[*at].choice.added)).collect();
        let water = &self.water.poured;
        let mixed = water.totals().with_added(&parts);
        let mixed = mixed.and_then(|totals| Solution::new(totals, water.temperature_c()));
        mixed.map_or(water.water_kg_per_l(), |mixed| mixed.water_kg_per_l())
    }

    fn cautions(&self) -> Vec<Caution> {
        let mut cautions = Vec::new();
        for caution in self.shelf.iter().flat_map(|shelved| said::handling(shelved.choice.salt)) {
            if !cautions.contains(&caution) {
                cautions.push(caution);
            }
        }
        cautions.into_iter().chain(said::standing()).collect()
    }
}

impl Water {
    /// Where the salts meet, in words.
    fn words(&self) -> String {
        let held = match self.surroundings {
            Surroundings::Closed => "closed".to_owned(),
            Surroundings::Gas(bar) => format!("under {bar:.3e} bar of CO2"),
            Surroundings::Ph(ph) => format!("at pH {ph}"),
        };
        format!("{}, {} °C, {held}", self.name, self.poured.temperature_c())
    }
}

/// The water and its state, or every fault of them.
fn water(
    request: &CompatibilityRequest,
    assumptions: &mut Vec<Assumption>,
    findings: &mut Vec<Finding>,
) -> Result<Water, Vec<Fault>> {
    let source = match &request.water {
        None => Ok(None),
        Some(stated) => {
            let limits = source::limits_out_of_place(stated, "/water");
            let limits = if limits.is_empty() { Ok(()) } else { Err(limits) };
            both(limits, source::read(stated, "/water", assumptions, findings))
                .map(|((), source)| Some(source))
        }
    };
    let (source, held) = both(source, held(request, assumptions))?;
    let celsius = match &source {
        Some(source) => request.temperature_c.unwrap_or(source.water.temperature_c()),
        None => {
            assumptions.push(said::assumed(
                "water_assumed",
                "/water",
                "The salts meet in pure water.",
                "What a tap water brings, calcium and bicarbonate first, clouds with more of them.",
            ));
            mixture::temperature(request.temperature_c, assumptions)
        }
    };
    let model = Model::at_celsius(celsius).map_err(|error| vec![fault("/temperature_c", &error)])?;
    let name = source.as_ref().map_or_else(|| "pure water".to_owned(), |source| source.name.clone());
    let totals = source.as_ref().map_or_else(Totals::pure, |source| source.water.totals().clone());
    let deeper = source.as_ref().and_then(|source| source.unsolved.as_ref());
    let unknown = |error: StateError, pointer: &str| match deeper {
        Some(deeper) => vec![fault("/water", deeper)],
        None => vec![fault(pointer, &error)],
    };
    if totals.standing(Component::HCO3) != Standing::Stated {
        return Err(unknown(StateError::Alkalinity, "/water/analysis/alkalinity"));
    }
    let traces = left_out(&totals).map_err(|error| vec![fault("/water", &error)])?;
    let totals = traces.into_iter().fold(totals, |totals, trace| totals.with_amount(trace, 0.0));
    let at = |totals| Solution::new(totals, celsius).map_err(|error| vec![fault("/temperature_c", &error)]);
    let surroundings = match held {
        Surrounded::Ph(ph) => Surroundings::Ph(ph),
        Surrounded::Held(Held::Here(gas)) => match gas.known(&model, 1.0) {
            Ok(Known::Pco2(bar)) => {
                // what the gas brings stands in for what the sheet does not tell
                let carbon = totals.dic().unwrap_or(0.0);
                let poured = at(totals.with_dic(carbon))?;
                return Ok(Water { name, poured, model, surroundings: Surroundings::Gas(bar) });
            }
            Ok(_) => return Err(not_held()),
            Err(error) => return Err(vec![fault("/co2", &error)]),
        },
        Surrounded::Held(_) => Surroundings::Closed,
    };
    if totals.dic().is_none() {
        return Err(unknown(StateError::Carbonate, "/water"));
    }
    Ok(Water { name, poured: at(totals)?, model, surroundings })
}

/// What is said of pH and carbon dioxide.
enum Surrounded {
    Ph(f64),
    Held(Held),
}

fn held(request: &CompatibilityRequest, assumptions: &mut Vec<Assumption>) -> Result<Surrounded, Vec<Fault>> {
    let held = co2::read(request.co2.as_ref(), "/co2", assumptions)?;
    match (request.ph, &request.co2, held) {
        (Some(_), Some(_), _) => {
            let message = "pH and the state of the carbon dioxide are both stated";
            Err(vec![own("/ph", "state_stated_twice", message, "state one of ph and co2")])
        }
        (Some(ph), None, _) => Ok(Surrounded::Ph(ph)),
        (None, _, Held::Closed | Held::Here(_)) => Ok(Surrounded::Held(held)),
        (None, ..) => Err(not_held()),
    }
}

fn not_held() -> Vec<Fault> {
    let message = "salts meet in a closed vessel or under a gas that stays as it is";
    let accepted = ["closed", "open_to_air", "partial_pressure", "keg"].map(str::to_owned).to_vec();
    vec![Fault { accepted, ..own("/co2/state", "co2_not_held", message, "state one of these") }]
}

/// The salts, or every fault of them.
fn shelf(stated: &[ShelfSalt]) -> Result<Vec<Shelved>, Vec<Fault>> {
    let (mut read, mut faults) = (Vec::new(), Vec::new());
    for (at, salt) in stated.iter().enumerate() {
        match shelved(salt, &below("/salts", at)) {
            Ok(salt) => read.push(salt),
            Err(own) => faults.extend(own),
        }
    }
    if faults.is_empty() { Ok(read) } else { Err(faults) }
}

fn shelved(stated: &ShelfSalt, pointer: &str) -> Result<Shelved, Vec<Fault>> {
    let choice = named(stated.salt.as_deref(), stated.formula.as_deref(), pointer)
        .and_then(|salt| Choice::new(salt, 100.0).map_err(|error| vec![fault(pointer, &error)]))
        .and_then(|choice| match strange(&choice.added) {
            None => Ok(choice),
            Some(component) => {
                let error = EquilibriumError::Component { component: component.id() };
                Err(vec![fault(pointer, &error)])
            }
        });
    let said_wrongly = |code, message| Err(vec![own(pointer, code, message, "state one of them")]);
    let weighed = match (stated.mg_per_l, stated.g_per_l) {
        (Some(mg), None) => Ok(mg / 1000.0),
        (None, Some(grams)) => Ok(grams),
        (Some(_), Some(_)) => said_wrongly("amount_stated_twice", "mg_per_l and g_per_l are both stated"),
        (None, None) => said_wrongly("field_missing", "neither mg_per_l nor g_per_l is stated"),
    };
    let (choice, weighed) = both(choice, weighed)?;
    Ok(Shelved { choice, g_per_l: weighed * stated.assay_percent.unwrap_or(100.0) / 100.0 })
}

/// An ion of a salt that the model has no constants for.
fn strange(added: &Added) -> Option<Component> {
    let here = |component: &Component| added.per_mole().amount(*component) > 0.0;
    Component::ALL.into_iter().filter(here).find(|component| !is_known(*component))
}

/// What of each salt stands in a kilogram of water where it stands alone.
fn portions(shelf: &[Shelved], water: &Solution) -> Result<Vec<Portion>, Vec<Fault>> {
    let (mut portions, mut faults) = (Vec::new(), Vec::new());
    for (at, shelved) in shelf.iter().enumerate() {
        let pointer = below("/salts", at);
        let portion = source::moles_per_kg_poured(water, &shelved.choice.added, shelved.g_per_l)
            .map_err(|error| fault(&pointer, &error))
            .and_then(|moles| {
                Portion::of_moles(shelved.choice.salt, moles).map_err(|error| fault(&pointer, &error))
            });
        match portion {
            Ok(portion) => portions.push(portion),
            Err(own) => faults.push(own),
        }
    }
    if faults.is_empty() { Ok(portions) } else { Err(faults) }
}

/// The matrix as it is answered.
struct Told {
    salts: Vec<crate::compatibility::ShelfSaltRead>,
    alone: Vec<crate::compatibility::Together>,
    pairs: Vec<crate::compatibility::Pair>,
    together: crate::compatibility::Together,
    not_judged: Vec<crate::said::NotJudged>,
}
