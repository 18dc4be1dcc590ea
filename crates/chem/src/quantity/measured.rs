//! A measured or wanted amount as somebody stated it.

use super::bounds;
use super::{Basis, QuantityError, Unit};

/// How the true amount stands to the stated value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Comparator {
    /// Below the stated value, which is a limit of detection.
    Less,
}

/// An amount with its unit, basis and uncertainty. Finite and in the range of its unit, whoever made it.
///
/// ```
/// use springwright_chem::quantity::{Basis, Measured, Unit};
/// let hardness = Measured::new(190.0, Unit::MG_PER_L)?
///     .with_basis(Basis::read("CaCO3")?)?
///     .with_uncertainty(4.0, Some(2.0))?;
/// assert_eq!(hardness.standard_uncertainty(), Some(2.0));
/// # Ok::<(), springwright_chem::quantity::QuantityError>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    value: f64,
    unit: Unit,
    basis: Option<Basis>,
    uncertainty: Option<f64>,
    coverage_factor: Option<f64>,
    comparator: Option<Comparator>,
}

impl Measured {
    /// An amount in a unit.
    ///
    /// # Errors
    /// [`QuantityError::NotFinite`], [`QuantityError::Negative`] (temperatures, pH and ratios may be negative),
    /// [`QuantityError::OutOfRange`] with the range in the base unit of the dimension.
    pub fn new(value: f64, unit: Unit) -> Result<Measured, QuantityError> {
        let bounds = bounds::of_dimension(unit.dimension());
        if value < 0.0 && bounds.least >= 0.0 {
            return Err(QuantityError::Negative { what: bounds.what, value });
        }
        bounds.check(unit.to_base(value))?;
        Ok(Measured { value, unit, basis: None, uncertainty: None, coverage_factor: None, comparator: None })
    }

    /// The same amount expressed as something.
    ///
    /// # Errors
    /// [`QuantityError::BasisImpossible`] for a degree of hardness with another basis than its own, and for a unit
    /// that is not a mass.
    pub fn with_basis(self, basis: Basis) -> Result<Measured, QuantityError> {
        let impossible = |why| {
            Err(QuantityError::BasisImpossible {
                subject: format!("an amount in {}", self.unit.symbol()),
                basis: basis.symbol().to_owned(),
                why,
            })
        };
        if let Some(own) = self.unit.own_basis() {
            if own != basis.symbol() {
                return impossible("the unit is defined in another basis");
            }
        } else if !self.unit.states_mass() {
            return impossible("only a mass is expressed as something");
        }
        Ok(Measured { basis: Some(basis), ..self })
    }

    /// The same amount with an uncertainty in its unit and basis; without a coverage factor it is a standard
    /// uncertainty (k = 1).
    ///
    /// # Errors
    /// [`QuantityError::NotFinite`], [`QuantityError::Negative`], [`QuantityError::OutOfRange`]: the uncertainty is
    /// 0 to 1e9, the coverage factor 1 to 10.
    pub fn with_uncertainty(
        self,
        uncertainty: f64,
        coverage_factor: Option<f64>,
    ) -> Result<Measured, QuantityError> {
        let range = |what, value: f64, least: f64, most: f64, unit| {
            let bounds = bounds::Bounds { what, least, most, unit };
            bounds.check(value)
        };
        let uncertainty = Some(range("the uncertainty", uncertainty, 0.0, 1e9, self.unit.symbol())?);
        if let Some(k) = coverage_factor {
            range("the coverage factor", k, 1.0, 10.0, "")?;
        }
        Ok(Measured { uncertainty, coverage_factor, ..self })
    }

    /// The value as a limit of detection: the true amount lies below it.
    pub fn below(self) -> Measured {
        Measured { comparator: Some(Comparator::Less), ..self }
    }

    /// The number in [`Measured::unit`].
    pub fn value(&self) -> f64 {
        self.value
    }

    /// The unit.
    pub fn unit(&self) -> Unit {
        self.unit
    }

    /// What the number is expressed as, where that was stated.
    pub fn basis(&self) -> Option<&Basis> {
        self.basis.as_ref()
    }

    /// The stated uncertainty in the same unit and basis.
    pub fn uncertainty(&self) -> Option<f64> {
        self.uncertainty
    }

    /// The stated coverage factor k of [`Measured::uncertainty`].
    pub fn coverage_factor(&self) -> Option<f64> {
        self.coverage_factor
    }

    /// `<`, where the value is a limit of detection.
    pub fn comparator(&self) -> Option<Comparator> {
        self.comparator
    }

    /// The standard uncertainty (k = 1): the stated one divided by its coverage factor.
    pub fn standard_uncertainty(&self) -> Option<f64> {
        self.uncertainty.map(|u| u / self.coverage_factor.unwrap_or(1.0))
    }
}
