//! The catalogue as reference data.

use actix_web::http::header::ContentType;
use actix_web::{HttpRequest, HttpResponse};
use springwright_contract::salts::SaltsQuery;

use crate::door::rejection::Rejection;
use springwright_contract::answer;

/// The parameters that are read.
const PARAMETERS: &[&str] = &["search", "gives", "food", "limit", "cursor"];

/// `GET /v1/salts`.
pub async fn salts(request: HttpRequest) -> Result<HttpResponse, Rejection> {
    let query: SaltsQuery = serde_urlencoded::from_str(request.query_string())
        .map_err(|error| Rejection::BadQuery { message: error.to_string(), accepted: PARAMETERS })?;
    let page = answer::salts_json(&query)?;
    Ok(HttpResponse::Ok().content_type(ContentType::json()).body(page))
}
