//! The typeface: three cuts of IBM Plex Sans, and its companions for Hebrew and Arabic; part of the program, under the SIL
//! Open Font License.
//!
//! Other scripts are not set: a companion for Chinese, Japanese or Korean alone is larger than the program's whole report
//! part. `plain_text` says so in words where they stand.

use std::sync::LazyLock;

use typst::foundations::Bytes;
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;

/// How many of the files are cuts of the typeface itself; the others are companions, in one cut.
const CUTS: usize = 3;

static FILES: [&[u8]; 5] = [
    include_bytes!("../fonts/IBMPlexSans_400Regular.ttf"),
    include_bytes!("../fonts/IBMPlexSans_400Regular_Italic.ttf"),
    include_bytes!("../fonts/IBMPlexSans_600SemiBold.ttf"),
    include_bytes!("../fonts/IBMPlexSansHebrew_400Regular.ttf"),
    include_bytes!("../fonts/IBMPlexSansArabic_400Regular.ttf"),
];

/// The fonts, read once for all reports of the process.
pub(crate) static FONTS: LazyLock<Vec<Font>> =
    LazyLock::new(|| FILES.iter().flat_map(|file| Font::iter(Bytes::new(*file))).collect());

/// What the typesetter must know about the fonts to choose among them.
pub(crate) static BOOK: LazyLock<LazyHash<FontBook>> =
    LazyLock::new(|| LazyHash::new(FontBook::from_fonts(FONTS.iter())));

/// Which of the families has shapes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Family(usize);

impl Family {
    /// The first family with a shape for this character in every cut.
    pub(crate) fn with(letter: char) -> Option<Self> {
        let companions = FONTS.len().saturating_sub(CUTS);
        (0..=companions).map(Family).find(|family| family.has(letter))
    }

    /// Whether every cut of it has a shape for this character.
    pub(crate) fn has(self, letter: char) -> bool {
        let fonts = match self.0 {
            0 => &FONTS[..CUTS],
            companion => &FONTS[CUTS + companion - 1..CUTS + companion],
        };
        fonts.iter().all(|font| font.info().coverage.contains(u32::from(letter)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_cuts_and_companions_are_there() {
        let families: Vec<&str> = FONTS.iter().map(|font| font.info().family.as_str()).collect();
        let plex = "IBM Plex Sans";
        assert_eq!(families, [plex, plex, plex, "IBM Plex Sans Hebrew", "IBM Plex Sans Arabic"]);
    }

    #[test]
    fn signs_of_the_trade_hebrew_and_arabic_can_be_set_and_other_scripts_cannot() {
        for letter in "°Ωµμ±≥≤≈§½¼⅜×′″₂²ñÉüЖα–—…→�".chars() {
            assert_eq!(Family::with(letter), Some(Family(0)), "{letter}");
        }
        for (letter, family) in [('ש', 1), ('\u{5b8}', 1), ('ع', 2), ('\u{64e}', 2), ('پ', 2)] {
            assert_eq!(Family::with(letter), Some(Family(family)), "{letter}");
        }
        for letter in "漢ក😀\u{e000}".chars() {
            assert_eq!(Family::with(letter), None, "{letter}");
        }
    }
}
