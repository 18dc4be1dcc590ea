//! How much of a salt a water holds at saturation: tables by temperature, straight lines between their points.

use std::fmt::Write;

use super::CATALOGUE;
use super::salt::{Confidence, Form, Mark, Salt};
use crate::matter::formula::Formula;

/// Molar mass of water in g/mol, from the table of atomic weights (H 1.008, O 15.999).
const WATER: f64 = 2.0 * 1.008 + 15.999;

/// The solubility table that every hydrate of one salt shares.
#[derive(Clone, Debug)]
pub struct Curve {
    /// Key of the curve.
    pub id: &'static str,
    /// The formula that [`SolubilityPoint::grams`] counts.
    pub of: Formula,
    /// Points by rising temperature.
    pub points: Vec<SolubilityPoint>,
    /// Temperatures at which the solid under a saturated solution changes.
    pub changes: Vec<SolidChange>,
}

/// One point of a solubility table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SolubilityPoint {
    /// Temperature in °C.
    pub celsius: f64,
    /// g of the formula of the curve in 100 g of water.
    pub grams: f64,
    /// How far handbooks stand apart at this point, or a guess for remembered figures, in %.
    pub uncertainty_percent: f64,
    /// Where it comes from.
    pub mark: Mark,
    /// What is to be said about it; empty where nothing is.
    pub note: &'static str,
}

/// A change of the solid that lies under a saturated solution.
#[derive(Clone, Debug)]
pub struct SolidChange {
    /// Lower end of the temperature of change in °C.
    pub lo: f64,
    /// Upper end in °C.
    pub hi: f64,
    /// The solid below.
    pub from: Formula,
    /// The solid above.
    pub to: Formula,
    /// Where it comes from.
    pub mark: Mark,
}

/// The solubility of one salt at one temperature.
#[derive(Clone, Debug, PartialEq)]
pub struct Solubility {
    /// mol of the salt per kg of all solvent water, water of crystallisation included.
    pub mol_per_kg_water: f64,
    /// g of the stated formula that 100 g of poured water dissolve; `None` where the hydrate melts into its own
    /// water, so that any mass of it goes into solution.
    pub grams_per_100_g: Option<f64>,
    /// The formula that the table behind it counts.
    pub basis: String,
    /// How far handbooks stand apart here, or a guess for remembered figures, in %.
    pub uncertainty_percent: f64,
    /// The weaker of the points it rests on.
    pub confidence: Confidence,
    /// What is to be said about it: changes of solid, metastable solids, odd bases.
    pub notes: Vec<String>,
}

impl Curve {
    /// g of [`Curve::of`] in 100 g of water: on a point its value, between two on the straight line, elsewhere
    /// nothing.
    fn at(&self, celsius: f64) -> Option<(f64, SolubilityPoint, SolubilityPoint)> {
        if let Some(point) = self.points.iter().find(|point| point.celsius == celsius) {
            return Some((point.grams, *point, *point));
        }
        let pair =
            self.points.windows(2).find(|pair| pair[0].celsius < celsius && celsius < pair[1].celsius)?;
        let [low, high] = [pair[0], pair[1]];
        let share = (celsius - low.celsius) / (high.celsius - low.celsius);
        Some((low.grams + share * (high.grams - low.grams), low, high))
    }

    /// mol of the salt per kg of all water when `grams` of [`Curve::of`] saturate 100 g of poured water.
    fn molality(&self, grams: f64) -> f64 {
        let mol = grams / self.of.molar_mass();
        1000.0 * mol / (100.0 + mol * self.of.water() * WATER)
    }

    fn notes(&self, low: &SolubilityPoint, high: &SolubilityPoint) -> Vec<String> {
        let mut notes = Vec::new();
        for note in [low.note, high.note] {
            if !note.is_empty() && !notes.iter().any(|own| own == note) {
                notes.push(note.to_string());
            }
        }
        for change in self.changes.iter().filter(|c| c.hi > low.celsius && c.lo < high.celsius) {
            let mut note = format!("the solid changes from {}", change.from.canonical());
            let _ = write!(note, " to {} at {}", change.to.canonical(), change.lo);
            if change.hi > change.lo {
                let _ = write!(note, " to {}", change.hi);
            }
            note.push_str(" °C, between two points of the table, so a straight line is rough here");
            notes.push(note);
        }
        notes
    }
}

impl Salt {
    /// The solubility table it shares with its other hydrates; `None` where none is known.
    pub fn solubility_curve(&self) -> Option<&'static Curve> {
        self.curve.and_then(|at| CATALOGUE.curves.get(at))
    }

    /// Whether it mixes with water in every ratio.
    pub fn is_miscible(&self) -> bool {
        self.miscible
    }

    /// Solubility at a temperature in °C, on a point of its table or between two. `None` where the table does not
    /// reach, where there is none, for what is miscible, and for gases, whose solubility follows their pressure.
    ///
    /// ```
    /// use springwright_chem::matter::catalogue;
    /// let soda = catalogue::find("washing soda")?;
    /// let cold = soda.solubility(10.0).expect("the table starts at 0 °C");
    /// assert_eq!(cold.basis, "Na2CO3");
    /// assert!(soda.solubility(80.0).is_none(), "never extrapolated");
    /// # Ok::<(), catalogue::MatterError>(())
    /// ```
    pub fn solubility(&self, celsius: f64) -> Option<Solubility> {
        if self.form == Form::Gas {
            return None;
        }
        let curve = self.solubility_curve()?;
        let (grams, low, high) = curve.at(celsius)?;
        let molality = curve.molality(grams);
        Some(Solubility {
            mol_per_kg_water: molality,
            grams_per_100_g: self.grams_for(molality, curve),
            basis: curve.of.canonical(),
            uncertainty_percent: low.uncertainty_percent.max(high.uncertainty_percent),
            confidence: low.mark.confidence.max(high.mark.confidence),
            notes: curve.notes(&low, &high),
        })
    }

    /// g of the stated formula that 100 g of poured water dissolve at a temperature in °C. `None` where that is not
    /// known, and where nothing limits it; [`Salt::solubility`] tells which.
    pub fn solubility_g_per_100g(&self, celsius: f64) -> Option<f64> {
        self.solubility(celsius)?.grams_per_100_g
    }

    /// Mass of the stated formula in 100 g of poured water that makes a molality. Each formula unit brings its own
    /// water (or binds some, as CaO does), which dilutes it.
    fn grams_for(&self, molality: f64, curve: &Curve) -> Option<f64> {
        let molar_mass = self.molar_mass()?;
        let dry = curve.of.anhydrous().molar_mass();
        let room = 1000.0 - molality * (molar_mass - dry);
        (room > 0.0).then(|| 100.0 * molality * molar_mass / room)
    }
}
