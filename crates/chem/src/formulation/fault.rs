//! What can be wrong with an order, and where.

use crate::composition::fault::CompositionError;
use crate::fault::{Fault, Kind};
use crate::numeric::ProblemError;
use crate::numeric::propagation::PropagationError;
use crate::phases::PhaseError;
use crate::properties::StateError;
use crate::quantity::QuantityError;

/// A place in an order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// The order as a whole.
    Whole,
    /// A water, by its position.
    Source(usize),
    /// A salt, by its position.
    Choice(usize),
    /// A wish, by its position.
    Wish(usize),
    /// A balance, by its position.
    Balance(usize),
}

/// What can be wrong with an order.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum FormulationError {
    /// A wish that asks nothing.
    #[error("the wish says neither near, at_least, at_most nor exact")]
    AsksNothing,
    /// Bounds the wrong way round.
    #[error("at least {low} and at most {high} cannot both be held")]
    BoundsCrossed {
        /// Lower bound as asked.
        low: String,
        /// Upper bound as asked.
        high: String,
    },
    /// `exact` beside another demand on the same quantity.
    #[error("exact stands beside another demand of the same wish")]
    ExactAndMore,
    /// An amount whose unit does not count this quantity.
    #[error(transparent)]
    Counting(#[from] QuantityError),
    /// A water that does not state what a wish needs.
    #[error(transparent)]
    Composition(#[from] CompositionError),
    /// A water whose state is not known, or that the model does not reach.
    #[error(transparent)]
    State(#[from] StateError),
    /// A water whose haze cannot be judged.
    #[error(transparent)]
    Haze(#[from] PhaseError),
    /// Draws that cannot be made.
    #[error(transparent)]
    Draws(#[from] PropagationError),
    /// A salt that plain water does not dissolve at drink strength.
    #[error("{name} does not dissolve in plain water at drink strength: {why}")]
    NeedsCo2OrAcid {
        /// Name of the salt.
        name: &'static str,
        /// Why.
        why: &'static str,
    },
    /// A gas on the shelf of salts.
    #[error("{name} is a gas and is not weighed on a balance")]
    NotWeighed {
        /// Its name.
        name: &'static str,
    },
    /// More must go in than can dissolve.
    #[error(
        "{asked_g} g of {name} must go in, but {volume_l} L at {temperature_c} °C dissolve only {most_g:.1} g of it"
    )]
    BeyondSolubility {
        /// Name of the salt.
        name: &'static str,
        /// What must go in, g.
        asked_g: f64,
        /// What dissolves, g.
        most_g: f64,
        /// Litres.
        volume_l: f64,
        /// °C.
        temperature_c: f64,
    },
    /// Shares of the waters that cannot make up the whole.
    #[error(
        "the shares of the waters cannot add up to 100 %: at least {least} % and at most {most} % are allowed"
    )]
    SharesImpossible {
        /// Sum of the least shares.
        least: f64,
        /// Sum of the greatest shares.
        most: f64,
    },
    /// A balance that weighs nothing.
    #[error("the balance takes no mass: its least is {least_g} g and its most {most_g} g")]
    BalanceEmpty {
        /// Least mass, g.
        least_g: f64,
        /// Greatest mass, g.
        most_g: f64,
    },
    /// Too large to search.
    #[error(transparent)]
    Search(#[from] ProblemError),
    /// The counted search ended before anything was found that holds every demand.
    #[error("the search ended after its counted work before it found anything that holds every demand")]
    SearchEnded,
}

impl Fault for FormulationError {
    fn code(&self) -> &'static str {
        match self {
            Self::AsksNothing => "wish_asks_nothing",
            Self::BoundsCrossed { .. } => "bounds_crossed",
            Self::ExactAndMore => "exact_and_more",
            Self::Counting(error) => error.code(),
            Self::Composition(error) => error.code(),
            Self::State(error) => error.code(),
            Self::Haze(error) => error.code(),
            Self::Draws(error) => error.code(),
            Self::NeedsCo2OrAcid { .. } => "needs_co2_or_acid",
            Self::NotWeighed { .. } => "not_weighed",
            Self::BeyondSolubility { .. } => "beyond_solubility",
            Self::SharesImpossible { .. } => "shares_impossible",
            Self::BalanceEmpty { .. } => "balance_empty",
            Self::Search(error) => error.code(),
            Self::SearchEnded => "search_ended",
        }
    }

    fn kind(&self) -> Kind {
        match self {
            Self::AsksNothing => Kind::Insufficient,
            Self::BoundsCrossed { .. } | Self::ExactAndMore | Self::SharesImpossible { .. } => {
                Kind::Inconsistent
            }
            Self::Counting(error) => error.kind(),
            Self::Composition(error) => error.kind(),
            Self::State(error) => error.kind(),
            Self::Haze(error) => error.kind(),
            Self::Draws(error) => error.kind(),
            Self::NeedsCo2OrAcid { .. } | Self::NotWeighed { .. } => Kind::OutsideModel,
            Self::BeyondSolubility { .. } | Self::BalanceEmpty { .. } => Kind::OutOfRange,
            Self::Search(error) => error.kind(),
            Self::SearchEnded => Kind::NotConverged,
        }
    }

    fn accepted(&self) -> Vec<String> {
        match self {
            Self::AsksNothing => ["near", "at_least", "at_most", "exact"].map(str::to_owned).to_vec(),
            Self::Counting(error) => error.accepted(),
            Self::Composition(error) => error.accepted(),
            Self::State(error) => error.accepted(),
            Self::Haze(error) => error.accepted(),
            Self::Draws(error) => error.accepted(),
            Self::Search(error) => error.accepted(),
            _ => Vec::new(),
        }
    }

    fn mend(&self) -> String {
        match self {
            Self::AsksNothing => "state at least one of them".into(),
            Self::BoundsCrossed { .. } => "let at_least be no more than at_most".into(),
            Self::ExactAndMore => "let exact stand alone".into(),
            Self::Counting(error) => error.mend(),
            Self::Composition(error) => error.mend(),
            Self::State(error) => error.mend(),
            Self::Haze(error) => error.mend(),
            Self::Draws(error) => error.mend(),
            Self::NeedsCo2OrAcid { .. } => {
                "take a salt that dissolves by itself: calcium chloride or sulfate for calcium, magnesium chloride or \
                 sulfate for magnesium, sodium or potassium bicarbonate for bicarbonate"
                    .into()
            }
            Self::NotWeighed { .. } => "take it off the shelf of salts".into(),
            Self::BeyondSolubility { .. } => "ask for less of it, or make more water".into(),
            Self::SharesImpossible { .. } => "let the least shares add up to 100 % or less and the greatest to 100 % or more".into(),
            Self::BalanceEmpty { .. } => "let least_g be no more than most_g, and most_g at least one step".into(),
            Self::Search(error) => error.mend(),
            Self::SearchEnded => "ask for fewer salts at once (most_salts), or widen a range".into(),
        }
    }
}
