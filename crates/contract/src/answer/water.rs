//! A water as it is answered, from one state.

use springwright_chem::composition::charge::ChargeBalance;
use springwright_chem::composition::closure::Closure;
use springwright_chem::composition::dissolved;
use springwright_chem::composition::hardness::Hardness as Hard;
use springwright_chem::composition::linear::LinearSum;
use springwright_chem::composition::solids;
use springwright_chem::composition::state::Solution;
use springwright_chem::composition::totals::Standing;
use springwright_chem::equilibrium::carbonation::CO2_MOLAR_MASS;
use springwright_chem::formulation::END_POINT_PH;
use springwright_chem::matter::component::Component;
use springwright_chem::phases::saturation::Saturation;
use springwright_chem::properties::SolvedWater;

use super::haze;
use crate::said::NotJudged;
use crate::water::{Conductivity, Hardness, Ion, Residuals, SaturationIndex, Water};

/// The answered form of a state. What needs something that no sheet states is absent.
pub(super) fn water(state: &Solution, volume_l: Option<f64>, closure: Closure) -> Water {
    let totals = state.totals();
    let per_l = |sum: LinearSum, needed_for: &'static str| {
        sum.known(totals, needed_for).ok().map(|value| value * state.water_kg_per_l())
    };
    let alkalinity = per_l(LinearSum::titrated_alkalinity(END_POINT_PH), "alkalinity");
    let mg_per_l = |grams_per_kg: f64| 1000.0 * grams_per_kg * state.water_kg_per_l();
    let balance = ChargeBalance::of(totals).ok();
    let unstated = |component: &Component| {
        let told = LISTED.contains(component) || totals.amount(*component) > 0.0;
        told && *component != Component::CO3 && totals.standing(*component) == Standing::Absent
    };
    Water {
        temperature_c: state.temperature_c(),
        volume_l,
        mass_kg: volume_l.map(|volume| volume * state.density_kg_per_l()),
        ions: ions(state),
        tds_mg_per_l: solids::tds(totals).ok().map(mg_per_l),
        residue_180c_mg_per_l: solids::residue_180c(totals).ok().map(mg_per_l),
        hardness_mg_per_l_caco3: hardness(state),
        alkalinity_meq_per_l: alkalinity.map(|eq| 1000.0 * eq),
        alkalinity_mg_per_l_hco3: alkalinity.map(|eq| 1000.0 * eq * Component::HCO3.molar_mass()),
        density_kg_per_l: Some(state.density_kg_per_l()),
        charge_balance_percent: balance.map(|balance| balance.percent()),
        charge_balance_half_sum_percent: balance.map(|balance| balance.half_sum_percent()),
        not_stated: Component::ALL.into_iter().filter(unstated).map(|c| c.id().to_owned()).collect(),
        residuals: Residuals { mass: closure.mass, charge: closure.charge, equilibrium: None },
        ..Water::default()
    }
}

/// Highest pressure of carbon dioxide that is answered, bar.
pub(super) const MOST_PCO2_BAR: f64 = 10.0;
/// Index from which on a solid is answered beside a water.
pub(super) const NEAR: f64 = -1.0;

/// The answered form of a solved water, with what could not be judged of it.
pub(super) fn solved(
    solved: &SolvedWater,
    volume_l: Option<f64>,
    closure: Closure,
) -> (Water, Vec<NotJudged>) {
    let (water, not_judged) = without_solids(solved, volume_l, closure);
    let near = solved.saturation().into_iter().filter(|one| one.index >= NEAR || one.solid.id == "calcite");
    let verdict = haze::verdicts(solved);
    let index = |one: Saturation| SaturationIndex {
        solid: one.solid.id.to_owned(),
        si: one.index,
        verdict: verdict(one.solid.id),
    };
    (Water { saturation: near.map(index).collect(), ..water }, not_judged)
}

/// The same without the solids that it is near to.
pub(super) fn without_solids(
    solved: &SolvedWater,
    volume_l: Option<f64>,
    closure: Closure,
) -> (Water, Vec<NotJudged>) {
    let SolvedWater { solution, state, .. } = solved;
    let mut not_judged = Vec::new();
    let mut judged = |what: &str, why: String| not_judged.push(NotJudged { what: what.to_owned(), why });
    let conductivity = solved.conductivity().map_err(|error| judged("conductivity", error.to_string())).ok();
    let pco2_bar = state.pco2();
    let pressed = pco2_bar.is_finite() && pco2_bar <= MOST_PCO2_BAR;
    if !pressed {
        judged("CO2 pressure", format!("the gas law of the model ends at {MOST_PCO2_BAR} bar"));
    }
    let in_air = solved.in_air().map_err(|error| judged("pH in air", error.to_string())).ok().flatten();
    let litre = 1000.0 * solution.water_kg_per_l();
    let mut answer = water(solution, volume_l, closure);
    let (one, two) = solved.bicarbonate_and_carbonate();
    for (component, molality) in [(Component::HCO3, one), (Component::CO3, two)] {
        if molality > 0.0 {
            answer.ions.insert(component.id().to_owned(), ion(component, molality * litre));
        }
    }
    answer.residuals = Residuals {
        mass: closure.mass.max(state.residuals.mass),
        charge: closure.charge.max(state.residuals.charge),
        equilibrium: Some(state.residuals.equilibrium),
    };
    let answer = Water {
        ph: Some(state.ph),
        ph_in_air: in_air.map(|air| air.state.ph),
        dic_mmol_per_l: Some(state.dic * litre),
        co2_mg_per_l: Some(state.co2() * litre * CO2_MOLAR_MASS),
        pco2_bar: pressed.then_some(pco2_bar),
        gauge_bar: solved.headspace.filter(|_| pressed).map(|headspace| headspace.gauge_bar),
        ionic_strength_mol_per_kg: Some(state.ionic_strength),
        osmolality_mosmol_per_kg: Some(1000.0 * solved.osmolality()),
        conductivity_us_per_cm: conductivity
            .map(|one| Conductivity { at_25c: one.at_25c, at_temperature: one.at_temperature }),
        ..answer
    };
    (answer, not_judged)
}

/// A carbonate ion by its mmol per litre.
fn ion(component: Component, mmol_per_l: f64) -> Ion {
    let charge = component.charge();
    Ion {
        mg_per_l: mmol_per_l * component.molar_mass(),
        mmol_per_l,
        charge,
        meq_per_l: Some(mmol_per_l * f64::from(charge.abs())),
    }
}

/// The components whose absence from a sheet is told: what a laboratory of a waterworks commonly reports.
const LISTED: [Component; 12] = [
    Component::CA,
    Component::MG,
    Component::NA,
    Component::K,
    Component::FE,
    Component::MN,
    Component::HCO3,
    Component::CL,
    Component::SO4,
    Component::NO3,
    Component::F,
    Component::SIO2,
];

/// What is known to be dissolved, but for the carbonate system, whose ions need a solved state. Of a component that
/// some sheet does not state it is what the others and the salts bring.
fn ions(state: &Solution) -> std::collections::BTreeMap<String, Ion> {
    let totals = state.totals();
    let listed = |component: &Component| {
        let carbonate = *component == Component::HCO3 || *component == Component::CO3;
        !carbonate && totals.amount(*component) > 0.0
    };
    let ion = |component: Component| {
        let meq = state.meq_per_l(component).abs();
        let ion = Ion {
            mg_per_l: state.mg_per_l(component),
            mmol_per_l: state.mmol_per_l(component),
            charge: dissolved::form(component).charge as i32,
            meq_per_l: (meq > 0.0).then_some(meq),
        };
        (component.id().to_owned(), ion)
    };
    Component::ALL.into_iter().filter(listed).map(ion).collect()
}

fn hardness(state: &Solution) -> Option<Hardness> {
    let hard = Hard::of(state.totals()).ok()?;
    // mol per kg of water as mg of CaCO3 per litre.
    let caco3 = Component::CA.molar_mass() + Component::CO3.molar_mass();
    let per_l = |mol: f64| 1000.0 * mol * caco3 * state.water_kg_per_l();
    Some(Hardness {
        total: per_l(hard.total),
        carbonate: hard.carbonate.map(per_l),
        noncarbonate: hard.noncarbonate().map(per_l),
    })
}
