-- Invoices and credit notes: numbered from 1 without a gap in each series, never changed and never deleted. What stands on
-- one is the caller's, sealed by its SHA-256.
create table invoice (
    series         text    not null,
    number         integer not null check (number >= 1),
    job            text    not null references job (id),
    made_ms        integer not null,
    -- What is to be paid, in minor units of its currency; of a credit note, what is taken back.
    due            integer not null,
    -- The invoice that a credit note cancels.
    cancels_series text,
    cancels_number integer,
    body           blob    not null,
    seal           blob    not null check (length(seal) = 32),
    primary key (series, number),
    foreign key (cancels_series, cancels_number) references invoice (series, number),
    check ((cancels_series is null) = (cancels_number is null))
) strict, without rowid;
create unique index invoice_cancelled_once on invoice (cancels_series, cancels_number) where cancels_series is not null;
create index invoice_of_job on invoice (job);

-- What was paid on an invoice, in its currency. A slip is put right by another entry with the opposite sign.
create table payment (
    series   text    not null,
    number   integer not null,
    noted_ms integer not null,
    day      text    not null,
    amount   integer not null,
    how      text    not null,
    foreign key (series, number) references invoice (series, number)
) strict;
create index payment_of_invoice on payment (series, number);

-- What an address leads to: a job's page, or its agreement; and whether the page waits until the job's invoices are paid.
alter table client_link add column leads_to text not null default 'page' check (leads_to in ('page', 'agreement'));
alter table client_link add column after_payment integer not null default 0 check (after_payment in (0, 1));
