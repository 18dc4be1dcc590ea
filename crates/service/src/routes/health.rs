//! Whether the process runs, and whether it may be asked.

use actix_web::HttpResponse;
use actix_web::web::Data;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::door::rejection::Rejection;
use crate::readiness::Phase;
use crate::state::State;

/// State of health.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct Health {
    /// `live` or `ready`.
    pub status: String,
}

fn well(status: &str) -> HttpResponse {
    HttpResponse::Ok().json(Health { status: status.to_owned() })
}

/// `GET /livez`.
pub async fn live() -> HttpResponse {
    well("live")
}

/// `GET /readyz`.
pub async fn ready(state: Data<State>) -> Result<HttpResponse, Rejection> {
    match state.readiness.phase() {
        Phase::Ready => Ok(well("ready")),
        Phase::Starting => Err(Rejection::NotReady("the service is starting")),
        Phase::Stopping => Err(Rejection::NotReady("the service is stopping")),
        Phase::Failed => Err(Rejection::NotReady("the service failed its self-test")),
    }
}
