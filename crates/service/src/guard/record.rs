//! The outermost layer: names the request, counts it, and writes one line when its last byte is gone.
//! The line carries the operation, never the path, the query or a body: recipes do not belong into logs.

use std::pin::Pin;
use std::task::{Context, Poll};
use std::time::Instant;

use actix_web::body::{BodySize, BoxBody, MessageBody};
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::http::{ConnectionType, header};
use actix_web::middleware::Next;
use actix_web::web::{Bytes, Data};
use actix_web::{Error, HttpMessage};

use super::identity::{Identity, REQUEST_ID, TRACEPARENT};
use crate::door::operation::{Operation, operation_at};
use crate::readiness::Phase;
use crate::state::State;

/// Label of the key that a request was admitted with; set by the admission.
#[derive(Clone)]
pub struct Caller(pub String);

/// The layer.
pub async fn record(
    state: Data<State>,
    request: ServiceRequest,
    next: Next<BoxBody>,
) -> Result<ServiceResponse<BoxBody>, Error> {
    let mut record = Record::begin(&state, &request);
    let identity = record.identity.clone();
    let outcome = next.call(request).await;
    let mut response = match outcome {
        Ok(response) => response,
        Err(error) => {
            record.status = error.as_response_error().status_code().as_u16();
            return Err(error);
        }
    };
    record.status = response.status().as_u16();
    record.caller = response.request().extensions().get::<Caller>().map(|caller| caller.0.clone());
    if state.readiness.phase() == Phase::Stopping {
        response.response_mut().head_mut().set_connection_type(ConnectionType::Close);
    }
    let headers = response.headers_mut();
    headers.insert(REQUEST_ID, identity.request_id);
    headers.insert(header::X_CONTENT_TYPE_OPTIONS, header::HeaderValue::from_static("nosniff"));
    if let Some(traceparent) = identity.traceparent {
        headers.insert(TRACEPARENT, traceparent);
    }
    Ok(response.map_body(|_, body| BoxBody::new(Recorded { body, record })))
}

/// What is written about one request when it is dropped, which is after its last byte or when the caller has gone.
struct Record {
    state: Data<State>,
    began: Instant,
    identity: Identity,
    method: String,
    operation: Option<&'static Operation>,
    caller: Option<String>,
    status: u16,
    bytes: u64,
    whole: bool,
}

impl Record {
    fn begin(state: &Data<State>, request: &ServiceRequest) -> Self {
        state.measures.begin();
        let pattern = request.match_pattern();
        Self {
            state: state.clone(),
            began: Instant::now(),
            identity: Identity::of(request.headers()),
            method: request.method().to_string(),
            operation: pattern.and_then(|pattern| operation_at(request.method(), &pattern)),
            caller: None,
            status: 499,
            bytes: 0,
            whole: false,
        }
    }

    fn line(&self) -> String {
        let mut line = serde_json::json!({
            "at": crate::clock::now(),
            "event": "request",
            "request_id": self.identity.request_id.to_str().unwrap_or_default(),
            "method": self.method,
            "operation": self.operation.map_or("none", |operation| operation.id.as_str()),
            "status": self.status,
            "bytes": self.bytes,
            "whole": self.whole,
            "milliseconds": self.began.elapsed().as_micros() as f64 / 1000.0,
        });
        if let Some(caller) = &self.caller {
            line["key"] = caller.as_str().into();
        }
        if let Some(traceparent) = self.identity.traceparent.as_ref().and_then(|value| value.to_str().ok()) {
            line["traceparent"] = traceparent.into();
        }
        line.to_string()
    }
}

impl Drop for Record {
    fn drop(&mut self) {
        self.state.measures.end(self.operation, self.status, self.began.elapsed());
        if self.state.settings.request_log {
            crate::log::write(&self.line());
        }
    }
}

/// A body that counts its bytes and takes the record along to its end.
struct Recorded {
    body: BoxBody,
    record: Record,
}

impl MessageBody for Recorded {
    type Error = Box<dyn std::error::Error>;

    fn size(&self) -> BodySize {
        self.body.size()
    }

    fn poll_next(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
    ) -> Poll<Option<Result<Bytes, Self::Error>>> {
        let next = Pin::new(&mut self.body).poll_next(context);
        match &next {
            Poll::Ready(Some(Ok(bytes))) => self.record.bytes += bytes.len() as u64,
            Poll::Ready(None) => self.record.whole = true,
            _ => {}
        }
        next
    }
}
