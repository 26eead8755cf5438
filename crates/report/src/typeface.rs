//! The typeface: three cuts of IBM Plex Sans, part of the program, under the SIL Open Font License.

use std::sync::LazyLock;

use typst::foundations::Bytes;
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;

static FILES: [&[u8]; 3] = [
    include_bytes!("../fonts/IBMPlexSans_400Regular.ttf"),
    include_bytes!("../fonts/IBMPlexSans_400Regular_Italic.ttf"),
    include_bytes!("../fonts/IBMPlexSans_600SemiBold.ttf"),
];

/// The fonts, read once for all reports of the process.
pub(crate) static FONTS: LazyLock<Vec<Font>> =
    LazyLock::new(|| FILES.iter().flat_map(|file| Font::iter(Bytes::new(*file))).collect());

/// What the typesetter must know about the fonts to choose among them.
pub(crate) static BOOK: LazyLock<LazyHash<FontBook>> =
    LazyLock::new(|| LazyHash::new(FontBook::from_fonts(FONTS.iter())));

/// Whether every cut has a shape for this character.
pub(crate) fn can_set(letter: char) -> bool {
    FONTS.iter().all(|font| font.info().coverage.contains(u32::from(letter)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_cuts_are_there_and_of_one_family() {
        assert_eq!(FONTS.len(), 3);
        assert!(FONTS.iter().all(|font| font.info().family == "IBM Plex Sans"));
    }

    #[test]
    fn signs_of_the_trade_can_be_set_and_other_scripts_cannot() {
        for letter in "°Ωµμ±≥≤≈§½¼⅜×′″₂²ñÉüЖα–—…→�".chars() {
            assert!(can_set(letter), "{letter}");
        }
        for letter in "שع漢😀".chars() {
            assert!(!can_set(letter), "{letter}");
        }
    }
}
