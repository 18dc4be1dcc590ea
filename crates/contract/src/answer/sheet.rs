//! The sheet of a water: what a request says of it, with names and units read. Its amounts can be moved, so that
//! the same water can be reckoned again near what was stated.

use springwright_chem::composition::analysis::{Analysis, Missing, Per, Reported};
use springwright_chem::composition::state::Solution;
use springwright_chem::composition::totals::Totals;
use springwright_chem::matter::component::Component;
use springwright_chem::quantity::{self as chem, Dimension, QuantityError, Subject, Unit};

use super::carbonate::{self, Carbon, Carbonate};
use super::faults::{fault, out_of_place, own};
use super::source::{self, Dissolved, component};
use super::{amounts, mixture, said};
use crate::measured::{Comparator, Measured};
use crate::problem::Fault;
use crate::reading::below;
use crate::said::{Assumption, Finding};
use crate::source_water::{MissingRule, SourceWater};

/// A water of a request, read.
#[derive(Clone, Debug)]
pub(super) struct Sheet {
    /// Where it stands in the request.
    pub pointer: String,
    /// What people call it.
    pub name: String,
    /// Every figure with an uncertainty, and every one that is only known to lie below a limit.
    pub uncertain: Vec<UncertainFigure>,
    /// Where the water is not pure.
    analysis: Option<Analysis>,
    carbon: Carbon,
    salts: Vec<Dissolved>,
    /// Temperature of a pure water, °C.
    temperature_c: f64,
}

/// A figure of a sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Figure {
    Component(Component),
    Alkalinity,
    Hardness,
    SodiumAndPotassium,
    Dic,
    Co2,
    Ph,
}

impl Figure {
    /// The figure that a row of an analysis speaks of.
    pub(super) fn named(name: &str, at: &str) -> Result<Figure, Fault> {
        Ok(match name {
            "alkalinity" => Figure::Alkalinity,
            "hardness" => Figure::Hardness,
            "Na+K" => Figure::SodiumAndPotassium,
            "dic" => Figure::Dic,
            "co2" => Figure::Co2,
            id => Figure::Component(component(id, at)?),
        })
    }
}

/// A figure that is known only so well.
#[derive(Clone, Debug)]
pub(super) struct UncertainFigure {
    pub figure: Figure,
    /// Where it stands in the request.
    pub pointer: String,
    /// As stated, in its unit; half of a limit.
    pub value: f64,
    /// Standard uncertainty, in the same unit.
    pub standard_uncertainty: f64,
    /// mol (or eq) in one of its unit.
    pub per_unit: f64,
    /// The sheet says only "less than".
    pub below: bool,
}

impl Sheet {
    /// Reads the names and units of a water, or every fault of them.
    pub(super) fn read(
        stated: &SourceWater,
        pointer: &str,
        assumptions: &mut Vec<Assumption>,
    ) -> Result<Sheet, Vec<Fault>> {
        let pure = stated.pure == Some(true);
        let name = stated.name.clone().unwrap_or_else(|| pointer.trim_start_matches('/').replace('/', " "));
        let mut sheet = Sheet {
            pointer: pointer.to_owned(),
            name,
            uncertain: Vec::new(),
            analysis: None,
            carbon: Carbon::default(),
            salts: Vec::new(),
            temperature_c: mixture::USUAL_TEMPERATURE_C,
        };
        match (&stated.analysis, pure) {
            (Some(_), true) => {
                let message = "the water is said to be pure and has an analysis";
                return Err(vec![own(pointer, "pure_and_analysed", message, "leave out one of them")]);
            }
            (None, false) => {
                let message = "the water has no analysis, and is not said to be pure";
                let mend = "state its analysis, or pure: true; nothing is taken as pure in silence";
                return Err(vec![own(pointer, "water_unstated", message, mend)]);
            }
            (None, true) if stated.ph.is_some() => {
                return Err(vec![out_of_place(&below(pointer, "ph"), "ph", "water without solutes")]);
            }
            (None, true) => sheet.temperature_c = pure_temperature(stated, pointer, assumptions),
            (Some(_), false) => {}
        }
        let mut faults = if pure { Vec::new() } else { sheet.take_analysis(stated) };
        faults.extend(sheet.take_ph_uncertainty(stated));
        match source::salts(stated, pointer) {
            Ok(salts) => sheet.salts = salts,
            Err(own) => faults.extend(own),
        }
        if faults.is_empty() { Ok(sheet) } else { Err(faults) }
    }

    /// Reads every amount of the analysis and what the request rules on it; returns the faults.
    fn take_analysis(&mut self, stated: &SourceWater) -> Vec<Fault> {
        let (pointer, mut faults) = (self.pointer.clone(), Vec::new());
        self.analysis = Some(Analysis {
            end_point_ph: stated.end_point_ph,
            ph: stated.ph,
            temperature_c: stated.temperature_c,
            ..Analysis::default()
        });
        for (name, measured) in stated.analysis.iter().flat_map(|analysis| &analysis.0) {
            let at = below(&below(&pointer, "analysis"), name);
            match row(name, measured, &at) {
                Ok((figure, reported, uncertain)) => {
                    self.enter(figure, reported);
                    self.uncertain.extend(uncertain);
                }
                Err(own) => faults.extend(own),
            }
        }
        let mut rules = |analysis: &mut Analysis| {
            for (name, rule) in stated.missing.iter().flatten() {
                match component(name, &below(&below(&pointer, "missing"), name)) {
                    Ok(component) => drop(analysis.missing.insert(component, ruled(*rule))),
                    Err(own) => faults.push(own),
                }
            }
            if let Some(name) = &stated.balance_on {
                match component(name, &below(&pointer, "balance_on")) {
                    Ok(component) => analysis.balance_on = Some(component),
                    Err(own) => faults.push(own),
                }
            }
        };
        self.analysis.iter_mut().for_each(&mut rules);
        faults
    }

    /// The uncertainty of the measured pH.
    fn take_ph_uncertainty(&mut self, stated: &SourceWater) -> Option<Fault> {
        let uncertainty = stated.ph_uncertainty?;
        let Some(value) = stated.ph else {
            let at = below(&self.pointer, "ph_uncertainty");
            return Some(out_of_place(&at, "ph_uncertainty", "a water without a measured pH"));
        };
        let pointer = below(&self.pointer, "ph");
        self.uncertain.extend((uncertainty > 0.0).then_some(UncertainFigure {
            figure: Figure::Ph,
            pointer,
            value,
            standard_uncertainty: uncertainty,
            per_unit: 1.0,
            below: false,
        }));
        None
    }

    /// Puts an amount on the sheet.
    fn enter(&mut self, figure: Figure, reported: Reported) {
        let Some(analysis) = &mut self.analysis else { return };
        match figure {
            Figure::Component(component) => drop(analysis.components.insert(component, reported)),
            Figure::Alkalinity => analysis.alkalinity = Some(reported),
            Figure::Hardness => analysis.hardness = Some(reported),
            Figure::SodiumAndPotassium => analysis.sodium_and_potassium = Some(reported),
            Figure::Dic => self.carbon.dic = Some(reported),
            Figure::Co2 => self.carbon.co2 = Some(reported),
            Figure::Ph => analysis.ph = Some(reported.amount),
        }
    }

    /// Moves an amount, in mol (or eq) as it was stated, or the pH.
    pub(super) fn set(&mut self, figure: Figure, amount: f64) {
        let Some(analysis) = &self.analysis else { return };
        let stated = match figure {
            Figure::Component(component) => analysis.components.get(&component).copied(),
            Figure::Alkalinity => analysis.alkalinity,
            Figure::Hardness => analysis.hardness,
            Figure::SodiumAndPotassium => analysis.sodium_and_potassium,
            Figure::Dic => self.carbon.dic,
            Figure::Co2 => self.carbon.co2,
            Figure::Ph => Some(Reported::new(amount, Per::Litre)),
        };
        if let Some(stated) = stated {
            self.enter(figure, Reported::new(amount, stated.per));
        }
    }

    /// Moves the temperature of its litres, °C.
    pub(super) fn set_temperature(&mut self, celsius: f64) {
        if let Some(analysis) = &mut self.analysis {
            analysis.temperature_c = Some(celsius);
        }
    }

    /// The sheet without the figures that only check others: moved by chance they would no longer agree, although
    /// nothing is reckoned from them. Without a place in it, to set one of them does nothing.
    pub(super) fn without_checks(&self) -> Sheet {
        let mut sheet = self.clone();
        if let Some(analysis) = &mut sheet.analysis {
            let has = |analysis: &Analysis, component| analysis.components.contains_key(&component);
            if analysis.alkalinity.is_some() {
                analysis.components.remove(&Component::HCO3);
                analysis.components.remove(&Component::CO3);
            }
            if has(analysis, Component::NA) && has(analysis, Component::K) {
                analysis.sodium_and_potassium = None;
            }
            if has(analysis, Component::CA) && has(analysis, Component::MG) {
                analysis.hardness = None;
            }
        }
        sheet
    }

    /// Totals of the sheet before its carbonate is told, and the temperature of its litres; with what was taken for
    /// granted and noticed, where somebody listens.
    pub(super) fn totals(
        &self,
        said: Option<(&mut Vec<Assumption>, &mut Vec<Finding>)>,
    ) -> Result<(Totals, f64), Vec<Fault>> {
        let Some(analysis) = &self.analysis else { return Ok((Totals::pure(), self.temperature_c)) };
        let pointer = &self.pointer;
        let placed = |errors: Vec<_>| {
            errors.iter().map(|error| fault(source::place(error, pointer), error)).collect::<Vec<_>>()
        };
        let Some((assumptions, findings)) = said else {
            return Totals::reckoned(analysis).map_err(placed);
        };
        let reckoned = Totals::of(analysis).map_err(placed)?;
        assumptions.extend(reckoned.assumptions.iter().map(|assumed| said::assumption(pointer, assumed)));
        findings.extend(reckoned.findings.iter().map(|found| said::finding(pointer, found)));
        Ok((reckoned.totals, reckoned.temperature_c))
    }

    /// The carbonate of a water by all that its sheet says of it.
    pub(super) fn carbonate(&self, water: Solution, findings: &mut Vec<Finding>) -> Carbonate {
        match &self.analysis {
            Some(analysis) => {
                let rows = carbonate::CarbonFigures { ph: analysis.ph, carbon: self.carbon };
                carbonate::of_sheet(water, rows, &self.pointer, findings)
            }
            None => Carbonate::untold(water),
        }
    }

    /// The salts that are dissolved in it besides.
    pub(super) fn salts(&self) -> &[Dissolved] {
        &self.salts
    }
}

fn ruled(rule: MissingRule) -> Missing {
    match rule {
        MissingRule::Zero => Missing::Zero,
        MissingRule::ByCharge => Missing::ByCharge,
    }
}

fn pure_temperature(stated: &SourceWater, pointer: &str, assumptions: &mut Vec<Assumption>) -> f64 {
    stated.temperature_c.unwrap_or_else(|| {
        assumptions.push(said::assumed(
            "temperature_assumed",
            below(pointer, "temperature_c"),
            format!("The litres of this water are poured at {} °C.", mixture::USUAL_TEMPERATURE_C),
            "A litre at 4 °C holds 0.18 % more, at 30 °C 0.26 % less.",
        ));
        mixture::USUAL_TEMPERATURE_C
    })
}

/// A row of an analysis: what it speaks of, how much, and how well it is known where that is not exactly.
type Row = (Figure, Reported, Option<UncertainFigure>);

fn row(name: &str, measured: &Measured, at: &str) -> Result<Row, Vec<Fault>> {
    let figure = Figure::named(name, at).map_err(|own| vec![own])?;
    let read = |measured: &Measured| match figure {
        Figure::Dic | Figure::Co2 => carbonate::row(name, measured, at),
        _ => amounts::measured(measured, at)
            .and_then(|amount| reported(&amount, &subject(figure)).map_err(|error| vec![fault(at, &error)])),
    };
    let known = read(measured)?;
    let uncertain = uncertain(figure, measured, at)
        .map(|uncertain| {
            // Units are factors, so what stands for the uncertainty itself tells the factor, also of a value of zero.
            let alone = Measured {
                value: uncertain.standard_uncertainty,
                uncertainty: None,
                coverage_factor: None,
                comparator: None,
                ..measured.clone()
            };
            let per_unit = read(&alone)?.amount / uncertain.standard_uncertainty;
            Ok::<_, Vec<Fault>>(UncertainFigure { per_unit, ..uncertain })
        })
        .transpose()?;
    Ok((figure, known, uncertain))
}

fn subject(figure: Figure) -> Subject {
    match figure {
        Figure::Component(component) => Subject::Component(component),
        Figure::Alkalinity => Subject::Alkalinity,
        Figure::Hardness => Subject::Hardness,
        Figure::SodiumAndPotassium => Subject::Component(Component::NA),
        Figure::Dic | Figure::Co2 => Subject::CarbonDioxide,
        Figure::Ph => Subject::Plain,
    }
}

/// How well a row is known: by its uncertainty; below a limit as a quantity that lies anywhere from nothing to it.
fn uncertain(figure: Figure, measured: &Measured, at: &str) -> Option<UncertainFigure> {
    let below = measured.comparator == Some(Comparator::Below);
    let (value, standard_uncertainty) = if below {
        (0.5 * measured.value, 0.5 * measured.value / 3.0_f64.sqrt())
    } else {
        (measured.value, measured.uncertainty? / measured.coverage_factor.unwrap_or(1.0))
    };
    let pointer = at.to_owned();
    (standard_uncertainty > 0.0).then_some(UncertainFigure {
        figure,
        pointer,
        value,
        standard_uncertainty,
        per_unit: 1.0,
        below,
    })
}

/// mmol (or meq) in one of the unit of a figure.
pub(super) fn milli(figure: Figure, one: &Measured, at: &str) -> Result<f64, Vec<Fault>> {
    let refused = |error: QuantityError| vec![fault(at, &error)];
    if matches!(figure, Figure::Dic | Figure::Co2) {
        carbonate::row(if figure == Figure::Dic { "dic" } else { "co2" }, one, at)?;
    }
    let amount = amounts::measured(one, at)?;
    millis(&amount, &subject(figure)).map(|(milli, _)| milli).map_err(refused)
}

/// A measured amount in mol (eq for alkalinity) per litre or kilogram, as its unit says.
pub(super) fn reported(amount: &chem::Measured, of: &Subject) -> Result<Reported, QuantityError> {
    let (milli, per) = millis(amount, of)?;
    let below = amount.comparator().is_some();
    Ok(if below { Reported::below(milli / 1000.0, per) } else { Reported::new(milli / 1000.0, per) })
}

/// A measured amount in mmol (meq for alkalinity) per litre or kilogram, as its unit says.
fn millis(amount: &chem::Measured, of: &Subject) -> Result<(f64, Per), QuantityError> {
    use Dimension as D;
    let (to, to_eq, per) = match amount.unit().dimension() {
        D::MassPerMass | D::AmountPerSolution | D::EquivalentPerSolution => {
            ("mmol/kg_solution", "meq/kg_solution", Per::Kilogram)
        }
        D::MassPerWater | D::AmountPerWater | D::EquivalentPerWater => {
            ("mmol/kg", "meq/kg", Per::KilogramOfWater)
        }
        _ => ("mmol/L", "meq/L", Per::Litre),
    };
    let to = Unit::read(if *of == Subject::Alkalinity { to_eq } else { to })?;
    Ok((chem::convert(amount, of, to, None, &chem::Solution::default())?, per))
}
