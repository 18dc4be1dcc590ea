//! Conservation, shown: whether what went into a water is what stands in it.

use super::totals::Totals;
use crate::matter::component::Component;

/// What does not close between the parts of a water and the water, as shares of the whole.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Closure {
    /// Greatest relative gap over all components.
    pub mass: f64,
    /// The gap of charge, against all the charge of the components.
    pub charge: f64,
}

impl Closure {
    /// Of parts, each with the kilograms of its water (or the moles of a salt with what one mole brings), and the
    /// water that they made with the kilograms of its own.
    ///
    /// ```
    /// use springwright_chem::composition::{closure::Closure, totals::Totals};
    /// let pure = Totals::pure();
    /// assert_eq!(Closure::of(&[(1.0, &pure), (2.0, &pure)], 3.0, &pure), Closure::default());
    /// ```
    pub fn of(parts: &[(f64, &Totals)], water_kg: f64, made: &Totals) -> Closure {
        let went_in =
            |of: &dyn Fn(&Totals) -> f64| parts.iter().map(|(amount, part)| amount * of(part)).sum::<f64>();
        let (mut mass, mut charge) = (0.0_f64, 0.0);
        for component in Component::ALL {
            let before = went_in(&|totals| totals.amount(component));
            let after = water_kg * made.amount(component);
            let size = before.abs().max(after.abs());
            if size > 0.0 {
                mass = mass.max((before - after).abs() / size);
            }
            charge += size * f64::from(component.charge().abs());
        }
        let gap = went_in(&Totals::charge_gap) - water_kg * made.charge_gap();
        Closure { mass, charge: if charge > 0.0 { gap.abs() / charge } else { 0.0 } }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::composition::added::Added;

    #[test]
    fn a_salt_that_was_lost_shows() {
        let salt = Added::new(58.44, &[(Component::NA, 1.0), (Component::CL, 1.0)], 0.0);
        let pure = Totals::pure();
        let brine = pure.with_added(&[(0.1, &salt)]).unwrap();
        let whole = Closure::of(&[(1.0, &pure), (0.1, salt.per_mole())], 1.0, &brine);
        assert!(whole.mass < 1e-12 && whole.charge < 1e-12, "{whole:?}");
        let lost = Closure::of(&[(1.0, &pure), (0.2, salt.per_mole())], 1.0, &brine);
        assert!((lost.mass - 0.5).abs() < 1e-12, "{lost:?}");
    }
}
