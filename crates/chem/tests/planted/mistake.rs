//! Mistakes planted in a sheet that was right.

use springwright_chem::composition::reconciliation::{Of, Row, Sheet, swapped_digits};
use springwright_chem::matter::component::Component;
use springwright_chem::quantity::Measured;

use super::random::Random;
use super::water::{of, unit, written};

/// What was planted: the sort, and the rows that it stands in.
#[derive(Clone, Debug)]
pub struct Planted {
    pub code: &'static str,
    pub rows: Vec<Of>,
}

/// The sorts that are planted.
pub const SORTS: [&str; 9] =
    ["basis", "unit", "decimal", "digits", "lumped", "exchanged", "solids", "temperature", "missing"];

/// Plants one mistake of a sort; none where it does not fit the sheet.
pub fn plant(code: &'static str, sheet: &mut Sheet, random: &mut Random) -> Option<Planted> {
    let rows = match code {
        "basis" => basis(sheet, random)?,
        "unit" => units(sheet, random)?,
        "decimal" => decimal(sheet, random)?,
        "digits" => digits(sheet, random)?,
        "lumped" => lumped(sheet)?,
        "exchanged" => exchanged(sheet, random)?,
        "solids" => solids(sheet)?,
        "temperature" => temperature(sheet)?,
        _ => missing(sheet)?,
    };
    Some(Planted { code, rows })
}

fn at(sheet: &Sheet, row: Of) -> Option<usize> {
    sheet.rows.iter().position(|own| own.of == row)
}

/// The same row with another number, its uncertainty in proportion.
fn scaled(row: &Row, factor: f64) -> Row {
    let value = written(row.measured.value() * factor);
    rewritten(row, value, factor)
}

fn rewritten(row: &Row, value: f64, factor: f64) -> Row {
    let mut changed = Measured::new(value, row.measured.unit()).unwrap();
    if let Some(basis) = row.measured.basis() {
        changed = changed.with_basis(basis.clone()).unwrap();
    }
    if let Some(u) = row.measured.uncertainty() {
        changed = changed.with_uncertainty(u * factor, None).unwrap();
    }
    Row { of: row.of, measured: changed }
}

fn basis(sheet: &mut Sheet, random: &mut Random) -> Option<Vec<Of>> {
    let caco3 = of("Ca").molar_mass() + of("CO3").molar_mass();
    let (n, s, si) = (14.007, 32.06, 28.085);
    let per = |id: &str, mass: f64| mass / of(id).molar_mass();
    let choices = [
        ("NO3", per("NO3", n)),
        ("NO3", per("NO3", n)),
        ("SO4", per("SO4", s)),
        ("SiO2", per("SiO2", si)),
        ("Ca", per("Ca", caco3)),
        ("Mg", per("Mg", caco3)),
        ("HCO3", per("HCO3", caco3 / 2.0)),
        ("alkalinity", 2.0 * of("HCO3").molar_mass() / caco3),
    ];
    let (id, factor) = *random.pick(&choices);
    let row = Of::read(id)?;
    let place = at(sheet, row)?;
    sheet.rows[place] = scaled(&sheet.rows[place], factor);
    Some(vec![row])
}

fn units(sheet: &mut Sheet, random: &mut Random) -> Option<Vec<Of>> {
    // A hardness in French or German degrees, in mmol/L or meq/L, written as mg/L of CaCO3; ions in mmol or meq as mg.
    let (id, factor) = *random.pick(&[
        ("hardness", 0.1),
        ("hardness", 56.077 / 100.087 / 10.0),
        ("hardness", 2.0 / 100.087),
        ("alkalinity", 1.0 / 50.043),
        ("alkalinity", 0.1),
        ("Ca", 2.0 / 40.078),
        ("Cl", 1.0 / 35.45),
        ("Na", 1.0 / 22.99),
        ("SO4", 1.0 / 96.06),
    ]);
    let row = Of::read(id)?;
    let place = at(sheet, row)?;
    sheet.rows[place] = scaled(&sheet.rows[place], factor);
    Some(vec![row])
}

fn decimal(sheet: &mut Sheet, random: &mut Random) -> Option<Vec<Of>> {
    let place = (random.share() * sheet.rows.len() as f64) as usize;
    let factor = *random.pick(&[10.0, 0.1, 10.0, 0.1, 1000.0, 0.001]);
    let value = if factor < 1.0 {
        sheet.rows[place].measured.value() / (1.0 / factor)
    } else {
        sheet.rows[place].measured.value() * factor
    };
    sheet.rows[place] = rewritten(&sheet.rows[place], value, factor);
    Some(vec![sheet.rows[place].of])
}

fn digits(sheet: &mut Sheet, random: &mut Random) -> Option<Vec<Of>> {
    let place = (random.share() * sheet.rows.len() as f64) as usize;
    let swaps = swapped_digits(sheet.rows[place].measured.value());
    if swaps.is_empty() {
        return None;
    }
    sheet.rows[place] = rewritten(&sheet.rows[place], *random.pick(&swaps), 1.0);
    Some(vec![sheet.rows[place].of])
}

fn lumped(sheet: &mut Sheet) -> Option<Vec<Of>> {
    let (na, k) = (at(sheet, Of::Component(Component::NA))?, at(sheet, Of::Component(Component::K))?);
    let potassium = sheet.rows[k].measured.value() * Component::NA.molar_mass() / Component::K.molar_mass();
    let value = written(sheet.rows[na].measured.value() + potassium);
    sheet.rows[na] = rewritten(&sheet.rows[na], value, 1.0);
    Some(vec![Of::Component(Component::NA)])
}

fn exchanged(sheet: &mut Sheet, random: &mut Random) -> Option<Vec<Of>> {
    let (one, two) = *random.pick(&[("Ca", "Mg"), ("Mg", "Na"), ("Cl", "SO4"), ("SO4", "NO3"), ("Na", "K")]);
    let (one, two) = (Of::read(one)?, Of::read(two)?);
    let (a, b) = (at(sheet, one)?, at(sheet, two)?);
    let first = sheet.rows[a].measured.clone();
    sheet.rows[a].measured = sheet.rows[b].measured.clone();
    sheet.rows[b].measured = first;
    Some(vec![one, two])
}

/// A residue at 180 °C under the name of the sum of ions.
fn solids(sheet: &mut Sheet) -> Option<Vec<Of>> {
    let place = at(sheet, Of::Residue180c)?;
    sheet.rows[place].of = Of::SumOfIons;
    Some(vec![Of::SumOfIons])
}

/// A conductivity at 20 °C under the name of 25 °C: the usual factor of natural waters, 1.116.
fn temperature(sheet: &mut Sheet) -> Option<Vec<Of>> {
    let place = at(sheet, Of::Conductivity)?;
    sheet.rows[place] = scaled(&sheet.rows[place], 1.0 / 1.116);
    Some(vec![Of::Conductivity])
}

/// A nitrate that was left out.
fn missing(sheet: &mut Sheet) -> Option<Vec<Of>> {
    let row = Of::Component(Component::NO3);
    let place = at(sheet, row)?;
    sheet.rows.remove(place);
    Some(vec![row])
}

/// By how many standard uncertainties of the whole sheet the mistake moves charge, hardness, conductivity or residue: the
/// largest of the four. A plain reckoning that knows nothing of the search.
pub fn shows(right: &Sheet, wrong: &Sheet) -> f64 {
    let checks = [charge, hardness, conductivity, residue];
    checks
        .iter()
        .filter_map(|check| {
            let ((before, u), (after, _)) = (check(right)?, check(wrong)?);
            Some((after - before).abs() / u)
        })
        .fold(0.0, f64::max)
}

type Sum = Option<(f64, f64)>;

fn amount(sheet: &Sheet, row: Of) -> Option<f64> {
    let own = sheet.row(row)?;
    Some(own.measured.value() / unit(row).2)
}

fn ions(sheet: &Sheet) -> Vec<(Component, f64)> {
    let mut all: Vec<(Component, f64)> = sheet
        .rows
        .iter()
        .filter_map(|row| match row.of {
            Of::Component(component) => Some((component, amount(sheet, row.of)?)),
            _ => None,
        })
        .collect();
    all.extend(amount(sheet, Of::Alkalinity).map(|alkalinity| (Component::HCO3, alkalinity)));
    all
}

fn weighted(sheet: &Sheet, weight: impl Fn(Component) -> f64) -> (f64, f64) {
    ions(sheet).into_iter().fold((0.0, 0.0), |(sum, squares), (ion, mmol)| {
        let part = weight(ion) * mmol;
        (sum + part, squares + (0.02 * part).powi(2))
    })
}

fn charge(sheet: &Sheet) -> Sum {
    let (sum, squares) = weighted(sheet, |ion| f64::from(ion.charge()));
    Some((sum, (squares + 0.02_f64.powi(2)).sqrt()))
}

fn hardness(sheet: &Sheet) -> Sum {
    let (sum, squares) =
        weighted(sheet, |ion| f64::from(u8::from(ion == Component::CA || ion == Component::MG)));
    let stated = amount(sheet, Of::Hardness)?;
    Some((stated - sum, (squares + (0.015 * stated).powi(2) + 0.0002).sqrt()))
}

/// With 62 µS/cm for a meq, right to a few percent; only the difference that a mistake makes is used.
fn conductivity(sheet: &Sheet) -> Sum {
    let (sum, squares) = weighted(sheet, |ion| 62.0 * f64::from(ion.charge().abs()));
    let stated = amount(sheet, Of::Conductivity)?;
    Some((stated - sum, (squares + (0.013 * stated).powi(2) + 1.0).sqrt()))
}

fn residue(sheet: &Sheet) -> Sum {
    let kept = |ion: Component| if ion == Component::HCO3 { 0.49 } else { 1.0 };
    let (sum, squares) = weighted(sheet, |ion| kept(ion) * ion.molar_mass());
    let whole: f64 = ions(sheet).into_iter().map(|(ion, mmol)| mmol * ion.molar_mass()).sum();
    match (amount(sheet, Of::Residue180c), amount(sheet, Of::SumOfIons)) {
        (Some(stated), _) => Some((stated - sum, (squares + (0.025 * stated).powi(2) + 16.0).sqrt())),
        (None, Some(stated)) => Some((stated - whole, (squares + (0.03 * stated).powi(2) + 16.0).sqrt())),
        _ => None,
    }
}
