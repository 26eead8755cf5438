//! A moment of the visit: local time as the person or the camera wrote it, with its offset where known.

use jiff::civil::DateTime;

/// Local date and time, and the offset from UTC where it is known.
///
/// Cameras often write no offset; such moments still order correctly among themselves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Moment {
    /// Local date and time.
    pub local: DateTime,
    /// Minutes east of UTC.
    pub offset_minutes: Option<i16>,
}

impl Moment {
    /// Reads `2026-06-12T09:14`, `2026-06-12T09:14:30`, or either with `Z`, `+02:00` or `-04:00` behind it.
    ///
    /// # Errors
    /// A sentence that says what is accepted.
    pub fn parse(text: &str) -> Result<Self, String> {
        let text = text.trim();
        let refuse = || {
            format!(
                "`{text}` is no time; write it like 2026-06-12T09:14 or 2026-06-12T09:14:30-04:00"
            )
        };
        let (local, offset_minutes) = if let Some(local) = text.strip_suffix(['Z', 'z']) {
            (local, Some(0))
        } else {
            match text.char_indices().skip(11).find(|(_, letter)| matches!(letter, '+' | '-')) {
                Some((at, sign)) => {
                    let (local, offset) = text.split_at(at);
                    let (hours, minutes) = offset[1..].split_once(':').ok_or_else(refuse)?;
                    let hours: i16 = hours.parse().map_err(|_| refuse())?;
                    let minutes: i16 = minutes.parse().map_err(|_| refuse())?;
                    if !(0..=15).contains(&hours) || !(0..60).contains(&minutes) {
                        return Err(refuse());
                    }
                    let total = hours * 60 + minutes;
                    (local, Some(if sign == '-' { -total } else { total }))
                }
                None => (text, None),
            }
        };
        let local: DateTime = local.replace(' ', "T").parse().map_err(|_| refuse())?;
        Ok(Self { local, offset_minutes })
    }

    /// The same in universal time, to order moments of different offsets; local time where no offset is known.
    #[must_use]
    pub fn instant(self) -> DateTime {
        let east = i64::from(self.offset_minutes.unwrap_or(0));
        self.local.checked_sub(jiff::Span::new().minutes(east)).unwrap_or(self.local)
    }
}

impl std::fmt::Display for Moment {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(formatter, "{}", self.local)?;
        match self.offset_minutes {
            None => Ok(()),
            Some(minutes) => {
                let sign = if minutes < 0 { '-' } else { '+' };
                let minutes = minutes.unsigned_abs();
                write!(formatter, "{sign}{:02}:{:02}", minutes / 60, minutes % 60)
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Moment;

    #[test]
    fn a_moment_reads_back_as_it_was_written() {
        for text in
            ["2026-06-12T09:14:00", "2026-06-12T09:14:30-04:00", "2026-06-12T09:14:30+05:30"]
        {
            assert_eq!(Moment::parse(text).unwrap().to_string(), text);
        }
        assert_eq!(Moment::parse("2026-06-12T09:14Z").unwrap().offset_minutes, Some(0));
    }

    #[test]
    fn what_is_no_time_is_refused_with_a_sentence() {
        for text in
            ["", "yesterday", "2026-13-01T00:00", "2026-06-12T25:00", "2026-06-12T09:14-99:00"]
        {
            let sentence = Moment::parse(text).unwrap_err();
            assert!(sentence.contains("write it like"), "{sentence}");
        }
    }
}
