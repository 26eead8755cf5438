//! Live pages: a part of the report as the server lays it out, anew whenever the record or what is typed has changed.
//!
//! Only the newest counts: what is asked for is given up as soon as something newer is wanted. Until its pages are there
//! the older ones stay, and are said to be older.

use std::cell::RefCell;
use std::rc::Rc;

use field::UnitSystem;
use leptos::prelude::*;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::spawn_local;
use web_sys::{AbortController, Blob, BlobPropertyBag, Url};

use super::{App, Line, core::core};
use crate::browser::{mark, wait};
use crate::line::{self, NoPages, PagesWanted, ReportPart};

/// So long nothing more must be typed before pages are asked for, milliseconds.
const QUIET: i32 = 100;
/// How often it is looked whether the entries have arrived at the server, and how often at most.
const LOOK_AGAIN: (i32, u32) = (40, 250);

/// The pages of a part as they are shown.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Live {
    /// Addresses of the pages.
    pub(crate) pages: Vec<String>,
    /// What cannot be shown.
    pub(crate) remarks: Vec<String>,
    /// The parts that the report has.
    pub(crate) parts: Vec<ReportPart>,
    /// How they stand to the record.
    pub(crate) standing: LiveStanding,
}

/// How pages stand to the record.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) enum LiveStanding {
    /// They are being laid out; until then older ones are shown.
    #[default]
    UnderWay,
    /// They show everything.
    Fresh,
    /// The server cannot be reached, so older ones are shown.
    NoLine,
    /// There are none. Why, in the server's words.
    Refused(String),
}

impl App {
    /// Pages of what is wanted, for as long as the caller's owner lives.
    pub(crate) fn live(self, wanted: Signal<PagesWanted>) -> Signal<Live> {
        let live = RwSignal::new(Live::default());
        let asked: Rc<RefCell<Option<AbortController>>> = Rc::default();
        let given_up = StoredValue::new_local(Rc::clone(&asked));
        on_cleanup(move || {
            given_up.with_value(|asked| {
                if let Some(asked) = asked.borrow_mut().take() {
                    asked.abort();
                }
            });
            for page in live.try_get_untracked().map(|live| live.pages).unwrap_or_default() {
                drop(Url::revoke_object_url(&page));
            }
        });
        Effect::new(move |_| {
            self.revision.track();
            // A line that works again is a reason to ask.
            let line = self.line().get();
            let mut wanted = wanted.get();
            let settings = self.settings.get();
            wanted.units = if settings.units == UnitSystem::Si { "si" } else { "us" }.to_owned();
            settings.paper.word().clone_into(&mut wanted.paper);
            let Ok(stop) = AbortController::new() else { return };
            if let Some(older) = asked.borrow_mut().replace(stop.clone()) {
                older.abort();
            }
            live.update(|live| live.standing = LiveStanding::UnderWay);
            if matches!(line, Line::Unpaired | Line::ShutOut(_)) {
                return live.update(|live| live.standing = LiveStanding::NoLine);
            }
            spawn_local(self.lay_out(wanted, stop, live));
        });
        live.into()
    }

    async fn lay_out(self, wanted: PagesWanted, stop: AbortController, live: RwSignal<Live>) {
        wait(QUIET).await;
        let over = || stop.signal().aborted();
        // What is not on the server yet cannot be on its pages.
        for _ in 0..LOOK_AGAIN.1 {
            if over() || untrack(|| self.copied().get()).only_here == 0 {
                break;
            }
            wait(LOOK_AGAIN.0).await;
        }
        let Some(core) = core() else { return };
        let key = core.identity.borrow().key.clone();
        let (Some(key), Some(job), false) = (key, self.open.get_untracked(), over()) else {
            return;
        };
        let all_there = untrack(|| self.copied().get()).only_here == 0;
        let answer = line::pages(&key, &job, &wanted, &stop.signal()).await;
        if over() {
            return;
        }
        match answer {
            Ok(laid_out) => {
                let pages = laid_out.pages.iter().filter_map(|page| address_of(page)).collect();
                let standing = if all_there { LiveStanding::Fresh } else { LiveStanding::NoLine };
                let (remarks, parts) = (laid_out.remarks, laid_out.parts);
                let older = live.try_update(|live| {
                    std::mem::replace(live, Live { pages, remarks, parts, standing })
                });
                for page in older.map(|older| older.pages).unwrap_or_default() {
                    drop(Url::revoke_object_url(&page));
                }
                mark("pages");
            }
            Err(why) => {
                let standing = match why {
                    NoPages::NoLine => LiveStanding::NoLine,
                    NoPages::Refused(why) => LiveStanding::Refused(why),
                };
                // The screen may be gone by now.
                let _shown = live.try_update(|live| live.standing = standing);
            }
        }
    }
}

/// An address for a page: as a picture it runs no script and fetches nothing, whatever is in it.
fn address_of(page: &str) -> Option<String> {
    let options = BlobPropertyBag::new();
    options.set_type("image/svg+xml");
    let parts = js_sys::Array::of1(&JsValue::from_str(page));
    let blob = Blob::new_with_str_sequence_and_options(&parts, &options).ok()?;
    Url::create_object_url_with_blob(&blob).ok()
}
