//! Assessment: what somebody should be told who drinks or handles it.

mod cautions;

pub use cautions::{Caution, for_carbonation, for_composition, for_rating, standing};
