//! What a watcher sees: request ids, trace context, measures.

use crate::house::{House, example, path, quiet};

#[test]
fn the_callers_names_for_a_request_come_back() {
    let house = House::start(quiet());
    let trace = "00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01";
    let request =
        format!("GET /livez HTTP/1.1\r\nhost: x\r\nx-request-id: line-7\r\ntraceparent: {trace}\r\n\r\n");
    let reply = house.call().ask(&request);
    assert_eq!(reply.header("x-request-id"), Some("line-7"));
    assert_eq!(reply.header("traceparent"), Some(trace));
    let (one, two) = (house.get("/livez"), house.get("/livez"));
    assert_ne!(one.header("x-request-id"), two.header("x-request-id"));
    assert_eq!(one.header("traceparent"), None);
}

#[test]
fn head_is_answered_like_get_without_a_body() {
    let house = House::start(quiet());
    let mut caller = house.call();
    caller.say("HEAD /version HTTP/1.1\r\nhost: x\r\nconnection: close\r\n\r\n");
    let (status, headers) = caller.head();
    let get = house.get("/version");
    assert_eq!(status, 200);
    let length = headers.iter().find(|(name, _)| name == "content-length").map(|(_, value)| value.clone());
    assert_eq!(length.as_deref(), get.header("content-length"));
    assert!(caller.closed());
}

#[test]
fn measures_count_by_operation_and_carry_no_recipe() {
    let house = House::start(quiet());
    for _ in 0..3 {
        assert_eq!(house.post(&path("conversion"), &example("conversion")).status, 200);
    }
    house.get("/v1/salts?search=gypsum");
    let reply = house.get("/metrics");
    let line = "springwright_requests_total{operation=\"convert\",status=\"200\"} 3";
    assert!(reply.text().lines().any(|present| present == line), "{}", reply.text());
    assert!(!reply.text().contains("gypsum") && !reply.text().contains("/v1/"));
}
