//! What to change, in words and numbers. Every figure is rounded to the side on which the change works.

use springwright_chem::composition::linear::LinearSum;
use springwright_chem::equilibrium::carbonation::volumes;
use springwright_chem::formulation::END_POINT_PH;
use springwright_chem::phases::haze_limits::Limits;
use springwright_chem::properties::life_path::{Change, Doing, Remedy};

use super::Life;
use crate::answer::haze;
use crate::life_path::{LifeChange, LifeChangeKind};

/// mg of CaCO3 in a milliequivalent.
const CACO3_MG_PER_MEQ: f64 = 50.043_5;

/// The changes that each leave a step clear.
pub(super) fn of(life: &Life, at: usize, limits: &Limits, litre_kg: f64) -> Vec<LifeChange> {
    let found = life.path.remedies(&life.steps, at, limits);
    let doing = life.steps[at].stage.doing;
    // nobody keeps gas in a kettle, nor needs it kept where it is pressed in
    let apt = |remedy: &Remedy| {
        remedy.change != Change::CarbonDioxide || matches!(doing, Doing::Opened | Doing::Flat | Doing::Stands)
    };
    found.iter().filter(|remedy| apt(remedy)).map(|remedy| told(life, remedy, litre_kg)).collect()
}

fn told(life: &Life, remedy: &Remedy, litre_kg: f64) -> LifeChange {
    let (change, value, unit, text) = match remedy.change {
        Change::PureWater => {
            let percent = 100.0 * remedy.amount;
            let text = format!("soften the mix: let {:.0} % of its water be pure water", percent.ceil());
            (LifeChangeKind::PureWater, percent, "%", text)
        }
        Change::Acid => {
            let totals = life.mixed.solution.totals();
            let left = totals.clone().with_alkalinity(totals.alkalinity() - remedy.amount);
            let meq = 1000.0 * LinearSum::titrated_alkalinity(END_POINT_PH).of(&left) * litre_kg;
            let value = meq * CACO3_MG_PER_MEQ;
            let text = format!(
                "bring the alkalinity of the mix down to {:.0} mg/L as CaCO3: {:.2} mmol/L of strong acid",
                value.floor(),
                1000.0 * remedy.amount * litre_kg
            );
            (LifeChangeKind::Alkalinity, value, "mg/L", text)
        }
        Change::CarbonDioxide => {
            let value = volumes(remedy.amount, litre_kg);
            let text = format!("keep at least {:.2} volumes of CO2 in it", (100.0 * value).ceil() / 100.0);
            (LifeChangeKind::CarbonDioxide, value, "1", text)
        }
        Change::Temperature => {
            let text = format!("let it be no warmer than {:.1} °C", (10.0 * remedy.amount).floor() / 10.0);
            (LifeChangeKind::Temperature, remedy.amount, "°C", text)
        }
    };
    let verdict = haze::word(remedy.verdict);
    LifeChange { change, value, unit: unit.to_owned(), text, verdict, ph: remedy.state.ph }
}
