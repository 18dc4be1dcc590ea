//! Many requests at once: in order, the same bytes as one at a time, one bad line spoiling no other.

use serde_json::Value;
use springwright_service::settings::Settings;

use crate::house::{Caller, House, example, path, quiet};

const NDJSON: &str = "application/x-ndjson";

fn compact(name: &str) -> String {
    serde_json::from_str::<Value>(&example(name)).unwrap().to_string()
}

fn row(id: impl std::fmt::Display, request: &str) -> String {
    format!("{{\"id\":\"{id}\",\"request\":{request}}}\n")
}

fn begin(caller: &mut Caller, name: &str) {
    caller.say(&format!(
        "POST {}/bulk HTTP/1.1\r\nhost: x\r\ncontent-type: {NDJSON}\r\ntransfer-encoding: chunked\r\n\r\n",
        path(name)
    ));
    assert_eq!(caller.head().0, 200);
}

fn chunk(text: &str) -> String {
    format!("{:x}\r\n{text}\r\n", text.len())
}

#[test]
fn a_row_carries_the_bytes_of_the_single_answer() {
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
        let single = house.post(&path(name), &example(name));
        assert_eq!(single.status, 200, "{}", single.text());
        let rows = house.post_as(&format!("{}/bulk", path(name)), NDJSON, &row("one", &compact(name)));
        let expected = format!("{{\"id\":\"one\",\"status\":\"answered\",\"answer\":{}}}\n", single.text());
        assert_eq!(rows.text(), expected, "{name}");
    }
}

#[test]
fn a_thousand_rows_come_in_order_and_bad_ones_stay_alone() {
    let house = House::start(quiet());
    let good = compact("conversion");
    let body: String = (0..1000)
        .map(|number| match number % 5 {
            3 => "not a row\n".to_owned(),
            4 => row(number, "{}"),
            _ => row(number, &good),
        })
        .collect();
    let reply = house.post_as(&format!("{}/bulk", path("conversion")), NDJSON, &body);
    assert_eq!((reply.status, reply.header("content-type"), reply.whole), (200, Some(NDJSON), true));
    let lines: Vec<Value> = reply.text().lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    assert_eq!(lines.len(), 1000);
    for (number, line) in lines.iter().enumerate() {
        let (id, status) = match number % 5 {
            3 => (String::new(), "refused"),
            4 => (number.to_string(), "refused"),
            _ => (number.to_string(), "answered"),
        };
        assert_eq!(
            (line["id"].as_str(), line["status"].as_str()),
            (Some(id.as_str()), Some(status)),
            "{line}"
        );
    }
}

#[test]
fn answers_leave_while_rows_still_arrive() {
    let house = House::start(quiet());
    let mut caller = house.call();
    begin(&mut caller, "conversion");
    for number in 0..3 {
        caller.say(&chunk(&row(number, &compact("conversion"))));
        let answer: Value = serde_json::from_slice(&caller.chunk().unwrap()).unwrap();
        assert_eq!(answer["id"], number.to_string());
    }
    caller.say("0\r\n\r\n");
    assert_eq!(caller.chunk(), Some(vec![]));
}

#[test]
fn a_list_longer_than_what_is_read_ahead_is_answered_as_it_arrives() {
    let house = House::start(Settings { bulk_ahead_bytes: 1000, ..quiet() });
    let body: String = (0..200).map(|number| row(number, &compact("conversion"))).collect();
    let reply = house.post_as(&format!("{}/bulk", path("conversion")), NDJSON, &body);
    assert_eq!(reply.text().lines().count(), 200);
}

#[test]
fn a_row_beyond_the_limit_is_refused_alone() {
    let house = House::start(Settings { body_limit_bytes: 2048, ..quiet() });
    let good = row("good", &compact("conversion"));
    let body = format!("{}{good}", row("long", &format!("\"{}\"", "x".repeat(4000))));
    let reply = house.post_as(&format!("{}/bulk", path("conversion")), NDJSON, &body);
    let lines: Vec<Value> = reply.text().lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    insta::assert_json_snapshot!("row_too_long", lines[0]);
    assert_eq!(lines[1]["status"], "answered");
}

#[test]
fn a_list_that_stalls_ends_with_its_reason_and_as_broken() {
    let house = House::start(Settings { body_timeout_s: 1, ..quiet() });
    let mut caller = house.call();
    begin(&mut caller, "conversion");
    caller.say(&chunk(&row("one", &compact("conversion"))));
    assert!(caller.chunk().is_some());
    let last: Value = serde_json::from_slice(&caller.chunk().unwrap()).unwrap();
    assert_eq!(last["problem"]["code"], "body_timeout");
    assert_eq!(caller.chunk(), None, "the body must not end as if it were whole");
}
