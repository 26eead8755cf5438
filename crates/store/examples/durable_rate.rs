//! How many changes a second are kept for good, by how many are kept at once.
//!
//! `cargo run --release -p store --example durable_rate [FOLDER]`; the folder decides which drive
//! is measured and is left as it was.

#![allow(
    clippy::disallowed_methods,
    clippy::print_stdout,
    clippy::cast_precision_loss,
    reason = "a measurement reads the clock and prints"
)]

use std::{
    env,
    error::Error,
    time::{Duration, Instant},
};

use store::{Chunk, JobId, Store};

fn main() -> Result<(), Box<dyn Error>> {
    let place = env::args_os().nth(1).unwrap_or_else(|| env::temp_dir().into_os_string());
    let folder = tempfile::tempdir_in(place)?;
    println!("changes of 400 bytes, each transaction on disk before the next one begins");
    println!("a transaction   transactions     changes/s   median ms      p99 ms");
    for together in [1_u64, 16, 64] {
        let store = Store::open(&folder.path().join(together.to_string()))?;
        let job = JobId::new("rate")?;
        store.create_job(&job, "")?;
        let mut spans: Vec<Duration> = Vec::new();
        let begun = Instant::now();
        while begun.elapsed() < Duration::from_secs(4) {
            let from = u64::try_from(spans.len())? * together;
            let chunks: Vec<Chunk> = (from..from + together).map(change).collect();
            let before = Instant::now();
            store.append(&job, &chunks)?;
            spans.push(before.elapsed());
        }
        let seconds = begun.elapsed().as_secs_f64();
        spans.sort_unstable();
        let milliseconds = |part: usize| spans[(spans.len() - 1) * part / 100].as_secs_f64() * 1e3;
        println!(
            "{together:13}   {:12}   {:11.0}   {:9.2}   {:9.2}",
            spans.len(),
            spans.len() as f64 * together as f64 / seconds,
            milliseconds(50),
            milliseconds(99),
        );
    }
    Ok(())
}

fn change(number: u64) -> Chunk {
    let mut hash = [0; 32];
    hash[..8].copy_from_slice(&number.wrapping_mul(0x9e37_79b9_7f4a_7c15).to_be_bytes());
    hash[8..16].copy_from_slice(&number.to_be_bytes());
    Chunk { hash, bytes: number.to_be_bytes().repeat(50) }
}
