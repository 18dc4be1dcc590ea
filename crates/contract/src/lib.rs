//! Requests and answers of Springwright, one noun per file, and behind the feature `answer` the one place where
//! a request becomes a calculation and its result an answer. HTTP, Python and the command call that place; the
//! client needs the nouns alone.

pub mod measured;

pub mod source_water;

pub mod salt_choice;

pub mod balance;

pub mod co2;

pub mod wish;

pub mod conversion;

pub mod mixture;

pub mod speciation;

pub mod saturation;

pub mod table;

pub mod carbonation;

pub mod titration;

pub mod haze;

pub mod precipitation;

pub mod compatibility;

pub mod life_path;

pub mod blend;

pub mod weighing;

pub mod scale_up;

pub mod reconciliation;

pub mod water;

pub mod uncertainty;

pub mod said;

pub mod provenance;

pub mod problem;

pub mod bulk;

pub mod salts;

#[cfg(feature = "answer")]
pub mod answer;

#[cfg(feature = "answer")]
pub mod reading;

pub use problem::Problem;
