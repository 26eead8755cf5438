//! Progress of long work: a bar on a terminal, nothing in a file or a pipe.

use std::io::IsTerminal;

use indicatif::{ProgressBar, ProgressStyle};

/// A bar that counts to `length`; hidden where standard error is no terminal.
pub(crate) fn bar(length: usize, what: &str) -> ProgressBar {
    if !std::io::stderr().is_terminal() {
        return ProgressBar::hidden();
    }
    let bar = ProgressBar::new(length.try_into().unwrap_or(u64::MAX));
    // The template is fixed; a faulty one would leave the plain bar.
    if let Ok(style) = ProgressStyle::with_template("{msg} {wide_bar} {pos}/{len} {eta}") {
        bar.set_style(style);
    }
    bar.set_message(what.to_owned());
    bar
}

/// Moves the bar to where the store is.
pub(crate) fn show(bar: &ProgressBar, at: store::Progress) {
    bar.set_length(at.total);
    bar.set_position(at.done);
}
