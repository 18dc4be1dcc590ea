//! Charge balance of a sheet, in both conventions, and its verdict by Standard Methods.

use super::dissolved;
use super::fault::CompositionError;
use super::finding::Finding;
use super::totals::Totals;
use crate::matter::component::Component;

/// Sums of positive and negative charge in a water, eq per kg of water (or per litre where made so).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChargeBalance {
    /// Positive charge; alkalinity below 0 counts here as hydrogen ion.
    pub cations: f64,
    /// Negative charge, alkalinity among it.
    pub anions: f64,
}

impl ChargeBalance {
    /// Charge balance of a water; weak acids as [`dissolved`] lists them, carbonate as HCO3.
    ///
    /// # Errors
    /// One [`CompositionError::Insufficient`] for each major that was not stated.
    pub fn of(totals: &Totals) -> Result<ChargeBalance, Vec<CompositionError>> {
        totals.need_majors("the charge balance")?;
        let mut balance = ChargeBalance { cations: 0.0, anions: 0.0 };
        for component in Component::ALL.into_iter().filter(|component| *component != Component::CO3) {
            let charge = dissolved::form(component).charge * totals.amount(component);
            if charge > 0.0 {
                balance.cations += charge;
            } else {
                balance.anions -= charge;
            }
        }
        Ok(balance)
    }

    /// Both sums times a factor, such as kilograms of water per litre.
    pub fn times(self, factor: f64) -> ChargeBalance {
        ChargeBalance { cations: self.cations * factor, anions: self.anions * factor }
    }

    /// 100 (cations − anions)/(cations + anions), the convention of this house; 0 for water without ions.
    ///
    /// ```
    /// use springwright_chem::composition::charge::ChargeBalance;
    /// let balance = ChargeBalance { cations: 3.0, anions: 1.0 };
    /// assert_eq!((balance.percent(), balance.half_sum_percent()), (50.0, 100.0));
    /// ```
    pub fn percent(&self) -> f64 {
        let sum = self.cations + self.anions;
        if sum > 0.0 { 100.0 * (self.cations - self.anions) / sum } else { 0.0 }
    }

    /// 100 (cations − anions) over half their sum: the other convention in use, twice the number.
    pub fn half_sum_percent(&self) -> f64 {
        2.0 * self.percent()
    }

    /// What Standard Methods 1030 E accepts for sums in eq per litre, either way: anions to 3 meq/L 0.2 meq/L, to 10
    /// meq/L 2 %, to 800 meq/L 5 %, with the unit of the limit; beyond, none.
    pub fn limit_of_standard_methods(&self) -> Option<(f64, &'static str)> {
        match 1000.0 * self.anions {
            anions if anions <= 3.0 => Some((0.2, "meq/L")),
            anions if anions <= 10.0 => Some((2.0, "%")),
            anions if anions <= 800.0 => Some((5.0, "%")),
            _ => None,
        }
    }

    /// The verdict of Standard Methods 1030 E for sums in eq per litre ([`ChargeBalance::limit_of_standard_methods`]).
    pub fn judged_by_standard_methods(&self) -> Finding {
        let anions = 1000.0 * self.anions;
        let gap = 1000.0 * (self.cations - self.anions);
        let Some((limit, unit)) = self.limit_of_standard_methods() else {
            return Finding::new("charge_balance_not_judged", "Above 800 meq/L no rule is set.", SOURCE);
        };
        let (accepted, rule) = match unit {
            "%" if limit < 5.0 => {
                (self.percent().abs() <= limit, "within 2 % where anions are 3 to 10 meq/L")
            }
            "%" => (self.percent().abs() <= limit, "within 5 % where anions are 10 to 800 meq/L"),
            _ => (gap.abs() <= limit, "within 0.2 meq/L where anions are 3 meq/L or less"),
        };
        let code = if accepted { "charge_balance_accepted" } else { "charge_balance_exceeded" };
        let text = format!(
            "Cations {:.3}, anions {anions:.3} meq/L: {gap:+.3} meq/L, {:+.2} %; the rule is {rule}.",
            1000.0 * self.cations,
            self.percent()
        );
        Finding::new(code, text, SOURCE)
    }
}

const SOURCE: &str = "standard_methods_1030e";

#[cfg(test)]
mod tests {
    use super::*;

    // Standard Methods 1030 E, criteria for acceptance (from memory): one case on each side of each limit.
    #[test]
    fn standard_methods_accepts_and_refuses() {
        let verdict = |cations: f64, anions: f64| {
            ChargeBalance { cations: cations / 1000.0, anions: anions / 1000.0 }
                .judged_by_standard_methods()
                .code
        };
        assert_eq!(verdict(2.19, 2.0), "charge_balance_accepted");
        assert_eq!(verdict(2.21, 2.0), "charge_balance_exceeded");
        assert_eq!(verdict(5.19, 5.0), "charge_balance_accepted");
        assert_eq!(verdict(5.21, 5.0), "charge_balance_exceeded");
        assert_eq!(verdict(22.1, 20.0), "charge_balance_accepted");
        assert_eq!(verdict(22.2, 20.0), "charge_balance_exceeded");
        assert_eq!(verdict(900.0, 900.0), "charge_balance_not_judged");
        assert_eq!(verdict(0.0, 0.0), "charge_balance_accepted");
    }

    #[test]
    fn a_sheet_without_its_majors_has_no_balance() {
        let mut sheet = Totals::pure();
        sheet.standing[Component::K.index()] = crate::composition::totals::Standing::Absent;
        let faults = ChargeBalance::of(&sheet).unwrap_err();
        assert_eq!(faults.len(), 1);
        assert!(faults[0].to_string().contains("potassium (K)"));
    }
}
