//! The conductivities of the rows of one kind of water.

use super::Answers;
use super::Status;
use super::batch::{Batch, Contents, LANES, REFERENCE_C, put};
use super::kind::judge;
use crate::equilibrium::constants::ZERO_CELSIUS;
use crate::equilibrium::lanes::Lanes;
use crate::equilibrium::plan::Question;
use crate::equilibrium::reading::Reading;
use crate::equilibrium::scheme::Scheme;
use crate::equilibrium::together::Together;
use crate::equilibrium::values::Values;
use crate::properties::carriers::Carriers;
use crate::properties::conductivity::{Conductance, within};
use std::sync::Arc;

/// The same waters at 25 °C.
struct At25 {
    values: Values<LANES>,
    together: Together<LANES>,
    conductance: Conductance<LANES>,
}

/// What the conductivities of one scheme need.
pub(super) struct Current {
    charge: Vec<f64>,
    here: Conductance<LANES>,
    at_25: Option<At25>,
}

impl Current {
    /// Room for them, where the table asks for a conductivity.
    pub(super) fn new(scheme: &Scheme, answers: &Answers<'_>) -> Option<Current> {
        answers.water_kg_per_l?;
        if answers.conductivity.is_none() && answers.conductivity_25c.is_none() {
            return None;
        }
        let carriers = Carriers::of(&scheme.species, true);
        let at_25 = answers.conductivity_25c.is_some().then(|| {
            let mut values = scheme.courses.values();
            scheme.courses.move_to(Lanes::all(REFERENCE_C + ZERO_CELSIUS), &mut values);
            let conductance = Conductance::new(carriers.clone());
            At25 { values, together: Together::new(scheme), conductance }
        });
        Some(Current { charge: scheme.charge.clone(), here: Conductance::new(carriers), at_25 })
    }

    /// Writes the conductivity at the temperature of each row.
    pub(super) fn write_here(
        &mut self,
        batch: &Batch,
        kelvin: Lanes<LANES>,
        m: &[Lanes<LANES>],
        reading: &Reading<LANES>,
        answers: &mut Answers<'_>,
    ) {
        let Some(water) = answers.water_kg_per_l else { return };
        let litre = Lanes::of(|lane| {
            let Contents { alkalinity, dic } =
                batch.contents(lane, reading.alkalinity.0[lane], reading.dic.0[lane]);
            water(batch.rows[lane], batch.celsius[lane], alkalinity, dic)
        });
        let fits = fits(&self.charge, m, litre, &batch.celsius);
        let kappa = self.here.conductivity(kelvin, m, litre);
        for (lane, row) in batch.answered_rows().filter(|(lane, _)| fits[*lane]) {
            put(&mut answers.conductivity, row, kappa.0[lane]);
            if batch.celsius[lane] == REFERENCE_C {
                put(&mut answers.conductivity_25c, row, kappa.0[lane]);
            }
        }
    }

    /// Writes the conductivity of each row closed and solved at 25 °C.
    pub(super) fn write_at_25(
        &mut self,
        batch: &Batch,
        scheme: &Arc<Scheme>,
        question: Question,
        reading: &Reading<LANES>,
        answers: &mut Answers<'_>,
    ) {
        let (Some(At25 { values, together, conductance }), Some(water)) =
            (&mut self.at_25, answers.water_kg_per_l)
        else {
            return;
        };
        let elsewhere = |lane: &usize| batch.answered[*lane] && batch.celsius[*lane] != REFERENCE_C;
        let Some(any) = (0..LANES).find(elsewhere) else { return };
        for lane in 0..LANES {
            let from = if elsewhere(&lane) { lane } else { any };
            let closed = batch.closed(from, reading.alkalinity.0[from], reading.dic.0[from]);
            together.state(scheme, lane, &closed.totals, closed.carbonate);
        }
        let closed = Question { alkalinity: true, dic: true, ph: false, gas: None, ..question };
        let there = together.solve(scheme, closed, values);
        let litre = Lanes::of(|lane| {
            let Contents { alkalinity, dic } =
                batch.contents(lane, reading.alkalinity.0[lane], reading.dic.0[lane]);
            water(batch.rows[lane], REFERENCE_C, alkalinity, dic)
        });
        let m = &together.points.m;
        let fits = fits(&self.charge, m, litre, &[REFERENCE_C; LANES]);
        let kappa = conductance.conductivity(values.kelvin, m, litre);
        for lane in (0..LANES).filter(elsewhere) {
            match judge(together, REFERENCE_C, lane, &there) {
                Some(Status::Answered) if fits[lane] => {
                    put(&mut answers.conductivity_25c, batch.rows[lane], kappa.0[lane]);
                }
                Some(_) => {}
                None => batch.alone(lane, scheme, answers),
            }
        }
    }
}

/// Which lanes the equation of conductivity holds for.
fn fits(charge: &[f64], m: &[Lanes<LANES>], litre: Lanes<LANES>, celsius: &[f64; LANES]) -> [bool; LANES] {
    let (mut strength, mut hard) = (Lanes::default(), Lanes::default());
    for (z, m) in charge.iter().zip(m).filter(|(z, _)| **z != 0.0) {
        strength += (0.5 * z * z) * *m;
        if *z >= 2.0 {
            hard += 2.0 * *m;
        }
    }
    let (strength, hard) = (strength * litre, hard * litre);
    core::array::from_fn(|lane| {
        litre.0[lane] > 0.0 && within(celsius[lane], strength.0[lane], hard.0[lane]).is_ok()
    })
}
