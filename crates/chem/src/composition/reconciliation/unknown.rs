//! What is looked for: the amount of each thing that may stand in the water, with what is believed of it beforehand.

use std::sync::LazyLock;

use super::figure::Figure;
use super::sheet::{Of, Sheet};
use crate::composition::added::Added;
use crate::composition::analysis::USUAL_END_POINT_PH;
use crate::composition::dissolved;
use crate::composition::solids::hco3_kept_at_180c;
use crate::matter::component::{Component, Role};
use crate::table::Table;

/// Where an amount is known from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Told {
    /// A row of its own, or what a sum leaves beside its other part.
    Stated,
    /// No row; the rest of the sheet must tell it.
    Free,
    /// A limit only.
    Below,
    /// How a stated sum is divided.
    Split,
    /// The sheet is silent of it.
    Silent,
}

/// Something that is looked for.
#[derive(Clone, Debug)]
pub(super) struct Unknown {
    pub(super) of: Of,
    pub(super) told: Told,
    /// What is believed of it beside the rows: centre and standard uncertainty.
    pub(super) belief: Option<(f64, f64)>,
    pub(super) most: f64,
    /// What one unit of it stands in the water as, mmol; HCO3 is what the carbonate holds.
    pub(super) brings: Vec<(Component, f64)>,
    /// Charge as the titration leaves it, meq.
    pub(super) charge: f64,
}

/// What a sheet that is silent of a component leaves room for, mg/L.
struct Silent {
    component: Component,
    usual: f64,
    most: f64,
}

static SILENT: LazyLock<Vec<Silent>> = LazyLock::new(|| {
    let table = Table::read(include_str!("../../../data/analysis_silent.tsv"));
    let silent = |row: crate::table::Row<'_>| {
        Some(Silent {
            component: Component::read(row.text("of"))?,
            usual: row.number("usual")?,
            most: row.number("most")?,
        })
    };
    table.rows().filter_map(silent).collect()
});

/// Ions without which a sheet says too little, unless they are told to be absent.
const NEEDED: [Component; 6] =
    [Component::CA, Component::MG, Component::NA, Component::HCO3, Component::CL, Component::SO4];
/// Of a hardness that is not divided: the share of magnesium and its standard uncertainty.
const MAGNESIUM: (f64, f64) = (0.25, 0.12);
/// Of sodium and potassium that are not divided: the share of potassium and its standard uncertainty.
const POTASSIUM: (f64, f64) = (0.05, 0.04);
/// A belief so loose that it only keeps the search in a lake, mmol/L.
const LOOSE: f64 = 30.0;

/// Everything that is looked for in a sheet with these figures.
pub(super) fn unknowns(sheet: &Sheet, figures: &[Figure], widened: Option<Component>) -> Vec<Unknown> {
    let end_point = sheet.end_point_ph.unwrap_or(USUAL_END_POINT_PH);
    let mut found: Vec<Unknown> = Vec::new();
    for component in Component::ALL {
        if let Some((told, belief, most)) = told(sheet, figures, component, widened) {
            found.push(Unknown::of_component(component, end_point, told, belief, most));
        }
    }
    let salts = sheet.salts.iter().enumerate();
    found.extend(salts.filter_map(|(at, salt)| Unknown::of_salt(at, &Added::of_salt(salt).ok()?)));
    found
}

type Known = (Told, Option<(f64, f64)>, f64);

fn told(
    sheet: &Sheet,
    figures: &[Figure],
    component: Component,
    widened: Option<Component>,
) -> Option<Known> {
    let figure = |of: Of| figures.iter().find(|figure| figure.of == of);
    let titrated = figure(Of::Alkalinity).filter(|_| component == Component::HCO3);
    let own = figure(Of::Component(component)).or(titrated);
    if let Some(own) = own {
        let limit =
            (Told::Below, Some((0.5 * own.amount, own.amount.max(1e-9) / 12.0_f64.sqrt())), own.amount);
        return Some(if own.below { limit } else { (Told::Stated, None, f64::INFINITY) });
    }
    if sheet.absent.contains(&component) || component == Component::CO3 {
        return None;
    }
    if component == Component::HCO3 && figure(Of::Component(Component::CO3)).is_some() {
        return None;
    }
    if let Some(known) = part_of_sum(figures, component) {
        return Some(known);
    }
    if NEEDED.contains(&component) {
        return Some((Told::Free, Some((0.0, LOOSE)), f64::INFINITY));
    }
    let silent = SILENT.iter().find(|silent| silent.component == component)?;
    let scale = if widened == Some(component) { silent.most } else { silent.usual };
    Some((Told::Silent, Some((0.0, scale / component.molar_mass())), f64::INFINITY))
}

/// A part of a stated sum without a row of its own.
fn part_of_sum(figures: &[Figure], component: Component) -> Option<Known> {
    let figure = |of: Of| figures.iter().find(|figure| figure.of == of);
    let (sum, other, minor) = match component {
        Component::CA => (Of::Hardness, Component::MG, None),
        Component::MG => (Of::Hardness, Component::CA, Some(MAGNESIUM)),
        Component::NA => (Of::SodiumAndPotassium, Component::K, None),
        Component::K => (Of::SodiumAndPotassium, Component::NA, Some(POTASSIUM)),
        _ => return None,
    };
    let sum = figure(sum)?;
    let divided = figure(Of::Component(other)).is_some();
    Some(match minor.filter(|_| !divided) {
        Some((share, spread)) => {
            (Told::Split, Some((share * sum.amount, (spread * sum.amount).max(1e-6))), f64::INFINITY)
        }
        None => (Told::Stated, None, f64::INFINITY),
    })
}

/// What a sheet is commonly silent of.
pub(super) fn silent_of(sheet: &Sheet, figures: &[Figure]) -> Vec<Component> {
    unknowns(sheet, figures, None)
        .into_iter()
        .filter_map(|unknown| match unknown.of {
            Of::Component(component) if unknown.told == Told::Silent => Some(component),
            _ => None,
        })
        .collect()
}

impl Unknown {
    fn of_component(
        component: Component,
        end_point: f64,
        told: Told,
        belief: Option<(f64, f64)>,
        most: f64,
    ) -> Unknown {
        let charge = match component {
            Component::HCO3 => -1.0,
            Component::CO3 => -2.0,
            weak if weak.role() == Role::WeakAcid => weak.charge_left(end_point),
            strong => f64::from(strong.charge()),
        };
        let mut brings = vec![(component, 1.0)];
        if component.role() == Role::WeakAcid && !dissolved::is_carbonate(component) {
            // What the titration takes for bicarbonate although this acid holds it.
            brings.push((Component::HCO3, dissolved::form(component).charge - charge));
        }
        Unknown { of: Of::Component(component), told, belief, most, brings, charge }
    }

    /// A salt by the mg of it in a litre; it brings as much of either charge.
    fn of_salt(at: usize, added: &Added) -> Option<Unknown> {
        let per_mg = 1.0 / added.molar_mass();
        let whole = added.per_mole();
        let amount = |component: Component| (component, whole.amount(component) * per_mg);
        let brings: Vec<(Component, f64)> =
            Component::ALL.into_iter().map(amount).filter(|(_, amount)| *amount != 0.0).collect();
        let told = Told::Stated;
        Some(Unknown { of: Of::Salt(at), told, belief: None, most: f64::INFINITY, brings, charge: 0.0 })
    }

    /// mg of solids that one unit leaves: as ions, or dried at 180 °C.
    pub(super) fn solids(&self, dried: bool) -> f64 {
        let kept = if dried { hco3_kept_at_180c() } else { 1.0 };
        let mass = |(component, amount): &(Component, f64)| {
            let share = if *component == Component::HCO3 { kept } else { 1.0 };
            share * amount * component.molar_mass()
        };
        self.brings.iter().map(mass).sum()
    }

    /// How a row counts it.
    pub(super) fn counts_in(&self, row: Of) -> f64 {
        let Of::Component(own) = self.of else { return f64::from(u8::from(row == self.of)) };
        let one = |parts: &[Component]| f64::from(u8::from(parts.contains(&own)));
        match row {
            Of::Component(component) => one(&[component]),
            Of::Hardness => one(&[Component::CA, Component::MG]),
            Of::SodiumAndPotassium => one(&[Component::NA, Component::K]),
            Of::Alkalinity => one(&[Component::HCO3]) + 2.0 * one(&[Component::CO3]),
            Of::SumOfIons | Of::Residue180c | Of::Conductivity | Of::Salt(_) => 0.0,
        }
    }
}
