//! The keys that open the service. A secret is 256 random bits, shown once; the store keeps only its SHA-256,
//! which is enough because nobody can try out 2^256 secrets.

use crate::fault::{Fault, Kind};
use crate::moment::{Moment, MomentError};
use crate::schema::digest;
use crate::store::{Store, StoreError};
use sqlx::Row;
use sqlx::any::AnyRow;
use subtle::ConstantTimeEq;

/// What every secret begins with, so that one that leaked is recognised for what it is.
const MARK: &str = "springwright";

/// The longest label, in characters.
const LONGEST_LABEL: usize = 100;

/// What a key opens. Each scope includes those before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Scope {
    /// Calculations and reference data.
    Calculate,
    /// Also reading and writing records.
    Record,
    /// Also issuing and revoking keys.
    Administer,
}

/// A key as the store knows it; never its secret.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Key {
    /// Its public name, 16 hexadecimal digits.
    pub id: String,
    /// Whom or what it was issued to, in the words of who issued it.
    pub label: String,
    /// What it opens.
    pub scope: Scope,
    /// When it was issued.
    pub issued_at: Moment,
    /// From when on it opens nothing; none: it does not expire.
    pub expires_at: Option<Moment>,
    /// When it was revoked; none: it was not.
    pub revoked_at: Option<Moment>,
}

/// A key just issued, with the only showing of its secret.
#[derive(Clone)]
pub struct Issued {
    /// The key's public name.
    pub id: String,
    /// What the caller must keep: it cannot be shown again.
    pub secret: String,
}

/// Why a key was not issued, revoked or found.
#[derive(Debug, thiserror::Error)]
pub enum KeyError {
    /// A label must say something, in one line.
    #[error("the label of a key must have 1 to {LONGEST_LABEL} characters and no control characters")]
    Label,
    /// A key that would open nothing from the start.
    #[error("the key would expire at {expires_at}, which is not after {now}")]
    AlreadyExpired {
        /// The end asked for.
        expires_at: Moment,
        /// The time of asking.
        now: Moment,
    },
    /// No key has that id.
    #[error("no key has the id \"{id}\"")]
    Unknown {
        /// The id as given.
        id: String,
    },
    /// No scope has that name.
    #[error("\"{scope}\" is no scope of a key")]
    UnknownScope {
        /// The name as given.
        scope: String,
    },
    /// A row that no version of the program writes.
    #[error("the record of the key \"{id}\" is damaged: {what}")]
    Damaged {
        /// The key's id.
        id: String,
        /// Which part of it cannot be read.
        what: String,
    },
    /// The system gave no random bits.
    #[error("the system gave no random bits")]
    NoRandomness,
    /// The store failed.
    #[error(transparent)]
    Store(#[from] StoreError),
}

/// The keys of one store.
#[derive(Clone, Copy, Debug)]
pub struct Keys<'a> {
    store: &'a Store,
}

impl<'a> Keys<'a> {
    pub(crate) fn of(store: &'a Store) -> Self {
        Self { store }
    }

    /// Issues a key; its secret is in the answer and nowhere else.
    ///
    /// # Errors
    /// [`KeyError::Label`] for an empty, long or many-line label; [`KeyError::AlreadyExpired`] when it would expire
    /// at or before `now`; else what the store or the system says.
    pub async fn issue(
        &self,
        label: &str,
        scope: Scope,
        expires_at: Option<Moment>,
        now: Moment,
    ) -> Result<Issued, KeyError> {
        let length = label.chars().count();
        if !(1..=LONGEST_LABEL).contains(&length)
            || label.trim().is_empty()
            || label.contains(char::is_control)
        {
            return Err(KeyError::Label);
        }
        if let Some(expires_at) = expires_at.filter(|end| *end <= now) {
            return Err(KeyError::AlreadyExpired { expires_at, now });
        }
        let id = random_hex::<8>()?;
        let secret = format!("{MARK}_{id}_{}", random_hex::<32>()?);
        sqlx::query(
            "insert into keys (id, label, scope, digest, issued_at, expires_at) values ($1, $2, $3, $4, $5, $6)",
        )
        .bind(&id)
        .bind(label)
        .bind(scope.name())
        .bind(digest(&secret))
        .bind(now.to_string())
        .bind(expires_at.map(|end| end.to_string()))
        .execute(self.store.pool())
        .await
        .map_err(failed("issuing a key"))?;
        Ok(Issued { id, secret })
    }

    /// The key that `secret` belongs to; none when no key has it, or it is revoked, or expired at `now`.
    ///
    /// # Errors
    /// [`KeyError::Damaged`] when the key's record cannot be read; else what the store says.
    pub async fn verify(&self, secret: &str, now: Moment) -> Result<Option<Key>, KeyError> {
        let Some(id) = id_in(secret) else { return Ok(None) };
        let Some((key, kept)) = self.find(id).await? else { return Ok(None) };
        let same = bool::from(digest(secret).as_bytes().ct_eq(kept.as_bytes()));
        let open = key.revoked_at.is_none() && key.expires_at.is_none_or(|end| now < end);
        Ok((same && open).then_some(key))
    }

    /// Revokes a key from `now` on and answers it; one revoked before keeps its first time.
    ///
    /// # Errors
    /// [`KeyError::Unknown`] when no key has that id; else what the store says.
    pub async fn revoke(&self, id: &str, now: Moment) -> Result<Key, KeyError> {
        sqlx::query("update keys set revoked_at = $1 where id = $2 and revoked_at is null")
            .bind(now.to_string())
            .bind(id)
            .execute(self.store.pool())
            .await
            .map_err(failed("revoking a key"))?;
        let found = self.find(id).await?;
        found.map(|(key, _)| key).ok_or_else(|| KeyError::Unknown { id: id.to_owned() })
    }

    /// Every key ever issued, oldest first, revoked and expired ones too.
    ///
    /// # Errors
    /// [`KeyError::Damaged`] when a record cannot be read; else what the store says.
    pub async fn list(&self) -> Result<Vec<Key>, KeyError> {
        let rows = sqlx::query(
            "select id, label, scope, issued_at, expires_at, revoked_at, digest from keys order by issued_at, id",
        )
        .fetch_all(self.store.pool())
        .await
        .map_err(failed("listing the keys"))?;
        rows.iter().map(|row| read_row(row).map(|(key, _)| key)).collect()
    }

    async fn find(&self, id: &str) -> Result<Option<(Key, String)>, KeyError> {
        let row = sqlx::query(
            "select id, label, scope, issued_at, expires_at, revoked_at, digest from keys where id = $1",
        )
        .bind(id)
        .fetch_optional(self.store.pool())
        .await
        .map_err(failed("looking up a key"))?;
        row.as_ref().map(read_row).transpose()
    }
}

/// A key and the digest of its secret from a row of the seven columns in the order asked for above.
fn read_row(row: &AnyRow) -> Result<(Key, String), KeyError> {
    let text = |column: usize| row.try_get::<String, _>(column).map_err(failed("reading a key"));
    let end = |column: usize| row.try_get::<Option<String>, _>(column).map_err(failed("reading a key"));
    let id = text(0)?;
    let damaged = |what: String| KeyError::Damaged { id: id.clone(), what };
    let moment = |text: &str| Moment::read(text).map_err(|fault: MomentError| damaged(fault.to_string()));
    let key = Key {
        label: text(1)?,
        scope: Scope::read(&text(2)?).map_err(|fault| damaged(fault.to_string()))?,
        issued_at: moment(&text(3)?)?,
        expires_at: end(4)?.as_deref().map(moment).transpose()?,
        revoked_at: end(5)?.as_deref().map(moment).transpose()?,
        id: id.clone(),
    };
    Ok((key, text(6)?))
}

/// The id inside a secret of our form, `springwright_ID_BITS`.
fn id_in(secret: &str) -> Option<&str> {
    let (id, bits) = secret.strip_prefix(MARK)?.strip_prefix('_')?.split_once('_')?;
    let hex = |text: &str| text.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f'));
    (id.len() == 16 && bits.len() == 64 && hex(id) && hex(bits)).then_some(id)
}

fn random_hex<const BYTES: usize>() -> Result<String, KeyError> {
    let mut bits = [0_u8; BYTES];
    getrandom::fill(&mut bits).map_err(|_| KeyError::NoRandomness)?;
    Ok(bits.iter().map(|byte| format!("{byte:02x}")).collect())
}

fn failed(doing: &'static str) -> impl Fn(sqlx::Error) -> KeyError {
    move |source| KeyError::Store(StoreError::Failed { doing, source })
}

impl Scope {
    /// Every scope, the narrowest first.
    pub const ALL: [Self; 3] = [Self::Calculate, Self::Record, Self::Administer];

    /// The scope of that name.
    ///
    /// # Errors
    /// [`KeyError::UnknownScope`] when there is none.
    pub fn read(name: &str) -> Result<Self, KeyError> {
        let found = Self::ALL.into_iter().find(|scope| scope.name() == name);
        found.ok_or_else(|| KeyError::UnknownScope { scope: name.to_owned() })
    }

    /// Its name as people write it and records keep it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Calculate => "calculate",
            Self::Record => "record",
            Self::Administer => "administer",
        }
    }
}

/// Shows the id only: a secret must not slip into a log through a debug print.
impl core::fmt::Debug for Issued {
    fn fmt(&self, out: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        out.debug_struct("Issued").field("id", &self.id).finish_non_exhaustive()
    }
}

impl Fault for KeyError {
    fn code(&self) -> &'static str {
        match self {
            Self::Label => "key_label",
            Self::AlreadyExpired { .. } => "key_already_expired",
            Self::Unknown { .. } => "key_unknown",
            Self::UnknownScope { .. } => "key_scope_unknown",
            Self::Damaged { .. } => "key_damaged",
            Self::NoRandomness => "randomness_unavailable",
            Self::Store(fault) => fault.code(),
        }
    }

    fn kind(&self) -> Kind {
        match self {
            Self::Label | Self::AlreadyExpired { .. } => Kind::OutOfRange,
            Self::Unknown { .. } | Self::UnknownScope { .. } => Kind::Unknown,
            Self::Damaged { .. } => Kind::Incompatible,
            Self::NoRandomness => Kind::Unavailable,
            Self::Store(fault) => fault.kind(),
        }
    }

    fn mend(&self) -> String {
        match self {
            Self::Label => "say in a few words whom or what the key is for".to_owned(),
            Self::AlreadyExpired { .. } => "name a later end, or none".to_owned(),
            Self::Unknown { .. } => "list the keys and take one of their ids".to_owned(),
            Self::UnknownScope { .. } => {
                format!("use one of {}", Self::names())
            }
            Self::Damaged { .. } => "restore a backup, or revoke this key and issue another".to_owned(),
            Self::NoRandomness => "try again; if it stays, look at the system's random device".to_owned(),
            Self::Store(fault) => fault.mend(),
        }
    }
}

impl KeyError {
    fn names() -> String {
        Scope::ALL.map(Scope::name).join(", ")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_secret_of_our_form_has_an_id() {
        let bits = "0".repeat(64);
        assert_eq!(id_in(&format!("springwright_0123456789abcdef_{bits}")), Some("0123456789abcdef"));
        for wrong in [
            String::new(),
            format!("springwright_0123456789abcde_{bits}"),
            format!("springwright_0123456789ABCDEF_{bits}"),
            format!("springwright_0123456789abcdef_{bits}0"),
            format!("other_0123456789abcdef_{bits}"),
            format!("springwright_0123456789abcdef-{bits}"),
        ] {
            assert_eq!(id_in(&wrong), None, "{wrong}");
        }
    }

    #[test]
    fn a_secret_does_not_show_in_a_debug_print() {
        let issued = Issued { id: "0123".to_owned(), secret: "hidden".to_owned() };
        assert!(!format!("{issued:?}").contains("hidden"));
    }

    #[test]
    fn scopes_are_read_by_name_and_each_includes_those_before_it() {
        for scope in Scope::ALL {
            assert_eq!(Scope::read(scope.name()).unwrap(), scope);
        }
        assert!(Scope::ALL.is_sorted());
        assert_eq!(Scope::read("everything").unwrap_err().code(), "key_scope_unknown");
    }
}
