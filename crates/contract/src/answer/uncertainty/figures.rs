//! The figures of a water as one row of numbers, and a row of standard uncertainties as those of a water.

use springwright_chem::phases::saturation;
use springwright_chem::phases::solids::{self, Solid};
use springwright_chem::properties::ph_scale;

use super::Trial;
use crate::said::NotJudged;
use crate::uncertainty::{IonUncertainty, SaturationIndexUncertainty, WaterUncertainty};
use crate::water::{Conductivity, Hardness, Water};

/// One figure of a water: its name, how it is read, and where its uncertainty goes.
struct Key {
    name: &'static str,
    of: fn(&Water) -> Option<f64>,
    into: fn(&mut WaterUncertainty, f64),
}

/// A figure that stands by itself under the same key in both.
macro_rules! alone {
    ($key:ident) => {
        Key { name: stringify!($key), of: |water| water.$key, into: |answer, u| answer.$key = Some(u) }
    };
}

/// A figure inside a group of figures.
macro_rules! within {
    ($group:ident, $key:literal, $of:expr, $into:expr) => {
        Key {
            name: $key,
            of: |water| water.$group.and_then($of),
            into: |answer, u| $into(answer.$group.get_or_insert_default(), u),
        }
    };
}

/// Every figure but ions and indices, in the order of the water.
static FIGURES: [Key; 20] = [
    alone!(ph),
    alone!(ph_in_air),
    alone!(tds_mg_per_l),
    alone!(residue_180c_mg_per_l),
    within!(hardness_mg_per_l_caco3, "total hardness", |h| Some(h.total), |h: &mut Hardness, u| h.total = u),
    within!(hardness_mg_per_l_caco3, "carbonate hardness", |h| h.carbonate, |h: &mut Hardness, u| h
        .carbonate =
        Some(u)),
    within!(hardness_mg_per_l_caco3, "noncarbonate hardness", |h| h.noncarbonate, |h: &mut Hardness, u| h
        .noncarbonate =
        Some(u)),
    alone!(alkalinity_meq_per_l),
    alone!(alkalinity_mg_per_l_hco3),
    alone!(dic_mmol_per_l),
    alone!(co2_mg_per_l),
    alone!(pco2_bar),
    alone!(gauge_bar),
    alone!(ionic_strength_mol_per_kg),
    alone!(osmolality_mosmol_per_kg),
    within!(
        conductivity_us_per_cm,
        "conductivity at 25 °C",
        |c| Some(c.at_25c),
        |c: &mut Conductivity, u| c.at_25c = u
    ),
    within!(
        conductivity_us_per_cm,
        "conductivity at temperature",
        |c| Some(c.at_temperature),
        |c: &mut Conductivity, u| c.at_temperature = u
    ),
    alone!(density_kg_per_l),
    alone!(charge_balance_percent),
    alone!(charge_balance_half_sum_percent),
];

/// Which figures a water has, and so which numbers stand in a row.
pub(super) struct Layout {
    figures: Vec<&'static Key>,
    ions: Vec<String>,
    solids: Vec<&'static Solid>,
}

/// A result whose uncertainty is taken apart: its place in the row, the solid, and what the model adds.
pub(super) struct TakenApart {
    pub at: usize,
    pub solid: Option<&'static Solid>,
    pub added: f64,
}

impl Layout {
    /// The figures that a water has.
    pub(super) fn of(water: &Water) -> Layout {
        Layout {
            figures: FIGURES.iter().filter(|figure| (figure.of)(water).is_some()).collect(),
            ions: water.ions.keys().cloned().collect(),
            solids: water.saturation.iter().filter_map(|one| solids::find(&one.solid)).collect(),
        }
    }

    /// The numbers of a water; what it lacks is no number.
    pub(super) fn numbers(&self, trial: &Trial) -> Vec<f64> {
        let figures = self.figures.iter().map(|figure| (figure.of)(&trial.water));
        // what is not dissolved is not listed
        let ions = self.ions.iter().map(|id| Some(trial.water.ions.get(id).map_or(0.0, |ion| ion.mg_per_l)));
        let index = |solid: &&'static Solid| {
            trial.solved.as_ref().and_then(|solved| saturation::of(&solved.state, solid)).map(|one| one.index)
        };
        let all = figures.chain(ions).chain(self.solids.iter().map(index));
        all.map(|number| number.unwrap_or(f64::NAN)).chain(trial.more.iter().copied()).collect()
    }

    /// Number of figures of the water itself.
    pub(super) fn len(&self) -> usize {
        self.figures.len() + self.ions.len() + self.solids.len()
    }

    /// The pH and every index.
    pub(super) fn results(&self, water: &Water) -> Vec<TakenApart> {
        let ph = self.figures.iter().position(|figure| figure.name == "ph");
        let ph = ph.map(|at| TakenApart { at, solid: None, added: scale(water) });
        let from = self.figures.len() + self.ions.len();
        let indices = self.solids.iter().enumerate();
        let indices = indices.map(|(at, solid)| TakenApart {
            at: from + at,
            solid: Some(*solid),
            added: solid.uncertainty,
        });
        ph.into_iter().chain(indices).collect()
    }

    /// Puts the standard uncertainties under the keys of the water, with what the model adds; what has none is told.
    pub(super) fn fill(
        &self,
        uncertainties: &[Option<f64>],
        water: &Water,
        answer: &mut WaterUncertainty,
    ) -> Vec<NotJudged> {
        let mut lacking = Vec::new();
        let mut rows = uncertainties.iter().copied();
        let mut next = |what: &str| {
            let u = rows.next().flatten();
            if u.is_none() {
                lacking.push(NotJudged {
                    what: format!("uncertainty of {what}"),
                    why: "it does not exist for every water within the uncertainties of the inputs"
                        .to_owned(),
                });
            }
            u
        };
        for figure in &self.figures {
            let ph = matches!(figure.name, "ph" | "ph_in_air");
            if let Some(u) = next(figure.name) {
                (figure.into)(answer, if ph { of_ph(u, water) } else { u });
            }
        }
        for (id, ion) in &water.ions {
            // the same amount in other units
            let times = |other: f64, u: f64| if ion.mg_per_l > 0.0 { u * other / ion.mg_per_l } else { 0.0 };
            if let Some(u) = next(id) {
                let uncertain = IonUncertainty {
                    mg_per_l: u,
                    mmol_per_l: times(ion.mmol_per_l, u),
                    meq_per_l: ion.meq_per_l.map(|meq| times(meq, u)),
                };
                answer.ions.insert(id.clone(), uncertain);
            }
        }
        for solid in &self.solids {
            if let Some(u) = next(solid.id) {
                answer.saturation.push(SaturationIndexUncertainty {
                    solid: solid.id.to_owned(),
                    si: together(u, solid.uncertainty),
                    of_inputs: u,
                    of_constant: solid.uncertainty,
                });
            }
        }
        lacking
    }
}

/// Standard uncertainty of a pH of this water by its inputs and by the choice of the scale.
pub(in super::super) fn of_ph(of_inputs: f64, water: &Water) -> f64 {
    together(of_inputs, scale(water))
}

/// What the choice of the pH scale adds to a pH of this water.
fn scale(water: &Water) -> f64 {
    water.ionic_strength_mol_per_kg.map_or(0.0, ph_scale::uncertainty_of_choice)
}

/// Two independent standard uncertainties together.
pub(in super::super) fn together(one: f64, other: f64) -> f64 {
    (one * one + other * other).sqrt()
}
