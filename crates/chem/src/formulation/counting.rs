//! In which unit a wish counts, and from which size on a deviation is relative.

use super::fault::FormulationError;
use super::property::Property;
use super::wish::{END_POINT_PH, Quantity, Wish, sum_of};
use crate::composition::linear::LinearSum;
use crate::quantity::{self, Basis, Dimension, Measured, QuantityError, Subject, Unit};

/// A wish made ready for counting: its linear sum, its unit, and what it asks in that unit.
#[derive(Clone, Debug)]
pub struct Rule {
    /// The sum in a litre of the finished water, in mol, eq or g. Empty for ratios, cost and properties.
    pub(super) sum: LinearSum,
    /// What the amounts are amounts of, and the unit in which the sum comes.
    counted: Counted,
    /// Unit of the wish.
    pub unit: Unit,
    /// Basis of the wish.
    pub basis: Option<Basis>,
    /// As near as possible to this.
    pub near: Option<f64>,
    /// Not less than this.
    pub low: Option<f64>,
    /// Not more than this.
    pub high: Option<f64>,
    /// This.
    pub exact: Option<f64>,
    /// Deviations from less than this count as deviations from this.
    pub floor: f64,
}

/// How the sum of a rule becomes the unit of its wish.
#[derive(Clone, Debug, PartialEq)]
enum Counted {
    /// Converted as an amount of a subject, from a unit per litre.
    As(Subject, Unit),
    /// A number of its own sort, with the name of what it is: ratios, cost, pH and the like.
    Number(Dimension, &'static str),
}

impl Rule {
    /// Makes a wish ready.
    ///
    /// # Errors
    /// Every fault of the wish: nothing asked, bounds crossed, a unit that does not count the quantity.
    pub fn of(wish: &Wish) -> Result<Rule, Vec<FormulationError>> {
        let Some(leading) = wish.leading() else { return Err(vec![FormulationError::AsksNothing]) };
        let dimension = leading.unit().dimension();
        let (sum, counted) = counted(&wish.quantity, dimension);
        let mut rule = Rule {
            sum,
            counted,
            unit: leading.unit(),
            basis: leading.basis().cloned(),
            near: None,
            low: None,
            high: None,
            exact: None,
            floor: floor(leading.unit()),
        };
        rule.check_unit()?;
        let mut faults = Vec::new();
        let mut asked = |amount: &Option<Measured>| {
            let converted = amount.as_ref().map(|amount| rule.in_unit(amount)).transpose();
            converted.unwrap_or_else(|error| {
                faults.push(FormulationError::Counting(error));
                None
            })
        };
        let (near, low, high, exact) =
            (asked(&wish.near), asked(&wish.at_least), asked(&wish.at_most), asked(&wish.exact));
        (rule.near, rule.low, rule.high, rule.exact) = (near, low, high, exact);
        faults.extend(rule.contradiction());
        if faults.is_empty() { Ok(rule) } else { Err(faults) }
    }

    /// The unit must count the quantity, whatever the number.
    fn check_unit(&self) -> Result<(), Vec<FormulationError>> {
        match &self.counted {
            Counted::Number(Dimension::Ratio, _) if self.unit == Unit::ONE => Ok(()),
            Counted::Number(own, _) if self.unit.dimension() == *own && *own != Dimension::Ratio => Ok(()),
            Counted::Number(_, name) => {
                let subject = (*name).to_owned();
                Err(vec![
                    QuantityError::UnitMismatch { subject, unit: self.unit.symbol(), from: None }.into(),
                ])
            }
            Counted::As(..) => self.try_factor(1.0, 1.0).map(|_| ()).map_err(|error| vec![error.into()]),
        }
    }

    fn contradiction(&self) -> Option<FormulationError> {
        if self.exact.is_some() && (self.near.is_some() || self.low.is_some() || self.high.is_some()) {
            return Some(FormulationError::ExactAndMore);
        }
        let (low, high) = (self.low?, self.high?);
        let in_words = |value: f64| super::words::amount(value, self.unit, self.basis.as_ref());
        (low > high).then(|| FormulationError::BoundsCrossed { low: in_words(low), high: in_words(high) })
    }

    /// An amount in the unit and basis of the wish.
    fn in_unit(&self, amount: &Measured) -> Result<f64, QuantityError> {
        if amount.unit() == self.unit && amount.basis() == self.basis.as_ref() {
            return Ok(amount.value());
        }
        let subject = match &self.counted {
            Counted::Number(..) => &Subject::Plain,
            Counted::As(subject, _) => subject,
        };
        quantity::convert(amount, subject, self.unit, self.basis.as_ref(), &quantity::Solution::default())
    }

    /// Units of the wish in one mol, eq or g per litre (in one unit of a property, as [`Property`] counts it), for a finished water of which a litre weighs `density_kg`
    /// and holds `water_kg` of water.
    pub fn factor(&self, density_kg: f64, water_kg: f64) -> f64 {
        self.try_factor(density_kg, water_kg).unwrap_or(1.0)
    }

    fn try_factor(&self, density_kg: f64, water_kg: f64) -> Result<f64, QuantityError> {
        let Counted::As(subject, per_litre) = &self.counted else { return Ok(1.0 / self.unit.factor()) };
        let one = Measured::new(1.0, *per_litre)?;
        let solution = quantity::Solution::new(Some(density_kg), Some(water_kg))?;
        quantity::convert(&one, subject, self.unit, self.basis.as_ref(), &solution)
    }

    /// What a deviation is divided by.
    pub fn size(&self, asked: f64) -> f64 {
        asked.abs().max(self.floor)
    }
}

/// The sum that a quantity counts by, and the unit per litre in which it comes.
fn counted(quantity: &Quantity, dimension: Dimension) -> (LinearSum, Counted) {
    let mol = Unit::MMOL_PER_L;
    match quantity {
        Quantity::Component(component) => {
            let subject = Subject::Component(*component);
            let alkalinity = super::wish::is_alkalinity(*component);
            let unit = if alkalinity { Unit::MEQ_PER_L } else { mol };
            (sum_of(*component).times(1000.0), Counted::As(subject, unit))
        }
        Quantity::Sum(parts) => summed(parts, dimension),
        Quantity::Tds => (LinearSum::tds().times(1000.0), Counted::As(Subject::Solids, Unit::MG_PER_L)),
        Quantity::Residue180c => {
            (LinearSum::residue_180c().times(1000.0), Counted::As(Subject::Solids, Unit::MG_PER_L))
        }
        Quantity::Hardness => (LinearSum::hardness().times(1000.0), Counted::As(Subject::Hardness, mol)),
        Quantity::Alkalinity => {
            let sum = LinearSum::titrated_alkalinity(END_POINT_PH).times(1000.0);
            (sum, Counted::As(Subject::Alkalinity, Unit::MEQ_PER_L))
        }
        Quantity::Ratio { .. } | Quantity::Cost => {
            (LinearSum::tds(), Counted::Number(Dimension::Ratio, "a ratio or a cost"))
        }
        Quantity::Property { property, .. } => (LinearSum::tds(), counted_property(*property)),
    }
}

fn counted_property(property: Property) -> Counted {
    match property {
        Property::Ph => Counted::Number(Dimension::Ph, "pH"),
        Property::SaturationIndex(_) => Counted::Number(Dimension::Ratio, "a saturation index"),
        Property::Conductivity => Counted::Number(Dimension::Conductivity, "conductivity"),
        Property::FreeCo2 => Counted::As(Subject::CarbonDioxide, Unit::MMOL_PER_L),
        Property::Osmolality => Counted::Number(Dimension::Osmolality, "osmolality"),
    }
}

/// Components counted together: by mass, by amount or by charge, as the unit says.
fn summed(parts: &[crate::matter::component::Component], dimension: Dimension) -> (LinearSum, Counted) {
    use Dimension::{AmountPerSolution, AmountPerVolume, AmountPerWater};
    use Dimension::{EquivalentPerSolution, EquivalentPerVolume, EquivalentPerWater};
    let (unit, weight): (Unit, fn(crate::matter::component::Component) -> f64) = match dimension {
        AmountPerVolume | AmountPerWater | AmountPerSolution => (Unit::MMOL_PER_L, |_| 1.0),
        EquivalentPerVolume | EquivalentPerWater | EquivalentPerSolution => {
            (Unit::MEQ_PER_L, |component| f64::from(component.charge().abs()))
        }
        _ => (Unit::MG_PER_L, |component| component.molar_mass()),
    };
    let mut sums = parts.iter().map(|part| sum_of(*part).times(1000.0 * weight(*part)));
    let first = sums.next().unwrap_or_else(|| LinearSum::tds().times(0.0));
    // Amounts and charges of several components have no mass in common; alkalinity has none either.
    let subject = if unit == Unit::MG_PER_L { Subject::Solids } else { Subject::Alkalinity };
    (sums.fold(first, |sum, part| sum.plus(&part)), Counted::As(subject, unit))
}

/// The floor of the objective in a unit: 1 mg, 0.02 mmol or 0.02 meq in a litre or kilogram, a tenth of a degree of
/// hardness, 10 µS/cm, 1 mosmol/kg, 0.1 of a ratio, of a unit of money, of pH, of an index or of a volume of gas.
fn floor(unit: Unit) -> f64 {
    use Dimension::{AmountPerSolution, AmountPerVolume, AmountPerWater};
    use Dimension::{EquivalentPerSolution, EquivalentPerVolume, EquivalentPerWater};
    match unit.dimension() {
        Dimension::MassPerVolume | Dimension::MassPerMass | Dimension::MassPerWater => 1.0 / unit.factor(),
        AmountPerVolume | AmountPerWater | AmountPerSolution => 0.02 / unit.factor(),
        EquivalentPerVolume | EquivalentPerWater | EquivalentPerSolution => 0.02 / unit.factor(),
        Dimension::Conductivity => 10.0 / unit.factor(),
        Dimension::Osmolality => 1.0 / unit.factor(),
        _ => 0.1,
    }
}
