//! Answers `titration`.

use springwright_chem::composition::closure::Closure;
use springwright_chem::composition::solids;
use springwright_chem::composition::state::Solution;
use springwright_chem::composition::totals::Standing;
use springwright_chem::equilibrium::carbonation::{CO2_MOLAR_MASS, CarbonDioxide};
use springwright_chem::equilibrium::titration::{
    self as chem, MOST, Short, Strong, Titrated, Titration, Vessel, buffer_capacity,
};
use springwright_chem::equilibrium::{EquilibriumError, Known, Model};
use springwright_chem::fault::Fault as _;
use springwright_chem::formulation::Choice;
use springwright_chem::matter::catalogue::Form;
use springwright_chem::matter::component::Component;
use springwright_chem::properties::solved_water::left_out;
use springwright_chem::properties::{Held, SolvedWater, StateError};

use super::blend::choice;
use super::faults::{fault, own};
use super::source::{self, Source};
use super::{co2, said, state, water};
use crate::problem::Fault;
use crate::reading::Read;
use crate::said::{Assumption, Caution, Finding};
use crate::salt_choice::SaltChoice;
use crate::titration::{Addition, CurvePoint, EndPoint, Titrant, TitrationAnswer, TitrationRequest, WhyNot};

/// pH at which an alkalinity titration ends.
const END_POINTS: core::ops::RangeInclusive<f64> = 3.5..=5.5;

/// What brings a water to a pH.
pub(super) fn answer(read: Read<TitrationRequest>) -> Result<TitrationAnswer, Vec<Fault>> {
    let Read { request, value, mut assumptions, .. } = read;
    let mut findings = Vec::new();
    let asked = asked(&request, &mut assumptions, &mut findings)?;
    said::strictly(request.strict, &assumptions)?;
    let volume_l = request.volume_l;
    let before = state::answered(
        &asked.still,
        |_| volume_l,
        Held::Closed,
        Closure::default(),
        asked.source.unsolved.as_ref(),
    )?;
    let strong = asked.strong(request.to_ph)?;
    let end = match &asked.titrant {
        Some(titrant) => asked.titration(titrant)?.to(request.to_ph).map_err(|error| whole(&error))?,
        None => strong.end.clone(),
    };
    let after = asked.after(&end)?;
    let after_l = volume_l.map(|l| l * asked.litre_kg() * end.water_kg / after.solution.water_kg_per_l());
    let (answered, mut not_judged) = water::solved(&after, after_l, Closure::default());
    not_judged.splice(0..0, before.not_judged);
    findings.extend(solids::findings(after.solution.totals()).iter().map(|found| said::finding("", found)));
    findings.extend(state::findings(&after));
    findings.extend(asked.solubility(&end));
    let total = |per_l: f64| volume_l.map(|litres| per_l * litres);
    let told = strong.end.short.is_none() || asked.titrant.is_none();
    let acid = told.then_some(1e3 * strong.acid * asked.litre_kg());
    let co2 = asked.co2(before.solved.as_ref(), &end);
    Ok(TitrationAnswer {
        reached: end.short.is_none(),
        to_ph: request.to_ph,
        ph: end.state.ph,
        why_not: end.short.as_ref().map(|short| why_not(short, &end)),
        acid_meq_per_l: acid,
        acid_meq: acid.and_then(total),
        addition: asked.addition(&request, &end, total),
        co2_set_free_mg_per_l: co2.map(|(free, _)| free),
        co2_given_off_mg_per_l: co2.and_then(|(_, off)| asked.is_open().then_some(off)),
        buffer_before_mmol_per_l: before.solved.as_ref().and_then(buffer),
        buffer_after_mmol_per_l: buffer(&after),
        end_point: asked.end_point(request.to_ph, &strong),
        curve: asked.curve(request.curve_points, &end, &strong)?,
        before: before.water,
        after: answered,
        not_judged,
        assumptions,
        findings,
        cautions: asked.cautions(&after),
        provenance: state::provenance(&value),
    })
}

/// A fault of the whole water.
fn whole(error: &EquilibriumError) -> Vec<Fault> {
    vec![fault("/water", error)]
}

/// What is asked, read.
struct Asked {
    source: Source,
    /// The water before, at the temperature of the request.
    still: Solution,
    model: Model,
    /// Traces without constants.
    left_out: Vec<Component>,
    titrant: Option<Choice>,
    vessel: Vessel,
}

/// Reads the request, or every fault of it.
fn asked(
    request: &TitrationRequest,
    assumptions: &mut Vec<Assumption>,
    findings: &mut Vec<Finding>,
) -> Result<Asked, Vec<Fault>> {
    let mut faults = source::limits_out_of_place(&request.water, "/water");
    let source = source::read(&request.water, "/water", assumptions, findings);
    let held = co2::read(request.vessel.as_ref(), "/vessel", assumptions).and_then(in_a_vessel);
    let titrant = request.titrant.as_ref().map(|stated| titrant(stated, assumptions)).transpose();
    let (source, held, titrant) = match (source, held, titrant) {
        (Ok(source), Ok(held), Ok(titrant)) if faults.is_empty() => (source, held, titrant),
        (source, held, titrant) => {
            faults.extend(source.err().unwrap_or_default());
            faults.extend(held.err().unwrap_or_default());
            faults.extend(titrant.err().unwrap_or_default());
            return Err(faults);
        }
    };
    let celsius = request.temperature_c.unwrap_or(source.water.temperature_c());
    let still = Solution::new(source.water.totals().clone(), celsius)
        .map_err(|error| vec![fault("/temperature_c", &error)])?;
    let model = Model::at_celsius(celsius).map_err(|error| vec![fault("/temperature_c", &error)])?;
    let unknown = |error: StateError, pointer: &str| match &source.unsolved {
        Some(deeper) => vec![fault("/water", deeper)],
        None => vec![fault(pointer, &error)],
    };
    if still.totals().standing(Component::HCO3) != Standing::Stated {
        return Err(unknown(StateError::Alkalinity, "/water/analysis/alkalinity"));
    }
    let left_out = left_out(still.totals()).map_err(|error| vec![fault("/water", &error)])?;
    let vessel = match held {
        None => {
            let dic = still.totals().dic();
            Vessel::Closed { dic: dic.ok_or_else(|| unknown(StateError::Carbonate, "/water"))? }
        }
        Some(gas) => match gas.known(&model, still.water_kg_per_l()) {
            Ok(Known::Pco2(pco2_bar)) => Vessel::Open { pco2_bar },
            Ok(_) => return Err(no_vessel()),
            Err(error) => return Err(vec![fault("/vessel", &error)]),
        },
    };
    Ok(Asked { source, still, model, left_out, titrant, vessel })
}

/// The gas over an open vessel; none over a closed one.
fn in_a_vessel(held: Held) -> Result<Option<CarbonDioxide>, Vec<Fault>> {
    match held {
        Held::Closed => Ok(None),
        Held::Here(gas @ (CarbonDioxide::OpenToAir { .. } | CarbonDioxide::PartialPressure { .. })) => {
            Ok(Some(gas))
        }
        _ => Err(no_vessel()),
    }
}

fn no_vessel() -> Vec<Fault> {
    let message = "a titration runs in a closed vessel or under a gas that stays as it is";
    let accepted = ["closed", "open_to_air", "partial_pressure"].map(str::to_owned).to_vec();
    let mend =
        "state one of these; for a carbonated water say so in its analysis (co2) and leave the vessel closed";
    vec![Fault { accepted, ..own("/vessel/state", "vessel_unknown", message, mend) }]
}

/// What is added, and whether the model knows its ions.
fn titrant(stated: &Titrant, assumptions: &mut Vec<Assumption>) -> Result<Choice, Vec<Fault>> {
    let stated = SaltChoice {
        salt: stated.salt.clone(),
        formula: stated.formula.clone(),
        assay_percent: stated.assay_percent,
        ..SaltChoice::default()
    };
    let choice = choice::read(&stated, "/titrant", assumptions)?;
    let brings = choice.added.per_mole();
    match left_out(brings) {
        Ok(unknown) if unknown.is_empty() => Ok(choice),
        Ok(unknown) => {
            let error = EquilibriumError::Component { component: unknown[0].id() };
            Err(vec![fault("/titrant", &error)])
        }
        Err(error) => Err(vec![fault("/titrant", &error)]),
    }
}

impl Asked {
    /// kg of water in a litre of the water before.
    fn litre_kg(&self) -> f64 {
        self.still.water_kg_per_l()
    }

    fn is_open(&self) -> bool {
        matches!(self.vessel, Vessel::Open { .. })
    }

    fn strong(&self, ph: f64) -> Result<Strong, Vec<Fault>> {
        chem::strong(&self.model, self.still.totals(), &self.left_out, self.vessel, ph)
            .map_err(|error| whole(&error))
    }

    fn titration<'a>(&'a self, titrant: &'a Choice) -> Result<Titration<'a>, Vec<Fault>> {
        Ok(Titration {
            model: &self.model,
            water: self.still.totals(),
            left_out: &self.left_out,
            added: &titrant.added,
            vessel: self.vessel,
        })
    }

    /// The water at the end, as every water is answered.
    fn after(&self, end: &Titrated) -> Result<SolvedWater, Vec<Fault>> {
        let solution = Solution::new(end.totals.clone(), self.still.temperature_c())
            .map_err(|error| vec![fault("/to_ph", &error)])?;
        let held = match self.vessel {
            Vessel::Closed { .. } => Held::Closed,
            Vessel::Open { pco2_bar } => Held::Here(CarbonDioxide::PartialPressure { pco2_bar }),
        };
        SolvedWater::of(&solution, held).map_err(|error| vec![fault("/to_ph", &error)])
    }

    fn addition(
        &self,
        request: &TitrationRequest,
        end: &Titrated,
        total: impl Fn(f64) -> Option<f64>,
    ) -> Option<Addition> {
        let titrant = self.titrant.as_ref()?;
        let g_per_l = end.moles * self.litre_kg() * grams_per_mole(titrant);
        Some(Addition {
            salt: titrant.salt.id.to_owned(),
            name: titrant.salt.name.to_owned(),
            formula: titrant.salt.formula.as_ref().map(|formula| formula.canonical()),
            assay_percent: titrant.assay_percent,
            lot: request.titrant.as_ref().and_then(|titrant| titrant.lot.clone()),
            mmol_per_l: 1e3 * end.moles * self.litre_kg(),
            g_per_l,
            mass_g: total(g_per_l),
        })
    }

    /// CO2 that was set free of bicarbonate and carbonate, and that left the water, mg per litre of the water before.
    fn co2(&self, before: Option<&SolvedWater>, end: &Titrated) -> Option<(f64, f64)> {
        let mg = |mol_per_kg: f64| 1e3 * mol_per_kg * self.litre_kg() * CO2_MOLAR_MASS;
        let before = &before?.state;
        let brought = match &self.titrant {
            Some(titrant) => end.moles * titrant.added.per_mole().dic().unwrap_or(0.0),
            None => 0.0,
        };
        let bound = before.dic - before.co2() + brought;
        let free = bound - (end.state.dic - end.state.co2()) * end.water_kg;
        let off = before.dic + brought - end.state.dic * end.water_kg;
        Some((mg(free), mg(off)))
    }

    /// The identity of titrated and charge-form alkalinity, where the pH is an end point that acid reaches.
    fn end_point(&self, to_ph: f64, strong: &Strong) -> Option<EndPoint> {
        let ends = END_POINTS.contains(&to_ph) && strong.end.short.is_none() && strong.acid >= 0.0;
        let meq = |eq: f64| 1e3 * eq * self.litre_kg();
        ends.then(|| EndPoint {
            titrated_meq_per_l: meq(strong.acid),
            charge_form_meq_per_l: meq(self.still.totals().alkalinity()),
            left_meq_per_l: meq(strong.end.state.alkalinity * strong.end.water_kg),
        })
    }

    fn curve(
        &self,
        points: Option<u32>,
        end: &Titrated,
        strong: &Strong,
    ) -> Result<Vec<CurvePoint>, Vec<Fault>> {
        let Some(points) = points.filter(|_| end.moles > 0.0) else { return Ok(Vec::new()) };
        let at = |moles: f64| match &self.titrant {
            Some(titrant) => self.titration(titrant)?.at(moles).map_err(|error| whole(&error)),
            None => chem::strongly(
                &self.model,
                self.still.totals(),
                &self.left_out,
                self.vessel,
                if strong.acid < 0.0 { -moles } else { moles },
            )
            .map_err(|error| whole(&error)),
        };
        let steps = points.saturating_sub(1).max(1);
        (0..=steps)
            .map(|step| {
                let moles = end.moles * f64::from(step) / f64::from(steps);
                let per_l = moles * self.litre_kg();
                Ok(CurvePoint {
                    mmol_per_l: 1e3 * per_l,
                    g_per_l: self.titrant.as_ref().map(|titrant| per_l * grams_per_mole(titrant)),
                    ph: at(moles)?.state.ph,
                })
            })
            .collect()
    }

    /// Whether what is added dissolves at all.
    fn solubility(&self, end: &Titrated) -> Option<Finding> {
        let titrant = self.titrant.as_ref()?;
        let celsius = self.still.temperature_c();
        let most = titrant.salt.solubility_g_per_100g(celsius)?;
        let grams = end.moles * titrant.added.molar_mass() / 10.0;
        (titrant.salt.form == Form::Solid && grams > most).then(|| Finding {
            code: "more_than_dissolves".to_owned(),
            pointer: "/titrant".to_owned(),
            text: format!(
                "{grams:.3} g of {} in 100 g of water are more than the {most} g that dissolve at {celsius} °C.",
                titrant.salt.name
            ),
            source: None,
        })
    }

    fn cautions(&self, after: &SolvedWater) -> Vec<Caution> {
        let handling = self.titrant.iter().flat_map(|titrant| said::handling(titrant.salt));
        handling.chain(said::cautions(&after.solution)).collect()
    }
}

/// g to weigh for one mol.
fn grams_per_mole(titrant: &Choice) -> f64 {
    titrant.added.molar_mass() * 100.0 / titrant.assay_percent
}

/// mmol of strong base per litre and unit of pH.
fn buffer(water: &SolvedWater) -> Option<f64> {
    buffer_capacity(&water.state).map(|capacity| 1e3 * capacity * water.solution.water_kg_per_l())
}

fn why_not(short: &Short, end: &Titrated) -> WhyNot {
    let nearest = format!("The nearest is pH {:.2}.", end.state.ph);
    let (code, text) = match short {
        Short::Away => ("moves_away", "It moves the water away from the wanted pH.".to_owned()),
        Short::LevelsOff => (
            "levels_off",
            "The pH levels off, or turns back, before it is there: more does not help.".to_owned(),
        ),
        Short::Most => (
            "most_added",
            format!("{MOST} mol in a kilogram of water, the most that is tried, is not enough."),
        ),
        Short::Ends(error) => {
            ("model_ends", format!("The model ends before it is there: {error}. {}", error.mend()))
        }
    };
    WhyNot { code: code.to_owned(), text: format!("{text} {nearest}") }
}
