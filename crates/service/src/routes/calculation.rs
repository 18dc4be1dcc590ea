//! One calculation: body in, answer or problem out.

use std::panic::AssertUnwindSafe;
use std::time::Duration;

use actix_web::http::header::ContentType;
use actix_web::web::{self, Data};
use actix_web::{HttpResponse, Route};

use crate::door::body::JsonBody;
use crate::door::rejection::Rejection;
use crate::state::State;
use springwright_contract::answer::calculate;
use springwright_contract::reading::Amounts;

/// The route of the calculation `name`.
pub fn answers(route: Route, name: &'static str) -> Route {
    route.to(move |state: Data<State>, body: JsonBody| answer(state, name, body))
}

async fn answer(state: Data<State>, name: &'static str, body: JsonBody) -> Result<HttpResponse, Rejection> {
    let place = state.places.clone().try_acquire_owned().map_err(|_| Rejection::Overloaded)?;
    // The place is given back when the work ends, not when its caller stops waiting.
    let work = web::block(move || {
        let _place = place;
        std::panic::catch_unwind(AssertUnwindSafe(|| calculate(name, &body.0, Amounts::Objects)))
    });
    let seconds = state.settings.answer_timeout_s;
    let ended = tokio::time::timeout(Duration::from_secs(seconds), work).await;
    let worked =
        ended.map_err(|_| Rejection::AnswerTimeout { seconds })?.map_err(|_| Rejection::OwnFailure)?;
    let answer = worked.map_err(|_| Rejection::OwnFailure)??;
    Ok(HttpResponse::Ok().content_type(ContentType::json()).body(answer))
}
