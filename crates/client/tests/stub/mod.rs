//! A server that answers one request with one canned text: enough to see what the client makes of it.
#![allow(dead_code)] // each test uses its own part

use std::io::{Read as _, Write as _};
use std::net::{SocketAddr, TcpListener};
use std::sync::mpsc::{Receiver, channel};

/// A conversion answer: 52 mg/L as CaCO3 is 1.039 meq/L (100.087 g/mol over 2 eq, IUPAC abridged weights).
pub const CONVERSION: &str = r#"{"measured":{"value":1.039,"unit":"meq/L"},"equivalents":[],"assumptions":[],
    "provenance":{"engine":"0.1.0","data_set":"00","model":"definitions","request_digest":"00"}}"#;

/// Answers one request and forgets it.
pub fn once(status: u16, media_type: &str, body: &str) -> SocketAddr {
    heard(status, media_type, body).0
}

/// Answers one request; what was asked comes through the channel, head and body.
pub fn heard(status: u16, media_type: &str, body: &str) -> (SocketAddr, Receiver<String>) {
    let listener = TcpListener::bind("127.0.0.1:0").expect("loopback");
    let address = listener.local_addr().expect("bound");
    let answer = format!(
        "HTTP/1.1 {status} Canned\r\ncontent-type: {media_type}\r\ncontent-length: {}\r\nconnection: close\r\n\r\n{body}",
        body.len()
    );
    let (said, heard) = channel();
    std::thread::spawn(move || {
        let (mut stream, _) = listener.accept().expect("one caller");
        let mut request = Vec::new();
        let mut part = [0; 4096];
        while !whole(&request) {
            let length = stream.read(&mut part).expect("a request");
            request.extend_from_slice(&part[..length]);
        }
        stream.write_all(answer.as_bytes()).expect("a listener");
        let _ = said.send(String::from_utf8_lossy(&request).into_owned());
    });
    (address, heard)
}

fn whole(request: &[u8]) -> bool {
    let text = String::from_utf8_lossy(request);
    let Some((head, body)) = text.split_once("\r\n\r\n") else { return false };
    let length =
        head.to_lowercase().lines().find_map(|line| line.strip_prefix("content-length: ")?.parse().ok());
    body.len() >= length.unwrap_or(0)
}
