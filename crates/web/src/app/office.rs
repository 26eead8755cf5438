//! The office at the desk: what the server says of a job's addresses and invoices, and what is asked of it.
//!
//! Nothing of this is kept on the device: numbers, addresses and PDFs are the server's. Where it is out of reach, that is
//! said, what it said last stays in sight, and nothing that was typed is lost.

use leptos::prelude::*;
use serde::de::DeserializeOwned;
use wasm_bindgen::JsCast as _;
use wasm_bindgen_futures::spawn_local;
use web_sys::{Blob, BlobPropertyBag, HtmlElement, Url};

use super::{App, Line, core::core, say, say_with};
use crate::browser::{said, wait, window};
use crate::line::{self, Engagement, NotDone, OfficeAsk};

/// How often it is looked whether the entries have arrived at the server, milliseconds and times.
const LOOK_AGAIN: (i32, u32) = (100, 100);

/// What the server said last of a job's addresses and invoices.
#[derive(Clone, Copy)]
pub(crate) struct Desk {
    /// It; none before the first answer.
    pub(crate) engagement: RwSignal<Option<Engagement>>,
    /// How that stands.
    pub(crate) standing: RwSignal<DeskStanding>,
    /// Something is being asked.
    pub(crate) busy: RwSignal<bool>,
}

/// How what is shown stands to the server.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) enum DeskStanding {
    /// It is being asked for.
    #[default]
    UnderWay,
    /// It is what the server says.
    Fresh,
    /// The server cannot be reached.
    NoLine,
    /// It was refused. Why, in a sentence.
    Refused(String),
}

impl App {
    /// What the server says of the open job, asked anew when the line comes back and when the record has changed.
    pub(crate) fn desk(self) -> Desk {
        let desk = Desk {
            engagement: RwSignal::default(),
            standing: RwSignal::default(),
            busy: RwSignal::new(false),
        };
        Effect::new(move |_| {
            self.revision.track();
            let line = self.line().get();
            if self.open.get().is_none() {
                return;
            }
            if matches!(line, Line::Unpaired | Line::ShutOut(_)) {
                return desk.standing.set(DeskStanding::NoLine);
            }
            spawn_local(async move { self.look_again_at_the_office(desk).await });
        });
        desk
    }

    /// Asks how things stand now.
    pub(crate) async fn look_again_at_the_office(self, desk: Desk) {
        let answer: Result<Engagement, NotDone> = self.ask_office(&OfficeAsk::Standing).await;
        // The screen may be gone by now.
        match answer {
            Ok(engagement) => desk.show(engagement),
            Err(why) => {
                let standing = match &why {
                    NotDone::NoLine | NotDone::NotCopied => DeskStanding::NoLine,
                    NotDone::Refused { .. } => DeskStanding::Refused(no_answer_words(&why)),
                };
                let _shown = desk.standing.try_set(standing);
            }
        }
    }

    /// Asks the office, and reads its answer.
    pub(crate) async fn ask_office<T: DeserializeOwned>(
        self,
        asked: &OfficeAsk,
    ) -> Result<T, NotDone> {
        line::read(&self.ask_office_for_bytes(asked).await?)
    }

    /// Asks the office, once everything that the answer rests on is at the server.
    async fn ask_office_for_bytes(self, asked: &OfficeAsk) -> Result<Vec<u8>, NotDone> {
        let only_here = || untrack(|| self.copied().get()).only_here;
        if asked.rests_on_the_record() {
            for _ in 0..LOOK_AGAIN.1 {
                if only_here() == 0 || untrack(|| self.line().get()) == Line::Off {
                    break;
                }
                wait(LOOK_AGAIN.0).await;
            }
            if only_here() > 0 {
                return Err(match untrack(|| self.line().get()) {
                    Line::Working => NotDone::NotCopied,
                    Line::Waiting | Line::Off | Line::ShutOut(_) | Line::Unpaired => {
                        NotDone::NoLine
                    }
                });
            }
        }
        let key = core().and_then(|core| core.identity.borrow().key.clone());
        let (Some(key), Some(job)) = (key, self.open.get_untracked()) else {
            return Err(NotDone::NoLine);
        };
        line::office(&key, &job, asked).await
    }

    /// Asks for something that changes how things stand, shows the outcome, and tells whether it was done. What cannot be
    /// is said in a sentence.
    pub(crate) async fn at_the_office(self, desk: Desk, asked: OfficeAsk) -> bool {
        if desk.busy.get_untracked() {
            return false;
        }
        desk.busy.set(true);
        let answer: Result<Engagement, NotDone> = self.ask_office(&asked).await;
        let _idle = desk.busy.try_set(false);
        match answer {
            Ok(engagement) => {
                desk.show(engagement);
                true
            }
            Err(why) => {
                self.say(no_answer_words(&why));
                // What was seen may be older than what is.
                self.look_again_at_the_office(desk).await;
                false
            }
        }
    }

    /// Asks for an answer of another kind, with the same sentences where there is none.
    pub(crate) async fn answer_of_the_office<T: DeserializeOwned>(
        self,
        desk: Desk,
        asked: OfficeAsk,
    ) -> Option<T> {
        if desk.busy.get_untracked() {
            return None;
        }
        desk.busy.set(true);
        let answer = self.ask_office(&asked).await;
        let _idle = desk.busy.try_set(false);
        answer.map_err(|why| self.say(no_answer_words(&why))).ok()
    }

    /// Saves a PDF of the office under a name.
    pub(crate) fn save_pdf(self, desk: Desk, asked: OfficeAsk, name: String) {
        if desk.busy.get_untracked() {
            return;
        }
        desk.busy.set(true);
        spawn_local(async move {
            let answer = self.ask_office_for_bytes(&asked).await;
            let _idle = desk.busy.try_set(false);
            match answer {
                Ok(bytes) => {
                    if let Err(why) = save(&bytes, &name) {
                        self.say(why);
                    }
                }
                Err(why) => self.say(no_answer_words(&why)),
            }
        });
    }
}

impl Desk {
    fn show(self, engagement: Engagement) {
        let _shown = self.engagement.try_set(Some(engagement));
        let _said = self.standing.try_set(DeskStanding::Fresh);
    }
}

/// Hands bytes to the browser as a file to keep or to open.
fn save(bytes: &[u8], name: &str) -> Result<(), String> {
    let options = BlobPropertyBag::new();
    options.set_type("application/pdf");
    let parts = js_sys::Array::of1(&js_sys::Uint8Array::from(bytes));
    let blob = Blob::new_with_u8_array_sequence_and_options(&parts, &options)
        .map_err(|error| said(&error))?;
    let address = Url::create_object_url_with_blob(&blob).map_err(|error| said(&error))?;
    let document = window().and_then(|window| window.document()).ok_or("there is no page")?;
    let link = document.create_element("a").map_err(|error| said(&error))?;
    for (attribute, value) in [("href", address.as_str()), ("download", name)] {
        link.set_attribute(attribute, value).map_err(|error| said(&error))?;
    }
    let link: HtmlElement = link.dyn_into().map_err(|_| "a link is no element of the page")?;
    link.click();
    // The browser takes the bytes soon, not at once.
    spawn_local(async move {
        wait(60_000).await;
        drop(Url::revoke_object_url(&address));
    });
    Ok(())
}

/// Why there is no answer, in the chosen language where the reason is known.
pub(crate) fn no_answer_words(why: &NotDone) -> String {
    match why {
        NotDone::NoLine => say("office-no-line"),
        NotDone::NotCopied => say("office-not-copied"),
        NotDone::Refused { reason, detail } => match reason.as_str() {
            "no_fee" => say("office-no-fee"),
            "no_seller" => say("office-no-seller"),
            "no_client" => say("office-no-client"),
            "less_than_nothing" => say("office-less-than-nothing"),
            "invoice_stands" | "changed_since" => say("office-changed-since"),
            "no_agreement" => say("office-no-agreement"),
            "no_reason" => say("office-no-reason"),
            "no_way" => say("office-no-way"),
            "no_amount" => say("office-no-amount"),
            "no_day" => say("office-no-day"),
            "number_taken" => say("inspect-again-taken"),
            "no_number" => say("inspect-again-no-number"),
            "days" => say("office-days"),
            "not_one_line" => say("office-not-one-line"),
            "long_prefix" => say("office-long-prefix"),
            "one_job" => say("office-one-job"),
            "busy" => say("office-busy"),
            _ => say_with("office-refused", &[("why", detail)]),
        },
    }
}
