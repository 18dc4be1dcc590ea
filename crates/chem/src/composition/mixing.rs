//! Mixing: the totals of a mixture are the sum of the totals, weighted by kilograms of water. Exact in mass and in
//! charge; the charge gaps of the sheets mix like an ion.

use super::fault::CompositionError;
use super::totals::Totals;

/// Mixes waters, each with its kilograms of water (of H2O, not of solution). The result is per kilogram of water
/// again; its water is the sum of the water of the parts. A component is known in the mixture only where every
/// part with water knows it.
///
/// # Errors
/// [`CompositionError::NoWater`] when an amount is negative or not finite, or when all are 0.
///
/// ```
/// use springwright_chem::composition::{mixing::mix, totals::Totals};
/// let pure = Totals::pure();
/// assert_eq!(mix(&[(1.0, &pure), (2.0, &pure)])?, pure);
/// # Ok::<(), springwright_chem::composition::fault::CompositionError>(())
/// ```
pub fn mix(parts: &[(f64, &Totals)]) -> Result<Totals, CompositionError> {
    if parts.iter().any(|(kg, _)| !kg.is_finite() || *kg < 0.0) {
        return Err(CompositionError::NoWater { what: "an amount is below zero or no number" });
    }
    let all: f64 = parts.iter().map(|(kg, _)| kg).sum();
    if all <= 0.0 || !all.is_finite() {
        return Err(CompositionError::NoWater { what: "all amounts are zero, or their sum is no number" });
    }
    let mut mixture = Totals::pure();
    for (kg, part) in parts.iter().filter(|(kg, _)| *kg > 0.0) {
        mixture.accumulate(kg / all, part);
        for (known, of_part) in mixture.standing.iter_mut().zip(part.standing) {
            *known = (*known).min(of_part);
        }
        mixture.carbon_known &= part.carbon_known;
    }
    Ok(mixture)
}

impl Totals {
    /// Adds `share` times the amounts of another; what is known stays as it is.
    pub(super) fn accumulate(&mut self, share: f64, other: &Totals) {
        for (amount, of_other) in self.amounts.iter_mut().zip(other.amounts) {
            *amount += share * of_other;
        }
        self.alkalinity += share * other.alkalinity;
        self.carbon += share * other.carbon;
    }

    /// All amounts times a factor.
    pub(super) fn scaled(mut self, factor: f64) -> Totals {
        for amount in &mut self.amounts {
            *amount *= factor;
        }
        self.alkalinity *= factor;
        self.carbon *= factor;
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::composition::totals::Standing;
    use crate::matter::component::Component;

    fn knowing(standing: Standing) -> Totals {
        let mut water = Totals::pure();
        water.standing[Component::K.index()] = standing;
        water
    }

    /// A mixture knows no more than the part that knows least, and a part without water has no say.
    #[test]
    fn a_mixture_knows_what_every_part_knows() {
        let (full, lumped, silent) = (Totals::pure(), knowing(Standing::Lumped), knowing(Standing::Absent));
        let standing = |parts: &[(f64, &Totals)]| mix(parts).unwrap().standing(Component::K);
        assert_eq!(standing(&[(1.0, &full), (1.0, &lumped)]), Standing::Lumped);
        assert_eq!(standing(&[(1.0, &full), (1.0, &lumped), (1e-3, &silent)]), Standing::Absent);
        assert_eq!(standing(&[(1.0, &full), (0.0, &silent)]), Standing::Stated);
        let mut open = Totals::pure();
        open.carbon_known = false;
        assert_eq!(mix(&[(1.0, &full), (1.0, &open)]).unwrap().dic(), None);
        assert_eq!(mix(&[(1.0, &full), (1.0, &open.with_dic(2.0))]).unwrap().dic(), Some(1.0));
    }

    #[test]
    fn no_water_is_refused() {
        let water = Totals::pure();
        for kg in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert!(matches!(mix(&[(kg, &water)]), Err(CompositionError::NoWater { .. })), "{kg}");
        }
        assert!(mix(&[]).is_err());
        assert!(mix(&[(f64::MAX, &water), (f64::MAX, &water)]).is_err());
    }
}
