//! What of a water is asked and what is given, and the equations that this leaves.

use super::scheme::{CARBON, HYDROGEN, Scheme};
use super::system::Known;

/// What is held of the CO2.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Held {
    /// Its molality.
    Molality,
    /// Its activity.
    Activity,
}

/// Which two quantities of the carbonate system are given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Question {
    /// Alkalinity is given: the hydrogen balance holds.
    pub(crate) alkalinity: bool,
    /// Dissolved carbonate is given: the carbonate balance holds.
    pub(crate) dic: bool,
    /// The pH is given: the activity of hydrogen is held.
    pub(crate) ph: bool,
    /// The CO2 is given: its activity is held.
    pub(crate) gas: Option<Held>,
    /// Whether there is any carbonate.
    pub(crate) carbonate: bool,
}

impl Question {
    /// How many questions there are.
    pub(crate) const COUNT: usize = 48;

    /// A number for each.
    pub(crate) fn number(self) -> usize {
        let gas = match self.gas {
            None => 0,
            Some(Held::Molality) => 16,
            Some(Held::Activity) => 32,
        };
        let bits = [self.alkalinity, self.dic, self.ph, self.carbonate];
        gas + bits.iter().enumerate().map(|(at, bit)| usize::from(*bit) << at).sum::<usize>()
    }

    /// The question of two known quantities; none where they need the guarded way: no water is asked for, or one that has
    /// dissolved carbonate of nothing under CO2.
    pub(crate) fn of(known: [Known; 2]) -> Option<Question> {
        let mut question = Question { alkalinity: false, dic: false, ph: false, gas: None, carbonate: true };
        for known in known {
            match known {
                Known::Alkalinity(_) => question.alkalinity = true,
                Known::Ph(_) => question.ph = true,
                Known::Dic(value) => {
                    question.dic = true;
                    question.carbonate &= value > 0.0;
                }
                Known::Co2(value) => {
                    question.gas = Some(Held::Molality);
                    question.carbonate &= value > 0.0;
                }
                Known::Pco2(value) => {
                    question.gas = Some(Held::Activity);
                    question.carbonate &= value > 0.0;
                }
            }
        }
        let nothing = !question.carbonate && question.dic && question.gas.is_some();
        (!nothing).then_some(question)
    }
}

/// One balance: its species with a positive and with a negative coefficient.
#[derive(Clone, Debug, Default)]
pub(super) struct Balance {
    pub(super) master: usize,
    pub(super) bound: Vec<(usize, f64)>,
    pub(super) lost: Vec<(usize, f64)>,
}

/// An element of the matrix of a Newton step: how a balance moves with an unknown.
#[derive(Clone, Debug)]
pub(super) struct Element {
    pub(super) place: usize,
    pub(super) row: usize,
    pub(super) bound: Vec<(usize, f64)>,
    pub(super) lost: Vec<(usize, f64)>,
}

/// A master with all that it makes with hydrogen alone, each with its number of hydrogens.
#[derive(Clone, Debug)]
pub(super) struct Family {
    pub(super) master: usize,
    pub(super) members: Vec<(usize, i32)>,
}

/// The equations of one question to one scheme. Ions that make nothing but themselves stand in no equation: their
/// molality is their amount.
#[derive(Clone, Debug)]
pub(crate) struct Plan {
    pub(super) question: Question,
    /// The master whose logarithm is sought, in the order of the balances.
    pub(super) unknowns: Vec<usize>,
    pub(super) balances: Vec<Balance>,
    pub(super) elements: Vec<Element>,
    /// Species that mass action gives.
    pub(super) formed: Vec<usize>,
    /// Ions that make nothing: master and species.
    pub(super) alone: Vec<(usize, usize)>,
    /// Carbonate first.
    pub(super) families: Vec<Family>,
    /// What hydrogen makes with water alone.
    pub(super) own: Family,
}

impl Plan {
    /// The plan of a question.
    pub(crate) fn of(scheme: &Scheme, question: Question) -> Plan {
        let makes = |master: usize| scheme.made_of[master].iter().filter(|n| **n != 0.0).count();
        let others = CARBON + 1..scheme.masters.len();
        let (alone, bound): (Vec<usize>, Vec<usize>) = others.partition(|master| makes(*master) == 1);
        let alone: Vec<(usize, usize)> =
            alone.iter().map(|master| (*master, scheme.masters[*master].place)).collect();
        let mut pairs: Vec<(usize, usize)> = bound.iter().map(|master| (*master, *master)).collect();
        let Question { alkalinity, dic, ph, gas, carbonate } = question;
        let free_carbon = carbonate && gas.is_none();
        match (alkalinity, dic && carbonate, !ph, free_carbon) {
            (true, true, true, true) => pairs.extend([(CARBON, CARBON), (HYDROGEN, HYDROGEN)]),
            (true, _, true, false) => pairs.push((HYDROGEN, HYDROGEN)),
            (_, true, false, true) => pairs.push((CARBON, CARBON)),
            (true, _, false, true) => pairs.push((HYDROGEN, CARBON)),
            (_, true, true, false) => pairs.push((CARBON, HYDROGEN)),
            _ => {}
        }
        let unknowns: Vec<usize> = pairs.iter().map(|pair| pair.1).collect();
        let balances: Vec<Balance> = pairs.iter().map(|pair| balance(scheme, pair.0)).collect();
        let elements = elements(scheme, &balances, &unknowns);
        let is_alone = |place: &usize| alone.iter().any(|(_, species)| species == place);
        let formed = (0..scheme.species.len()).filter(|place| !is_alone(place)).collect();
        let families = [CARBON].iter().chain(&bound).map(|master| family(scheme, *master)).collect();
        let own = family(scheme, HYDROGEN);
        Plan { question, unknowns, balances, elements, formed, alone, families, own }
    }
}

fn balance(scheme: &Scheme, master: usize) -> Balance {
    let mut balance = Balance { master, ..Balance::default() };
    for (place, n) in scheme.made_of[master].iter().enumerate().filter(|(_, n)| **n != 0.0) {
        if *n > 0.0 { &mut balance.bound } else { &mut balance.lost }.push((place, n.abs()));
    }
    balance
}

fn elements(scheme: &Scheme, balances: &[Balance], unknowns: &[usize]) -> Vec<Element> {
    let mut elements = Vec::new();
    for (row, balance) in balances.iter().enumerate() {
        for (column, unknown) in unknowns.iter().enumerate() {
            let moved = |list: &[(usize, f64)]| -> Vec<(usize, f64)> {
                let each = list.iter().map(|(place, n)| (*place, n * scheme.made_of[*unknown][*place]));
                each.filter(|(_, n)| *n != 0.0).collect()
            };
            let (bound, lost) = (moved(&balance.bound), moved(&balance.lost));
            if !bound.is_empty() || !lost.is_empty() {
                elements.push(Element { place: row * unknowns.len() + column, row, bound, lost });
            }
        }
    }
    elements
}

fn family(scheme: &Scheme, master: usize) -> Family {
    let mut members = Vec::new();
    for (place, parts) in scheme.parts.iter().enumerate() {
        let of = |wanted: usize| parts.iter().find(|(at, _)| *at == wanted).map_or(0.0, |(_, n)| *n);
        let only = parts.iter().all(|(at, _)| *at == HYDROGEN || *at == master);
        if only && (of(master) == 1.0 || master == HYDROGEN) {
            members.push((place, of(HYDROGEN) as i32));
        }
    }
    Family { master, members }
}
