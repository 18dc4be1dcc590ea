//! The scheme of one kind of water: what can form from its components, at any temperature.

use super::fault::EquilibriumError;
use super::interactions::Interactions;
use super::lanes::Lanes;
use super::plan::{Plan, Question};
use super::species::table;
use super::values::{Courses, Values};
use crate::composition::dissolved::is_carbonate;
use crate::matter::component::{Component, Role};
use std::sync::OnceLock;

/// Every species that can form from a set of components, what each is made of and which of them interact. Depends only
/// on which components are present, so waters of every temperature share one.
#[derive(Clone, Debug)]
pub struct Scheme {
    /// Index of each species in the species table; H is the first.
    pub(crate) species: Vec<usize>,
    /// Place of every species of the table among them.
    pub(crate) places: Vec<Option<usize>>,
    /// The masters; H is the first, carbonate the second.
    pub(crate) masters: Vec<Master>,
    /// Coefficient of each master (row) in each species (column).
    pub(crate) made_of: Vec<Vec<f64>>,
    /// The same by species: place of a master and its coefficient.
    pub(crate) parts: Vec<Vec<(usize, f64)>>,
    /// Water molecules taken up by each species when it forms.
    pub(crate) water: Vec<f64>,
    /// Charge number of each species.
    pub(crate) charge: Vec<f64>,
    /// The courses: first ln K of each species in their order, then the parameters of the interactions.
    pub(crate) courses: Courses,
    pub(crate) interactions: Interactions,
    /// The place of chloride and of CO2 among the species.
    pub(crate) chloride: usize,
    pub(crate) co2: usize,
    plans: [OnceLock<Plan>; Question::COUNT],
}

/// What a scheme is built on: hydrogen, or the ion or acid that stands for a component.
#[derive(Clone, Debug)]
pub(crate) struct Master {
    /// Its component; none for hydrogen.
    pub(crate) component: Option<Component>,
    /// Its place among the species.
    pub(crate) place: usize,
    /// Charge number.
    pub(crate) charge: f64,
    /// The charge that alkalinity counts it from: its own for a weak acid, none for the others.
    pub(crate) weak_charge: f64,
}

/// Place of hydrogen among the masters of every scheme.
pub(crate) const HYDROGEN: usize = 0;
/// Place of carbonate among the masters of a scheme.
pub(crate) const CARBON: usize = 1;

impl Scheme {
    /// The scheme of the components that are not zero in `totals`; carbonate and a trace of chloride are always in it.
    ///
    /// # Errors
    /// A component that the model has no constants for.
    pub fn of(totals: &[f64; Component::COUNT]) -> Result<Scheme, EquilibriumError> {
        let all = table();
        let carbon = all.master("HCO3").expect("the species table carries the carbonate system");
        let mut masters = vec![(0, None), (carbon, Some(Component::HCO3))];
        for component in Component::ALL {
            if is_carbonate(component) || (totals[component.index()] == 0.0 && component != Component::CL) {
                continue;
            }
            let master = all.master(component.id());
            let master = master.ok_or(EquilibriumError::Component { component: component.id() })?;
            masters.push((master, Some(component)));
        }
        Ok(Scheme::among(&masters))
    }

    /// The scheme of masters in any order, hydrogen and carbonate first.
    pub(super) fn among(masters: &[(usize, Option<Component>)]) -> Scheme {
        let all = &table().species;
        let mut among = vec![usize::MAX; table().masters.len()];
        masters.iter().enumerate().for_each(|(here, (master, _))| among[*master] = here);
        let has = |at: &usize| all[*at].made_of.iter().all(|(master, _)| among[*master] != usize::MAX);
        let species: Vec<usize> = (0..all.len()).filter(has).collect();
        let mut places = vec![None; all.len()];
        species.iter().enumerate().for_each(|(here, at)| places[*at] = Some(here));
        let parts_of = |at: &usize| all[*at].made_of.iter().map(|(m, n)| (among[*m], *n)).collect();
        let parts: Vec<Vec<(usize, f64)>> = species.iter().map(parts_of).collect();
        let mut made_of = vec![vec![0.0; species.len()]; masters.len()];
        for (place, parts) in parts.iter().enumerate() {
            parts.iter().for_each(|(master, n)| made_of[*master][place] = *n);
        }
        let masters: Vec<Master> = masters
            .iter()
            .map(|(at, component)| {
                // masters are the first rows of the species table
                let charge = f64::from(all[*at].charge);
                let weak = component.is_some_and(|component| component.role() == Role::WeakAcid);
                let weak_charge = if weak { charge } else { 0.0 };
                Master { component: *component, place: places[*at].unwrap_or(0), charge, weak_charge }
            })
            .collect();
        let mut courses = Courses::default();
        species.iter().for_each(|at| _ = courses.add(&all[*at].formation));
        let of_component = |wanted| masters.iter().find(|master| master.component == Some(wanted));
        Scheme {
            interactions: Interactions::among(&species, &mut courses),
            courses,
            parts,
            made_of,
            places,
            water: species.iter().map(|at| all[*at].water).collect(),
            charge: species.iter().map(|at| f64::from(all[*at].charge)).collect(),
            chloride: of_component(Component::CL).map_or(0, |master| master.place),
            co2: masters[CARBON].place,
            plans: [const { OnceLock::new() }; Question::COUNT],
            species,
            masters,
        }
    }

    /// The equations that a question leaves, worked out when it is first asked.
    pub(crate) fn plan(&self, question: Question) -> &Plan {
        self.plans[question.number()].get_or_init(|| Plan::of(self, question))
    }

    /// ln of the activity of a species by mass action from those of its masters.
    #[inline(always)]
    pub(crate) fn ln_activity<const L: usize>(
        &self,
        place: usize,
        values: &Values<L>,
        ln_water: Lanes<L>,
        ln_master: impl Fn(usize) -> Lanes<L>,
    ) -> Lanes<L> {
        let mut ln = values.of[place] + self.water[place] * ln_water;
        self.parts[place].iter().for_each(|(master, n)| ln += *n * ln_master(*master));
        ln
    }

    /// Σ ν m of one master.
    pub(crate) fn row(&self, master: usize, m: &[f64]) -> f64 {
        self.made_of[master].iter().zip(m).map(|(n, m)| n * m).sum()
    }

    /// A component above zero that this scheme was not made for.
    pub(crate) fn lacks(&self, totals: &[f64; Component::COUNT]) -> Option<Component> {
        let has = |component| self.masters.iter().any(|master| master.component == Some(component));
        let missing = |component: &Component| {
            totals[component.index()] > 0.0 && !is_carbonate(*component) && !has(*component)
        };
        Component::ALL.into_iter().find(missing)
    }

    /// Whether every component it was made for is there; chloride need not be.
    pub(crate) fn is_whole(&self, amounts: &[f64]) -> bool {
        let there =
            |(master, amount): (&Master, &f64)| *amount > 0.0 || master.component == Some(Component::CL);
        self.masters.iter().zip(amounts).skip(CARBON + 1).all(there)
    }

    /// The conserved amounts in the order of the masters, with those of hydrogen and carbonate left at zero, and the
    /// charge that the weak acids would carry as masters, eq/kg.
    pub(crate) fn amounts(&self, totals: &[f64; Component::COUNT]) -> (Vec<f64>, f64) {
        let mut weak = 0.0;
        let mut amounts = vec![0.0; self.masters.len()];
        for (amount, master) in amounts.iter_mut().zip(&self.masters).skip(CARBON + 1) {
            *amount = master.component.map_or(0.0, |component| totals[component.index()]);
            weak += *amount * master.weak_charge;
        }
        (amounts, weak)
    }
}
