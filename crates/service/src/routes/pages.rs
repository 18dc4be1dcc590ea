//! The pages that show the document in a browser, all of them inside the binary.

use std::sync::{Arc, LazyLock};

use actix_web::http::header;
use actix_web::web::{self, Path, ServiceConfig};
use actix_web::{HttpResponse, Responder};
use utoipa_swagger_ui::Config;

use crate::door::rejection::Rejection;

/// Mounts `/docs`.
pub fn mount(config: &mut ServiceConfig) {
    let entry = || web::redirect("/docs", "docs/").permanent();
    config.service(entry());
    config.service(web::resource("/docs/{file:.*}").route(web::get().to(page)).route(web::head().to(page)));
}

async fn page(file: Path<String>) -> Result<impl Responder, Rejection> {
    static CONFIG: LazyLock<Arc<Config<'static>>> = LazyLock::new(|| {
        Arc::new(Config::from("../openapi.json").use_base_layout().display_operation_id(true))
    });
    let found = utoipa_swagger_ui::serve(&file, CONFIG.clone()).map_err(|_| Rejection::OwnFailure)?;
    let found = found.ok_or(Rejection::NotFound)?;
    Ok(HttpResponse::Ok()
        .content_type(found.content_type)
        // Nothing is ever loaded from elsewhere, even if a page should ask for it.
        .insert_header((header::CONTENT_SECURITY_POLICY, POLICY))
        .body(found.bytes.into_owned()))
}

const POLICY: &str = "default-src 'self'; img-src 'self' data:; style-src 'self' 'unsafe-inline'; \
                      script-src 'self' 'unsafe-inline'; frame-ancestors 'none'";
