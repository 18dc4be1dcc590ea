//! One kind of water of a table: its rows in lanes, and each answer into its cell.

use super::batch::{Batch, LANES, put};
use super::current::Current;
use super::{Answers, Status, Waters};
use crate::equilibrium::answer::TOLERANCE;
use crate::equilibrium::constants::LN_10;
use crate::equilibrium::lanes::Lanes;
use crate::equilibrium::plan::Question;
use crate::equilibrium::reading::Reading;
use crate::equilibrium::together::Together;
use crate::equilibrium::values::Values;
use crate::equilibrium::{Scheme, validity};
use crate::phases::solids::Solid;
use std::sync::Arc;

/// A solid of the table whose ions the scheme has.
struct Tracked {
    solid: &'static Solid,
    /// Place among the columns.
    column: usize,
    /// Places among the species that are asked for, and coefficients.
    products: Vec<(usize, f64)>,
}

/// The rows of one scheme.
pub(super) struct Kind {
    scheme: Arc<Scheme>,
    values: Values<LANES>,
    together: Together<LANES>,
    current: Option<Current>,
    solids: Vec<Tracked>,
    /// Species whose activity the solids ask for, and ln of it.
    asked: Vec<usize>,
    ln_activity: Vec<Lanes<LANES>>,
}

impl Kind {
    pub(super) fn new(scheme: Arc<Scheme>, answers: &Answers<'_>) -> Kind {
        let (asked, solids) = tracked(&scheme, answers);
        Kind {
            values: scheme.courses.values(),
            together: Together::new(&scheme),
            current: Current::new(&scheme, answers),
            solids,
            ln_activity: Vec::with_capacity(asked.len()),
            asked,
            scheme,
        }
    }

    /// Solves rows that ask one question.
    pub(super) fn solve(
        &mut self,
        waters: &Waters<'_>,
        alike: &[(u64, u8, usize)],
        answers: &mut Answers<'_>,
    ) {
        for some in alike.chunks(LANES) {
            let mut batch = Batch::of(waters, some);
            let Some(question) = Question::of(batch.given[0].carbonate) else {
                (0..some.len()).for_each(|lane| batch.alone(lane, &self.scheme, answers));
                continue;
            };
            for (lane, given) in batch.given.iter().enumerate() {
                self.together.state(&self.scheme, lane, &given.totals, given.carbonate);
            }
            self.scheme.courses.move_to(batch.kelvin(), &mut self.values);
            let reading = self.together.solve(&self.scheme, question, &self.values);
            for lane in 0..some.len() {
                match judge(&self.together, batch.celsius[lane], lane, &reading) {
                    Some(status) => {
                        answers.status[batch.rows[lane]] = status;
                        batch.answered[lane] = status == Status::Answered;
                    }
                    None => batch.alone(lane, &self.scheme, answers),
                }
            }
            self.write(&batch, &reading, answers);
            self.write_indices(&batch, answers);
            if let Some(current) = &mut self.current {
                let points = &self.together.points;
                current.write_here(&batch, self.values.kelvin, &points.m, &reading, answers);
                current.write_at_25(&batch, &self.scheme, question, &reading, answers);
            }
        }
    }

    fn write(&self, batch: &Batch, reading: &Reading<LANES>, answers: &mut Answers<'_>) {
        let points = &self.together.points;
        let pascal = answers.pco2_bar.as_ref().map(|_| points.pressure(&self.scheme, &self.values));
        for (lane, row) in batch.answered_rows() {
            put(&mut answers.ph, row, reading.ph.0[lane]);
            put(&mut answers.alkalinity, row, reading.alkalinity.0[lane]);
            put(&mut answers.dic, row, reading.dic.0[lane]);
            put(&mut answers.co2, row, reading.co2.0[lane]);
            put(&mut answers.ionic_strength, row, points.activity.ionic_strength.0[lane]);
            put(&mut answers.residual, row, reading.worst(lane));
            if let Some(pascal) = pascal.filter(|pascal| pascal.0[lane].is_finite()) {
                put(&mut answers.pco2_bar, row, pascal.0[lane] / 1e5);
            }
        }
    }

    fn write_indices(&mut self, batch: &Batch, answers: &mut Answers<'_>) {
        let points = &self.together.points;
        let ln_water = points.activity.ln_water;
        self.ln_activity.clear();
        for place in &self.asked {
            let ln_master = |master: usize| points.lambda[master];
            self.ln_activity.push(self.scheme.ln_activity(*place, &self.values, ln_water, ln_master));
        }
        for Tracked { solid, column, products } in &self.solids {
            let mut ln = solid.water * ln_water;
            products.iter().for_each(|(at, n)| ln += *n * self.ln_activity[*at]);
            let index = ln / LN_10 - solid.log_k_of(&self.values.warmth);
            let cells = &mut answers.saturation[*column].1;
            for (lane, row) in batch.answered_rows() {
                if products.iter().all(|(at, _)| points.m[self.asked[*at]].0[lane] > 0.0) {
                    cells[row] = index.0[lane];
                }
            }
        }
    }
}

/// The species that the wanted solids ask for, and those solids whose ions can all form.
fn tracked(scheme: &Scheme, answers: &Answers<'_>) -> (Vec<usize>, Vec<Tracked>) {
    let mut asked: Vec<usize> = Vec::new();
    let mut solids = Vec::new();
    for (column, (solid, _)) in answers.saturation.iter().enumerate() {
        if solid.products.iter().any(|(species, _)| scheme.places[*species].is_none()) {
            continue;
        }
        let mut products = Vec::new();
        for (species, n) in &solid.products {
            let Some(place) = scheme.places[*species] else { continue };
            let at = asked.iter().position(|own| *own == place).unwrap_or(asked.len());
            if at == asked.len() {
                asked.push(place);
            }
            products.push((at, *n));
        }
        solids.push(Tracked { solid, column, products });
    }
    (asked, solids)
}

/// How a lane came out; none when it needs the guarded way.
pub(super) fn judge(
    together: &Together<LANES>,
    celsius: f64,
    lane: usize,
    reading: &Reading<LANES>,
) -> Option<Status> {
    let sound = together.points.settled[lane] && reading.worst(lane) <= TOLERANCE;
    if !sound {
        return None;
    }
    let strength = together.points.activity.ionic_strength.0[lane];
    let carbonate = reading.dic.0[lane] - reading.co2.0[lane];
    let reach = validity::within(celsius, strength, carbonate, reading.organic.0[lane]);
    Some(reach.map_or_else(|error| Status::from(&error), |()| Status::Answered))
}
