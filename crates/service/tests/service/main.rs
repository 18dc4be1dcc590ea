//! The service as its callers meet it: a real one on a free port of loopback, asked byte by byte.

mod bulk;
mod command;
mod document;
mod drain;
mod house;
mod keys;
mod problems;
mod watched;
