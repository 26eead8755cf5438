//! `bench`: measures what the project promises to be quick, and compares the browser's answer with the desk's.
//!
//! `cargo xtask bench` and `cargo xtask wasm-check` build and call it; by hand it is seldom wanted.
#![allow(
    clippy::disallowed_methods,
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "this crate is the edge: it reads files and the clock and talks to a person"
)]

#[cfg(not(target_arch = "wasm32"))]
mod native;

/// The same as in `nearside`, so that what is timed is what runs there.
#[cfg(all(feature = "archive", not(target_arch = "wasm32")))]
#[global_allocator]
static MEMORY: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> std::process::ExitCode {
    #[cfg(not(target_arch = "wasm32"))]
    return native::main();
    #[cfg(target_arch = "wasm32")]
    std::process::ExitCode::FAILURE
}
