-- Addresses at which a client reads a job's page: found by the SHA-256 of the secret in the address, which
-- is kept nowhere. What is shown is what was given when the link was made.
create table client_link (
    hash       blob    not null primary key check (length(hash) = 32),
    job        text    not null references job (id),
    made_ms    integer not null,
    expires_ms integer not null,
    revoked_ms integer
) strict, without rowid;

create table client_file (
    link       blob not null references client_link (hash),
    name       text not null,
    media_type text not null,
    blob       text not null check (length(blob) = 64),
    primary key (link, name)
) strict, without rowid;

-- When the page was opened; by whom is not asked.
create table client_view (
    link  blob    not null references client_link (hash),
    at_ms integer not null
) strict;
create index client_view_of_link on client_view (link, at_ms);
