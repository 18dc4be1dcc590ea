//! Every refusal is a whole problem document: status, headers and text as snapshots.

use serde_json::{Value, json};
use springwright_service::settings::Settings;

use crate::house::{House, Reply, example, path, quiet};

/// What a caller sees of a refusal.
fn seen(reply: &Reply) -> Value {
    assert_eq!(reply.header("content-type"), Some("application/problem+json"), "{reply:?}");
    assert!(reply.header("x-request-id").is_some(), "{reply:?}");
    let document = reply.json();
    assert_eq!(document["status"], reply.status, "{document}");
    let told = ["allow", "retry-after", "www-authenticate"];
    let headers: serde_json::Map<String, Value> =
        told.iter().filter_map(|name| Some(((*name).to_owned(), reply.header(name)?.into()))).collect();
    json!({ "status": reply.status, "headers": headers, "document": document })
}

macro_rules! assert_refused {
    ($name:literal, $reply:expr) => {
        insta::assert_json_snapshot!($name, seen(&$reply))
    };
}

#[test]
fn addresses_and_methods() {
    let house = House::start(quiet());
    assert_refused!("not_found", house.get("/v1/calculations/blned"));
    assert_refused!("method_not_allowed", house.get("/v1/calculations/blend"));
    assert_refused!("method_not_allowed_on_reading", house.post("/v1/salts", "{}"));
    assert_refused!("page_not_found", house.get("/docs/none.js"));
    // A path that is no UTF-8 once decoded is one more address where nothing is.
    assert_eq!(seen(&house.get("/docs/%ff%fe"))["status"], 404);
}

#[test]
fn declared_bodies() {
    let house = House::start(quiet());
    let blend = path("blend");
    assert_refused!("unsupported_media_type", house.post_as(&blend, "text/plain", "{}"));
    let undeclared = format!("POST {blend} HTTP/1.1\r\nhost: x\r\ncontent-length: 2\r\n\r\n{{}}");
    assert_refused!("undeclared_body", house.call().ask(&undeclared));
    let compressed = format!(
        "POST {blend} HTTP/1.1\r\nhost: x\r\ncontent-type: application/json\r\ncontent-encoding: gzip\r\n\
         content-length: 2\r\n\r\n{{}}"
    );
    assert_refused!("unsupported_content_encoding", house.call().ask(&compressed));
    assert_refused!("bulk_of_json", house.post(&format!("{blend}/bulk"), "{}"));
}

#[test]
fn bodies_that_are_too_long_too_slow_or_broken() {
    let house = House::start(Settings { body_limit_bytes: 1024, body_timeout_s: 1, ..quiet() });
    let blend = path("blend");
    let head = format!("POST {blend} HTTP/1.1\r\nhost: x\r\ncontent-type: application/json\r\n");
    assert_refused!("body_too_large", house.post(&blend, &" ".repeat(1025)));
    let chunked = format!("{head}transfer-encoding: chunked\r\n\r\n401\r\n{}\r\n0\r\n\r\n", " ".repeat(1025));
    assert_eq!(seen(&house.call().ask(&chunked))["status"], 413);
    assert_refused!("body_timeout", house.call().ask(&format!("{head}content-length: 10\r\n\r\n{{")));
    assert_refused!(
        "body_broken",
        house.call().ask(&format!("{head}transfer-encoding: chunked\r\n\r\nzz\r\n"))
    );
}

#[test]
fn requests_that_break_rules() {
    let house = House::start(quiet());
    for name in [
        "conversion",
        "mixture",
        "speciation",
        "saturation",
        "carbonation",
        "titration",
        "precipitation",
        "compatibility",
        "life-path",
        "weighing",
        "scale-up",
        "blend",
        "reconciliation",
    ] {
        assert_eq!(seen(&house.post(&path(name), "{"))["status"], 400);
        assert_eq!(seen(&house.post(&path(name), "{}"))["status"], 422);
    }
    assert_refused!("not_json", house.post(&path("conversion"), "{\"of\": }"));
    assert_refused!("request_refused", house.post(&path("conversion"), "{\"of\": 3, \"colour\": \"blue\"}"));
    assert_refused!("bad_query", house.get("/v1/salts?limit=many&colour=blue&limit=2"));
    assert_refused!("bad_query_value", house.get("/v1/salts?food=perhaps"));
}

#[test]
fn busy_and_stopping() {
    let house = House::start(Settings { in_flight: 1, drain_delay_s: 1, ..quiet() });
    let mut list = house.call();
    list.say(&format!(
        "POST {}/bulk HTTP/1.1\r\nhost: x\r\ncontent-type: application/x-ndjson\r\ntransfer-encoding: chunked\r\n\r\n",
        path("conversion")
    ));
    assert_eq!(list.head().0, 200);
    assert_refused!("overloaded", house.post(&path("conversion"), &example("conversion")));
    list.say("0\r\n\r\n");
    assert_eq!(list.chunk(), Some(vec![]));
    house.stop();
    std::thread::sleep(std::time::Duration::from_millis(200));
    let stopping = house.get("/readyz");
    assert_refused!("not_ready", stopping);
    assert_eq!(stopping.header("connection"), Some("close"));
}

#[test]
fn too_often() {
    let house = House::start(Settings { rate_per_minute: 1, rate_burst: 1, ..quiet() });
    assert_eq!(house.get("/v1/salts").status, 200);
    let refused = house.get("/v1/salts");
    let wait: u64 = refused.header("retry-after").unwrap().parse().unwrap();
    assert!((1..=60).contains(&wait), "one a minute: {wait}");
    assert_eq!(seen(&refused)["document"]["code"], "too_many_requests");
    assert_eq!(house.get("/livez").status, 200, "what is open to all is not counted");
}
