//! From a plan and an inspection to verdicts, findings, the five uses, and what is missing.
//!
//! [`assess()`] is a pure function that never fails: what cannot be read or computed becomes a
//! sentence in the assessment. Same plan and inspection, same assessment, natively and as WebAssembly.

mod accuracy;
mod agreement;
mod assess;
mod assessment;
mod at_point;
mod carried;
mod charges;
mod deciding;
mod defaults;
mod drafts;
mod example;
mod explain;
mod gaps;
mod index;
mod left_over;
mod limits;
mod merged;
mod own_texts;
mod sentence;
mod uses;
mod values;

pub use accuracy::{Accuracy, Sheet};
pub use agreement::{Agreed, agreed, agreed_sha256, calibrations_before};
pub use assess::{assess, assess_in};
pub use assessment::{
    About, Assessment, Content, Finding, Gap, Ground, LimitResult, Missing, Origin, PointResult,
    UseResult, UseState, ValueResult,
};
pub use at_point::{PointAssessment, assess_point, suppose};
pub use carried::{CarriedResult, CarriedState};
pub use charges::{TaxTotal, Totals, totals};
pub use deciding::{Better, Deciding, deciding};
pub use defaults::{Defaults, defaults_at};
pub use example::{check_example, inspection_of_example};
pub use explain::{
    Budget, BudgetPart, Came, Computation, Consequence, Entered, Explanation, Fate, How, InputStep,
    LimitStep, NoExplanation, Standing, explain, explain_assessed, explanation_in_words,
};
pub use left_over::{FactKind, LeftOver, OtherJob, left_over};
pub use own_texts::{OwnText, Promise, TextPlace, own_texts, promises};
pub use sentence::{bound_in_words, together, write_content};
pub use values::counts_over;
