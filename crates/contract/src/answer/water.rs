//! A water as it is answered, from one state.

use springwright_chem::composition::charge::ChargeBalance;
use springwright_chem::composition::closure::Closure;
use springwright_chem::composition::dissolved;
use springwright_chem::composition::hardness::Hardness as Hard;
use springwright_chem::composition::linear::LinearSum;
use springwright_chem::composition::state::Solution;
use springwright_chem::composition::totals::Standing;
use springwright_chem::formulation::END_POINT_PH;
use springwright_chem::matter::component::Component;

use crate::water::{Hardness, Ion, Residuals, Water};

/// The answered form of a state. What needs something that no sheet states is absent.
pub(super) fn water(state: &Solution, volume_l: Option<f64>, closure: Closure) -> Water {
    let totals = state.totals();
    let per_l = |sum: LinearSum, needed_for: &'static str| {
        sum.known(totals, needed_for).ok().map(|value| value * state.water_kg_per_l())
    };
    let alkalinity = per_l(LinearSum::titrated_alkalinity(END_POINT_PH), "alkalinity");
    let balance = ChargeBalance::of(totals).ok();
    let unstated = |component: &Component| {
        let told = LISTED.contains(component) || totals.amount(*component) > 0.0;
        told && *component != Component::CO3 && totals.standing(*component) == Standing::Absent
    };
    Water {
        temperature_c: state.temperature_c(),
        volume_l,
        mass_kg: volume_l.map(|volume| volume * state.density_kg_per_l()),
        ph: None,
        ions: ions(state),
        tds_mg_per_l: per_l(LinearSum::tds(), "tds").map(|g| 1000.0 * g),
        residue_180c_mg_per_l: per_l(LinearSum::residue_180c(), "residue").map(|g| 1000.0 * g),
        hardness_mg_per_l_caco3: hardness(state),
        alkalinity_meq_per_l: alkalinity.map(|eq| 1000.0 * eq),
        alkalinity_mg_per_l_hco3: alkalinity.map(|eq| 1000.0 * eq * Component::HCO3.molar_mass()),
        density_kg_per_l: Some(state.density_kg_per_l()),
        charge_balance_percent: balance.map(|balance| balance.percent()),
        charge_balance_half_sum_percent: balance.map(|balance| balance.half_sum_percent()),
        not_stated: Component::ALL.into_iter().filter(unstated).map(|c| c.id().to_owned()).collect(),
        residuals: Residuals { mass: closure.mass, charge: closure.charge },
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
