//! Log lines: one JSON object a line on standard error, whole lines only.

use std::io::Write as _;
use std::panic::PanicHookInfo;

use serde_json::{Value, json};

/// Writes one line; a log that cannot be written must not stop the service, so that a failure is let go.
pub fn write(line: &str) {
    let mut out = std::io::stderr().lock();
    let _ = out.write_all(format!("{line}\n").as_bytes());
}

/// Writes an event of the service itself.
pub fn event(name: &str, fields: Value) {
    let mut line = json!({ "at": crate::clock::now(), "event": name });
    if let (Some(line), Value::Object(fields)) = (line.as_object_mut(), fields) {
        line.extend(fields);
    }
    write(&line.to_string());
}

/// Reports panics by place only: their message could carry numbers of a recipe.
pub fn hide_panic_messages() {
    std::panic::set_hook(Box::new(|panic: &PanicHookInfo<'_>| {
        let place = panic.location().map(|place| format!("{}:{}", place.file(), place.line()));
        event("panic", json!({ "place": place.unwrap_or_default() }));
    }));
}
