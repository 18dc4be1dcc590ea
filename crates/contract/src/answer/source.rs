//! A water of the request brought to totals.

use springwright_chem::composition::added::Added;
use springwright_chem::composition::analysis::{Analysis, Missing, Per, Reported};
use springwright_chem::composition::fault::CompositionError;
use springwright_chem::composition::state::Solution;
use springwright_chem::composition::totals::Totals;
use springwright_chem::formulation::Choice;
use springwright_chem::matter::component::{self, Component};
use springwright_chem::properties::{Held, SolvedWater, StateError};
use springwright_chem::quantity::{self as chem, Dimension, QuantityError, Subject, Unit};

use super::blend::choice::named;
use super::carbonate::{self, Carbon, Carbonate, Sheet};
use super::faults::{fault, out_of_place, own};
use super::{amounts, mixture, said};
use crate::problem::Fault;
use crate::reading::below;
use crate::said::{Assumption, Finding};
use crate::source_water::{AddedSalt, MissingRule, SourceWater};

/// A water that goes in, at its own temperature.
pub(super) struct Source {
    pub name: String,
    pub water: Solution,
    /// Its sheet, where that states one figure of the carbonate system which is not the alkalinity.
    alone: Option<Sheet>,
    /// Why the carbonate could not be told although two figures stand on the sheet.
    pub unsolved: Option<StateError>,
}

impl Source {
    /// The water solved at a temperature and in a state of its carbon dioxide, for a request that has this water alone.
    pub(super) fn solved(&self, temperature_c: f64, held: Held) -> Result<SolvedWater, Vec<Fault>> {
        let at = |error: &StateError| match error {
            StateError::Alkalinity => vec![fault("/water/analysis/alkalinity", error)],
            _ => vec![fault("/water", error)],
        };
        let water = self.with_gas(held).map_err(|error| at(&error))?;
        let brought = Solution::new(water.totals().clone(), temperature_c)
            .map_err(|error| vec![fault("/temperature_c", &error)])?;
        SolvedWater::of(&brought, held).map_err(|error| match (&error, &self.unsolved) {
            (StateError::Carbonate | StateError::Alkalinity, Some(deeper)) => at(deeper),
            _ => at(&error),
        })
    }

    /// The water, where its only figure and the gas that it stands under tell its alkalinity together.
    fn with_gas(&self, held: Held) -> Result<Solution, StateError> {
        match (self.alone, held) {
            (Some(sheet), Held::Here(gas) | Held::Elsewhere(gas, _)) => sheet.under(&self.water, gas),
            _ => Ok(self.water.clone()),
        }
    }
}

/// Reads a water, or every fault of it.
pub(super) fn read(
    stated: &SourceWater,
    pointer: &str,
    assumptions: &mut Vec<Assumption>,
    findings: &mut Vec<Finding>,
) -> Result<Source, Vec<Fault>> {
    let pure = stated.pure == Some(true);
    let (totals, temperature_c) = match (&stated.analysis, pure) {
        (Some(_), true) => {
            let message = "the water is said to be pure and has an analysis";
            return Err(vec![own(pointer, "pure_and_analysed", message, "leave out one of them")]);
        }
        (None, false) => {
            let message = "the water has no analysis, and is not said to be pure";
            let mend = "state its analysis, or pure: true; nothing is taken as pure in silence";
            return Err(vec![own(pointer, "water_unstated", message, mend)]);
        }
        (None, true) if stated.ph.is_some() => {
            return Err(vec![out_of_place(&below(pointer, "ph"), "ph", "water without solutes")]);
        }
        (None, true) => (Totals::pure(), pure_temperature(stated, pointer, assumptions)),
        (Some(_), false) => analysed(stated, pointer, assumptions, findings)?,
    };
    let whole = |error: CompositionError| vec![fault(pointer, &error)];
    let sheet = Solution::new(totals, temperature_c).map_err(whole)?;
    let carbonate = match &stated.analysis {
        Some(_) => {
            let rows = Sheet { ph: stated.ph, carbon: carbon(stated, pointer)? };
            carbonate::of_sheet(sheet, rows, pointer, findings)
        }
        None => Carbonate { water: sheet, alone: None, unsolved: None },
    };
    let Carbonate { water, alone, unsolved } = carbonate;
    let water = with_salts(water, stated, pointer)?;
    let name = stated.name.clone().unwrap_or_else(|| pointer.trim_start_matches('/').replace('/', " "));
    Ok(Source { name, water, alone, unsolved })
}

/// What limits or prices a water in a blend says nothing of a water that is poured.
pub(super) fn limits_out_of_place(water: &SourceWater, pointer: &str) -> Vec<Fault> {
    let fields = [
        ("at_least_percent", water.at_least_percent),
        ("at_most_percent", water.at_most_percent),
        ("price_per_1000_l", water.price_per_1000_l),
    ];
    let stated = fields.into_iter().filter(|(_, value)| value.is_some());
    stated
        .map(|(field, _)| out_of_place(&below(pointer, field), field, "a water that is not blended"))
        .collect()
}

/// The rows of an analysis that speak of carbon.
fn carbon(stated: &SourceWater, pointer: &str) -> Result<Carbon, Vec<Fault>> {
    let row = |name: &str| {
        let measured = stated.analysis.as_ref().and_then(|analysis| analysis.0.get(name));
        let at = below(&below(pointer, "analysis"), name);
        measured.map(|measured| carbonate::row(name, measured, &at)).transpose()
    };
    Ok(Carbon { dic: row("dic")?, co2: row("co2")? })
}

fn pure_temperature(stated: &SourceWater, pointer: &str, assumptions: &mut Vec<Assumption>) -> f64 {
    stated.temperature_c.unwrap_or_else(|| {
        assumptions.push(said::assumed(
            "temperature_assumed",
            below(pointer, "temperature_c"),
            format!("The litres of this water are poured at {} °C.", mixture::USUAL_TEMPERATURE_C),
            "A litre at 4 °C holds 0.18 % more, at 30 °C 0.26 % less.",
        ));
        mixture::USUAL_TEMPERATURE_C
    })
}

/// Totals of an analysis, and the temperature of its litres.
fn analysed(
    stated: &SourceWater,
    pointer: &str,
    assumptions: &mut Vec<Assumption>,
    findings: &mut Vec<Finding>,
) -> Result<(Totals, f64), Vec<Fault>> {
    let analysis = analysis(stated, pointer)?;
    let placed = |error: &CompositionError| fault(place(error, pointer), error);
    let reckoned = Totals::of(&analysis).map_err(|errors| errors.iter().map(placed).collect::<Vec<_>>())?;
    assumptions.extend(reckoned.assumptions.iter().map(|assumed| said::assumption(pointer, assumed)));
    findings.extend(reckoned.findings.iter().map(|found| said::finding(pointer, found)));
    let uncertain =
        |analysis: &crate::source_water::Analysis| analysis.0.values().any(|m| m.uncertainty.is_some());
    if stated.analysis.as_ref().is_some_and(uncertain) {
        findings.push(Finding {
            code: "uncertainty_not_carried".to_owned(),
            pointer: below(pointer, "analysis"),
            text: "The uncertainties of the analysis are not carried into this answer.".to_owned(),
            source: None,
        });
    }
    Ok((reckoned.totals, reckoned.temperature_c))
}

/// Where in the water a fault of its composition stands.
pub(super) fn place(error: &CompositionError, pointer: &str) -> String {
    let in_analysis = |component: &Component| below(&below(pointer, "analysis"), component.id());
    match error {
        CompositionError::Insufficient { component, .. }
        | CompositionError::PartExceedsSum { component, .. } => in_analysis(component),
        CompositionError::RuleForStated { component } => below(&below(pointer, "missing"), component.id()),
        CompositionError::CannotBalanceOn { .. } | CompositionError::NegativeByCharge { .. } => {
            below(pointer, "balance_on")
        }
        CompositionError::AlkalinityStatedTwice { .. } => below(&below(pointer, "analysis"), "alkalinity"),
        _ => below(pointer, "analysis"),
    }
}

/// The analysis with every amount converted, or every fault of it.
fn analysis(stated: &SourceWater, pointer: &str) -> Result<Analysis, Vec<Fault>> {
    let mut analysis = Analysis {
        end_point_ph: stated.end_point_ph,
        ph: stated.ph,
        temperature_c: stated.temperature_c,
        ..Analysis::default()
    };
    let mut faults = Vec::new();
    let rows = stated.analysis.iter().flat_map(|analysis| &analysis.0);
    faults.extend(carbon(stated, pointer).err().unwrap_or_default());
    for (name, measured) in rows.filter(|(name, _)| !CARBON.contains(&name.as_str())) {
        let at = below(&below(pointer, "analysis"), name);
        match row(name, measured, &at) {
            Ok((name, reported)) => enter(&mut analysis, name, reported),
            Err(own) => faults.extend(own),
        }
    }
    for (name, rule) in stated.missing.iter().flatten() {
        match component(name, &below(&below(pointer, "missing"), name)) {
            Ok(component) => {
                let rule = match rule {
                    MissingRule::Zero => Missing::Zero,
                    MissingRule::ByCharge => Missing::ByCharge,
                };
                analysis.missing.insert(component, rule);
            }
            Err(own) => faults.push(own),
        }
    }
    if let Some(name) = &stated.balance_on {
        match component(name, &below(pointer, "balance_on")) {
            Ok(component) => analysis.balance_on = Some(component),
            Err(own) => faults.push(own),
        }
    }
    if faults.is_empty() { Ok(analysis) } else { Err(faults) }
}

/// Rows that speak of carbon and stand apart from the others.
const CARBON: [&str; 2] = ["dic", "co2"];

/// What a row of an analysis speaks of.
enum Row {
    Component(Component),
    Alkalinity,
    Hardness,
    SodiumAndPotassium,
}

fn row(name: &str, measured: &crate::measured::Measured, at: &str) -> Result<(Row, Reported), Vec<Fault>> {
    let (row, subject) = match name {
        "alkalinity" => (Row::Alkalinity, Subject::Alkalinity),
        "hardness" => (Row::Hardness, Subject::Hardness),
        "Na+K" => (Row::SodiumAndPotassium, Subject::Component(Component::NA)),
        id => {
            let component = component(id, at).map_err(|own| vec![own])?;
            (Row::Component(component), Subject::Component(component))
        }
    };
    let amount = amounts::measured(measured, at)?;
    Ok((row, reported(&amount, &subject).map_err(|error| vec![fault(at, &error)])?))
}

fn enter(analysis: &mut Analysis, row: Row, reported: Reported) {
    match row {
        Row::Component(component) => {
            analysis.components.insert(component, reported);
        }
        Row::Alkalinity => analysis.alkalinity = Some(reported),
        Row::Hardness => analysis.hardness = Some(reported),
        Row::SodiumAndPotassium => analysis.sodium_and_potassium = Some(reported),
    }
}

/// A measured amount in mol (eq for alkalinity) per litre or kilogram, as its unit says.
pub(super) fn reported(amount: &chem::Measured, of: &Subject) -> Result<Reported, QuantityError> {
    use Dimension as D;
    let (to, to_eq, per) = match amount.unit().dimension() {
        D::MassPerMass | D::AmountPerSolution | D::EquivalentPerSolution => {
            ("mmol/kg_solution", "meq/kg_solution", Per::Kilogram)
        }
        D::MassPerWater | D::AmountPerWater | D::EquivalentPerWater => {
            ("mmol/kg", "meq/kg", Per::KilogramOfWater)
        }
        _ => ("mmol/L", "meq/L", Per::Litre),
    };
    let to = Unit::read(if *of == Subject::Alkalinity { to_eq } else { to })?;
    let milli = chem::convert(amount, of, to, None, &chem::Solution::default())?;
    let below = amount.comparator().is_some();
    Ok(if below { Reported::below(milli / 1000.0, per) } else { Reported::new(milli / 1000.0, per) })
}

/// What an analysis may state beside components.
const OTHER_ROWS: [&str; 5] = ["alkalinity", "hardness", "Na+K", "dic", "co2"];

/// A component by its id.
fn component(id: &str, pointer: &str) -> Result<Component, Fault> {
    Component::read(id).ok_or_else(|| {
        let ids = Component::ALL.map(Component::id);
        let meant = component::named(id).map(Component::id);
        let near = meant.or_else(|| super::nearest(id, ids.into_iter().chain(OTHER_ROWS)));
        let mend = near.map_or_else(
            || "use an id such as Ca, SO4 or citrate".to_owned(),
            |near| format!("did you mean '{near}'?"),
        );
        let accepted = ids.into_iter().chain(OTHER_ROWS).map(str::to_owned).collect();
        Fault {
            accepted,
            ..own(pointer, "component_unknown", format!("'{id}' is no component of a water"), &mend)
        }
    })
}

/// The totals with the salts that the request says are dissolved in them.
fn with_salts(water: Solution, stated: &SourceWater, pointer: &str) -> Result<Solution, Vec<Fault>> {
    let salts = stated.added.as_deref().unwrap_or_default();
    let (mut read, mut faults) = (Vec::new(), Vec::new());
    for (at, salt) in salts.iter().enumerate() {
        match added(salt, &below(&below(pointer, "added"), at)) {
            Ok(salt) => read.push(salt),
            Err(own) => faults.extend(own),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    if read.is_empty() {
        return Ok(water);
    }
    dissolved(&water, &read).map_err(|error| vec![fault(below(pointer, "added"), &error)])
}

/// g of one salt per litre of the finished water or per kg of its water.
struct Dissolved {
    added: Added,
    grams: f64,
    per_litre: bool,
}

fn added(stated: &AddedSalt, pointer: &str) -> Result<Dissolved, Vec<Fault>> {
    let salt = named(stated.salt.as_deref(), stated.formula.as_deref(), pointer)?;
    let choice = Choice::new(salt, 100.0).map_err(|error| vec![fault(pointer, &error)])?;
    let (grams, per_litre) = match (stated.mg_per_l, stated.mg_per_kg) {
        (Some(mg), None) => (mg / 1000.0, true),
        (None, Some(mg)) => (mg / 1000.0, false),
        (Some(_), Some(_)) => {
            return Err(vec![own(
                pointer,
                "amount_stated_twice",
                "mg_per_l and mg_per_kg are both stated",
                "state one of them",
            )]);
        }
        (None, None) => {
            return Err(vec![own(
                pointer,
                "field_missing",
                "neither mg_per_l nor mg_per_kg is stated",
                "state one of them",
            )]);
        }
    };
    Ok(Dissolved { added: choice.added, grams, per_litre })
}

/// Dissolves salts whose amounts are per litre of the finished water or per kilogram of its water: both depend on
/// what is dissolved, so they are settled in turns.
fn dissolved(water: &Solution, salts: &[Dissolved]) -> Result<Solution, CompositionError> {
    const ROUNDS: usize = 60;
    let mut water_kg_per_l = water.water_kg_per_l();
    let mut finished = water.clone();
    for _ in 0..ROUNDS {
        let per_kg_finished = |salt: &Dissolved| {
            salt.grams / salt.added.molar_mass() / if salt.per_litre { water_kg_per_l } else { 1.0 }
        };
        // Moles per kg of finished water, of which the crystals bring a part themselves.
        let moles: Vec<f64> = salts.iter().map(per_kg_finished).collect();
        let m_water = springwright_chem::composition::pure_water::molar_mass() / 1000.0;
        let brought: f64 =
            moles.iter().zip(salts).map(|(moles, salt)| moles * salt.added.water() * m_water).sum();
        let per_kg_poured: Vec<_> =
            moles.iter().zip(salts).map(|(moles, salt)| (moles / (1.0 - brought), &salt.added)).collect();
        finished = Solution::new(water.totals().with_added(&per_kg_poured)?, water.temperature_c())?;
        let next = finished.water_kg_per_l();
        if (next - water_kg_per_l).abs() <= 1e-14 * next {
            break;
        }
        water_kg_per_l = next;
    }
    Ok(finished)
}
