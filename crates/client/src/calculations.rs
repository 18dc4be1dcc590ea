//! The calculations: for each a method that asks once and one that asks many times.

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

use crate::client::Client;
use crate::error::ClientError;
use crate::rows::Answers;

/// One line a calculation: its two methods, its name in the path, its request and answer, and what it does.
macro_rules! calculations {
    ($($one:ident, $many:ident: $name:literal, $request:ty => $answer:ty, $does:literal;)*) => {
        impl Client {
            $(
                #[doc = concat!("`POST /v1/calculations/", $name, "`: ", $does, ".")]
                ///
                /// # Errors
                /// [`ClientError::Refused`] with every fault; the other kinds when there is no answer to read.
                pub async fn $one(&self, request: &$request) -> Result<$answer, ClientError> {
                    self.calculate($name, request).await
                }

                #[doc = concat!("`POST /v1/calculations/", $name, "/bulk`: the same for many requests, in order.")]
                ///
                /// # Errors
                /// As for one request, for the list as a whole; a refused row is a row.
                pub async fn $many<'a>(
                    &self,
                    rows: impl IntoIterator<Item = (&'a str, &'a $request)>,
                ) -> Result<Answers<$answer>, ClientError> {
                    self.bulk($name, rows).await
                }
            )*
        }
    };
}

calculations! {
    convert, convert_bulk: "conversion", ConversionRequest => ConversionAnswer,
        "one amount in another unit or basis";
    mix, mix_bulk: "mixture", MixtureRequest => MixtureAnswer,
        "the water that results when waters are poured together";
    speciate, speciate_bulk: "speciation", SpeciationRequest => SpeciationAnswer,
        "what stands in a water, species by species, with its pH and all that follows";
    saturation, saturation_bulk: "saturation", SaturationRequest => SaturationAnswer,
        "how far a water stands from the solids that it could make";
    carbonate_to, carbonate_to_bulk: "carbonation", CarbonationRequest => CarbonationAnswer,
        "how much carbon dioxide brings a water to a wanted state, and the pressure that keeps it there";
    titrate, titrate_bulk: "titration", TitrationRequest => TitrationAnswer,
        "what brings a water to a pH; a pH that is not reached is an answer";
    reconcile, reconcile_bulk: "reconciliation", ReconciliationRequest => ReconciliationAnswer,
        "the water that an analysis most likely means, and which of its numbers may be wrong";
    precipitate, precipitate_bulk: "precipitation", PrecipitationRequest => PrecipitationAnswer,
        "what a water lets fall and takes up until no solid has a reason to move, and what an eye will see of it";
    check_compatibility, check_compatibility_bulk: "compatibility", CompatibilityRequest => CompatibilityAnswer,
        "which salts cloud together, by which solid, and what to use instead";
    life_path, life_path_bulk: "life-path", LifePathRequest => LifePathAnswer,
        "what becomes of a water from the stocks to the kettle, and what to change where it is not clear";
    plan_weighing, plan_weighing_bulk: "weighing", WeighingRequest => WeighingPlanAnswer,
        "what of a recipe to put on which balance, how far it may be off, and how likely the water is then what is wished";
    scale_batch, scale_batch_bulk: "scale-up", ScaleUpRequest => ScaleUpAnswer,
        "a recipe in another volume: waters to pour, whole bags and weighings";
    solve_blend, solve_blend_bulk: "blend", BlendRequest => BlendAnswer,
        "grams of salts on top of given waters; a blend that is `nearest` or `impossible` is an answer";
}
