-- A row a job: how far its log went when it was indexed, the caller's row, and the part with its table rows.
create table job (
    id        integer not null primary key,
    job       text    not null unique,
    head_seq  integer not null,
    head_hash blob    not null check (length(head_hash) = 32),
    row       text    not null,
    part      integer not null
) strict;

-- The caller's texts of a job, apart from its row so that listing does not read them.
create table texts (
    id    integer not null primary key,
    texts text    not null
) strict;

-- Words come folded, apart by spaces; letters beyond ASCII are letters to this tokenizer, as they are.
create virtual table words using fts5 (
    c0, c1, c2, c3, c4, c5, c6,
    content = '', contentless_delete = 1, tokenize = 'ascii', prefix = '3'
);

create table part (
    number integer not null primary key,
    jobs   integer not null check (jobs >= 0)
) strict;

-- The check sum (CRC-32) of each file of a part, as it was written.
create table file (
    part integer not null,
    name text    not null,
    sum  integer not null,
    primary key (part, name)
) strict, without rowid;

-- Jobs whose rows in a part no longer count: they are in a later part, or gone.
create table gone (
    part integer not null,
    job  text    not null,
    primary key (part, job)
) strict, without rowid;

create table setting (
    key   text not null primary key,
    value text not null
) strict, without rowid;
