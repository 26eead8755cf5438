-- The SHA-256 of what else stands in the row; and for each table how many rows it has, and the exclusive or of their seals.
-- A row that rotted, and one that is gone, are noticed by it.
alter table job add column row_seal blob;
alter table blob add column row_seal blob;
alter table setting add column row_seal blob;
alter table device add column row_seal blob;
alter table pairing_code add column row_seal blob;
alter table job_blob add column row_seal blob;
alter table client_link add column row_seal blob;
alter table client_file add column row_seal blob;
alter table client_view add column row_seal blob;
alter table invoice add column row_seal blob;
alter table payment add column row_seal blob;
alter table sealed_file add column row_seal blob;

create table tally (
    of    text    not null primary key,
    count integer not null,
    mix   blob    not null
) strict, without rowid;
