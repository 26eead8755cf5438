//! All jobs of the server together: which there are, how often something was found where, and tables for other programs.
//!
//! The server counts; nothing is worked out here. Without a line what it said last stays in sight, and that it is needed is said.

mod figures;
mod filter;
mod list;
mod plot;

use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crate::app::{Line, app, say, say_with};
use crate::line::{
    ArchiveChoices, ArchiveFigures, ArchiveLine, ArchivedJob, ArchivedJobs, NoAnswer, Query,
};

/// Lines of figures that are asked for at first, and how many more each time.
const LINES: usize = 20;

/// Which jobs count; what is empty leaves nobody out.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
struct Filter {
    kind: String,
    age: String,
    region: String,
    purpose: String,
    from: String,
    to: String,
}

/// What of them is counted.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Question {
    point: String,
    /// `found`, `not-conforming` or `held`.
    of: String,
    /// What is told apart: kind, age, region.
    per: [bool; 3],
    /// So many lines.
    most: usize,
}

impl Default for Question {
    fn default() -> Self {
        Self { point: String::new(), of: "found".to_owned(), per: [false; 3], most: LINES }
    }
}

impl Filter {
    fn query(&self) -> Query {
        let Self { kind, age, region, purpose, from, to } = self.clone();
        vec![
            ("kind", kind),
            ("age", age),
            ("region", region),
            ("purpose", purpose),
            ("from", from),
            ("to", to),
        ]
    }
}

impl Question {
    fn query(&self, filter: &Filter) -> Query {
        let per = filter::PER.iter().zip(self.per).filter(|(_, told)| *told);
        let per: Vec<&str> = per.map(|((word, _), _)| *word).collect();
        let mut query = filter.query();
        query.extend([
            ("point", self.point.clone()),
            ("of", self.of.clone()),
            ("per", per.join(",")),
        ]);
        query
    }
}

/// What the parts of the screen share.
#[derive(Debug, Clone, Copy)]
struct Desk {
    filter: RwSignal<Filter>,
    question: RwSignal<Question>,
    choices: RwSignal<ArchiveChoices>,
    /// The jobs so far, and how many there are in all; none before the first answer.
    jobs: RwSignal<Option<(Vec<ArchivedJob>, usize)>>,
    figures: RwSignal<Option<ArchiveFigures>>,
    /// Why the server says nothing newer.
    trouble: RwSignal<Option<NoAnswer>>,
    /// Something is asked for that the screen does not show yet.
    asking: RwSignal<bool>,
    /// Jobs that have just changed and are not worked out yet.
    behind: RwSignal<usize>,
    /// A table is on its way.
    saving: RwSignal<bool>,
    /// How often the server was asked: only the last answer counts.
    asked: StoredValue<u64>,
}

impl Desk {
    fn new() -> Self {
        Self {
            filter: RwSignal::default(),
            question: RwSignal::default(),
            choices: RwSignal::default(),
            jobs: RwSignal::new(None),
            figures: RwSignal::new(None),
            trouble: RwSignal::new(None),
            asking: RwSignal::new(true),
            behind: RwSignal::new(0),
            saving: RwSignal::new(false),
            asked: StoredValue::new(0),
        }
    }

    /// Asks the server for everything that is shown.
    fn look(self) {
        self.asked.update_value(|asked| *asked += 1);
        let turn = self.asked.get_value();
        let (filter, question) = (self.filter.get_untracked(), self.question.get_untracked());
        self.asking.set(true);
        spawn_local(async move {
            let answer = match app().archive_line() {
                Some(line) => all_of(&line, &filter, &question).await,
                None => Err(NoAnswer::NoLine),
            };
            // The screen may be gone by now, or something else is asked for.
            if self.asked.try_get_value() != Some(turn) {
                return;
            }
            self.asking.set(false);
            match answer {
                Ok((choices, jobs, figures)) => {
                    self.trouble.set(None);
                    self.choices.set(choices);
                    self.behind.set(jobs.behind);
                    self.jobs.set(Some((jobs.listed, jobs.jobs)));
                    self.figures.set(Some(figures));
                }
                Err(why) => self.trouble.set(Some(why)),
            }
        });
    }

    /// Asks for the jobs behind those that are shown.
    fn more_jobs(self) {
        let shown = self.jobs.with_untracked(|jobs| jobs.as_ref().map_or(0, |it| it.0.len()));
        let (turn, filter) = (self.asked.get_value(), self.filter.get_untracked());
        spawn_local(async move {
            let Some(line) = app().archive_line() else { return };
            let answer = line.jobs(&filter.query(), shown).await;
            if self.asked.try_get_value() != Some(turn) {
                return;
            }
            match answer {
                Ok(more) => self.jobs.update(|jobs| {
                    if let Some((listed, all)) = jobs.as_mut().filter(|it| it.0.len() == shown) {
                        listed.extend(more.listed);
                        *all = more.jobs;
                    }
                }),
                Err(why) => self.trouble.set(Some(why)),
            }
        });
    }

    /// Saves a table of what is shown.
    fn save(self, name: &'static str) {
        if self.saving.get_untracked() {
            return;
        }
        let query = self.question.get_untracked().query(&self.filter.get_untracked());
        self.saving.set(true);
        spawn_local(async move {
            let answer = match app().archive_line() {
                Some(line) => line.table(name, &query).await,
                None => Err(NoAnswer::NoLine),
            };
            let _idle = self.saving.try_set(false);
            match answer {
                Ok(file) => app().save(&file, &format!("nearside-{name}")).await,
                Err(why) => app().say(app().no_archive(&why)),
            }
        });
    }
}

async fn all_of(
    line: &ArchiveLine,
    filter: &Filter,
    question: &Question,
) -> Result<(ArchiveChoices, ArchivedJobs, ArchiveFigures), NoAnswer> {
    let choices = line.choices().await?;
    let jobs = line.jobs(&filter.query(), 0).await?;
    let figures = line.figures(&question.query(filter), question.most).await?;
    Ok((choices, jobs, figures))
}

/// The screen.
#[component]
pub(super) fn ArchiveScreen() -> impl IntoView {
    let desk = Desk::new();
    let line = Memo::new(move |_| app().line().get());
    app().fetch_plan_texts();
    Effect::new(move |_| {
        desk.filter.track();
        desk.question.track();
        // A line that works again is a reason to ask anew.
        line.track();
        desk.look();
    });
    let there = Memo::new(move |_| desk.jobs.with(Option::is_some));
    view! {
        <h1>{move || say("archive-title")}</h1>
        <p class="hint">{move || say("archive-hint")}</p>
        <Standing desk line/>
        <filter::Filters desk/>
        {move || there.get().then(|| view! {
            <div class="archive">
                <section aria-labelledby="archive-jobs-title"><list::Jobs desk/></section>
                <section aria-labelledby="archive-figures-title"><figures::Figures desk/></section>
            </div>
        })}
    }
}

/// How what is shown stands to the server.
#[component]
fn Standing(desk: Desk, line: Memo<Line>) -> impl IntoView {
    let trouble = move || match (desk.trouble.get(), line.get()) {
        (Some(_), Line::Unpaired) => Some(say("archive-unpaired")),
        (Some(why), _) => Some(app().no_archive(&why)),
        (None, _) => None,
    };
    let words = move || match (desk.asking.get(), desk.trouble.get().is_some()) {
        (true, _) => say("office-under-way"),
        (false, true) => String::new(),
        (false, false) => {
            let all = desk.choices.with(|choices| choices.jobs).to_string();
            let mut said = say_with("archive-fresh", &[("count", &all)]);
            let behind = desk.behind.get();
            if behind > 0 {
                said.push(' ');
                said.push_str(&say_with("find-behind", &[("count", &behind.to_string())]));
            }
            said
        }
    };
    let word = move || match (desk.asking.get(), desk.trouble.get().is_some()) {
        (true, _) => "under-way",
        (false, true) => "no",
        (false, false) => "fresh",
    };
    view! {
        <p role="status" class="quiet" id="archive-standing" data-standing=word>{words}</p>
        <p role="alert" class="trouble" id="archive-trouble">{trouble}</p>
    }
}

/// Both forms of a table, to be saved.
#[component]
fn Save(
    desk: Desk,
    /// The files' names, as CSV and as Parquet.
    names: [&'static str; 2],
    /// What is saved, for whoever has the buttons read aloud.
    what: &'static str,
) -> impl IntoView {
    let [csv, parquet] = names;
    let button = move |name: &'static str, key: &'static str| {
        view! {
            <button id=format!("save-{}", name.replace('.', "-")) aria-disabled=move || desk.saving.get().to_string()
                on:click=move |_| desk.save(name)>
                {move || say_with(key, &[("what", &say(what))])}
            </button>
        }
    };
    view! {
        <p class="actions">{button(csv, "archive-save-csv")}{button(parquet, "archive-save-parquet")}</p>
    }
}
