//! The calculations as the door offers them: words for people, the types that stand behind, an example that runs.
//! A calculation that the contract knows and that is missing here fails a test.

use springwright_contract::blend::{BlendAnswer, BlendRequest};
use springwright_contract::carbonation::{CarbonationAnswer, CarbonationRequest};
use springwright_contract::compatibility::{CompatibilityAnswer, CompatibilityRequest};
use springwright_contract::conversion::{ConversionAnswer, ConversionRequest};
use springwright_contract::life_path::{LifePathAnswer, LifePathRequest};
use springwright_contract::mixture::{MixtureAnswer, MixtureRequest};
use springwright_contract::precipitation::{PrecipitationAnswer, PrecipitationRequest};
use springwright_contract::reconciliation::{ReconciliationAnswer, ReconciliationRequest};
use springwright_contract::saturation::{SaturationAnswer, SaturationRequest};
use springwright_contract::scale_up::{ScaleUpAnswer, ScaleUpRequest};
use springwright_contract::speciation::{SpeciationAnswer, SpeciationRequest};
use springwright_contract::titration::{TitrationAnswer, TitrationRequest};
use springwright_contract::weighing::{WeighingPlanAnswer, WeighingRequest};

use super::operation::Shape;

/// One calculation.
pub struct Calculation {
    /// Name in the path and on the command line.
    pub name: &'static str,
    /// Name of the function in Python and in the client.
    pub id: &'static str,
    /// What it does, in a few words.
    pub summary: &'static str,
    /// What it does, in a paragraph.
    pub description: &'static str,
    /// A request that runs.
    pub example: &'static str,
    /// Type of the request.
    pub request: Shape,
    /// Type of the answer.
    pub answer: Shape,
}

macro_rules! example {
    ($name:literal) => {
        include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/../../openapi/examples/", $name, ".json"))
    };
}

/// Every calculation, in the order in which they are shown.
pub fn calculations() -> Vec<Calculation> {
    [amounts(), states(), changes(), solids(), formulation(), analyses()].into_iter().flatten().collect()
}

/// Amounts and waters, without a solved state of their own.
fn amounts() -> Vec<Calculation> {
    vec![
        Calculation {
            name: "conversion",
            id: "convert",
            summary: "Convert one amount to another unit or basis",
            description: "One measured amount in another unit or basis, with its uncertainty, and the same amount in \
                          the other units and bases of the trade. Nothing is assumed in silence: what an amount is \
                          expressed as must be said or is listed under `assumptions`.",
            example: example!("conversion"),
            request: Shape::of::<ConversionRequest>(),
            answer: Shape::of::<ConversionAnswer>(),
        },
        Calculation {
            name: "mixture",
            id: "mix",
            summary: "Pour waters together",
            description: "The water that results when waters are poured together: exact in mass and in charge. The \
                          charge gap of each sheet mixes like an ion and is answered, never adjusted in silence. \
                          Where the carbonate of each water is known (its alkalinity and pH), the mixture is solved: \
                          pH, carbon dioxide, saturation and conductivity.",
            example: example!("mixture"),
            request: Shape::of::<MixtureRequest>(),
            answer: Shape::of::<MixtureAnswer>(),
        },
    ]
}

/// The solved state of a water.
fn states() -> Vec<Calculation> {
    vec![
        Calculation {
            name: "speciation",
            id: "speciate",
            summary: "Solve the equilibrium of a water",
            description: "What stands in a water, species by species, with its pH, carbon dioxide, ionic strength, \
                          conductivity and osmolality, at a temperature and in a state of its carbon dioxide. Any two \
                          of alkalinity, pH, dissolved carbonate, free carbon dioxide and its pressure tell the rest. \
                          An ion without constants is refused with `outside_model`, never ignored.",
            example: example!("speciation"),
            request: Shape::of::<SpeciationRequest>(),
            answer: Shape::of::<SpeciationAnswer>(),
        },
        Calculation {
            name: "saturation",
            id: "saturation",
            summary: "Tell how far a water stands from the solids it could make",
            description: "The saturation index of every solid that the water could make, with its constant, that \
                          constant's uncertainty and source, at the temperature of the water and at others.",
            example: example!("saturation"),
            request: Shape::of::<SaturationRequest>(),
            answer: Shape::of::<SaturationAnswer>(),
        },
    ]
}

/// One water brought into another state.
fn changes() -> Vec<Calculation> {
    vec![
        Calculation {
            name: "carbonation",
            id: "carbonate_to",
            summary: "Carbonate a water, or let it go flat",
            description: "How much carbon dioxide brings a still water to a wanted state, the pressure that the gauge \
                          must show for it at this and other temperatures and at an altitude, what a bottle's headspace \
                          takes, and what pH and saturation become on the way and once it stands open. Volumes are \
                          litres of the gas at 0 °C and 1 atm in a litre of water.",
            example: example!("carbonation"),
            request: Shape::of::<CarbonationRequest>(),
            answer: Shape::of::<CarbonationAnswer>(),
        },
        Calculation {
            name: "titration",
            id: "titrate",
            summary: "Bring a water to a pH with an acid, a base or a salt",
            description: "How much of an article of the catalogue, or of strong acid or base, brings a water to a pH in \
                          a closed vessel or under air, with the carbon dioxide set free, the buffer capacity and a \
                          curve. A pH that the article cannot reach is an answer: `reached` is false, and the nearest \
                          pH is told with the reason.",
            example: example!("titration"),
            request: Shape::of::<TitrationRequest>(),
            answer: Shape::of::<TitrationAnswer>(),
        },
    ]
}

/// What falls out of a water, and what may stand together in one.
fn solids() -> Vec<Calculation> {
    vec![
        Calculation {
            name: "precipitation",
            id: "precipitate",
            summary: "Tell what a water lets fall, and what an eye will see of it",
            description: "The water in balance with several solids at once, its carbon dioxide closed in or held by a \
                          gas: what forms, what dissolves of powders that lie in it, what the gas takes, and the \
                          calcite potential. For each solid a verdict on haze by limits with their sources, which a \
                          request may set: an index alone hazes nothing, the mass must be seen too.",
            example: example!("precipitation"),
            request: Shape::of::<PrecipitationRequest>(),
            answer: Shape::of::<PrecipitationAnswer>(),
        },
        Calculation {
            name: "compatibility",
            id: "check_compatibility",
            summary: "Tell which salts may stand together",
            description: "Every salt by itself, every pair and all together, at the strengths and in the state in which \
                          they will be used: what clouds at once, in time or never, by which solid, and what to use \
                          instead. As data, as a table in plain text and as a picture (SVG).",
            example: example!("compatibility"),
            request: Shape::of::<CompatibilityRequest>(),
            answer: Shape::of::<CompatibilityAnswer>(),
        },
        Calculation {
            name: "life-path",
            id: "life_path",
            summary: "Follow a water from its stocks to the kettle",
            description: "What becomes of a water at each stage of its life: stocks, mixed, carbonated, bottled, cold, warm, \
                          opened, flat, in the kettle. At each the pH, the gas in it, the pressure on its vessel, a verdict \
                          on haze with the worst solid and its margin, and what to change so that it is clear, each \
                          change solved by following the life again. A ledger tells where the carbon dioxide went. As \
                          data, as a table in plain text and as an SVG picture.",
            example: example!("life-path"),
            request: Shape::of::<LifePathRequest>(),
            answer: Shape::of::<LifePathAnswer>(),
        },
    ]
}

/// From a wanted water to grams.
fn formulation() -> Vec<Calculation> {
    vec![
        Calculation {
            name: "blend",
            id: "solve_blend",
            summary: "Solve a blend: grams of salts on top of given waters",
            description: "Which waters to pour and which salts to weigh, in whole steps of the balances at hand, so \
                          that the finished water comes as near as possible to the wishes. A wish that cannot be met \
                          is an answer with its reasons, not an error; wishes for pH and other properties of the \
                          solved state are judged there, and every answer is solved in full.",
            example: example!("blend"),
            request: Shape::of::<BlendRequest>(),
            answer: Shape::of::<BlendAnswer>(),
        },
        Calculation {
            name: "weighing",
            id: "plan_weighing",
            summary: "Bring a recipe onto the balances",
            description: "What of a recipe to put on which balance, in whole steps that together come nearest to it and \
                          break no wish that it holds; how far each mass alone may be off, from the water and not from \
                          a flat percentage; how likely every wish is met, by readings, assays and what is poured; and \
                          a stock solution where a mass is too little for its balance.",
            example: example!("weighing"),
            request: Shape::of::<WeighingRequest>(),
            answer: Shape::of::<WeighingPlanAnswer>(),
        },
        Calculation {
            name: "scale-up",
            id: "scale_batch",
            summary: "Make a recipe in another volume, with whole bags",
            description: "A recipe that was tried in a glass for a keg or a tank: waters to pour, whole bags and weighings in \
                          whole steps, how far each may be off, how likely the wishes are met, and the volumes near the \
                          wanted one at which bags come out whole.",
            example: example!("scale-up"),
            request: Shape::of::<ScaleUpRequest>(),
            answer: Shape::of::<ScaleUpAnswer>(),
        },
    ]
}

/// Sheets held against themselves.
fn analyses() -> Vec<Calculation> {
    vec![Calculation {
        name: "reconciliation",
        id: "reconcile",
        summary: "Make an analysis add up, and name the number that may be wrong",
        description: "The most likely water behind an analysis: charge, sums beside their parts, conductivity and \
                      dissolved solids are held against the ions, each by its uncertainty, with limits kept. Every \
                      row is answered beside it, and where the sheet shows more than chance does, the usual mistakes \
                      are undone in turn and ranked: as N or as CaCO3, wrong unit, slipped point, swapped digits, \
                      exchanged rows, a missing ion. With the rules of acceptance of Standard Methods 1030 E, and \
                      bounds for what the sheet is silent of.",
        example: example!("reconciliation"),
        request: Shape::of::<ReconciliationRequest>(),
        answer: Shape::of::<ReconciliationAnswer>(),
    }]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_door_offers_exactly_what_the_contract_calculates() {
        let offered: Vec<_> = calculations().iter().map(|calculation| calculation.name).collect();
        assert_eq!(offered, springwright_contract::answer::calculations());
    }
}
