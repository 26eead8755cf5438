//! When a limit applies: to which kinds of unit, and built when.

use std::collections::BTreeSet;

use jiff::civil::Date;

/// Which units a limit applies to. Empty and absent conditions apply to all.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Applies {
    /// Words of the kinds of unit, as in data files.
    pub kinds: BTreeSet<String>,
    /// Built on or after this day.
    pub built_from: Option<Date>,
    /// Built before this day.
    pub built_before: Option<Date>,
    /// Equipment that must all be fitted.
    pub fitted: BTreeSet<String>,
}

/// Why a limit does not apply.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotApplicable {
    /// It is for other kinds of unit.
    OtherKind,
    /// The unit was built too early or too late.
    OtherEra,
    /// The limit depends on the build date, which is not known.
    BuildDateUnknown,
    /// Equipment that it is about is not fitted.
    NotFitted,
}

impl Applies {
    /// Whether it applies to a unit of this kind, built at this day (its earliest), with this equipment.
    ///
    /// # Errors
    /// Why it does not.
    pub fn to(
        &self,
        kind: &str,
        built: Option<Date>,
        equipment: &BTreeSet<String>,
    ) -> Result<(), NotApplicable> {
        if !self.kinds.is_empty() && !self.kinds.contains(kind) {
            return Err(NotApplicable::OtherKind);
        }
        if !self.fitted.is_subset(equipment) {
            return Err(NotApplicable::NotFitted);
        }
        if self.built_from.is_some() || self.built_before.is_some() {
            let built = built.ok_or(NotApplicable::BuildDateUnknown)?;
            if self.built_from.is_some_and(|from| built < from)
                || self.built_before.is_some_and(|before| built >= before)
            {
                return Err(NotApplicable::OtherEra);
            }
        }
        Ok(())
    }
}
