//! The list of settings. One declaration gives the struct, its defaults, the layer that file, environment and
//! flags fill, and the help of the command line.

use std::net::{Ipv4Addr, SocketAddr};
use std::path::PathBuf;

use serde::{Deserialize, Serialize};

macro_rules! settings {
    ($($(#[doc = $doc:literal])+ $name:ident: $type:ty = $default:expr, $env:literal;)+) => {
        /// Everything the service can be told, with a value for each.
        #[derive(Clone, Debug, PartialEq, Serialize)]
        pub struct Settings {
            $($(#[doc = $doc])+ pub $name: $type,)+
        }

        impl Default for Settings {
            fn default() -> Self {
                Self { $($name: $default,)+ }
            }
        }

        /// One source of settings: what it does not say is left to the source below it.
        #[derive(Clone, Debug, Default, clap::Args, Deserialize)]
        #[serde(deny_unknown_fields)]
        pub struct Layer {
            $($(#[doc = $doc])+ #[arg(long, env = $env, hide_env_values = true)] pub $name: Option<$type>,)+
        }

        impl Layer {
            /// This layer where it speaks, the one below elsewhere.
            pub fn over(self, below: Self) -> Self {
                Self { $($name: self.$name.or(below.$name),)+ }
            }

            /// This layer over the defaults.
            pub fn settled(self) -> Settings {
                let below = Settings::default();
                Settings { $($name: self.$name.unwrap_or(below.$name),)+ }
            }
        }
    };
}

settings! {
    /// Address and port to listen on; port 0 takes any free one. Beyond loopback an API key is required.
    listen: SocketAddr = SocketAddr::from((Ipv4Addr::LOCALHOST, 8080)), "SPRINGWRIGHT_LISTEN";
    /// Threads that read requests and write answers, 1 to 512.
    workers: usize = processors(), "SPRINGWRIGHT_WORKERS";
    /// Threads that calculate, over all workers, 1 to 1024.
    calculation_threads: usize = 4 * processors(), "SPRINGWRIGHT_CALCULATION_THREADS";
    /// Calculations taken at once, waiting ones included; one more is answered 503. 1 to 100000.
    in_flight: usize = 256, "SPRINGWRIGHT_IN_FLIGHT";
    /// Longest body of one request, and longest line of a bulk request, bytes, 1024 to 67108864.
    body_limit_bytes: usize = 1 << 20, "SPRINGWRIGHT_BODY_LIMIT_BYTES";
    /// A bulk body of at most this declared length is read whole before the first answer leaves, so that callers
    /// who send everything before they read do not block; a longer one is read as it is answered. Bytes.
    bulk_ahead_bytes: usize = 8 << 20, "SPRINGWRIGHT_BULK_AHEAD_BYTES";
    /// Longest wait for the head of a request, for its body, or for the next line of a bulk body, seconds, 1 to 3600.
    body_timeout_s: u64 = 30, "SPRINGWRIGHT_BODY_TIMEOUT_S";
    /// Longest wait for one calculation, seconds, 1 to 3600.
    answer_timeout_s: u64 = 30, "SPRINGWRIGHT_ANSWER_TIMEOUT_S";
    /// How long an idle connection is kept open, seconds, 0 to 3600.
    keep_alive_s: u64 = 30, "SPRINGWRIGHT_KEEP_ALIVE_S";
    /// Pause between "not ready" and the end of accepting, seconds, so that a load balancer can turn away, 0 to 300.
    drain_delay_s: u64 = 0, "SPRINGWRIGHT_DRAIN_DELAY_S";
    /// Longest wait for requests under way when the service stops, seconds, 1 to 3600.
    drain_timeout_s: u64 = 25, "SPRINGWRIGHT_DRAIN_TIMEOUT_S";
    /// Requests a minute that one caller (key, or address without keys) may send; 0 sets no limit.
    rate_per_minute: u32 = 0, "SPRINGWRIGHT_RATE_PER_MINUTE";
    /// Requests that one caller may send in a burst before the rate holds, 1 to 100000.
    rate_burst: u32 = 30, "SPRINGWRIGHT_RATE_BURST";
    /// File with one API key a line: label, SHA-256 of the key, and optionally what it may do. Empty: no file.
    key_file: PathBuf = PathBuf::new(), "SPRINGWRIGHT_KEY_FILE";
    /// API keys beside the file, in the same form, parted by line ends or semicolons.
    keys: String = String::new(), "SPRINGWRIGHT_KEYS";
    /// Write one line per request to standard error.
    request_log: bool = true, "SPRINGWRIGHT_REQUEST_LOG";
}

fn processors() -> usize {
    std::thread::available_parallelism().map_or(1, usize::from).min(512)
}
