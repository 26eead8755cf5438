//! A paper as a PDF, archival and accessible like the report.

use inspection::DrawnSignature;
use serde_json::json;

use super::Letter;
use crate::shelf::Shelf;
use crate::{ReportError, Stage, Typeset, Written, issued, plain_text, write};

/// The most signatures that one paper has.
const MOST_SIGNATURES: usize = 2;

/// Typesets a paper. The same paper always gives the same bytes.
///
/// # Errors
/// Where the typesetter refuses it; see [`ReportError`].
pub fn letter_pdf(letter: &Letter) -> Result<Typeset, ReportError> {
    let issued = issued(letter.issued).ok_or(ReportError::Issued(letter.issued))?;
    let (settable, unset) = plain_text::settable_letter(letter)?;
    let mut shelf = Shelf::for_letter();
    let signatures: Vec<bool> = letter
        .signatures
        .iter()
        .take(MOST_SIGNATURES)
        .enumerate()
        .map(|(at, signed)| {
            let drawn = DrawnSignature::read(&signed.drawn).unwrap_or_default();
            if !drawn.is_empty() {
                shelf.put(&format!("/sign_{}.svg", at + 1), svg(&drawn).into_bytes());
            }
            !drawn.is_empty()
        })
        .collect();
    let view = json!({ "letter": settable, "drawn": signatures });
    shelf.put("/letter.json", serde_json::to_vec(&view)?);
    shelf.put("/words.json", plain_text::settable_words(&letter.words)?);
    shelf.put("/part.json", b"null".to_vec());
    let language = if letter.language.is_empty() { "en" } else { &letter.language };
    shelf.put("/language.json", serde_json::to_vec(language)?);
    if let Some(attached) = &letter.attached {
        shelf.put("/attached", attached.text.clone().into_bytes());
    }
    let written = Written {
        ident: format!("nearside {}", letter.ident),
        program: letter.program.clone(),
        issued,
    };
    let result = write(shelf, written, None, &|_: Stage| {});
    typst::comemo::evict(0);
    let (pdf, pages, mut remarks) = result?;
    if unset > 0 {
        remarks.push(format!(
            "{unset} characters are not in the typefaces of the pages; words in brackets say so where they stand."
        ));
    }
    Ok(Typeset { pdf, pages, remarks })
}

/// A drawn signature as a picture.
pub(super) fn svg(drawn: &DrawnSignature) -> String {
    let (width, height) = (DrawnSignature::WIDTH, DrawnSignature::HEIGHT);
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width} {height}\" width=\"{width}\" height=\"{height}\"><path \
         d=\"{}\" fill=\"none\" stroke=\"#1c2430\" stroke-width=\"5\" stroke-linecap=\"round\" \
         stroke-linejoin=\"round\"/></svg>",
        path(drawn)
    )
}

/// The lines as an SVG path; a dot is a line to itself.
pub(super) fn path(drawn: &DrawnSignature) -> String {
    let mut path = String::new();
    for line in &drawn.lines {
        for (at, (right, down)) in line.iter().enumerate() {
            let step = if at == 0 { 'M' } else { 'L' };
            path.push_str(&format!("{step}{right} {down}"));
        }
        if let [(right, down)] = line.as_slice() {
            path.push_str(&format!("L{right} {down}"));
        }
    }
    path
}
