//! Quantities that are linear in the totals: what a litre holds is the sum of what each kilogram of source water and
//! each mole of salt brings. One definition serves the finished water and the coefficients of a blend.

use super::added::Added;
use super::dissolved;
use super::fault::CompositionError;
use super::totals::{MAJORS, Standing, Totals};
use crate::matter::component::{Component, Role};

/// A linear sum over totals: a weight for each component, one for alkalinity and one for dissolved carbonate.
///
/// With the kilograms of water in a finished litre held fixed,
/// `value per litre = Σ kg of source water · of(water) + Σ mol of salt · per_mole(salt)` exactly.
///
/// ```
/// use springwright_chem::composition::{added::Added, linear::LinearSum};
/// use springwright_chem::matter::component::Component;
/// let chalk = Added::new(100.086, &[(Component::CA, 1.0)], 1.0);
/// assert_eq!(LinearSum::hardness().per_mole(&chalk), 1.0);
/// assert_eq!(LinearSum::titrated_alkalinity(4.5).per_mole(&chalk), 2.0);
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct LinearSum {
    components: [f64; Component::COUNT],
    alkalinity: f64,
    carbon: f64,
    needs: Vec<(Component, Standing)>,
}

impl LinearSum {
    fn nothing() -> LinearSum {
        LinearSum { components: [0.0; Component::COUNT], alkalinity: 0.0, carbon: 0.0, needs: Vec::new() }
    }

    /// The sum with these weights for each component (per mol), for alkalinity in its charge form (per eq) and for
    /// dissolved carbonate (per mol): the slopes of what depends on totals. It asks nobody to have stated anything.
    pub fn weighted(components: [f64; Component::COUNT], alkalinity: f64, carbon: f64) -> LinearSum {
        LinearSum { components, alkalinity, carbon, needs: Vec::new() }
    }

    /// The weight of dissolved carbonate.
    pub fn carbon(&self) -> f64 {
        self.carbon
    }

    /// Amount of a component, mol; for `HCO3` and `CO3` the carbonate alkalinity, eq.
    pub fn amount(component: Component) -> LinearSum {
        if dissolved::is_carbonate(component) {
            return LinearSum::carbonate_alkalinity();
        }
        let mut sum = LinearSum::nothing();
        sum.components[component.index()] = 1.0;
        sum.needs.push((component, Standing::Stated));
        sum
    }

    /// Alkalinity as a titration to an end-point pH finds it, eq.
    pub fn titrated_alkalinity(end_point_ph: f64) -> LinearSum {
        LinearSum::alkalinity_with(|component| component.charge_left(end_point_ph))
    }

    /// The alkalinity that carbonate holds, eq. Where acids are on the shelf, a sum that counts HCO3 is true only
    /// while this one is 0 or more.
    pub fn carbonate_alkalinity() -> LinearSum {
        LinearSum::alkalinity_with(|component| dissolved::form(component).charge)
    }

    fn alkalinity_with(charge: impl Fn(Component) -> f64) -> LinearSum {
        let mut sum = LinearSum::nothing();
        sum.alkalinity = 1.0;
        for component in Component::ALL {
            if component.role() == Role::WeakAcid && !dissolved::is_carbonate(component) {
                sum.components[component.index()] = charge(component);
            }
        }
        sum.needs.push((Component::HCO3, Standing::Stated));
        sum
    }

    /// Calcium and magnesium, mol.
    pub fn hardness() -> LinearSum {
        let mut sum = LinearSum::nothing();
        for component in [Component::CA, Component::MG] {
            sum.components[component.index()] = 1.0;
            sum.needs.push((component, Standing::Lumped));
        }
        sum
    }

    /// Mass of all that is dissolved, g, each component by the formula it is counted in and carbonate as HCO3 of
    /// which the share `keep_hco3` is kept.
    pub(super) fn solids(keep_hco3: f64) -> LinearSum {
        let mut sum = LinearSum::carbonate_alkalinity().times(keep_hco3 * Component::HCO3.molar_mass());
        for component in Component::ALL.into_iter().filter(|c| !dissolved::is_carbonate(*c)) {
            sum.components[component.index()] += component.molar_mass();
        }
        sum.needs = MAJORS.map(|major| (major, Standing::Lumped)).to_vec();
        sum
    }

    /// This sum times a factor.
    pub fn times(mut self, factor: f64) -> LinearSum {
        for weight in &mut self.components {
            *weight *= factor;
        }
        self.alkalinity *= factor;
        self.carbon *= factor;
        self
    }

    /// This sum and another together; so a `sum` wish is built, and a ratio as numerator − r · denominator.
    pub fn plus(mut self, other: &LinearSum) -> LinearSum {
        for (weight, of_other) in self.components.iter_mut().zip(other.components) {
            *weight += of_other;
        }
        self.alkalinity += other.alkalinity;
        self.carbon += other.carbon;
        self.needs.extend(other.needs.iter().copied());
        self
    }

    /// Value for a water, per kilogram of its water.
    pub fn of(&self, totals: &Totals) -> f64 {
        let listed: f64 =
            self.components.iter().zip(totals.amounts).map(|(weight, amount)| weight * amount).sum();
        listed + self.alkalinity * totals.alkalinity + self.carbon * totals.carbon
    }

    /// Value that one mole of a salt adds.
    pub fn per_mole(&self, added: &Added) -> f64 {
        self.of(added.per_mole())
    }

    /// Value for a water, refused where something that the sum needs was not stated.
    ///
    /// # Errors
    /// One [`CompositionError::Insufficient`] for each component that is missing.
    pub fn known(&self, totals: &Totals, needed_for: &'static str) -> Result<f64, Vec<CompositionError>> {
        let faults: Vec<CompositionError> = self
            .needs
            .iter()
            .filter(|(component, least)| totals.standing(*component) < *least)
            .map(|(component, _)| CompositionError::Insufficient { component: *component, needed_for })
            .collect();
        if faults.is_empty() { Ok(self.of(totals)) } else { Err(faults) }
    }
}
