//! From a plan and an inspection to verdicts, findings, the five uses, and what is missing.
//!
//! [`assess`] is a pure function that never fails: what cannot be read or computed becomes a
//! sentence in the assessment. Same plan and inspection, same assessment, natively and as WebAssembly.

mod assessment;

pub use assessment::{
    Assessment, Content, Finding, Gap, Ground, LimitResult, Missing, Origin, PointResult,
    UseResult, UseState, ValueResult,
};
