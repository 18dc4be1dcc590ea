//! Totals: what mixing conserves, per kilogram of water.
//!
//! **Alkalinity** is kept in its charge form A = Σ strong cations − Σ strong anions, each times its charge, as the
//! solver counts it. Real sheets do not balance: A comes from the titration, and
//! gap = Σ z·m (strong ions) − A is carried along as an inert amount that mixes like an ion.
//!
//! **Titration.** Adding strong acid lowers A by what is added and leaves everything else, so with A_e the charge
//! form at the end point A_T = A − A_e. Electroneutrality at the end point gives
//! A_e = −Σ q_w(pH_e)·m_w + ([HCO3⁻] + 2[CO3²⁻] + [OH⁻] − [H⁺])_e with q_w the mean charge that weak acid w keeps
//! there ([`Component::charge_left`](crate::matter::component::Component::charge_left), signed). The end point is
//! taken as that of the carbonate system itself, where the last bracket is zero: bicarbonate left and hydrogen ion
//! in excess cancel. Then exactly **A = A_T − Σ q_w(pH_e)·m_w**; without weak acids A = A_T. For a titration of 0.5
//! to 5 meq/L that stops at a fixed pH 4.5 what is neglected stays within 0.04 meq/L.
//!
//! **Carbonate.** h = A + Σ q_w·m_w with the whole charges of [`dissolved`] is the alkalinity that
//! carbonate holds, listed as HCO3. Carbon is known where salts brought it, and presumed equal to h where an
//! analysis gave alkalinity but no CO2 state.
//!
//! **Kilogram of water.** Everything beside the listed forms is counted as H2O, alkalinity that no weak acid holds
//! as OH⁻, carbon as CO2: NaHCO3 = Na⁺ + CO2 + OH⁻; Na2CO3 = 2 Na⁺ + CO2 + 2 OH⁻ − H2O. So the mass of a water
//! is linear in its totals, and mixing keeps mass exactly. It is the water in the bottle but for 18 mg per mmol of
//! CO3²⁻ (less) or of acid hydrogen (more).

use std::sync::LazyLock;

use super::dissolved::{self, Form};
use super::fault::CompositionError;
use super::pure_water;
use crate::matter::component::{Component, Role};

/// The components that a sum over a whole water needs: stated, or ruled on. `HCO3` stands for alkalinity.
pub const MAJORS: [Component; 7] = [
    Component::CA,
    Component::MG,
    Component::NA,
    Component::K,
    Component::CL,
    Component::SO4,
    Component::HCO3,
];

/// The weak acids beside carbonate.
static WEAK_ACIDS: LazyLock<Vec<Component>> =
    LazyLock::new(|| Component::ALL.into_iter().filter(|c| c.role() == Role::WeakAcid).collect());

/// How much is known of a component in a water, least first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Standing {
    /// Nobody stated it: unknown, never zero.
    Absent,
    /// Stated only together with another one, in which its amount is counted: K within "Na + K" as Na.
    Lumped,
    /// Stated, or ruled on by the request.
    Stated,
}

/// The conserved amounts of a water, per kilogram of water.
#[derive(Clone, Debug, PartialEq)]
pub struct Totals {
    pub(super) amounts: [f64; Component::COUNT],
    pub(super) standing: [Standing; Component::COUNT],
    pub(super) alkalinity: f64,
    pub(super) carbon: f64,
    pub(super) carbon_known: bool,
}

impl Totals {
    /// Water without solutes: every component known to be absent.
    pub fn pure() -> Totals {
        Totals {
            amounts: [0.0; Component::COUNT],
            standing: [Standing::Stated; Component::COUNT],
            alkalinity: 0.0,
            carbon: 0.0,
            carbon_known: true,
        }
    }

    /// Amount of a component in mol per kg of water, 0 where nothing is known of it (see [`Totals::standing`]).
    /// For `HCO3` it is the carbonate alkalinity (below 0 where acids outrun it), for `CO3` 0.
    pub fn amount(&self, component: Component) -> f64 {
        if component == Component::HCO3 {
            self.carbonate_alkalinity()
        } else {
            self.amounts[component.index()]
        }
    }

    /// How much is known of a component; `HCO3` and `CO3` answer for alkalinity.
    pub fn standing(&self, component: Component) -> Standing {
        let asked = if component == Component::CO3 { Component::HCO3 } else { component };
        self.standing[asked.index()]
    }

    /// Amount of a component as [`Totals::amount`], refused where it was not stated by itself.
    ///
    /// # Errors
    /// [`CompositionError::Insufficient`].
    pub fn known(&self, component: Component, needed_for: &'static str) -> Result<f64, CompositionError> {
        match self.standing(component) {
            Standing::Stated => Ok(self.amount(component)),
            _ => Err(CompositionError::Insufficient { component, needed_for }),
        }
    }

    /// Alkalinity in its charge form, eq per kg of water; below 0 for a water with free strong acid.
    pub fn alkalinity(&self) -> f64 {
        self.alkalinity
    }

    /// Alkalinity as a titration to an end-point pH finds it, eq per kg of water (identity in the module page).
    pub fn titrated_alkalinity(&self, end_point_ph: f64) -> f64 {
        self.alkalinity + self.weak_charge(|component| component.charge_left(end_point_ph))
    }

    /// The alkalinity that carbonate holds, eq per kg of water, all weak acids as [`dissolved`] lists them. Below
    /// 0 where acids outrun the bicarbonate.
    pub fn carbonate_alkalinity(&self) -> f64 {
        self.alkalinity + self.weak_charge(|component| dissolved::form(component).charge)
    }

    /// Σ q·m over the weak acids beside carbonate.
    fn weak_charge(&self, charge: impl Fn(Component) -> f64) -> f64 {
        let there = |component: &&Component| self.amounts[component.index()] != 0.0;
        WEAK_ACIDS.iter().filter(there).map(|c| charge(*c) * self.amounts[c.index()]).sum()
    }

    /// Σ z·m over the strong ions, eq per kg of water; without charge gap it equals [`Totals::alkalinity`].
    pub fn strong_charge(&self) -> f64 {
        strong_charge(|component| self.amounts[component.index()])
    }

    /// Charge that the sheet leaves open, cations − anions, eq per kg of water. Inert: it mixes like an ion and
    /// moves nothing.
    pub fn charge_gap(&self) -> f64 {
        self.strong_charge() - self.alkalinity
    }

    /// Dissolved inorganic carbon in mol per kg of water, where it is known.
    pub fn dic(&self) -> Option<f64> {
        self.carbon_known.then_some(self.carbon)
    }

    /// The same totals with another amount of a component beside carbonate, mol per kg of water; how much is known of it
    /// stays.
    pub fn with_amount(mut self, component: Component, amount: f64) -> Totals {
        self.amounts[component.index()] = amount;
        self
    }

    /// The same totals with dissolved inorganic carbon stated, mol per kg of water, 0 or more.
    pub fn with_dic(mut self, dic: f64) -> Totals {
        self.carbon = dic;
        self.carbon_known = true;
        self
    }

    /// The same totals with the alkalinity stated in its charge form, eq per kg of water.
    pub fn with_alkalinity(mut self, alkalinity: f64) -> Totals {
        self.alkalinity = alkalinity;
        self.standing[Component::HCO3.index()] = Standing::Stated;
        self
    }

    /// Mass of all solutes beside the water, g per kg of water, linear in the totals (module page).
    pub fn solute_mass(&self) -> f64 {
        let listed: f64 =
            self.beside_carbonate().map(|(component, m)| dissolved::form(component).molar_mass * m).sum();
        listed
            + dissolved::carbon_dioxide().molar_mass * self.carbon
            + dissolved::hydroxide().molar_mass * self.carbonate_alkalinity()
    }

    /// The components that are here beside carbonate, with their amounts.
    fn beside_carbonate(&self) -> impl Iterator<Item = (Component, f64)> + '_ {
        let all = Component::ALL.iter().copied().zip(self.amounts.iter().copied());
        all.filter(|(component, m)| *m != 0.0 && !dissolved::is_carbonate(*component))
    }

    /// The majors that were not stated, in the order of [`MAJORS`].
    pub fn missing_majors(&self) -> Vec<Component> {
        MAJORS.into_iter().filter(|major| self.standing(*major) == Standing::Absent).collect()
    }

    /// Refuses unless every major was stated or ruled on.
    ///
    /// # Errors
    /// One [`CompositionError::Insufficient`] for each missing major.
    pub fn need_majors(&self, needed_for: &'static str) -> Result<(), Vec<CompositionError>> {
        let faults: Vec<CompositionError> = self
            .missing_majors()
            .into_iter()
            .map(|component| CompositionError::Insufficient { component, needed_for })
            .collect();
        if faults.is_empty() { Ok(()) } else { Err(faults) }
    }

    /// What may be there although nobody stated it: every absent component, with the most that the charge gap
    /// leaves room for in mol per kg of water (`None` for what carries no charge).
    pub fn absent(&self) -> Vec<(Component, Option<f64>)> {
        let gap = self.charge_gap().abs();
        Component::ALL
            .into_iter()
            .filter(|component| *component != Component::CO3 && self.standing(*component) == Standing::Absent)
            .map(|component| {
                let charge = dissolved::form(component).charge.abs();
                (component, (charge > 0.0).then(|| gap / charge))
            })
            .collect()
    }

    /// The same totals with one component moved so that the charge gap closes; `HCO3` moves alkalinity.
    ///
    /// # Errors
    /// [`CompositionError::NegativeByCharge`] when the amount would fall below 0,
    /// [`CompositionError::CannotBalanceOn`] for a weak acid or a component without charge.
    pub fn balanced_on(&self, component: Component) -> Result<Totals, CompositionError> {
        let mut balanced = self.clone();
        let gap = self.charge_gap();
        if dissolved::is_carbonate(component) {
            balanced.alkalinity += gap;
            if !self.carbon_known {
                balanced.carbon += gap;
            }
            balanced.standing[Component::HCO3.index()] = Standing::Stated;
            let left = balanced.carbonate_alkalinity();
            return if left < 0.0 { Err(negative(component, left)) } else { Ok(balanced) };
        }
        if !matches!(component.role(), Role::StrongCation | Role::StrongAnion) {
            return Err(CompositionError::CannotBalanceOn { component });
        }
        let amount = self.amounts[component.index()] - gap / f64::from(component.charge());
        if amount < 0.0 {
            return Err(negative(component, amount));
        }
        balanced.amounts[component.index()] = amount;
        balanced.standing[component.index()] = Standing::Stated;
        Ok(balanced)
    }

    /// Tells what stands in this water, form by form in mol per kg of water, carbonate and hydrogen split by alkalinity
    /// and carbon; answers the g of water per kg of water, beside that kilogram, that the forms take up (below 0) or
    /// let go.
    pub(super) fn each_form(&self, mut tell: impl FnMut(&'static Form, f64)) -> f64 {
        let mut holdable = 0.0;
        for (component, amount) in self.beside_carbonate() {
            let form = dissolved::form(component);
            if component.role() == Role::WeakAcid {
                holdable += amount * (-form.charge).max(0.0);
            }
            tell(form, amount);
        }
        let carbonate = CarbonateSplit::of(self.carbonate_alkalinity(), self.carbon, holdable);
        carbonate.listed().for_each(|(form, amount)| tell(form, amount));
        carbonate.extra_water()
    }
}

fn negative(component: Component, amount: f64) -> CompositionError {
    CompositionError::NegativeByCharge { component, mol_per_kg: amount }
}

/// Σ z·amount over the strong ions.
pub(super) fn strong_charge(amount: impl Fn(Component) -> f64) -> f64 {
    Component::ALL
        .into_iter()
        .filter(|component| matches!(component.role(), Role::StrongCation | Role::StrongAnion))
        .map(|component| f64::from(component.charge()) * amount(component))
        .sum()
}

/// Carbonate, hydroxide and acid hydrogen as alkalinity and carbon divide them, mol per kg of water.
struct CarbonateSplit {
    co2: f64,
    hco3: f64,
    co3: f64,
    oh: f64,
    held_h: f64,
    free_h: f64,
}

impl CarbonateSplit {
    fn of(alkalinity: f64, carbon: f64, holdable: f64) -> CarbonateSplit {
        let co3 = (alkalinity - carbon).clamp(0.0, carbon.max(0.0));
        let hco3 = (alkalinity - 2.0 * co3).clamp(0.0, (carbon - co3).max(0.0));
        let acid = (-alkalinity).max(0.0);
        let held_h = acid.min(holdable);
        CarbonateSplit {
            co2: carbon - hco3 - co3,
            hco3,
            co3,
            oh: (alkalinity - hco3 - 2.0 * co3).max(0.0),
            held_h,
            free_h: acid - held_h,
        }
    }

    fn listed(&self) -> impl Iterator<Item = (&'static Form, f64)> {
        [
            (dissolved::carbon_dioxide(), self.co2),
            (dissolved::form(Component::HCO3), self.hco3),
            (dissolved::form(Component::CO3), self.co3),
            (dissolved::hydroxide(), self.oh),
            (dissolved::acid_hydrogen(), self.held_h),
            (dissolved::hydrogen(), self.free_h),
        ]
        .into_iter()
        .filter(|(_, amount)| *amount != 0.0)
    }

    /// CO2 + 2 OH⁻ = CO3²⁻ + H2O lets water go; H⁺ stands for H2O − OH⁻ and takes it.
    fn extra_water(&self) -> f64 {
        pure_water::molar_mass() * (self.co3 - self.held_h - self.free_h)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::composition::added::Added;

    fn of(id: &str) -> Component {
        Component::read(id).unwrap()
    }

    fn gives(molar_mass: f64, gives: &[(&str, f64)], carbonate: f64) -> Added {
        let gives: Vec<(Component, f64)> = gives.iter().map(|(id, n)| (of(id), *n)).collect();
        Added::new(molar_mass, &gives, carbonate)
    }

    /// Identity of the module page: the acid of the titration, once added, leaves no charge but what the weak
    /// acids keep at the end point.
    #[test]
    fn a_titration_closes() {
        let salts = [
            gives(258.068, &[("Na", 3.0), ("citrate", 1.0)], 0.0),
            gives(141.957, &[("Na", 2.0), ("PO4", 1.0)], 0.0),
            gives(79.056, &[("NH4", 1.0)], 1.0),
            gives(84.006, &[("Na", 1.0)], 1.0),
            gives(109.122, &[("K", 1.0), ("lactate", 1.0)], 0.0),
        ];
        let parts: Vec<(f64, &Added)> = salts.iter().map(|salt| (2e-3, salt)).collect();
        let water = Totals::pure().with_added(&parts).unwrap();
        for end_point in [3.7, 4.3, 4.5, 4.9] {
            let titrated = water.titrated_alkalinity(end_point);
            let mut acidified = water.clone();
            acidified.amounts[Component::CL.index()] += titrated;
            acidified.alkalinity -= titrated;
            let weak = acidified.weak_charge(|component| component.charge_left(end_point));
            assert!((acidified.strong_charge() + weak).abs() < 1e-12);
            assert!(acidified.charge_gap().abs() < 1e-15);
        }
    }

    // Citrate by hand with the constants of Bates and Pinching 1949: shares 1 : 23.55 : 12.94 : 0.1645 at pH 4.5,
    // mean charge 1.3253, so a mole of the trisodium salt titrates as 3 − 1.3253 eq, not 3.
    #[test]
    fn citrate_does_not_titrate_as_three() {
        let citrate = gives(258.068, &[("Na", 3.0), ("citrate", 1.0)], 0.0);
        let mean = (23.55 + 2.0 * 12.94 + 3.0 * 0.1645) / (1.0 + 23.55 + 12.94 + 0.1645);
        assert!((citrate.per_mole().titrated_alkalinity(4.5) - (3.0 - mean)).abs() < 2e-3);
        assert_eq!(citrate.per_mole().alkalinity(), 3.0);
        assert_eq!(citrate.per_mole().carbonate_alkalinity(), 0.0);
    }

    /// Identity: without weak acids titration and charge form are one.
    #[test]
    fn without_weak_acids_both_alkalinities_are_equal() {
        let water = gives(84.006, &[("Na", 1.0)], 1.0);
        assert_eq!(water.per_mole().titrated_alkalinity(4.5), water.per_mole().alkalinity());
    }

    /// Conservation: carbonate, hydroxide and acid hydrogen always carry the alkalinity and the carbon.
    #[test]
    fn the_split_of_carbonate_conserves() {
        for alkalinity in [-3.0, -0.5, 0.0, 0.4, 1.0, 1.5, 2.0, 2.5] {
            for carbon in [0.0, 0.3, 1.0, 2.0] {
                let split = CarbonateSplit::of(alkalinity, carbon, 1.0);
                let charge = split.hco3 + 2.0 * split.co3 + split.oh - split.held_h - split.free_h;
                assert!((charge - alkalinity).abs() < 1e-15, "{alkalinity} {carbon}");
                assert!((split.co2 + split.hco3 + split.co3 - carbon).abs() < 1e-15);
                for amount in [split.co2, split.hco3, split.co3, split.oh, split.held_h, split.free_h] {
                    assert!(amount >= 0.0, "{alkalinity} {carbon}");
                }
            }
        }
    }

    #[test]
    fn charge_is_closed_on_one_ion_or_refused() {
        let mut sheet = gives(58.44, &[("Na", 1.0), ("Cl", 1.0)], 0.0).per_mole().clone();
        sheet.amounts[Component::CL.index()] = 1.5;
        assert_eq!(sheet.charge_gap(), -0.5);
        assert_eq!(sheet.balanced_on(Component::NA).unwrap().amount(Component::NA), 1.5);
        assert_eq!(sheet.balanced_on(Component::CA).unwrap().amount(Component::CA), 0.25);
        assert_eq!(sheet.balanced_on(Component::CL).unwrap().charge_gap(), 0.0);
        assert!(matches!(sheet.balanced_on(Component::SO4), Err(CompositionError::NegativeByCharge { .. })));
        assert!(matches!(sheet.balanced_on(Component::HCO3), Err(CompositionError::NegativeByCharge { .. })));
        assert!(matches!(sheet.balanced_on(of("citrate")), Err(CompositionError::CannotBalanceOn { .. })));
    }

    #[test]
    fn what_nobody_stated_is_bounded_by_the_gap() {
        let mut sheet = gives(58.44, &[("Na", 1.0), ("Cl", 1.0)], 0.0).per_mole().clone();
        sheet.amounts[Component::CL.index()] = 0.9;
        sheet.standing[Component::SO4.index()] = Standing::Absent;
        sheet.standing[Component::SIO2.index()] = Standing::Absent;
        let absent = sheet.absent();
        assert_eq!(absent.len(), 2);
        assert!((absent[0].1.unwrap() - 0.05).abs() < 1e-15);
        assert_eq!(absent[1], (Component::SIO2, None));
        assert_eq!(sheet.need_majors("tds").unwrap_err().len(), 1);
        assert!(sheet.known(Component::SO4, "the wish for SO4").is_err());
    }
}
