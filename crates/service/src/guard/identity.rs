//! How one request is known in logs and in its answer: a request id and, if the caller traces, its trace context.

use std::sync::LazyLock;
use std::sync::atomic::{AtomicU64, Ordering::Relaxed};

use actix_web::http::header::{HeaderMap, HeaderName, HeaderValue};

/// Header that carries the request id both ways.
pub const REQUEST_ID: HeaderName = HeaderName::from_static("x-request-id");
/// Header that carries the W3C trace context both ways.
pub const TRACEPARENT: HeaderName = HeaderName::from_static("traceparent");

/// The names under which one request is known.
#[derive(Clone, Debug)]
pub struct Identity {
    /// The caller's id where it is fit for a log, a fresh one otherwise.
    pub request_id: HeaderValue,
    /// The caller's trace context, when it is well formed.
    pub traceparent: Option<HeaderValue>,
}

impl Identity {
    /// Reads both headers.
    pub fn of(headers: &HeaderMap) -> Self {
        let given = headers.get(REQUEST_ID).filter(|value| fit_for_a_log(value));
        Self {
            request_id: given.cloned().unwrap_or_else(fresh),
            traceparent: headers.get(TRACEPARENT).filter(|value| is_trace_context(value)).cloned(),
        }
    }
}

fn fit_for_a_log(value: &HeaderValue) -> bool {
    let bytes = value.as_bytes();
    (1..=128).contains(&bytes.len())
        && bytes.iter().all(|&byte| byte.is_ascii_alphanumeric() || b"-_.:".contains(&byte))
}

/// `version-trace-parent-flags`, lower-case hexadecimal, neither id all zero (W3C Trace Context, section 3.2).
fn is_trace_context(value: &HeaderValue) -> bool {
    let Ok(text) = value.to_str() else { return false };
    let parts: Vec<&str> = text.split('-').collect();
    let lengths: Vec<usize> = parts.iter().map(|part| part.len()).collect();
    let lower = |part: &&str| part.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f'));
    let zero = |part: &str| part.bytes().all(|byte| byte == b'0');
    lengths == [2, 32, 16, 2]
        && parts.iter().all(lower)
        && parts[0] != "ff"
        && !zero(parts[1])
        && !zero(parts[2])
}

/// Unique within this process by a counter, and between processes by a random start.
fn fresh() -> HeaderValue {
    static START: LazyLock<u64> = LazyLock::new(|| getrandom::u64().unwrap_or_default());
    static COUNT: AtomicU64 = AtomicU64::new(0);
    let id = format!("{:016x}-{:x}", *START, COUNT.fetch_add(1, Relaxed));
    HeaderValue::try_from(id).unwrap_or_else(|_| HeaderValue::from_static("0"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(name: HeaderName, value: &'static str) -> Identity {
        let mut headers = HeaderMap::new();
        headers.insert(name, HeaderValue::from_static(value));
        Identity::of(&headers)
    }

    #[test]
    fn a_request_id_that_would_spoil_a_log_is_replaced() {
        assert_eq!(of(REQUEST_ID, "line-7:0042").request_id, "line-7:0042");
        assert_ne!(of(REQUEST_ID, "a b").request_id, "a b");
        assert_ne!(Identity::of(&HeaderMap::new()).request_id, Identity::of(&HeaderMap::new()).request_id);
    }

    #[test]
    fn only_a_well_formed_trace_context_is_echoed() {
        // First value: the example of W3C Trace Context, section 3.2.
        for (value, kept) in [
            ("00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01", true),
            ("00-00000000000000000000000000000000-00f067aa0ba902b7-01", false),
            ("00-4bf92f3577b34da6a3ce929d0e0e4736-0000000000000000-01", false),
            ("00-4BF92F3577B34DA6A3CE929D0E0E4736-00f067aa0ba902b7-01", false),
            ("ff-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01", false),
            ("00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7", false),
        ] {
            assert_eq!(of(TRACEPARENT, value).traceparent.is_some(), kept, "{value}");
        }
    }
}
