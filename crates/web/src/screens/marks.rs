//! Small signs: each has a shape of its own, so that colour never says anything alone.

use field::Verdict;
use field::view::PointState;
use leptos::prelude::*;

/// A sign's shape.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Shape {
    /// A tick in a ring.
    Good,
    /// A cross in an octagon.
    Bad,
    /// A question in a diamond.
    Ask,
    /// An exclamation in a triangle.
    Beyond,
    /// A dot in a ring.
    Within,
    /// A broken ring.
    Open,
    /// A half-filled ring.
    Begun,
    /// A ring with a gap and a dot.
    Incomplete,
    /// A filled ring with a tick.
    Done,
    /// A ring struck through.
    NotExamined,
    /// A dash in a square.
    NotFitted,
    /// Arrow back.
    Undo,
    /// Arrow on.
    Redo,
    /// Stations on a line.
    Line,
    /// A flag with a mark.
    Finding,
    /// A clock.
    Clock,
    /// A glass.
    Search,
    /// A flag at the end of the way.
    Flag,
    /// A camera.
    Camera,
    /// A hand held up.
    Caution,
    /// A switch.
    Switch,
    /// A microphone.
    Microphone,
    /// An arrow to the right.
    Play,
    /// A square.
    Stop,
    /// A page with lines.
    Pages,
    /// A seal with its ribbons.
    Seal,
    /// A letter.
    Letter,
    /// A dial with its needle.
    Gauge,
}

impl Shape {
    fn path(self) -> &'static str {
        match self {
            Self::Good => "M12 2.5a9.5 9.5 0 1 0 0 19a9.5 9.5 0 1 0 0-19M7 12.5l3.5 3.5L17 8.5",
            Self::Bad => {
                "M8 2.5h8l5.500 5.500v8l-5.500 5.500H8L2.500 16V8zM8.500 8.500l7 7M15.500 8.500l-7 7"
            }
            Self::Ask => {
                "M12 1.800L22.200 12L12 22.200L1.800 12zM9.700 9.800a2.400 2.400 0 1 1 3.500 2.200q-1.200.6-1.200 1.900M12 16.500v.3"
            }
            Self::Beyond => "M12 2.500L22.500 21h-21zM12 9v6M12 17.800v.3",
            Self::Within => {
                "M12 2.500a9.500 9.500 0 1 0 0 19a9.500 9.500 0 1 0 0-19M12 11a1 1 0 1 0 0 2a1 1 0 1 0 0-2"
            }
            Self::Open => {
                "M4.500 6.200A9.500 9.500 0 0 1 9 3M15 3a9.500 9.500 0 0 1 4.500 3.200M21.300 10.500a9.500 9.500 0 0 1-.6 5.400M17.500 19.700a9.500 9.500 0 0 1-5 1.800M8.500 20.800A9.500 9.500 0 0 1 3.800 16.800M2.600 12.700a9.500 9.500 0 0 1 .4-3"
            }
            Self::Begun => {
                "M12 2.500a9.500 9.500 0 1 0 0 19a9.500 9.500 0 1 0 0-19M12 6v12M12 7a5 5 0 0 0 0 10M9.500 8v8"
            }
            Self::Incomplete => "M21.500 12a9.500 9.500 0 1 1-6-8.800M12 8v5M12 15.800v.4",
            Self::Done => {
                "M12 2.500a9.500 9.500 0 1 0 0 19a9.500 9.500 0 1 0 0-19M7 12.500l3.500 3.500L17 8.500"
            }
            Self::NotExamined => {
                "M12 2.500a9.500 9.500 0 1 0 0 19a9.500 9.500 0 1 0 0-19M5.500 18.500l13-13"
            }
            Self::NotFitted => "M3.500 3.500h17v17h-17zM8 12h8",
            Self::Undo => "M9 5L4 10l5 5M4.500 10H15a5 5 0 0 1 0 10h-3",
            Self::Redo => "M15 5l5 5l-5 5M19.500 10H9a5 5 0 0 0 0 10h3",
            Self::Line => {
                "M5 3v18M5 6h.1M2.500 6h5M2.500 12h5M2.500 18h5M11 6h10M11 12h10M11 18h10"
            }
            Self::Finding => "M4 20l1-4.500L16 4.500l3.500 3.500L8.500 19zM13.500 7l3.500 3.500",
            Self::Clock => {
                "M12 2.500a9.500 9.500 0 1 0 0 19a9.500 9.500 0 1 0 0-19M12 7v5.500l3.500 2"
            }
            Self::Search => "M10.500 3.500a7 7 0 1 0 0 14a7 7 0 1 0 0-14M15.700 15.700L21 21",
            Self::Flag => "M5 22V3h13l-3 4.500l3 4.500H5",
            Self::Camera => {
                "M3 7.500h4l1.500-3h7l1.500 3h4v12H3zM12 10a3.500 3.500 0 1 0 0 7a3.500 3.500 0 1 0 0-7"
            }
            Self::Caution => "M12 2.500L22.500 21h-21zM12 9v6M12 17.800v.3",
            Self::Microphone => {
                "M12 2.500a3.200 3.200 0 0 0-3.200 3.200v6a3.200 3.200 0 0 0 6.400 0v-6A3.200 3.200 0 0 0 12 2.500M5.500 11.500a6.500 6.500 0 0 0 13 0M12 18v3.500M8.500 21.500h7"
            }
            Self::Play => "M7 4v16l12-8z",
            Self::Stop => "M6 6h12v12H6z",
            Self::Seal => {
                "M12 2.500a6.500 6.500 0 1 0 0 13a6.500 6.500 0 1 0 0-13M9.500 9l2 2l3.500-3.500M8 14.500V21.500l4-2.500l4 2.500V14.500"
            }
            Self::Pages => "M5 2.500h10l4.500 4.500v14.500H5zM8.500 11h7.500M8.500 15h7.500",
            Self::Gauge => "M3.500 18.500a10 10 0 1 1 17 0zM12 15.500l4-6M6.500 13h.1M12 7v.1",
            Self::Letter => "M2.500 5h19v14h-19zM3 5.500l9 7.500l9-7.500",
            Self::Switch => {
                "M7.500 6.500h9a5.500 5.500 0 0 1 0 11h-9a5.500 5.500 0 0 1 0-11M16.500 9.800a2.200 2.200 0 1 0 0 4.400a2.200 2.200 0 1 0 0-4.400"
            }
        }
    }

    /// Its class, for a colour beside the shape.
    fn class(self) -> &'static str {
        match self {
            Self::Good => "mark good",
            Self::Bad => "mark bad",
            Self::Ask | Self::Beyond | Self::Incomplete | Self::Caution => "mark warn",
            Self::Done => "mark done",
            Self::Within
            | Self::Open
            | Self::Begun
            | Self::NotExamined
            | Self::NotFitted
            | Self::Undo
            | Self::Redo
            | Self::Line
            | Self::Finding
            | Self::Clock
            | Self::Search
            | Self::Flag
            | Self::Camera
            | Self::Switch
            | Self::Microphone
            | Self::Play
            | Self::Stop
            | Self::Pages
            | Self::Seal
            | Self::Letter
            | Self::Gauge => "mark",
        }
    }

    /// The sign of a verdict.
    pub(super) fn of_verdict(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Conforms => Self::Good,
            Verdict::DoesNotConform => Self::Bad,
            Verdict::Undecided => Self::Ask,
            Verdict::BeyondGuidance => Self::Beyond,
            Verdict::WithinGuidance | Verdict::NoLimit => Self::Within,
        }
    }

    /// The sign of what became of a point.
    pub(super) fn of_state(state: PointState) -> Self {
        match state {
            PointState::Open => Self::Open,
            PointState::Begun => Self::Begun,
            PointState::Incomplete => Self::Incomplete,
            PointState::Examined => Self::Done,
            PointState::NotExamined => Self::NotExamined,
            PointState::NotFitted => Self::NotFitted,
        }
    }
}

/// A sign. Words stand beside it, so it is silent.
#[component]
pub(super) fn Icon(shape: Shape) -> impl IntoView {
    view! {
        <svg class=shape.class() viewBox="0 0 24 24" aria-hidden="true" focusable="false">
            <path d=shape.path()></path>
        </svg>
    }
}
