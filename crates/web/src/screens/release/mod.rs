//! Releasing the job: what must be true first, who signs, and what was frozen.

mod kept;
mod matters;
mod share;
mod sign;

use std::cell::RefCell;
use std::collections::BTreeMap;

use field::UnitSystem;
use field::view::Remark;
use leptos::prelude::*;
use sync::JobId;
use wasm_bindgen_futures::spawn_local;

use super::marks::{Icon, Shape};
use super::missing::screen_of;
use super::{Screen, go, seen};
use crate::app::{Line, app, say, say_with, texts};
use crate::line::{NoAnswer, OpenMatter, ReleaseStanding};

thread_local! {
    /// What was typed and not released yet, by job: going to a point and coming back loses none of it.
    static TYPED: RefCell<BTreeMap<JobId, Terms>> = const { RefCell::new(BTreeMap::new()) };
}

/// On what terms the job is to be released, as far as they were typed. The passphrase is not among them.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
struct Terms {
    /// Words in which open matters are accepted.
    words: BTreeMap<String, String>,
    because: String,
    countersigner: String,
    key: String,
    language: String,
    paper: String,
    units: String,
}

/// What the parts of the screen share.
#[derive(Debug, Clone, Copy)]
struct Desk {
    /// What the server says; none until it has.
    standing: RwSignal<Option<ReleaseStanding>>,
    /// Why it says nothing newer.
    trouble: RwSignal<Option<NoAnswer>>,
    terms: RwSignal<Terms>,
    /// The open matter that is looked at.
    at_hand: RwSignal<String>,
    /// How often the server was asked: only the last answer counts.
    asked: StoredValue<u64>,
    job: StoredValue<Option<JobId>>,
}

impl Desk {
    fn new() -> Self {
        let job = app().place().with_untracked(|place| place.job().cloned());
        let typed = TYPED.with_borrow(|all| job.as_ref().and_then(|job| all.get(job)).cloned());
        let terms = typed.unwrap_or_else(|| {
            app().settings().with_untracked(|settings| Terms {
                language: settings.language.code().to_owned(),
                paper: "letter".to_owned(),
                units: if settings.units == UnitSystem::Si { "si" } else { "us" }.to_owned(),
                ..Terms::default()
            })
        });
        Self {
            standing: RwSignal::new(None),
            trouble: RwSignal::new(None),
            terms: RwSignal::new(terms),
            at_hand: RwSignal::default(),
            asked: StoredValue::new(0),
            job: StoredValue::new(job),
        }
    }

    /// Asks the server anew, once what was entered here has arrived there.
    fn look(self) {
        self.asked.update_value(|asked| *asked += 1);
        let turn = self.asked.get_value();
        spawn_local(async move {
            app().arrived_there().await;
            let answer = match app().release_line() {
                Some(line) => line.standing().await,
                None => Err(NoAnswer::NoLine),
            };
            if self.asked.try_get_value() != Some(turn) {
                return;
            }
            match answer {
                Ok(standing) => {
                    self.trouble.set(None);
                    self.choose_key(&standing);
                    self.standing.set(Some(standing));
                }
                Err(why) => self.trouble.set(Some(why)),
            }
        });
    }

    /// The first key signs until another is chosen.
    fn choose_key(self, standing: &ReleaseStanding) {
        let chosen = self.terms.with_untracked(|terms| terms.key.clone());
        if standing.keys.iter().all(|key| key.key != chosen) {
            let first = standing.keys.first().map(|key| key.key.clone()).unwrap_or_default();
            self.terms.update(|terms| terms.key = first);
        }
    }

    /// The matters that are open and not accepted.
    fn left(self) -> Vec<OpenMatter> {
        let matters =
            self.standing.with(|it| it.as_ref().map(|it| it.matters.clone()).unwrap_or_default());
        self.terms.with(|terms| {
            matters.into_iter().filter(|it| !terms.words.contains_key(&it.matter)).collect()
        })
    }
}

/// The screen.
#[component]
pub(super) fn ReleaseScreen() -> impl IntoView {
    let desk = Desk::new();
    let line = Memo::new(move |_| app().line().get());
    let photos_there = Memo::new(move |_| app().copied().get().photos_only_here == 0);
    Effect::new(move |_| {
        // What was entered, a line that works again and photos that have arrived are reasons to ask anew.
        let _seen = app().visit(|_| ());
        line.track();
        photos_there.track();
        desk.look();
    });
    Effect::new(move |_| {
        let terms = desk.terms.get();
        if let Some(job) = desk.job.get_value() {
            TYPED.with_borrow_mut(|all| all.insert(job, terms));
        }
    });
    let there = Memo::new(move |_| desk.standing.with(Option::is_some));
    let trouble = move || match (desk.trouble.get(), line.get()) {
        (Some(why), _) => Some(app().no_answer(&why)),
        (None, Line::Unpaired) => Some(say("release-unpaired")),
        (None, _) => None,
    };
    view! {
        <h1>{move || say("release-title")}</h1>
        <p role="alert" class="trouble" id="release-trouble">{trouble}</p>
        {move || (!there.get() && desk.trouble.get().is_none()).then(|| view! { <p class="quiet" role="status">{say("release-asking")}</p> })}
        {move || there.get().then(|| view! {
            <div class="release-grid">
                <section aria-labelledby="open-title">
                    <h2 id="open-title">{move || say("release-open-title")}</h2>
                    <NotThereYet desk/>
                    <matters::Matters desk/>
                    <Remarks/>
                </section>
                <div>
                    <sign::Sign desk/>
                    <kept::Released desk/>
                    <p class="actions"><button id="to-inspect-again" on:click=move |_| go(Screen::Again(None))>
                        {move || say("inspect-again-title")}
                    </button></p>
                </div>
            </div>
        })}
    }
}

/// What no words can accept: what the server does not have.
#[component]
fn NotThereYet(desk: Desk) -> impl IntoView {
    let here = Memo::new(move |_| {
        let copied = app().copied().get();
        (copied.only_here, copied.photos_only_here)
    });
    let absent = Memo::new(move |_| {
        desk.standing
            .with(|it| it.as_ref().map_or((0, 0), |it| (it.absent_photos, it.absent_memos)))
    });
    let lines = move || {
        let ((entries, files), (photos, memos)) = (here.get(), absent.get());
        let counted = |key: &str, count: usize| {
            (count > 0).then(|| say_with(key, &[("count", &count.to_string())]))
        };
        [
            counted("release-entries-here", entries),
            counted("release-files-here", files),
            counted("release-photos-absent", photos),
            counted("release-memos-absent", memos),
        ]
        .into_iter()
        .flatten()
        .collect::<Vec<String>>()
    };
    view! {
        {move || {
            let lines = lines();
            (!lines.is_empty()).then(|| view! {
                <div class="caution" id="not-there-yet">
                    <ul>{lines.into_iter().map(|line| view! { <li>{line}</li> }).collect_view()}</ul>
                    <p class="actions"><button on:click=move |_| go(Screen::Tray)>{say("release-see-photos")}</button></p>
                </div>
            })
        }}
    }
}

/// What a reader might stumble over, each one press from the text it is about: it stops nothing.
#[component]
fn Remarks() -> impl IntoView {
    let promised = seen(|visit| visit.remarks(&[]));
    let left_over = app().left_over();
    let all = Memo::new(move |_| {
        let mut all = promised.get();
        all.extend(left_over.get());
        all
    });
    view! {
        {move || {
            let all = all.get();
            (!all.is_empty()).then(|| view! {
                <h2>{say("release-remarks")}</h2>
                <ul class="points" id="release-remarks">
                    {all.into_iter().map(|remark| view! { <One remark/> }).collect_view()}
                </ul>
            })
        }}
    }
}

#[component]
fn One(remark: Remark) -> impl IntoView {
    let (place, what) = (texts().of(&remark.place), texts().of(&remark.what));
    let at = screen_of(&remark.target, remark.place.key == "text-rechecked");
    view! {
        <li>
            <button class="row" on:click=move |_| go(at.clone())>
                <Icon shape=Shape::Beyond/>
                <span class="row-words">
                    <span class="row-title">{remark.title}</span>
                    <span class="row-facts"><span>{format!("{place}: {what}")}</span></span>
                </span>
            </button>
        </li>
    }
}

/// A moment in universal time as people read it.
fn moment(at: &str) -> String {
    at.replacen('T', " ", 1).trim_end_matches('Z').to_owned() + " UTC"
}

/// A time of the server by this device's clock.
fn local(unix_ms: i64) -> String {
    #[allow(clippy::cast_precision_loss, reason = "milliseconds of any date fit")]
    let date = js_sys::Date::new(&wasm_bindgen::JsValue::from_f64(unix_ms as f64));
    crate::browser::moment_of(&date).local.strftime("%Y-%m-%d %H:%M").to_string()
}
