//! Who may ask.

use springwright_service::key::{KeyDigest, KeyLine, Permission, fresh};
use springwright_service::settings::Settings;

use crate::house::{House, Reply, quiet};

fn with_key(house: &House, path: &str, authorization: &str) -> Reply {
    house.call().ask(&format!("GET {path} HTTP/1.1\r\nhost: x\r\nauthorization: {authorization}\r\n\r\n"))
}

fn line(label: &str, key: &str, may: &[Permission]) -> String {
    KeyLine { label: label.to_owned(), digest: KeyDigest::of(key), may: may.to_vec() }.text()
}

#[test]
fn a_key_opens_what_it_may_and_nothing_else() {
    let (calculating, operating) = (fresh().unwrap(), fresh().unwrap());
    let keys = [
        line("press", &calculating, &[Permission::Calculate]),
        line("scraper", &operating, &[Permission::Operate]),
    ];
    let house = House::start(Settings { keys: keys.join("\n"), ..quiet() });
    let status = |path, authorization: &str| with_key(&house, path, authorization).status;
    assert_eq!(status("/v1/salts", &format!("Bearer {calculating}")), 200);
    assert_eq!(status("/v1/salts", &format!("bearer {calculating}")), 200);
    assert_eq!(status("/metrics", &format!("Bearer {operating}")), 200);
    assert_eq!(status("/v1/salts", &format!("Bearer {operating}")), 403);
    assert_eq!(status("/metrics", &format!("Bearer {calculating}")), 403);
    assert_eq!(status("/v1/salts", &format!("Basic {calculating}")), 401);
    for open in ["/livez", "/readyz", "/version", "/openapi.json", "/docs/"] {
        assert_eq!(house.get(open).status, 200, "{open}");
    }
    insta::assert_json_snapshot!("key_missing", house.get("/v1/salts").json());
    insta::assert_json_snapshot!("key_unreadable", with_key(&house, "/v1/salts", "Bearer ").json());
    insta::assert_json_snapshot!("key_unknown", with_key(&house, "/v1/salts", "Bearer sw_0").json());
    let refused = with_key(&house, "/metrics", &format!("Bearer {calculating}"));
    insta::assert_json_snapshot!("not_permitted", refused.json());
    let unknown = with_key(&house, "/v1/salts", "Bearer sw_0");
    // RFC 9110, section 11.6.1: a 401 carries a challenge.
    assert_eq!(unknown.header("www-authenticate"), Some("Bearer realm=\"springwright\""));
}

#[test]
fn without_keys_nobody_is_asked_for_one() {
    let house = House::start(quiet());
    assert_eq!(house.get("/v1/salts").status, 200);
    assert_eq!(house.get("/metrics").status, 200);
}
