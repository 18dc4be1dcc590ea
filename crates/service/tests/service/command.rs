//! The binary from the shell.

use std::io::{BufRead as _, BufReader, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use serde_json::Value;

use crate::house::{House, example, path, quiet};

fn springwright(arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_springwright"));
    command.args(arguments).env_clear();
    command
}

fn ran(arguments: &[&str]) -> Output {
    springwright(arguments).output().unwrap()
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

fn example_file(name: &str) -> String {
    format!("{}/../../openapi/examples/{name}.json", env!("CARGO_MANIFEST_DIR"))
}

/// A file in a folder of its own, removed at the end.
struct Scratch(PathBuf);

impl Scratch {
    fn with(name: &str, content: &str) -> Self {
        let folder = std::env::temp_dir().join(format!("springwright-{}-{name}", std::process::id()));
        std::fs::create_dir_all(&folder).unwrap();
        std::fs::write(folder.join(name), content).unwrap();
        Self(folder.join(name))
    }

    fn path(&self) -> &str {
        self.0.to_str().unwrap()
    }
}

impl Drop for Scratch {
    fn drop(&mut self) {
        let _ = self.0.parent().map(std::fs::remove_dir_all::<&Path>);
    }
}

#[test]
fn the_command_prints_the_bytes_that_the_service_gives() {
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
        let served = house.post(&path(name), &example(name));
        let printed = ran(&["calculate", name, &example_file(name), "--json"]);
        assert_eq!(printed.status.code(), Some(0));
        assert_eq!(text(&printed.stdout), format!("{}\n", served.text()), "{name}");
    }
}

/// Promise of the house: the same bits on every machine. The C library picks its mathematics by what the processor can;
/// with fused multiplication and wide vectors masked every answer keeps its bytes. (Elsewhere than on Linux with glibc on
/// x86-64 the variable is not heard, and the test says no more than that an answer repeats.)
#[test]
fn answers_keep_their_bytes_without_fused_multiplication() {
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
        let arguments = ["calculate", name, &example_file(name), "--json"];
        let mut masked = springwright(&arguments);
        masked.env("GLIBC_TUNABLES", "glibc.cpu.hwcaps=-FMA,-FMA4,-AVX2,-AVX,-AVX512F");
        assert_eq!(text(&masked.output().unwrap().stdout), text(&ran(&arguments).stdout), "{name}");
    }
}

#[test]
fn a_refused_request_is_exit_code_2_with_its_problem() {
    let bad = Scratch::with("bad.json", "{\"colour\": \"blue\"}");
    let json = ran(&["calculate", "blend", bad.path(), "--json"]);
    assert_eq!(json.status.code(), Some(2));
    let house = House::start(quiet());
    let served = house.post(&path("blend"), "{\"colour\": \"blue\"}");
    assert_eq!(text(&json.stdout), format!("{}\n", served.text()));
    let words = ran(&["calculate", "blend", bad.path()]);
    assert_eq!(words.status.code(), Some(2));
    assert!(words.stdout.is_empty() && text(&words.stderr).contains("/colour"), "{words:?}");
    assert_eq!(ran(&["calculate", "nothing", bad.path()]).status.code(), Some(2));
}

#[test]
fn its_own_failure_is_exit_code_1_and_a_wrong_call_64() {
    assert_eq!(ran(&["calculate", "blend", "/nowhere/at/all.json"]).status.code(), Some(1));
    assert_eq!(ran(&["serve", "--listen", "0.0.0.0:0"]).status.code(), Some(1));
    assert_eq!(ran(&["calculate"]).status.code(), Some(64));
    assert_eq!(ran(&["--version"]).status.code(), Some(0));
}

#[test]
fn a_request_may_come_through_a_pipe() {
    let mut child = springwright(&["calculate", "conversion", "-", "--json"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(example("conversion").as_bytes()).unwrap();
    let piped = child.wait_with_output().unwrap();
    let read = ran(&["calculate", "conversion", &example_file("conversion"), "--json"]);
    assert_eq!((piped.status.code(), piped.stdout), (Some(0), read.stdout));
}

#[test]
fn flags_win_over_the_environment_and_that_over_the_file() {
    let file = Scratch::with("settings.toml", "workers = 3\nin_flight = 30\nbody_timeout_s = 300\n");
    let output = springwright(&["config", "--config", file.path(), "--workers", "5"])
        .env("SPRINGWRIGHT_WORKERS", "4")
        .env("SPRINGWRIGHT_IN_FLIGHT", "40")
        .output()
        .unwrap();
    let shown: toml::Table = toml::from_str(&text(&output.stdout)).unwrap();
    let number = |name: &str| shown[name].as_integer();
    assert_eq!(number("workers"), Some(5));
    assert_eq!(number("in_flight"), Some(40));
    assert_eq!(number("body_timeout_s"), Some(300));
    assert_eq!(number("keep_alive_s"), Some(30));
}

#[test]
fn beyond_loopback_a_key_is_needed_and_the_refusal_says_how() {
    let refused = ran(&["serve", "--listen", "0.0.0.0:0"]);
    assert!(text(&refused.stderr).contains("springwright key new"), "{refused:?}");
}

#[test]
fn the_document_can_be_printed() {
    let printed = ran(&["openapi"]);
    assert_eq!(text(&printed.stdout), springwright_service::door::document::text());
}

/// From a fresh key to a clean end: the whole life of a service, as its keeper sees it.
#[cfg(unix)]
#[test]
fn a_service_lives_from_its_key_to_sigterm() {
    let made = text(&ran(&["key", "new", "press"]).stdout);
    let lines: Vec<&str> = made.lines().map(str::trim).collect();
    let (key, line) = (lines[1], lines[3]);
    assert!(key.starts_with("sw_") && line.starts_with("press ") && !line.contains(key), "{made}");
    let keys = Scratch::with("keys", line);
    let mut service = springwright(&["serve", "--listen", "127.0.0.1:0", "--key-file", keys.path()])
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut log = BufReader::new(service.stderr.take().unwrap()).lines();
    let ready: Value = serde_json::from_str(&log.next().unwrap().unwrap()).unwrap();
    assert_eq!(ready["event"], "ready", "{ready}");
    let address = ready["address"].as_str().unwrap();
    assert_eq!(ran(&["healthcheck", "--listen", address]).status.code(), Some(0));
    let pid = service.id().to_string();
    assert!(Command::new("kill").args(["-TERM", &pid]).status().unwrap().success());
    assert_eq!(service.wait().unwrap().code(), Some(0));
    let rest: Vec<Value> = log.map(|line| serde_json::from_str(&line.unwrap()).unwrap()).collect();
    let events: Vec<_> = rest.iter().map(|line| line["event"].as_str().unwrap()).collect();
    assert_eq!(events, ["request", "stopping", "stopped"]);
    assert_eq!(ran(&["healthcheck", "--listen", address]).status.code(), Some(1));
}
