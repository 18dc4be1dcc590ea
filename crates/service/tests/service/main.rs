//! The service as its callers meet it: a real one on a free port of loopback, asked byte by byte.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod bulk;
mod command;
mod document;
mod drain;
mod house;
mod keys;
mod problems;
mod watched;
