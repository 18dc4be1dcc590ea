//! Haze: what an eye will see of the solids that a water can form, and when.
//!
//! An index alone hazes nothing: a cloud also takes a mass that can be seen. That mass is what the water lets fall of
//! the solid alone. Where a rate is published the time is told, as an order of magnitude.

use super::dissolution;
use super::fault::PhaseError;
use super::formation::{formations, place};
use super::haze_limits::{Limit, Limits, TimeHint, time_hint};
use super::precipitation::{Solids, falls, precipitate};
use super::saturation::{self, Saturation};
use super::solids::{Solid, solids};
use crate::equilibrium::{Model, Speciation};

/// Of a powder, so much in solution counts as a trace, mol per kg of water.
const TRACE: f64 = 1e-6;

/// What becomes of a solid in a water, the mildest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Verdict {
    /// The water could take up more of it.
    Undersaturated,
    /// Nothing will be seen of it.
    Clear,
    /// Powder of it lies in the water and is not yet in solution.
    Dissolving,
    /// The water stands for a while; on seeds, on walls, warm or open it turns.
    Metastable,
    /// A cloud within hours at the latest.
    Clouds,
}

impl Verdict {
    /// The word used at the doors.
    pub fn word(self) -> &'static str {
        match self {
            Verdict::Undersaturated => "undersaturated",
            Verdict::Clear => "clear",
            Verdict::Dissolving => "dissolving",
            Verdict::Metastable => "metastable",
            Verdict::Clouds => "clouds",
        }
    }
}

/// The verdict on one solid.
#[derive(Clone, Debug)]
pub struct Haze {
    /// The solid and its index.
    pub saturation: Saturation,
    /// The index as it is compared with the limits: divided for solids of many ions.
    pub divided: f64,
    /// The verdict.
    pub verdict: Verdict,
    /// Whether a cloud cannot be excluded although the verdict is milder: between an older and a newer limit.
    pub possible: bool,
    /// What the water lets fall of this solid alone, mg per kg of water; none where the index leaves no question.
    pub precipitable_mg_per_kg: Option<f64>,
    /// What of its powder is left when the water is saturated, mg per kg of water; none where no powder lies in it.
    pub undissolved_mg_per_kg: Option<f64>,
    /// Distance of the divided index from the next limit above it; below zero it is beyond the last one.
    pub margin: f64,
    /// The limits it was judged by.
    pub limit: Limit,
    /// How long it takes, where a rate is published.
    pub time: Option<&'static TimeHint>,
}

impl Haze {
    /// A harsher verdict, or the same and nearer to its next limit.
    fn is_harsher_than(&self, other: &Haze) -> bool {
        (self.verdict, -self.margin) > (other.verdict, -other.margin)
    }
}

/// The verdicts on a whole water.
#[derive(Clone, Debug)]
pub struct WaterHaze {
    /// Every solid that haze is judged by and whose ions are all here, in the order of the table.
    pub solids: Vec<Haze>,
    worst: Option<usize>,
}

impl WaterHaze {
    fn of_solids(solids: Vec<Haze>) -> WaterHaze {
        let mut worst: Option<usize> = None;
        for at in 0..solids.len() {
            worst = Some(worst.filter(|best| !solids[at].is_harsher_than(&solids[*best])).unwrap_or(at));
        }
        WaterHaze { solids, worst }
    }

    /// The same by some of the solids only.
    #[must_use]
    pub fn only(self, judged: impl Fn(&'static Solid) -> bool) -> WaterHaze {
        WaterHaze::of_solids(self.solids.into_iter().filter(|haze| judged(haze.saturation.solid)).collect())
    }

    /// The worst solid: the harshest verdict, and among those alike the one nearest to its next limit.
    pub fn worst(&self) -> Option<&Haze> {
        self.worst.map(|at| &self.solids[at])
    }

    /// The verdict on the water; undersaturated where no solid is judged.
    pub fn verdict(&self) -> Verdict {
        self.worst().map_or(Verdict::Undersaturated, |worst| worst.verdict)
    }

    /// Distance of the worst solid from its next limit; none where no solid is judged.
    pub fn margin(&self) -> Option<f64> {
        self.worst().map(|worst| worst.margin)
    }

    /// The verdict on a solid by name; none where it is not judged or an ion is absent.
    pub fn of(&self, id: &str) -> Option<&Haze> {
        self.solids.iter().find(|haze| haze.saturation.solid.id == id)
    }
}

/// Judges a solved water, in which powders may lie that are not yet in solution (mol per kg of water).
///
/// ```
/// use springwright_chem::equilibrium::{Given, Known, Model};
/// use springwright_chem::matter::component::Component;
/// use springwright_chem::phases::haze::{self, Verdict};
/// use springwright_chem::phases::haze_limits::Limits;
/// let model = Model::at_celsius(20.0)?;
/// let hard = Given::new(Known::Alkalinity(0.006), Known::Pco2(4.2e-4)).with(Component::CA, 0.003);
/// let judged = haze::judge(&model, &model.speciate(&hard)?, &[], &Limits::default())?;
/// // open to air, 6 meq/L of calcium bicarbonate lets chalk fall in days
/// assert_eq!(judged.worst().map(|haze| haze.saturation.solid.id), Some("calcite"));
/// assert!(judged.verdict() >= Verdict::Metastable);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// As [`precipitate`].
pub fn judge(
    model: &Model,
    state: &Speciation,
    powders: &[(&'static Solid, f64)],
    limits: &Limits,
) -> Result<WaterHaze, PhaseError> {
    let mut found = Vec::new();
    for solid in solids().iter().filter(|solid| limits.of(solid).judged) {
        let own = |(other, _): &&(&'static Solid, f64)| core::ptr::eq(*other, solid);
        let powder: f64 = powders.iter().filter(own).map(|(_, amount)| amount).sum();
        let saturation = index(model, state, solid, powder)?;
        let Some(mut haze) = saturation.and_then(|saturation| by_index(state, saturation, limits)) else {
            continue;
        };
        weigh(state, &mut haze, limits)?;
        if powder > 0.0 {
            dissolve(model, state, &mut haze, powder)?;
        }
        found.push(haze);
    }
    Ok(WaterHaze::of_solids(found))
}

/// The worst of some solids in a water; what falls is worked out for as few of them as decide it.
pub(crate) fn worst_of(
    state: &Speciation,
    judged: &[&'static Solid],
    limits: &Limits,
) -> Result<Option<Haze>, PhaseError> {
    let indices = judged.iter().filter_map(|solid| saturation::of(state, solid));
    let mut found: Vec<Haze> = indices.filter_map(|index| by_index(state, index, limits)).collect();
    // the harshest by index first; the sort keeps the order of the table among those alike
    found.sort_by(|one, other| other.verdict.cmp(&one.verdict).then(one.margin.total_cmp(&other.margin)));
    let mut worst: Option<Haze> = None;
    for mut haze in found {
        if worst.as_ref().is_some_and(|worst| !haze.is_harsher_than(worst)) {
            break;
        }
        weigh(state, &mut haze, limits)?;
        if worst.as_ref().is_none_or(|worst| haze.is_harsher_than(worst)) {
            worst = Some(haze);
        }
    }
    Ok(worst)
}

/// The index of a solid; of a powder whose ions the water lacks, as soon as a trace of it is in solution.
fn index(
    model: &Model,
    state: &Speciation,
    solid: &'static Solid,
    powder: f64,
) -> Result<Option<Saturation>, PhaseError> {
    let now = saturation::of(state, solid);
    if now.is_some() || powder <= 0.0 {
        return Ok(now);
    }
    let traced = dissolution::with_dissolved(state.given(), solid, powder.min(TRACE));
    Ok(saturation::of(&model.speciate(&traced)?, solid))
}

/// The verdict by the index alone; none where the solid is not judged at the pH of the water.
fn by_index(state: &Speciation, saturation: Saturation, limits: &Limits) -> Option<Haze> {
    let limit = *limits.of(saturation.solid);
    if !(limit.ph.0..limit.ph.1).contains(&state.ph) {
        return None;
    }
    let divided = saturation.index / limit.divide;
    let verdict = match divided {
        index if index >= limit.clouds_from => Verdict::Clouds,
        index if index >= limit.metastable_from => Verdict::Metastable,
        index if index >= 0.0 => Verdict::Clear,
        _ => Verdict::Undersaturated,
    };
    let next = [0.0, limit.metastable_from, limit.clouds_from].into_iter().find(|limit| divided < *limit);
    Some(Haze {
        saturation,
        divided,
        verdict,
        possible: verdict < Verdict::Clouds && divided >= limit.possible_from,
        precipitable_mg_per_kg: None,
        undissolved_mg_per_kg: None,
        margin: next.unwrap_or(limit.clouds_from) - divided,
        limit,
        time: time_hint(saturation.solid, divided),
    })
}

/// Weighs what falls of a solid that the index speaks against; less than an eye sees is clear.
fn weigh(state: &Speciation, haze: &mut Haze, limits: &Limits) -> Result<(), PhaseError> {
    if haze.verdict < Verdict::Metastable {
        return Ok(());
    }
    let solid = haze.saturation.solid;
    let mass = 1e6 * molar_mass(solid) * falls(state, solid)?;
    haze.precipitable_mg_per_kg = Some(mass);
    if mass < limits.visible_mg_per_l() {
        haze.verdict = if haze.divided >= 0.0 { Verdict::Clear } else { Verdict::Undersaturated };
        (haze.possible, haze.time) = (false, None);
    }
    Ok(())
}

/// What is left of the powder of a solid when the water is saturated.
fn dissolve(model: &Model, state: &Speciation, haze: &mut Haze, powder: f64) -> Result<(), PhaseError> {
    let solid = haze.saturation.solid;
    let settled = precipitate(model, state.given(), &Solids::none().with(solid.id, powder)?)?;
    let left = settled.solid(solid.id).map_or(0.0, |settled| settled.at_end);
    haze.undissolved_mg_per_kg = Some(1e6 * molar_mass(solid) * left);
    haze.verdict = haze.verdict.max(Verdict::Dissolving);
    Ok(())
}

/// kg/mol of a solid with its crystal water.
pub(super) fn molar_mass(solid: &'static Solid) -> f64 {
    1e-3 * formations()[place(solid)].molar_mass
}
