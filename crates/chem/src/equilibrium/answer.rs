//! From the last point of a search to an answer, with its residuals.

use super::constants::LN_10;
use super::fault::EquilibriumError;
use super::reading::Reading;
use super::scale;
use super::scheme::{CARBON, HYDROGEN};
use super::speciation::{Residuals, Speciation};
use super::start::Point;
use super::system::{Given, Known, System};
use libm::log;
use std::sync::Arc;

/// Residual beyond which a state is not given out.
pub(crate) const TOLERANCE: f64 = 1e-10;

impl System {
    /// Turns the last point into an answer, or says that it did not settle.
    pub(super) fn state(
        self: &Arc<Self>,
        point: Point,
        given: &Given,
        weak: f64,
    ) -> Result<Speciation, EquilibriumError> {
        let Point { lambda, m, activity, steps, settled, reading } = point;
        let strength: f64 = self.scheme.charge.iter().zip(&m).map(|(z, m)| 0.5 * z * z * m).sum();
        if !settled && strength > activity.ionic_strength * (1.0 + 1e-9) {
            let most = activity.ionic_strength;
            return Err(EquilibriumError::TooStrong { ionic_strength: strength, most, what: "any water" });
        }
        let convention = scale::ln_gamma_chloride(self.slope(), activity.ionic_strength);
        let chloride = activity.ln_coefficient[self.scheme.chloride];
        let mut state = Speciation {
            ph: -(lambda[HYDROGEN] + chloride - convention) / LN_10,
            alkalinity: -self.scheme.row(HYDROGEN, &m) - weak,
            dic: self.scheme.row(CARBON, &m),
            ln_water: activity.ln_water,
            osmotic: activity.osmotic,
            ionic_strength: activity.ionic_strength,
            residuals: Residuals::default(),
            iterations: steps,
            system: self.clone(),
            given: given.clone(),
            molality: m,
            ln_coefficient: activity.ln_coefficient,
            ln_master: lambda,
        };
        state.residuals = match reading {
            Some(Reading { mass, charge, equilibrium, .. }) => {
                Residuals { mass: mass.0[0], charge: charge.0[0], equilibrium: equilibrium.0[0] }
            }
            None => self.residuals(&state),
        };
        let worst = state.residuals.worst();
        if worst <= TOLERANCE {
            Ok(state)
        } else {
            Err(EquilibriumError::NotConverged { iterations: steps, residual: worst })
        }
    }

    fn residuals(&self, state: &Speciation) -> Residuals {
        let m = &state.molality;
        let relative = |row: usize, wanted: f64, got: f64| {
            let size: f64 = self.scheme.made_of[row].iter().zip(m).map(|(n, m)| n.abs() * m).sum();
            (got - wanted).abs() / size.max(wanted.abs()).max(1e-300)
        };
        let mut out = Residuals::default();
        let (amounts, _) = self.scheme.amounts(&state.given.totals);
        for (k, amount) in amounts.iter().enumerate().filter(|(k, amount)| *k > CARBON && **amount > 0.0) {
            out.mass = out.mass.max(relative(k, *amount, self.scheme.row(k, m)));
        }
        for known in state.given.carbonate {
            match known {
                Known::Dic(value) if value > 0.0 => {
                    out.mass = out.mass.max(relative(CARBON, value, state.dic))
                }
                Known::Alkalinity(value) => out.charge = relative(HYDROGEN, value, state.alkalinity),
                Known::Ph(value) => out.equilibrium = out.equilibrium.max(LN_10 * (value - state.ph).abs()),
                _ => {}
            }
        }
        for (place, molality) in m.iter().enumerate().filter(|(_, m)| **m > 1e-280) {
            let mut ln = self.ln_k(place) + self.scheme.water[place] * state.ln_water;
            self.scheme.parts[place].iter().for_each(|(master, n)| ln += n * state.ln_master[*master]);
            let off = (log(*molality) + state.ln_coefficient[place] - ln).abs();
            out.equilibrium = out.equilibrium.max(off);
        }
        out
    }
}
