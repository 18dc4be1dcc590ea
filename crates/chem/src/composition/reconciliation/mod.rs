//! Reconciliation: an analysis whose numbers do not add up.
//!
//! `sheet` (rows as written) → `figure` (as numbers, with their uncertainties) → `unknown` (what is looked for) →
//! `cell`, `conductance`, `system` (the equations and their solution) → `likely` (the most likely water) → `mistake`,
//! `ranking` (what may be wrong, most likely first), `missing` (what may be left out), `acceptance` (the limits of
//! Standard Methods).
//!
//! Everything that the sheet says is weighed at once: each row by its uncertainty, the charge that must close, sums
//! beside their parts, conductivity and dissolved solids beside the ions. Amounts stay at zero or above, "less than"
//! stays below its limit, and what the sheet is silent of may be there, more likely little than much. The search is
//! least squares within bounds; the conductivity bends and is taken straight around a point that is moved until it
//! stands, a counted number of times.

mod acceptance;
mod cell;
mod conductance;
mod digits;
mod fault;
mod figure;
mod likely;
mod missing;
mod mistake;
mod ranking;
mod remarks;
mod sheet;
mod system;
mod unknown;
mod words;

pub use acceptance::{Check, checks};
pub use digits::swapped_digits;
pub use fault::ReconciliationError;
pub use likely::{LikelyAmount, LikelyRow, Reconciled, Verdict, reconcile};
pub use missing::MissingIon;
pub use ranking::{Correction, Suspicion};
pub use sheet::{Of, Row, Sheet};
