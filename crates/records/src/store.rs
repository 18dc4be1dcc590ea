//! The opened database: one SQLite file by default, a PostgreSQL server when several replicas share the records.

use crate::fault::{Fault, Kind};
use crate::keys::Keys;
use crate::moment::Moment;
use crate::schema::{self, SchemaError};
use sqlx::any::{AnyConnectOptions, AnyPoolOptions};
use sqlx::{AnyConnection, AnyPool, Connection, Executor};
use std::fmt::Write as _;
use std::str::FromStr;
use std::time::Duration;

/// What SQLite is told on every connection: readers never wait for the writer, references hold, and what was
/// answered as kept is on the disk.
const SQLITE_HABITS: [&str; 3] =
    ["pragma journal_mode = wal", "pragma synchronous = full", "pragma foreign_keys = on"];

/// How long a request waits for a free connection before the store counts as unavailable.
const LONGEST_WAIT: Duration = Duration::from_secs(10);

/// Which engine keeps the records.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Engine {
    /// The embedded engine, one file.
    Sqlite,
    /// A PostgreSQL server.
    Postgres,
}

/// The opened database, its tables as this version of the program wants them. Cheap to clone: all clones share
/// one pool of connections.
#[derive(Clone, Debug)]
pub struct Store {
    pool: AnyPool,
    engine: Engine,
}

/// Why the store did not do what was asked.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// Nothing answers at that place, or it cannot be opened.
    #[error("the records at {place} cannot be opened: {source}")]
    Unreachable {
        /// File or server, without its password.
        place: String,
        /// What the engine said.
        source: sqlx::Error,
    },
    /// The tables do not fit this version of the program.
    #[error(transparent)]
    Schema(#[from] SchemaError),
    /// The engine failed while it was at work.
    #[error("the records failed while {doing}: {source}")]
    Failed {
        /// What was being done, to be read after "while".
        doing: &'static str,
        /// What the engine said.
        source: sqlx::Error,
    },
}

impl Store {
    /// Opens the records and brings their tables up to date.
    ///
    /// `place` is a PostgreSQL address (`postgres://user@host/name`) or else the path of a SQLite file, which is
    /// made when it is not there; `now` is noted beside each step of the schema that is taken.
    ///
    /// # Errors
    /// [`StoreError::Unreachable`] when nothing can be opened there; [`StoreError::Schema`] when the tables were
    /// written by a newer or an altered program.
    pub async fn open(place: &str, now: Moment) -> Result<Self, StoreError> {
        sqlx::any::install_default_drivers();
        let engine = Engine::of(place);
        let unreachable = |source| StoreError::Unreachable { place: without_password(place), source };
        let address = match engine {
            Engine::Postgres => place.to_owned(),
            Engine::Sqlite => sqlite_address(place).map_err(|fault| unreachable(sqlx::Error::Io(fault)))?,
        };
        let options = AnyConnectOptions::from_str(&address).map_err(unreachable)?;
        // A pool keeps trying a refused connection until it times out; one connection of its own tells at once.
        let probe = AnyConnection::connect_with(&options).await.map_err(unreachable)?;
        probe.close().await.map_err(unreachable)?;
        let pool = pool_options(engine).connect_with(options).await.map_err(unreachable)?;
        let store = Self { pool, engine };
        schema::bring_up_to_date(&store, now).await?;
        Ok(store)
    }

    /// The keys that open the service.
    #[must_use]
    pub fn keys(&self) -> Keys<'_> {
        Keys::of(self)
    }

    /// Which engine keeps these records.
    #[must_use]
    pub fn engine(&self) -> Engine {
        self.engine
    }

    /// Whether the database answers just now.
    ///
    /// # Errors
    /// [`StoreError::Failed`] when it does not.
    pub async fn ping(&self) -> Result<(), StoreError> {
        let asked = sqlx::query("select 1").execute(&self.pool).await;
        asked.map(|_| ()).map_err(|source| StoreError::Failed { doing: "asking whether they answer", source })
    }

    /// Lets go of every connection after what is under way.
    pub async fn close(&self) {
        self.pool.close().await;
    }

    pub(crate) fn pool(&self) -> &AnyPool {
        &self.pool
    }
}

impl Engine {
    fn of(place: &str) -> Self {
        let server = ["postgres://", "postgresql://"].iter().any(|scheme| place.starts_with(scheme));
        if server { Self::Postgres } else { Self::Sqlite }
    }
}

fn pool_options(engine: Engine) -> AnyPoolOptions {
    let options = AnyPoolOptions::new().max_connections(8).acquire_timeout(LONGEST_WAIT);
    match engine {
        Engine::Postgres => options,
        // A pragma reaches one connection only, so each new one hears it.
        Engine::Sqlite => options.after_connect(|connection, _| Box::pin(teach_habits(connection))),
    }
}

async fn teach_habits(connection: &mut AnyConnection) -> Result<(), sqlx::Error> {
    for habit in SQLITE_HABITS {
        connection.execute(habit).await?;
    }
    Ok(())
}

/// The address of a SQLite file; every byte that an address could read as its own sign is escaped.
fn sqlite_address(path: &str) -> std::io::Result<String> {
    let whole = std::path::absolute(path)?;
    let mut address = String::from("sqlite://");
    for &byte in whole.as_os_str().as_encoded_bytes() {
        if byte.is_ascii_alphanumeric() || b"/-_.".contains(&byte) {
            address.push(char::from(byte));
        } else {
            // Writing to a String cannot fail.
            let _ = write!(address, "%{byte:02X}");
        }
    }
    address.push_str("?mode=rwc");
    Ok(address)
}

/// The place as it may stand in a message: a server's address without its password.
fn without_password(place: &str) -> String {
    let Some((scheme, rest)) = place.split_once("://") else { return place.to_owned() };
    let Some((identity, host)) = rest.rsplit_once('@') else { return place.to_owned() };
    let user = identity.split_once(':').map_or(identity, |(user, _)| user);
    format!("{scheme}://{user}@{host}")
}

impl Fault for StoreError {
    fn code(&self) -> &'static str {
        match self {
            Self::Unreachable { .. } => "records_unreachable",
            Self::Schema(fault) => fault.code(),
            Self::Failed { .. } => "records_failed",
        }
    }

    fn kind(&self) -> Kind {
        match self {
            Self::Unreachable { .. } | Self::Failed { .. } => Kind::Unavailable,
            Self::Schema(fault) => fault.kind(),
        }
    }

    fn mend(&self) -> String {
        match self {
            Self::Unreachable { .. } => {
                "name a file whose folder exists and may be written, or a PostgreSQL server that answers"
                    .to_owned()
            }
            Self::Schema(fault) => fault.mend(),
            Self::Failed { .. } => "try again; if it stays, look at the database and its disk".to_owned(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use sqlx::Row;

    #[test]
    fn a_password_never_stands_in_a_message() {
        assert_eq!(
            without_password("postgres://maker:p@ss:word@db.test:5432/w"),
            "postgres://maker@db.test:5432/w"
        );
        assert_eq!(without_password("postgres://db.test/w"), "postgres://db.test/w");
        assert_eq!(without_password("/var/lib/springwright.db"), "/var/lib/springwright.db");
    }

    #[test]
    fn the_engine_is_read_from_the_place() {
        assert_eq!(Engine::of("postgresql://db.test/w"), Engine::Postgres);
        assert_eq!(Engine::of("postgres.db"), Engine::Sqlite);
    }

    /// The values are SQLite's own for these pragmas: 2 is FULL, 1 is on.
    #[tokio::test]
    async fn every_sqlite_connection_has_its_habits() {
        let folder = tempfile::tempdir().unwrap();
        let now = Moment::read("2026-03-01T08:00:00Z").unwrap();
        let store = Store::open(folder.path().join("r.db").to_str().unwrap(), now).await.unwrap();
        let mut held = Vec::new();
        for _ in 0..3 {
            let mut connection = store.pool.acquire().await.unwrap();
            let row = connection.fetch_one("pragma journal_mode").await.unwrap();
            assert_eq!(row.get::<String, _>(0), "wal");
            for (pragma, value) in [("pragma synchronous", 2), ("pragma foreign_keys", 1)] {
                let row = connection.fetch_one(pragma).await.unwrap();
                assert_eq!(row.get::<i64, _>(0), value, "{pragma}");
            }
            held.push(connection);
        }
    }

    #[test]
    fn signs_of_an_address_are_escaped_in_a_path() {
        assert_eq!(
            sqlite_address("/a b/50%?#ü.db").unwrap(),
            "sqlite:///a%20b/50%25%3F%23%C3%BC.db?mode=rwc"
        );
    }
}
