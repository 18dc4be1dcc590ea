//! What may be wrong on a sheet, most likely first: every usual mistake is undone in turn, the sheet solved anew, and the
//! readings compared by how well each foretells what is written and how usual the mistake is.

use libm::{exp, log};

use super::cell::Cell;
use super::figure::Figure;
use super::likely::Reconciled;
use super::mistake::{self, Reading, Undone, readings};
use super::sheet::{Of, Row};
use super::system::{Solved, View};
use super::unknown::silent_of;
use super::words;
use crate::composition::reconciliation::conductance::Conductance;
use crate::matter::component::Component;
use crate::numeric::chi_square_beyond;
use crate::quantity::{Measured, Unit};

/// A sheet that shows more than this by chance is not suspicious.
const CHANCE: f64 = 0.05;
/// Odds of all mistakes together against none from which a sheet is suspicious.
const SUSPICIOUS: f64 = 3.0;
/// Most suspicions that are told.
const MOST: usize = 5;
/// Share of all suspicion below which a reading is not told.
const SLIGHT: f64 = 0.01;
/// Odds are told no higher than this.
const CERTAIN: f64 = 1e9;
/// Times that the point of the conductivity is moved for one reading.
const MOVES: usize = 3;

/// A row as it may have been meant.
#[derive(Clone, Debug, PartialEq)]
pub struct Correction {
    /// Of what the row speaks; what the sheet is silent of where an ion is missing.
    pub of: Of,
    /// What it would say.
    pub measured: Measured,
}

/// Something that may be wrong on the sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Suspicion {
    /// Stable snake-case code of the sort of mistake: `basis`, `unit`, `decimal`, `digits`, `lumped`, `exchanged`,
    /// `solids`, `temperature`, `hydrate`, `missing`, `unexplained`.
    pub code: &'static str,
    /// The row; what is missing where the sheet is silent of it.
    pub of: Of,
    /// What is suspected, in plain words with numbers.
    pub text: String,
    /// Odds against a sheet without mistake.
    pub odds: f64,
    /// Share of all suspicion.
    pub share: f64,
    /// Chi-square of the sheet read so.
    pub chi_square: f64,
    /// Rows as they may have been meant; for a row that no usual mistake explains, what the others tell of it.
    pub corrections: Vec<Correction>,
}

/// A reading solved.
pub(super) struct Weighed {
    pub(super) reading: Reading,
    pub(super) solved: Solved,
    pub(super) log_odds: f64,
}

impl Reconciled {
    /// What may be wrong, most likely first; empty where the sheet shows no more than chance does, or where a mistake is
    /// not much more likely than none.
    pub fn suspicions(&self) -> Vec<Suspicion> {
        if self.probability > CHANCE {
            return Vec::new();
        }
        let mut cell = self.cell();
        let mut weighed = self.weighed(&mut cell);
        weighed.sort_by(|one, other| other.log_odds.total_cmp(&one.log_odds));
        let best = weighed.first().map_or(0.0, |first| first.log_odds);
        let whole: f64 = weighed.iter().map(|one| exp(one.log_odds - best)).sum();
        if best + log(whole.max(1.0)) < log(SUSPICIOUS) {
            return Vec::new();
        }
        let mut told: Vec<Suspicion> = Vec::new();
        for one in weighed {
            let share = exp(one.log_odds - best) / whole;
            if told.len() == MOST || share < SLIGHT {
                break;
            }
            let suspicion = self.told(&one, share, &mut cell);
            // That a row is wrong without a cause says nothing beside a cause for the same row.
            if suspicion.code != "unexplained" || told.iter().all(|known| known.of != suspicion.of) {
                told.push(suspicion);
            }
        }
        told
    }

    /// Every reading of the sheet, solved and weighed against the sheet as it stands.
    fn weighed(&self, cell: &mut Cell) -> Vec<Weighed> {
        let base = self.solved.log_evidence(&self.figures);
        let silent = silent_of(&self.sheet, &self.figures);
        let mut seen: Vec<Vec<Figure>> = Vec::new();
        let weigh = |reading: Reading| {
            let (figures, view) = self.read_as(&reading, cell)?;
            // mmol and meq of an ion of one charge are one reading, told once.
            if matches!(reading.undone, Undone::Rows(_)) {
                if seen.contains(&figures) {
                    return None;
                }
                seen.push(figures.clone());
            }
            let solved = view.solve(&figures, cell)?;
            let log_odds = solved.log_evidence(&figures) - base + log(reading.odds);
            log_odds.is_finite().then_some(Weighed { reading, solved, log_odds })
        };
        readings(&self.sheet, &self.figures, &silent).into_iter().filter_map(weigh).collect()
    }

    /// The figures of a reading; none where it changes next to nothing.
    fn read_as(&self, reading: &Reading, cell: &mut Cell) -> Option<(Vec<Figure>, View<'_>)> {
        let mut figures = self.figures.clone();
        let mut view = View {
            sheet: &self.sheet,
            conductance: &self.conductance,
            widened: None,
            doubted: None,
            moves: MOVES,
        };
        match &reading.undone {
            Undone::Rows(rows) => {
                for (at, row) in rows {
                    let figure = mistake::figure(&self.sheet, row, &self.litre)?;
                    if !mistake::differs(&self.figures[*at], &figure) {
                        return None;
                    }
                    figures[*at] = figure;
                }
            }
            Undone::TakenAt(at, celsius) => {
                let amounts = self.solved.amounts();
                let there = Conductance::around(*celsius, &amounts, cell);
                let ratio = self.conductance.with_factor(1.0).of(&amounts, cell) / there.of(&amounts, cell);
                figures[*at].amount *= ratio;
                figures[*at].uncertainty *= ratio;
            }
            Undone::Missing(component) => view.widened = Some(*component),
            Undone::Unknown(at) => view.doubted = Some(*at),
        }
        Some((figures, view))
    }

    fn told(&self, weighed: &Weighed, share: f64, cell: &mut Cell) -> Suspicion {
        let corrections = self.corrections(weighed, cell);
        let of = match &weighed.reading.undone {
            Undone::Rows(rows) => self.sheet.rows[rows[0].0].of,
            Undone::TakenAt(at, _) | Undone::Unknown(at) => self.sheet.rows[*at].of,
            Undone::Missing(component) => Of::Component(*component),
        };
        let chi_square = weighed.solved.chi_square();
        let degrees =
            self.degrees_of_freedom.saturating_sub(usize::from(weighed.reading.code == "unexplained"));
        let adds_up = degrees == 0 || chi_square_beyond(chi_square, degrees) > CHANCE;
        Suspicion {
            code: weighed.reading.code,
            of,
            text: words::suspicion(self, weighed, &corrections, adds_up),
            odds: exp(weighed.log_odds.min(log(CERTAIN))),
            share,
            chi_square,
            corrections,
        }
    }

    fn corrections(&self, weighed: &Weighed, cell: &mut Cell) -> Vec<Correction> {
        match &weighed.reading.undone {
            Undone::Rows(rows) => {
                let correction =
                    |(_, row): &(usize, Row)| Correction { of: row.of, measured: row.measured.clone() };
                rows.iter().map(correction).collect()
            }
            Undone::TakenAt(..) => Vec::new(),
            Undone::Missing(component) => self.told_by_the_rest(Of::Component(*component), weighed, cell),
            Undone::Unknown(at) => self.told_by_the_rest(self.sheet.rows[*at].of, weighed, cell),
        }
    }

    /// What the other rows tell of a row, with its standard uncertainty, in mg/L or the unit of the row.
    fn told_by_the_rest(&self, of: Of, weighed: &Weighed, cell: &mut Cell) -> Vec<Correction> {
        let solved = &weighed.solved;
        let view = View {
            sheet: &self.sheet,
            conductance: &self.conductance,
            widened: None,
            doubted: None,
            moves: MOVES,
        };
        let slopes: Vec<f64> = solved.unknowns.iter().map(|unknown| view.slope(of, unknown)).collect();
        let value = match of {
            Of::Conductivity => self.conductance.of(&solved.amounts(), cell),
            _ => slopes.iter().zip(&solved.values).map(|(slope, value)| slope * value).sum(),
        };
        let (factor, unit) = match of {
            Of::Component(component) => (component.molar_mass(), Unit::MG_PER_L),
            Of::SodiumAndPotassium => (Component::NA.molar_mass(), Unit::MG_PER_L),
            other => (1.0, other.unit()),
        };
        let measured = Measured::new((value * factor).max(0.0), unit)
            .and_then(|measured| measured.with_uncertainty(solved.uncertainty(&slopes) * factor, None));
        measured.ok().map(|measured| Correction { of, measured }).into_iter().collect()
    }
}
