//! Which of several entries counts: the last one at each position.

use findings::counts_over;
use inspection::{Inspection, Reading, ReadingId};

/// The readings that count, by position: those not struck out, the last one at each place.
pub(crate) fn counting<'a>(
    inspection: &'a Inspection,
    point: &str,
    name: &str,
) -> Vec<(&'a ReadingId, &'a Reading)> {
    let mut last: Vec<(&ReadingId, &Reading)> = Vec::new();
    let of_this = inspection.readings.iter().filter(|(_, reading)| {
        reading.point.as_str() == point && reading.name == name && reading.struck_out.is_none()
    });
    for (id, reading) in of_this {
        match last.iter_mut().find(|(_, other)| other.position == reading.position) {
            Some(slot) if counts_over((id, reading), *slot) => *slot = (id, reading),
            Some(_) => {}
            None => last.push((id, reading)),
        }
    }
    last
}

/// ` at left front`, or nothing.
pub(crate) fn at_position(position: &str) -> String {
    if position.is_empty() { String::new() } else { format!(" at {}", words(position)) }
}

/// A word of the data files as people read it.
pub(crate) fn words(id: &str) -> String {
    id.replace('_', " ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_tenth_change_of_a_device_comes_after_its_ninth() {
        let reading = |entry: &str| Reading {
            point: "gas".into(),
            name: "lockup".into(),
            entry: entry.into(),
            position: String::new(),
            instrument: None,
            at: None,
            by: String::new(),
            struck_out: None,
        };
        let mut inspection = Inspection::default();
        inspection.readings.insert("0a-9".into(), reading("ninth"));
        inspection.readings.insert("0a-10".into(), reading("tenth"));
        assert_eq!(counting(&inspection, "gas", "lockup")[0].1.entry, "tenth");
    }
}
