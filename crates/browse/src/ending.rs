//! No run may hang: after its time, everything that it started is ended, and the run with it.

use std::{
    process::Command,
    sync::{Mutex, MutexGuard, PoisonError},
    thread,
    time::Duration,
};

/// The processes under way: servers, drivers and browsers.
static STARTED: Mutex<Vec<u32>> = Mutex::new(Vec::new());

fn started() -> MutexGuard<'static, Vec<u32>> {
    STARTED.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Notes a process.
pub(crate) fn note(process: u32) {
    started().push(process);
}

/// Strikes a process that has ended.
pub(crate) fn forget(process: u32) {
    started().retain(|one| *one != process);
}

/// Ends the run after so many minutes, whatever it is doing.
pub(crate) fn end_after(minutes: u64) {
    thread::spawn(move || {
        thread::sleep(Duration::from_secs(60 * minutes));
        let mut kill = Command::new("kill");
        kill.arg("-KILL").args(started().iter().map(u32::to_string));
        drop(kill.status());
        eprintln!("\nbrowse: not done after {minutes} minutes; the check named last was under way");
        #[allow(clippy::exit, reason = "the checks stand still: nobody would hear of an error")]
        std::process::exit(1);
    });
}

#[cfg(test)]
mod tests {
    use super::{forget, note, started};

    #[test]
    fn a_process_that_has_ended_is_not_ended_again() {
        note(7);
        note(8);
        forget(7);
        assert_eq!(*started(), [8]);
    }
}
