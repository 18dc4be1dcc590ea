//! The measures, as a scraper reads them.

use actix_web::HttpResponse;
use actix_web::web::Data;

use crate::state::State;

/// `GET /metrics`.
pub async fn metrics(state: Data<State>) -> HttpResponse {
    let text = state.measures.text(state.readiness.phase());
    HttpResponse::Ok().content_type("text/plain; version=0.0.4; charset=utf-8").body(text)
}
