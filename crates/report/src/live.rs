//! One part of the report as pages for a screen: laid out by itself in milliseconds, while somebody edits.
//!
//! The pages look as they do in the report, with three differences: nothing is known of the other parts, so a link into
//! one of those is plain words and a page number there is an ellipsis; no page is numbered; and a photo is not inside the
//! page but named by an address that the caller chooses, so that a page stays small and the photo is fetched once.

use std::ops::Range;

use typst_layout::PagedDocument;

use crate::content::Content;
use crate::drawing;
use crate::photos::Slot;
use crate::{ReportError, shelved};

/// A part of the report that can be laid out by itself. Numbers count from 1, as on the pages.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// The front page.
    Front,
    /// The list of findings, with the drawings that show where they are.
    Overview,
    /// What became of the findings of an earlier inspection.
    Again,
    /// A finding with its evidence.
    Finding(usize),
    /// Photos that no finding names.
    FurtherPhotos,
    /// The readings of a system, by its place among the systems of the content.
    Readings(usize),
    /// What could not be examined.
    NotExamined,
    /// What was examined without remark.
    Examined,
    /// The visit as it was kept.
    Visit,
    /// Instruments and their calibrations.
    Instruments,
    /// Sources.
    Sources,
    /// Terms.
    Terms,
    /// Trail and signature.
    Signature,
}

/// A part of the report, laid out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LivePages {
    /// Each page as an SVG, to stand inside a web page.
    pub pages: Vec<String>,
    /// Photos of the part that cannot be shown, characters that could not be set.
    pub remarks: Vec<String>,
}

impl Part {
    fn name(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Overview => "overview",
            Self::Again => "again",
            Self::Finding(_) => "finding",
            Self::FurtherPhotos => "further_photos",
            Self::Readings(_) => "readings",
            Self::NotExamined => "not_examined",
            Self::Examined => "examined",
            Self::Visit => "visit",
            Self::Instruments => "instruments",
            Self::Sources => "sources",
            Self::Terms => "terms",
            Self::Signature => "signature",
        }
    }

    fn number(self) -> usize {
        match self {
            Self::Finding(number) | Self::Readings(number) => number,
            _ => 0,
        }
    }

    /// What the template reads.
    pub(crate) fn to_json(self) -> String {
        format!(r#"{{"name":"{}","number":{}}}"#, self.name(), self.number())
    }

    fn is_in(self, content: &Content) -> bool {
        match self {
            Self::Finding(number) => (1..=content.findings.len()).contains(&number),
            Self::Again => content.again.is_some(),
            Self::Readings(number) => (1..=content.systems.len()).contains(&number),
            _ => true,
        }
    }

    /// Whether it shows this photo: the others need not be fetched.
    pub(crate) fn shows(self, content: &Content, photo: usize) -> bool {
        match self {
            Self::Front => content.unit.photo == Some(photo),
            Self::Finding(number) => {
                let finding = number.checked_sub(1).and_then(|at| content.findings.get(at));
                finding.is_some_and(|finding| finding.photos.contains(&photo))
            }
            Self::Again => content
                .again
                .iter()
                .flat_map(|again| &again.findings)
                .any(|one| one.photos_then.contains(&photo) || one.photos_now.contains(&photo)),
            Self::FurtherPhotos => {
                let of_then = content.again.iter().flat_map(|again| &again.findings);
                content.findings.iter().all(|finding| !finding.photos.contains(&photo))
                    && of_then.clone().all(|one| !one.photos_then.contains(&photo))
            }
            _ => false,
        }
    }
}

/// Lays out one part of the report for a screen.
///
/// `photos` is as for [`crate::typeset`]; only photos of the part are asked for. `address` says where a web page finds the
/// photo with this id. What earlier calls have laid out is kept for the next one.
///
/// # Errors
/// Where the content contradicts itself, has no such part, or the typesetter refuses it; see [`ReportError`].
pub fn live(
    content: &Content,
    part: Part,
    photos: &dyn Fn(&str) -> Option<Vec<u8>>,
    address: &dyn Fn(&str) -> String,
) -> Result<LivePages, ReportError> {
    if !part.is_in(content) {
        return Err(ReportError::NoSuchPart(part));
    }
    let shelved = shelved(content, photos, Some(part))?;
    let compiled = typst::compile::<PagedDocument>(&shelved.shelf);
    let laid_out = compiled
        .output
        .map_err(|errors| ReportError::Layout(shelved.shelf.complaints(&errors)))
        .map(|document| {
            let options = typst_svg::SvgOptions::default();
            let pages = document.pages().iter().map(|page| typst_svg::svg(page, &options));
            pages.map(|page| with_addresses(page, content, &shelved.slots, address)).collect()
        });
    let mut remarks = shelved.remarks;
    remarks.extend(shelved.shelf.complaints(&compiled.warnings));
    // What the last few edits did not use is memory without use.
    typst::comemo::evict(KEPT_EDITS);
    Ok(LivePages { pages: laid_out?, remarks })
}

/// For how many further calls a result is kept that none of them uses: switching between a few parts stays quick.
const KEPT_EDITS: usize = 4;

/// The page with each photo's frame, which the typesetter writes as data, replaced by the frame itself with the photo's
/// address: a picture inside a picture may not fetch anything, one inside a web page may.
fn with_addresses(
    page: String,
    content: &Content,
    slots: &[Slot],
    address: &dyn Fn(&str) -> String,
) -> String {
    const FRAME: &str = "data:image/svg+xml;base64,";
    let mut out = page;
    for (slot, photo) in slots.iter().zip(&content.photos) {
        let Some((width, height)) = slot.size else { continue };
        let linked = slot.linked();
        let frame = drawing::photo(&linked, &photo.id, (width, height), &photo.marks);
        let data = format!("{FRAME}{}", base64(frame.as_bytes()));
        let with_address = drawing::for_the_web(&frame).replacen(
            &format!("href=\"{linked}\""),
            &format!("href=\"{}\"", drawing::escaped(&address(&photo.id))),
            1,
        );
        while let Some(found) = element(&out, &data) {
            let place = placed(&out[found.clone()], &with_address);
            out.replace_range(found, &place);
        }
    }
    out
}

/// Where the `<image … />` with this address stands.
fn element(page: &str, address: &str) -> Option<Range<usize>> {
    let at = page.find(address)?;
    let begin = page[..at].rfind("<image")?;
    let end = at + page[at..].find("/>")? + 2;
    Some(begin..end)
}

/// The frame in the place of the `<image … />`: as large, and moved as far.
fn placed(image: &str, frame: &str) -> String {
    let attribute = |name: &str| {
        let (_, rest) = image.split_once(&format!(" {name}=\""))?;
        rest.split_once('"').map(|(value, _)| value)
    };
    let (width, height) = (attribute("width").unwrap_or("0"), attribute("height").unwrap_or("0"));
    let moved =
        attribute("transform").map_or_else(String::new, |it| format!(" transform=\"{it}\""));
    // The frame states its size in pixels; inside a page its place says how large it is.
    let inner = frame.split_once("<svg").map_or(frame, |(_, rest)| rest);
    let (attributes, rest) = inner.split_once('>').unwrap_or(("", inner));
    let view_box = attributes
        .split_once("viewBox=\"")
        .and_then(|(_, rest)| rest.split_once('"'))
        .map_or("", |(value, _)| value);
    format!(
        "<g{moved}><svg width=\"{width}\" height=\"{height}\" viewBox=\"{view_box}\" preserveAspectRatio=\"none\">{rest}</g>"
    )
}

/// A JPEG file as an address (RFC 2397), for pages that may not fetch anything.
#[must_use]
pub fn as_address(jpeg: &[u8]) -> String {
    format!("data:image/jpeg;base64,{}", base64(jpeg))
}

/// RFC 4648, 4, as the typesetter writes it into a page.
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for piece in bytes.chunks(3) {
        let bits = piece.iter().fold(0_u32, |bits, byte| bits << 8 | u32::from(*byte))
            << (8 * (3 - piece.len()));
        for place in 0..4 {
            if place > piece.len() {
                out.push('=');
            } else {
                let at = bits >> (18 - 6 * place) & 63;
                out.push(char::from(LETTERS[at as usize]));
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::base64;

    /// RFC 4648, 10.
    #[test]
    fn the_published_examples_are_met() {
        let published = ["", "Zg==", "Zm8=", "Zm9v", "Zm9vYg==", "Zm9vYmE=", "Zm9vYmFy"];
        for (length, expected) in published.iter().enumerate() {
            assert_eq!(base64(&b"foobar"[..length]), *expected);
        }
    }
}
