//! A water of the request brought to totals.

use springwright_chem::composition::added::Added;
use springwright_chem::composition::fault::CompositionError;
use springwright_chem::composition::state::Solution;
use springwright_chem::composition::totals::Totals;
use springwright_chem::formulation::Choice;
use springwright_chem::matter::component::{self, Component};
use springwright_chem::properties::{Held, SolvedWater, StateError};

use super::blend::choice::named;
use super::carbonate::{self, Carbonate};
use super::faults::{fault, out_of_place, own};
use super::sheet::Sheet;
use super::uncertainty;
use crate::problem::Fault;
use crate::reading::below;
use crate::said::{Assumption, Finding};
use crate::source_water::{AddedSalt, SourceWater};

/// A water that goes in, at its own temperature.
pub(super) struct Source {
    pub name: String,
    pub water: Solution,
    /// Its sheet, where that states one figure of the carbonate system which is not the alkalinity.
    alone: Option<carbonate::CarbonFigures>,
    /// Why the carbonate could not be told although two figures stand on the sheet.
    pub unsolved: Option<StateError>,
    /// The equilibrium of the water as it stands, where its sheet told it.
    as_it_stands: Option<SolvedWater>,
}

impl Source {
    /// The water solved at a temperature and in a state of its carbon dioxide, for a request that has this water alone.
    pub(super) fn solved(&self, temperature_c: f64, held: Held) -> Result<SolvedWater, Vec<Fault>> {
        let at = |error: &StateError| match error {
            StateError::Alkalinity => vec![fault("/water/analysis/alkalinity", error)],
            _ => vec![fault("/water", error)],
        };
        if let Some(solved) = &self.as_it_stands
            && held == Held::Closed
            && temperature_c == self.water.temperature_c()
        {
            return Ok(solved.clone());
        }
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
    let sheet = Sheet::read(stated, pointer, assumptions)?;
    findings.extend(uncertainty::not_carried(&sheet));
    of_sheet(&sheet, assumptions, findings)
}

/// The water of a sheet, with all that is said of it.
pub(super) fn of_sheet(
    sheet: &Sheet,
    assumptions: &mut Vec<Assumption>,
    findings: &mut Vec<Finding>,
) -> Result<Source, Vec<Fault>> {
    let reckoned = sheet.totals(Some((assumptions, &mut *findings)))?;
    reckon(sheet, reckoned, findings)
}

/// The water of a sheet that was moved; nothing is said of it.
pub(super) fn of_moved(sheet: &Sheet) -> Result<Source, Vec<Fault>> {
    reckon(sheet, sheet.totals(None)?, &mut Vec::new())
}

/// The water of a sheet whose totals are reckoned.
pub(super) fn reckon(
    sheet: &Sheet,
    (totals, temperature_c): (Totals, f64),
    findings: &mut Vec<Finding>,
) -> Result<Source, Vec<Fault>> {
    let pointer = &sheet.pointer;
    let whole = |error: CompositionError| vec![fault(pointer, &error)];
    let water = Solution::new(totals, temperature_c).map_err(whole)?;
    let Carbonate { water, alone, unsolved, solved } = sheet.carbonate(water, findings);
    let with_salts = |salts: &[Dissolved]| {
        dissolved(&water, salts).map_err(|error| vec![fault(below(pointer, "added"), &error)])
    };
    let salts = sheet.salts();
    let water = if salts.is_empty() { water } else { with_salts(salts)? };
    let as_it_stands = solved.filter(|_| salts.is_empty());
    Ok(Source { name: sheet.name.clone(), water, alone, unsolved, as_it_stands })
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

/// What an analysis may state beside components.
const OTHER_ROWS: [&str; 5] = ["alkalinity", "hardness", "Na+K", "dic", "co2"];

/// A component by its id.
pub(super) fn component(id: &str, pointer: &str) -> Result<Component, Fault> {
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

/// The salts that the request says are dissolved in a water besides, or every fault of them.
pub(super) fn salts(stated: &SourceWater, pointer: &str) -> Result<Vec<Dissolved>, Vec<Fault>> {
    let salts = stated.added.as_deref().unwrap_or_default();
    let (mut read, mut faults) = (Vec::new(), Vec::new());
    for (at, salt) in salts.iter().enumerate() {
        match added(salt, &below(&below(pointer, "added"), at)) {
            Ok(salt) => read.push(salt),
            Err(own) => faults.extend(own),
        }
    }
    if faults.is_empty() { Ok(read) } else { Err(faults) }
}

/// g of one salt per litre of the finished water or per kg of its water.
#[derive(Clone, Debug)]
pub(super) struct Dissolved {
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

/// Moles of a salt for each kilogram of water that is poured, so that it stands there with so many g in the litre.
pub(super) fn moles_per_kg_poured(
    water: &Solution,
    added: &Added,
    grams: f64,
) -> Result<f64, CompositionError> {
    let salt = Dissolved { added: added.clone(), grams, per_litre: true };
    let finished = dissolved(water, &[salt])?;
    let per_kg_finished = grams / added.molar_mass() / finished.water_kg_per_l();
    let m_water = springwright_chem::composition::pure_water::molar_mass() / 1000.0;
    Ok(per_kg_finished / (1.0 - per_kg_finished * added.water() * m_water))
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
