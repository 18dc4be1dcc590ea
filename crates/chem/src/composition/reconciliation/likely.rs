//! The most likely water behind a sheet, and how each row stands to it.

use super::cell::Cell;
use super::conductance::Conductance;
use super::fault::ReconciliationError;
use super::figure::Figure;
use super::sheet::{Of, Sheet};
use super::system::{Equation, Solved, Source, View, amounts};
use super::unknown::{Told, unknowns};
use crate::composition::density::Density;
use crate::composition::totals::Totals;
use crate::matter::component::Component;
use crate::numeric::chi_square_beyond;
use crate::quantity::Solution as Litre;

/// How a row stands to the rest of its sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Within two standard uncertainties of the rest.
    Fits,
    /// Between two and three.
    Doubtful,
    /// More than three away.
    DoesNotFit,
    /// Nothing else on the sheet tells of it.
    Unchecked,
    /// A limit, and nothing contradicts it.
    BelowLimit,
}

/// A row beside the most likely water, in the unit of [`Of::unit`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LikelyRow {
    /// Of what it speaks.
    pub of: Of,
    /// What the sheet says.
    pub stated: f64,
    /// Standard uncertainty of that.
    pub stated_uncertainty: f64,
    /// Nobody stated that uncertainty: it is the usual one.
    pub usual: bool,
    /// What the most likely water gives.
    pub likely: f64,
    /// Standard uncertainty of that.
    pub uncertainty: f64,
    /// Stated less likely, over the standard uncertainty of their difference: a standard normal number on a sheet that is
    /// right. None where nothing else tells of the row.
    pub residual: Option<f64>,
    /// The same in a word.
    pub verdict: Verdict,
}

/// An amount of the most likely water, mmol/L.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LikelyAmount {
    /// Which component; `HCO3` is alkalinity expressed as HCO3, to which `CO3` adds.
    pub component: Component,
    /// mmol/L.
    pub amount: f64,
    /// Standard uncertainty, mmol/L.
    pub uncertainty: f64,
    /// The sheet is silent of it.
    pub silent: bool,
}

/// A sheet made to add up.
#[derive(Clone, Debug)]
pub struct Reconciled {
    /// Every row, in the order of the sheet.
    pub rows: Vec<LikelyRow>,
    /// The most likely amounts of the ions that were analysed, in the order of the components.
    pub amounts: Vec<LikelyAmount>,
    /// Sum of squared distances, each over its standard uncertainty.
    pub chi_square: f64,
    /// How many independent checks that is.
    pub degrees_of_freedom: usize,
    /// How often a sheet that is right shows as much or more by chance.
    pub probability: f64,
    /// Times that the state was solved for the conductivity.
    pub rounds: usize,
    /// No pH was known for the conductivity: alkalinity was taken as bicarbonate.
    pub without_ph: bool,
    pub(super) sheet: Sheet,
    pub(super) figures: Vec<Figure>,
    pub(super) litre: Litre,
    pub(super) conductance: Conductance,
    pub(super) solved: Solved,
}

/// Most rounds in which conductivity and water are settled.
const MOST_ROUNDS: usize = 6;
/// Times that the point of the conductivity is moved in a round.
const MOVES: usize = 6;
/// Relative change of the conductivity since the state was solved, below which what pH makes of it stands too.
const STANDS: f64 = 0.01;
/// A row whose adjusted uncertainty is this share of its own is not checked by anything.
const UNCHECKED: f64 = 0.999;
const USUAL_C: f64 = 20.0;
const REFERENCE_C: f64 = 25.0;

/// Finds the most likely water behind a sheet.
///
/// # Errors
/// Every fault of the sheet at once; too little on it to hold one number against another.
///
/// ```
/// use springwright_chem::composition::reconciliation::{Of, Row, Sheet, reconcile};
/// use springwright_chem::quantity::reading::read_measured;
/// let row = |of: &str, text: &str| -> Result<Row, Box<dyn std::error::Error>> {
///     Ok(Row { of: Of::read(of).ok_or("no row")?, measured: read_measured(text)?.measured })
/// };
/// let rows = [("Ca", "60 mg/L"), ("Mg", "9 mg/L"), ("Na", "14 mg/L"), ("K", "2 mg/L"), ("Cl", "22 mg/L"),
///             ("SO4", "31 mg/L"), ("alkalinity", "3.2 meq/L"), ("hardness", "10.5 dH")];
/// let rows = rows.into_iter().map(|(of, text)| row(of, text)).collect::<Result<_, _>>()?;
/// let found = reconcile(&Sheet { rows, ..Sheet::default() }).map_err(|faults| faults[0].clone())?;
/// // charge and hardness both check; the sheet is right
/// assert_eq!(found.degrees_of_freedom, 2);
/// assert!(found.probability > 0.05);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn reconcile(sheet: &Sheet) -> Result<Reconciled, Vec<ReconciliationError>> {
    let (figures, litre) = read(sheet)?;
    enough(sheet, &figures)?;
    let celsius = sheet.conductivity_c.unwrap_or(REFERENCE_C);
    let mut cell = Cell::of(&unknowns(sheet, &figures, None));
    let mut around = stated_amounts(sheet, &figures);
    let has_conductivity = figures.iter().any(|figure| figure.of == Of::Conductivity && !figure.below);
    let (mut factor, mut solved_at, mut rounds) = (None, 0.0, 0);
    loop {
        let conductance = Conductance::around(celsius, &around, &mut cell).with_factor(factor.unwrap_or(1.0));
        let view = View { sheet, conductance: &conductance, widened: None, doubted: None, moves: MOVES };
        let solved =
            view.solve(&figures, &mut cell).ok_or_else(|| vec![ReconciliationError::NotConverged])?;
        around = solved.amounts();
        let here = conductance.with_factor(1.0).of(&around, &mut cell);
        let stands = !has_conductivity || (here - solved_at).abs() <= STANDS * here;
        if stands || rounds == MOST_ROUNDS {
            let without_ph = has_conductivity && factor.is_none();
            return Ok(told(sheet, figures, litre, conductance, solved, rounds, without_ph));
        }
        factor = sheet.ph.and_then(|ph| conductance.solved_factor(&around, ph, &mut cell).ok());
        solved_at = here;
        rounds += 1;
    }
}

/// The rows as numbers, and what a litre weighs. Rows per kilogram need the litre, whose density needs the rows: a second
/// look settles it to a part in 10^5.
fn read(sheet: &Sheet) -> Result<(Vec<Figure>, Litre), Vec<ReconciliationError>> {
    let celsius = sheet.temperature_c.unwrap_or(USUAL_C);
    let pure = Density::of(&Totals::pure(), celsius).map_err(|fault| vec![fault.into()])?.kg_per_l;
    let rough = figures(sheet, &litre(pure, 0.0))?;
    let all = unknowns(sheet, &rough, None);
    let stated = super::system::start(&all, &rough);
    let solids = all.iter().zip(stated).map(|(unknown, value)| 1e-6 * value * unknown.solids(false)).sum();
    let litre = litre(pure, solids);
    Ok((figures(sheet, &litre)?, litre))
}

/// Every row as a number, or every fault of the rows.
fn figures(sheet: &Sheet, litre: &Litre) -> Result<Vec<Figure>, Vec<ReconciliationError>> {
    let (mut figures, mut faults) = (Vec::new(), Vec::new());
    for (at, row) in sheet.rows.iter().enumerate() {
        let name = row.of.id();
        if sheet.rows[..at].iter().any(|other| other.of == row.of) {
            faults.push(ReconciliationError::Twice { at, row: name });
        }
        match Figure::of(row, litre) {
            Ok(figure) => figures.push(figure),
            Err(fault) => faults.push(ReconciliationError::Row { at, row: name, fault }),
        }
    }
    if faults.is_empty() { Ok(figures) } else { Err(faults) }
}

/// What a litre weighs with so many kg of solids in it: they raise the density by about four fifths of their mass.
fn litre(pure_kg_per_l: f64, solids: f64) -> Litre {
    let solids = solids.clamp(0.0, 0.3);
    let density = pure_kg_per_l + 0.8 * solids;
    Litre::new(Some(density), Some(density - solids)).unwrap_or_default()
}

/// Refuses a sheet on which needed ions are open and nothing could tell them.
fn enough(sheet: &Sheet, figures: &[Figure]) -> Result<(), Vec<ReconciliationError>> {
    let all = unknowns(sheet, figures, None);
    let open: Vec<Component> = all
        .iter()
        .filter(|unknown| unknown.told == Told::Free)
        .filter_map(|unknown| match unknown.of {
            Of::Component(component) => Some(component),
            _ => None,
        })
        .collect();
    let stated = all.iter().filter(|unknown| unknown.told == Told::Stated).count();
    let rows = figures.iter().filter(|figure| !figure.below).count();
    // Sodium and potassium, or calcium and magnesium, given only by their sum count as one.
    let charge = usize::from(all.iter().any(|unknown| unknown.charge != 0.0));
    let checks = (rows + charge).saturating_sub(stated);
    if checks > open.len() {
        return Ok(());
    }
    if open.is_empty() {
        return Err(vec![ReconciliationError::NothingToCheck]);
    }
    let unknown = open.len();
    let fault = |component| ReconciliationError::Insufficient { component, unknown, checks };
    Err(open.into_iter().map(fault).collect())
}

/// The water as stated, mmol/L.
pub(super) fn stated_amounts(sheet: &Sheet, figures: &[Figure]) -> super::conductance::Amounts {
    let unknowns = unknowns(sheet, figures, None);
    let values = super::system::start(&unknowns, figures);
    amounts(&unknowns, &values)
}

fn told(
    sheet: &Sheet,
    figures: Vec<Figure>,
    litre: Litre,
    conductance: Conductance,
    solved: Solved,
    rounds: usize,
    without_ph: bool,
) -> Reconciled {
    let rows = figures.iter().enumerate().map(|(at, figure)| row(at, figure, &solved)).collect();
    let degrees_of_freedom = solved.degrees();
    Reconciled {
        rows,
        amounts: likely_amounts(&solved),
        chi_square: solved.chi_square(),
        degrees_of_freedom,
        probability: chi_square_beyond(solved.chi_square(), degrees_of_freedom),
        rounds,
        without_ph,
        sheet: sheet.clone(),
        figures,
        litre,
        conductance,
        solved,
    }
}

fn likely_amounts(solved: &Solved) -> Vec<LikelyAmount> {
    let amount = |at: usize| {
        let unknown = &solved.unknowns[at];
        let Of::Component(component) = unknown.of else { return None };
        let mut slopes = vec![0.0; solved.unknowns.len()];
        slopes[at] = 1.0;
        Some(LikelyAmount {
            component,
            amount: solved.values[at],
            uncertainty: solved.uncertainty(&slopes),
            silent: unknown.told == Told::Silent,
        })
    };
    (0..solved.unknowns.len()).filter_map(amount).collect()
}

fn row(at: usize, figure: &Figure, solved: &Solved) -> LikelyRow {
    let equation = solved.equations.iter().find(|equation| equation.source == Source::Row(at));
    let base = |likely: f64, uncertainty: f64, residual: Option<f64>, verdict: Verdict| LikelyRow {
        of: figure.of,
        stated: figure.amount,
        stated_uncertainty: figure.uncertainty,
        usual: figure.usual,
        likely,
        uncertainty,
        residual,
        verdict,
    };
    let Some(equation) = equation else {
        let own = solved.unknowns.iter().position(|unknown| unknown.counts_in(figure.of) == 1.0);
        let value = own.map_or(0.5 * figure.amount, |at| solved.values[at]);
        let slopes: Vec<f64> =
            (0..solved.unknowns.len()).map(|at| f64::from(u8::from(Some(at) == own))).collect();
        return base(value, solved.uncertainty(&slopes), None, Verdict::BelowLimit);
    };
    let (away, own, adjusted) = distance(equation, solved);
    let residual = (adjusted < UNCHECKED * own).then(|| away / (own * own - adjusted * adjusted).sqrt());
    let verdict = match residual.map(f64::abs) {
        None => Verdict::Unchecked,
        Some(size) if size <= 2.0 => Verdict::Fits,
        Some(size) if size <= 3.0 => Verdict::Doubtful,
        Some(_) => Verdict::DoesNotFit,
    };
    base(figure.amount - away, adjusted, residual, verdict)
}

/// How far an equation is from the solution, its own standard uncertainty and that of the solution there.
fn distance(equation: &Equation, solved: &Solved) -> (f64, f64, f64) {
    (equation.value - solved.given(equation), equation.uncertainty, solved.uncertainty(&equation.slopes))
}

impl Reconciled {
    /// A conductivity cell for what may stand in this water.
    pub(super) fn cell(&self) -> Cell {
        Cell::of(&self.solved.unknowns)
    }
}

#[cfg(test)]
mod tests {
    use super::super::sheet::Row;
    use super::*;
    use crate::quantity::reading::read_measured;

    fn sheet(rows: &[(&str, &str)]) -> Sheet {
        let row = |(of, text): &(&str, &str)| Row {
            of: Of::read(of).unwrap(),
            measured: read_measured(text).unwrap().measured,
        };
        let absent = ["Mg", "K", "NO3", "SiO2", "F", "NH4", "Fe", "PO4", "SO4"];
        let absent = absent.map(|id| Component::read(id).unwrap()).to_vec();
        Sheet { rows: rows.iter().map(row).collect(), absent, ..Sheet::default() }
    }

    fn likely(found: &Reconciled, id: &str) -> LikelyRow {
        *found.rows.iter().find(|row| row.of.id() == id).unwrap()
    }

    /// A worked example by hand. Ca 1.00 ± 0.02, Na 1.00 ± 0.02, Cl 2.10 ± 0.04, alkalinity 1.00 ± 0.02 mmol/L: the charge
    /// is 2 + 1 − 2.1 − 1 = −0.1 meq/L with the variance 4·4e-4 + 4e-4 + 16e-4 + 4e-4 = 4e-3. Each amount gives way by its
    /// charge times its variance over that, times 0.1: Ca + 0.02, Na + 0.01, Cl − 0.04, alkalinity − 0.01; chi-square is
    /// 0.01/4e-3 = 2.5 with one degree of freedom, every residual ±√2.5, and the variance of Ca falls from 4e-4 by
    /// (2·4e-4)²/4e-3 = 1.6e-4 (1e-5 relative: the charge closes next to exactly).
    #[test]
    fn a_worked_example() {
        let found = reconcile(&sheet(&[
            ("Ca", "1.00 ± 0.02 mmol/L (k=1)"),
            ("Na", "1.00 ± 0.02 mmol/L (k=1)"),
            ("Cl", "2.10 ± 0.04 mmol/L (k=1)"),
            ("alkalinity", "1.00 ± 0.02 meq/L (k=1)"),
        ]))
        .unwrap();
        for (id, amount, sign) in
            [("Ca", 1.02, -1.0), ("Na", 1.01, -1.0), ("Cl", 2.06, 1.0), ("alkalinity", 0.99, 1.0)]
        {
            let row = likely(&found, id);
            assert!((row.likely - amount).abs() < 1e-5, "{id} {}", row.likely);
            assert!((row.residual.unwrap() - sign * 2.5_f64.sqrt()).abs() < 1e-4, "{id}");
        }
        assert!((found.chi_square - 2.5).abs() < 1e-4);
        assert_eq!(found.degrees_of_freedom, 1);
        assert!((likely(&found, "Ca").uncertainty - 2.4e-4_f64.sqrt()).abs() < 1e-6);
        // the table of chi-square: 2.5 with one degree is reached by chance in 11.4 %
        assert!((found.probability - 0.1138).abs() < 2e-4);
    }

    /// Identity: no amount falls below nothing and a limit is kept, however hard the charge pulls.
    #[test]
    fn bounds_are_kept() {
        let found = reconcile(&sheet(&[
            ("Ca", "0.50 ± 0.05 mmol/L (k=1)"),
            ("Na", "0.02 ± 0.5 mmol/L (k=1)"),
            ("Cl", "<0.1 mmol/L"),
            ("alkalinity", "0.60 ± 0.01 meq/L (k=1)"),
        ]))
        .unwrap();
        assert_eq!(likely(&found, "Na").likely, 0.0);
        let chloride = likely(&found, "Cl");
        assert!((0.0..=0.1).contains(&chloride.likely) && chloride.verdict == Verdict::BelowLimit);
    }

    #[test]
    fn too_little_is_refused_with_what_is_missing() {
        let two = Sheet { absent: Vec::new(), ..sheet(&[("Ca", "60 mg/L"), ("Mg", "8 mg/L")]) };
        let missing: Vec<&str> = reconcile(&two)
            .unwrap_err()
            .iter()
            .map(|fault| match fault {
                ReconciliationError::Insufficient { component, checks: 1, unknown: 4 } => component.id(),
                other => panic!("{other}"),
            })
            .collect();
        assert_eq!(missing, ["Na", "Cl", "SO4", "HCO3"]);
        let twice = sheet(&[("Ca", "1 mmol/L"), ("Ca", "2 mmol/L")]);
        assert!(matches!(reconcile(&twice).unwrap_err()[0], ReconciliationError::Twice { at: 1, .. }));
    }
}
