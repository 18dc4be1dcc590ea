//! Weighing: from the masses of a recipe to whole steps of the balances at hand, how far each may be off, and how likely the
//! water is then what was wished.
//!
//! A mass is rounded once, here, and the water is made again of what the balances show. The tolerance of a line is how far it
//! alone may move until a wish that was met is not: it comes from the water and not from a flat percentage.

mod chance;
mod stock;
mod tolerance;

pub use stock::{FEW_STEPS, Stock};
pub use tolerance::Tolerated;

use super::counting::Rule;
use super::fault::{FormulationError, Place};
use super::means::{Balance, Choice};
use super::outcome::{counted, met};
use super::property::{Property, sights};
use super::solve::{empty, unstated};
use super::wish::{Quantity, Wish};
use crate::composition::added::Added;
use crate::composition::state::Solution;
use crate::composition::totals::Totals;
use crate::matter::component::Component;
use crate::numeric::propagation::{Chance, PropagationError};
use crate::properties::{Held, SolvedWater};

/// Most moves of single steps that are tried to bring the water nearer to its recipe.
const MOST_MOVES: usize = 40;
/// A component counts from this on, mol per kg of water.
const LEAST_AMOUNT: f64 = 1e-6;

/// A salt of a recipe.
#[derive(Clone, Debug)]
pub struct Line {
    /// The salt as it stands on the shelf.
    pub choice: Choice,
    /// Mass by the recipe, g.
    pub ideal_g: f64,
    /// Standard uncertainty of its assay, in percent of what is weighed.
    pub assay_uncertainty_percent: f64,
    /// Net mass of a bag of it, g: whole bags go in as they are, and the rest is weighed.
    pub bag_g: Option<f64>,
}

impl Line {
    /// Whole bags of it in a mass in g; a mass within a billionth of a bag counts as whole.
    fn bags(&self, mass_g: f64) -> i64 {
        self.bag_g.map_or(0, |bag| (mass_g / bag + 1e-9).floor() as i64)
    }

    /// What the bags of the recipe weigh, g.
    fn bagged_g(&self) -> f64 {
        self.bag_g.map_or(0.0, |bag| bag * self.bags(self.ideal_g) as f64)
    }

    /// What is left to weigh, g.
    fn rest_g(&self) -> f64 {
        (self.ideal_g - self.bagged_g()).max(0.0)
    }

    /// Whole steps of a balance that it has at least.
    fn least_steps(&self) -> i64 {
        i64::from(self.ideal_g > 0.0 && self.bagged_g() == 0.0)
    }
}

/// A recipe to be weighed.
#[derive(Clone, Debug)]
pub struct Recipe {
    /// The waters poured together, at the temperature of the finished water.
    pub poured: Solution,
    /// kg of water in them.
    pub water_kg: f64,
    /// Standard uncertainty of what is poured, percent.
    pub poured_uncertainty_percent: f64,
    /// The salts; at least one.
    pub lines: Vec<Line>,
    /// The balances; at least one.
    pub balances: Vec<Balance>,
    /// What the finished water is judged by; no cost.
    pub wishes: Vec<Wish>,
    /// How the carbon dioxide of the finished water is held.
    pub co2: Held,
}

/// What to put on the balance for one line.
#[derive(Clone, Debug)]
pub struct Weighed {
    /// Position of the balance.
    pub balance: usize,
    /// Whole bags beside what is weighed.
    pub bags: i64,
    /// Whole steps of it, all portions together.
    pub steps: i64,
    /// Mass, g, bags among it.
    pub mass_g: f64,
    /// In how many portions, where the balance does not take it at once.
    pub portions: i64,
    /// Standard uncertainty of the pure formula that goes in, g: reading and assay.
    pub uncertainty_g: f64,
    /// How far this line alone may be off.
    pub tolerated: Tolerated,
    /// A way by a stock solution, where the mass is too small for its balance.
    pub stock: Option<Stock>,
    /// Whether the mass is below what the balance weighs at least.
    pub below_least: bool,
}

/// A wish in the water that is weighed.
#[derive(Clone, Debug)]
pub struct Chanced {
    /// The wish, ready for counting.
    pub rule: Rule,
    /// What is got, in its unit.
    pub value: f64,
    /// What the recipe would give without any rounding.
    pub ideal: f64,
    /// Whether it is met.
    pub met: bool,
    /// How likely it is met, by reading, assay and what is poured; percent.
    pub probability_percent: f64,
}

/// A recipe on the scale.
#[derive(Clone, Debug)]
pub struct Weighing {
    /// Each line.
    pub lines: Vec<Weighed>,
    /// Each wish.
    pub wishes: Vec<Chanced>,
    /// How likely all of them are met at once, percent; none without wishes.
    pub probability_percent: Option<f64>,
    /// What waters and salts make together, before gas comes or goes.
    pub mixed: Solution,
    /// The finished water, solved, where wishes ask for its state.
    pub solved: Option<SolvedWater>,
}

/// A water that is made of masses.
struct Made {
    mixed: Solution,
    solved: Option<SolvedWater>,
    values: Vec<f64>,
}

impl Recipe {
    /// Brings the recipe onto the balances.
    ///
    /// # Errors
    /// Wishes that cannot be counted or judged, a water beyond the model, a number of draws out of range.
    pub fn weigh(&self, chance: &Chance) -> Result<Weighing, Vec<(Place, FormulationError)>> {
        let rules = self.rules()?;
        let whole = |error: FormulationError| vec![(Place::Whole, error)];
        let ideal: Vec<f64> = self.lines.iter().map(|line| line.ideal_g).collect();
        let wanted = self.make(&rules, &ideal, 1.0).map_err(whole)?;
        let on: Vec<usize> = self.lines.iter().map(|line| self.balance_of(line.rest_g())).collect();
        let steps = self.nearest(&rules, &wanted, &on).map_err(whole)?;
        let masses = self.masses(&on, &steps);
        let made = self.make(&rules, &masses, 1.0).map_err(whole)?;
        let slack = self.exact_slacks(&rules, &on, &masses, &made).map_err(whole)?;
        let is_met = |made: &Made| -> Vec<bool> {
            let each = rules.iter().zip(&self.wishes).zip(made.values.iter().zip(&slack));
            each.map(|((rule, wish), (value, slack))| met(wish, rule, *value, *slack)).collect()
        };
        let held = is_met(&made);
        let mut lines = Vec::new();
        for (at, line) in self.lines.iter().enumerate() {
            let tolerated = self.tolerated(&rules, &masses, at, &held, &is_met);
            lines.push(self.weighed(line, on[at], steps[at], tolerated));
        }
        let spread: Vec<f64> = lines.iter().map(|line| line.uncertainty_g).collect();
        let likely =
            self.likely(&rules, (&masses, &spread), &made, &slack, chance).map_err(|error| match error {
                Ok(error) => whole(error),
                Err(draws) => whole(FormulationError::Draws(draws)),
            })?;
        let wish = |(at, rule): (usize, &Rule)| Chanced {
            rule: rule.clone(),
            value: made.values[at],
            ideal: wanted.values[at],
            met: held[at],
            probability_percent: likely.each[at],
        };
        Ok(Weighing {
            lines,
            wishes: rules.iter().enumerate().map(wish).collect(),
            probability_percent: (!rules.is_empty()).then_some(likely.all),
            mixed: made.mixed,
            solved: made.solved,
        })
    }

    /// kg of water in the finished water for masses in g: what is poured, and what the salts bring.
    pub fn whole_water_kg(&self, masses: impl Iterator<Item = f64>) -> f64 {
        let brought =
            |(line, mass): (&Line, f64)| mass * line.choice.moles_per_g() * line.choice.water_kg_per_mole();
        self.water_kg + self.lines.iter().zip(masses).map(brought).sum::<f64>()
    }

    /// Litres of the water that the recipe makes, before gas comes or goes.
    ///
    /// # Errors
    /// Salts beyond the reach of the density.
    pub fn litres(&self) -> Result<f64, FormulationError> {
        let moles = |line: &Line| line.ideal_g * line.choice.moles_per_g() / self.water_kg;
        let parts: Vec<(f64, &Added)> =
            self.lines.iter().map(|line| (moles(line), &line.choice.added)).collect();
        let mixed = Solution::new(self.poured.totals().with_added(&parts)?, self.poured.temperature_c())?;
        Ok(self.whole_water_kg(self.lines.iter().map(|line| line.ideal_g)) / mixed.water_kg_per_l())
    }

    fn rules(&self) -> Result<Vec<Rule>, Vec<(Place, FormulationError)>> {
        let (mut rules, mut faults) = (Vec::new(), empty(&self.balances));
        for (at, wish) in self.wishes.iter().enumerate() {
            match Rule::of(wish) {
                Ok(rule) => {
                    let silent = unstated(&wish.quantity, &rule, self.poured.totals()).into_iter();
                    faults.extend(silent.map(|error| (Place::Wish(at), error.into())));
                    rules.push(rule);
                }
                Err(own) => faults.extend(own.into_iter().map(|error| (Place::Wish(at), error))),
            }
        }
        if faults.is_empty() { Ok(rules) } else { Err(faults) }
    }

    /// The water of masses in g, in so much of what is poured.
    fn make(&self, rules: &[Rule], masses: &[f64], share: f64) -> Result<Made, FormulationError> {
        let moles = |(line, mass): (&Line, &f64)| mass * line.choice.moles_per_g() / (self.water_kg * share);
        let parts: Vec<(f64, &Added)> = self
            .lines
            .iter()
            .zip(masses)
            .map(|(line, mass)| (moles((line, mass)), &line.choice.added))
            .collect();
        let totals = self.poured.totals().with_added(&parts)?;
        let celsius = self.poured.temperature_c();
        let mixed = Solution::new(totals, celsius)?;
        let asks = self.wishes.iter().any(|wish| wish.property().is_some());
        let solved = match asks || self.co2 != Held::Closed {
            true => Some(SolvedWater::of(&mixed, self.co2)?),
            false => None,
        };
        let views = self
            .wishes
            .iter()
            .filter_map(Wish::property)
            .map(|(property, in_a)| property.view(in_a, celsius));
        let seen = match &solved {
            Some(solved) => sights(solved, views)?,
            None => Vec::new(),
        };
        let finished = solved.as_ref().map_or(&mixed, |solved| &solved.solution);
        let value = |(wish, rule): (&Wish, &Rule)| -> Result<f64, FormulationError> {
            let Quantity::Property { property, condition } = wish.quantity else {
                return Ok(counted(&wish.quantity, rule, finished));
            };
            let view = property.view(condition, celsius);
            let Some(sight) = seen.iter().find(|sight| sight.view == view) else { return Ok(f64::NAN) };
            let factor = rule.factor(finished.density_kg_per_l(), finished.water_kg_per_l());
            let own = property
                .of(&sight.state, sight.water_kg_per_l)
                .map_err(crate::properties::StateError::from)?;
            Ok(own.map_or_else(|| absent(property), |own| own * factor))
        };
        let values = self.wishes.iter().zip(rules).map(value).collect::<Result<_, _>>()?;
        Ok(Made { mixed, solved, values })
    }

    /// The finest balance that weighs a mass in g; where none does, that which comes nearest to doing so.
    fn balance_of(&self, mass_g: f64) -> usize {
        let off = |balance: &Balance| {
            let heavy = (mass_g / balance.most_g - 1.0).max(0.0);
            let light = (balance.least_g / mass_g - 1.0).max(0.0);
            (heavy, light, balance.step_g)
        };
        let better = |one: &(f64, f64, f64), other: &(f64, f64, f64)| {
            one.0.total_cmp(&other.0).then(one.1.total_cmp(&other.1)).then(one.2.total_cmp(&other.2))
        };
        let places = 0..self.balances.len();
        places.min_by(|a, b| better(&off(&self.balances[*a]), &off(&self.balances[*b]))).unwrap_or(0)
    }

    fn masses(&self, on: &[usize], steps: &[i64]) -> Vec<f64> {
        let weighed = on.iter().zip(steps).map(|(balance, steps)| self.balances[*balance].mass_g(*steps));
        self.lines.iter().zip(weighed).map(|(line, weighed)| line.bagged_g() + weighed).collect()
    }

    /// Whole steps nearest to the recipe: each rounded by itself, then single steps moved as long as the water comes nearer to
    /// what the recipe makes, wishes that it meets first.
    fn nearest(&self, rules: &[Rule], wanted: &Made, on: &[usize]) -> Result<Vec<i64>, FormulationError> {
        let rounded = |(line, balance): (&Line, &usize)| {
            let steps = (line.rest_g() / self.balances[*balance].step_g).round() as i64;
            steps.max(line.least_steps())
        };
        let mut steps: Vec<i64> = self.lines.iter().zip(on).map(rounded).collect();
        let mut best = self.distance(rules, wanted, on, &steps)?;
        for _ in 0..MOST_MOVES {
            let mut better: Option<(Vec<i64>, (usize, f64))> = None;
            for at in 0..steps.len() {
                for by in [-1, 1] {
                    let mut moved = steps.clone();
                    moved[at] += by;
                    if moved[at] < self.lines[at].least_steps() {
                        continue;
                    }
                    let there = self.distance(rules, wanted, on, &moved)?;
                    if nearer(there, better.as_ref().map_or(best, |found| found.1)) {
                        better = Some((moved, there));
                    }
                }
            }
            let Some((moved, there)) = better else { break };
            (steps, best) = (moved, there);
        }
        Ok(steps)
    }

    /// How far the water of whole steps is from that of the recipe: wishes lost, then the sum of the shares by which its
    /// components differ.
    fn distance(
        &self,
        rules: &[Rule],
        wanted: &Made,
        on: &[usize],
        steps: &[i64],
    ) -> Result<(usize, f64), FormulationError> {
        let made = self.make(rules, &self.masses(on, steps), 1.0)?;
        let kept = |at: usize, made: &Made| met(&self.wishes[at], &rules[at], made.values[at], 0.0);
        let lost = (0..rules.len()).filter(|at| kept(*at, wanted) && !kept(*at, &made)).count();
        let (own, ideal) = (made.mixed.totals(), wanted.mixed.totals());
        let amounts = |totals: &Totals| -> Vec<f64> {
            Component::ALL
                .into_iter()
                .map(|component| totals.amount(component))
                .chain([totals.alkalinity()])
                .collect()
        };
        let off = amounts(own).into_iter().zip(amounts(ideal));
        let far =
            off.filter(|(_, ideal)| ideal.abs() > LEAST_AMOUNT).map(|(own, ideal)| (own / ideal - 1.0).abs());
        Ok((lost, far.sum()))
    }

    fn weighed(&self, line: &Line, balance: usize, steps: i64, tolerated: Tolerated) -> Weighed {
        let on = self.balances[balance];
        let (weighed_g, rest_g) = (on.mass_g(steps), line.rest_g());
        let mass_g = line.bagged_g() + weighed_g;
        let portions = (weighed_g / on.most_g * (1.0 - 1e-12)).ceil().max(1.0);
        // a reading lies anywhere within half a step (JCGM 100, F.2.2.1)
        let reading = if steps > 0 { on.step_g * (portions / 12.0).sqrt() } else { 0.0 };
        let assay = mass_g * line.assay_uncertainty_percent / 100.0;
        // beside whole bags a little more or less is nothing
        let alone = line.bagged_g() == 0.0;
        let below_least = alone && rest_g < on.least_g;
        let few = below_least || alone && steps < FEW_STEPS;
        Weighed {
            balance,
            bags: line.bags(line.ideal_g),
            steps,
            mass_g,
            portions: portions as i64,
            uncertainty_g: (reading * reading + assay * assay).sqrt(),
            tolerated,
            stock: (few && line.ideal_g > 0.0)
                .then(|| Stock::of(line, &on, self.poured.temperature_c()))
                .flatten(),
            below_least,
        }
    }
}

/// The index of a solid of which a part is absent lies below any other.
fn absent(property: Property) -> f64 {
    if let Property::SaturationIndex(_) = property { f64::NEG_INFINITY } else { f64::NAN }
}

/// Whether one distance is less than another by more than a rounding error.
fn nearer(one: (usize, f64), other: (usize, f64)) -> bool {
    one.0 < other.0 || one.0 == other.0 && one.1 < other.1 - 1e-12
}

/// Why the likelihood of wishes was not told: by the water, or by the draws.
type Unlikely = Result<FormulationError, PropagationError>;
