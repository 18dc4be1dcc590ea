//! `springwright healthcheck`: for containers that hold nothing but this binary.

use std::io::{Read as _, Write as _};
use std::net::{IpAddr, Ipv4Addr, Ipv6Addr, SocketAddr, TcpStream};
use std::process::ExitCode;
use std::time::Duration;

use clap::Args;

use super::{failed, print};

#[derive(Args)]
pub(super) struct Healthcheck {
    /// Address the service listens on.
    #[arg(long, env = "SPRINGWRIGHT_LISTEN", default_value = "127.0.0.1:8080")]
    listen: SocketAddr,
    /// Longest wait, seconds.
    #[arg(long, default_value_t = 3)]
    timeout_s: u64,
}

impl Healthcheck {
    pub(super) fn run(self) -> ExitCode {
        match status(reachable(self.listen), Duration::from_secs(self.timeout_s.max(1))) {
            Ok(200) => print("ready\n"),
            Ok(status) => failed(format!("not ready: the service answered {status}")),
            Err(error) => failed(format!("not ready: {error}")),
        }
    }
}

/// A service that listens on every address is asked on loopback.
fn reachable(listen: SocketAddr) -> SocketAddr {
    let ip = match listen.ip() {
        IpAddr::V4(ip) if ip.is_unspecified() => Ipv4Addr::LOCALHOST.into(),
        IpAddr::V6(ip) if ip.is_unspecified() => Ipv6Addr::LOCALHOST.into(),
        ip => ip,
    };
    SocketAddr::new(ip, listen.port())
}

fn status(address: SocketAddr, patience: Duration) -> std::io::Result<u16> {
    let mut stream = TcpStream::connect_timeout(&address, patience)?;
    stream.set_read_timeout(Some(patience))?;
    stream.set_write_timeout(Some(patience))?;
    stream.write_all(
        format!("GET /readyz HTTP/1.1\r\nHost: {address}\r\nConnection: close\r\n\r\n").as_bytes(),
    )?;
    let mut head = [0; 12];
    stream.read_exact(&mut head)?;
    // "HTTP/1.1 200": the status stands in the last three places.
    let digits = std::str::from_utf8(&head[9..]).unwrap_or_default();
    digits.parse().map_err(|_| std::io::Error::other("the answer is not HTTP"))
}
