//! Amounts with one unit for good, and the range that each must lie in.

use super::QuantityError;
use super::unit::Dimension;

/// A range with the words of its message.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// What is bounded, in plain words.
    pub what: &'static str,
    /// Least accepted.
    pub least: f64,
    /// Most accepted.
    pub most: f64,
    /// Unit of both.
    pub unit: &'static str,
}

impl Bounds {
    const fn new(what: &'static str, least: f64, most: f64, unit: &'static str) -> Bounds {
        Bounds { what, least, most, unit }
    }

    /// Lets a value pass that is finite and in range.
    ///
    /// # Errors
    /// [`QuantityError::NotFinite`], [`QuantityError::Negative`] where nothing below zero is accepted,
    /// [`QuantityError::OutOfRange`].
    pub fn check(&self, value: f64) -> Result<f64, QuantityError> {
        if !value.is_finite() {
            return Err(QuantityError::NotFinite { what: self.what });
        }
        if value < 0.0 && self.least >= 0.0 {
            return Err(QuantityError::Negative { what: self.what, value });
        }
        if value < self.least || value > self.most {
            let Bounds { what, least, most, unit } = *self;
            return Err(QuantityError::OutOfRange { what, value, least, most, unit });
        }
        Ok(value)
    }
}

/// The range of amounts of a dimension, in its base unit.
pub fn of_dimension(dimension: Dimension) -> Bounds {
    use Dimension as D;
    match dimension {
        D::MassPerVolume => Bounds::new("the concentration", 0.0, 1e7, "mg/L"),
        D::MassPerMass => Bounds::new("the concentration", 0.0, 1e6, "mg/kg"),
        D::MassPerWater => Bounds::new("the concentration", 0.0, 1e8, "mg/kg_water"),
        D::AmountPerVolume => Bounds::new("the concentration", 0.0, 1e6, "mmol/L"),
        D::AmountPerWater => Bounds::new("the concentration", 0.0, 1e6, "mmol/kg"),
        D::AmountPerSolution => Bounds::new("the concentration", 0.0, 1e6, "mmol/kg_solution"),
        D::EquivalentPerVolume => Bounds::new("the concentration", 0.0, 1e6, "meq/L"),
        D::EquivalentPerWater => Bounds::new("the concentration", 0.0, 1e6, "meq/kg"),
        D::EquivalentPerSolution => Bounds::new("the concentration", 0.0, 1e6, "meq/kg_solution"),
        D::Ratio => Bounds::new("the ratio or index", -1e6, 1e6, ""),
        D::Conductivity => Bounds::new("the conductivity", 0.0, 1e7, "uS/cm"),
        D::Temperature => Bounds::new("the temperature", -50.0, 150.0, "degC"),
        D::Pressure => Bounds::new("the pressure", 0.0, 1e3, "bar"),
        D::Ph => Bounds::new("the pH", -1.0, 15.0, ""),
        D::Mass => Bounds::new("the mass", 0.0, 1e15, "mg"),
        D::Volume => Bounds::new("the volume", 0.0, 1e12, "mL"),
        D::Amount => Bounds::new("the amount", 0.0, 1e12, "mmol"),
        D::Equivalent => Bounds::new("the amount", 0.0, 1e12, "meq"),
        D::GasVolume => Bounds::new("the gas", 0.0, 100.0, "volumes"),
        D::Osmolality => Bounds::new("the osmolality", 0.0, 1e5, "mOsm/kg"),
        D::Osmolarity => Bounds::new("the osmolarity", 0.0, 1e5, "mOsm/L"),
    }
}

/// Makes an amount with one unit for good.
macro_rules! amount {
    ($(#[$doc:meta])* $name:ident, $what:literal, $least:literal, $most:literal, $unit:literal) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            /// The range that is accepted.
            pub const BOUNDS: Bounds = Bounds::new($what, $least, $most, $unit);

            /// Takes a number that is finite and in range.
            ///
            /// # Errors
            /// [`QuantityError::NotFinite`], [`QuantityError::Negative`] or [`QuantityError::OutOfRange`].
            pub fn new(value: f64) -> Result<$name, QuantityError> {
                $name::BOUNDS.check(value).map($name)
            }

            /// The number, in the unit of the type.
            pub fn get(self) -> f64 {
                self.0
            }
        }
    };
}

amount!(
    /// A temperature as a point on the scale, in °C; from the melting of brines to a hot kettle under pressure.
    Celsius, "the temperature", -30.0, 150.0, "degC"
);
amount!(
    /// A volume of water in litres, from a drop to a reservoir tank.
    Litres, "the volume", 1e-6, 1e9, "L"
);
amount!(
    /// A mass in grams, zero included.
    Grams, "the mass", 0.0, 1e12, "g"
);
amount!(
    /// A mass in kilograms, zero included.
    Kilograms, "the mass", 0.0, 1e9, "kg"
);
amount!(
    /// An absolute pressure in bar.
    Bar, "the pressure", 0.0, 1e3, "bar"
);
amount!(
    /// A share in percent, 0 to 100.
    Percent, "the share", 0.0, 100.0, "%"
);
amount!(
    /// The density of a water or a stock in kg/L.
    KilogramsPerLitre, "the density", 0.9, 2.0, "kg/L"
);
amount!(
    /// Solvent water in a litre of a water or a stock, kg.
    WaterPerLitre, "the water in a litre", 0.3, 1.05, "kg/L"
);
amount!(
    /// A pH.
    Ph, "the pH", -1.0, 15.0, ""
);
amount!(
    /// A conductivity in µS/cm.
    MicrosiemensPerCm, "the conductivity", 0.0, 1e7, "uS/cm"
);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bad_numbers_are_told_apart() {
        assert!(matches!(Litres::new(f64::NAN), Err(QuantityError::NotFinite { .. })));
        assert!(matches!(Litres::new(f64::INFINITY), Err(QuantityError::NotFinite { .. })));
        assert!(matches!(Litres::new(-1.0), Err(QuantityError::Negative { .. })));
        assert!(matches!(Litres::new(0.0), Err(QuantityError::OutOfRange { .. })));
        assert!(matches!(Celsius::new(-31.0), Err(QuantityError::OutOfRange { .. })));
        assert_eq!(Percent::new(100.0).map(Percent::get), Ok(100.0));
    }
}
