//! Dissolved solids from the ions: their sum, and what drying at 180 °C leaves of it.

use super::dissolved;
use super::fault::CompositionError;
use super::finding::Finding;
use super::linear::LinearSum;
use super::totals::Totals;
use crate::matter::component::Component;

impl LinearSum {
    /// Sum of the ions, g, each by the formula it is counted in; all carbonate alkalinity counted as HCO3.
    pub fn tds() -> LinearSum {
        LinearSum::solids(1.0)
    }

    /// Residue after drying at 180 °C, g: as the sum of ions, but of HCO3 only what stays as carbonate
    /// ([`hco3_kept_at_180c`]).
    pub fn residue_180c() -> LinearSum {
        LinearSum::solids(hco3_kept_at_180c())
    }
}

/// The share of the mass of HCO3 that drying leaves: 2 HCO3⁻ → CO3²⁻ + CO2 + H2O, so M(CO3)/(2 M(HCO3)).
///
/// ```
/// assert!((springwright_chem::composition::solids::hco3_kept_at_180c() - 0.4917).abs() < 5e-5);
/// ```
pub fn hco3_kept_at_180c() -> f64 {
    Component::CO3.molar_mass() / (2.0 * Component::HCO3.molar_mass())
}

/// Sum of the ions of a water, g per kg of its water. It is [`LinearSum::tds`] while carbonate holds alkalinity; where
/// acids outrun the bicarbonate there is none to count, and none is taken off either.
///
/// # Errors
/// What [`LinearSum::known`] says of a major that nobody stated.
pub fn tds(totals: &Totals) -> Result<f64, Vec<CompositionError>> {
    Ok(LinearSum::tds().known(totals, "tds")? + missing_bicarbonate(totals))
}

/// Residue after drying at 180 °C, g per kg of its water, as [`tds`].
///
/// # Errors
/// As [`tds`].
pub fn residue_180c(totals: &Totals) -> Result<f64, Vec<CompositionError>> {
    let sum = LinearSum::residue_180c().known(totals, "residue")?;
    Ok(sum + hco3_kept_at_180c() * missing_bicarbonate(totals))
}

/// Mass of the bicarbonate that a linear sum counts below zero, g per kg of water.
fn missing_bicarbonate(totals: &Totals) -> f64 {
    (-totals.carbonate_alkalinity()).max(0.0) * Component::HCO3.molar_mass()
}

/// What a reader of the sums should know: crystal water that a real residue holds, acids that outrun bicarbonate,
/// substances that drying drives off or chars.
pub fn findings(totals: &Totals) -> Vec<Finding> {
    const RESIDUE: &str = "standard_methods_2540c";
    let mut findings = Vec::new();
    let tds = LinearSum::tds().of(totals) + missing_bicarbonate(totals);
    let gypsum = totals.amount(Component::CA).min(totals.amount(Component::SO4));
    let hygroscopic = gypsum + totals.amount(Component::MG);
    let crystal_water = 0.5 * super::pure_water::molar_mass() * hygroscopic;
    if tds > 0.0 && crystal_water > 0.02 * tds {
        let text = format!(
            "Calcium sulfate and magnesium salts may keep crystal water at 180 °C: half a mole each would add {:.0} % \
             to the residue.",
            100.0 * crystal_water / tds
        );
        findings.push(Finding::new("residue_holds_crystal_water", text, RESIDUE));
    }
    if totals.carbonate_alkalinity() < -1e-9 {
        let text = "Acids outrun the bicarbonate: no HCO3 is left to count, and the hydrogen they hold is left out \
                    of the sum of ions.";
        findings.push(Finding::new("acid_beyond_bicarbonate", text, "springwright_definition"));
    }
    let driven_off = totals.amount(Component::NH4) * Component::NH4.molar_mass() + organics(totals);
    if tds > 0.0 && driven_off > 0.02 * tds {
        let text = "Ammonium salts and organic acids may be lost or char at 180 °C; the computed residue keeps them.";
        findings.push(Finding::new("residue_may_lose_organics", text, RESIDUE));
    }
    findings
}

/// Mass of components with carbon beside carbonate, g per kg of water.
fn organics(totals: &Totals) -> f64 {
    Component::ALL
        .into_iter()
        .filter(|c| c.formula().count("C") > 0.0 && !dissolved::is_carbonate(*c))
        .map(|c| c.molar_mass() * totals.amount(c))
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::composition::added::Added;

    /// Definition: sodium bicarbonate dries to sodium carbonate, half a mole a mole.
    #[test]
    fn bicarbonate_dries_to_carbonate() {
        let bicarbonate = Added::new(84.006, &[(Component::NA, 1.0)], 1.0);
        assert!((LinearSum::tds().per_mole(&bicarbonate) - 84.006).abs() < 1e-9);
        assert!((LinearSum::residue_180c().per_mole(&bicarbonate) - 105.988 / 2.0).abs() < 1e-9);
    }

    /// Definition: the sum of ions of a neutral salt is its anhydrous mass.
    #[test]
    fn neutral_salts_weigh_as_their_ions() {
        let epsom = Added::new(246.47, &[(Component::MG, 1.0), (Component::SO4, 1.0)], 0.0);
        assert!((LinearSum::tds().per_mole(&epsom) - (24.305 + 96.056)).abs() < 1e-9);
        assert!(
            (LinearSum::residue_180c().per_mole(&epsom) - LinearSum::tds().per_mole(&epsom)).abs() < 1e-12
        );
    }

    #[test]
    fn findings_name_what_the_sum_cannot_know() {
        let codes = |salt: &Added| {
            let water = Totals::pure().with_added(&[(1e-3, salt)]).unwrap();
            findings(&water).into_iter().map(|finding| finding.code).collect::<Vec<_>>()
        };
        let gypsum = Added::new(172.164, &[(Component::CA, 1.0), (Component::SO4, 1.0)], 0.0);
        let salt = Added::new(58.44, &[(Component::NA, 1.0), (Component::CL, 1.0)], 0.0);
        let citric = Added::new(192.123, &[(Component::read("citrate").unwrap(), 1.0)], 0.0);
        assert_eq!(codes(&gypsum), ["residue_holds_crystal_water"]);
        assert_eq!(codes(&salt), [""; 0]);
        assert_eq!(codes(&citric), ["acid_beyond_bicarbonate", "residue_may_lose_organics"]);
    }

    /// By hand: 5.205 mmol of citric acid weigh 1000 mg, and nothing else is dissolved; the sum of ions counts the citrate
    /// (189.10 g/mol), 984 mg, and takes nothing off for bicarbonate that is not there.
    #[test]
    fn acids_take_nothing_off_the_sum() {
        let acid = Added::new(192.124, &[(Component::read("citrate").unwrap(), 1.0)], 0.0);
        let sour = Totals::pure().with_added(&[(5.205e-3, &acid)]).unwrap();
        assert!((1000.0 * tds(&sour).unwrap() - 984.3).abs() < 0.5, "{}", tds(&sour).unwrap());
        assert!((1000.0 * residue_180c(&sour).unwrap() - 984.3).abs() < 0.5);
        assert!(LinearSum::tds().of(&sour) < tds(&sour).unwrap());
    }
}
