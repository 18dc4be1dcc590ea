//! Converts an amount between units and bases. Nothing is assumed: litres and kilograms need the density, masses of
//! hardness and alkalinity their basis.

use super::bounds::{KilogramsPerLitre, WaterPerLitre};
use super::{Basis, Dimension, Measured, QuantityError, Subject, Unit, bounds};

/// What a litre of the water weighs and how much solvent water is in it; only what is needed has to be known.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Solution {
    density: Option<KilogramsPerLitre>,
    water: Option<WaterPerLitre>,
}

/// g of CO2 per litre of gas at 0 °C and 101.325 kPa, in mg (the real gas; an ideal one would give 1964).
const MG_PER_GAS_VOLUME: f64 = 1977.0;

/// What is counted in the upper part of a concentration.
#[derive(Clone, Copy, PartialEq)]
enum Above {
    Mass,
    Amount,
    Equivalent,
    Gas,
}

/// What it is counted in.
#[derive(Clone, Copy, PartialEq)]
enum Below {
    Nothing,
    Litre,
    Solution,
    Water,
}

impl Solution {
    /// Density in kg/L (0.9 to 2) and solvent water in kg/L (0.3 to 1.05), each where known.
    ///
    /// # Errors
    /// [`QuantityError::OutOfRange`] and its kin for either number, or when there is more water than density.
    pub fn new(
        density_kg_per_l: Option<f64>,
        water_kg_per_l: Option<f64>,
    ) -> Result<Solution, QuantityError> {
        let density = density_kg_per_l.map(KilogramsPerLitre::new).transpose()?;
        let water = water_kg_per_l.map(WaterPerLitre::new).transpose()?;
        if let (Some(density), Some(water)) = (density, water)
            && water.get() > density.get()
        {
            let bounds::Bounds { what, least, unit, .. } = WaterPerLitre::BOUNDS;
            return Err(QuantityError::OutOfRange {
                what,
                value: water.get(),
                least,
                most: density.get(),
                unit,
            });
        }
        Ok(Solution { density, water })
    }

    /// Kilograms of what the concentration counts per litre, with the word for what is missing.
    fn per_litre(&self, below: Below) -> Result<f64, &'static str> {
        match below {
            Below::Nothing | Below::Litre => Ok(1.0),
            Below::Solution => self.density.map(KilogramsPerLitre::get).ok_or("density of the water"),
            Below::Water => self.water.map(WaterPerLitre::get).ok_or("solvent water in a litre"),
        }
    }
}

/// Converts an amount of something to another unit and basis; answers the value in `to`.
///
/// `to_basis` is what the result is expressed as; without one it is the subject itself. Degrees of hardness bring
/// their own basis. Uncertainty is left to [`restate`].
///
/// ```
/// use springwright_chem::quantity::{Solution, Subject, Unit, convert};
/// use springwright_chem::quantity::reading::read_measured;
/// let hardness = read_measured("12.4 °dH")?.measured;
/// let mmol = convert(&hardness, &Subject::Hardness, Unit::MMOL_PER_L, None, &Solution::default())?;
/// assert!((mmol - 12.4 * 10.0 / 56.077).abs() < 1e-12);
/// # Ok::<(), springwright_chem::quantity::QuantityError>(())
/// ```
///
/// # Errors
/// [`QuantityError`]: units of different sorts, a basis that does not fit or is missing, equivalents of a weak acid,
/// a density that is needed and not given, a result out of range.
pub fn convert(
    measured: &Measured,
    of: &Subject,
    to: Unit,
    to_basis: Option<&Basis>,
    solution: &Solution,
) -> Result<f64, QuantityError> {
    let from = measured.unit();
    let value = if *of == Subject::Plain || (parts(from).is_none() && parts(to).is_none()) {
        same_sort(from, to, of, measured.basis().or(to_basis))?;
        to.from_base(from.to_base(measured.value()))
    } else {
        measured.value() * scale(from, measured.basis(), of, to, to_basis, solution)?
    };
    bounds::of_dimension(to.dimension()).check(to.to_base(value))?;
    Ok(value)
}

/// The same amount in another unit and basis, with its uncertainty, coverage factor and "<" carried along.
///
/// # Errors
/// As [`convert`].
pub fn restate(
    measured: &Measured,
    of: &Subject,
    to: Unit,
    to_basis: Option<&Basis>,
    solution: &Solution,
) -> Result<Measured, QuantityError> {
    let value = convert(measured, of, to, to_basis, solution)?;
    let mut restated = Measured::new(value, to)?;
    if let Some(basis) = to_basis {
        restated = restated.with_basis(basis.clone())?;
    }
    if let Some(uncertainty) = measured.uncertainty() {
        let size = if *of == Subject::Plain || parts(to).is_none() {
            uncertainty * measured.unit().factor() / to.factor()
        } else {
            uncertainty * scale(measured.unit(), measured.basis(), of, to, to_basis, solution)?
        };
        restated = restated.with_uncertainty(size, measured.coverage_factor())?;
    }
    Ok(if measured.comparator().is_some() { restated.below() } else { restated })
}

/// The factor from one unit and basis to another.
fn scale(
    from: Unit,
    from_basis: Option<&Basis>,
    of: &Subject,
    to: Unit,
    to_basis: Option<&Basis>,
    solution: &Solution,
) -> Result<f64, QuantityError> {
    let mismatch =
        || QuantityError::UnitMismatch { subject: of.name(), unit: to.symbol(), from: Some(from.symbol()) };
    let (above, below) = parts(from).ok_or_else(mismatch)?;
    let (to_above, to_below) = parts(to).ok_or_else(mismatch)?;
    if (below == Below::Nothing) != (to_below == Below::Nothing) {
        return Err(mismatch());
    }
    let own = [from.own_basis(), to.own_basis()].map(|symbol| symbol.map(Basis::read).transpose());
    let [own_from, own_to] = own;
    let (own_from, own_to) = (own_from?, own_to?);
    agree(own_to.as_ref(), to_basis, of)?;
    let from_basis = own_from.as_ref().or(from_basis);
    let to_basis = own_to.as_ref().or(to_basis);
    let counted =
        if above == to_above && same_basis(from_basis, to_basis) && needs_no_basis(of, above, from_basis) {
            1.0
        } else {
            mols_per_unit(of, above, from_basis, from)? / mols_per_unit(of, to_above, to_basis, to)?
        };
    let shared = if below == to_below {
        1.0
    } else {
        let missing =
            |needed| QuantityError::SolutionMissing { from: from.symbol(), to: to.symbol(), needed };
        solution.per_litre(below).map_err(missing)? / solution.per_litre(to_below).map_err(missing)?
    };
    Ok(from.factor() / to.factor() * counted * shared)
}

/// A unit with a basis of its own takes no other.
fn agree(own: Option<&Basis>, asked: Option<&Basis>, of: &Subject) -> Result<(), QuantityError> {
    match (own, asked) {
        (Some(own), Some(asked)) if own != asked => Err(QuantityError::BasisImpossible {
            subject: of.name(),
            basis: asked.symbol().to_owned(),
            why: "the unit is defined in another basis",
        }),
        _ => Ok(()),
    }
}

fn same_basis(from: Option<&Basis>, to: Option<&Basis>) -> bool {
    match (from, to) {
        (None, None) => true,
        (Some(from), Some(to)) => from == to,
        _ => false,
    }
}

/// Whether mass to mass can be scaled without knowing what the mass is of: dissolved solids always; others when
/// neither side has a basis, or both the same one that fits the subject.
fn needs_no_basis(of: &Subject, above: Above, basis: Option<&Basis>) -> bool {
    match (above, basis) {
        (Above::Mass, Some(basis)) => of.per_basis(basis).is_ok(),
        (Above::Mass, None) => !matches!(of, Subject::Hardness | Subject::Alkalinity),
        (Above::Amount, _) => !matches!(of, Subject::Solids),
        (Above::Equivalent, _) => of.equivalents().is_ok(),
        (Above::Gas, _) => *of == Subject::CarbonDioxide,
    }
}

/// Mmol of the subject in one mg (of its basis), mmol, meq or volume.
fn mols_per_unit(
    of: &Subject,
    above: Above,
    basis: Option<&Basis>,
    unit: Unit,
) -> Result<f64, QuantityError> {
    let mismatch = || QuantityError::UnitMismatch { subject: of.name(), unit: unit.symbol(), from: None };
    if *of == Subject::Solids && !(above == Above::Mass && basis.is_none()) {
        return match basis {
            Some(basis) => of.per_basis(basis),
            None => Err(mismatch()),
        };
    }
    match above {
        Above::Mass => match basis {
            Some(basis) => Ok(of.per_basis(basis)? / basis.molar_mass()),
            None => Ok(1.0 / of.molar_mass()?),
        },
        Above::Amount => Ok(1.0),
        Above::Equivalent => Ok(1.0 / of.equivalents()?),
        Above::Gas if *of == Subject::CarbonDioxide => Ok(MG_PER_GAS_VOLUME / of.molar_mass()?),
        Above::Gas => Err(mismatch()),
    }
}

/// The parts of a unit that counts a substance; none for a temperature, a volume and the like.
fn parts(unit: Unit) -> Option<(Above, Below)> {
    use Dimension as D;
    Some(match unit.dimension() {
        D::MassPerVolume => (Above::Mass, Below::Litre),
        D::MassPerMass => (Above::Mass, Below::Solution),
        D::MassPerWater => (Above::Mass, Below::Water),
        D::AmountPerVolume => (Above::Amount, Below::Litre),
        D::AmountPerWater => (Above::Amount, Below::Water),
        D::AmountPerSolution => (Above::Amount, Below::Solution),
        D::EquivalentPerVolume => (Above::Equivalent, Below::Litre),
        D::EquivalentPerWater => (Above::Equivalent, Below::Water),
        D::EquivalentPerSolution => (Above::Equivalent, Below::Solution),
        D::Mass => (Above::Mass, Below::Nothing),
        D::Amount => (Above::Amount, Below::Nothing),
        D::Equivalent => (Above::Equivalent, Below::Nothing),
        D::GasVolume => (Above::Gas, Below::Litre),
        D::Ratio
        | D::Conductivity
        | D::Temperature
        | D::Pressure
        | D::Ph
        | D::Volume
        | D::Osmolality
        | D::Osmolarity => return None,
    })
}

/// Units of one dimension only, without a basis.
fn same_sort(from: Unit, to: Unit, of: &Subject, basis: Option<&Basis>) -> Result<(), QuantityError> {
    if from.dimension() != to.dimension() || from.own_basis() != to.own_basis() {
        return Err(QuantityError::UnitMismatch {
            subject: of.name(),
            unit: to.symbol(),
            from: Some(from.symbol()),
        });
    }
    match basis {
        None => Ok(()),
        Some(basis) => Err(QuantityError::BasisImpossible {
            subject: of.name(),
            basis: basis.symbol().to_owned(),
            why: "only an amount of something is expressed as something else",
        }),
    }
}
