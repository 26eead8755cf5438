//! `nearside`: the one native program, from a new job to a finished report.
#![allow(
    clippy::disallowed_methods,
    reason = "this crate is the edge: it reads files, the clock and the environment"
)]
#![allow(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a command line program speaks on standard output and standard error"
)]

mod arguments;
mod bags;
mod commands;
mod counting;
mod data_folder;
mod failure;
mod holdings;
mod json;
mod live;
mod office;
mod open_job;
mod other_jobs;
mod photos;
mod progress;
mod report_pages;
mod sentences;
mod sheet;
mod speaking;
mod today;
mod words;

use clap::Parser;

/// Judging and typesetting ask for much small memory, and the system's own allocator takes a third of their time.
#[global_allocator]
static MEMORY: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> std::process::ExitCode {
    let arguments = match arguments::Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(error) => {
            let code = if error.use_stderr() { 2 } else { 0 };
            // A closed pipe behind `--help | head` is not worth a message.
            error.print().ok();
            return std::process::ExitCode::from(code);
        }
    };
    match commands::run(arguments) {
        Ok(()) => std::process::ExitCode::SUCCESS,
        Err(failure) => failure.report(),
    }
}
