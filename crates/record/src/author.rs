//! Who makes a change: a device and the person at it.

use crate::{RecordError, RefusalKind};

/// Who makes a change.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Author {
    /// The device's id: sixteen random bytes, drawn once by the caller. Never copy it to another
    /// device, and draw a new one when a device was set back to an older copy of its data.
    pub device: [u8; 16],
    /// The person's name, as it should stand in the trail.
    pub person: String,
}

impl Author {
    /// An author.
    pub fn new(device: [u8; 16], person: impl Into<String>) -> Self {
        Self { device, person: person.into() }
    }

    /// Refuses a name that the trail could not show on one line.
    pub(crate) fn check(&self) -> Result<(), RecordError> {
        if self.person.trim().is_empty() {
            let said = "who makes this change? a person's name is needed, the one given is empty";
            return Err(RecordError::Refused(RefusalKind::NoWords.refusal(said)));
        }
        if self.person.chars().any(char::is_control) {
            let said = format!(
                "the person's name {:?} has line breaks or control characters; write it on one line",
                self.person
            );
            return Err(RecordError::Refused(RefusalKind::LineBreak.refusal(said)));
        }
        Ok(())
    }
}

/// A device's id in lower-case hexadecimal.
pub(crate) fn device_in_hexadecimal(device: &[u8]) -> String {
    use std::fmt::Write as _;
    device.iter().fold(String::with_capacity(device.len() * 2), |mut text, byte| {
        // Writing to a string cannot fail.
        let _ = write!(text, "{byte:02x}");
        text
    })
}
