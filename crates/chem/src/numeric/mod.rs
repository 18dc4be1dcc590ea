//! Appendix: numerical methods. No word of chemistry stands here.
//!
//! One question is answered first: which whole numbers of steps (and which real shares) bring a list of rows closest to
//! zero, while other rows keep within bounds and at most so many columns are used? [`solve`] answers it with a
//! proved distance to the optimum, [`solve_lexicographic`] does so for several objectives in order of priority,
//! [`feasibility`] and [`smallest_relaxation`] explain why nothing fits, [`relaxed`] gives the prices of the rows.
//! Beside it stands [`propagation`]: how uncertainties of inputs become uncertainties of outputs.
//!
//! The search counts its work and never looks at a clock; it uses only + − × ÷ and square roots in a fixed order,
//! so that the same problem gives the same bits everywhere.
//!
//! ```
//! use springwright_chem::numeric::{Column, Outcome, Problem, Row, solve};
//! // Two columns whose steps add 0.3 and 0.7; what comes closest to 1.9?
//! let problem = Problem {
//!     columns: vec![Column::up_to(10), Column::up_to(10)],
//!     wishes: vec![Row::of_columns(&[0.3, 0.7], -1.9)],
//!     ..Problem::default()
//! };
//! let Outcome::Solved(answer) = solve(&problem)? else { panic!("nothing forbids an answer") };
//! assert_eq!(answer.steps, [4, 1]);
//! assert!(answer.objective() < 1e-9 && answer.proved());
//! # Ok::<(), springwright_chem::numeric::ProblemError>(())
//! ```

mod answer;
mod bounds;
mod branching;
mod canonical;
mod chi_square;
mod conflict;
mod dictionary;
mod dual_step;
mod error;
mod fit;
mod form;
mod incumbent;
mod judge;
mod lattice;
mod least_squares;
mod lexicographic;
mod prices;
mod problem;
mod program;
pub mod propagation;
mod search;
mod smallest;
mod sweep;
mod table;
mod ties;
mod tree;

#[cfg(test)]
mod tests;

pub use answer::{Answer, Counts, Outcome, Reached, TieBreak};
pub use chi_square::chi_square_beyond;
pub use conflict::{Certificate, Conflict, Feasibility, feasibility};
pub use error::ProblemError;
pub use fit::{FitRow, Fitted, fit};
pub use lexicographic::{solve, solve_lexicographic};
pub use prices::{Relaxed, relaxed};
pub use problem::{Column, Effort, HardRow, Level, Objective, Problem, Row, Share};
pub use smallest::{Relaxation, smallest_relaxation};
