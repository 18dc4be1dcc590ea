//! A stage as it is answered.

use springwright_chem::equilibrium::Speciation;
use springwright_chem::equilibrium::carbonation::volumes;
use springwright_chem::phases::haze::WaterHaze;
use springwright_chem::properties::life_path::Step;

use crate::answer::haze;
use crate::answer::water::MOST_PCO2_BAR;
use crate::haze::Verdict;
use crate::life_path::{Co2Ledger, LifeStageKind, LifeStageRead, LifeStageWord};

/// A water at a stage, with so many kg of water in the litre that it is told by.
pub(super) fn stage(
    stage: LifeStageWord,
    name: String,
    state: &Speciation,
    judged: &WaterHaze,
    litre_kg: f64,
) -> LifeStageRead {
    let worst = judged.worst().map(|worst| haze::verdict(worst, litre_kg));
    let told = judged.solids.iter().map(|one| haze::verdict(one, litre_kg));
    let pco2_bar = state.pco2();
    LifeStageRead {
        number: 0,
        stage,
        name,
        temperature_c: state.celsius(),
        ph: state.ph,
        pco2_bar: (pco2_bar.is_finite() && pco2_bar <= MOST_PCO2_BAR).then_some(pco2_bar),
        gauge_bar: None,
        volumes: volumes(state.co2(), litre_kg),
        verdict: haze::word(judged.verdict()),
        worst_solid: worst.as_ref().map(|worst| worst.solid.clone()),
        si: worst.as_ref().map(|worst| worst.si),
        margin: worst.as_ref().map(|worst| worst.margin),
        precipitable_mg_per_l: worst.as_ref().and_then(|worst| worst.precipitable_mg_per_l),
        time: worst.as_ref().and_then(|worst| worst.time.clone()).filter(|_| judged_harsh(judged)),
        why: worst
            .map_or_else(|| "no solid is judged whose parts are all here".to_owned(), |worst| worst.why),
        haze: told.filter(|one| one.verdict > Verdict::Undersaturated).collect(),
        changes: Vec::new(),
        co2: None,
    }
}

fn judged_harsh(judged: &WaterHaze) -> bool {
    haze::word(judged.verdict()) > Verdict::Dissolving
}

/// Where the carbonate is, with so many g per litre for a mol per kg of water.
pub(super) fn ledger(step: &Step, grams: f64) -> Co2Ledger {
    Co2Ledger {
        dissolved_g_per_l: step.carbon.dissolved * grams,
        headspace_g_per_l: step.carbon.headspace * grams,
        added_g_per_l: step.carbon.added * grams,
        lost_g_per_l: step.carbon.lost * grams,
    }
}

/// The word of what was asked.
pub(super) fn word(stage: LifeStageKind) -> LifeStageWord {
    match stage {
        LifeStageKind::Carbonated => LifeStageWord::Carbonated,
        LifeStageKind::Bottled => LifeStageWord::Bottled,
        LifeStageKind::Stands => LifeStageWord::Stands,
        LifeStageKind::Opened => LifeStageWord::Opened,
        LifeStageKind::Flat => LifeStageWord::Flat,
        LifeStageKind::Kettle => LifeStageWord::Kettle,
    }
}

/// The same for people.
pub(super) fn in_words(stage: LifeStageWord) -> &'static str {
    match stage {
        LifeStageWord::Stock => "stock",
        LifeStageWord::Mixed => "mixed",
        LifeStageWord::Carbonated => "carbonated",
        LifeStageWord::Bottled => "bottled",
        LifeStageWord::Stands => "stands",
        LifeStageWord::Opened => "opened",
        LifeStageWord::Flat => "flat",
        LifeStageWord::Kettle => "in the kettle",
    }
}
