//! The photos on the page: where each stands, and the small frames that link their stubs.

use serde::Serialize;

use crate::content::Content;
use crate::drawing;
use crate::originals::Originals;
use crate::shelf::Shelf;

/// A photo as the template sees it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub(crate) struct Slot {
    /// The frame's file; empty where the photo cannot be shown.
    pub(crate) file: String,
    /// Whether it is at least as wide as high.
    pub(crate) wide: bool,
    /// Why it cannot be shown.
    pub(crate) fault: Option<String>,
    /// Its place among all photos, from 1.
    #[serde(skip)]
    number: usize,
    /// Width and height in pixels; none where it cannot be shown, or is not shown in this part.
    #[serde(skip)]
    pub(crate) size: Option<(u16, u16)>,
}

impl Slot {
    /// The photo's own file, as the frame links it.
    pub(crate) fn linked(&self) -> String {
        format!("{:04}.jpg", self.number)
    }

    fn empty(number: usize) -> Self {
        Self { file: String::new(), wide: true, fault: None, number, size: None }
    }
}

/// Puts a stub of every photo that is shown on the shelf under a fixed slot name, and lets the originals look at its file.
///
/// The names are counted, never made from hashes: the typesetter remembers every path of the process for ever, and
/// has room for 65,535.
pub(crate) fn place(
    content: &Content,
    photos: &dyn Fn(&str) -> Option<Vec<u8>>,
    shown: &dyn Fn(usize) -> bool,
    shelf: &mut Shelf,
    originals: &mut Originals,
) -> Vec<Slot> {
    let mut slots = Vec::with_capacity(content.photos.len());
    for (index, photo) in content.photos.iter().enumerate() {
        let empty = Slot::empty(index + 1);
        if !shown(index + 1) {
            slots.push(empty);
            continue;
        }
        let fault = |sentence: &str| Slot {
            fault: Some(content.words.say_with(
                "Photo {n} is not shown: {why}",
                &[("n", &(index + 1).to_string()), ("why", &content.words.say(sentence))],
            )),
            ..empty.clone()
        };
        let slot = match photos(&photo.id) {
            None => fault("its file was not at hand when the report was made."),
            Some(bytes) => match jpeg_size(&bytes) {
                Err(why) => fault(why),
                Ok((width, height)) => match originals.look_at(&photo.id, &bytes) {
                    None => fault(CUT_OFF),
                    Some(stub) => {
                        let linked = empty.linked();
                        let file = format!("/photo/{:04}.svg", index + 1);
                        let frame =
                            drawing::photo(&linked, &photo.id, (width, height), &photo.marks);
                        shelf.put(&file, frame.into_bytes());
                        shelf.put(&format!("/photo/{linked}"), stub);
                        Slot { file, wide: width >= height, size: Some((width, height)), ..empty }
                    }
                },
            },
        };
        slots.push(slot);
    }
    slots
}

const CUT_OFF: &str = "its file is damaged or cut off.";

/// Width and height of a JPEG file that a PDF can hold as it is, or why it cannot.
pub(crate) fn jpeg_size(bytes: &[u8]) -> Result<(u16, u16), &'static str> {
    const NO_JPEG: &str = "its file is not a JPEG.";
    const UNUSUAL: &str = "its file is a kind of JPEG that a PDF cannot hold.";
    if !bytes.starts_with(&[0xff, 0xd8]) {
        return Err(NO_JPEG);
    }
    if !bytes.windows(2).rev().any(|pair| pair == [0xff, 0xd9]) {
        return Err(CUT_OFF);
    }
    let mut at = 2;
    loop {
        let &[0xff, marker, ..] = bytes.get(at..).ok_or(CUT_OFF)? else { return Err(CUT_OFF) };
        match marker {
            // Fill bytes, and markers without a length.
            0xff => at += 1,
            0x01 | 0xd0..=0xd7 => at += 2,
            0xc0..=0xc2 => {
                let &[_, _, bits, h1, h0, w1, w0, components, ..] =
                    bytes.get(at + 2..).ok_or(CUT_OFF)?
                else {
                    return Err(CUT_OFF);
                };
                let (width, height) = (u16::from_be_bytes([w1, w0]), u16::from_be_bytes([h1, h0]));
                if bits != 8 || !matches!(components, 1 | 3) || width == 0 || height == 0 {
                    return Err(UNUSUAL);
                }
                return Ok((width, height));
            }
            0xc3 | 0xc5..=0xc7 | 0xc9..=0xcb | 0xcd..=0xcf => return Err(UNUSUAL),
            0xd9 | 0xda => return Err(CUT_OFF),
            _ => {
                let &[high, low, ..] = bytes.get(at + 2..).ok_or(CUT_OFF)? else {
                    return Err(CUT_OFF);
                };
                at += 2 + usize::from(u16::from_be_bytes([high, low]));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_that_are_no_whole_jpeg_are_told_apart() {
        assert_eq!(jpeg_size(b""), Err("its file is not a JPEG."));
        assert_eq!(jpeg_size(b"GIF89a"), Err("its file is not a JPEG."));
        assert_eq!(jpeg_size(&[0xff, 0xd8]), Err("its file is damaged or cut off."));
        assert_eq!(jpeg_size(&[0xff, 0xd8, 0xff, 0xd9]), Err("its file is damaged or cut off."));
        let tall = [0xff, 0xd8, 0xff, 0xc0, 0, 17, 8, 0, 20, 0, 10, 3, 0xff, 0xd9];
        assert_eq!(jpeg_size(&tall), Ok((10, 20)));
        let four_inks = [0xff, 0xd8, 0xff, 0xc0, 0, 17, 8, 0, 20, 0, 10, 4, 0xff, 0xd9];
        assert!(jpeg_size(&four_inks).is_err());
    }
}
