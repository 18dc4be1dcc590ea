//! Version of program and data.

use actix_web::HttpResponse;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use springwright_contract::answer;

/// What answers rest on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct Version {
    /// Version of the service.
    pub service: String,
    /// Version of the engine that calculates.
    pub engine: String,
    /// SHA-256 of the compiled-in data tables, in hex.
    pub data_set: String,
}

/// `GET /version`.
pub async fn version() -> HttpResponse {
    HttpResponse::Ok().json(Version {
        service: env!("CARGO_PKG_VERSION").to_owned(),
        engine: answer::engine().to_owned(),
        data_set: answer::data_set().to_owned(),
    })
}
