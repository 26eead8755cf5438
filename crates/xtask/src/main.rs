//! Project chores: `cargo xtask <chore>`. Also the home of the tests of the code base itself, in `tidy`.
#![allow(
    clippy::disallowed_methods,
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "this crate is the edge: a tool that reads files, runs programs and talks to a person"
)]

mod arguments;
mod bag_check;
mod bench;
mod browser;
mod ci;
mod demo;
mod docs;
mod needs;
mod python;
mod reference;
mod steps;
#[cfg(test)]
mod tidy;
mod wasm;
mod web;
mod web_test;
mod workspace;

use arguments::Arguments;
use std::process::ExitCode;

/// What a chore answers: nothing, or one sentence (perhaps with more lines below it) saying why it stopped.
type Outcome<T = ()> = Result<T, String>;

const USAGE: &str = "\
Project chores: cargo xtask <chore>

  demo [--into DIR]            build `nearside`, make the invented job and its report (DIR: ./demo-job)
  web [--quick | --lint]       build the app for the browser into target/app
  web-test [--quick | --built]  the app in a real browser, against a real server
  ci [--from STEP | --only STEP]
                               every check there is, in order; the same as continuous integration
  docs                         draw the handbook's pictures again
  reference [--check]          compute the values in reference/ again (--check: compare, change nothing)
  bench [--only SECTION]       time what must be quick, beside outside libraries
  bag-check                    the demonstration's bag and reports before other people's programs
  wasm-check                   build the core crates as WebAssembly; the same answer as natively

`cargo xtask <chore> --help` says more about one of them.";

fn main() -> ExitCode {
    let mut words = std::env::args().skip(1);
    let chore = words.next();
    let arguments = Arguments::new(words);
    let outcome = match chore.as_deref() {
        None | Some("--help" | "-h" | "help") => {
            println!("{USAGE}");
            return ExitCode::SUCCESS;
        }
        Some("demo") => demo::run(arguments),
        Some("ci") => ci::run(arguments),
        Some("docs") => docs::run(arguments),
        Some("reference") => reference::run(arguments),
        Some("bench") => bench::run(arguments),
        Some("web") => web::run(arguments),
        Some("bag-check") => bag_check::run(arguments),
        Some("web-test") => web_test::run(arguments),
        Some("wasm-check") => wasm::run(arguments),
        Some(other) => Err(format!("there is no chore `{other}`\n\n{USAGE}")),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("\nxtask: {why}");
            ExitCode::FAILURE
        }
    }
}
