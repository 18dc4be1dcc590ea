//! What reconciling takes for granted, said of the row that it is about.

use super::likely::Reconciled;
use super::sheet::Of;
use super::unknown::{Told, unknowns};
use crate::composition::assumption::Assumption;
use crate::formulation::words::number;

impl Reconciled {
    /// What was taken for granted, each with the row (or the component without a row) that it is about.
    pub fn assumptions(&self) -> Vec<(Of, Assumption)> {
        let mut all: Vec<(Of, Assumption)> = self.rows.iter().filter_map(|row| self.of_row(row.of)).collect();
        if self.sheet.row(Of::Conductivity).is_some() {
            all.extend(self.of_conductivity());
        }
        for unknown in unknowns(&self.sheet, &self.figures, None) {
            let (Of::Component(component), Some((centre, spread))) = (unknown.of, unknown.belief) else {
                continue;
            };
            let mg = |mmol: f64| number(mmol * component.molar_mass());
            let id = component.id();
            let (code, text, effect) = match unknown.told {
                Told::Silent => (
                    "left_open",
                    format!(
                        "{id} was not stated: it may be there, more likely less than {} mg/L than more.",
                        mg(spread)
                    ),
                    "It takes up a little of what does not add up; `missing` answers how much it could be.",
                ),
                Told::Free => (
                    "found_by_the_rest",
                    format!("{id} was not stated: the rest of the sheet tells it."),
                    "Fewer checks are left for the other rows.",
                ),
                Told::Split => (
                    "sum_divided",
                    format!(
                        "{id} stands in a sum alone: {} ± {} mg/L are taken for it.",
                        mg(centre),
                        mg(spread)
                    ),
                    "Charge is the same however the sum is divided; masses and conductivity move a little.",
                ),
                Told::Stated | Told::Below => continue,
            };
            all.push((unknown.of, Assumption::new(code, id, text, effect)));
        }
        all
    }

    fn of_row(&self, of: Of) -> Option<(Of, Assumption)> {
        let row = self.rows.iter().find(|row| row.of == of)?;
        let (at, id) = (self.sheet.row(of)?, of.id());
        if row.verdict == super::likely::Verdict::BelowLimit {
            let text =
                format!("{id} is stated only as a limit: every amount below it is held equally likely.");
            let effect = "The most likely amount stays between nothing and the limit.";
            return Some((of, Assumption::new("below_limit_kept", id, text, effect)));
        }
        if !row.usual {
            return None;
        }
        let share = if row.stated > 0.0 { row.stated_uncertainty / row.stated } else { 0.0 };
        let size = number(share * at.measured.value());
        let text = format!(
            "No uncertainty was stated for {id}: ± {size} {} (k = 1) is usual for such a row, its rounding included.",
            at.measured.unit().symbol()
        );
        let effect =
            "With a smaller one the row would hold its place better, and a gap would be laid to others.";
        Some((of, Assumption::new("uncertainty_assumed", id, text, effect)))
    }

    fn of_conductivity(&self) -> Vec<(Of, Assumption)> {
        let of = Of::Conductivity;
        let mut all = Vec::new();
        if self.sheet.conductivity_c.is_none() {
            let text = "The conductivity is taken to refer to 25 °C.";
            let effect = "Had it been taken at 20 °C, it would be about 11 % higher at 25 °C.";
            all.push((of, Assumption::new("conductivity_temperature_assumed", of.id(), text, effect)));
        }
        if self.without_ph {
            let text = "Without a pH that could be solved, all alkalinity conducts as bicarbonate.";
            let effect = "Between pH 5.5 and 8.8 this is right to 1 %; outside, the water conducts more.";
            all.push((of, Assumption::new("conducts_as_bicarbonate", of.id(), text, effect)));
        }
        all
    }
}
