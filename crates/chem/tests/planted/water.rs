//! Invented waters that balance, and what a laboratory would write of them.

use std::collections::BTreeMap;

use springwright_chem::composition::analysis::{Analysis, Per, Reported};
use springwright_chem::composition::reconciliation::{Of, Row, Sheet};
use springwright_chem::composition::solids::hco3_kept_at_180c;
use springwright_chem::composition::state::Solution;
use springwright_chem::composition::totals::Totals;
use springwright_chem::equilibrium::Known;
use springwright_chem::matter::component::Component;
use springwright_chem::properties::solved_water::with_measured;
use springwright_chem::quantity::{Basis, Measured, Unit};

use super::random::Random;

pub fn of(id: &str) -> Component {
    Component::read(id).unwrap()
}

/// A kind of water: ranges in mg/L; bicarbonate closes the charge.
struct Kind {
    ranges: [(&'static str, f64, f64); 8],
}

/// Soft upland, hard chalk, gypsum, softened, brackish, dolomite, volcanic.
const KINDS: [Kind; 7] = [
    kind(
        [(3.0, 15.0), (0.6, 4.0), (3.0, 14.0), (0.4, 2.0), (3.0, 12.0), (2.0, 10.0), (0.5, 6.0)],
        (2.0, 12.0),
    ),
    kind(
        [(80.0, 130.0), (2.0, 12.0), (8.0, 25.0), (1.0, 4.0), (12.0, 35.0), (10.0, 45.0), (5.0, 40.0)],
        (5.0, 25.0),
    ),
    kind(
        [(120.0, 250.0), (15.0, 50.0), (8.0, 40.0), (1.5, 6.0), (10.0, 50.0), (180.0, 450.0), (1.0, 15.0)],
        (6.0, 20.0),
    ),
    kind(
        [(2.0, 12.0), (0.5, 4.0), (90.0, 220.0), (1.0, 6.0), (15.0, 60.0), (10.0, 60.0), (1.0, 15.0)],
        (6.0, 25.0),
    ),
    kind(
        [(40.0, 110.0), (15.0, 50.0), (90.0, 260.0), (4.0, 15.0), (130.0, 360.0), (40.0, 140.0), (2.0, 20.0)],
        (5.0, 20.0),
    ),
    kind(
        [(50.0, 95.0), (25.0, 50.0), (4.0, 20.0), (0.8, 3.0), (6.0, 25.0), (10.0, 50.0), (2.0, 30.0)],
        (4.0, 15.0),
    ),
    kind(
        [(15.0, 45.0), (8.0, 25.0), (15.0, 50.0), (20.0, 60.0), (10.0, 35.0), (8.0, 35.0), (20.0, 80.0)],
        (30.0, 60.0),
    ),
];

const fn kind(ions: [(f64, f64); 7], silica: (f64, f64)) -> Kind {
    let [ca, mg, na, k, cl, so4, no3] = ions;
    Kind {
        ranges: [
            ("Ca", ca.0, ca.1),
            ("Mg", mg.0, mg.1),
            ("Na", na.0, na.1),
            ("K", k.0, k.1),
            ("Cl", cl.0, cl.1),
            ("SO4", so4.0, so4.1),
            ("NO3", no3.0, no3.1),
            ("SiO2", silica.0, silica.1),
        ],
    }
}

/// What is true of a water: mmol/L by id, and what instruments would read without error.
pub struct Truth {
    pub mmol: BTreeMap<&'static str, f64>,
    pub ph: f64,
    pub conductivity: f64,
    pub residue: f64,
}

pub const TEMPERATURE_C: f64 = 20.0;

impl Truth {
    pub fn draw(random: &mut Random) -> Truth {
        loop {
            let kind = random.pick(&KINDS);
            let mut mmol = BTreeMap::new();
            for (id, least, most) in kind.ranges {
                mmol.insert(id, random.between(least, most) / of(id).molar_mass());
            }
            let charge: f64 = mmol.iter().map(|(id, amount)| f64::from(of(id).charge()) * amount).sum();
            let strength: f64 =
                mmol.iter().map(|(id, amount)| f64::from(of(id).charge().abs()) * amount).sum();
            if charge > 0.15 * strength / 2.0 {
                mmol.insert("HCO3", charge);
                return Truth::of(mmol, 6.9 + 1.3 * random.share());
            }
        }
    }

    /// Conductivity by the solved water at 25 °C; residue by the ions.
    pub fn of(mmol: BTreeMap<&'static str, f64>, ph: f64) -> Truth {
        let mut analysis = Analysis { temperature_c: Some(TEMPERATURE_C), ..Analysis::default() };
        for (id, amount) in &mmol {
            analysis.components.insert(of(id), Reported::new(amount / 1000.0, Per::Litre));
        }
        let totals = Totals::of(&analysis).unwrap().totals;
        let alkalinity = Known::Alkalinity(totals.alkalinity());
        let water = Solution::new(totals, TEMPERATURE_C).unwrap();
        let solved = with_measured(&water, alkalinity, Known::Ph(ph)).unwrap();
        let share = |id: &str| if id == "HCO3" { hco3_kept_at_180c() } else { 1.0 };
        let residue = mmol.iter().map(|(id, amount)| share(id) * amount * of(id).molar_mass()).sum();
        Truth { conductivity: solved.conductivity().unwrap().at_25c, residue, mmol, ph }
    }

    pub fn hardness(&self) -> f64 {
        self.mmol["Ca"] + self.mmol["Mg"]
    }

    /// The true amount of a row in its own unit.
    pub fn amount(&self, row: Of) -> f64 {
        match row {
            Of::Component(component) => self.mmol[component.id()],
            Of::Alkalinity => self.mmol["HCO3"],
            Of::Hardness => self.hardness(),
            Of::SodiumAndPotassium => self.mmol["Na"] + self.mmol["K"],
            Of::Conductivity => self.conductivity,
            Of::Residue180c => self.residue,
            Of::SumOfIons => self.mmol.iter().map(|(id, amount)| amount * of(id).molar_mass()).sum(),
            Of::Salt(_) => 0.0,
        }
    }
}

/// A number as a laboratory writes it: three significant digits, two decimals at most.
pub fn written(value: f64) -> f64 {
    let decimals = if value >= 100.0 {
        0
    } else if value >= 10.0 {
        1
    } else {
        2
    };
    format!("{value:.decimals$}").parse().unwrap()
}

/// Error of the laboratory (k = 1): relative, and absolute in mg/L, mmol/L, µS/cm.
fn error(row: Of) -> (f64, f64) {
    match row {
        Of::Component(component) if component == Component::HCO3 => (0.015, 1.0),
        Of::Component(_) => (0.02, 0.1),
        Of::Alkalinity => (0.015, 1.0),
        Of::Hardness => (0.015, 1.0),
        Of::Conductivity => (0.01, 1.0),
        _ => (0.02, 4.0),
    }
}

/// The unit and basis in which a row is written, and what one mmol (meq, µS/cm, mg) is in it.
pub fn unit(row: Of) -> (Unit, Option<&'static str>, f64) {
    let caco3 = of("Ca").molar_mass() + of("CO3").molar_mass();
    match row {
        Of::Component(component) => (Unit::MG_PER_L, None, component.molar_mass()),
        Of::Alkalinity => (Unit::MG_PER_L, Some("CaCO3"), caco3 / 2.0),
        Of::Hardness => (Unit::MG_PER_L, Some("CaCO3"), caco3),
        Of::Conductivity => (Unit::US_PER_CM, None, 1.0),
        _ => (Unit::MG_PER_L, None, 1.0),
    }
}

pub fn measured(value: f64, unit: Unit, basis: Option<&str>) -> Measured {
    let plain = Measured::new(value, unit).unwrap();
    basis.map_or(plain.clone(), |basis| plain.with_basis(Basis::read(basis).unwrap()).unwrap())
}

/// A sheet of a water without mistake: every row with its error, half of the sheets with their uncertainties.
pub fn sheet(truth: &Truth, random: &mut Random) -> Sheet {
    let mut rows: Vec<Of> =
        ["Ca", "Mg", "Na", "K", "Cl", "SO4", "NO3"].map(|id| Of::Component(of(id))).to_vec();
    rows.push(if random.share() < 0.5 { Of::Alkalinity } else { Of::Component(Component::HCO3) });
    for (row, how_often) in [
        (Of::Hardness, 0.8),
        (Of::Component(Component::SIO2), 0.6),
        (Of::Conductivity, 0.9),
        (Of::Residue180c, 0.7),
    ] {
        if random.share() < how_often {
            rows.push(row);
        }
    }
    let states_uncertainty = random.share() < 0.5;
    let rows = rows.into_iter().map(|row| {
        let (unit, basis, factor) = unit(row);
        let true_value = truth.amount(row) * factor;
        let (relative, absolute) = error(row);
        let size = (relative * true_value).hypot(absolute);
        let value = written((true_value + size * random.normal()).max(0.01));
        let measured = measured(value, unit, basis);
        let measured = if states_uncertainty {
            measured.with_uncertainty(written(size), None).unwrap()
        } else {
            measured
        };
        Row { of: row, measured }
    });
    let rows = rows.collect();
    let ph = (random.share() < 0.9).then(|| (truth.ph * 10.0).round() / 10.0);
    Sheet { rows, ph, temperature_c: Some(TEMPERATURE_C), ..Sheet::default() }
}
