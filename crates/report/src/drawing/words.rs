//! Words of values in drawings, each with the sign and the words of its verdict.

use crate::content::{Shown, Verdict};

use super::lettering::wrapped;
use super::{INK, Sign, Svg, sign};

/// Room that a sign takes before its words.
pub(crate) const SIGN_ROOM: f64 = 11.5;

/// The value and, where a limit says something of it, the verdict: `9.6 years (beyond what informs)`.
pub(crate) fn told(shown: &Shown) -> String {
    let text = [shown.text.as_str(), shown.spread.as_str()].join(" ");
    match Sign::of(shown.verdict) {
        Sign::NoLimit => text.trim().to_owned(),
        sign => format!("{} ({})", text.trim(), sign.words()),
    }
}

/// How grave a verdict is; the gravest is the highest.
pub(crate) fn gravity(verdict: Verdict) -> u8 {
    match verdict {
        Verdict::NoLimit => 0,
        Verdict::WithinGuidance => 1,
        Verdict::Conforms => 2,
        Verdict::BeyondGuidance => 3,
        Verdict::Undecided => 4,
        Verdict::DoesNotConform => 5,
    }
}

/// Words in lines of `most` at most from this baseline on, a sign before them where a limit says something; gives the
/// baseline that follows.
pub(crate) fn signed(
    svg: &mut Svg,
    (x, baseline): (f64, f64),
    verdict: Verdict,
    text: &str,
    (size, most): (f64, f64),
) -> f64 {
    let sign_of = Sign::of(verdict);
    let room = if sign_of == Sign::NoLimit { 0.0 } else { SIGN_ROOM };
    if room > 0.0 {
        svg.inset((x, baseline - 7.2), 8.0, &sign(sign_of));
    }
    plain(svg, (x + room, baseline), text, (size, most - room), INK)
}

/// Words in lines of `most` at most from this baseline on; gives the baseline that follows.
pub(crate) fn plain(
    svg: &mut Svg,
    (x, mut baseline): (f64, f64),
    text: &str,
    (size, most): (f64, f64),
    ink: &str,
) -> f64 {
    let points = size.to_string();
    for line in wrapped(&svg.say(text), size, most) {
        svg.words((x, baseline), &line, &[("font-size", &points), ("fill", ink)]);
        baseline += size + 2.5;
    }
    baseline
}
