//! What must outlast a Springwright process, kept in one SQLite file or in a PostgreSQL server.
//!
//! The crate keeps things and gives them back; it computes no chemistry and speaks no HTTP. The same SQL runs on
//! both engines, and time never enters by itself: the caller says when it is.
//!
//! - [`moment`]: a point in time as records write it
//! - [`store`]: the opened database
//! - [`schema`]: how its tables grow from one version of the program to the next
//! - [`keys`]: the keys that open the service
//!
//! ```
//! # tokio::runtime::Builder::new_current_thread().enable_all().build()?.block_on(async {
//! use springwright_records::{keys::Scope, moment::Moment, store::Store};
//!
//! # let folder = tempfile::tempdir()?;
//! # let path = folder.path().join("springwright.db");
//! # let path = path.to_str().ok_or("the path is no UTF-8")?;
//! let now = Moment::read("2026-03-01T08:00:00Z")?;
//! let store = Store::open(path, now).await?;
//! let issued = store.keys().issue("filling line 2", Scope::Calculate, None, now).await?;
//! let key = store.keys().verify(&issued.secret, now).await?.ok_or("the key just issued is known")?;
//! assert_eq!(key.label, "filling line 2");
//! # store.close().await;
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! # })?;
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub mod fault;

pub mod moment;

pub mod store;

pub mod schema;

pub mod keys;
