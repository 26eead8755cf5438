//! Published limits, and judging a value against one with its uncertainty.
//!
//! A limit is a record, never a bare number: bound, document, section, edition, the footing it
//! stands on, when it applies, and whether anybody read the section. Only a limit that is law,
//! standard or the maker's own, and was read, can say *does not conform*; all others inform.

mod applies;
mod bound;
mod judge;
mod source;

pub use applies::{Applies, NotApplicable};
pub use bound::{Bound, Reading};
pub use judge::{DecisionRule, Judgement, Verdict, judge};
pub use source::{Basis, Footing, Limit, SectionRead, SourceReference};

#[cfg(test)]
mod tests;
