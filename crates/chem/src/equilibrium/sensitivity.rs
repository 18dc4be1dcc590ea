//! How every output moves with every input, exactly, by the implicit function theorem.
//!
//! With x = ln m and λ = ln of the master activities a solved state satisfies x + ln γ(m) = ln K + Σ ν λ + w ln a_w(m)
//! for each species and one condition for each master. Both are differentiated with the analytic derivatives of the
//! activity coefficients; the species are eliminated first, so what is left is as small as the number of components.

use super::constants::{LN_10, WATER_MOLAR_MASS};
use super::gas;
use super::linear;
use super::scale;
use super::scheme::{CARBON, HYDROGEN};
use super::speciation::Speciation;
use super::species::table;
use super::system::{Known, System};
use crate::matter::component::{Component, Role};
use crate::phases::solids::Solid;

/// An input that a solved water depends on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Input {
    /// The amount of a component, per mol/kg.
    Component(Component),
    /// The first of the two carbonate quantities, per its unit.
    FirstCarbonate,
    /// The second of the two carbonate quantities, per its unit.
    SecondCarbonate,
    /// The natural logarithm of the formation constant of a species, by its index in the species table.
    LnConstant(usize),
}

/// The derivatives of a solved water by a list of inputs.
#[derive(Clone, Debug)]
pub struct Sensitivities<'a> {
    state: &'a Speciation,
    inputs: Vec<Input>,
    /// d ln m of each species (row) by each input (column).
    ln_molality: Vec<f64>,
    /// d ln a of each master (row) by each input (column).
    ln_master: Vec<f64>,
    /// d ln γ / d m, n × n.
    curvature: Vec<f64>,
}

impl Speciation {
    /// The derivatives by these inputs. None when the state has no ions to speak of, or a carbonate quantity that is
    /// zero and whose logarithm therefore has no derivative is asked for.
    pub fn sensitivities(&self, inputs: &[Input]) -> Option<Sensitivities<'_>> {
        let (n, k, columns) = (self.molality.len(), self.system.scheme.masters.len(), inputs.len());
        let curvature = self.system.scheme.interactions.curvature(&self.system.values, &self.molality);
        // (I + Γ' M) x' = ν λ' + ln K': solved for the masters and for the constants at once
        let mut left = self.mass_action(&curvature);
        let wide = k + columns;
        let mut right = vec![0.0; n * wide];
        for j in 0..n {
            (0..k).for_each(|master| right[j * wide + master] = self.system.scheme.made_of[master][j]);
            for (column, input) in inputs.iter().enumerate() {
                let moved = matches!(input, Input::LnConstant(at) if *at == self.system.scheme.species[j]);
                right[j * wide + k + column] = if moved { 1.0 } else { 0.0 };
            }
        }
        if !linear::solve(&mut left, &mut right, n, wide) {
            return None;
        }
        let mut reduced = vec![0.0; k * k];
        let mut known = vec![0.0; k * columns];
        for master in 0..k {
            let row = self.condition(master, &curvature);
            let by_species =
                |at: usize| (0..n).map(|j| row.by_ln_molality[j] * right[j * wide + at]).sum::<f64>();
            (0..k).for_each(|at| reduced[master * k + at] = by_species(at) + row.by_ln_master[at]);
            for (column, input) in inputs.iter().enumerate() {
                known[master * columns + column] = row.of_input(*input, self) - by_species(k + column);
            }
        }
        if !linear::solve(&mut reduced, &mut known, k, columns) {
            return None;
        }
        let mut ln_molality = vec![0.0; n * columns];
        for j in 0..n {
            for column in 0..columns {
                let by_master: f64 = (0..k).map(|m| right[j * wide + m] * known[m * columns + column]).sum();
                ln_molality[j * columns + column] = by_master + right[j * wide + k + column];
            }
        }
        Some(Sensitivities { state: self, inputs: inputs.to_vec(), ln_molality, ln_master: known, curvature })
    }

    /// d ln a_w / d m of each species, by the Gibbs–Duhem equation.
    fn water_slope(&self, curvature: &[f64]) -> Vec<f64> {
        let n = self.molality.len();
        let moved = |at: usize| (0..n).map(|j| self.molality[j] * curvature[j * n + at]).sum::<f64>();
        (0..n).map(|at| -WATER_MOLAR_MASS * (1.0 + moved(at))).collect()
    }

    fn mass_action(&self, curvature: &[f64]) -> Vec<f64> {
        let n = self.molality.len();
        let water = self.water_slope(curvature);
        let mut left = vec![0.0; n * n];
        for j in 0..n {
            for at in 0..n {
                let slope = curvature[j * n + at] - self.system.scheme.water[j] * water[at];
                left[j * n + at] = slope * self.molality[at] + if j == at { 1.0 } else { 0.0 };
            }
        }
        left
    }

    /// The differentiated condition that stands in the row of a master.
    fn condition(&self, master: usize, curvature: &[f64]) -> Condition {
        let system = &self.system.scheme;
        let (n, k) = (self.molality.len(), system.masters.len());
        let mass = |row: usize, sign: f64| Condition {
            by_ln_molality: (0..n).map(|j| sign * system.made_of[row][j] * self.molality[j]).collect(),
            by_ln_master: vec![0.0; k],
            input: None,
        };
        let none = |row: usize| {
            let mut by_ln_master = vec![0.0; k];
            by_ln_master[row] = 1.0;
            Condition { by_ln_molality: vec![0.0; n], by_ln_master, input: None }
        };
        if master > CARBON {
            let component = system.masters[master].component;
            let present = component.is_some_and(|component| self.given.totals[component.index()] > 0.0);
            let mut row = if present { mass(master, 1.0) } else { none(master) };
            row.input = component.filter(|_| present).map(Of::Component);
            return row;
        }
        let (place, known) = match master {
            HYDROGEN => (Of::First, self.given.carbonate[0]),
            _ => (Of::Second, self.given.carbonate[1]),
        };
        let mut row = match known {
            Known::Alkalinity(_) => mass(HYDROGEN, -1.0),
            Known::Dic(0.0) | Known::Co2(0.0) | Known::Pco2(0.0) => none(CARBON),
            Known::Dic(_) => mass(CARBON, 1.0),
            Known::Co2(_) => {
                let mut row = none(CARBON);
                row.by_ln_master[CARBON] = 0.0;
                row.by_ln_molality[system.co2] = self.co2();
                row
            }
            Known::Pco2(bar) => {
                let mut row = none(CARBON);
                row.by_ln_master[CARBON] = bar / gas::activity_slope(self.system.model.kelvin(), bar * 1e5);
                row
            }
            Known::Ph(_) => self.ph_condition(curvature),
        };
        row.input = Some(place);
        row
    }

    /// d pH as a condition on the logarithms.
    fn ph_condition(&self, curvature: &[f64]) -> Condition {
        let (n, k) = (self.molality.len(), self.system.scheme.masters.len());
        let convention = scale::ln_gamma_chloride_slope(self.system.slope(), self.ionic_strength);
        let chloride = self.system.scheme.chloride;
        let by = |at: usize| {
            let strength = 0.5 * self.system.scheme.charge[at] * self.system.scheme.charge[at];
            -(curvature[chloride * n + at] - convention * strength) * self.molality[at] / LN_10
        };
        let mut by_ln_master = vec![0.0; k];
        by_ln_master[HYDROGEN] = -1.0 / LN_10;
        Condition { by_ln_molality: (0..n).map(by).collect(), by_ln_master, input: None }
    }
}

/// Whose derivative stands on the right of a condition.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Of {
    First,
    Second,
    Component(Component),
}

struct Condition {
    by_ln_molality: Vec<f64>,
    by_ln_master: Vec<f64>,
    input: Option<Of>,
}

impl Condition {
    /// The right-hand side for one input.
    fn of_input(&self, input: Input, state: &Speciation) -> f64 {
        match (self.input, input) {
            (Some(Of::First), Input::FirstCarbonate) | (Some(Of::Second), Input::SecondCarbonate) => 1.0,
            (Some(Of::Component(own)), Input::Component(asked)) if own == asked => 1.0,
            // alkalinity counts a weak acid from its neutral form, the hydrogen of the masters from its ion
            (Some(place @ (Of::First | Of::Second)), Input::Component(asked))
                if asked.role() == Role::WeakAcid =>
            {
                let known = state.given.carbonate[usize::from(place == Of::Second)];
                let charge = state.system.charge_of(asked).unwrap_or(0.0);
                if matches!(known, Known::Alkalinity(_)) { charge } else { 0.0 }
            }
            _ => 0.0,
        }
    }
}

impl System {
    /// Charge of the master of a component.
    fn charge_of(&self, component: Component) -> Option<f64> {
        self.scheme.masters.iter().find(|m| m.component == Some(component)).map(|master| master.charge)
    }
}

impl Sensitivities<'_> {
    fn column(&self, input: Input) -> Option<usize> {
        self.inputs.iter().position(|known| *known == input)
    }

    fn each(&self, column: usize) -> impl Iterator<Item = f64> + '_ {
        let columns = self.inputs.len();
        self.state.molality.iter().enumerate().map(move |(j, m)| m * self.ln_molality[j * columns + column])
    }

    fn ln_coefficient_of(&self, place: usize, column: usize) -> f64 {
        let n = self.state.molality.len();
        self.each(column).enumerate().map(|(at, m)| self.curvature[place * n + at] * m).sum()
    }

    /// d pH by an input.
    pub fn ph(&self, input: Input) -> Option<f64> {
        let column = self.column(input)?;
        let row = self.state.ph_condition(&self.curvature);
        let columns = self.inputs.len();
        let species: f64 = row
            .by_ln_molality
            .iter()
            .enumerate()
            .map(|(j, by)| by * self.ln_molality[j * columns + column])
            .sum();
        Some(species - self.ln_master[HYDROGEN * columns + column] / LN_10)
    }

    /// d of the molality of a species by an input.
    pub fn molality(&self, id: &str, input: Input) -> Option<f64> {
        let place = self.state.system.scheme.places[table().index(id)?]?;
        self.each(self.column(input)?).nth(place)
    }

    /// d ln of the activity of a species by an input.
    pub fn ln_activity(&self, id: &str, input: Input) -> Option<f64> {
        self.ln_activity_at(table().index(id)?, self.column(input)?)
    }

    fn ln_activity_at(&self, species: usize, column: usize) -> Option<f64> {
        let place = self.state.system.scheme.places[species]?;
        Some(self.ln_molality[place * self.inputs.len() + column] + self.ln_coefficient_of(place, column))
    }

    /// d ln of the activity of water by an input.
    pub fn ln_water(&self, input: Input) -> Option<f64> {
        let column = self.column(input)?;
        let slope = self.state.water_slope(&self.curvature);
        Some(slope.iter().zip(self.each(column)).map(|(by, m)| by * m).sum())
    }

    /// d of the alkalinity, eq/kg, by an input.
    pub fn alkalinity(&self, input: Input) -> Option<f64> {
        let column = self.column(input)?;
        let rows = self.state.system.scheme.made_of[HYDROGEN].iter().zip(self.each(column));
        let hydrogen: f64 = rows.map(|(n, m)| n * m).sum();
        let weak = match input {
            Input::Component(asked) if asked.role() == Role::WeakAcid => {
                self.state.system.charge_of(asked)?
            }
            _ => 0.0,
        };
        Some(-hydrogen - weak)
    }

    /// d of all dissolved carbonate, mol/kg, by an input.
    pub fn dic(&self, input: Input) -> Option<f64> {
        let column = self.column(input)?;
        Some(self.state.system.scheme.made_of[CARBON].iter().zip(self.each(column)).map(|(n, m)| n * m).sum())
    }

    /// d of the CO2 pressure, bar, by an input.
    pub fn pco2(&self, input: Input) -> Option<f64> {
        let bar = self.state.pco2();
        let slope = gas::activity_slope(self.state.system.model.kelvin(), bar * 1e5);
        Some(self.ln_activity("CO2", input)? * bar / slope)
    }

    /// d of the saturation index of a solid by an input.
    pub fn saturation_index(&self, solid: &Solid, input: Input) -> Option<f64> {
        let column = self.column(input)?;
        let mut ln = if solid.water == 0.0 { 0.0 } else { solid.water * self.ln_water(input)? };
        for (species, times) in &solid.products {
            ln += times * self.ln_activity_at(*species, column)?;
        }
        Some(ln / LN_10)
    }
}
