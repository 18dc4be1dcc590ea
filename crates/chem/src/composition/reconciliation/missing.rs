//! What the sheet is silent of, as bounds: how much of one ion alone there could be.

use super::cell::Cell;
use super::likely::Reconciled;
use super::sheet::Of;
use super::system::View;
use super::unknown::silent_of;
use crate::matter::component::Component;

/// Standard uncertainties that hold 95 % of a normal number.
const COVERS: f64 = 1.96;
/// Times that the point of the conductivity is moved.
const MOVES: usize = 4;

/// A component of which the sheet is silent, if it alone were there, mmol/L.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MissingIon {
    /// Which.
    pub component: Component,
    /// Least; 0 where nothing asks for it.
    pub at_least: f64,
    /// Most likely.
    pub likely: f64,
    /// Most; the bounds hold the truth 19 times of 20 where nothing else is wrong.
    pub at_most: f64,
}

impl Reconciled {
    /// Bounds for each component of which the sheet is silent.
    pub fn missing(&self) -> Vec<MissingIon> {
        let silent = silent_of(&self.sheet, &self.figures);
        let mut cell = self.cell();
        silent.into_iter().filter_map(|component| self.bounds_of(component, &mut cell)).collect()
    }

    fn bounds_of(&self, component: Component, cell: &mut Cell) -> Option<MissingIon> {
        let view = View {
            sheet: &self.sheet,
            conductance: &self.conductance,
            widened: Some(component),
            doubted: None,
            moves: MOVES,
        };
        let solved = view.solve(&self.figures, cell)?;
        let at = solved.unknowns.iter().position(|unknown| unknown.of == Of::Component(component))?;
        let mut slopes = vec![0.0; solved.unknowns.len()];
        slopes[at] = 1.0;
        let (likely, uncertainty) = (solved.values[at], solved.uncertainty(&slopes));
        Some(MissingIon {
            component,
            at_least: (likely - COVERS * uncertainty).max(0.0),
            likely,
            at_most: likely + COVERS * uncertainty,
        })
    }
}
