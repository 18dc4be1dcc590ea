//! contract
