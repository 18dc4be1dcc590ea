//! Units: a closed table, each row with its exact definition, and the reader of their many spellings.

mod spelling;

use std::sync::LazyLock;

use super::QuantityError;
use crate::table::{Row, Table};

/// A unit of the table. One canonical symbol each, used in requests and answers.
///
/// ```
/// use springwright_chem::quantity::unit::Unit;
/// assert_eq!(Unit::read("milligrams per litre")?, Unit::MG_PER_L);
/// assert_eq!(Unit::read("gr/gal (US)")?.symbol(), "gr/gal_us");
/// assert!(Unit::read("ppm").is_err());
/// # Ok::<(), springwright_chem::quantity::QuantityError>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Unit(u8);

/// What sort of amount a unit states; the base unit of each stands in the docs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Dimension {
    /// Mass in a volume of water, base mg/L. Degrees of hardness are this too, in their own basis.
    MassPerVolume,
    /// Mass in a mass of the water with all that is in it, base mg/kg.
    MassPerMass,
    /// Mass in a mass of solvent water, base mg/kg_water.
    MassPerWater,
    /// Amount of substance in a volume, base mmol/L.
    AmountPerVolume,
    /// Amount of substance per kilogram of solvent water, base mmol/kg.
    AmountPerWater,
    /// Amount of substance per kilogram of the water with all that is in it, base mmol/kg_solution.
    AmountPerSolution,
    /// Equivalents of charge in a volume, base meq/L.
    EquivalentPerVolume,
    /// Equivalents of charge per kilogram of solvent water, base meq/kg.
    EquivalentPerWater,
    /// Equivalents of charge per kilogram of the water with all that is in it, base meq/kg_solution.
    EquivalentPerSolution,
    /// A ratio or a share, base 1.
    Ratio,
    /// Electrical conductivity, base uS/cm.
    Conductivity,
    /// Temperature as a point on a scale, base degC.
    Temperature,
    /// Pressure, base bar.
    Pressure,
    /// pH, base pH.
    Ph,
    /// Mass, base mg.
    Mass,
    /// Volume, base mL.
    Volume,
    /// Amount of substance, base mmol.
    Amount,
    /// Equivalents of charge, base meq.
    Equivalent,
    /// Litres of gas at 0 °C and 101.325 kPa in a litre of drink, base volumes.
    GasVolume,
    /// Osmolality, base mOsm/kg of water.
    Osmolality,
    /// Osmolarity, base mOsm/L.
    Osmolarity,
}

struct Facts {
    symbol: &'static str,
    dimension: Dimension,
    factor: f64,
    zero: f64,
    basis: Option<&'static str>,
    source: &'static str,
    also: Vec<&'static str>,
}

static FACTS: LazyLock<Vec<Facts>> =
    LazyLock::new(|| Table::read(include_str!("../../data/units.tsv")).rows().map(facts).collect());

fn facts(row: Row<'_>) -> Facts {
    Facts {
        symbol: row.text("symbol"),
        dimension: dimension(row.text("dimension")).expect("the compiled-in table names known dimensions"),
        factor: factor(row.text("factor")).expect("the compiled-in factors are products and quotients"),
        zero: row.number("zero").unwrap_or(0.0),
        basis: Some(row.text("basis")).filter(|basis| !basis.is_empty()),
        source: row.text("source"),
        also: row.list("also").collect(),
    }
}

/// Works out `a*b/c`, from left to right.
fn factor(expression: &str) -> Option<f64> {
    let mut value = 1.0;
    let mut rest = expression;
    let mut divide = false;
    while !rest.is_empty() {
        let end = rest.find(['*', '/']).unwrap_or(rest.len());
        let number: f64 = rest[..end].parse().ok()?;
        value = if divide { value / number } else { value * number };
        divide = rest[end..].starts_with('/');
        rest = rest.get(end + 1..).unwrap_or("");
    }
    Some(value).filter(|v| v.is_finite() && *v > 0.0)
}

fn dimension(word: &str) -> Option<Dimension> {
    Some(match word {
        "mass_per_volume" => Dimension::MassPerVolume,
        "mass_per_mass" => Dimension::MassPerMass,
        "mass_per_water" => Dimension::MassPerWater,
        "amount_per_volume" => Dimension::AmountPerVolume,
        "amount_per_water" => Dimension::AmountPerWater,
        "amount_per_solution" => Dimension::AmountPerSolution,
        "equivalent_per_volume" => Dimension::EquivalentPerVolume,
        "equivalent_per_water" => Dimension::EquivalentPerWater,
        "equivalent_per_solution" => Dimension::EquivalentPerSolution,
        "ratio" => Dimension::Ratio,
        "conductivity" => Dimension::Conductivity,
        "temperature" => Dimension::Temperature,
        "pressure" => Dimension::Pressure,
        "ph" => Dimension::Ph,
        "mass" => Dimension::Mass,
        "volume" => Dimension::Volume,
        "amount" => Dimension::Amount,
        "equivalent" => Dimension::Equivalent,
        "gas_volume" => Dimension::GasVolume,
        "osmolality" => Dimension::Osmolality,
        "osmolarity" => Dimension::Osmolarity,
        _ => return None,
    })
}

impl Unit {
    /// Milligrams per litre.
    pub const MG_PER_L: Unit = Unit(2);
    /// Milligrams per kilogram of the water with all that is in it.
    pub const MG_PER_KG: Unit = Unit(26);
    /// Millimoles per litre.
    pub const MMOL_PER_L: Unit = Unit(41);
    /// Moles per kilogram of solvent water.
    pub const MOL_PER_KG: Unit = Unit(45);
    /// Milliequivalents per litre.
    pub const MEQ_PER_L: Unit = Unit(50);
    /// Equivalents per kilogram of solvent water.
    pub const EQ_PER_KG: Unit = Unit(53);
    /// The number one, for ratios and indices.
    pub const ONE: Unit = Unit(56);
    /// Hundredths.
    pub const PERCENT: Unit = Unit(57);
    /// Microsiemens per centimetre.
    pub const US_PER_CM: Unit = Unit(58);
    /// Degrees Celsius.
    pub const DEG_C: Unit = Unit(63);
    /// Bar.
    pub const BAR: Unit = Unit(66);
    /// pH.
    pub const PH: Unit = Unit(74);
    /// Grams.
    pub const G: Unit = Unit(77);
    /// Litres.
    pub const L: Unit = Unit(93);

    fn facts(self) -> &'static Facts {
        &FACTS[usize::from(self.0)]
    }

    /// Reads a unit in any of its spellings: `mg/L`, `mg·L⁻¹`, `grains per US gallon`, `°dH`.
    ///
    /// # Errors
    /// [`QuantityError::UnitAmbiguous`] for a spelling that names more than one unit (`ppm`, `gallon`),
    /// [`QuantityError::UnitUnknown`] for any other that is not in the table, [`QuantityError::UnitMissing`] for
    /// an empty text.
    pub fn read(text: &str) -> Result<Unit, QuantityError> {
        spelling::read(text)
    }

    /// Every unit of the table, in its order.
    pub fn all() -> impl Iterator<Item = Unit> {
        (0..FACTS.len()).map(|at| Unit(at as u8))
    }

    /// Canonical symbol, plain ASCII: `mg/L`, `ug/L`, `dH`, `gr/gal_us`, `degC`.
    pub fn symbol(self) -> &'static str {
        self.facts().symbol
    }

    /// What sort of amount it states.
    pub fn dimension(self) -> Dimension {
        self.facts().dimension
    }

    /// What a degree of hardness is defined in (`CaO`, `CaCO3`); none for the other units.
    pub fn own_basis(self) -> Option<&'static str> {
        self.facts().basis
    }

    /// Whether it states a mass, of which one may say what it is expressed as.
    pub fn states_mass(self) -> bool {
        use Dimension as D;
        matches!(self.dimension(), D::MassPerVolume | D::MassPerMass | D::MassPerWater | D::Mass)
    }

    /// Key of the definition in `data/sources.tsv`.
    pub fn source(self) -> &'static str {
        self.facts().source
    }

    /// How many of the base unit of its dimension make one; for a temperature the size of a degree.
    pub fn factor(self) -> f64 {
        self.facts().factor
    }

    /// A value of this unit in the base unit of its dimension.
    pub fn to_base(self, value: f64) -> f64 {
        (value - self.facts().zero) * self.facts().factor
    }

    /// A value of the base unit of the dimension in this unit.
    pub fn from_base(self, base: f64) -> f64 {
        base / self.facts().factor + self.facts().zero
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_constants_point_right() {
        for (unit, symbol) in [
            (Unit::MG_PER_L, "mg/L"),
            (Unit::MG_PER_KG, "mg/kg"),
            (Unit::MMOL_PER_L, "mmol/L"),
            (Unit::MOL_PER_KG, "mol/kg"),
            (Unit::MEQ_PER_L, "meq/L"),
            (Unit::EQ_PER_KG, "eq/kg"),
            (Unit::ONE, "1"),
            (Unit::PERCENT, "%"),
            (Unit::US_PER_CM, "uS/cm"),
            (Unit::DEG_C, "degC"),
            (Unit::BAR, "bar"),
            (Unit::PH, "pH"),
            (Unit::G, "g"),
            (Unit::L, "L"),
        ] {
            assert_eq!(unit.symbol(), symbol);
        }
    }
}
