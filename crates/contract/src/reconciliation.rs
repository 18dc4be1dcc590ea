//! `reconciliation`: an analysis whose numbers do not add up.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::measured::Measured;
use crate::provenance::Provenance;
use crate::said::{Assumption, Caution, Finding, NotJudged};
use crate::source_water::SourceWater;
use crate::water::Water;

/// Asks what the water behind an analysis most likely is, and which of its numbers may be wrong. Charge, sums beside
/// their parts, conductivity and dissolved solids are held against the ions, each by its uncertainty.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ReconciliationRequest {
    /// The water with its analysis. A row without an uncertainty takes a usual one (an assumption).
    pub water: SourceWater,
    /// Conductivity as measured; `uS/cm`, `mS/cm` or `mS/m`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub conductivity: Option<Measured>,
    /// Temperature in °C that the conductivity refers to; 25 unless given (an assumption).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 60.0)]
    pub conductivity_temperature_c: Option<f64>,
    /// Dissolved solids as the sheet sums them: all ions, alkalinity as HCO3.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub tds: Option<Measured>,
    /// Residue after drying at 180 °C, as weighed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub residue_180c: Option<Measured>,
    /// Refuse every assumption.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub strict: Option<bool>,
}

/// The most likely water behind an analysis, and what may be wrong with it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ReconciliationAnswer {
    /// The most likely water if every row means what it says; solved where its carbonate is known.
    pub water: Water,
    /// Each row of the sheet beside it.
    pub rows: Vec<ReconciledRow>,
    /// Sum of the squared distances of all rows from the most likely water, each over its standard uncertainty.
    pub chi_square: f64,
    /// How many independent checks the sheet offers.
    pub degrees_of_freedom: u32,
    /// How often a sheet that is right shows as much or more by chance.
    pub probability: f64,
    /// The rules by which a whole analysis is accepted, on the sheet as stated.
    pub checks: Vec<AcceptanceCheck>,
    /// What may be wrong, most likely first; empty where the sheet shows no more than chance does.
    pub suspicions: Vec<Suspicion>,
    /// How much there could be of each ion of which the sheet is silent, if that ion alone were there.
    pub missing: Vec<MissingIon>,
    /// What was not judged.
    pub not_judged: Vec<NotJudged>,
    /// What was taken for granted.
    pub assumptions: Vec<Assumption>,
    /// What the reader should know.
    pub findings: Vec<Finding>,
    /// Cautions for whoever drinks it.
    pub cautions: Vec<Caution>,
    /// What the answer rests on.
    pub provenance: Provenance,
}

/// A row of a sheet beside the most likely water.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ReconciledRow {
    /// JSON Pointer of the row in the request.
    pub pointer: String,
    /// As stated.
    pub stated: Measured,
    /// Standard uncertainty that was reckoned with, in the unit and basis of the row: the stated one, or a usual one.
    pub stated_uncertainty: f64,
    /// What the most likely water gives, with its standard uncertainty.
    pub likely: Measured,
    /// Stated less likely, over the standard uncertainty of their difference: a standard normal number on a sheet that is
    /// right. Absent where nothing else on the sheet tells of the row.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub residual: Option<f64>,
    /// The same in a word.
    pub verdict: RowVerdict,
}

/// How a row stands to the rest of its sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum RowVerdict {
    /// Within two standard uncertainties of what the rest tells.
    Fits,
    /// Between two and three.
    Doubtful,
    /// More than three away.
    DoesNotFit,
    /// Nothing else on the sheet tells of it.
    Unchecked,
    /// A limit, and nothing contradicts it.
    BelowLimit,
}

/// A rule by which a whole analysis is accepted.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct AcceptanceCheck {
    /// Name of the rule: `charge_balance`, `tds_measured_over_calculated`, `conductivity_measured_over_calculated`,
    /// `cations_over_conductivity` and `anions_over_conductivity` (100 times meq/L over µS/cm), `tds_over_conductivity`.
    pub of: String,
    /// What the sheet shows.
    pub value: f64,
    /// Its unit.
    pub unit: String,
    /// Least that is accepted.
    pub at_least: f64,
    /// Most that is accepted.
    pub at_most: f64,
    /// Whether it is.
    pub accepted: bool,
    /// Where the rule stands.
    pub source: String,
}

/// Something that may be wrong on a sheet.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Suspicion {
    /// Stable code: `basis` (as N, as S, as CaCO3, …), `unit`, `decimal`, `digits` (swapped), `lumped` (Na with K),
    /// `exchanged` (two rows), `solids` (residue for sum of ions), `temperature` (of the conductivity), `hydrate` (of a
    /// salt), `missing` (an ion), `unexplained`.
    pub code: String,
    /// JSON Pointer of the row; where an ion is missing, of where it would stand.
    pub pointer: String,
    /// What is suspected, in words with numbers.
    pub text: String,
    /// Odds of this mistake against none, by how well it explains the sheet and how usual it is; at most 1e9.
    pub odds: f64,
    /// Its share of all suspicion.
    pub share: f64,
    /// Chi-square of the sheet read so.
    pub chi_square: f64,
    /// What the rows would say; for a missing ion or a row that nothing explains, what the rest of the sheet tells.
    pub corrected: Vec<CorrectedRow>,
}

/// A row as it may have been meant.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CorrectedRow {
    /// JSON Pointer of where it would stand.
    pub pointer: String,
    /// What it would say.
    pub measured: Measured,
}

/// Bounds of an ion of which a sheet is silent, if it alone were there. They hold the truth 19 times of 20 where nothing
/// else is wrong.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct MissingIon {
    /// The component.
    pub of: String,
    /// Least, in mg/L; 0 where nothing asks for it.
    pub at_least_mg_per_l: f64,
    /// Most likely, in mg/L.
    pub likely_mg_per_l: f64,
    /// Most, in mg/L.
    pub at_most_mg_per_l: f64,
}
