//! What every screen has at hand: the open visit, what is kept and copied, settings, where one is.
//!
//! [`App`] is a handful of signals and may be copied anywhere; what it works on lies in `core`, once in the page. An
//! act takes effect in the visit at once, goes to the disk, and only then to the server; "kept" is what the disk has
//! said, never what was hoped.

mod alerts;
mod alone;
mod archived;
mod boot;
mod clock;
mod core;
mod day;
mod drawn;
mod engine;
mod find;
mod identity;
mod job;
mod left_over;
mod live;
mod memo;
mod office;
mod other_job;
mod photo;
mod picture;
mod place;
mod plans;
mod playing;
mod releases;
mod settings;
mod spoken;
mod standing;
mod stock;
mod texts;
mod update;
mod work;

use std::{cell::Cell, collections::BTreeMap};

use field::{Now, Visit, WaitClock};
use leptos::prelude::*;
use sync::JobId;

use crate::{
    browser::{moment, unix_seconds},
    disk::Room,
};

pub(crate) use alerts::Alerts;
pub(crate) use alone::take_over;
pub(crate) use boot::boot;
pub(crate) use day::Planned;
pub(crate) use find::{JobFound, Standing as FindStanding};
pub(crate) use live::{Live, LiveStanding};
pub(crate) use memo::Recording;
pub(crate) use office::{Desk, DeskStanding, no_answer_words};
pub(crate) use photo::UnderWay;
pub(crate) use place::Place;
pub(crate) use plans::Shelf;
pub(crate) use playing::Playing;
pub(crate) use settings::{Paper, Settings, Theme};
use spoken::Spoken;
pub(crate) use standing::{Copying, Keeping, Line};
pub(crate) use texts::{say, say_with, texts};
pub(crate) use work::work_here;

/// How far the app has come.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Stage {
    /// The disk is being read.
    Starting,
    /// The app is open in another tab, which alone may write.
    Elsewhere,
    /// It cannot start; why, in a sentence.
    Broken(String),
    /// It can be used.
    Ready,
}

/// A sentence that is shown until it is put away.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Sentence {
    /// Tells it from others of the same words.
    pub(crate) number: u64,
    /// What it says.
    pub(crate) text: String,
}

/// The app, for every screen.
#[derive(Debug, Clone, Copy)]
pub(crate) struct App {
    stage: RwSignal<Stage>,
    place: RwSignal<Place>,
    settings: RwSignal<Settings>,
    sentences: RwSignal<Vec<Sentence>>,
    /// Grows when the open visit's record changed.
    revision: RwSignal<u64>,
    /// Grows when what may be said of kept and copied has changed.
    standing: RwSignal<u64>,
    /// The job that is open, once it is read.
    open: RwSignal<Option<JobId>>,
    /// Titles of the jobs on this device.
    titles: RwSignal<BTreeMap<JobId, String>>,
    /// Jobs on the server that are not on this device, with a line for each.
    elsewhere: RwSignal<BTreeMap<JobId, String>>,
    /// What the disk said when it last refused.
    disk_trouble: RwSignal<Option<String>>,
    /// Whether the browser says that there is a network.
    online: RwSignal<bool>,
    /// Whether this device has a key, and of which server.
    paired_with: RwSignal<Option<String>>,
    /// Unix seconds.
    clock: RwSignal<i64>,
    room: RwSignal<Room>,
    /// A newer version lies ready.
    update: RwSignal<bool>,
    /// Photos that are on their way to the disk.
    photos_under_way: RwSignal<UnderWay>,
    /// Clocks of the waits that run, by job.
    clocks: RwSignal<BTreeMap<String, Vec<WaitClock>>>,
    /// What the browser lets this page do when a wait is over.
    alerts: RwSignal<Alerts>,
    /// How far a voice memo's recording has come.
    recording: RwSignal<Recording>,
    /// Which voice memo is being played.
    playing: RwSignal<Playing>,
    /// The schedule of the day.
    planned: RwSignal<Planned>,
    /// The plans that a new job may follow.
    plans: RwSignal<Shelf>,
    /// They are on their way.
    fetching_plans: RwSignal<bool>,
    /// What plans say in another language than English.
    spoken: RwSignal<Spoken>,
    /// What is searched for in all jobs, and what was found.
    find: find::Find,
    /// The inspector's own stock sentences.
    stock: RwSignal<stock::Stock>,
}

thread_local! {
    static APP: Cell<Option<App>> = const { Cell::new(None) };
}

/// The app of this page, in a view, an event or a future alike.
pub(crate) fn app() -> App {
    the_app().unwrap_or_else(App::new)
}

/// The app of this page, once it is there.
fn the_app() -> Option<App> {
    APP.get()
}

impl App {
    /// The app of this page, from now on.
    pub(crate) fn new() -> Self {
        let app = Self {
            stage: RwSignal::new(Stage::Starting),
            place: RwSignal::new(Place::Jobs),
            settings: RwSignal::new(Settings::default()),
            sentences: RwSignal::default(),
            revision: RwSignal::default(),
            standing: RwSignal::default(),
            open: RwSignal::default(),
            titles: RwSignal::default(),
            elsewhere: RwSignal::default(),
            disk_trouble: RwSignal::default(),
            online: RwSignal::new(true),
            paired_with: RwSignal::default(),
            clock: RwSignal::new(unix_seconds()),
            room: RwSignal::default(),
            update: RwSignal::default(),
            photos_under_way: RwSignal::default(),
            clocks: RwSignal::default(),
            alerts: RwSignal::default(),
            recording: RwSignal::default(),
            playing: RwSignal::default(),
            planned: RwSignal::default(),
            plans: RwSignal::default(),
            fetching_plans: RwSignal::default(),
            spoken: RwSignal::default(),
            find: find::Find::default(),
            stock: RwSignal::default(),
        };
        APP.set(Some(app));
        app
    }

    /// How far the app has come.
    pub(crate) fn stage(self) -> Signal<Stage> {
        self.stage.into()
    }

    /// Where the person is.
    pub(crate) fn place(self) -> RwSignal<Place> {
        self.place
    }

    /// What the person chose. Whatever is set here is kept on the device.
    pub(crate) fn settings(self) -> RwSignal<Settings> {
        self.settings
    }

    /// The job that is open.
    pub(crate) fn job(self) -> Option<JobId> {
        self.open.get()
    }

    /// Titles of the jobs on this device.
    pub(crate) fn titles(self) -> Signal<BTreeMap<JobId, String>> {
        self.titles.into()
    }

    /// Jobs that only the server has.
    pub(crate) fn elsewhere(self) -> Signal<BTreeMap<JobId, String>> {
        self.elsewhere.into()
    }

    /// Which server this device is paired with.
    pub(crate) fn paired_with(self) -> Signal<Option<String>> {
        self.paired_with.into()
    }

    /// How much room there is on the device.
    pub(crate) fn room(self) -> Signal<Room> {
        self.room.into()
    }

    /// Whether a newer version lies ready.
    pub(crate) fn newer_version(self) -> Signal<bool> {
        self.update.into()
    }

    /// Looks at the open visit; whoever asks inside a view or effect is asked again when the record has changed.
    pub(crate) fn visit<R>(self, look: impl FnOnce(&Visit) -> R) -> Option<R> {
        self.revision.track();
        self.open.track();
        self.visit_untracked(look)
    }

    /// Looks at the open visit once.
    pub(crate) fn visit_untracked<R>(self, look: impl FnOnce(&Visit) -> R) -> Option<R> {
        core::core()?.visit.borrow().as_ref().map(|(_, visit)| look(visit))
    }

    /// The time, ticking every second while the page is seen.
    pub(crate) fn clock(self) -> Signal<i64> {
        self.clock.into()
    }

    /// The time for an act.
    pub(crate) fn now(self) -> Now {
        Now { unix_seconds: unix_seconds(), moment: moment() }
    }

    /// Shows a sentence until the person puts it away.
    pub(crate) fn say(self, text: impl Into<String>) {
        let text = text.into();
        self.sentences.update(|sentences| {
            // The same trouble again is no news.
            sentences.retain(|sentence| sentence.text != text);
            let number = sentences.last().map_or(0, |last| last.number + 1);
            sentences.push(Sentence { number, text });
        });
    }

    /// The sentences that are shown.
    pub(crate) fn sentences(self) -> RwSignal<Vec<Sentence>> {
        self.sentences
    }
}
