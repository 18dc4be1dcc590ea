//! Answers `carbonation`.

use springwright_chem::assessment;
use springwright_chem::composition::closure::Closure;
use springwright_chem::composition::solids;
use springwright_chem::composition::state::Solution;
use springwright_chem::equilibrium::carbonation::{self as gas, CO2_MOLAR_MASS, CarbonDioxide};
use springwright_chem::equilibrium::{EquilibriumError, Model};
use springwright_chem::phases::saturation::Saturation;
use springwright_chem::properties::{Held, SolvedWater, StateError};

use super::faults::{fault, own};
use super::source::{self, Source};
use super::water::{MOST_PCO2_BAR, NEAR};
use super::{co2, said, state, water};
use crate::carbonation::{
    CarbonationAnswer, CarbonationRequest, Headspace, Opened, PressureAt, SaturationChange,
};
use crate::co2::{Co2, Co2State};
use crate::problem::Fault;
use crate::reading::Read;
use crate::said::{Assumption, Caution, Finding, NotJudged};

/// Temperatures at which the pressure is told, °C: from the cold room to a hot van.
const TEMPERATURES: [f64; 8] = [0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0];

/// How a water is carbonated.
pub(super) fn answer(read: Read<CarbonationRequest>) -> Result<CarbonationAnswer, Vec<Fault>> {
    let Read { request, value, mut assumptions, .. } = read;
    let mut findings = Vec::new();
    let asked = asked(&request, &mut assumptions, &mut findings)?;
    said::strictly(request.strict, &assumptions)?;
    let volume_l = request.volume_l;
    let before =
        state::answered(&asked.still, |_| volume_l, Held::Closed, Closure::default(), asked.unsolved())?;
    let after = asked.carbonated()?;
    let after_l = volume_l.map(|l| l * asked.litre_kg() / after.solution.water_kg_per_l());
    let (water, mut not_judged) = water::solved(&after, after_l, Closure::default());
    let opened = opened(&asked, &after, &mut not_judged);
    let pressures = pressures(&asked, &after, &mut not_judged);
    let add = asked.to_add(&after);
    if add.is_none() {
        let why = "nothing tells how much carbonate the still water holds: state its pH".to_owned();
        not_judged.push(NotJudged { what: "CO2 to add".to_owned(), why });
    }
    let gauge_bar = asked.gauge(&after);
    findings.extend(solids::findings(after.solution.totals()).iter().map(|found| said::finding("", found)));
    findings.extend(state::findings(&after));
    findings.extend(told(&asked, &after, add, gauge_bar));
    let total = |per_l: f64| volume_l.map(|litres| per_l * litres);
    let given_off = opened.as_ref().map_or(0.0, |(flat, _)| asked.grams(after.state.dic - flat.state.dic));
    let highest = pressures.iter().filter_map(|row| row.gauge_bar).chain(gauge_bar).fold(0.0, f64::max);
    Ok(CarbonationAnswer {
        co2_to_add_g_per_l: add,
        co2_to_add_g: add.and_then(total),
        volumes: gas::volumes(after.state.co2(), after.solution.water_kg_per_l()),
        grams_per_l: after.state.co2() * after.solution.water_kg_per_l() * CO2_MOLAR_MASS,
        gauge_bar,
        pressures,
        headspace: asked.headspace(&after, total),
        saturation: saturation(before.solved.as_ref(), &after, opened.as_ref().map(|(flat, _)| flat)),
        opened: opened.map(|(_, told)| Opened { co2_given_off_g: total(told.co2_given_off_g_per_l), ..told }),
        before: before.water,
        after: water,
        not_judged,
        assumptions,
        findings,
        cautions: cautions(&after, highest, add.unwrap_or(0.0).abs().max(given_off)),
        provenance: state::provenance(&value),
    })
}

/// What is asked, read.
struct Asked {
    source: Source,
    /// The still water at the temperature of the request.
    still: Solution,
    held: Held,
    state: Co2State,
    altitude_m: f64,
}

/// Reads the request, or every fault of it.
fn asked(
    request: &CarbonationRequest,
    assumptions: &mut Vec<Assumption>,
    findings: &mut Vec<Finding>,
) -> Result<Asked, Vec<Fault>> {
    let mut faults = source::limits_out_of_place(&request.water, "/water");
    let source = source::read(&request.water, "/water", assumptions, findings);
    let altitude_m = altitude(request, assumptions);
    let placed = Co2 {
        altitude_m: request.co2.altitude_m.or(matches!(
            request.co2.state,
            Co2State::Keg | Co2State::OpenToAir
        )
        .then_some(altitude_m.as_ref().ok().copied())
        .flatten()),
        ..request.co2.clone()
    };
    let held = co2::read(Some(&placed), "/co2", assumptions);
    match (source, held, altitude_m) {
        (Ok(source), Ok(held), Ok(altitude_m)) if faults.is_empty() => {
            let celsius = request.temperature_c.unwrap_or(source.water.temperature_c());
            let still = Solution::new(source.water.totals().clone(), celsius)
                .map_err(|error| vec![fault("/temperature_c", &error)])?;
            Ok(Asked { source, still, held, state: request.co2.state, altitude_m })
        }
        (source, held, altitude_m) => {
            faults.extend(source.err().unwrap_or_default());
            faults.extend(held.err().unwrap_or_default());
            faults.extend(altitude_m.err());
            Err(faults)
        }
    }
}

/// Where gauges are read, m above the sea.
fn altitude(request: &CarbonationRequest, assumptions: &mut Vec<Assumption>) -> Result<f64, Fault> {
    match (request.altitude_m, request.co2.altitude_m) {
        (Some(here), Some(there)) if here != there => Err(own(
            "/altitude_m",
            "altitude_stated_twice",
            format!("the altitude is stated as {here} m and in co2 as {there} m"),
            "state it once",
        )),
        (Some(metres), _) | (None, Some(metres)) => Ok(metres),
        (None, None) => {
            assumptions.push(said::assumed(
                "altitude_assumed",
                "/altitude_m",
                "The air presses as at sea level.",
                "At 1000 m a gauge must show 0.11 bar more for the same carbon dioxide.",
            ));
            Ok(0.0)
        }
    }
}

impl Asked {
    fn unsolved(&self) -> Option<&StateError> {
        self.source.unsolved.as_ref()
    }

    /// kg of water in a litre of the still water.
    fn litre_kg(&self) -> f64 {
        self.still.water_kg_per_l()
    }

    /// g of CO2 in a litre of the still water that so many mol per kg of its water are.
    fn grams(&self, mol_per_kg: f64) -> f64 {
        mol_per_kg * self.litre_kg() * CO2_MOLAR_MASS
    }

    fn carbonated(&self) -> Result<SolvedWater, Vec<Fault>> {
        SolvedWater::of(&self.still, self.held).map_err(|error| match (&error, self.unsolved()) {
            (StateError::Alkalinity, None) => vec![fault("/water/analysis/alkalinity", &error)],
            (StateError::Carbonate | StateError::Alkalinity, Some(deeper)) => vec![fault("/water", deeper)],
            (StateError::Equilibrium(EquilibriumError::Amount { .. }), _) => vec![fault("/co2", &error)],
            _ => vec![fault("/water", &error)],
        })
    }

    /// g of CO2 to add to a litre of the still water.
    fn to_add(&self, after: &SolvedWater) -> Option<f64> {
        match self.held {
            Held::Closed | Held::Bottle(_) => Some(0.0),
            Held::Here(_) | Held::Elsewhere(..) => {
                self.still.totals().dic().map(|before| self.grams(after.state.dic - before))
            }
        }
    }

    /// Gauge pressure over the carbonated water, bar.
    fn gauge(&self, after: &SolvedWater) -> Option<f64> {
        match after.headspace {
            Some(headspace) => reachable(after.state.pco2()).then_some(headspace.gauge_bar),
            None => self.gauge_over(after.state.celsius(), after.state.pco2()),
        }
    }

    /// Gauge pressure of CO2 alone over a water, bar, where it is within reach and no less than the air.
    fn gauge_over(&self, celsius: f64, pco2_bar: f64) -> Option<f64> {
        if !reachable(pco2_bar) {
            return None;
        }
        let gauge = gas::gauge_bar(&Model::at_celsius(celsius).ok()?, pco2_bar, self.altitude_m);
        // a keg that is set to nothing reads nothing, whatever the last digit
        (gauge > -1e-9).then(|| gauge.max(0.0))
    }

    fn headspace(&self, after: &SolvedWater, total: impl Fn(f64) -> Option<f64>) -> Option<Headspace> {
        let over = after.headspace.filter(|_| reachable(after.state.pco2()));
        let (Some(over), Held::Bottle(percent)) = (over, self.held) else { return None };
        let whole = over.co2 + after.state.dic;
        let co2_g_per_l = self.grams(over.co2);
        Some(Headspace {
            percent,
            gauge_bar: over.gauge_bar,
            co2_g_per_l,
            share_percent: if whole > 0.0 { 100.0 * over.co2 / whole } else { 0.0 },
            co2_g: total(co2_g_per_l),
        })
    }

    /// CO2 pressure and gauge of the same closed water at another temperature, bar.
    fn at(&self, after: &SolvedWater, celsius: f64) -> Result<(f64, Option<f64>), StateError> {
        if let Held::Bottle(_) = self.held {
            let bottle = Solution::new(self.still.totals().clone(), celsius)?;
            let bottled = SolvedWater::of(&bottle, self.held)?;
            return Ok((bottled.state.pco2(), bottled.headspace.map(|over| over.gauge_bar)));
        }
        let pco2_bar = after.closed_at(celsius)?.pco2();
        Ok((pco2_bar, self.gauge_over(celsius, pco2_bar)))
    }
}

/// Whether the gas law of the model holds at a pressure of CO2.
fn reachable(pco2_bar: f64) -> bool {
    pco2_bar.is_finite() && pco2_bar <= MOST_PCO2_BAR
}

fn pressures(asked: &Asked, after: &SolvedWater, not_judged: &mut Vec<NotJudged>) -> Vec<PressureAt> {
    let mut rows = Vec::new();
    for temperature_c in TEMPERATURES {
        let why = match asked.at(after, temperature_c) {
            Ok((pco2_bar, gauge_bar)) if reachable(pco2_bar) => {
                rows.push(PressureAt { temperature_c, pco2_bar, gauge_bar });
                continue;
            }
            Ok(_) => format!("the gas law of the model ends at {MOST_PCO2_BAR} bar"),
            Err(error) => error.to_string(),
        };
        not_judged.push(NotJudged { what: format!("pressure at {temperature_c} °C"), why });
    }
    rows
}

/// The water in balance with air, where it gives off CO2 on the way there.
fn opened(
    asked: &Asked,
    after: &SolvedWater,
    not_judged: &mut Vec<NotJudged>,
) -> Option<(SolvedWater, Opened)> {
    let air = Held::Here(CarbonDioxide::OpenToAir { altitude_m: asked.altitude_m });
    match SolvedWater::of(&after.solution, air) {
        Ok(flat) if flat.state.pco2() < after.state.pco2() * (1.0 - 1e-6) => {
            let co2_given_off_g_per_l = asked.grams(after.state.dic - flat.state.dic);
            let ph = flat.state.ph;
            Some((flat, Opened { ph, co2_given_off_g_per_l, co2_given_off_g: None }))
        }
        Ok(_) => None,
        Err(error) => {
            not_judged.push(NotJudged { what: "the open water".to_owned(), why: error.to_string() });
            None
        }
    }
}

/// Every solid that the water is near to at some point of its way, and calcite.
fn saturation(
    before: Option<&SolvedWater>,
    after: &SolvedWater,
    opened: Option<&SolvedWater>,
) -> Vec<SaturationChange> {
    let of = |water: Option<&SolvedWater>| water.map(SolvedWater::saturation).unwrap_or_default();
    let (before, opened) = (of(before), of(opened));
    let index = |among: &[Saturation], solid: &str| {
        among.iter().find(|one| one.solid.id == solid).map(|one| one.index)
    };
    let changed = |one: Saturation| SaturationChange {
        before: index(&before, one.solid.id),
        after: one.index,
        opened: index(&opened, one.solid.id),
        solid: one.solid.id.to_owned(),
    };
    let near = |change: &SaturationChange| {
        let highest = change.before.into_iter().chain(change.opened).fold(change.after, f64::max);
        highest >= NEAR || change.solid == "calcite"
    };
    after.saturation().into_iter().map(changed).filter(near).collect()
}

/// What the person at the keg should know.
fn told(asked: &Asked, after: &SolvedWater, add: Option<f64>, gauge_bar: Option<f64>) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut say = |code: &str, text: String| {
        findings.push(Finding { code: code.to_owned(), pointer: "/co2".to_owned(), text, source: None });
    };
    if let Some(off) = add.filter(|add| *add < 0.0) {
        let text = format!(
            "The still water holds more carbon dioxide than that: a litre gives off {:.3} g on the way.",
            -off
        );
        say("co2_given_off", text);
    }
    let wanted_air = asked.state == Co2State::OpenToAir;
    if gauge_bar.is_none() && reachable(after.state.pco2()) && !wanted_air {
        let text = "The water holds less carbon dioxide than the gas alone would press into it at the pressure of the \
                    air: over it, even a gauge at 0 bar raises what it holds.";
        say("no_gauge_pressure", text.to_owned());
    }
    findings
}

/// Cautions on the pressure, on the gas, on what is dissolved, and those that always stand.
fn cautions(after: &SolvedWater, gauge_bar: f64, co2_g_per_l: f64) -> Vec<Caution> {
    let gas = assessment::for_carbonation(gauge_bar, co2_g_per_l);
    gas.into_iter().map(said::caution).chain(said::cautions(&after.solution)).collect()
}
