//! Answers one solved water for each JSON line on standard input, for comparisons with other programs
//! (tests/outside, tests/bench). With `--times N` it solves every line N times and prints what one takes; a life is then
//! judged for haze at every stage too.
//!
//! A line: `{"t_c": 25, "components": {"Na": 0.1, "Cl": 0.1}, "known": {"alkalinity": 0, "dic": 0}}` in mol per kg of
//! water; known are two of alkalinity, dic, ph, pco2 (bar) and co2. With `"saturate": "gypsum"` that solid dissolves
//! until the water is saturated; with `"precipitate": {"allowed": ["calcite"], "at_start": {"gypsum": 0.01}}` the water
//! comes to balance with those solids; with `"life": [{"doing": "keg", "t_c": 4, "gauge_bar": 2}]` it is followed from its
//! mixing through those stages (keg, stands, opened, flat, kettle), a state each. A line that is refused answers
//! `{"refused": "..."}`.

use serde_json::{Map, Value, json};
use springwright_chem::composition::added::Added;
use springwright_chem::composition::density::Density;
use springwright_chem::composition::pure_water;
use springwright_chem::composition::state::Solution;
use springwright_chem::composition::totals::Totals;
use springwright_chem::equilibrium::carbonation::CarbonDioxide;
use springwright_chem::equilibrium::{Given, Known, Model, Speciation, System};
use springwright_chem::matter::component::Component;
use springwright_chem::phases::haze_limits::Limits;
use springwright_chem::phases::precipitation::{Solids, precipitate};
use springwright_chem::phases::{dissolution, saturation, solids};
use springwright_chem::properties::conductivity::conductivity;
use springwright_chem::properties::life_path::{Doing, LifePath, Stage};
use springwright_chem::quantity::bounds::Celsius;
use std::error::Error;
use std::hint::black_box;
use std::io::{BufRead, Write, stdin, stdout};
use std::sync::Arc;
use std::time::Instant;

type Said<T> = Result<T, Box<dyn Error>>;

fn main() -> Said<()> {
    let lines: Vec<Value> =
        stdin().lock().lines().map(|line| Ok(serde_json::from_str(&line?)?)).collect::<Said<_>>()?;
    let mut words = std::env::args().skip(1);
    if words.next().as_deref() == Some("--times") {
        let times = words.next().ok_or("--times asks for a number")?.parse()?;
        return print_times(&lines, times);
    }
    let mut out = stdout().lock();
    for line in &lines {
        let answer = answer(line).unwrap_or_else(|fault| json!({"refused": fault.to_string()}));
        writeln!(out, "{answer}")?;
    }
    Ok(())
}

fn read(line: &Value) -> Said<(Model, Given)> {
    let model = Model::at(Celsius::new(line["t_c"].as_f64().ok_or("no t_c")?)?)?;
    let known = line["known"].as_object().ok_or("known is not there")?;
    let known: Vec<Known> = known.iter().map(quantity).collect::<Said<_>>()?;
    let [first, second] = known[..] else { return Err("known has two quantities".into()) };
    let mut given = Given::new(first, second);
    for (id, amount) in line["components"].as_object().ok_or("no components")? {
        let component = Component::read(id).ok_or_else(|| format!("{id} is no component"))?;
        given = given.with(component, amount.as_f64().ok_or("an amount is no number")?);
    }
    Ok((model, given))
}

fn quantity((name, value): (&String, &Value)) -> Said<Known> {
    let value = value.as_f64().ok_or("a known quantity is no number")?;
    match name.as_str() {
        "alkalinity" => Ok(Known::Alkalinity(value)),
        "dic" => Ok(Known::Dic(value)),
        "ph" => Ok(Known::Ph(value)),
        "pco2" => Ok(Known::Pco2(value)),
        "co2" => Ok(Known::Co2(value)),
        other => Err(format!("{other} is not known of").into()),
    }
}

fn answer(line: &Value) -> Said<Value> {
    let (model, given) = read(line)?;
    if let Some(stages) = line["life"].as_array() {
        return life(&model, &given, stages);
    }
    if let Some(asked) = line["precipitate"].as_object() {
        return settled(&model, &given, asked);
    }
    let Some(id) = line["saturate"].as_str() else { return Ok(told(&model.speciate(&given)?)) };
    let solid = solids::find(id).ok_or_else(|| format!("{id} is no solid"))?;
    let saturated = dissolution::saturate(&model, &given, solid)?.ok_or("it does not reach saturation")?;
    let mut answer = told(&saturated.state);
    answer["dissolved"] = json!(saturated.dissolved);
    Ok(answer)
}

/// The solids that a line allows and has at the start.
fn solids_of(asked: &Map<String, Value>) -> Said<Solids> {
    let mut solids = Solids::none();
    for id in asked["allowed"].as_array().ok_or("no allowed solids")? {
        solids = solids.allow(id.as_str().ok_or("a solid is no name")?)?;
    }
    for (id, amount) in asked["at_start"].as_object().ok_or("no solids at the start")? {
        solids = solids.with(id, amount.as_f64().ok_or("an amount is no number")?)?;
    }
    Ok(solids)
}

fn settled(model: &Model, given: &Given, asked: &Map<String, Value>) -> Said<Value> {
    let solids = solids_of(asked)?;
    let settled = precipitate(model, given, &solids)?;
    let there: Map<String, Value> =
        settled.solids.iter().map(|s| (s.solid.id.to_owned(), json!(s.at_end))).collect();
    let mut answer = told(&settled.state);
    answer["there"] = Value::Object(there);
    answer["complementarity"] = json!(settled.complementarity);
    answer["ledger"] = json!(settled.ledger);
    answer["kilograms"] = json!(settled.kilograms);
    Ok(answer)
}

/// The states of a life: of its mixing, then of each stage.
fn life(model: &Model, given: &Given, stages: &[Value]) -> Said<Value> {
    let steps = path_of(model, given, stages)?.walk()?;
    Ok(json!({ "steps": steps.iter().map(|step| told(&step.state)).collect::<Vec<_>>() }))
}

fn path_of(model: &Model, given: &Given, stages: &[Value]) -> Said<LifePath> {
    let [Known::Alkalinity(alkalinity), Known::Dic(dic)] = given.carbonate else {
        return Err("a life begins with alkalinity and dic".into());
    };
    let amounts = Component::ALL.into_iter().map(|c| (c, given.totals[c.index()])).filter(|(_, m)| *m > 0.0);
    let totals = amounts.fold(Totals::pure(), |totals, (component, m)| totals.with_amount(component, m));
    let mixed = Solution::new(totals.with_alkalinity(alkalinity).with_dic(dic), model.celsius())?;
    let mut path = vec![Stage { doing: Doing::Mixed, celsius: model.celsius() }];
    for stage in stages {
        let number = |name: &str| stage[name].as_f64().ok_or_else(|| format!("no {name}"));
        let doing = match stage["doing"].as_str().ok_or("a stage does something")? {
            "keg" => {
                let gauge_bar = number("gauge_bar")?;
                Doing::Carbonated(CarbonDioxide::Keg { gauge_bar, altitude_m: 0.0 })
            }
            "stands" => Doing::Stands,
            "opened" => Doing::Opened,
            "flat" => Doing::Flat,
            "kettle" => Doing::Kettle,
            other => return Err(format!("{other} is nothing to do").into()),
        };
        path.push(Stage { doing, celsius: number("t_c")? });
    }
    Ok(LifePath::of(&mixed, 0.0, &path)?)
}

fn told(state: &Speciation) -> Value {
    let molality: Map<String, Value> = state.species().map(|(id, _, m)| (id.to_owned(), json!(m))).collect();
    let gamma: Map<String, Value> =
        state.species().map(|(id, _, _)| (id.to_owned(), json!(state.activity_coefficient(id)))).collect();
    let si: Map<String, Value> =
        saturation::all(state).iter().map(|s| (s.solid.id.to_owned(), json!(s.index))).collect();
    let density = density(state);
    json!({
        "ph": state.ph, "raw_ph": state.raw_ph(), "alkalinity": state.alkalinity, "dic": state.dic,
        "co2": state.co2(), "pco2": state.pco2(), "ionic_strength": state.ionic_strength,
        "water_activity": state.water_activity(), "osmotic": state.osmotic,
        "density_kg_per_l": density.map(|(whole, _)| whole), "water_kg_per_l": density.map(|(_, water)| water),
        "conductivity_us_per_cm": density.and_then(|(_, water)| conductivity(state, water).ok()),
        "molality": molality, "gamma": gamma, "si": si,
    })
}

/// kg in a litre, and kg of water in it as it was before anything was dissolved; none outside the reach of the density.
fn density(state: &Speciation) -> Option<(f64, f64)> {
    let gives: Vec<(Component, f64)> =
        Component::ALL.into_iter().map(|c| (c, state.given().totals[c.index()])).collect();
    let probe = Added::new(0.0, &gives, state.dic);
    // Totals count carbonate as CO2 and OH-: each CO3 of a salt stands there with a water that was not weighed in.
    let carbonate = (probe.per_mole().carbonate_alkalinity() - state.dic).clamp(0.0, state.dic);
    let mass = probe.per_mole().solute_mass() - carbonate * pure_water::molar_mass();
    let totals = Totals::pure().with_added(&[(1.0, &Added::new(mass, &gives, state.dic))]).ok()?;
    let whole = Density::of(&totals, state.celsius()).ok()?.kg_per_l;
    Some((whole, whole / (1.0 + mass / 1000.0)))
}

/// Prints microseconds a line, of what its first line asks: a balance with solids, a life, or a state.
fn print_times(lines: &[Value], times: usize) -> Said<()> {
    let waters: Vec<(Model, Given)> = lines.iter().map(read).collect::<Said<_>>()?;
    let mut clock = Clock { lines: waters.len(), times, answers: Map::new() };
    let first = lines.first().ok_or("no line")?;
    if first["precipitate"].is_object() {
        let asked = |line: &Value| solids_of(line["precipitate"].as_object().ok_or("no precipitate")?);
        let solids: Vec<Solids> = lines.iter().map(asked).collect::<Said<_>>()?;
        clock.job("precipitate", &|at| {
            Ok(precipitate(&waters[at].0, &waters[at].1, &solids[at])?.solids.len())
        })?;
    } else if first["life"].is_array() {
        let path = |(line, (model, given)): (&Value, &(Model, Given))| {
            path_of(model, given, line["life"].as_array().ok_or("no life")?)
        };
        let paths: Vec<LifePath> = lines.iter().zip(&waters).map(path).collect::<Said<_>>()?;
        let limits = Limits::default();
        clock.job("life", &|at| {
            let steps = paths[at].walk()?;
            let judged = |step| Ok(paths[at].haze(step, &limits)?.solids.len());
            steps.iter().map(judged).sum::<Said<usize>>()
        })?;
    } else {
        states(&waters, &mut clock)?;
    }
    writeln!(stdout(), "{}", Value::Object(clock.answers))?;
    Ok(())
}

/// From nothing (the model of its temperature, its species, the search and the indices) and with model and species kept.
fn states(waters: &[(Model, Given)], clock: &mut Clock) -> Said<()> {
    clock.job("cold", &|at| {
        let (model, given) = &waters[at];
        let model = Model::at(Celsius::new(model.celsius())?)?;
        Ok(saturation::all(&model.speciate(given)?).len())
    })?;
    let systems: Vec<Arc<System>> = waters
        .iter()
        .map(|(model, given)| Ok(Arc::new(System::of(model, &given.totals)?)))
        .collect::<Said<_>>()?;
    clock.job("kept", &|at| Ok(saturation::all(&systems[at].solve(&waters[at].1)?).len()))
}

/// Times jobs over all lines.
struct Clock {
    lines: usize,
    times: usize,
    answers: Map<String, Value>,
}

impl Clock {
    /// A job answers how many indices or solids it told.
    fn job(&mut self, name: &str, job: &dyn Fn(usize) -> Said<usize>) -> Said<()> {
        let start = Instant::now();
        let mut told = 0;
        for at in (0..self.times).flat_map(|_| 0..self.lines) {
            told += black_box(job(at)?);
        }
        let count = (self.times * self.lines) as f64;
        let micros = start.elapsed().as_secs_f64() * 1e6 / count;
        self.answers.insert(name.to_owned(), json!({"micros": micros, "indices": told as f64 / count}));
        Ok(())
    }
}
