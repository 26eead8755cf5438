//! The verdict while a reading is typed: as it would be, nothing stored.

use findings::suppose;
use quantity::UnitSystem;

use crate::{Entering, Now, Said, Valued, Visit, edits};

/// What a typed reading would mean.
#[derive(Clone, Debug, PartialEq)]
pub struct Typed {
    /// The entry that would be stored, with its unit.
    pub entry: String,
    /// The reading itself, judged.
    pub value: Option<Valued>,
    /// Values of the same point that are computed from it, judged.
    pub computed: Vec<Valued>,
    /// Findings that it would bring up: their headings.
    pub findings: Vec<String>,
}

impl Visit {
    /// What a reading that is being typed would mean if it were entered now.
    ///
    /// # Errors
    /// A sentence that says what is accepted, where it cannot be read (yet).
    pub fn typed(&self, entering: &Entering, now: Now, units: UnitSystem) -> Result<Typed, Said> {
        let (id, reading) = edits::reading(self, entering, now)?;
        let supposed = suppose(self.plan(), self.inspection(), (&id, &reading), units);
        let Some(supposed) = supposed else {
            return Err(Said::new("refusal-no-point").with("point", entering.point.as_str()));
        };
        let mut value = None;
        let mut computed = Vec::new();
        for one in Valued::all(self.plan(), &supposed.result, units) {
            if one.readings.contains(&id) {
                if one.computed { computed.push(one) } else { value = Some(one) }
            }
        }
        let findings = supposed
            .findings
            .iter()
            .filter(|finding| finding.readings.contains(&id))
            .map(|finding| finding.title.clone())
            .collect();
        Ok(Typed { entry: reading.entry, value, computed, findings })
    }
}
