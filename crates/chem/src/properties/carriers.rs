//! What carries current: the ions of a scheme with their conductivities, the curve of each salt, and the pairs that
//! conductance sees.

use crate::equilibrium::species_table;
use crate::equilibrium::temperature::number;
use crate::table::Table;
use std::sync::LazyLock;

/// Size b and slope d where no row of the table fits.
const OTHERWISE: (f64, f64) = (1.4, 0.0);

/// One ion: its conductivity per equivalent at 25 °C, S cm²/eq, and how it follows the viscosity.
#[derive(Clone, Copy, Debug)]
struct Ion {
    charge: f64,
    lambda: f64,
    bend: (f64, f64),
    potassium: bool,
}

/// A pair that conductance sees: its ions, the charged pair it makes, K at 25 °C (L/mol) and heat (J/mol).
#[derive(Clone, Copy, Debug)]
struct Association {
    cation: usize,
    anion: usize,
    pair: Option<usize>,
    k: f64,
    heat: f64,
}

struct Tables {
    /// By index in the species table; behind them the charged pairs.
    ions: Vec<Option<Ion>>,
    /// b and d of every cation with every anion of `ions`.
    curves: Vec<(f64, f64)>,
    associations: Vec<Association>,
}

static TABLES: LazyLock<Tables> = LazyLock::new(|| {
    let species = &species_table().species;
    let mut named: Vec<(&'static str, f64)> =
        species.iter().map(|species| (species.id, f64::from(species.charge))).collect();
    let place = |named: &[(&str, f64)], id: &str| named.iter().position(|(own, _)| *own == id);
    let mut associations = Vec::new();
    for row in Table::read(include_str!("../../data/conductivity_pairs.tsv")).rows() {
        let ion = |column: &str| {
            place(&named, row.text(column)).expect("a compiled-in pair row names species of the table")
        };
        let (cation, anion) = (ion("cation"), ion("anion"));
        let pair = (!row.text("pair").is_empty()).then(|| {
            named.push((row.text("pair"), named[cation].1 + named[anion].1));
            named.len() - 1
        });
        let (k, heat) = (number(&row, "k_25"), 1000.0 * number(&row, "heat_kj"));
        associations.push(Association { cation, anion, pair, k, heat });
    }
    let curves = curves(&named);
    Tables { ions: ions(&named), curves, associations }
});

fn ions(named: &[(&'static str, f64)]) -> Vec<Option<Ion>> {
    let table = Table::read(include_str!("../../data/conductivity_ions.tsv"));
    let found = |wanted: &str| table.rows().find(|row| row.text("ion") == wanted);
    let ion = |(id, charge): &(&'static str, f64)| {
        let class = ["one", "one", "two", "three"][(charge.abs() as usize).min(3)];
        let row = found(id).or_else(|| found(class)).filter(|_| *charge != 0.0)?;
        let bend = (number(&row, "p"), number(&row, "r"));
        let lambda = number(&row, "lambda_25");
        Some(Ion { charge: *charge, lambda, bend, potassium: *id == "K" })
    };
    named.iter().map(ion).collect()
}

fn curves(named: &[(&'static str, f64)]) -> Vec<(f64, f64)> {
    let table = Table::read(include_str!("../../data/conductivity_salts.tsv"));
    let find = |cation: &str, anion: &str| {
        let row = table.rows().find(|row| row.text("cation") == cation && row.text("anion") == anion)?;
        Some((number(&row, "b"), number(&row, "d")))
    };
    let class = |charge: f64| ["0", "1", "2", "3"][(charge.abs() as usize).min(3)];
    let mut curves = vec![OTHERWISE; named.len() * named.len()];
    for (c, (cation, z)) in named.iter().enumerate().filter(|(_, (_, z))| *z > 0.0) {
        for (a, (anion, w)) in named.iter().enumerate().filter(|(_, (_, w))| *w < 0.0) {
            let own = find(cation, anion).or_else(|| find(class(*z), class(*w)));
            curves[c * named.len() + a] = own.unwrap_or(OTHERWISE);
        }
    }
    curves
}

/// One ion of the solution.
#[derive(Clone, Copy, Debug)]
pub(super) struct Carrier {
    /// Its place among the species; none for a pair that only conductance sees.
    pub(super) place: Option<usize>,
    pub(super) charge: f64,
    /// Conductivity per equivalent at 25 °C.
    pub(super) lambda: f64,
    /// Which bend it follows.
    pub(super) bend: usize,
}

/// One cation with one anion.
#[derive(Clone, Copy, Debug)]
pub(super) struct Salt {
    pub(super) cation: usize,
    pub(super) anion: usize,
    /// Which size.
    pub(super) size: usize,
    pub(super) d: f64,
    /// Whether d is that of a potassium salt, which moves with temperature.
    pub(super) potassium: bool,
}

/// Two ions that pair.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bond {
    pub(super) cation: usize,
    pub(super) anion: usize,
    pub(super) pair: Option<usize>,
    pub(super) k: f64,
    pub(super) heat: f64,
    /// Change of the squares of the charges, as a place among `squares`.
    pub(super) square: usize,
}

/// The carriers of one list of species.
#[derive(Clone, Debug, Default)]
pub(crate) struct Carriers {
    pub(super) ions: Vec<Carrier>,
    pub(super) salts: Vec<Salt>,
    pub(super) bonds: Vec<Bond>,
    /// The ions that pair.
    pub(super) pairing: Vec<usize>,
    /// Exponents of the viscosity, each standing once.
    pub(super) bends: Vec<(f64, f64)>,
    /// Sizes b, each standing once.
    pub(super) sizes: Vec<f64>,
    pub(super) squares: Vec<f64>,
}

fn once<T: PartialEq>(list: &mut Vec<T>, value: T) -> usize {
    list.iter().position(|own| *own == value).unwrap_or_else(|| {
        list.push(value);
        list.len() - 1
    })
}

impl Carriers {
    /// The carriers among species given by their indices in the species table; with the pairs of bicarbonate or without.
    pub(crate) fn of(species: &[usize], bicarbonate: bool) -> Carriers {
        let tables = &*TABLES;
        let mut carriers = Carriers::default();
        let mut rows = Vec::new(); // of the tables, by carrier
        let mut add = |carriers: &mut Carriers, row: usize, place: Option<usize>| -> Option<usize> {
            let Ion { charge, lambda, bend, .. } = tables.ions[row]?;
            let bend = once(&mut carriers.bends, bend);
            carriers.ions.push(Carrier { place, charge, lambda, bend });
            rows.push(row);
            Some(rows.len() - 1)
        };
        let mut here = vec![None; tables.ions.len()];
        for (place, row) in species.iter().enumerate() {
            here[*row] = add(&mut carriers, *row, Some(place));
        }
        for bond in &tables.associations {
            let (Some(cation), Some(anion)) = (here[bond.cation], here[bond.anion]) else { continue };
            if bond.pair.is_some() && !bicarbonate {
                continue;
            }
            let (z, w) = (carriers.ions[cation].charge, carriers.ions[anion].charge);
            let square = once(&mut carriers.squares, (z + w) * (z + w) - z * z - w * w);
            let pair = bond.pair.and_then(|pair| add(&mut carriers, pair, None));
            carriers.bonds.push(Bond { cation, anion, pair, k: bond.k, heat: bond.heat, square });
            once(&mut carriers.pairing, cation);
            once(&mut carriers.pairing, anion);
        }
        carriers.pair_up(&rows);
        carriers
    }

    fn pair_up(&mut self, rows: &[usize]) {
        let tables = &*TABLES;
        for cation in (0..rows.len()).filter(|at| self.ions[*at].charge > 0.0) {
            for anion in (0..rows.len()).filter(|at| self.ions[*at].charge < 0.0) {
                let (b, d) = tables.curves[rows[cation] * tables.ions.len() + rows[anion]];
                let size = once(&mut self.sizes, b);
                let potassium = tables.ions[rows[cation]].is_some_and(|ion| ion.potassium);
                self.salts.push(Salt { cation, anion, size, d, potassium });
            }
        }
    }
}
