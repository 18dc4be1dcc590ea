//! Reading the body of one request: declared as what this door reads, not too long, not too slow.

use std::time::Duration;

use actix_web::dev::Payload;
use actix_web::http::header::{self, HeaderMap};
use actix_web::web::{Bytes, BytesMut, Data};
use actix_web::{FromRequest, HttpRequest};
use futures_util::StreamExt as _;
use futures_util::future::LocalBoxFuture;

use super::rejection::Rejection;
use crate::state::State;

/// Media types of a single request.
pub const JSON: &[&str] = &["application/json"];
/// Media types of a bulk request, one request a line.
pub const ROWS: &[&str] = &["application/x-ndjson", "application/ndjson", "application/jsonl"];

/// The body of a request that is declared as JSON. What it says is the contract's to judge.
pub struct JsonBody(pub Bytes);

impl FromRequest for JsonBody {
    type Error = Rejection;
    type Future = LocalBoxFuture<'static, Result<Self, Rejection>>;

    fn from_request(request: &HttpRequest, payload: &mut Payload) -> Self::Future {
        let declared = declared_as(request.headers(), JSON);
        let length = declared_length(request.headers());
        let state = request.app_data::<Data<State>>().cloned();
        let payload = payload.take();
        Box::pin(async move {
            declared?;
            let settings = &state.as_ref().ok_or(Rejection::OwnFailure)?.settings;
            let limit = settings.body_limit_bytes;
            if length.is_some_and(|length| length > limit as u64) {
                return Err(Rejection::TooLarge { limit });
            }
            let seconds = settings.body_timeout_s;
            let read = tokio::time::timeout(Duration::from_secs(seconds), whole(payload, limit));
            read.await.map_err(|_| Rejection::BodyTimeout { seconds })?.map(Self)
        })
    }
}

async fn whole(mut payload: Payload, limit: usize) -> Result<Bytes, Rejection> {
    let mut body = BytesMut::new();
    while let Some(part) = payload.next().await {
        let part = part.map_err(|_| Rejection::BodyBroken)?;
        if body.len() + part.len() > limit {
            return Err(Rejection::TooLarge { limit });
        }
        body.extend_from_slice(&part);
    }
    Ok(body.freeze())
}

/// Refuses a body that is not declared as one of `accepted`, or that is compressed.
///
/// # Errors
/// [`Rejection::UnsupportedMediaType`] or [`Rejection::UnsupportedEncoding`].
pub fn declared_as(headers: &HeaderMap, accepted: &'static [&'static str]) -> Result<(), Rejection> {
    let text = |name| headers.get(name).and_then(|value| value.to_str().ok()).unwrap_or_default();
    let encoding = text(header::CONTENT_ENCODING).trim();
    if !encoding.is_empty() && !encoding.eq_ignore_ascii_case("identity") {
        return Err(Rejection::UnsupportedEncoding { given: short(encoding) });
    }
    let given = text(header::CONTENT_TYPE);
    let mut parts = given.split(';').map(str::trim);
    let media_type = parts.next().unwrap_or_default();
    // JSON is UTF-8 (RFC 8259, section 8.1); any other charset would be misread.
    let charset_fits = parts.filter_map(|part| part.split_once('=')).all(|(name, value)| {
        !name.trim().eq_ignore_ascii_case("charset")
            || value.trim().trim_matches('"').eq_ignore_ascii_case("utf-8")
    });
    let fits = charset_fits && accepted.iter().any(|name| name.eq_ignore_ascii_case(media_type));
    if fits { Ok(()) } else { Err(Rejection::UnsupportedMediaType { given: short(given), accepted }) }
}

/// The length that the head of the request declares.
pub fn declared_length(headers: &HeaderMap) -> Option<u64> {
    headers.get(header::CONTENT_LENGTH)?.to_str().ok()?.parse().ok()
}

/// A header value is echoed in an answer only as far as it helps.
fn short(text: &str) -> String {
    text.chars().take(100).collect()
}

#[cfg(test)]
mod tests {
    use actix_web::http::header::{HeaderName, HeaderValue};

    use super::*;

    fn judged(name: HeaderName, value: &'static str) -> Result<(), Rejection> {
        let mut headers = HeaderMap::new();
        headers.insert(header::CONTENT_TYPE, HeaderValue::from_static("application/json"));
        headers.insert(name, HeaderValue::from_static(value));
        declared_as(&headers, JSON)
    }

    #[test]
    fn json_is_read_in_utf_8_and_uncompressed_only() {
        for (name, value, fits) in [
            (header::CONTENT_TYPE, "application/json", true),
            (header::CONTENT_TYPE, "Application/JSON; charset=\"UTF-8\"", true),
            (header::CONTENT_TYPE, "application/json; charset=latin1", false),
            (header::CONTENT_TYPE, "text/plain", false),
            (header::CONTENT_ENCODING, "identity", true),
            (header::CONTENT_ENCODING, "gzip", false),
        ] {
            assert_eq!(judged(name, value).is_ok(), fits, "{value}");
        }
        assert!(declared_as(&HeaderMap::new(), JSON).is_err());
    }
}
