//! The net under the routes: a panic becomes a problem document, and so does every bare refusal of the framework.

use std::panic::AssertUnwindSafe;

use actix_web::Error;
use actix_web::body::BoxBody;
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::http::{StatusCode, header};
use actix_web::middleware::Next;
use futures_util::FutureExt as _;

use crate::door::rejection::{PROBLEM_JSON, Rejection};

/// The layer.
pub async fn settle(request: ServiceRequest, next: Next<BoxBody>) -> Result<ServiceResponse<BoxBody>, Error> {
    match AssertUnwindSafe(next.call(request)).catch_unwind().await {
        Ok(Ok(response)) => Ok(worded(response)),
        Ok(Err(error)) => Err(error),
        Err(_) => Err(Rejection::OwnFailure.into()),
    }
}

/// A refusal that is not a problem document yet gets one, and keeps its headers.
fn worded(response: ServiceResponse<BoxBody>) -> ServiceResponse<BoxBody> {
    let status = response.status();
    let refused = status.is_client_error() || status.is_server_error();
    if !refused || media_type(&response) == PROBLEM_JSON {
        return response;
    }
    let rejection = match status {
        StatusCode::NOT_FOUND => Rejection::NotFound,
        StatusCode::METHOD_NOT_ALLOWED => Rejection::MethodNotAllowed {
            method: response.request().method().to_string(),
            allowed: allowed(&response),
        },
        StatusCode::INTERNAL_SERVER_ERROR => Rejection::OwnFailure,
        other => Rejection::Other(other.as_u16()),
    };
    let (request, _) = response.into_parts();
    ServiceResponse::new(request, rejection.response())
}

fn media_type(response: &ServiceResponse<BoxBody>) -> &str {
    response.headers().get(header::CONTENT_TYPE).and_then(|value| value.to_str().ok()).unwrap_or_default()
}

fn allowed(response: &ServiceResponse<BoxBody>) -> Vec<String> {
    let header = response.headers().get(header::ALLOW).and_then(|value| value.to_str().ok());
    header
        .unwrap_or_default()
        .split(',')
        .map(|name| name.trim().to_owned())
        .filter(|name| !name.is_empty())
        .collect()
}

#[cfg(test)]
mod tests {
    use actix_web::middleware::from_fn;
    use actix_web::{App, HttpResponse, test, web};

    use super::*;

    async fn panics() -> HttpResponse {
        panic!("calcium 42")
    }

    async fn fails() -> HttpResponse {
        HttpResponse::InternalServerError().body("calcium 42")
    }

    #[actix_web::test]
    async fn neither_a_panic_nor_a_bare_failure_tells_its_cause() {
        let app = App::new()
            .wrap(from_fn(settle))
            .route("/panics", web::get().to(panics))
            .route("/fails", web::get().to(fails));
        let app = test::init_service(app).await;
        for path in ["/panics", "/fails"] {
            let request = test::TestRequest::get().uri(path).to_request();
            let (status, text) = match test::try_call_service(&app, request).await {
                Ok(response) => (response.status(), test::read_body(response).await),
                Err(error) => {
                    let response = error.error_response();
                    let status = response.status();
                    (status, actix_web::body::to_bytes(response.into_body()).await.unwrap())
                }
            };
            let text = String::from_utf8(text.to_vec()).unwrap();
            assert_eq!(status, StatusCode::INTERNAL_SERVER_ERROR);
            assert!(text.contains("\"code\":\"own_failure\"") && !text.contains("calcium"), "{text}");
        }
    }
}
