//! What is read off the last points of a search: the figures that every answer has, and how well the laws hold.

use super::constants::LN_10;
use super::elementary::exp;
use super::gas;
use super::lanes::Lanes;
use super::newton::{Points, Stated};
use super::plan::{Held, Plan};
use super::scale;
use super::scheme::{CARBON, HYDROGEN, Scheme};
use super::species::{Class, table};
use super::values::Values;

/// The figures of the waters of the lanes.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Reading<const L: usize> {
    pub(crate) ph: Lanes<L>,
    pub(crate) alkalinity: Lanes<L>,
    pub(crate) dic: Lanes<L>,
    pub(crate) co2: Lanes<L>,
    /// Ions and molecules of organic acids, mol/kg.
    pub(crate) organic: Lanes<L>,
    /// Residuals of mass, charge and equilibrium.
    pub(crate) mass: Lanes<L>,
    pub(crate) charge: Lanes<L>,
    pub(crate) equilibrium: Lanes<L>,
}

impl<const L: usize> Reading<L> {
    /// The largest residual of a lane; what is not a number is larger than any.
    pub(crate) fn worst(&self, lane: usize) -> f64 {
        self.mass.worse(self.charge).worse(self.equilibrium).0[lane]
    }
}

impl<const L: usize> Points<L> {
    /// Reads the last points; `weak` is the charge of the weak acids as masters.
    pub(crate) fn read(
        &self,
        scheme: &Scheme,
        plan: &Plan,
        values: &Values<L>,
        stated: &Stated<L>,
        weak: Lanes<L>,
    ) -> Reading<L> {
        let convention = scale::ln_gamma_chloride_of(values.slope, self.activity.ionic_strength);
        let chloride = self.activity.ln_coefficient[scheme.chloride];
        let (hydrogen, carbon) = (self.row(scheme, HYDROGEN), self.row(scheme, CARBON));
        let mut organic = Lanes::default();
        for (species, m) in scheme.species.iter().zip(&self.m) {
            if table().species[*species].class == Class::Organic {
                organic += *m;
            }
        }
        let mut reading = Reading {
            ph: -(self.lambda[HYDROGEN] + chloride - convention) / LN_10,
            alkalinity: -hydrogen.0 - weak,
            dic: carbon.0,
            co2: self.m[scheme.co2],
            organic,
            mass: Lanes::default(),
            charge: Lanes::default(),
            equilibrium: self.last,
        };
        let question = plan.question;
        for (master, amount) in stated.amounts.iter().enumerate().skip(CARBON + 1) {
            let off = relative(self.row(scheme, master), *amount);
            reading.mass = reading.mass.worse(off);
        }
        if question.dic {
            reading.mass = reading.mass.worse(relative(carbon, stated.amounts[CARBON]));
        }
        if question.alkalinity {
            reading.charge = relative(hydrogen, stated.amounts[HYDROGEN]);
        }
        let mut held = Lanes::default();
        if question.ph {
            held = LN_10 * (stated.ph - reading.ph).abs();
        }
        match question.gas {
            Some(Held::Molality) => held = held.worse((reading.co2 / stated.gas - 1.0).abs()),
            Some(Held::Activity) if question.carbonate => {
                let pressure = self.pressure(scheme, values) / (1e5 * stated.gas);
                held = held.worse((pressure - 1.0).abs());
            }
            _ => {}
        }
        if question.carbonate || question.ph {
            reading.equilibrium = reading.equilibrium.worse(held);
        }
        reading
    }

    /// Partial pressure of CO2, Pa.
    pub(crate) fn pressure(&self, scheme: &Scheme, values: &Values<L>) -> Lanes<L> {
        let activity = self.m[scheme.co2] * exp(self.activity.ln_coefficient[scheme.co2]);
        gas::partial_pressure_of(values.kelvin, activity)
    }

    /// Σ ν m of one master, and Σ |ν| m.
    fn row(&self, scheme: &Scheme, master: usize) -> (Lanes<L>, Lanes<L>) {
        let (mut sum, mut size) = (Lanes::default(), Lanes::default());
        for (n, m) in scheme.made_of[master].iter().zip(&self.m).filter(|(n, _)| **n != 0.0) {
            sum += *n * *m;
            size += n.abs() * *m;
        }
        (sum, size)
    }
}

fn relative<const L: usize>((sum, size): (Lanes<L>, Lanes<L>), wanted: Lanes<L>) -> Lanes<L> {
    (sum - wanted).abs() / size.at_least(wanted.abs()).at_least(Lanes::all(1e-300))
}
