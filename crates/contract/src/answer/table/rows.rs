//! The rows of a table.

use std::sync::LazyLock;

use springwright_chem::composition::linear::LinearSum;
use springwright_chem::composition::state::Solution;
use springwright_chem::composition::totals::{Standing, Totals};
use springwright_chem::equilibrium::carbonation::CO2_MOLAR_MASS;
use springwright_chem::fault::Fault as _;
use springwright_chem::formulation::END_POINT_PH;
use springwright_chem::matter::component::Component;
use springwright_chem::phases::saturation;
use springwright_chem::properties::solved_water::left_out;
use springwright_chem::properties::waters::{Answers, Carbonate, Status, Waters, solve};
use springwright_chem::properties::{Held, SolvedWater};

use super::{EMPTY, Fill, WaterTable};
use crate::answer::source;
use crate::answer::water::MOST_PCO2_BAR;

/// Amounts beyond this are no waters; they are refused before anything is reckoned.
const MOST: f64 = 1e9;

/// A row brought to totals.
struct Reckoned {
    totals: Totals,
    celsius: f64,
    ph: f64,
    left_out: Vec<Component>,
}

impl WaterTable {
    /// Solves rows: `columns` in the order of the names asked for, `cells` in that of [`answered`](Self::answered), all
    /// as long as `codes`. A row that is not answered has its code and [`EMPTY`] cells.
    pub fn solve(&self, columns: &[&[f64]], cells: &mut [&mut [f64]], codes: &mut [Option<&'static str>]) {
        cells.iter_mut().for_each(|column| column.fill(EMPTY));
        let mut sheet = self.sheet.clone();
        let side_by_side = self.held == Held::Closed && self.brought_to_c.is_none();
        let mut together: Vec<(usize, Reckoned)> = Vec::new();
        for (row, code) in codes.iter_mut().enumerate() {
            *code = None;
            let ph = match self.fill_in(&mut sheet, columns, row) {
                Ok(ph) => ph,
                Err(refused) => {
                    *code = Some(refused);
                    continue;
                }
            };
            let (totals, celsius) = match sheet.totals(None) {
                Ok(reckoned) => reckoned,
                Err(faults) => {
                    *code = Some(known_code(faults.first().map_or("", |fault| fault.code.as_str())));
                    continue;
                }
            };
            let known = totals.standing(Component::HCO3) == Standing::Stated;
            match (ph, known && side_by_side) {
                (Some(ph), true) => match left_out(&totals) {
                    Ok(left_out) => together.push((row, Reckoned { totals, celsius, ph, left_out })),
                    Err(error) => *code = Some(error.code()),
                },
                _ => *code = self.alone(&sheet, totals, celsius, cells, row).err(),
            }
        }
        self.side_by_side(&together, cells, codes);
    }

    /// Puts the figures of a row on the sheet; answers its pH.
    fn fill_in(
        &self,
        sheet: &mut super::Sheet,
        columns: &[&[f64]],
        row: usize,
    ) -> Result<Option<f64>, &'static str> {
        let mut ph = None;
        for (fill, column) in self.fills.iter().zip(columns) {
            let value = column[row];
            match fill {
                Fill::Amount(figure, milli) if (0.0..=MOST).contains(&value) => {
                    sheet.set(*figure, value * milli / 1000.0);
                }
                Fill::Ph if (0.0..=14.0).contains(&value) => {
                    sheet.set(super::Figure::Ph, value);
                    ph = Some(value);
                }
                Fill::Temperature if (0.0..=60.0).contains(&value) => sheet.set_temperature(value),
                _ => return Err("out_of_range"),
            }
        }
        Ok(ph)
    }

    /// A row by the way of a single request.
    fn alone(
        &self,
        sheet: &super::Sheet,
        totals: Totals,
        celsius: f64,
        cells: &mut [&mut [f64]],
        row: usize,
    ) -> Result<(), &'static str> {
        let first = |faults: Vec<crate::problem::Fault>| {
            known_code(faults.first().map_or("", |fault| fault.code.as_str()))
        };
        let source = source::reckon(sheet, (totals, celsius), &mut Vec::new()).map_err(first)?;
        let solved = source.solved(self.brought_to_c.unwrap_or(celsius), self.held).map_err(first)?;
        self.write_solved(&solved, cells, row);
        Ok(())
    }

    fn write_solved(&self, solved: &SolvedWater, cells: &mut [&mut [f64]], row: usize) {
        let SolvedWater { solution, state, .. } = solved;
        let current = self.wanted.0[AT_25C] || self.wanted.0[AT_TEMPERATURE];
        let conductivity = current.then(|| solved.conductivity().ok()).flatten();
        let told = [
            state.ph,
            alkalinity(solution),
            state.dic * litre(solution),
            state.co2() * litre(solution) * CO2_MOLAR_MASS,
            pressure(state.pco2()),
            state.ionic_strength,
            solution.density_kg_per_l(),
            conductivity.map_or(EMPTY, |own| own.at_25c),
            conductivity.map_or(EMPTY, |own| own.at_temperature),
        ];
        self.wanted.write(told, cells, row);
        for (at, solid) in self.solids.iter().enumerate() {
            if let Some(found) = saturation::of(state, solid).filter(|_| solved.states_parts_of(solid)) {
                cells[self.wanted.count() + at][row] = found.index;
            }
        }
    }

    /// Rows with alkalinity and pH, solved in lanes.
    fn side_by_side(
        &self,
        rows: &[(usize, Reckoned)],
        cells: &mut [&mut [f64]],
        codes: &mut [Option<&'static str>],
    ) {
        let count = rows.len();
        let totals = amounts(rows);
        let borrowed: Vec<(Component, &[f64])> = totals.iter().map(|(c, column)| (*c, &column[..])).collect();
        let celsius: Vec<f64> = rows.iter().map(|(_, row)| row.celsius).collect();
        let base: Vec<f64> = rows.iter().map(|(_, row)| row.totals.alkalinity()).collect();
        let acidity: Vec<f64> = rows.iter().map(|(_, row)| row.ph).collect();
        let waters = Waters {
            temperature_c: &celsius,
            totals: &borrowed,
            carbonate: [Carbonate::Alkalinity(&base), Carbonate::Ph(&acidity)],
        };
        let solution = |row: usize, celsius: f64, alkalinity: f64, dic: f64| {
            Solution::new(rows[row].1.totals.clone().with_dic(dic).with_alkalinity(alkalinity), celsius).ok()
        };
        let water = |row: usize, celsius: f64, alkalinity: f64, dic: f64| {
            solution(row, celsius, alkalinity, dic).map_or(0.0, |solution| solution.water_kg_per_l())
        };
        let mut status = vec![Status::Answered; count];
        let mut found = vec![vec![EMPTY; count]; SOLVED + self.solids.len()];
        let mut rest = found.iter_mut().map(Vec::as_mut_slice);
        let mut next = || rest.next();
        let wanted = |column: usize, cells| Some(cells).filter(|_| self.wanted.0[column]).flatten();
        let mut answers = Answers {
            status: &mut status,
            ph: next(),
            dic: next(),
            co2: next(),
            pco2_bar: wanted(PRESSURE, next()),
            ionic_strength: next(),
            conductivity_25c: wanted(AT_25C, next()),
            conductivity: wanted(AT_TEMPERATURE, next()),
            water_kg_per_l: Some(&water),
            ..Answers::default()
        };
        answers.saturation = self.solids.iter().copied().zip(rest).collect();
        let solved = solve(&waters, &mut answers);
        drop(answers);
        if let Err(error) = solved {
            rows.iter().for_each(|(row, _)| codes[*row] = Some(error.code()));
            return;
        }
        for (at, (row, reckoned)) in rows.iter().enumerate() {
            let solved = solution(at, celsius[at], base[at], found[1][at]);
            match (status[at].code(), solved) {
                (None, Some(solution)) => self.write_found(reckoned, &solution, &found, at, cells, *row),
                (Some(code), _) => codes[*row] = Some(code),
                (None, None) => codes[*row] = Some("outside_model"),
            }
        }
    }

    fn write_found(
        &self,
        reckoned: &Reckoned,
        solution: &Solution,
        found: &[Vec<f64>],
        at: usize,
        cells: &mut [&mut [f64]],
        row: usize,
    ) {
        let [ph, dic, co2, pco2, strength, at_25c, at_temperature] = core::array::from_fn(|n| found[n][at]);
        let told = [
            ph,
            alkalinity(solution),
            dic * litre(solution),
            co2 * litre(solution) * CO2_MOLAR_MASS,
            pressure(pco2),
            strength,
            solution.density_kg_per_l(),
            at_25c,
            at_temperature,
        ];
        self.wanted.write(told, cells, row);
        let stated = |component| reckoned.totals.standing(component) == Standing::Stated;
        for (column, solid) in self.solids.iter().enumerate() {
            if solid.brings().components.iter().all(|(component, _)| stated(*component)) {
                cells[self.wanted.count() + column][row] = found[SOLVED + column][at];
            }
        }
    }
}

/// The components that any row holds, with a column of their amounts; what was left out of a row is none there.
fn amounts(rows: &[(usize, Reckoned)]) -> Vec<(Component, Vec<f64>)> {
    let amount = |component: Component, row: &Reckoned| {
        if row.left_out.contains(&component) { 0.0 } else { row.totals.amount(component) }
    };
    let there = |component: &Component| rows.iter().any(|(_, row)| row.totals.amount(*component) > 0.0);
    let listed = Component::ALL.into_iter().filter(|c| *c != Component::HCO3 && *c != Component::CO3);
    let column = |component| rows.iter().map(|(_, row)| amount(component, row)).collect();
    listed.filter(there).map(|component| (component, column(component))).collect()
}

/// Columns that the lanes fill, before those of the solids.
const SOLVED: usize = 7;
/// Places of the CO2 pressure and of the conductivities among the answered columns.
const PRESSURE: usize = 4;
const AT_25C: usize = 7;
const AT_TEMPERATURE: usize = 8;

/// The gas law ends; beyond it no pressure is told.
fn pressure(bar: f64) -> f64 {
    if bar <= MOST_PCO2_BAR { bar } else { EMPTY }
}

/// kg of water in a litre as a factor from mol per kg to mmol per litre.
fn litre(solution: &Solution) -> f64 {
    1000.0 * solution.water_kg_per_l()
}

fn alkalinity(solution: &Solution) -> f64 {
    static SUM: LazyLock<LinearSum> = LazyLock::new(|| LinearSum::titrated_alkalinity(END_POINT_PH));
    1000.0 * (SUM.of(solution.totals()) * solution.water_kg_per_l())
}

/// A code that lives as long as the program.
fn known_code(code: &str) -> &'static str {
    const CODES: [&str; 16] = [
        "out_of_range",
        "insufficient",
        "alkalinity_stated_twice",
        "stated_twice",
        "part_exceeds_sum",
        "negative_by_charge",
        "outside_model",
        "temperature_outside_model",
        "too_strong_for_model",
        "amount_out_of_range",
        "no_such_water",
        "not_converged",
        "carbonate_unknown",
        "alkalinity_unknown",
        "no_water",
        "carbonate_stated_twice",
    ];
    CODES.into_iter().find(|known| *known == code).unwrap_or("refused")
}
