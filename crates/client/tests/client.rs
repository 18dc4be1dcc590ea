//! What the client sends, and what it makes of what comes back.
#![allow(clippy::unwrap_used)]

mod stub;

use springwright_client::{Client, ClientError};
use springwright_contract::conversion::ConversionRequest;
use springwright_contract::salts::SaltsQuery;

const REFUSAL: &str = r#"{"type":"/problems/request_refused","title":"The request cannot be answered as it stands",
    "status":422,"code":"request_refused","detail":"one fault","faults":[{"pointer":"/unit","code":"unknown_unit",
    "message":"no such unit","accepted":["mg/L"],"mend":"use a known unit"}]}"#;

fn request() -> ConversionRequest {
    let text = r#"{"of":"Ca","measured":{"value":40,"unit":"mg/L"},"unit":"mmol/L"}"#;
    serde_json::from_str(text).unwrap()
}

fn client(address: std::net::SocketAddr) -> Client {
    Client::new(&format!("http://{address}")).unwrap()
}

#[tokio::test]
async fn a_request_goes_out_as_the_contract_writes_it() {
    let (address, heard) = stub::heard(200, "application/json", stub::CONVERSION);
    let client = Client::with_key(&format!("http://{address}/water/"), "sw_0").unwrap();
    let answer = client.convert(&request()).await.unwrap();
    assert_eq!(answer.measured.unit, "meq/L");
    let heard = heard.recv().unwrap();
    let (head, body) = heard.split_once("\r\n\r\n").unwrap();
    assert!(head.starts_with("POST /water/v1/calculations/conversion HTTP/1.1"), "{head}");
    assert!(
        head.contains("authorization: Bearer sw_0") && head.contains("content-type: application/json"),
        "{head}"
    );
    assert_eq!(serde_json::from_str::<ConversionRequest>(body).unwrap(), request());
}

#[tokio::test]
async fn a_refusal_carries_its_document() {
    let address = stub::once(422, "application/problem+json", REFUSAL);
    let error = client(address).convert(&request()).await.unwrap_err();
    assert_eq!(error.code(), Some("request_refused"));
    assert_eq!(error.problem().unwrap().faults[0].pointer, "/unit");
}

#[tokio::test]
async fn an_answer_from_something_else_is_told_apart_from_a_refusal() {
    let address = stub::once(502, "text/html", "<html>");
    let error = client(address).convert(&request()).await.unwrap_err();
    assert!(matches!(error, ClientError::NotUnderstood { status: 502, .. }), "{error}");
    let nobody = std::net::TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap();
    assert!(matches!(client(nobody).ready().await.unwrap_err(), ClientError::Unreached(_)));
}

#[tokio::test]
async fn rows_come_back_in_order_each_with_its_own_outcome() {
    let flat = |text: &str| text.replace('\n', "");
    let body = format!(
        "{{\"id\":\"a\",\"status\":\"answered\",\"answer\":{}}}\n{{\"id\":\"b\",\"status\":\"refused\",\"problem\":{}}}",
        flat(stub::CONVERSION),
        flat(REFUSAL)
    );
    let (address, heard) = stub::heard(200, "application/x-ndjson", &body);
    let request = request();
    let answers = client(address).convert_bulk([("a", &request), ("b", &request)]).await.unwrap();
    let rows = answers.all().await.unwrap();
    let ids: Vec<_> = rows.iter().map(|row| row.id.as_str()).collect();
    assert_eq!(ids, ["a", "b"]);
    assert!(rows[0].outcome.is_ok());
    assert_eq!(rows[1].outcome.as_ref().unwrap_err().code, "request_refused");
    let heard = heard.recv().unwrap();
    assert_eq!(heard.split_once("\r\n\r\n").unwrap().1.lines().count(), 2);
}

#[tokio::test]
async fn a_query_names_only_what_is_asked() {
    let (address, heard) = stub::heard(200, "application/json", r#"{"salts":[]}"#);
    let query = SaltsQuery { gives: Some("Ca".to_owned()), limit: Some(5), ..SaltsQuery::default() };
    assert!(client(address).salts(&query).await.unwrap().next_cursor.is_none());
    assert!(heard.recv().unwrap().starts_with("GET /v1/salts?gives=Ca&limit=5 HTTP/1.1"));
}

#[test]
fn a_client_is_not_set_up_for_what_it_cannot_speak() {
    for base in ["ftp://a", "nonsense"] {
        assert!(matches!(Client::new(base), Err(ClientError::Setup(_))), "{base}");
    }
    assert_eq!(Client::new("https://a").is_ok(), cfg!(feature = "tls"));
    assert!(matches!(Client::with_key("http://a", "a\nb"), Err(ClientError::Setup(_))));
}
