//! The service: one process that answers calculations over HTTP, and the same binary as a one-shot command.
//!
//! - [`command`]: what the binary does from the shell
//! - [`settings`]: what it can be told
//! - [`key`]: who may ask
//! - [`application`]: the running service, from bound to drained
//! - [`door`]: what it offers over HTTP, how it is described, how it turns away
//! - [`guard`]: what every request passes through
//! - [`routes`]: one short function per operation
//! - [`sheet`]: answers for people to read
//! - [`readiness`], [`self_test`], [`measures`], [`log`], [`clock`]: how it is watched

pub mod application;
pub mod clock;
pub mod command;
pub mod door;
pub mod guard;
pub mod key;
pub mod log;
pub mod measures;
pub mod readiness;
pub mod routes;
pub mod self_test;
pub mod settings;
pub mod sheet;
pub mod state;
