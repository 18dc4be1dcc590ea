//! Physical constants, each standing once.

/// Gas constant, J/(mol K). Defined (SI 2019: product of two defined constants).
pub const GAS: f64 = 8.314_462_618_153_24;
/// Faraday constant, C/mol. Defined (SI 2019).
pub const FARADAY: f64 = 96_485.332_123_310_0;
/// Elementary charge, C. Defined (SI 2019).
pub const ELEMENTARY_CHARGE: f64 = 1.602_176_634e-19;
/// Boltzmann constant, J/K. Defined (SI 2019).
pub const BOLTZMANN: f64 = 1.380_649e-23;
/// Avogadro constant, 1/mol. Defined (SI 2019).
pub const AVOGADRO: f64 = 6.022_140_76e23;
/// Permittivity of vacuum, F/m. Measured (CODATA 2018).
pub const VACUUM_PERMITTIVITY: f64 = 8.854_187_812_8e-12;
/// Molar mass of water, kg/mol (IUPAC abridged weights: 2 x 1.008 + 15.999).
pub const WATER_MOLAR_MASS: f64 = 0.018_015;
/// Kelvin at 0 °C. Defined.
pub const ZERO_CELSIUS: f64 = 273.15;
/// Reference temperature of the tables, K (25 °C). Defined.
pub const REFERENCE: f64 = 298.15;
/// Pascal in one standard atmosphere. Defined.
pub const ATMOSPHERE: f64 = 101_325.0;
/// Natural logarithm of ten. Derived.
pub const LN_10: f64 = core::f64::consts::LN_10;
