//! `life-path`: what becomes of a water from the stock bottles to the kettle.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::co2::Co2;
use crate::haze::{HazeLimit, HazeVerdict, TimeHint, Verdict};
use crate::mixture::MixturePart;
use crate::provenance::Provenance;
use crate::said::{Assumption, Caution, Finding, NotJudged};
use crate::water::Water;

/// Asks what becomes of a water: mixed of its parts in an open vessel, then through the stages in their order. Each stage is
/// judged as if nothing had fallen before it. A part to which salts are `added` is a stock, and is judged by itself too.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LifePathRequest {
    /// What is poured together, in any order. Its carbonate must be known, as in `speciation`.
    #[schema(min_items = 1, max_items = 100)]
    pub parts: Vec<MixturePart>,
    /// Temperature of the mix in °C; 20 unless given (an assumption).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 60.0)]
    pub temperature_c: Option<f64>,
    /// What is done with it, in order.
    #[schema(min_items = 1, max_items = 40)]
    pub stages: Vec<LifeStage>,
    /// Height above the sea in m; 0 unless given (an assumption).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 5000.0)]
    pub altitude_m: Option<f64>,
    /// Gauge pressure in bar for which the weakest shut vessel is rated. A stage that presses more brings a caution.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 100.0)]
    pub rating_bar: Option<f64>,
    /// Limits of one's own to judge haze by.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_items = 60)]
    pub haze_limits: Option<Vec<HazeLimit>>,
    /// Mass of a solid below which nothing is seen, in mg/L; the tabulated one unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 1000.0)]
    pub visible_mg_per_l: Option<f64>,
    /// Tell what to change where a stage is not clear; yes unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub suggestions: Option<bool>,
    /// Refuse every assumption.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub strict: Option<bool>,
}

/// One stage.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LifeStage {
    /// What is done.
    pub stage: LifeStageKind,
    /// What people call it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, max_length = 80)]
    pub name: Option<String>,
    /// Temperature in °C; that of the stage before unless given. Up to 60, a `kettle` to 95.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 95.0)]
    pub temperature_c: Option<f64>,
    /// The wanted state, for `carbonated`: `volumes`, `dissolved`, `keg` or `partial_pressure`, at the temperature and height
    /// of the stage.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub co2: Option<Co2>,
    /// Headspace in percent of the bottle, for `bottled`. Without one (0) the bottle is full at every temperature.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.0, maximum = 90.0)]
    pub headspace_percent: Option<f64>,
}

/// What is done with a water.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum LifeStageKind {
    /// Brought to a state of its carbon dioxide, in a vessel that is then shut and full.
    Carbonated,
    /// Filled into a bottle and shut under air.
    Bottled,
    /// Left to stand in the vessel that it is in: in the cold room, on a warm shelf.
    Stands,
    /// The vessel is opened: the gas over the water is gone, and what CO2 in it would press more than the air bubbles off.
    Opened,
    /// Stood open until it is in balance with air.
    Flat,
    /// Heated in an open kettle until it is in balance with air; without the water that steams away.
    Kettle,
}

/// What becomes of a water.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct LifePathAnswer {
    /// The mixed water.
    pub mixed: Water,
    /// Every stock, the mix, and every stage.
    pub stages: Vec<LifeStageRead>,
    /// The harshest verdict of all.
    pub verdict: Verdict,
    /// Number of the stage with the harshest verdict, and among those alike the nearest to its next limit or the farthest
    /// beyond its last; absent where no solid is judged anywhere.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub worst_stage: Option<u32>,
    /// Greatest gauge pressure of all stages, in bar; absent where nothing is shut under pressure.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub highest_gauge_bar: Option<f64>,
    /// The largest share by which carbonate before and after a stage differ beside what was added and lost.
    pub co2_imbalance: f64,
    /// The stages in plain text.
    pub text_table: String,
    /// The stages as a picture that stands alone: an SVG document without scripts, fonts or images from elsewhere.
    pub svg: String,
    /// What was not judged.
    pub not_judged: Vec<NotJudged>,
    /// What was taken for granted.
    pub assumptions: Vec<Assumption>,
    /// What the reader should know.
    pub findings: Vec<Finding>,
    /// Cautions for whoever handles or drinks it.
    pub cautions: Vec<Caution>,
    /// What the answer rests on.
    pub provenance: Provenance,
}

/// The water at a stage. Amounts per litre are per litre of the mix as it was mixed; of a stock, per litre of the stock.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct LifeStageRead {
    /// Its number, from 1.
    pub number: u32,
    /// `stock`, `mixed`, or what was done.
    pub stage: LifeStageWord,
    /// What people call it.
    pub name: String,
    /// Temperature in °C.
    pub temperature_c: f64,
    /// pH.
    pub ph: f64,
    /// Partial pressure of CO2 that it is in balance with, in bar; absent beyond the reach of the gas law.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub pco2_bar: Option<f64>,
    /// Gauge pressure in its shut vessel, in bar; absent where it is open, where the gas alone presses less than the air, and
    /// beyond the reach of the gas law.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub gauge_bar: Option<f64>,
    /// Free CO2 in volumes: litres of the gas at 0 °C and 1 atm in a litre.
    pub volumes: f64,
    /// The verdict: that of its worst solid.
    pub verdict: Verdict,
    /// The solid with the harshest verdict, and among those alike the nearest to its next limit; absent where none is judged.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub worst_solid: Option<String>,
    /// Its saturation index.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub si: Option<f64>,
    /// Distance of its index from the next limit above it; below zero it is so far beyond the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub margin: Option<f64>,
    /// What the water lets fall of it, in mg/L; absent where the index leaves no question.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub precipitable_mg_per_l: Option<f64>,
    /// How long it takes; absent where no rate is published.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub time: Option<TimeHint>,
    /// Why, in words with numbers.
    pub why: String,
    /// The verdict on every solid that is not undersaturated.
    pub haze: Vec<HazeVerdict>,
    /// What to change so that this stage is clear: each by itself works, the whole life followed again.
    pub changes: Vec<LifeChange>,
    /// Where the carbonate is; absent for a stock.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub co2: Option<Co2Ledger>,
}

/// What a stage is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum LifeStageWord {
    /// A part with salts, by itself.
    Stock,
    /// The parts poured together.
    Mixed,
    /// Carbonated.
    Carbonated,
    /// Bottled.
    Bottled,
    /// Standing.
    Stands,
    /// Opened.
    Opened,
    /// Flat.
    Flat,
    /// In the kettle.
    Kettle,
}

/// A change that leaves a stage clear.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct LifeChange {
    /// What is changed.
    pub change: LifeChangeKind,
    /// To how much, in the unit of the change.
    pub value: f64,
    /// Its unit.
    pub unit: String,
    /// The same in words.
    pub text: String,
    /// The verdict on the stage then.
    pub verdict: Verdict,
    /// Its pH then.
    pub ph: f64,
}

/// What is changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum LifeChangeKind {
    /// Pure water in the mix, in percent of its water.
    PureWater,
    /// Alkalinity of the mix, lowered with strong acid, in mg/L as CaCO3.
    Alkalinity,
    /// Free CO2 that stays in the water, in volumes.
    CarbonDioxide,
    /// Temperature that is not passed, in °C.
    Temperature,
}

/// Where the carbonate of a water is, all counted as g of CO2 per litre of the mix.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Co2Ledger {
    /// In the water, bicarbonate and carbonate among it.
    pub dissolved_g_per_l: f64,
    /// In the gas over it.
    pub headspace_g_per_l: f64,
    /// Brought in at this stage.
    pub added_g_per_l: f64,
    /// Lost at this stage.
    pub lost_g_per_l: f64,
}
