-- Devices that may speak to the server. key is what a request proves; it is looked up, never shown.
create table device (
    id         text    not null primary key,
    name       text    not null,
    person     text    not null,
    key        blob    not null unique,
    added_ms   integer not null,
    removed_ms integer
) strict, without rowid;

-- One-time codes for pairing, by the SHA-256 of the code.
create table pairing_code (
    hash       blob    not null primary key check (length(hash) = 32),
    made_ms    integer not null,
    expires_ms integer not null,
    used_ms    integer,
    device     text references device (id)
) strict, without rowid;

-- Which job a blob was given for.
create table job_blob (
    job  text not null references job (id),
    hash text not null check (length(hash) = 64),
    primary key (job, hash)
) strict, without rowid;

-- The hashes of a log in order, without its bytes: what a cursor's digest is compared with.
create index change_order on change (job, seq, hash);
