//! Carries the uncertainties of the sheets of a request into the water that it answers, and into whatever else a
//! calculation reckons from the same sheets.

mod figures;

use springwright_chem::composition::closure::Closure;
use springwright_chem::composition::state::Solution;
use springwright_chem::numeric::propagation::{
    Chance, Correlations, Input, Linear, MonteCarlo, PropagationError, Spread,
};
use springwright_chem::properties::{Held, SolvedWater};

use serde_json::Value;

use self::figures::Layout;
pub(super) use self::figures::{of_ph, together};
use super::faults::{fault, out_of_place, own};
use super::sheet::{Figure, Sheet, UncertainFigure};
use super::{digest, said, water};
use crate::problem::Fault;
use crate::reading::below;
use crate::said::{Assumption, Finding, NotJudged};
use crate::uncertainty::{Contribution, ContributionOf, Uncertainty, UncertaintyMethod, WaterUncertainty};
use crate::water::Water;

/// Number of draws where the request does not say.
const USUAL_DRAWS: u32 = 10_000;
/// Stream of draws where the request does not say.
const USUAL_SEED: u64 = 1;

/// That a sheet states uncertainties which the calculation does not carry.
pub(super) fn not_carried(sheet: &Sheet) -> Option<Finding> {
    let stated = sheet.uncertain.iter().any(|figure| !figure.below);
    let text = "The uncertainties of the sheet are not carried into this answer.";
    stated.then(|| finding("uncertainty_not_carried", &sheet.pointer, text.to_owned()))
}

/// The same where the request could have asked.
fn not_asked(sheet: &Sheet) -> Option<Finding> {
    let text = "The uncertainties of the sheet are not carried into this answer. Ask for them: \
                \"uncertainty\": {\"method\": \"linear\"}.";
    not_carried(sheet).map(|found| Finding { text: text.to_owned(), ..found })
}

fn finding(code: &str, pointer: &str, text: String) -> Finding {
    Finding { code: code.to_owned(), pointer: pointer.to_owned(), text, source: None }
}

/// A water reckoned from sheets, with further figures of the calculation that asks.
pub(super) struct Trial {
    pub water: Water,
    pub solved: Option<SolvedWater>,
    pub more: Vec<f64>,
}

impl Trial {
    /// A solved water.
    pub(super) fn of(solved: SolvedWater) -> Trial {
        let (water, _) = water::without_solids(&solved, None, Closure::default());
        Trial { water, solved: Some(solved), more: Vec::new() }
    }

    /// A water in a state of its carbon dioxide; one that cannot be solved by its totals.
    pub(super) fn held(solution: &Solution, held: Held) -> Trial {
        SolvedWater::of(solution, held).map_or_else(
            |_| Trial {
                water: water::water(solution, None, Closure::default()),
                solved: None,
                more: Vec::new(),
            },
            Trial::of,
        )
    }
}

/// Uncertain sheets, and how they are carried.
pub(super) struct Plan {
    sheets: Vec<Sheet>,
    inputs: Vec<(usize, UncertainFigure)>,
    correlations: Correlations,
    method: UncertaintyMethod,
    chance: Chance,
}

impl Plan {
    /// How the uncertainties of the sheets are carried: none where that is not asked or nothing is uncertain, which is
    /// told; or every fault of what is asked.
    pub(super) fn read(
        asked: Option<&Uncertainty>,
        sheets: &[&Sheet],
        request: &Value,
        assumptions: &mut Vec<Assumption>,
        findings: &mut Vec<Finding>,
    ) -> Result<Option<Plan>, Vec<Fault>> {
        let Some(asked) = asked else {
            findings.extend(sheets.iter().filter_map(|sheet| not_asked(sheet)));
            return Ok(None);
        };
        let of_sheet = |(at, sheet): (usize, &&Sheet)| {
            sheet.uncertain.iter().map(|figure| (at, figure.clone())).collect::<Vec<_>>()
        };
        let inputs: Vec<_> = sheets.iter().enumerate().flat_map(of_sheet).collect();
        let mut faults = draws_out_of_place(asked);
        let correlations = correlations(asked, &inputs).unwrap_or_else(|own| {
            faults.extend(own);
            Correlations::none(0)
        });
        if !faults.is_empty() {
            return Err(faults);
        }
        if inputs.is_empty() {
            let text = "No amount of the sheets states an uncertainty, so that there is nothing to carry.";
            findings.push(finding("nothing_uncertain", "/uncertainty", text.to_owned()));
            return Ok(None);
        }
        assumptions
            .extend(inputs.iter().filter(|(_, figure)| figure.below).map(|(_, figure)| uniform(figure)));
        let chance = Chance {
            draws: asked.draws.unwrap_or(USUAL_DRAWS) as usize,
            seed: asked.seed.unwrap_or(USUAL_SEED),
            key: digest::request_key(request),
        };
        let sheets = sheets.iter().map(|sheet| sheet.without_checks()).collect();
        Ok(Some(Plan { sheets, inputs, correlations, method: asked.method, chance }))
    }

    /// Carries the uncertainties into the water, reckoned from the sheets by `trial`. Answers the standard
    /// uncertainties of the further figures of the trial.
    pub(super) fn carry(
        &self,
        water: &mut Water,
        findings: &mut Vec<Finding>,
        not_judged: &mut Vec<NotJudged>,
        mut trial: impl FnMut(&[Sheet]) -> Result<Trial, Vec<Fault>>,
    ) -> Result<Vec<Option<f64>>, Vec<Fault>> {
        let layout = Layout::of(water);
        let mut sheets = self.sheets.clone();
        let here = trial(&sheets)?;
        let base = layout.numbers(&here);
        let mut numbers = |values: &[f64]| {
            for ((sheet, figure), value) in self.inputs.iter().zip(values) {
                sheets[*sheet].set(figure.figure, value * figure.per_unit);
            }
            let there = trial(&sheets)?;
            if here.solved.is_some() && there.solved.is_none() {
                return Err(Vec::new());
            }
            Ok(layout.numbers(&there))
        };
        let inputs: Vec<Input> = self.inputs.iter().map(|(_, figure)| input(figure)).collect();
        let linear = Linear::of(&inputs, &self.correlations, &base, &mut numbers);
        let mut answer = empty(self);
        let uncertainties: Vec<Option<f64>> = match self.method {
            UncertaintyMethod::Linear => {
                let linear = linear.as_ref().map_err(|near| vec![self.unreachable(near.input, &near.why)])?;
                (0..base.len()).map(|at| linear.standard_uncertainty(at)).collect()
            }
            UncertaintyMethod::MonteCarlo => {
                let drawn =
                    MonteCarlo::of(&inputs, &self.correlations, &self.chance, base.len(), &mut numbers)
                        .map_err(|error| vec![fault("/uncertainty", &error)])?;
                findings.extend(self.told(&drawn));
                (0..base.len()).map(|at| drawn.standard_uncertainty(at)).collect()
            }
        };
        if let Ok(linear) = &linear {
            answer.contributions = self.contributions(linear, &layout, water);
        }
        not_judged.extend(layout.fill(&uncertainties, water, &mut answer));
        findings.push(counted());
        water.uncertainty = Some(answer);
        Ok(uncertainties[layout.len()..].to_vec())
    }

    /// The linear law cannot look to both sides of an input.
    fn unreachable(&self, input: usize, why: &[Fault]) -> Fault {
        let at = &self.inputs[input].1.pointer;
        let why = why.first().map_or(String::new(), |fault| format!(": {}", fault.message));
        let message = format!("the water could not be solved beside the stated value of {at}{why}");
        let mend = "check that value; it lies at the edge of what a water can have";
        own(at.clone(), "uncertainty_unreachable", message, mend)
    }

    /// What the draws left out or changed.
    fn told(&self, drawn: &MonteCarlo) -> Vec<Finding> {
        let of = self.chance.draws;
        let cut = (drawn.cut > 0).then(|| {
            let text = format!(
                "In {} of {of} draws an amount fell below zero and was taken as zero: its uncertainty is large for a \
                 normal distribution.",
                drawn.cut
            );
            finding("draws_cut_at_zero", "/uncertainty", text)
        });
        let unsolved = (drawn.unsolved > 0).then(|| {
            let text = format!("{} of {of} draws gave no water and were left out.", drawn.unsolved);
            finding("draws_left_out", "/uncertainty", text)
        });
        cut.into_iter().chain(unsolved).collect()
    }

    /// What each input contributes to the pH and to each index.
    fn contributions(&self, linear: &Linear, layout: &Layout, water: &Water) -> Vec<Contribution> {
        let mut all = Vec::new();
        for result in layout.results(water) {
            let Some(u) = linear.standard_uncertainty(result.at) else { continue };
            let whole = together(u, result.added);
            if whole <= 0.0 {
                continue;
            }
            let shares = linear.shares(result.at).unwrap_or_else(|| vec![0.0; self.inputs.len()]);
            let (of, own) = match result.solid {
                Some(_) => (ContributionOf::Si, "solubility_constant"),
                None => (ContributionOf::Ph, "ph_scale"),
            };
            let row = |input: &str, standard_uncertainty: f64, sensitivity: f64, share: f64| Contribution {
                of,
                solid: result.solid.map(|solid| solid.id.to_owned()),
                input: input.to_owned(),
                standard_uncertainty,
                sensitivity,
                share_percent: 100.0 * share,
            };
            let part = |of: f64| of * of / (whole * whole);
            let mut rows: Vec<_> = (self.inputs.iter().enumerate())
                .map(|(at, (_, figure))| {
                    let slope = linear.sensitivity(result.at, at).unwrap_or(0.0);
                    row(&figure.pointer, figure.standard_uncertainty, slope, shares[at] * part(u))
                })
                .collect();
            if result.added > 0.0 {
                // an index falls by what the constant rises
                let slope = if result.solid.is_some() { -1.0 } else { 1.0 };
                rows.push(row(own, result.added, slope, part(result.added)));
            }
            rows.sort_by(|one, other| other.share_percent.total_cmp(&one.share_percent));
            all.extend(rows);
        }
        all
    }
}

fn empty(plan: &Plan) -> WaterUncertainty {
    let drawn = plan.method == UncertaintyMethod::MonteCarlo;
    WaterUncertainty {
        method: plan.method,
        draws: drawn.then_some(plan.chance.draws as u32),
        seed: drawn.then_some(plan.chance.seed),
        ..WaterUncertainty::default()
    }
}

/// What is counted and what is not.
fn counted() -> Finding {
    let text = "Counted are the uncertainties of the sheets, of the solubility constants and, above an ionic strength \
                of 0.1 mol/kg, of the choice of the pH scale; those of the other constants of the model are not.";
    finding("uncertainty_of_inputs", "/uncertainty", text.to_owned())
}

fn input(figure: &UncertainFigure) -> Input {
    let spread = match figure {
        UncertainFigure { figure: Figure::Ph, .. } => Spread::Normal,
        UncertainFigure { below: true, .. } => Spread::Uniform,
        _ => Spread::NotNegative,
    };
    Input { value: figure.value, standard_uncertainty: figure.standard_uncertainty, spread }
}

/// An amount below a limit.
fn uniform(figure: &UncertainFigure) -> Assumption {
    said::assumed(
        "below_limit_uniform",
        figure.pointer.clone(),
        "Stated only as less than a limit, the amount is taken as equally likely anywhere from nothing to it.",
        format!(
            "Its standard uncertainty is the limit over √12, {:.3} in its unit; one that is stated beside it is not used.",
            figure.standard_uncertainty
        ),
    )
}

/// Fields of draws that the linear method does not take.
fn draws_out_of_place(asked: &Uncertainty) -> Vec<Fault> {
    if asked.method == UncertaintyMethod::MonteCarlo {
        return Vec::new();
    }
    let fields = [("draws", asked.draws.is_some()), ("seed", asked.seed.is_some())];
    let stated = fields.into_iter().filter(|(_, stated)| *stated);
    stated.map(|(field, _)| out_of_place(&below("/uncertainty", field), field, "the linear method")).collect()
}

/// The correlations of the inputs, or every fault of them.
fn correlations(
    asked: &Uncertainty,
    inputs: &[(usize, UncertainFigure)],
) -> Result<Correlations, Vec<Fault>> {
    let list = "/uncertainty/correlations";
    let (mut pairs, mut faults) = (Vec::new(), Vec::new());
    for (entry, stated) in asked.correlations.iter().flatten().enumerate() {
        let mut places = Vec::new();
        for (at, pointer) in stated.between.iter().enumerate() {
            match inputs.iter().position(|(_, figure)| figure.pointer == *pointer) {
                Some(place) => places.push(place),
                None => {
                    let at = below(&below(&below(list, entry), "between"), at);
                    faults.push(no_such_input(&at, pointer, inputs));
                }
            }
        }
        if let [one, other] = places[..] {
            pairs.push((entry, one, other, stated.coefficient));
        }
    }
    let stated: Vec<_> =
        pairs.iter().map(|(_, one, other, coefficient)| (*one, *other, *coefficient)).collect();
    let placed = |error: &PropagationError| match error.entry() {
        Some(pair) => fault(below(list, pairs[pair].0), error),
        None => fault(list, error),
    };
    match Correlations::of(inputs.len(), &stated) {
        Ok(correlations) if faults.is_empty() => Ok(correlations),
        Ok(_) => Err(faults),
        Err(errors) => {
            faults.extend(errors.iter().map(placed));
            Err(faults)
        }
    }
}

fn no_such_input(at: &str, pointer: &str, inputs: &[(usize, UncertainFigure)]) -> Fault {
    let accepted: Vec<String> = inputs.iter().map(|(_, figure)| figure.pointer.clone()).collect();
    let near = super::nearest(pointer, accepted.iter().map(String::as_str));
    let mend = near.map_or_else(
        || "name an input that states an uncertainty".to_owned(),
        |near| format!("did you mean '{near}'?"),
    );
    let message = format!("'{pointer}' is no input with an uncertainty");
    Fault { accepted, ..own(at, "correlation_unknown", message, &mend) }
}
