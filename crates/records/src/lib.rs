//! records
