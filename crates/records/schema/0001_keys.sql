-- The keys that open the service. Only the digest of a secret is kept.
create table keys (
    id text primary key,
    label text not null,
    scope text not null,
    digest text not null,
    issued_at text not null,
    expires_at text,
    revoked_at text
);
