//! A running service, and a caller that speaks HTTP by hand so that it can also speak it wrongly.

use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::{SocketAddr, TcpStream};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

use springwright_service::application::{Application, StartError, Stopper};
use springwright_service::settings::Settings;

/// A service in this process; stopped and waited for when dropped.
pub struct House {
    pub address: SocketAddr,
    stopper: Stopper,
    run: Option<JoinHandle<Result<(), StartError>>>,
}

/// Settings of a test service: any free port, two workers, no log.
pub fn quiet() -> Settings {
    Settings { listen: ([127, 0, 0, 1], 0).into(), workers: 2, request_log: false, ..Settings::default() }
}

impl House {
    /// Starts a service and waits until it is ready.
    pub fn start(settings: Settings) -> Self {
        let application = Application::build(settings).unwrap();
        let (address, stopper) = (application.address(), application.stopper());
        let run = std::thread::spawn(move || actix_web::rt::System::new().block_on(application.run()));
        let house = Self { address, stopper, run: Some(run) };
        let began = Instant::now();
        while house.get("/readyz").status != 200 {
            assert!(
                began.elapsed() < Duration::from_secs(20),
                "never ready: {}",
                house.get("/readyz").text()
            );
            std::thread::sleep(Duration::from_millis(5));
        }
        house
    }

    /// A new connection.
    pub fn call(&self) -> Caller {
        Caller::new(self.address)
    }

    /// Asks a path on a connection of its own.
    pub fn get(&self, path: &str) -> Reply {
        self.call().ask(&format!("GET {path} HTTP/1.1\r\nhost: x\r\nconnection: close\r\n\r\n"))
    }

    /// Posts JSON on a connection of its own.
    pub fn post(&self, path: &str, body: &str) -> Reply {
        self.post_as(path, "application/json", body)
    }

    /// Posts a body of any media type on a connection of its own.
    pub fn post_as(&self, path: &str, media_type: &str, body: &str) -> Reply {
        let length = body.len();
        self.call().ask(&format!(
            "POST {path} HTTP/1.1\r\nhost: x\r\nconnection: close\r\ncontent-type: {media_type}\r\n\
             content-length: {length}\r\n\r\n{body}"
        ))
    }

    /// Tells the service to stop, without waiting.
    pub fn stop(&self) {
        self.stopper.stop();
    }

    /// Tells the service to stop and waits for its end.
    pub fn end(mut self) -> Result<(), StartError> {
        self.stop();
        self.run.take().unwrap().join().unwrap()
    }
}

impl Drop for House {
    fn drop(&mut self) {
        self.stop();
        if let Some(run) = self.run.take() {
            let _ = run.join();
        }
    }
}

/// One connection.
pub struct Caller(BufReader<TcpStream>);

impl Caller {
    fn new(address: SocketAddr) -> Self {
        let stream = TcpStream::connect(address).unwrap();
        stream.set_read_timeout(Some(Duration::from_secs(20))).unwrap();
        Self(BufReader::new(stream))
    }

    /// Sends text as it stands. A service that has answered and closed already is no error.
    pub fn say(&mut self, text: &str) {
        let _ = self.0.get_mut().write_all(text.as_bytes());
    }

    /// Sends text and reads one reply.
    pub fn ask(&mut self, text: &str) -> Reply {
        self.say(text);
        self.hear()
    }

    /// Reads one reply to its end.
    pub fn hear(&mut self) -> Reply {
        let (status, headers) = self.head();
        let mut reply = Reply { status, headers, body: Vec::new(), whole: true };
        if reply.header("transfer-encoding") == Some("chunked") {
            reply.whole = loop {
                match self.chunk() {
                    Some(part) if part.is_empty() => break true,
                    Some(part) => reply.body.extend(part),
                    None => break false,
                }
            };
        } else if let Some(length) = reply.header("content-length") {
            reply.body = vec![0; length.parse().unwrap()];
            self.0.read_exact(&mut reply.body).unwrap();
        }
        reply
    }

    /// Reads the head of a reply.
    pub fn head(&mut self) -> (u16, Vec<(String, String)>) {
        let first = self.line();
        let status = first.split(' ').nth(1).and_then(|word| word.parse().ok()).unwrap_or(0);
        let mut headers = Vec::new();
        loop {
            let line = self.line();
            let Some((name, value)) = line.split_once(": ") else { return (status, headers) };
            headers.push((name.to_lowercase(), value.to_owned()));
        }
    }

    /// Reads one chunk of a body: empty at its end, none when it breaks off.
    pub fn chunk(&mut self) -> Option<Vec<u8>> {
        let length = usize::from_str_radix(&self.line(), 16).ok()?;
        let mut part = vec![0; length + 2];
        self.0.read_exact(&mut part).ok()?;
        part.truncate(length);
        Some(part)
    }

    /// Whether the service has closed this connection, waiting for it as long as a read may take.
    pub fn closed(&mut self) -> bool {
        matches!(self.0.read(&mut [0; 1]), Ok(0))
    }

    fn line(&mut self) -> String {
        let mut line = String::new();
        let _ = self.0.read_line(&mut line);
        line.trim_end().to_owned()
    }
}

/// One reply.
#[derive(Debug)]
pub struct Reply {
    pub status: u16,
    pub headers: Vec<(String, String)>,
    pub body: Vec<u8>,
    pub whole: bool,
}

impl Reply {
    pub fn header(&self, name: &str) -> Option<&str> {
        self.headers.iter().find(|(given, _)| given == name).map(|(_, value)| value.as_str())
    }

    pub fn text(&self) -> &str {
        std::str::from_utf8(&self.body).unwrap()
    }

    pub fn json(&self) -> serde_json::Value {
        serde_json::from_slice(&self.body).unwrap_or_else(|error| panic!("{error}: {}", self.text()))
    }
}

/// The example request of a calculation, as checked in.
pub fn example(name: &str) -> String {
    let path = format!("{}/../../openapi/examples/{name}.json", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"))
}

/// The path of a calculation.
pub fn path(name: &str) -> String {
    format!("/v1/calculations/{name}")
}
