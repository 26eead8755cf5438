//! The running heads and feet. They say how many pages there are, so they are laid out once that is known, and then laid
//! over the pages: a page that said it of itself would be laid out twice.

use serde_json::json;
use typst::layout::Point;
use typst::model::Document as _;
use typst_layout::PagedDocument;

use crate::content::{Content, Paper};
use crate::shelf::Shelf;
use crate::{ReportError, laid_out};

/// What stands on every page, as the template reads it.
pub(crate) fn words(content: &Content) -> serde_json::Value {
    json!({
        "paper": match content.paper { Paper::A4 => "a4", Paper::Letter => "letter" },
        "headline": content.unit.headline,
        "job": content.job.number,
        "inspector": content.job.inspector,
    })
}

/// The document with its heads and feet.
pub(crate) fn with_heads(
    document: &PagedDocument,
    shelf: &mut Shelf,
    words: &serde_json::Value,
) -> Result<PagedDocument, ReportError> {
    let mut words = words.clone();
    words["pages"] = json!(document.pages().len());
    shelf.put("/running.json", serde_json::to_vec(&words)?);
    shelf.begin_with_running_heads();
    let (heads, _) = laid_out(shelf)?;
    // Read aloud or copied, a page begins with its head and ends with its foot.
    let pages = document.pages().iter().zip(heads.pages().chunks(2)).map(|(page, edges)| {
        let mut page = page.clone();
        if let [head, foot] = edges {
            page.frame.prepend_frame(Point::zero(), head.frame.clone());
            page.frame.push_frame(Point::zero(), foot.frame.clone());
        }
        page
    });
    Ok(PagedDocument::new(pages.collect(), document.info().clone()))
}
