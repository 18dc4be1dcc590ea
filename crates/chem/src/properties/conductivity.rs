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

use super::carriers::{Carrier, Carriers};
use super::viscosity::kestin_1978_of;
use crate::equilibrium::constants::{
    AVOGADRO, BOLTZMANN, ELEMENTARY_CHARGE, FARADAY, GAS, REFERENCE, VACUUM_PERMITTIVITY, ZERO_CELSIUS,
};
use crate::equilibrium::elementary::{exp, log};
use crate::equilibrium::lanes::Lanes;
use crate::equilibrium::validity::WATERS_C;
use crate::equilibrium::water::permittivity_of;
use crate::equilibrium::{EquilibriumError, Speciation};

/// Distance of closest approach in the association, m. It belongs to the constants and sizes of the tables.
const APPROACH: f64 = 6.0e-10;
/// How much the slope d of potassium salts moves with temperature: per K and per K², L/mol.
const POTASSIUM: (f64, f64) = (-8.72e-4, 1.71e-5);
/// Highest temperature, °C.
pub(crate) const HOTTEST: f64 = 60.0;
/// Highest ionic strength, mol/L, of salts of Na and K and of others.
const STRONGEST: [(f64, &str); 2] =
    [(1.0, "the conductivity of salts of Na and K"), (0.6, "the conductivity of salts of Ca and Mg")];
/// A share of the ionic strength that does not decide the limit.
const MINOR: f64 = 0.02;
/// Most steps of the association.
const MOST_STEPS: usize = 400;

/// What of the medium the curves need, at the temperature of each lane.
struct Medium<const L: usize> {
    /// Screening length inverse at an ionic strength of 1 mol/L, 1/m.
    screening: Lanes<L>,
    /// Bjerrum length, m.
    bjerrum: Lanes<L>,
    /// Slopes of the relaxation and of the electrophoretic effect.
    relaxation: Lanes<L>,
    electrophoretic: Lanes<L>,
    /// ln of the viscosity at 25 °C over that here.
    thinner: Lanes<L>,
}

impl<const L: usize> Medium<L> {
    fn at(kelvin: Lanes<L>) -> Self {
        const PI: f64 = core::f64::consts::PI;
        const SQUARE: f64 = ELEMENTARY_CHARGE * ELEMENTARY_CHARGE;
        let thermal = VACUUM_PERMITTIVITY * BOLTZMANN * permittivity_of(kelvin, 1.01325) * kelvin;
        let screening = (2.0 * AVOGADRO * SQUARE * 1000.0 / thermal).sqrt();
        let bjerrum = SQUARE / (4.0 * PI) / thermal;
        let viscosity = kestin_1978_of(kelvin);
        let drag = FARADAY * ELEMENTARY_CHARGE / (6.0 * PI) * 1e4;
        Medium {
            screening,
            bjerrum,
            relaxation: bjerrum * screening / 3.0,
            electrophoretic: drag * screening / viscosity,
            thinner: log(kestin_1978_of(Lanes::all(REFERENCE)) / viscosity),
        }
    }
}

/// The conductance of the waters of the lanes: what depends on temperature alone is kept from one call to the next.
pub(crate) struct Conductance<const L: usize> {
    carriers: Carriers,
    kelvin: Lanes<L>,
    medium: Medium<L>,
    /// Of each salt: λ + λ', the same times d, and the limiting slope.
    salts: Vec<[Lanes<L>; 3]>,
    /// Association constants, L/mol.
    bonds: Vec<Lanes<L>>,
    concentration: Vec<Lanes<L>>,
    total: Vec<Lanes<L>>,
    bound: Vec<Lanes<L>>,
    sizes: Vec<Lanes<L>>,
}

impl<const L: usize> Conductance<L> {
    pub(crate) fn new(carriers: Carriers) -> Self {
        Conductance {
            kelvin: Lanes::all(f64::NAN),
            medium: Medium::at(Lanes::all(REFERENCE)),
            salts: Vec::new(),
            bonds: Vec::new(),
            concentration: Vec::new(),
            total: Vec::new(),
            bound: Vec::new(),
            sizes: Vec::new(),
            carriers,
        }
    }

    fn move_to(&mut self, kelvin: Lanes<L>) {
        if self.kelvin == kelvin {
            return;
        }
        self.kelvin = kelvin;
        self.medium = Medium::at(kelvin);
        let Medium { thinner, relaxation, electrophoretic, .. } = self.medium;
        let Carriers { ions, salts, bonds, bends, .. } = &self.carriers;
        self.sizes.clear();
        self.sizes.extend(bends.iter().map(|(p, r)| exp(thinner * (*p + *r * thinner))));
        let lambda = |ion: &Carrier| ion.lambda * self.sizes[ion.bend];
        let warmer = kelvin - REFERENCE;
        let potassium = warmer * (POTASSIUM.0 + warmer * POTASSIUM.1);
        self.salts.clear();
        for salt in salts {
            let (cation, anion) = (&ions[salt.cation], &ions[salt.anion]);
            let (z, w) = (cation.charge, -anion.charge);
            let (l, k) = (lambda(cation), lambda(anion));
            let sum = l + k;
            // q = z w (λ + λ')/((z + w)(w λ + z λ')) is one half where the charges are alike
            let part = if z == w {
                Lanes::all(0.5 / (1.0 + core::f64::consts::FRAC_1_SQRT_2))
            } else {
                let q = (z * w / (z + w)) * sum / (w * l + z * k);
                q / (1.0 + q.sqrt())
            };
            let slope = (z * w) * relaxation * part * sum + (z + w) * electrophoretic;
            let d = if salt.potassium { potassium + salt.d } else { Lanes::all(salt.d) };
            self.salts.push([sum, sum * d, slope]);
        }
        let colder = 1.0 / kelvin - 1.0 / REFERENCE;
        self.bonds.clear();
        self.bonds.extend(bonds.iter().map(|bond| bond.k * exp(-bond.heat / GAS * colder)));
    }

    fn strength(&self) -> Lanes<L> {
        let mut sum = Lanes::default();
        for (ion, concentration) in self.carriers.ions.iter().zip(&self.concentration) {
            sum += (0.5 * ion.charge * ion.charge) * *concentration;
        }
        sum
    }

    /// Takes the pairs out of the free ions. A lane that has settled is not touched again.
    fn associate(&mut self) {
        let mut settled = [self.carriers.bonds.is_empty(); L];
        for _ in 0..MOST_STEPS {
            if settled.iter().all(|settled| *settled) {
                break;
            }
            let screening = self.medium.screening * self.strength().sqrt();
            let exponent = self.medium.bjerrum * screening / (2.0 * (1.0 + screening * APPROACH));
            let Carriers { bonds, squares, pairing, .. } = &self.carriers;
            self.sizes.clear();
            self.sizes.extend(squares.iter().map(|square| exp(*square * exponent)));
            self.bound.clear();
            self.bound.extend(bonds.iter().zip(&self.bonds).map(|(bond, k)| *k * self.sizes[bond.square]));
            let mut moved = Lanes::default();
            for at in pairing {
                let mut taken = Lanes::default();
                for (bond, k) in bonds.iter().zip(&self.bound) {
                    if bond.cation == *at || bond.anion == *at {
                        taken += *k * self.concentration[bond.cation + bond.anion - at];
                    }
                }
                let (total, old) = (self.total[*at], self.concentration[*at]);
                let next = total / (1.0 + taken);
                moved = moved.at_least((next - old).abs() - 1e-13 * total);
                self.concentration[*at] =
                    Lanes::of(|lane| if settled[lane] { old.0[lane] } else { next.0[lane] });
            }
            for (bond, k) in bonds.iter().zip(&self.bound) {
                let Some(pair) = bond.pair else { continue };
                let amount = *k * self.concentration[bond.cation] * self.concentration[bond.anion];
                let old = self.concentration[pair];
                self.concentration[pair] =
                    Lanes::of(|lane| if settled[lane] { old.0[lane] } else { amount.0[lane] });
            }
            // what is not a number does not settle and ends with the count
            settled.iter_mut().zip(moved.0).for_each(|(settled, moved)| *settled |= moved <= 0.0);
        }
    }

    /// Conductivity at temperatures in kelvin and molalities `m` by species, with the water in a litre in kg, µS/cm.
    pub(crate) fn conductivity(
        &mut self,
        kelvin: Lanes<L>,
        m: &[Lanes<L>],
        water_kg_per_l: Lanes<L>,
    ) -> Lanes<L> {
        self.move_to(kelvin);
        self.concentration.clear();
        let of = |ion: &Carrier| ion.place.map_or(Lanes::default(), |place| m[place] * water_kg_per_l);
        self.concentration.extend(self.carriers.ions.iter().map(of));
        self.total.clone_from(&self.concentration);
        self.associate();
        let i = self.strength();
        let root = i.sqrt();
        self.sizes.clear();
        self.sizes.extend(self.carriers.sizes.iter().map(|b| root / (1.0 + *b * root)));
        let mut half = Lanes::default();
        for (ion, concentration) in self.carriers.ions.iter().zip(&mut self.concentration) {
            *concentration = *concentration * ion.charge.abs();
            half += 0.5 * *concentration;
        }
        let mut kappa = Lanes::default();
        for (salt, [sum, bend, slope]) in self.carriers.salts.iter().zip(&self.salts) {
            let each = *sum + *bend * i - *slope * self.sizes[salt.size];
            kappa += self.concentration[salt.cation] * self.concentration[salt.anion] * each;
        }
        1000.0 * kappa / half.at_least(Lanes::all(1e-300))
    }
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
    let scheme = &state.system.scheme;
    let sums = |places: &mut dyn Iterator<Item = (f64, f64)>| -> (f64, f64) {
        places.fold((0.0, 0.0), |(i, hard), (z, m)| {
            let charged = z * m * water_kg_per_l;
            (i + 0.5 * z * charged, if z >= 2.0 { hard + 2.0 * charged / z } else { hard })
        })
    };
    let (strength, hard) = sums(&mut scheme.charge.iter().copied().zip(state.molality.iter().copied()));
    within(celsius, strength, hard)?;
    let m: Vec<Lanes<1>> = state.molality.iter().map(|m| Lanes([*m])).collect();
    let mut conductance = Conductance::new(Carriers::of(&scheme.species, true));
    let kelvin = Lanes([celsius + ZERO_CELSIUS]);
    Ok(conductance.conductivity(kelvin, &m, Lanes([water_kg_per_l])).0[0])
}

/// Part of the ions by which a conductivity is moved to take its slope.
const MOVED: f64 = 1e-4;

/// The slopes of the conductivity of a solved water along moves of the molalities of its species, µS/cm: the property is
/// taken as a difference along moves that are exact.
pub(crate) fn slopes_along(
    state: &Speciation,
    water_kg_per_l: f64,
    moves: impl Iterator<Item = Vec<f64>>,
) -> Vec<f64> {
    let scheme = &state.system.scheme;
    let mut conductance = Conductance::<2>::new(Carriers::of(&scheme.species, true));
    let kelvin = Lanes::all(state.celsius() + ZERO_CELSIUS);
    let charged = || (0..scheme.charge.len()).filter(|place| scheme.charge[*place] != 0.0);
    let slope = |by: Vec<f64>| {
        let all: f64 = charged().map(|place| state.molality[place]).sum();
        let moving: f64 = charged().map(|place| by[place].abs()).sum();
        if moving == 0.0 {
            return 0.0;
        }
        let room = |place: usize| 0.5 * state.molality[place] / by[place].abs();
        let present = charged().filter(|place| by[*place] != 0.0 && state.molality[*place] > 0.0);
        let step = present.map(room).fold(MOVED * all / moving, f64::min);
        let pair = |(m, by): (&f64, &f64)| Lanes([(m + step * by).max(0.0), (m - step * by).max(0.0)]);
        let m: Vec<Lanes<2>> = state.molality.iter().zip(&by).map(pair).collect();
        let [up, down] = conductance.conductivity(kelvin, &m, Lanes::all(water_kg_per_l)).0;
        (up - down) / (2.0 * step)
    };
    moves.map(slope).collect()
}

/// Whether the equation holds at a temperature in °C for an ionic strength and for twice the ions of charge 2 and more,
/// mol/L.
pub(crate) fn within(celsius: f64, ionic_strength: f64, hard: f64) -> Result<(), EquilibriumError> {
    if celsius > HOTTEST {
        return Err(EquilibriumError::Temperature { celsius, low: WATERS_C.0, high: HOTTEST });
    }
    let (most, what) = if hard > MINOR * ionic_strength { STRONGEST[1] } else { STRONGEST[0] };
    if ionic_strength > most {
        return Err(EquilibriumError::TooStrong { ionic_strength, most, what });
    }
    Ok(())
}
