//! Stopping: what is under way is finished, what is idle is closed, nothing new is taken.

use std::time::{Duration, Instant};

use springwright_service::settings::Settings;

use crate::house::{House, example, path, quiet};

#[test]
fn a_request_under_way_is_finished_and_idle_connections_are_closed() {
    let house = House::start(Settings { keep_alive_s: 3600, drain_timeout_s: 60, ..quiet() });
    let address = house.address;
    let body = example("conversion");
    let (first, second) = body.split_at(body.len() / 2);
    let mut idle = house.call();
    assert_eq!(idle.ask("GET /livez HTTP/1.1\r\nhost: x\r\n\r\n").status, 200);
    let mut busy = house.call();
    busy.say(&format!(
        "POST {} HTTP/1.1\r\nhost: x\r\ncontent-type: application/json\r\ncontent-length: {}\r\n\r\n{first}",
        path("conversion"),
        body.len()
    ));
    std::thread::sleep(Duration::from_millis(100));
    house.stop();
    let told = Instant::now();
    assert!(idle.closed());
    assert!(told.elapsed() < Duration::from_secs(10), "an idle connection held the service up");
    busy.say(second);
    let reply = busy.hear();
    assert_eq!(reply.status, 200, "{}", reply.text());
    assert_eq!(reply.header("connection"), Some("close"));
    assert!(busy.closed());
    house.end().unwrap();
    assert!(std::net::TcpStream::connect(address).is_err(), "nobody listens any more");
}

#[test]
fn while_it_waits_for_a_load_balancer_it_still_answers_but_keeps_no_connection() {
    let house = House::start(Settings { drain_delay_s: 2, ..quiet() });
    let mut caller = house.call();
    assert_eq!(caller.ask("GET /readyz HTTP/1.1\r\nhost: x\r\n\r\n").status, 200);
    house.stop();
    std::thread::sleep(Duration::from_millis(200));
    assert_eq!(house.get("/readyz").status, 503);
    assert_eq!(house.get("/livez").status, 200);
    let last = caller.ask("GET /version HTTP/1.1\r\nhost: x\r\n\r\n");
    assert_eq!((last.status, last.header("connection")), (200, Some("close")));
    assert!(caller.closed());
}
