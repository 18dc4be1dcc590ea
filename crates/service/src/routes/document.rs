//! The OpenAPI document.

use actix_web::HttpResponse;
use actix_web::http::header::ContentType;

use crate::door::document;

/// `GET /openapi.json`.
pub async fn document() -> HttpResponse {
    HttpResponse::Ok().content_type(ContentType::json()).body(document::text())
}
