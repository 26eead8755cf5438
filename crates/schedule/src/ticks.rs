//! Time on a visit's clock, counted in whole half minutes: no fraction, so the same plan everywhere.

/// A time or a length of time in half minutes. Times count from the start of the visit.
pub type Ticks = i32;

/// Half minutes in a minute.
pub const TICKS_PER_MINUTE: Ticks = 2;

/// A time so late that it is never reached; sums of two of them still fit.
pub(crate) const NEVER: Ticks = 1 << 28;

/// A length of time as people read it: `12 min`, `2.5 min`, `1 h 05 min`.
#[must_use]
pub fn length_in_words(ticks: Ticks) -> String {
    let (minutes, half) = (ticks / TICKS_PER_MINUTE, ticks % TICKS_PER_MINUTE != 0);
    let half = if half { ".5" } else { "" };
    if minutes < 60 {
        return format!("{minutes}{half} min");
    }
    format!("{} h {:02}{half} min", minutes / 60, minutes % 60)
}

#[cfg(test)]
mod tests {
    use super::length_in_words;

    #[test]
    fn lengths_read_as_people_say_them() {
        assert_eq!(length_in_words(0), "0 min");
        assert_eq!(length_in_words(5), "2.5 min");
        assert_eq!(length_in_words(119), "59.5 min");
        assert_eq!(length_in_words(130), "1 h 05 min");
    }
}
