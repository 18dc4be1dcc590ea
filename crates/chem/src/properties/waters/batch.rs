//! As many rows as there are lanes; and a row solved alone.

use super::{Answers, Status, Waters};
use crate::equilibrium::constants::ZERO_CELSIUS;
use crate::equilibrium::lanes::Lanes;
use crate::equilibrium::{EquilibriumError, Given, Known, Model, Scheme, Speciation, System, validity};
use crate::phases::saturation;
use crate::properties::conductivity;
use std::sync::Arc;

/// How many waters are solved side by side.
pub(super) const LANES: usize = 4;
/// Temperature at which conductivity is compared, °C.
pub(super) const REFERENCE_C: f64 = 25.0;

/// What a water holds whatever becomes of its temperature.
pub(super) struct Contents {
    /// eq/kg.
    pub(super) alkalinity: f64,
    /// mol/kg.
    pub(super) dic: f64,
}

/// Rows in their lanes.
pub(super) struct Batch {
    /// Lanes without a row repeat the first.
    pub(super) rows: [usize; LANES],
    pub(super) given: [Given; LANES],
    pub(super) celsius: [f64; LANES],
    /// Which lanes have an answer to write.
    pub(super) answered: [bool; LANES],
}

/// Writes a cell of a column that is wanted.
pub(super) fn put(column: &mut Option<&mut [f64]>, row: usize, value: f64) {
    if let Some(column) = column {
        column[row] = value;
    }
}

impl Batch {
    pub(super) fn of(waters: &Waters<'_>, some: &[(u64, u8, usize)]) -> Batch {
        let rows: [usize; LANES] = core::array::from_fn(|lane| some.get(lane).unwrap_or(&some[0]).2);
        Batch {
            rows,
            given: rows.map(|row| waters.given(row)),
            celsius: rows.map(|row| waters.temperature_c[row]),
            answered: [false; LANES],
        }
    }

    pub(super) fn kelvin(&self) -> Lanes<LANES> {
        Lanes(self.celsius.map(|celsius| celsius + ZERO_CELSIUS))
    }

    /// The lanes with an answer, and their rows.
    pub(super) fn answered_rows(&self) -> impl Iterator<Item = (usize, usize)> + '_ {
        (0..LANES).filter(|lane| self.answered[*lane]).map(|lane| (lane, self.rows[lane]))
    }

    /// Solves the row of a lane by itself, the guarded way where it needs it, and writes its cells.
    pub(super) fn alone(&self, lane: usize, scheme: &Arc<Scheme>, answers: &mut Answers<'_>) {
        let (row, celsius, given) = (self.rows[lane], self.celsius[lane], &self.given[lane]);
        let state = match solved(scheme, celsius, given) {
            Ok(state) => state,
            Err(error) => {
                answers.status[row] = Status::from(&error);
                return;
            }
        };
        answers.status[row] = Status::Answered;
        put(&mut answers.ph, row, state.ph);
        put(&mut answers.alkalinity, row, state.alkalinity);
        put(&mut answers.dic, row, state.dic);
        put(&mut answers.co2, row, state.co2());
        put(&mut answers.ionic_strength, row, state.ionic_strength);
        put(&mut answers.residual, row, state.residuals.worst());
        if let Some(bar) = answers.pco2_bar.as_ref().map(|_| state.pco2()).filter(|bar| bar.is_finite()) {
            put(&mut answers.pco2_bar, row, bar);
        }
        for (solid, column) in &mut answers.saturation {
            if let Some(saturation) = saturation::of(&state, solid) {
                column[row] = saturation.index;
            }
        }
        let Some(water) = answers.water_kg_per_l else { return };
        let Contents { alkalinity, dic } = self.contents(lane, state.alkalinity, state.dic);
        let of = |state: &Speciation, celsius: f64| {
            let litre = Some(water(row, celsius, alkalinity, dic)).filter(|litre| *litre > 0.0);
            litre.and_then(|litre| conductivity::conductivity(state, litre).ok())
        };
        if let Some(kappa) = of(&state, celsius).filter(|_| answers.conductivity.is_some()) {
            put(&mut answers.conductivity, row, kappa);
        }
        if answers.conductivity_25c.is_some() {
            let closed = self.closed(lane, state.alkalinity, state.dic);
            let there = solved(scheme, REFERENCE_C, &closed);
            if let Some(kappa) = there.ok().and_then(|state| of(&state, REFERENCE_C)) {
                put(&mut answers.conductivity_25c, row, kappa);
            }
        }
    }

    /// Alkalinity and carbonate of a lane: as stated, else as solved.
    pub(super) fn contents(&self, lane: usize, alkalinity: f64, dic: f64) -> Contents {
        let mut contents = Contents { alkalinity, dic };
        for known in self.given[lane].carbonate {
            match known {
                Known::Alkalinity(value) => contents.alkalinity = value,
                Known::Dic(value) => contents.dic = value,
                _ => {}
            }
        }
        contents
    }

    /// The water of a lane, closed with what it holds.
    pub(super) fn closed(&self, lane: usize, alkalinity: f64, dic: f64) -> Given {
        let Contents { alkalinity, dic } = self.contents(lane, alkalinity, dic);
        let carbonate = [Known::Alkalinity(alkalinity), Known::Dic(dic)];
        Given { carbonate, ..self.given[lane].clone() }
    }
}

/// A water of a scheme solved alone and checked against the reach of the model.
fn solved(scheme: &Arc<Scheme>, celsius: f64, given: &Given) -> Result<Speciation, EquilibriumError> {
    let model = Model::at_kelvin(celsius + ZERO_CELSIUS);
    let state = Arc::new(System::at(&model, scheme)).solve(given)?;
    validity::check(&state)?;
    Ok(state)
}
