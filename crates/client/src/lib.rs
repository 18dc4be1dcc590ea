//! Typed client of the Springwright service: one method per operation, the same types as the service, and one error
//! that carries the problem document.
//!
//! ```no_run
//! use springwright_client::Client;
//! use springwright_contract::conversion::ConversionRequest;
//! use springwright_contract::measured::Measured;
//!
//! # async fn example() -> Result<(), springwright_client::ClientError> {
//! let client = Client::new("http://127.0.0.1:8080")?;
//! let alkalinity = Measured {
//!     value: 52.0,
//!     unit: "mg/L".to_owned(),
//!     basis: Some("CaCO3".to_owned()),
//!     uncertainty: None,
//!     coverage_factor: None,
//!     comparator: None,
//! };
//! let answer = client
//!     .convert(&ConversionRequest {
//!         of: Some("alkalinity".to_owned()),
//!         measured: alkalinity,
//!         unit: "meq/L".to_owned(),
//!         basis: None,
//!         density_kg_per_l: None,
//!         water_kg_per_l: None,
//!         strict: None,
//!     })
//!     .await?;
//! println!("{} {}", answer.measured.value, answer.measured.unit);
//! # Ok(())
//! # }
//! ```
//!
//! - [`client`]: the client
//! - `calculations`: its methods, two for each calculation
//! - [`rows`]: many requests at once
//! - [`error`]: what can go wrong

mod calculations;
pub mod client;
pub mod error;
pub mod rows;

pub use client::Client;
pub use error::ClientError;
pub use rows::{AnsweredRow, Answers};
