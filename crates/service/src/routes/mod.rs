//! The routes. Each decodes, makes one call, encodes.

pub mod bulk;
pub mod calculation;
pub mod document;
pub mod health;
pub mod metrics;
pub mod pages;
pub mod salts;
pub mod version;
