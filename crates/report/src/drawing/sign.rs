//! The signs beside the words for states and verdicts. Each differs from the others in shape, not in colour alone.

use crate::content::Verdict;

use super::{CLEAR, HELD, INK, OPEN, SOFT, Svg};

/// A sign.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sign {
    /// A use is clear: a ring with a tick.
    Clear,
    /// A use is held: a filled octagon with a bar. White on dark, for a filled panel.
    Held,
    /// A use is open: a broken ring with three dots.
    Open,
    /// The unit has nothing of the kind: a ring, crossed out.
    NotFitted,
    /// Conforms: a tick.
    Conforms,
    /// Does not conform: a filled square with a cross.
    DoesNotConform,
    /// Undecided: a diamond, half filled.
    Undecided,
    /// Within a limit that informs: a ring.
    WithinGuidance,
    /// Beyond a limit that informs: a triangle.
    BeyondGuidance,
    /// No limit: a dash.
    NoLimit,
}

impl Sign {
    /// All signs.
    pub const ALL: [Self; 10] = [
        Self::Clear,
        Self::Held,
        Self::Open,
        Self::NotFitted,
        Self::Conforms,
        Self::DoesNotConform,
        Self::Undecided,
        Self::WithinGuidance,
        Self::BeyondGuidance,
        Self::NoLimit,
    ];

    /// The sign of a verdict.
    #[must_use]
    pub fn of(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Conforms => Self::Conforms,
            Verdict::DoesNotConform => Self::DoesNotConform,
            Verdict::Undecided => Self::Undecided,
            Verdict::WithinGuidance => Self::WithinGuidance,
            Verdict::BeyondGuidance => Self::BeyondGuidance,
            Verdict::NoLimit => Self::NoLimit,
        }
    }

    /// What it says, in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Clear => "clear",
            Self::Held => "held",
            Self::Open => "open",
            Self::NotFitted => "not fitted",
            Self::Conforms => "conforms",
            Self::DoesNotConform => "does not conform",
            Self::Undecided => "undecided",
            Self::WithinGuidance => "within what informs",
            Self::BeyondGuidance => "beyond what informs",
            Self::NoLimit => "no limit",
        }
    }

    /// Name of the sign's file.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Clear => "state-clear",
            Self::Held => "state-held",
            Self::Open => "state-open",
            Self::NotFitted => "state-not_fitted",
            Self::Conforms => "verdict-conforms",
            Self::DoesNotConform => "verdict-does_not_conform",
            Self::Undecided => "verdict-undecided",
            Self::WithinGuidance => "verdict-within_guidance",
            Self::BeyondGuidance => "verdict-beyond_guidance",
            Self::NoLimit => "verdict-no_limit",
        }
    }
}

/// The sign as an SVG of 16 by 16.
#[must_use]
pub fn sign(sign: Sign) -> String {
    let mut svg = Svg::new(16.0, 16.0);
    let stroke = |colour| {
        [
            ("fill", "none"),
            ("stroke", colour),
            ("stroke-width", "1.8"),
            ("stroke-linecap", "round"),
            ("stroke-linejoin", "round"),
        ]
    };
    match sign {
        Sign::Clear => {
            svg.circle(8.0, 8.0, 6.9, &stroke(CLEAR));
            svg.path("M4.8 8.3L7.1 10.6L11.3 5.8", &stroke(CLEAR));
        }
        Sign::Held => {
            svg.path(
                "M5 .8H11L15.2 5V11L11 15.2H5L.8 11V5Z",
                &[("fill", HELD), ("stroke", "#ffffff"), ("stroke-width", "1.2")],
            );
            svg.path(
                "M4.2 8H11.8",
                &[("stroke", "#ffffff"), ("stroke-width", "2.6"), ("fill", "none")],
            );
        }
        Sign::Open => {
            let mut ring = stroke(OPEN).to_vec();
            ring.push(("stroke-dasharray", "2.4 3"));
            svg.circle(8.0, 8.0, 6.9, &ring);
            for x in [4.9, 8.0, 11.1] {
                svg.circle(x, 8.0, 1.1, &[("fill", OPEN)]);
            }
        }
        Sign::NotFitted => {
            svg.circle(8.0, 8.0, 6.9, &stroke(SOFT));
            svg.path("M3.2 12.8L12.8 3.2", &stroke(SOFT));
        }
        Sign::Conforms => svg.path("M2.5 8.6L6.2 12.3L13.5 3.8", &stroke(CLEAR)),
        Sign::DoesNotConform => {
            svg.path("M1 1H15V15H1Z", &[("fill", HELD)]);
            svg.path("M5 5L11 11M11 5L5 11", &stroke("#ffffff"));
        }
        Sign::Undecided => {
            svg.path("M8 1L1 8L8 15Z", &[("fill", OPEN)]);
            svg.path("M8 1.2L14.8 8L8 14.8L1.2 8Z", &stroke(OPEN));
        }
        Sign::WithinGuidance => svg.circle(8.0, 8.0, 5.4, &stroke(SOFT)),
        Sign::BeyondGuidance => {
            svg.path("M8 2L14.6 13.8H1.4Z", &stroke(OPEN));
            svg.path("M8 6.5V9.6M8 11.8V11.9", &stroke(INK));
        }
        Sign::NoLimit => svg.path("M3 8H13", &stroke(SOFT)),
    }
    svg.finish()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_signs_look_alike() {
        for (index, one) in Sign::ALL.iter().enumerate() {
            for other in &Sign::ALL[index + 1..] {
                assert_ne!(sign(*one), sign(*other));
                assert_ne!(one.name(), other.name());
            }
        }
    }
}
