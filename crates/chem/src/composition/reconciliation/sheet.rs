//! The sheet that shall add up: rows as they are written, and what stands beside them.

use crate::matter::catalogue::Salt;
use crate::matter::component::Component;
use crate::quantity::{Measured, Subject, Unit};

/// Of what a row of a sheet speaks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Of {
    /// A component; `HCO3` is alkalinity expressed as HCO3, to which `CO3` adds 2 eq per mol.
    Component(Component),
    /// Alkalinity by titration.
    Alkalinity,
    /// Calcium and magnesium together.
    Hardness,
    /// Sodium and potassium together, counted as sodium.
    SodiumAndPotassium,
    /// Conductivity.
    Conductivity,
    /// Dissolved solids as the sum of the ions, alkalinity counted as HCO3.
    SumOfIons,
    /// Residue after drying at 180 °C.
    Residue180c,
    /// A salt that was dissolved in the water, by its place in [`Sheet::salts`].
    Salt(usize),
}

impl Of {
    /// The id of a row as sheets and tables name it; `salt` for every salt.
    pub fn id(self) -> &'static str {
        match self {
            Of::Component(component) => component.id(),
            Of::Alkalinity => "alkalinity",
            Of::Hardness => "hardness",
            Of::SodiumAndPotassium => "Na+K",
            Of::Conductivity => "conductivity",
            Of::SumOfIons => "tds",
            Of::Residue180c => "residue_180c",
            Of::Salt(_) => "salt",
        }
    }

    /// The row of an id; a salt has none of its own.
    pub fn read(id: &str) -> Option<Of> {
        match id {
            "alkalinity" => Some(Of::Alkalinity),
            "hardness" => Some(Of::Hardness),
            "Na+K" => Some(Of::SodiumAndPotassium),
            "conductivity" => Some(Of::Conductivity),
            "tds" => Some(Of::SumOfIons),
            "residue_180c" => Some(Of::Residue180c),
            id => Component::read(id).map(Of::Component),
        }
    }

    /// The unit in which the row is reckoned: mmol/L, meq/L for alkalinity, mg/L for solids and salts, µS/cm.
    pub fn unit(self) -> Unit {
        match self {
            Of::Component(_) | Of::Hardness | Of::SodiumAndPotassium => Unit::MMOL_PER_L,
            Of::Alkalinity => Unit::MEQ_PER_L,
            Of::Conductivity => Unit::US_PER_CM,
            Of::SumOfIons | Of::Residue180c | Of::Salt(_) => Unit::MG_PER_L,
        }
    }

    /// What the amount is of.
    pub fn subject(self) -> Subject {
        match self {
            Of::Component(component) => Subject::Component(component),
            Of::SodiumAndPotassium => Subject::Component(Component::NA),
            Of::Alkalinity => Subject::Alkalinity,
            Of::Hardness => Subject::Hardness,
            Of::SumOfIons | Of::Residue180c | Of::Salt(_) => Subject::Solids,
            Of::Conductivity => Subject::Plain,
        }
    }
}

/// A row of a sheet as it is written.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Of what it speaks.
    pub of: Of,
    /// The number with its unit, basis, uncertainty and "<".
    pub measured: Measured,
}

/// A sheet.
#[derive(Clone, Debug, Default)]
pub struct Sheet {
    /// Its rows; one for each thing at most.
    pub rows: Vec<Row>,
    /// Salts dissolved in the water after its ions were analysed and before conductivity and solids were; each has a row.
    pub salts: Vec<&'static Salt>,
    /// Components that are known to be absent.
    pub absent: Vec<Component>,
    /// pH as measured, at the temperature of the water. Conductivity needs it where the water is not near neutral.
    pub ph: Option<f64>,
    /// Temperature of the litres of the sheet, °C.
    pub temperature_c: Option<f64>,
    /// Temperature that the conductivity refers to, °C; 25 unless given.
    pub conductivity_c: Option<f64>,
    /// pH at which the titration of alkalinity ended; 4.5 unless given.
    pub end_point_ph: Option<f64>,
}

impl Sheet {
    /// The row that speaks of something.
    pub fn row(&self, of: Of) -> Option<&Row> {
        self.rows.iter().find(|row| row.of == of)
    }
}
