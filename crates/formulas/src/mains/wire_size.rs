//! Gauges of copper wire as people write them.

use crate::Problem;

/// A gauge as the tables spell it: `14`, `14 AWG`, `#14`, `2/0`.
pub(super) fn gauge<'a>(name: &str, text: &'a str, known: &[&str]) -> Result<&'a str, Problem> {
    let upper_end = text.len().saturating_sub(3);
    let plain = match text.get(upper_end..) {
        Some(end) if end.eq_ignore_ascii_case("awg") => &text[..upper_end],
        _ => text,
    };
    let plain = plain.trim().trim_start_matches('#').trim_start_matches("AWG").trim();
    if known.contains(&plain) {
        return Ok(plain);
    }
    Err(Problem::input(
        name,
        format!("`{text}` is not accepted; accepted gauges of copper wire: {}", known.join(", ")),
    ))
}
