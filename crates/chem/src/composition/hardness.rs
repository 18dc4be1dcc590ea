//! Hardness: all of calcium and magnesium, the part that carbonate covers, and the rest.

use super::fault::CompositionError;
use super::linear::LinearSum;
use super::totals::{Standing, Totals};
use crate::matter::component::Component;

/// Hardness in mol of calcium and magnesium per kg of water.
///
/// Strontium, barium and iron are not counted (Standard Methods 2340 B: calcium and magnesium).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hardness {
    /// All of calcium and magnesium.
    pub total: f64,
    /// The part that carbonate alkalinity covers; absent where alkalinity was not stated.
    pub carbonate: Option<f64>,
}

impl Hardness {
    /// Hardness of a water.
    ///
    /// # Errors
    /// One [`CompositionError::Insufficient`] each for calcium and magnesium where not stated.
    pub fn of(totals: &Totals) -> Result<Hardness, Vec<CompositionError>> {
        let total = LinearSum::hardness().known(totals, "hardness")?;
        let covered = |alkalinity: f64| {
            // what differs by rounding alone is the same
            if alkalinity >= 2.0 * total * (1.0 - 1e-12) { total } else { (alkalinity / 2.0).max(0.0) }
        };
        let carbonate = (totals.standing(Component::HCO3) == Standing::Stated)
            .then(|| covered(totals.carbonate_alkalinity()));
        Ok(Hardness { total, carbonate })
    }

    /// What carbonate does not cover; absent where alkalinity was not stated.
    pub fn noncarbonate(&self) -> Option<f64> {
        self.carbonate.map(|carbonate| self.total - carbonate)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::composition::added::Added;

    fn salt(gives: &[(Component, f64)], carbonate: f64) -> Added {
        Added::new(100.0, gives, carbonate)
    }

    /// Definition (Standard Methods 2340 A): alkalinity above the hardness leaves no noncarbonate hardness, below
    /// it the difference.
    #[test]
    fn carbonate_hardness_is_the_lesser_of_hardness_and_alkalinity() -> Result<(), Vec<CompositionError>> {
        let chalk = salt(&[(Component::CA, 1.0)], 1.0);
        let gypsum = salt(&[(Component::CA, 1.0), (Component::SO4, 1.0)], 0.0);
        let soda = salt(&[(Component::NA, 1.0)], 1.0);
        let hard = Totals::pure().with_added(&[(2e-3, &chalk), (1e-3, &gypsum)]).map_err(|e| vec![e])?;
        let of_hard = Hardness::of(&hard)?;
        assert!((of_hard.total / hard.amount(Component::CA) - 1.0).abs() < 1e-15);
        assert!((of_hard.carbonate.unwrap() / of_hard.total - 2.0 / 3.0).abs() < 1e-12);
        assert!((of_hard.noncarbonate().unwrap() / of_hard.total - 1.0 / 3.0).abs() < 1e-12);
        let soft = Totals::pure().with_added(&[(1e-3, &gypsum), (5e-3, &soda)]).map_err(|e| vec![e])?;
        assert_eq!(Hardness::of(&soft)?.noncarbonate(), Some(0.0));
        let chalky =
            Totals::pure().with_added(&[(4.1e-3, &chalk), (1.03e-3, &chalk)]).map_err(|e| vec![e])?;
        assert_eq!(Hardness::of(&chalky)?.noncarbonate(), Some(0.0));
        Ok(())
    }
}
