//! From an analysis to totals: every statement brought to mol per kilogram of water with the density of that very
//! water, alkalinity to its charge form, missing components as the request rules.

use std::collections::BTreeMap;

use super::analysis::{Analysis, Missing, Per, Reported, USUAL_END_POINT_PH, USUAL_TEMPERATURE_C};
use super::assumption::Assumption;
use super::charge::ChargeBalance;
use super::density::Density;
use super::dissolved;
use super::fault::CompositionError;
use super::finding::Finding;
use super::remarks;
use super::totals::{Standing, Totals};
use crate::matter::component::Component;

/// Two statements of one amount agree when they differ by no more than this share of the larger.
const AGREEMENT: f64 = 0.02;

/// Steps after which density and amounts must have settled; waters need fewer than ten.
const MOST_STEPS: usize = 60;

/// Relative change of a litre and of the water in it below which they have settled.
const SETTLED: f64 = 1e-15;

/// An analysis brought to totals, with all that was taken for granted and noticed on the way.
#[derive(Clone, Debug, PartialEq)]
pub struct Reckoned {
    /// The conserved amounts.
    pub totals: Totals,
    /// Temperature of its litres, °C.
    pub temperature_c: f64,
    /// What was taken for granted.
    pub assumptions: Vec<Assumption>,
    /// What was noticed.
    pub findings: Vec<Finding>,
}

impl Totals {
    /// Totals of an analysis.
    ///
    /// # Errors
    /// Every fault of the analysis at once.
    pub fn of(analysis: &Analysis) -> Result<Reckoned, Vec<CompositionError>> {
        let (totals, density, temperature_c) = reckon(analysis)?;
        let assumptions = remarks::assumptions(analysis, &totals, density);
        let mut findings = remarks::disagreements(analysis, density);
        if let Ok(balance) = ChargeBalance::of(&totals) {
            findings.push(balance.times(density.water_kg_per_l).judged_by_standard_methods());
        }
        Ok(Reckoned { totals, temperature_c, assumptions, findings })
    }

    /// Totals of an analysis and the temperature of its litres in °C, as [`Totals::of`] but without a word on it: for
    /// the same sheet reckoned many times over.
    ///
    /// # Errors
    /// As [`Totals::of`].
    pub fn reckoned(analysis: &Analysis) -> Result<(Totals, f64), Vec<CompositionError>> {
        reckon(analysis).map(|(totals, _, temperature_c)| (totals, temperature_c))
    }
}

/// Totals, density and the temperature of the litres of an analysis.
fn reckon(analysis: &Analysis) -> Result<(Totals, Density, f64), Vec<CompositionError>> {
    let faults = plain_faults(analysis);
    if !faults.is_empty() {
        return Err(faults);
    }
    let temperature_c = analysis.temperature_c.unwrap_or(USUAL_TEMPERATURE_C);
    let (totals, density) = settle(analysis, temperature_c)?;
    Ok((totals, density, temperature_c))
}

/// Faults that show without any reckoning.
fn plain_faults(analysis: &Analysis) -> Vec<CompositionError> {
    let mut faults = Vec::new();
    let ranges = [
        ("temperature_c", analysis.temperature_c, 0.0, 60.0),
        ("end_point_ph", analysis.end_point_ph, 3.5, 5.5),
    ];
    for (about, value, lo, hi) in ranges {
        if let Some(value) = value.filter(|value| !(lo..=hi).contains(value)) {
            faults.push(CompositionError::OutOfRange { about, value, lo, hi });
        }
    }
    for (about, reported) in statements(analysis) {
        let value = reported.amount;
        if !value.is_finite() || value < 0.0 {
            faults.push(CompositionError::OutOfRange { about, value, lo: 0.0, hi: f64::MAX });
        }
    }
    let stated = |component: Component| standing(analysis, component) > Standing::Absent;
    let contradicted = analysis.missing.keys().copied().filter(|component| stated(*component));
    faults.extend(contradicted.map(|component| CompositionError::RuleForStated { component }));
    let by_charge = found_by_charge(analysis);
    if by_charge.len() > 1 {
        faults.push(CompositionError::ByChargeTwice { components: by_charge });
    }
    faults
}

/// Every amount of the sheet with the name it has there.
fn statements(analysis: &Analysis) -> Vec<(&'static str, Reported)> {
    let named = [
        ("alkalinity", analysis.alkalinity),
        ("hardness", analysis.hardness),
        ("sodium and potassium", analysis.sodium_and_potassium),
    ];
    let of_components = analysis.components.iter().map(|(component, reported)| (component.id(), *reported));
    of_components.chain(named.into_iter().filter_map(|(name, reported)| Some((name, reported?)))).collect()
}

/// The components that shall close the charge: by rule, or by `balance_on`.
fn found_by_charge(analysis: &Analysis) -> Vec<Component> {
    let by_rule = analysis.missing.iter().filter(|(_, rule)| **rule == Missing::ByCharge).map(|(c, _)| *c);
    by_rule.chain(analysis.balance_on).collect()
}

/// How much the sheet itself says of a component, rules apart.
pub(super) fn standing(analysis: &Analysis, component: Component) -> Standing {
    let alone = |component: Component| analysis.components.contains_key(&component);
    let within = |lump: Option<Reported>, other: Component| match (lump, alone(other)) {
        (None, _) => Standing::Absent,
        (Some(_), true) => Standing::Stated,
        (Some(_), false) => Standing::Lumped,
    };
    if dissolved::is_carbonate(component) {
        let stated = analysis.alkalinity.is_some() || alone(Component::HCO3) || alone(Component::CO3);
        return if stated { Standing::Stated } else { Standing::Absent };
    }
    if alone(component) {
        return Standing::Stated;
    }
    match component {
        Component::NA => within(analysis.sodium_and_potassium, Component::K),
        Component::K => within(analysis.sodium_and_potassium, Component::NA),
        Component::CA => within(analysis.hardness, Component::MG),
        Component::MG => within(analysis.hardness, Component::CA),
        _ => Standing::Absent,
    }
}

/// Amounts and density that belong together: a fixed point, since amounts per litre need the water in a litre.
fn settle(analysis: &Analysis, temperature_c: f64) -> Result<(Totals, Density), Vec<CompositionError>> {
    let alone = |fault| vec![fault];
    let mut density = Density::of(&Totals::pure(), temperature_c).map_err(alone)?;
    let blank = blank(analysis);
    for _ in 0..MOST_STEPS {
        let totals = Sheet { analysis, density }.totals(blank.clone())?;
        let next = Density::of(&totals, temperature_c).map_err(alone)?;
        // both, because salts without a volume of their own move one and not the other
        let moved = |old: f64, new: f64| (new - old).abs() <= SETTLED * new;
        let still =
            moved(density.water_kg_per_l, next.water_kg_per_l) && moved(density.kg_per_l, next.kg_per_l);
        density = next;
        if still {
            return Ok((totals, density));
        }
    }
    Err(alone(CompositionError::NotConverged { steps: MOST_STEPS }))
}

/// How much an analysis says of each component, rules among it; no amounts yet.
fn blank(analysis: &Analysis) -> Totals {
    const TOGETHER: [Component; 6] =
        [Component::NA, Component::K, Component::CA, Component::MG, Component::HCO3, Component::CO3];
    let mut totals = Totals::pure();
    totals.carbon_known = false;
    totals.standing = [Standing::Absent; Component::COUNT];
    for component in analysis.components.keys().chain(analysis.missing.keys()).chain(&TOGETHER) {
        totals.standing[component.index()] = ruled_standing(analysis, *component);
    }
    totals
}

fn ruled_standing(analysis: &Analysis, component: Component) -> Standing {
    let asked = if component == Component::CO3 { Component::HCO3 } else { component };
    if analysis.missing.contains_key(&asked) { Standing::Stated } else { standing(analysis, component) }
}

/// An analysis read at a known density.
pub(super) struct Sheet<'a> {
    pub(super) analysis: &'a Analysis,
    pub(super) density: Density,
}

impl Sheet<'_> {
    /// A reported amount in mol (or eq) per kg of water.
    pub(super) fn amount(&self, reported: &Reported) -> f64 {
        reported.per_kg_water(self.density.kg_per_l, self.density.water_kg_per_l)
    }

    /// The amount of a component that the sheet states by itself.
    pub(super) fn component(&self, component: Component) -> Option<f64> {
        self.analysis.components.get(&component).map(|reported| self.amount(reported))
    }

    /// Alkalinity by HCO3 and CO3, eq per kg of water.
    pub(super) fn alkalinity_of_ions(&self) -> Option<f64> {
        let (hco3, co3) = (self.component(Component::HCO3), self.component(Component::CO3));
        (hco3.is_some() || co3.is_some()).then(|| hco3.unwrap_or(0.0) + 2.0 * co3.unwrap_or(0.0))
    }

    /// The totals, from those that tell only what is stated.
    fn totals(&self, mut totals: Totals) -> Result<Totals, Vec<CompositionError>> {
        let listed = self.analysis.components.iter();
        for (component, reported) in listed.filter(|(component, _)| !dissolved::is_carbonate(**component)) {
            totals.amounts[component.index()] = self.amount(reported);
        }
        let faults = [
            self.divide_hardness(&mut totals),
            self.divide_sodium_and_potassium(&mut totals),
            self.take_alkalinity(&mut totals),
        ];
        let faults: Vec<CompositionError> = faults.into_iter().filter_map(Result::err).collect();
        if !faults.is_empty() {
            return Err(faults);
        }
        match found_by_charge(self.analysis).first() {
            Some(component) => totals.balanced_on(*component).map_err(|fault| vec![fault]),
            None => Ok(totals),
        }
    }

    /// Calcium and magnesium out of the hardness, where one or both were not stated.
    fn divide_hardness(&self, totals: &mut Totals) -> Result<(), CompositionError> {
        let Some(hardness) = self.analysis.hardness.map(|reported| self.amount(&reported)) else {
            return Ok(());
        };
        self.divide(totals, hardness, "hardness", [Component::CA, Component::MG])
    }

    /// Sodium and potassium out of their sum, where one or both were not stated.
    fn divide_sodium_and_potassium(&self, totals: &mut Totals) -> Result<(), CompositionError> {
        let Some(sum) = self.analysis.sodium_and_potassium.map(|reported| self.amount(&reported)) else {
            return Ok(());
        };
        let parts = [Component::NA, Component::K];
        if let (Some(sodium), Some(potassium)) = (self.component(parts[0]), self.component(parts[1])) {
            let meq = |eq: f64| 1000.0 * eq * self.density.water_kg_per_l;
            if !agree(sum, sodium + potassium) {
                return Err(CompositionError::StatedTwice {
                    what: "sodium and potassium",
                    together_meq: meq(sum),
                    parts_meq: meq(sodium + potassium),
                });
            }
        }
        self.divide(totals, sum, "sodium and potassium", parts)
    }

    /// Gives the part that was not stated what the other leaves, or all to the first where neither was stated.
    fn divide(
        &self,
        totals: &mut Totals,
        sum: f64,
        what: &'static str,
        [first, second]: [Component; 2],
    ) -> Result<(), CompositionError> {
        let (open, stated) = match (self.component(first), self.component(second)) {
            (Some(_), Some(_)) => return Ok(()),
            (Some(stated), None) => (second, stated),
            (None, Some(stated)) => (first, stated),
            (None, None) => (first, 0.0),
        };
        let stated_one = if open == first { second } else { first };
        if stated > sum * (1.0 + AGREEMENT) {
            return Err(CompositionError::PartExceedsSum { component: stated_one, what });
        }
        totals.amounts[open.index()] = (sum - stated).max(0.0);
        Ok(())
    }

    /// Alkalinity in charge form from whatever states it; where nothing does, none beside the weak acids' own.
    fn take_alkalinity(&self, totals: &mut Totals) -> Result<(), CompositionError> {
        let titrated = self.analysis.alkalinity.map(|reported| self.amount(&reported));
        let of_ions = self.alkalinity_of_ions();
        if let (Some(titrated), Some(of_ions)) = (titrated, of_ions)
            && !agree(titrated, of_ions)
        {
            let meq = |eq: f64| 1000.0 * eq * self.density.water_kg_per_l;
            let (alkalinity_meq, ions_meq) = (meq(titrated), meq(of_ions));
            return Err(CompositionError::AlkalinityStatedTwice { alkalinity_meq, ions_meq });
        }
        totals.alkalinity = 0.0;
        match titrated.or(of_ions) {
            Some(titrated) => {
                let end_point = self.analysis.end_point_ph.unwrap_or(USUAL_END_POINT_PH);
                totals.alkalinity = titrated - totals.titrated_alkalinity(end_point);
            }
            None => totals.alkalinity = -totals.carbonate_alkalinity(),
        }
        totals.carbon = totals.carbonate_alkalinity().max(0.0);
        Ok(())
    }
}

/// Whether two statements of one amount agree.
pub(super) fn agree(one: f64, other: f64) -> bool {
    (one - other).abs() <= AGREEMENT * one.max(other)
}

/// Whether any amount of the sheet is per litre.
pub(super) fn speaks_of_litres(analysis: &Analysis) -> bool {
    statements(analysis).iter().any(|(_, reported)| reported.per == Per::Litre)
}

/// The statements that give only a limit, by name.
pub(super) fn below_limits(analysis: &Analysis) -> BTreeMap<&'static str, Reported> {
    statements(analysis).into_iter().filter(|(_, reported)| reported.below).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fault::Fault;

    fn litre(amount: f64) -> Reported {
        Reported::new(amount, Per::Litre)
    }

    /// A full sheet in mol/L with the charge closed by chloride.
    fn sheet() -> Analysis {
        let mut analysis = Analysis { temperature_c: Some(20.0), ..Analysis::default() };
        analysis.components.extend([
            (Component::CA, litre(1e-3)),
            (Component::MG, litre(0.5e-3)),
            (Component::NA, litre(0.4e-3)),
            (Component::K, litre(0.1e-3)),
            (Component::CL, litre(0.5e-3)),
            (Component::SO4, litre(0.25e-3)),
            (Component::HCO3, litre(2.5e-3)),
        ]);
        analysis
    }

    fn codes(faults: Vec<CompositionError>) -> Vec<&'static str> {
        faults.iter().map(Fault::code).collect()
    }

    fn assumed(reckoned: &Reckoned) -> Vec<&'static str> {
        reckoned.assumptions.iter().map(|assumption| assumption.code).collect()
    }

    #[test]
    fn a_full_sheet_needs_few_assumptions() {
        let reckoned = Totals::of(&sheet()).unwrap();
        assert!(reckoned.totals.charge_gap().abs() < 1e-15);
        assert_eq!(assumed(&reckoned), ["end_point_assumed", "ions_not_stated"]);
        assert_eq!(reckoned.findings[0].code, "charge_balance_accepted");
        assert_eq!(reckoned.totals.dic(), None);
        let silent = Analysis { temperature_c: None, ..sheet() };
        assert_eq!(assumed(&Totals::of(&silent).unwrap())[0], "temperature_assumed");
    }

    /// The rule of 2 %: one sheet on each side of it.
    #[test]
    fn alkalinity_stated_twice_must_agree() {
        let twice = |eq: f64| Totals::of(&Analysis { alkalinity: Some(litre(eq)), ..sheet() });
        assert!(twice(2.5e-3 / 1.019).is_ok());
        assert_eq!(codes(twice(2.5e-3 / 1.021).unwrap_err()), ["alkalinity_stated_twice"]);
        let mut carbonate = Analysis { alkalinity: Some(litre(2.7e-3)), ..sheet() };
        carbonate.components.insert(Component::CO3, litre(0.1e-3));
        assert!(Totals::of(&carbonate).is_ok());
    }

    /// Citrate keeps charge at the end point: the sheet's alkalinity is raised by it, and the assumption says so.
    #[test]
    fn the_end_point_counts_where_weak_acids_are() {
        let citrate = Component::read("citrate").unwrap();
        let mut analysis = sheet();
        analysis.components.insert(citrate, Reported::new(1e-3, Per::KilogramOfWater));
        let reckoned = Totals::of(&analysis).unwrap();
        let kept = reckoned.totals.alkalinity() - reckoned.totals.titrated_alkalinity(4.5);
        assert!((kept + 1e-3 * citrate.charge_left(4.5)).abs() < 1e-15);
        assert!(reckoned.assumptions[0].effect.contains("1.32"), "{}", reckoned.assumptions[0].effect);
        analysis.end_point_ph = Some(4.3);
        assert_eq!(assumed(&Totals::of(&analysis).unwrap()), ["ions_not_stated"]);
    }

    #[test]
    fn what_is_missing_is_never_zero() {
        let mut analysis = sheet();
        analysis.components.remove(&Component::K);
        let reckoned = Totals::of(&analysis).unwrap();
        assert_eq!(reckoned.totals.missing_majors(), [Component::K]);
        assert_eq!(codes(reckoned.totals.need_majors("tds").unwrap_err()), ["insufficient"]);
        analysis.missing.insert(Component::K, Missing::Zero);
        let zero = Totals::of(&analysis).unwrap();
        assert!(zero.totals.need_majors("tds").is_ok());
        assert!(assumed(&zero).contains(&"missing_taken_as_zero"));
        analysis.missing.insert(Component::K, Missing::ByCharge);
        let by_charge = Totals::of(&analysis).unwrap();
        let per_l = Density::of(&by_charge.totals, 20.0).unwrap().water_kg_per_l;
        assert!((by_charge.totals.amount(Component::K) * per_l - 0.1e-3).abs() < 1e-15);
        assert!(assumed(&by_charge).contains(&"missing_found_by_charge"));
    }

    #[test]
    fn alkalinity_can_be_found_by_charge() {
        let mut analysis = sheet();
        analysis.components.remove(&Component::HCO3);
        analysis.components.insert(Component::PO4, litre(0.02e-3));
        analysis.missing.insert(Component::HCO3, Missing::ByCharge);
        let totals = Totals::of(&analysis).unwrap().totals;
        assert!(totals.charge_gap().abs() < 1e-15);
        let per_l = Density::of(&totals, 20.0).unwrap().water_kg_per_l;
        // 2.5 meq/L less the 2 charges of 0.02 mmol/L of HPO4.
        assert!((totals.carbonate_alkalinity() * per_l - 2.46e-3).abs() < 1e-12);
    }

    #[test]
    fn all_faults_come_at_once() {
        let mut analysis = sheet();
        analysis.temperature_c = Some(80.0);
        analysis.end_point_ph = Some(8.3);
        analysis.components.insert(Component::NO3, litre(f64::NAN));
        analysis.components.remove(&Component::MG);
        analysis.missing.extend([
            (Component::CA, Missing::Zero),
            (Component::MG, Missing::ByCharge),
            (Component::F, Missing::ByCharge),
        ]);
        let found = codes(Totals::of(&analysis).unwrap_err());
        assert_eq!(
            found,
            ["out_of_range", "out_of_range", "out_of_range", "rule_for_stated", "by_charge_twice"]
        );
    }

    #[test]
    fn sums_of_two_ions_are_divided() {
        let mut analysis = sheet();
        analysis.components.remove(&Component::K);
        analysis.sodium_and_potassium = Some(litre(0.5e-3));
        analysis.components.remove(&Component::MG);
        analysis.hardness = Some(litre(1.5e-3));
        let reckoned = Totals::of(&analysis).unwrap();
        let per_l = Density::of(&reckoned.totals, 20.0).unwrap().water_kg_per_l;
        for (component, amount) in [(Component::K, 0.1e-3), (Component::MG, 0.5e-3)] {
            assert!((reckoned.totals.amount(component) * per_l - amount).abs() < 1e-15);
            assert_eq!(reckoned.totals.standing(component), Standing::Stated);
        }
        assert_eq!(assumed(&reckoned).iter().filter(|code| **code == "found_by_difference").count(), 2);
        analysis.components.remove(&Component::NA);
        analysis.components.remove(&Component::CA);
        let lumped = Totals::of(&analysis).unwrap();
        assert_eq!(lumped.totals.standing(Component::K), Standing::Lumped);
        assert!(lumped.totals.known(Component::NA, "the wish for Na").is_err());
        assert!(lumped.totals.need_majors("tds").is_ok());
        assert!(assumed(&lumped).contains(&"counted_as_sodium"));
        assert!(assumed(&lumped).contains(&"counted_as_calcium"));
    }

    #[test]
    fn contradictions_are_refused_or_noted() {
        let mut analysis = sheet();
        analysis.hardness = Some(litre(1.6e-3));
        let noted = Totals::of(&analysis).unwrap();
        assert_eq!(noted.findings[0].code, "hardness_disagrees");
        analysis.sodium_and_potassium = Some(litre(0.6e-3));
        assert_eq!(codes(Totals::of(&analysis).unwrap_err()), ["stated_twice"]);
        analysis.components.remove(&Component::K);
        analysis.sodium_and_potassium = Some(litre(0.3e-3));
        assert_eq!(codes(Totals::of(&analysis).unwrap_err()), ["part_exceeds_sum"]);
    }

    #[test]
    fn below_a_limit_half_is_counted() {
        let mut analysis = sheet();
        analysis.components.insert(Component::NO3, Reported::below(2e-5, Per::KilogramOfWater));
        let reckoned = Totals::of(&analysis).unwrap();
        assert_eq!(reckoned.totals.amount(Component::NO3), 1e-5);
        assert!(assumed(&reckoned).contains(&"below_limit_counted_half"));
    }

    /// The sheets of Standard Methods 1030 E in words: a large gap stays, is reported, and moves nothing.
    #[test]
    fn a_gap_is_kept_and_reported() {
        let mut analysis = sheet();
        analysis.components.insert(Component::CL, litre(0.9e-3));
        let reckoned = Totals::of(&analysis).unwrap();
        assert_eq!(reckoned.findings[0].code, "charge_balance_exceeded");
        assert!(reckoned.totals.charge_gap() < -0.39e-3);
        analysis.balance_on = Some(Component::NA);
        let balanced = Totals::of(&analysis).unwrap();
        assert!(balanced.totals.charge_gap().abs() < 1e-15);
        assert!(assumed(&balanced).contains(&"balanced_on"));
    }

    #[test]
    fn a_brine_is_outside_the_model_and_ends() {
        let mut analysis = sheet();
        analysis.components.insert(Component::NA, litre(5.0));
        analysis.components.insert(Component::CL, litre(5.0));
        assert_eq!(codes(Totals::of(&analysis).unwrap_err()), ["outside_model"]);
        let mut silica = sheet();
        silica.components.insert(Component::SIO2, litre(1e6));
        assert!(Totals::of(&silica).is_err());
    }
}
