//! What a reckoning took for granted, and where a sheet disagrees with itself, in words with numbers.

use super::analysis::{Analysis, Missing, USUAL_END_POINT_PH, USUAL_TEMPERATURE_C};
use super::assumption::Assumption;
use super::density::Density;
use super::finding::Finding;
use super::reckoning::{self, Sheet};
use super::totals::{Standing, Totals};
use crate::matter::component::{Component, Role};

/// Every assumption behind the totals of an analysis.
pub(super) fn assumptions(analysis: &Analysis, totals: &Totals, density: Density) -> Vec<Assumption> {
    let page = Page { analysis, totals, density };
    let mut all = Vec::new();
    all.extend(page.temperature());
    all.extend(page.end_point());
    all.extend(page.carbonate_alone());
    all.extend(page.below_limits());
    all.extend(page.lumped());
    all.extend(page.by_difference());
    all.extend(page.ruled());
    all.extend(page.balanced());
    all.extend(page.not_stated());
    all
}

/// Statements of one amount that differ by more than rounding explains, though not so that the sheet is refused.
pub(super) fn disagreements(analysis: &Analysis, density: Density) -> Vec<Finding> {
    let sheet = Sheet { analysis, density };
    let parts = (sheet.component(Component::CA), sheet.component(Component::MG), analysis.hardness);
    let (Some(calcium), Some(magnesium), Some(hardness)) = parts else {
        return Vec::new();
    };
    let hardness = sheet.amount(&hardness);
    if reckoning::agree(hardness, calcium + magnesium) {
        return Vec::new();
    }
    let mmol = |amount: f64| 1000.0 * amount * density.water_kg_per_l;
    let text = format!(
        "Hardness is stated as {:.3} mmol/L, calcium and magnesium come to {:.3}; the two ions are reckoned with.",
        mmol(hardness),
        mmol(calcium + magnesium)
    );
    vec![Finding::new("hardness_disagrees", text, "springwright_definition")]
}

struct Page<'a> {
    analysis: &'a Analysis,
    totals: &'a Totals,
    density: Density,
}

impl Page<'_> {
    /// mg per litre of a component for an amount in mol per kg of water.
    fn mg_per_l(&self, component: Component, amount: f64) -> f64 {
        1000.0 * amount * self.density.water_kg_per_l * component.molar_mass()
    }

    fn temperature(&self) -> Option<Assumption> {
        let silent = self.analysis.temperature_c.is_none() && reckoning::speaks_of_litres(self.analysis);
        silent.then(|| {
            Assumption::new(
                "temperature_assumed",
                "temperature_c",
                format!("The litres of the analysis are taken at {USUAL_TEMPERATURE_C} °C."),
                "A litre at 4 °C holds 0.18 % more, at 30 °C 0.26 % less.",
            )
        })
    }

    fn end_point(&self) -> Option<Assumption> {
        let stated = reckoning::standing(self.analysis, Component::HCO3) == Standing::Stated;
        if self.analysis.end_point_ph.is_some() || !stated {
            return None;
        }
        let kept = self.totals.alkalinity() - self.totals.titrated_alkalinity(USUAL_END_POINT_PH);
        let meq = 1000.0 * kept * self.density.water_kg_per_l;
        let effect = if meq.abs() < 5e-5 {
            "None here: no weak acid was stated that keeps a charge there.".to_owned()
        } else {
            format!("The weak acids keep {meq:.4} meq/L at that pH; it is added to the titrated alkalinity.")
        };
        Some(Assumption::new(
            "end_point_assumed",
            "end_point_ph",
            format!("The titration of alkalinity is taken to end at pH {USUAL_END_POINT_PH}."),
            effect,
        ))
    }

    fn carbonate_alone(&self) -> Option<Assumption> {
        let stated = |component: Component| self.analysis.components.contains_key(&component);
        let alone = stated(Component::CO3) && !stated(Component::HCO3) && self.analysis.alkalinity.is_none();
        alone.then(|| {
            Assumption::new(
                "carbonate_is_all_alkalinity",
                "analysis.CO3",
                "CO3 is stated without HCO3 or alkalinity: it is taken as all the alkalinity, 2 eq per mol.",
                "Sums list it as HCO3; had HCO3 been left out of the sheet, alkalinity would be higher.",
            )
        })
    }

    fn below_limits(&self) -> Vec<Assumption> {
        let half = |(name, _): (&'static str, _)| {
            Assumption::new(
                "below_limit_counted_half",
                format!("analysis.{name}"),
                format!("{name} is stated only as less than a limit: half of the limit is reckoned with."),
                "The true amount lies between nothing and twice what is counted.",
            )
        };
        reckoning::below_limits(self.analysis).into_iter().map(half).collect()
    }

    fn lumped(&self) -> Vec<Assumption> {
        let pairs = [
            ("counted_as_sodium", "analysis.Na+K", "Sodium and potassium", Component::NA, Component::K),
            (
                "counted_as_calcium",
                "analysis.hardness",
                "Calcium and magnesium",
                Component::CA,
                Component::MG,
            ),
        ];
        let mut all = Vec::new();
        for (code, about, both, counted, hidden) in pairs {
            if reckoning::standing(self.analysis, hidden) != Standing::Lumped {
                continue;
            }
            let amount = self.totals.amount(counted);
            let swing = self.mg_per_l(hidden, amount) - self.mg_per_l(counted, amount);
            let text = format!("{both} are stated together: all is counted as {}.", counted.name());
            let effect = format!(
                "Charge and hardness are right; sums of mass would differ by up to {swing:+.1} mg/L if all were {}.",
                hidden.name()
            );
            all.push(Assumption::new(code, about, text, effect));
        }
        all
    }

    fn by_difference(&self) -> Vec<Assumption> {
        let found = |component: &Component| {
            !self.analysis.components.contains_key(component)
                && reckoning::standing(self.analysis, *component) == Standing::Stated
        };
        [Component::CA, Component::MG, Component::NA, Component::K]
            .into_iter()
            .filter(found)
            .map(|component| {
                Assumption::new(
                    "found_by_difference",
                    format!("analysis.{}", component.id()),
                    format!(
                        "{} is what the stated sum leaves beside its other part.",
                        capital(component.name())
                    ),
                    format!("{:.3} mg/L.", self.mg_per_l(component, self.totals.amount(component))),
                )
            })
            .collect()
    }

    fn ruled(&self) -> Vec<Assumption> {
        let ruled = |(component, rule): (&Component, &Missing)| {
            let about = format!("analysis.{}", component.id());
            let gap = 1000.0 * self.totals.charge_gap() * self.density.water_kg_per_l;
            match rule {
                Missing::Zero => Assumption::new(
                    "missing_taken_as_zero",
                    about,
                    format!("{} was not stated and is taken as absent.", capital(component.name())),
                    format!("The charge gap that is left is {gap:+.3} meq/L."),
                ),
                Missing::ByCharge => {
                    let amount = self.mg_per_l(*component, self.totals.amount(*component));
                    let text = format!("{} was not stated and closes the charge.", capital(component.name()));
                    Assumption::new("missing_found_by_charge", about, text, format!("{amount:.3} mg/L."))
                }
            }
        };
        self.analysis.missing.iter().map(ruled).collect()
    }

    fn balanced(&self) -> Option<Assumption> {
        let component = self.analysis.balance_on?;
        let amount = self.mg_per_l(component, self.totals.amount(component));
        Some(Assumption::new(
            "balanced_on",
            format!("analysis.{}", component.id()),
            format!("{} is moved so that the charge closes, as asked.", capital(component.name())),
            format!("It is reckoned with at {amount:.3} mg/L."),
        ))
    }

    fn not_stated(&self) -> Option<Assumption> {
        let usual = |component: &Component| {
            matches!(component.role(), Role::StrongCation | Role::StrongAnion)
                || [Component::NH4, Component::PO4].contains(component)
        };
        let absent = |component: &Component| self.totals.standing(*component) == Standing::Absent;
        let names: Vec<&str> =
            Component::ALL.into_iter().filter(|c| usual(c) && absent(c)).map(Component::id).collect();
        if names.is_empty() {
            return None;
        }
        let gap = self.totals.charge_gap().abs();
        let gap_meq = 1000.0 * gap * self.density.water_kg_per_l;
        Some(Assumption::new(
            "ions_not_stated",
            "analysis",
            format!("Not stated, and not counted in sums: {}.", names.join(", ")),
            format!(
                "The charge gap leaves room for {gap_meq:.3} meq/L of them together, such as {:.2} mg/L of NO3.",
                self.mg_per_l(Component::NO3, gap)
            ),
        ))
    }
}

fn capital(name: &str) -> String {
    let mut letters = name.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
