-- Every job kept here. head_seq counts its changes; it is raised in the transaction that adds them.
create table job (
    id         text    not null primary key,
    summary    text    not null,
    created_ms integer not null,
    head_seq   integer not null default 0 check (head_seq >= 0)
) strict, without rowid;

-- The append-only log. hash is the change's own identity, given by the caller; seal is ours.
create table change (
    job   text    not null references job (id),
    seq   integer not null check (seq > 0),
    hash  blob    not null check (length(hash) = 32),
    seal  blob    not null check (length(seal) = 32),
    bytes blob    not null,
    primary key (job, seq),
    unique (job, hash)
) strict;

-- Every blob whose file and folder are known to be on disk.
create table blob (
    hash       text    not null primary key check (length(hash) = 64),
    size       integer not null check (size >= 0),
    created_ms integer not null
) strict, without rowid;

create table setting (
    key   text not null primary key,
    value text not null
) strict, without rowid;
