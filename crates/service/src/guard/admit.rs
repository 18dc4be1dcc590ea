//! Who may pass: a known key with the permission the operation needs, not too often.

use actix_web::body::BoxBody;
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::http::header;
use actix_web::middleware::Next;
use actix_web::web::Data;
use actix_web::{Error, HttpMessage};

use super::record::Caller;
use crate::door::operation::operation_at;
use crate::door::rejection::{NoKey, Rejection};
use crate::key::{Holder, Permission};
use crate::state::State;

/// The layer. What lives nowhere, and what is open to all, passes freely.
pub async fn admit(
    state: Data<State>,
    request: ServiceRequest,
    next: Next<BoxBody>,
) -> Result<ServiceResponse<BoxBody>, Error> {
    let pattern = request.match_pattern();
    let operation = pattern.and_then(|pattern| operation_at(request.method(), &pattern));
    let Some(needs) = operation.and_then(|operation| operation.needs) else {
        return next.call(request).await;
    };
    match judged(&state, &request, needs).await {
        Ok(caller) => {
            if let Some(caller) = caller {
                request.extensions_mut().insert(Caller(caller));
            }
            next.call(request).await
        }
        Err(rejection) => Ok(request.into_response(rejection.response())),
    }
}

/// The label of the key, if the service knows keys at all.
async fn judged(
    state: &State,
    request: &ServiceRequest,
    needs: Permission,
) -> Result<Option<String>, Rejection> {
    let key = if state.keys.is_empty() { None } else { Some(holder(state, request).await?) };
    if let Some(rate) = &state.rate {
        let address = || request.peer_addr().map(|peer| peer.ip().to_string()).unwrap_or_default();
        let caller = key.as_ref().map_or_else(address, |key| key.label.clone());
        rate.count(&caller).map_err(|retry_after| Rejection::TooManyRequests { retry_after })?;
    }
    match key {
        Some(key) if !key.may.contains(&needs) => {
            Err(Rejection::NotPermitted { label: key.label, needs: needs.word() })
        }
        key => Ok(key.map(|key| key.label)),
    }
}

async fn holder(state: &State, request: &ServiceRequest) -> Result<Holder, Rejection> {
    let header =
        request.headers().get(header::AUTHORIZATION).ok_or(Rejection::Unauthorized(NoKey::Absent))?;
    let key = header.to_str().ok().and_then(bearer).ok_or(Rejection::Unauthorized(NoKey::Unreadable))?;
    state.keys.find(key).await.ok_or(Rejection::Unauthorized(NoKey::Unknown))
}

/// The scheme is read in any case (RFC 9110, section 11.1).
fn bearer(header: &str) -> Option<&str> {
    let (scheme, key) = header.split_once(' ')?;
    let key = key.trim();
    (scheme.eq_ignore_ascii_case("bearer") && !key.is_empty()).then_some(key)
}
