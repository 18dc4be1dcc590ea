//! Which species interact: the pairs, twos and threes of a list of species, with the places of their parameters.

use super::parameters::parameters;
use super::species::table;
use super::temperature::Course;
use super::unlike::MEETINGS;
use super::values::Courses;

/// The closest approach in the Debye–Hückel term, (kg/mol)^½ (Pitzer 1973).
pub(super) const B: f64 = 1.2;
/// The four exponents α, (kg/mol)^½: 2–2 salts take 1.4 and 12, salts with a charge of 1 take 2 and 12, others 2
/// and 50.
pub(super) const ALPHA: [f64; 4] = [1.4, 2.0, 12.0, 50.0];
/// Largest charge number of the model.
pub(super) const MOST_CHARGE: usize = 3;

/// One cation with one anion.
#[derive(Clone, Debug)]
pub(super) struct Pair {
    pub(super) a: usize,
    pub(super) b: usize,
    /// Which α goes with b1.
    pub(super) first: usize,
    pub(super) b0: usize,
    pub(super) b1: usize,
    /// C = C^φ / (2 √|z z'|).
    pub(super) c: usize,
    /// Which α goes with b2, and b2, where there is one.
    pub(super) strong: Option<(usize, usize)>,
}

/// Two species with their θ or λ.
#[derive(Clone, Debug)]
pub(super) struct Two {
    pub(super) a: usize,
    pub(super) b: usize,
    pub(super) value: usize,
}

/// Two species with each third that they share a ψ or ζ with, and its place.
#[derive(Clone, Debug)]
pub(super) struct Three {
    pub(super) a: usize,
    pub(super) b: usize,
    pub(super) thirds: Vec<(usize, usize)>,
}

/// The interactions among a list of species, at any temperature; parameters stand as places among the courses.
#[derive(Clone, Debug, Default)]
pub(crate) struct Interactions {
    /// Charge number of each species.
    pub(super) charge: Vec<f64>,
    /// Sign (1 for anions) and size of it.
    pub(super) group: Vec<(usize, usize)>,
    /// Which exponents occur.
    pub(super) has_alpha: [bool; 4],
    /// Which unlike charge numbers of one sign meet.
    pub(super) unlike: Vec<usize>,
    pub(super) pairs: Vec<Pair>,
    pub(super) twos: Vec<Two>,
    /// ψ and ζ.
    pub(super) threes: Vec<Three>,
}

impl Interactions {
    /// The interactions among species given by their indices in the species table, in that order.
    pub(crate) fn among(chosen: &[usize], courses: &mut Courses) -> Interactions {
        let all = &table().species;
        let charge: Vec<f64> = chosen.iter().map(|at| f64::from(all[*at].charge)).collect();
        let group: Vec<(usize, usize)> =
            charge.iter().map(|z| (usize::from(*z < 0.0), z.abs() as usize)).collect();
        let meets = |which: &usize| {
            let (z, w) = MEETINGS[*which];
            [0, 1].iter().any(|sign| group.contains(&(*sign, z)) && group.contains(&(*sign, w)))
        };
        let unlike = (0..MEETINGS.len()).filter(meets).collect();
        let mut interactions = Interactions { charge, group, unlike, ..Interactions::default() };
        interactions.add_pairs(chosen, courses);
        interactions.add_mixing(chosen, courses);
        interactions
    }

    fn add_pairs(&mut self, chosen: &[usize], courses: &mut Courses) {
        let none = courses.add(&Course::default());
        for (a, cation) in chosen.iter().enumerate().filter(|(at, _)| self.charge[*at] > 0.0) {
            for (b, anion) in chosen.iter().enumerate().filter(|(at, _)| self.charge[*at] < 0.0) {
                let Some([b0, b1, b2, c]) = parameters().binary(*cation, *anion) else { continue };
                let (z, w) = (self.charge[a], -self.charge[b]);
                let (first, last) = match (z == 2.0 && w == 2.0, z == 1.0 || w == 1.0) {
                    (true, _) => (0, 2),
                    (_, true) => (1, 2),
                    _ => (1, 3),
                };
                let mut place =
                    |course: &Course| if *course == Course::default() { none } else { courses.add(course) };
                let strong = Some((last, place(b2))).filter(|(_, b2)| *b2 != none);
                let c = c.times(1.0 / (2.0 * (z * w).sqrt()));
                let pair = Pair { a, b, first, b0: place(b0), b1: place(b1), c: place(&c), strong };
                self.has_alpha[first] = true;
                self.has_alpha[last] |= strong.is_some();
                self.pairs.push(pair);
            }
        }
    }

    fn add_mixing(&mut self, chosen: &[usize], courses: &mut Courses) {
        let mut place = vec![None; table().species.len()];
        chosen.iter().enumerate().for_each(|(here, at)| place[*at] = Some(here));
        for row in &parameters().mixing {
            match row.species.as_slice() {
                [a, b] => {
                    if let (Some(a), Some(b)) = (place[*a], place[*b]) {
                        self.twos.push(Two { a, b, value: courses.add(&row.course) });
                    }
                }
                [a, b, c] => {
                    if let (Some(a), Some(b), Some(c)) = (place[*a], place[*b], place[*c]) {
                        self.add_three(a, b, (c, courses.add(&row.course)));
                    }
                }
                _ => {}
            }
        }
    }

    fn add_three(&mut self, a: usize, b: usize, third: (usize, usize)) {
        match self.threes.iter_mut().find(|three| (three.a, three.b) == (a, b)) {
            Some(three) => three.thirds.push(third),
            None => self.threes.push(Three { a, b, thirds: vec![third] }),
        }
    }
}
