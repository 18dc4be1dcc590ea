//! Electrolytic conductivity: the curves of single salts, mixed by equivalent fractions.
//!
//! Concentrations are mol per litre of solution and conductivities per equivalent. Each cation with each anion
//! follows the curve of its own salt, Λ = (λ + λ')(1 + d I) - S √I / (1 + b √I), with the limiting slope S of Onsager;
//! they are weighted by E E'/N with E = c|z| and N = ½ Σ E. For one salt that is the salt; at infinite dilution it is
//! the sum of the ions. The activity model holds the association of Ca and Mg with sulfate and bicarbonate inside its
//! parameters, but conductance sees it, so it is solved once more here and used nowhere else.
//!
//! Holds at 0 to 60 °C to an ionic strength of 1 mol/L for salts of Na and K, 0.6 with Ca or Mg; sugar and alcohol,
//! which thicken the water, are not in it.

use super::viscosity::kestin_1978;
use crate::equilibrium::constants::{
    AVOGADRO, BOLTZMANN, ELEMENTARY_CHARGE, FARADAY, GAS, REFERENCE, VACUUM_PERMITTIVITY, ZERO_CELSIUS,
};
use crate::equilibrium::temperature::number;
use crate::equilibrium::validity::WATERS_C;
use crate::equilibrium::water::permittivity;
use crate::equilibrium::{EquilibriumError, Speciation};
use crate::table::Table;
use libm::{exp, log};
use std::sync::LazyLock;

/// Distance of closest approach in the association, m. It belongs to the constants and sizes of the tables.
const APPROACH: f64 = 6.0e-10;
/// How much the slope d of potassium salts moves with temperature: per K and per K², L/mol.
const POTASSIUM: (f64, f64) = (-8.72e-4, 1.71e-5);
/// Highest temperature, °C.
const HOTTEST: f64 = 60.0;
/// Highest ionic strength, mol/L, of salts of Na and K and of others.
const STRONGEST: [(f64, &str); 2] =
    [(1.0, "the conductivity of salts of Na and K"), (0.6, "the conductivity of salts of Ca and Mg")];
/// A share of the ionic strength that does not decide the limit.
const MINOR: f64 = 0.02;
/// Most steps of the association.
const MOST_STEPS: usize = 400;

struct Ion {
    id: &'static str,
    lambda: f64,
    p: f64,
    r: f64,
}

struct Salt {
    cation: &'static str,
    anion: &'static str,
    b: f64,
    d: f64,
}

struct Association {
    cation: &'static str,
    anion: &'static str,
    pair: &'static str,
    k: f64,
    heat: f64,
}

struct Tables {
    ions: Vec<Ion>,
    salts: Vec<Salt>,
    associations: Vec<Association>,
}

static TABLES: LazyLock<Tables> = LazyLock::new(|| Tables {
    ions: Table::read(include_str!("../../data/conductivity_ions.tsv"))
        .rows()
        .map(|row| Ion {
            id: row.text("ion"),
            lambda: number(&row, "lambda_25"),
            p: number(&row, "p"),
            r: number(&row, "r"),
        })
        .collect(),
    salts: Table::read(include_str!("../../data/conductivity_salts.tsv"))
        .rows()
        .map(|row| Salt {
            cation: row.text("cation"),
            anion: row.text("anion"),
            b: number(&row, "b"),
            d: number(&row, "d"),
        })
        .collect(),
    associations: Table::read(include_str!("../../data/conductivity_pairs.tsv"))
        .rows()
        .map(|row| Association {
            cation: row.text("cation"),
            anion: row.text("anion"),
            pair: row.text("pair"),
            k: number(&row, "k_25"),
            heat: number(&row, "heat_kj"),
        })
        .collect(),
});

/// An ion in solution: its name, charge number and concentration, mol/L.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Dissolved {
    pub(crate) id: &'static str,
    pub(crate) charge: f64,
    pub(crate) concentration: f64,
}

/// What of the medium the curves need, at one temperature.
#[derive(Clone, Copy, Debug)]
struct Medium {
    kelvin: f64,
    /// Screening length inverse at an ionic strength of 1 mol/L, 1/m.
    screening: f64,
    /// Bjerrum length, m.
    bjerrum: f64,
    /// Slopes of the relaxation and of the electrophoretic effect.
    relaxation: f64,
    electrophoretic: f64,
    /// ln of the viscosity at 25 °C over that here.
    thinner: f64,
}

impl Medium {
    fn at(kelvin: f64) -> Medium {
        let pi = core::f64::consts::PI;
        let thermal = VACUUM_PERMITTIVITY * permittivity(kelvin, 1.01325) * BOLTZMANN * kelvin;
        let square = ELEMENTARY_CHARGE * ELEMENTARY_CHARGE;
        let screening = (2.0 * AVOGADRO * square * 1000.0 / thermal).sqrt();
        let bjerrum = square / (4.0 * pi * thermal);
        let viscosity = kestin_1978(kelvin);
        Medium {
            kelvin,
            screening,
            bjerrum,
            relaxation: bjerrum * screening / 3.0,
            electrophoretic: FARADAY * ELEMENTARY_CHARGE * screening / (6.0 * pi * viscosity) * 1e4,
            thinner: log(kestin_1978(REFERENCE) / viscosity),
        }
    }

    fn lambda(&self, ion: &Dissolved) -> f64 {
        let found = TABLES.ions.iter().find(|row| row.id == ion.id);
        let class = match ion.charge.abs() as i32 {
            1 => "one",
            2 => "two",
            _ => "three",
        };
        let row = found.or_else(|| TABLES.ions.iter().find(|row| row.id == class));
        row.map_or(0.0, |row| row.lambda * exp(self.thinner * (row.p + row.r * self.thinner)))
    }

    /// The conductivity per equivalent of a cation with an anion at ionic strength `i`, mol/L.
    fn salt(&self, cation: &Mobile, anion: &Mobile, i: f64) -> f64 {
        let (z, w) = (cation.ion.charge, -anion.ion.charge);
        let (l, k) = (cation.lambda, anion.lambda);
        let q = z * w * (l + k) / ((z + w) * (w * l + z * k));
        let slope = self.relaxation * z * w * q / (1.0 + q.sqrt()) * (l + k) + self.electrophoretic * (z + w);
        let (b, mut d) = curve(&cation.ion, &anion.ion);
        if cation.ion.id == "K" {
            let warmer = self.kelvin - REFERENCE;
            d += warmer * (POTASSIUM.0 + warmer * POTASSIUM.1);
        }
        (l + k) * (1.0 + d * i) - slope * i.sqrt() / (1.0 + b * i.sqrt())
    }
}

struct Mobile {
    ion: Dissolved,
    lambda: f64,
}

fn curve(cation: &Dissolved, anion: &Dissolved) -> (f64, f64) {
    let own = TABLES.salts.iter().find(|row| row.cation == cation.id && row.anion == anion.id);
    let classes = ["0", "1", "2", "3"];
    let number = |charge: f64| classes[(charge.abs() as usize).min(3)];
    let class = |row: &&Salt| row.cation == number(cation.charge) && row.anion == number(anion.charge);
    own.or_else(|| TABLES.salts.iter().find(class)).map_or((1.4, 0.0), |row| (row.b, row.d))
}

fn strength(ions: &[Dissolved]) -> f64 {
    0.5 * ions.iter().map(|ion| ion.charge * ion.charge * ion.concentration).sum::<f64>()
}

/// Takes the pairs of Ca and Mg with sulfate, and with bicarbonate where `bicarbonate` says so, out of the free ions.
fn associate(medium: &Medium, ions: &mut Vec<Dissolved>, bicarbonate: bool) {
    let place = |ions: &[Dissolved], id: &str| ions.iter().position(|ion| ion.id == id);
    let totals: Vec<f64> = ions.iter().map(|ion| ion.concentration).collect();
    let free_count = ions.len();
    let mut pairs: Vec<(usize, usize, Option<usize>, f64, f64)> = Vec::new();
    for row in TABLES.associations.iter().filter(|row| bicarbonate || row.anion == "SO4") {
        let (Some(c), Some(a)) =
            (place(&ions[..free_count], row.cation), place(&ions[..free_count], row.anion))
        else {
            continue;
        };
        let k = row.k * exp(-row.heat * 1000.0 / GAS * (1.0 / medium.kelvin - 1.0 / REFERENCE));
        let (z, w) = (ions[c].charge, ions[a].charge);
        let charge = z + w;
        let charged = (!row.pair.is_empty()).then(|| {
            ions.push(Dissolved { id: row.pair, charge, concentration: 0.0 });
            ions.len() - 1
        });
        pairs.push((c, a, charged, k, charge * charge - z * z - w * w));
    }
    for _ in 0..MOST_STEPS {
        let screening = medium.screening * strength(ions).sqrt();
        let exponent = medium.bjerrum * screening / (2.0 * (1.0 + screening * APPROACH));
        let bound = |k: f64, squares: f64| k * exp(squares * exponent);
        let mut moved: f64 = 0.0;
        for at in 0..free_count {
            let mut taken = 0.0;
            for (c, a, _, k, squares) in &pairs {
                if *c == at || *a == at {
                    taken += bound(*k, *squares) * ions[*c + *a - at].concentration;
                }
            }
            let next = totals[at] / (1.0 + taken);
            moved = moved.max((next - ions[at].concentration).abs() - 1e-13 * totals[at]);
            ions[at].concentration = next;
        }
        for (c, a, charged, k, squares) in &pairs {
            let amount = bound(*k, *squares) * ions[*c].concentration * ions[*a].concentration;
            if let Some(pair) = charged {
                ions[*pair].concentration = amount;
            }
        }
        if moved <= 0.0 {
            break;
        }
    }
}

/// Conductivity of ions at concentrations in mol/L, µS/cm.
pub(crate) fn of_ions(kelvin: f64, ions: &[Dissolved], bicarbonate: bool) -> f64 {
    let medium = Medium::at(kelvin);
    let mut ions = ions.to_vec();
    associate(&medium, &mut ions, bicarbonate);
    let i = strength(&ions);
    let mobile: Vec<Mobile> =
        ions.iter().map(|ion| Mobile { ion: *ion, lambda: medium.lambda(ion) }).collect();
    let equivalents = |ion: &Mobile| ion.ion.concentration * ion.ion.charge.abs();
    let half: f64 = 0.5 * mobile.iter().map(equivalents).sum::<f64>();
    if half <= 0.0 {
        return 0.0;
    }
    let mut kappa = 0.0;
    for cation in mobile.iter().filter(|ion| ion.ion.charge > 0.0 && ion.ion.concentration > 0.0) {
        for anion in mobile.iter().filter(|ion| ion.ion.charge < 0.0 && ion.ion.concentration > 0.0) {
            kappa += equivalents(cation) * equivalents(anion) / half * medium.salt(cation, anion, i);
        }
    }
    1000.0 * kappa
}

/// Conductivity of a solved water at its own temperature, µS/cm. `water_kg_per_l` is the water in a litre of the
/// solution, from its density. For the conductivity at 25 °C solve the same water at 25 °C: never a factor.
///
/// # Errors
/// A water above 60 °C, or stronger than 1 mol/L, with Ca or Mg than 0.6.
///
/// ```
/// use springwright_chem::equilibrium::{Given, Known, Model};
/// use springwright_chem::matter::component::Component;
/// use springwright_chem::properties::conductivity::conductivity;
/// use springwright_chem::quantity::bounds::Celsius;
/// let model = Model::at(Celsius::new(25.0)?)?;
/// let salt = Given::new(Known::Alkalinity(0.0), Known::Dic(0.0));
/// let state = model.speciate(&salt.with(Component::K, 0.01).with(Component::CL, 0.01))?;
/// // the standard of 0.01 mol/kg KCl: 1408.23 µS/cm
/// assert!((conductivity(&state, 0.99670)? - 1408.2).abs() < 3.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn conductivity(state: &Speciation, water_kg_per_l: f64) -> Result<f64, EquilibriumError> {
    let celsius = state.celsius();
    if celsius > HOTTEST {
        return Err(EquilibriumError::Temperature { celsius, low: WATERS_C.0, high: HOTTEST });
    }
    let charged = state.species().filter(|(_, charge, m)| *charge != 0 && *m > 0.0);
    let ions: Vec<Dissolved> = charged
        .map(|(id, charge, m)| Dissolved { id, charge: f64::from(charge), concentration: m * water_kg_per_l })
        .collect();
    let ionic_strength = strength(&ions);
    let hard: f64 = ions.iter().filter(|ion| ion.charge >= 2.0).map(|ion| 2.0 * ion.concentration).sum();
    let (most, what) = if hard > MINOR * ionic_strength { STRONGEST[1] } else { STRONGEST[0] };
    if ionic_strength > most {
        return Err(EquilibriumError::TooStrong { ionic_strength, most, what });
    }
    Ok(of_ions(celsius + ZERO_CELSIUS, &ions, true))
}
