//! What is answered: steps, shares, how good they are and how far that is proved.

/// How much work a search did.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// Nodes of the tree that were looked into.
    pub nodes: u64,
    /// Relaxations solved.
    pub relaxations: u64,
    /// Exchanges of a row and a column within relaxations.
    pub pivots: u64,
}

impl Counts {
    pub(super) fn add(&mut self, other: Self) {
        self.nodes += other.nodes;
        self.relaxations += other.relaxations;
        self.pivots += other.pivots;
    }
}

/// How one objective came out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reached {
    /// The objective, recomputed from whole steps and shares in the order of the request.
    pub objective: f64,
    /// No answer can have a smaller objective than this.
    pub bound: f64,
    /// `objective` − `bound`, never below 0: the proved distance to the optimum.
    pub gap: f64,
    /// The search ran to its end: nothing better by more than 1e-9 exists.
    pub proved: bool,
}

/// Whether answers that tie were told apart by cost, number of columns, mass and order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TieBreak {
    /// No other answer ties.
    NoTie,
    /// Others tie or may tie; the answer is proved the first of them.
    Proved,
    /// Others may tie, and the effort ended before the first of them was proved.
    Open,
}

/// Steps and shares that keep all hard rows, with the objectives that they reach.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// Whole steps of each column, in the order of the request.
    pub steps: Vec<i64>,
    /// Each share, in the order of the request.
    pub shares: Vec<f64>,
    /// One entry for each objective in order of priority.
    pub reached: Vec<Reached>,
    /// What is known about ties.
    pub tie_break: TieBreak,
    /// Work done.
    pub counts: Counts,
}

impl Answer {
    /// The first objective.
    pub fn objective(&self) -> f64 {
        self.reached.first().map_or(0.0, |first| first.objective)
    }

    /// The largest gap of all objectives.
    pub fn gap(&self) -> f64 {
        self.reached.iter().fold(0.0, |most: f64, level| most.max(level.gap))
    }

    /// Whether every objective is proved to 1e-9.
    pub fn proved(&self) -> bool {
        self.reached.iter().all(|level| level.proved)
    }
}

/// How a search ended.
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// An answer was found; it says itself how far it is proved.
    Solved(Answer),
    /// Proved: nothing keeps all hard rows.
    Infeasible {
        /// Work done.
        counts: Counts,
    },
    /// The effort ended before anything that keeps all hard rows was found.
    Budget {
        /// No answer can have a smaller first objective than this.
        bound: f64,
        /// Work done.
        counts: Counts,
    },
}
