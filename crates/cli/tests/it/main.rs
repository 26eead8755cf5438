//! The command line from outside: the built program, run in folders of its own.
#![allow(
    clippy::disallowed_methods,
    clippy::unwrap_used,
    reason = "tests run programs and read files, and may stop where something cannot be"
)]

mod again;
mod agreement;
mod archive;

// The same independent service that the tests of `bag` ask.
#[path = "../../../bag/tests/it/authority.rs"]
mod authority;
mod backup;
mod bag_page;
mod bags;
mod compare;
mod corrections;
mod cut_off;
mod desk;
mod desk_release;
mod doctor;
mod faulty;
mod fill;
mod finding_desk;
mod formulas;
mod help;
mod hostile;
mod invoices;
mod keeping;
mod languages;
mod names;
mod phone;
mod program;
mod readings;
mod refusals;
mod report;
mod schedule;
mod serve;
mod stop_work;
mod time_stamps;
mod why;
