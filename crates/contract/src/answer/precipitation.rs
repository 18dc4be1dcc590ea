//! Answers `precipitation`.

use springwright_chem::composition::closure::Closure;
use springwright_chem::composition::{solids as sums, state::Solution};
use springwright_chem::equilibrium::carbonation::CO2_MOLAR_MASS;
use springwright_chem::equilibrium::{Given, Known, Model};
use springwright_chem::matter::formula::Formula;
use springwright_chem::phases::dissolving::{self, calcite_seconds, gypsum_seconds};
use springwright_chem::phases::haze_limits::Limits;
use springwright_chem::phases::precipitation::{Settled, Solids};
use springwright_chem::phases::solids::{self, Solid};
use springwright_chem::phases::{PhaseError, haze_limits, potential};
use springwright_chem::properties::{SettledWater, SolvedWater};

use super::faults::{fault, out_of_place, own};
use super::saturation::solid;
use super::speciation::{Asked as AskedWater, Solved, solve};
use super::{haze, said, state, water};
use crate::co2::{Co2, Co2State};
use crate::precipitation::{
    DissolvingPowder, Powder as Stated, PrecipitationAnswer, PrecipitationRequest, SettledSolid,
};
use crate::problem::Fault;
use crate::reading::{Read, below};
use crate::said::NotJudged;

/// Share of a powder whose time in the water is told.
const MOST_OF_IT: f64 = 0.9;

/// What a water lets fall and what it takes up.
pub(super) fn answer(read: Read<PrecipitationRequest>) -> Result<PrecipitationAnswer, Vec<Fault>> {
    let Read { request, value, mut assumptions, .. } = read;
    let one = AskedWater {
        water: &request.water,
        temperature_c: request.temperature_c,
        co2: request.co2.as_ref(),
        uncertainty: None,
        value: &value,
    };
    let asked = Asked::read(&request);
    let (asked, solved) = super::faults::both(asked, solve(&one, &mut assumptions))?;
    said::strictly(request.strict, &assumptions)?;
    let Solved { water: before, state, mut not_judged, mut findings, .. } = solved;
    let powders = asked.powders(&state.solution);
    let solids = asked.playing(&state, &powders, &mut not_judged).map_err(|error| whole(&error))?;
    let SettledWater { balance, water: left } = state.settled(&solids).map_err(|error| whole(&error))?;
    let (after, after_not_judged) = water::solved(&left, None, Closure::default());
    not_judged.extend(
        after_not_judged.into_iter().filter(|one| before_judged(&not_judged, one)).collect::<Vec<_>>(),
    );
    let lying: Vec<(&'static Solid, f64)> =
        powders.iter().map(|powder| (powder.solid, powder.mol_per_kg)).collect();
    let judged = state.haze(&lying, &asked.limits).map_err(|error| whole(&error))?;
    let litre_kg = state.solution.water_kg_per_l();
    let [closed, in_air] = potentials(&state, &mut not_judged);
    findings.extend(sums::findings(left.solution.totals()).iter().map(|found| said::finding("", found)));
    findings.dedup();
    Ok(PrecipitationAnswer {
        before,
        after,
        solids: balance.solids.iter().map(|one| settled(one, litre_kg)).collect(),
        co2_to_gas_g_per_l: under_gas(&state).then_some(balance.gas * litre_kg * CO2_MOLAR_MASS),
        calcite_potential_closed_mg_per_l: closed,
        calcite_potential_in_air_mg_per_l: in_air,
        verdict: haze::word(judged.verdict()),
        worst_solid: judged.worst().map(|worst| worst.saturation.solid.id.to_owned()),
        haze: judged.solids.iter().map(|one| haze::verdict(one, litre_kg)).collect(),
        visible_mg_per_l: asked.limits.visible_mg_per_l(),
        dissolving: dissolving(&state, &powders).map_err(|error| whole(&error))?,
        complementarity: balance.complementarity,
        ledger: balance.ledger,
        not_judged,
        assumptions,
        findings,
        cautions: said::cautions(&left.solution),
        provenance: state::provenance(&value),
    })
}

fn whole(error: &PhaseError) -> Vec<Fault> {
    vec![fault("/water", error)]
}

/// Whether something is not listed yet.
fn before_judged(listed: &[NotJudged], one: &NotJudged) -> bool {
    listed.iter().all(|known| known != one)
}

/// What is asked of the solids, read.
struct Asked<'a> {
    allowed: Option<Vec<&'static Solid>>,
    blocked: Vec<&'static Solid>,
    powders: Vec<(&'static Solid, &'a Stated)>,
    limits: Limits,
}

/// A solid that lies in the water at the start.
struct Powder {
    solid: &'static Solid,
    mol_per_kg: f64,
    grain_um: Option<f64>,
}

impl<'a> Asked<'a> {
    /// Reads what is asked of the solids, or every fault of it.
    fn read(request: &'a PrecipitationRequest) -> Result<Asked<'a>, Vec<Fault>> {
        let mut faults = held_while_solids_form(request.co2.as_ref());
        let allowed = request.solids.as_ref().map(|names| named(names, "/solids", &mut faults));
        let blocked = named(request.blocked.as_deref().unwrap_or_default(), "/blocked", &mut faults);
        let mut powders = Vec::new();
        for (at, stated) in request.powders.iter().flatten().enumerate() {
            let pointer = below("/powders", at);
            match powder(stated, &pointer) {
                Ok(solid) => powders.push((solid, stated)),
                Err(own) => faults.extend(own),
            }
        }
        for (at, name) in request.blocked.iter().flatten().enumerate() {
            let pointer = below("/blocked", at);
            if request.solids.iter().flatten().any(|allowed| allowed == name) {
                let message = format!("{name} is allowed and blocked");
                faults.push(own(
                    &pointer,
                    "solid_allowed_and_blocked",
                    message,
                    "name it in one of both lists",
                ));
            } else if powders.iter().any(|(solid, _)| solid.id == name) {
                let message = format!("{name} is blocked, but lies in the water as a powder");
                let mend = "leave it out of blocked: a powder may dissolve and grow";
                faults.push(own(&pointer, "solid_blocked_and_there", message, mend));
            }
        }
        match haze::limits(request.haze_limits.as_deref(), request.visible_mg_per_l) {
            Ok(limits) if faults.is_empty() => Ok(Asked { allowed, blocked, powders, limits }),
            limits => {
                faults.extend(limits.err().unwrap_or_default());
                Err(faults)
            }
        }
    }

    /// The powders in this water.
    fn powders(&self, water: &Solution) -> Vec<Powder> {
        let read = |(solid, stated): &(&'static Solid, &Stated)| {
            let mmol_per_l =
                stated.mmol_per_l.unwrap_or_else(|| stated.mg_per_l.unwrap_or(0.0) / molar_mass(solid));
            let mol_per_kg = 1e-3 * mmol_per_l / water.water_kg_per_l();
            Powder { solid, mol_per_kg, grain_um: stated.grain_um }
        };
        self.powders.iter().map(read).collect()
    }

    /// The solids that take part. One of whose parts the sheets say nothing cannot be judged; asked for by name it is told.
    fn playing(
        &self,
        water: &SolvedWater,
        powders: &[Powder],
        not_judged: &mut Vec<NotJudged>,
    ) -> Result<Solids, PhaseError> {
        let mut playing = Solids::none();
        let usual = || solids::solids().iter().filter(|solid| haze_limits::of(solid).forms).collect();
        for solid in self.allowed.clone().unwrap_or_else(usual) {
            if self.blocked.contains(&solid) {
                continue;
            }
            if water.states_parts_of(solid) {
                playing = playing.allow(solid.id)?;
            } else if self.allowed.is_some() {
                let why = "a part of it stands on no sheet".to_owned();
                not_judged.push(NotJudged { what: solid.id.to_owned(), why });
            }
        }
        for powder in powders {
            playing = playing.with(powder.solid.id, powder.mol_per_kg)?;
        }
        Ok(playing)
    }
}

/// A state of the carbon dioxide that does not say what becomes of it while solids form.
fn held_while_solids_form(co2: Option<&Co2>) -> Vec<Fault> {
    if co2.is_none_or(|co2| co2.state != Co2State::Bottle) {
        return Vec::new();
    }
    let message = "the gas in a bottle changes while solids form";
    let accepted = ["closed", "open_to_air", "partial_pressure", "keg", "volumes", "dissolved"];
    let mend = "state the pressure that holds it, or leave the water closed";
    let accepted = accepted.map(str::to_owned).to_vec();
    vec![Fault { accepted, ..own("/co2/state", "co2_not_held", message, mend) }]
}

fn named(names: &[String], pointer: &str, faults: &mut Vec<Fault>) -> Vec<&'static Solid> {
    let found = names.iter().enumerate().map(|(at, name)| solid(name, &below(pointer, at)));
    found.filter_map(|solid| solid.map_err(|own| faults.push(own)).ok()).collect()
}

/// A powder: its solid, where it is stated rightly.
fn powder(stated: &Stated, pointer: &str) -> Result<&'static Solid, Vec<Fault>> {
    let mut faults = Vec::new();
    let found = solid(&stated.solid, &below(pointer, "solid")).map_err(|own| faults.push(own)).ok();
    match (stated.mg_per_l, stated.mmol_per_l) {
        (Some(_), Some(_)) => {
            let message = "mg_per_l and mmol_per_l are both stated";
            faults.push(own(pointer, "amount_stated_twice", message, "state one of them"));
        }
        (None, None) => {
            let message = "neither mg_per_l nor mmol_per_l is stated";
            faults.push(own(pointer, "field_missing", message, "state one of them"));
        }
        _ => {}
    }
    if let (Some(solid), Some(_)) = (found, stated.grain_um)
        && !RATED.contains(&solid.id)
    {
        let place = format!("a powder of {}: no rate of its surface is published here", solid.id);
        faults.push(out_of_place(&below(pointer, "grain_um"), "grain_um", &place));
    }
    match found {
        Some(solid) if faults.is_empty() => Ok(solid),
        _ => Err(faults),
    }
}

/// The solids whose rate of dissolving is published.
const RATED: [&str; 2] = ["gypsum", "calcite"];

/// g/mol of a solid, water of crystallisation included.
fn molar_mass(solid: &Solid) -> f64 {
    Formula::read(solid.formula).map_or(f64::NAN, |formula| formula.molar_mass())
}

/// One solid at the end, per litre of a water with so many kg of water in it.
fn settled(one: &Settled, litre_kg: f64) -> SettledSolid {
    let mg = |mol_per_kg: f64| 1e3 * mol_per_kg * litre_kg * molar_mass(one.solid);
    SettledSolid {
        solid: one.solid.id.to_owned(),
        formula: one.solid.formula.to_owned(),
        at_start_mg_per_l: mg(one.at_start),
        at_end_mg_per_l: mg(one.at_end),
        formed_mg_per_l: mg(one.formed()),
        formed_mmol_per_l: 1e3 * one.formed() * litre_kg,
        si: one.index,
        measured: one.measured,
    }
}

fn under_gas(water: &SolvedWater) -> bool {
    water.state.given().carbonate.iter().any(|known| matches!(known, Known::Pco2(_) | Known::Co2(_)))
}

/// The calcite potential in mg/L of CaCO3, closed and in air; none where calcium stands on no sheet.
fn potentials(water: &SolvedWater, not_judged: &mut Vec<NotJudged>) -> [Option<f64>; 2] {
    let litre_kg = water.solution.water_kg_per_l();
    let mut told = |what: &str, found: Result<f64, String>| {
        found.map_err(|why| not_judged.push(NotJudged { what: what.to_owned(), why })).ok()
    };
    let judged = solids::find("calcite").is_some_and(|calcite| water.states_parts_of(calcite));
    let (model, closed) = match Model::at_celsius(water.solution.temperature_c()) {
        Ok(model) if judged => {
            let carbonate = [Known::Alkalinity(water.state.alkalinity), Known::Dic(water.state.dic)];
            (model, Given { carbonate, ..water.state.given().clone() })
        }
        _ => {
            let why = "calcium stands on no sheet".to_owned();
            return [told("calcite potential", Err(why)), None];
        }
    };
    let mg = |found: Result<potential::Potential, PhaseError>| {
        found.map(|found| found.mg_per_l(litre_kg)).map_err(|error| error.to_string())
    };
    [
        told("calcite potential, closed", mg(potential::calcite(&model, &closed))),
        told("calcite potential in air", mg(potential::calcite_in_air(&model, &closed, 0.0))),
    ]
}

/// How long the powders take whose grain is stated.
fn dissolving(water: &SolvedWater, powders: &[Powder]) -> Result<Vec<DissolvingPowder>, PhaseError> {
    let model = Model::at_celsius(water.solution.temperature_c())?;
    let mut told = Vec::new();
    for powder in powders {
        let Some(grain_um) = powder.grain_um.filter(|_| powder.mol_per_kg > 0.0) else { continue };
        let grains = dissolving::Powder { mol_per_kg: powder.mol_per_kg, grain_um };
        let given = water.state.given();
        let (seconds, source) = match powder.solid.id {
            "gypsum" => {
                (gypsum_seconds(&model, given, grains, MOST_OF_IT)?, "colombani_bert_2007; satava_1974")
            }
            _ => (calcite_seconds(&model, given, grains, MOST_OF_IT)?, "plummer_wigley_parkhurst_1978"),
        };
        told.push(DissolvingPowder {
            solid: powder.solid.id.to_owned(),
            grain_um,
            minutes_to_90_percent: seconds.map(|seconds| seconds / 60.0),
            text: in_words(powder.solid, seconds),
            source: haze::cited(source),
        });
    }
    Ok(told)
}

fn in_words(solid: &Solid, seconds: Option<f64>) -> String {
    let name = haze::words(solid.id);
    let time = match seconds {
        None => return format!("{name}: the water is saturated before 90 % of it are in solution"),
        Some(seconds) if seconds < 120.0 => format!("{seconds:.0} seconds"),
        Some(seconds) if seconds < 7200.0 => format!("{:.0} minutes", seconds / 60.0),
        Some(seconds) if seconds < 172_800.0 => format!("{:.0} hours", seconds / 3600.0),
        Some(seconds) => format!("{:.0} days", seconds / 86400.0),
    };
    format!("{name}: about {time} until 90 % of it are in solution, well stirred")
}
