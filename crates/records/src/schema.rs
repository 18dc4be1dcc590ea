//! How the tables grow: numbered steps of SQL, each taken once, in order, in one transaction, its digest noted. A
//! database written by a newer program, or by steps that read otherwise than ours, is refused rather than guessed at.

use crate::fault::{Fault, Kind};
use crate::moment::Moment;
use crate::store::{Engine, Store, StoreError};
use sha2::{Digest, Sha256};
use sqlx::{Any, Executor, Row, Transaction};

/// The steps in order; step n stands at n − 1. A released step is never edited, only followed by another.
const STEPS: [&str; 1] = [include_str!("../schema/0001_keys.sql")];

/// Where the steps taken are noted.
const LEDGER: &str = "create table if not exists schema_steps (
    step bigint primary key, digest text not null, taken_at text not null)";

/// A number of our own by which replicas that start together wait for each other on PostgreSQL.
const TURN: &str = "select pg_advisory_xact_lock(5718374410)::text";

/// Why the tables do not fit.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SchemaError {
    /// The database has steps that this program does not know.
    #[error(
        "the records were written by a newer version: they stand at step {found}, this version knows {known}"
    )]
    Newer {
        /// The last step noted in the database.
        found: i64,
        /// The last step of this program.
        known: i64,
    },
    /// A step noted in the database reads otherwise here.
    #[error("step {step} of the records was taken with another text than the one of this version")]
    Altered {
        /// The step.
        step: i64,
    },
}

/// Takes every step that has not been taken.
pub(crate) async fn bring_up_to_date(store: &Store, now: Moment) -> Result<(), StoreError> {
    let failed = |source| StoreError::Failed { doing: "bringing their tables up to date", source };
    let mut turn = begin_alone(store).await.map_err(failed)?;
    turn.execute(LEDGER).await.map_err(failed)?;
    let taken = steps_taken(&mut turn).await.map_err(failed)?;
    judge(&taken, &STEPS)?;
    for (step, text) in (1_i64..).zip(STEPS).skip(taken.len()) {
        sqlx::raw_sql(text).execute(&mut *turn).await.map_err(failed)?;
        sqlx::query("insert into schema_steps (step, digest, taken_at) values ($1, $2, $3)")
            .bind(step)
            .bind(digest(text))
            .bind(now.to_string())
            .execute(&mut *turn)
            .await
            .map_err(failed)?;
    }
    turn.commit().await.map_err(failed)
}

/// A transaction that no other process shares, so that two programs never take a step twice.
async fn begin_alone(store: &Store) -> Result<Transaction<'static, Any>, sqlx::Error> {
    match store.engine() {
        Engine::Sqlite => store.pool().begin_with("begin immediate").await,
        Engine::Postgres => {
            let mut turn = store.pool().begin().await?;
            turn.execute(TURN).await?;
            Ok(turn)
        }
    }
}

async fn steps_taken(turn: &mut Transaction<'static, Any>) -> Result<Vec<(i64, String)>, sqlx::Error> {
    let rows = turn.fetch_all("select step, digest from schema_steps order by step").await?;
    rows.iter().map(|row| Ok((row.try_get(0)?, row.try_get(1)?))).collect()
}

fn judge(taken: &[(i64, String)], steps: &[&str]) -> Result<(), SchemaError> {
    let found = taken.last().map_or(0, |(step, _)| *step);
    let known = steps.len() as i64;
    if found > known {
        return Err(SchemaError::Newer { found, known });
    }
    for ((expected, text), (step, noted)) in (1_i64..).zip(steps).zip(taken) {
        if expected != *step || digest(text) != *noted {
            return Err(SchemaError::Altered { step: *step });
        }
    }
    Ok(())
}

/// SHA-256 in hexadecimal.
pub(crate) fn digest(text: &str) -> String {
    Sha256::digest(text).iter().map(|byte| format!("{byte:02x}")).collect()
}

impl Fault for SchemaError {
    fn code(&self) -> &'static str {
        match self {
            Self::Newer { .. } => "records_newer",
            Self::Altered { .. } => "records_altered",
        }
    }

    fn kind(&self) -> Kind {
        Kind::Incompatible
    }

    fn mend(&self) -> String {
        match self {
            Self::Newer { .. } => "run the newer version, or restore a backup made before it".to_owned(),
            Self::Altered { .. } => "run the version that wrote these records".to_owned(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn noted(texts: &[&str]) -> Vec<(i64, String)> {
        (1..).zip(texts).map(|(step, text)| (step, digest(text))).collect()
    }

    /// FIPS 180-4's own one-block example, "abc".
    #[test]
    fn the_digest_is_sha_256() {
        assert_eq!(digest("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }

    #[test]
    fn a_start_of_our_steps_fits() {
        assert_eq!(judge(&[], &["a", "b"]), Ok(()));
        assert_eq!(judge(&noted(&["a"]), &["a", "b"]), Ok(()));
        assert_eq!(judge(&noted(&["a", "b"]), &["a", "b"]), Ok(()));
    }

    #[test]
    fn a_newer_or_altered_database_is_refused() {
        assert_eq!(judge(&noted(&["a", "b"]), &["a"]), Err(SchemaError::Newer { found: 2, known: 1 }));
        assert_eq!(judge(&noted(&["a", "x"]), &["a", "b"]), Err(SchemaError::Altered { step: 2 }));
        assert_eq!(judge(&noted(&["a", "b"])[1..], &["a", "b"]), Err(SchemaError::Altered { step: 2 }));
    }
}
