//! The equations of a sheet and their most likely solution: every row, what is believed beforehand, and the charge that
//! must close.

use libm::log;

use super::cell::Cell;
use super::conductance::{Amounts, Conductance};
use super::figure::{Figure, model_share, square};
use super::sheet::{Of, Sheet};
use super::unknown::{Unknown, unknowns};
use crate::matter::component::Component;
use crate::numeric::{FitRow, Fitted, fit};

/// The charge closes to this share of what the rows leave uncertain of it: next to exactly.
const CHARGE_CLOSES: f64 = 1e-3;
/// Relative change of the conductivity below which its point stands.
const STANDS: f64 = 1e-4;

/// What an equation is of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Source {
    /// A row, by its place among the figures.
    Row(usize),
    /// The charge of the water.
    Charge,
    /// What is believed of an unknown, by its place.
    Belief(usize),
}

/// `slopes · x = value`, with its standard uncertainty.
#[derive(Clone, Debug)]
pub(super) struct Equation {
    pub(super) source: Source,
    pub(super) slopes: Vec<f64>,
    pub(super) value: f64,
    pub(super) uncertainty: f64,
}

/// How a sheet is looked at.
#[derive(Clone, Copy, Debug)]
pub(super) struct View<'a> {
    pub(super) sheet: &'a Sheet,
    pub(super) conductance: &'a Conductance,
    /// A component whose silence is taken to hide much.
    pub(super) widened: Option<Component>,
    /// A row that may be anything.
    pub(super) doubted: Option<usize>,
    /// Most times that the point of the conductivity is moved.
    pub(super) moves: usize,
}

/// A sheet solved.
#[derive(Clone, Debug)]
pub(super) struct Solved {
    pub(super) unknowns: Vec<Unknown>,
    pub(super) equations: Vec<Equation>,
    /// Amount of each unknown.
    pub(super) values: Vec<f64>,
    /// Natural size of each unknown's uncertainty, in which the fit is made.
    scales: Vec<f64>,
    fitted: Fitted,
}

impl Solved {
    /// Sum of the squares of all equations, each over its uncertainty.
    pub(super) fn chi_square(&self) -> f64 {
        self.fitted.sum_of_squares
    }

    /// Equations beyond unknowns.
    pub(super) fn degrees(&self) -> usize {
        self.equations.len().saturating_sub(self.unknowns.len())
    }

    /// What an equation gives at the solution.
    pub(super) fn given(&self, equation: &Equation) -> f64 {
        equation.slopes.iter().zip(&self.values).map(|(slope, value)| slope * value).sum()
    }

    /// Standard uncertainty of a linear sum of the unknowns.
    pub(super) fn uncertainty(&self, slopes: &[f64]) -> f64 {
        let scaled: Vec<f64> = slopes.iter().zip(&self.scales).map(|(slope, scale)| slope * scale).collect();
        self.fitted.variance(&scaled).sqrt()
    }

    /// Amounts of the components as they stand in the water, mmol/L.
    pub(super) fn amounts(&self) -> Amounts {
        amounts(&self.unknowns, &self.values)
    }

    /// ln of how well the sheet is foretold, up to a number that is the same for every reading of one sheet: the
    /// unknowns are believed evenly over their logarithm, so that a reading that leaves more room foretells less.
    pub(super) fn log_evidence(&self, figures: &[Figure]) -> f64 {
        let mut sum = -0.5 * (self.chi_square() + self.fitted.log_determinant);
        for equation in &self.equations {
            match equation.source {
                Source::Row(at) => {
                    sum -= log(equation.uncertainty / figures[at].amount.max(equation.uncertainty))
                }
                Source::Belief(_) => sum -= log(equation.uncertainty),
                Source::Charge => sum -= log(equation.uncertainty),
            }
        }
        for (at, unknown) in self.unknowns.iter().enumerate() {
            let scale = self.scales[at];
            sum +=
                if unknown.belief.is_some() { log(scale) } else { log(scale / self.values[at].max(scale)) };
        }
        sum
    }
}

/// Amounts of the components that unknowns bring, mmol/L; none below zero.
pub(super) fn amounts(unknowns: &[Unknown], values: &[f64]) -> Amounts {
    let mut sum = [0.0; Component::COUNT];
    for (unknown, value) in unknowns.iter().zip(values) {
        for (component, amount) in &unknown.brings {
            sum[component.index()] += amount * value;
        }
    }
    sum.map(|amount| f64::max(amount, 0.0))
}

impl View<'_> {
    /// The most likely water behind the figures. `None` where they leave something open or the counted search ends.
    pub(super) fn solve(&self, figures: &[Figure], cell: &mut Cell) -> Option<Solved> {
        let unknowns = unknowns(self.sheet, figures, self.widened);
        let mut equations = self.straight(figures, &unknowns);
        let scales = scales(&unknowns, &equations);
        let lower = vec![0.0; unknowns.len()];
        let upper: Vec<f64> =
            unknowns.iter().zip(&scales).map(|(unknown, scale)| unknown.most / scale).collect();
        let mut values: Vec<f64> = start(&unknowns, figures);
        let bent = equations.iter().position(|equation| self.is_conductivity(figures, equation));
        let measured = bent.map(|at| equations[at].value);
        for _ in 0..=self.moves {
            let mut moved = 0.0;
            if let (Some(at), Some(measured)) = (bent, measured) {
                let here = self.conductance.of(&amounts(&unknowns, &values), cell);
                let equation = &mut equations[at];
                let line: f64 = equation.slopes.iter().zip(&values).map(|(slope, x)| slope * x).sum();
                let value = measured - here + line;
                moved = ((value - equation.value) / measured.max(1.0)).abs();
                equation.value = value;
            }
            let fitted = fit(&rows(&equations, &scales), &lower, &upper)?;
            values = fitted.values.iter().zip(&scales).map(|(t, scale)| t * scale).collect();
            if bent.is_none() || moved < STANDS {
                return Some(Solved { unknowns, equations, values, scales, fitted });
            }
        }
        let fitted = fit(&rows(&equations, &scales), &lower, &upper)?;
        Some(Solved { unknowns, equations, values, scales, fitted })
    }

    fn is_conductivity(&self, figures: &[Figure], equation: &Equation) -> bool {
        matches!(equation.source, Source::Row(at) if figures[at].of == Of::Conductivity)
    }

    /// Every equation, that of the conductivity around nothing yet.
    fn straight(&self, figures: &[Figure], unknowns: &[Unknown]) -> Vec<Equation> {
        let rows = figures.iter().enumerate().filter(|(_, figure)| !figure.below);
        let mut equations: Vec<Equation> = rows
            .map(|(at, figure)| {
                let doubted = self.doubted == Some(at);
                let model = model_share(figure.of) * figure.amount;
                let uncertainty = (square(figure.uncertainty) + square(model)).sqrt();
                Equation {
                    source: Source::Row(at),
                    slopes: unknowns.iter().map(|unknown| self.slope(figure.of, unknown)).collect(),
                    value: figure.amount,
                    uncertainty: if doubted { uncertainty.max(figure.amount) } else { uncertainty },
                }
            })
            .collect();
        for (at, unknown) in unknowns.iter().enumerate() {
            if let Some((value, uncertainty)) = unknown.belief {
                let mut slopes = vec![0.0; unknowns.len()];
                slopes[at] = 1.0;
                equations.push(Equation { source: Source::Belief(at), slopes, value, uncertainty });
            }
        }
        let slopes: Vec<f64> = unknowns.iter().map(|unknown| unknown.charge).collect();
        if slopes.iter().any(|slope| *slope != 0.0) {
            let scales = scales(unknowns, &equations);
            let loose: f64 = slopes.iter().zip(&scales).map(|(slope, scale)| square(slope * scale)).sum();
            let uncertainty = CHARGE_CLOSES * loose.sqrt();
            equations.push(Equation { source: Source::Charge, slopes, value: 0.0, uncertainty });
        }
        equations
    }

    /// How a row counts one unit more of something.
    pub(super) fn slope(&self, row: Of, unknown: &Unknown) -> f64 {
        match row {
            Of::SumOfIons => unknown.solids(false),
            Of::Residue180c => unknown.solids(true),
            Of::Conductivity => self.conductance.slope(unknown),
            row => unknown.counts_in(row),
        }
    }
}

/// The least uncertainty that any equation of its own leaves each unknown.
fn scales(unknowns: &[Unknown], equations: &[Equation]) -> Vec<f64> {
    let mut scales = vec![f64::INFINITY; unknowns.len()];
    for equation in equations.iter().filter(|equation| equation.source != Source::Charge) {
        for (at, slope) in equation.slopes.iter().enumerate().filter(|(_, slope)| slope.abs() > 1e-12) {
            scales[at] = scales[at].min(equation.uncertainty / slope.abs());
        }
    }
    scales.into_iter().map(|scale| if scale.is_finite() && scale > 0.0 { scale } else { 1.0 }).collect()
}

fn rows(equations: &[Equation], scales: &[f64]) -> Vec<FitRow> {
    let row = |equation: &Equation| FitRow {
        slopes: equation
            .slopes
            .iter()
            .zip(scales)
            .map(|(slope, scale)| slope * scale / equation.uncertainty)
            .collect(),
        target: equation.value / equation.uncertainty,
    };
    equations.iter().map(row).collect()
}

/// The stated amounts, as the first point of the conductivity.
pub(super) fn start(unknowns: &[Unknown], figures: &[Figure]) -> Vec<f64> {
    let stated = |unknown: &Unknown| {
        let own = figures.iter().find(|figure| figure.of == unknown.of);
        let titrated =
            figures.iter().find(|figure| figure.of == Of::Alkalinity && unknown.counts_in(figure.of) == 1.0);
        let counted =
            own.or(titrated).map(|figure| if figure.below { 0.5 * figure.amount } else { figure.amount });
        counted.or(unknown.belief.map(|(centre, _)| centre)).unwrap_or(0.0)
    };
    unknowns.iter().map(stated).collect()
}
