//! What the browser and the desk must answer alike: a record's bytes in, its whole assessment out.
//!
//! The measuring program and the comparison are in `main.rs`; `examples/letter.rs` is this function for WebAssembly.

use record::Record;

/// Everything that follows from a record: the assessment with every field and every digit, and the explanation
/// of every value, as text.
///
/// # Errors
/// A sentence, if the bytes are no record or its plan cannot be read.
pub fn answer(record: &[u8]) -> Result<String, String> {
    let record = Record::load([record]).map_err(|error| error.to_string())?;
    let (inspection, problems) = record.inspection();
    let text = record.plan().map_err(|error| error.to_string())?;
    let plan = plan::thaw(&text).map_err(|problems| {
        problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
    })?;
    let assessment = findings::assess(&plan, &inspection);
    Ok(format!("{problems:#?}\n{assessment:#?}\n"))
}
