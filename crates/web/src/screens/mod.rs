//! The screens of a job: one file each. They show what `field` says and tell it what the person did.
#![allow(unreachable_pub, reason = "the library's macro makes every component `pub`")]

mod again;
mod answer;
mod archive;
mod desk_findings;
mod engagement;
mod finding;
mod findings;
mod inspect_again;
mod instruments;
mod keys;
mod left;
mod line;
mod live;
mod marking;
mod marks;
mod memos;
mod missing;
mod navigation;
mod opening;
mod photo;
mod plan_view;
mod point;
mod reading;
mod release;
mod remarks;
mod schedule;
mod search;
mod states;
mod stock;
mod stop;
mod tray;
mod verdict;
mod waits;

use inspection::{InstrumentId, PhotoId, PointId};
use leptos::prelude::*;

use crate::app::{Place, app};
use crate::browser::wide;

/// Where in a job the person is.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) enum Screen {
    /// The job's opening page.
    #[default]
    Opening,
    /// The line of stops.
    Line,
    /// A stop.
    Stop(String),
    /// A point.
    Point(PointId),
    /// All findings.
    Findings,
    /// One finding, by its key.
    Finding(String),
    /// Writing a finding, at a point if there is one.
    NewFinding(Option<PointId>),
    /// A photo.
    Photo(PhotoId),
    /// All photos, to be placed.
    Tray,
    /// The report as it would be made now.
    Report,
    /// Waits under way.
    Waits,
    /// States of the site.
    States,
    /// Search.
    Search,
    /// Agreement and invoice.
    Engagement,
    /// The job's instruments; one of them is at hand.
    Instruments(Option<InstrumentId>),
    /// What is left before leaving.
    Left,
    /// What comes next, and why.
    Schedule,
    /// What became of the findings of an earlier inspection; one of them is at hand.
    Again(Option<String>),
    /// Releasing the job, and what was released.
    Release,
}

impl Screen {
    /// The part of the address behind the job.
    pub(crate) fn to_path(&self) -> String {
        match self {
            Self::Opening => String::new(),
            Self::Line => "line".to_owned(),
            Self::Stop(id) => format!("stop/{id}"),
            Self::Point(id) => format!("point/{id}"),
            Self::Findings => "findings".to_owned(),
            Self::Finding(key) => format!("finding/{key}"),
            Self::NewFinding(None) => "new-finding".to_owned(),
            Self::NewFinding(Some(point)) => format!("new-finding/{point}"),
            Self::Photo(id) => format!("photo/{id}"),
            Self::Tray => "photos".to_owned(),
            Self::Report => "report".to_owned(),
            Self::Waits => "waits".to_owned(),
            Self::States => "site".to_owned(),
            Self::Search => "search".to_owned(),
            Self::Engagement => "engagement".to_owned(),
            Self::Instruments(None) => "instruments".to_owned(),
            Self::Instruments(Some(id)) => format!("instruments/{id}"),
            Self::Left => "left".to_owned(),
            Self::Schedule => "schedule".to_owned(),
            Self::Again(None) => "again".to_owned(),
            Self::Again(Some(key)) => format!("again/{key}"),
            Self::Release => "release".to_owned(),
        }
    }

    /// The screen of such an address.
    pub(crate) fn from_path(path: &str) -> Option<Self> {
        if let Some((kind, id)) = path.split_once('/') {
            return Some(match kind {
                "stop" => Self::Stop(id.to_owned()),
                "point" => Self::Point(id.into()),
                "finding" => Self::Finding(id.to_owned()),
                "new-finding" => Self::NewFinding(Some(id.into())),
                "photo" => Self::Photo(id.into()),
                "again" => Self::Again(Some(id.to_owned())),
                "instruments" => Self::Instruments(Some(id.into())),
                _ => return None,
            });
        }
        Some(match path {
            "" => Self::Opening,
            "line" => Self::Line,
            "findings" => Self::Findings,
            "new-finding" => Self::NewFinding(None),
            "photos" => Self::Tray,
            "report" => Self::Report,
            "waits" => Self::Waits,
            "site" => Self::States,
            "search" => Self::Search,
            "engagement" => Self::Engagement,
            "instruments" => Self::Instruments(None),
            "left" => Self::Left,
            "schedule" => Self::Schedule,
            "again" => Self::Again(None),
            "release" => Self::Release,
            _ => return None,
        })
    }
}

/// Goes to a screen of the open job.
fn go(screen: Screen) {
    let app = app();
    let job = app.place().with_untracked(|place| place.job().cloned());
    if let Some(job) = job {
        app.go(Place::Job(job, screen));
    }
}

/// The chosen system of units; asked again when another is chosen.
fn units() -> field::UnitSystem {
    app().settings().with(|settings| settings.units)
}

/// Today, by the device's clock.
fn today() -> jiff::civil::Date {
    app().now().moment.local.date()
}

/// The language in which a browser spells what is written for the report: that of its pages here.
fn report_language() -> String {
    app().settings().with(|settings| settings.language.code().to_owned())
}

/// Something seen in the open visit, asked again when the record has changed.
fn seen<T: Clone + Default + PartialEq + Send + Sync + 'static>(
    look: impl Fn(&field::Visit) -> T + Send + Sync + 'static,
) -> Memo<T> {
    Memo::new(move |_| app().visit(&look).unwrap_or_default())
}

/// A job's screen, as the rest of the program gets it.
pub(crate) fn job_screen() -> AnyView {
    view! { <JobScreen/> }.into_any()
}

/// The screen of all jobs together, likewise.
pub(crate) fn archive_screen() -> AnyView {
    view! { <archive::ArchiveScreen/> }.into_any()
}

#[component]
fn JobScreen() -> impl IntoView {
    let app = app();
    let screen = Memo::new(move |_| match app.place().get() {
        Place::Job(_, screen) => screen,
        Place::Pairing(_) | Place::Jobs | Place::NewJob | Place::Settings | Place::Archive => {
            Screen::default()
        }
    });
    // Another screen begins at its top, for the eye and for whoever listens.
    Effect::new(move |before: Option<()>| {
        screen.track();
        if before.is_some() {
            navigation::to_the_top();
        }
    });
    view! {
        {move || match screen.get() {
            Screen::Opening => view! { <opening::OpeningScreen/> }.into_any(),
            Screen::Line => view! { <line::LineScreen/> }.into_any(),
            Screen::Stop(id) => view! { <stop::StopScreen id/> }.into_any(),
            Screen::Point(id) => view! { <point::PointScreen id/> }.into_any(),
            Screen::Findings if wide() => view! { <desk_findings::DeskFindings key=None/> }.into_any(),
            Screen::Finding(key) if wide() => view! { <desk_findings::DeskFindings key=Some(key)/> }.into_any(),
            Screen::Left if wide() => view! { <missing::DeskMissing/> }.into_any(),
            Screen::Findings => view! { <findings::FindingsScreen/> }.into_any(),
            Screen::Finding(key) => view! { <finding::FindingScreen key/> }.into_any(),
            Screen::NewFinding(point) => view! { <finding::NewFindingScreen point/> }.into_any(),
            Screen::Photo(id) => view! { <photo::PhotoScreen id/> }.into_any(),
            Screen::Tray => view! { <tray::TrayScreen/> }.into_any(),
            Screen::Report => view! { <live::ReportScreen/> }.into_any(),
            Screen::Waits => view! { <waits::WaitsScreen/> }.into_any(),
            Screen::States => view! { <states::StatesScreen/> }.into_any(),
            Screen::Search => view! { <search::SearchScreen/> }.into_any(),
            Screen::Engagement => view! { <engagement::EngagementScreen/> }.into_any(),
            Screen::Instruments(id) => view! { <instruments::InstrumentsScreen id/> }.into_any(),
            Screen::Left => view! { <left::LeftScreen/> }.into_any(),
            Screen::Schedule => view! { <schedule::ScheduleScreen/> }.into_any(),
            Screen::Again(key) => view! { <again::AgainScreen key/> }.into_any(),
            Screen::Release => view! { <release::ReleaseScreen/> }.into_any(),
        }}
        <navigation::Navigation screen/>
        <keys::Keys/>
    }
}
