-- Files of other parts of the program that lie beside the store (keys, certificates, sentences), by their SHA-256 when the
-- program last wrote them; in a backup, every file that was copied along with it.
create table sealed_file (
    name      text    not null primary key,
    sha256    text    not null check (length(sha256) = 64),
    -- Whether its owner alone may read it.
    secret    integer not null check (secret in (0, 1)),
    sealed_ms integer not null
) strict, without rowid;
