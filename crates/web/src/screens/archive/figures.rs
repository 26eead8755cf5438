//! How often something was found at a point, as a drawing and as a table: counts, share and interval, and too few said to be few.

use leptos::prelude::*;

use super::filter::{Chosen, PER, age_words, kind_words, point_words, region_words};
use super::plot::Plot;
use super::{Desk, LINES, Question, Save};
use crate::app::{say, say_with};
use crate::line::FigureLine;

/// What can be counted: the word of addresses, its text, and the heading of what was counted.
const OF: [(&str, &str, &str); 3] = [
    ("found", "archive-of-found", "archive-examined-found"),
    ("not-conforming", "archive-of-not-conforming", "archive-examined-not-conforming"),
    ("held", "archive-of-held", "archive-examined-held"),
];

/// The question, the drawing, the table.
#[component]
pub(super) fn Figures(desk: Desk) -> impl IntoView {
    let lines = Memo::new(move |_| {
        desk.figures.with(|it| it.as_ref().map(|it| it.figures.clone()).unwrap_or_default())
    });
    let counted = move |of: fn(&crate::line::ArchiveFigures) -> usize| {
        Memo::new(move |_| desk.figures.with(|it| it.as_ref().map_or(0, of)))
    };
    let (all, never) = (counted(|it| it.lines), counted(|it| it.never_examined));
    let left = Memo::new(move |_| all.get().saturating_sub(lines.with(Vec::len)));
    let of_one = Memo::new(move |_| desk.question.with(|it| !it.point.is_empty()));
    // The heading belongs to the lines that are shown, not to what is asked for next.
    let heading = Memo::new(move |_| {
        lines.track();
        heading(&desk.question.get_untracked(), &lines.get_untracked())
    });
    view! {
        <h2 id="archive-figures-title">{move || say("archive-figures")}</h2>
        <Ask desk/>
        {move || lines.with(Vec::is_empty).then(|| view! { <p class="quiet" id="archive-none">{say("archive-none")}</p> })}
        {move || (!lines.with(Vec::is_empty)).then(|| view! {
            {move || match lines.with(|lines| lines.iter().any(|line| line.share.is_some())) {
                true => view! { <Plot desk heading of_one/> }.into_any(),
                false => view! { <p class="quiet" id="archive-no-drawing">{say("archive-no-drawing")}</p> }.into_any(),
            }}
            <table class="sums archive-table" id="archive-table">
                <caption>{move || heading.get()}</caption>
                <thead><tr>
                    <th scope="col">{move || if of_one.get() { say("archive-column-group") } else { say("archive-column-point") }}</th>
                    <th scope="col">{move || say("archive-column-share")}</th>
                    <th scope="col">{move || say("archive-column-not-examined")}</th>
                </tr></thead>
                <tbody>{move || lines.get().into_iter().map(|line| view! {
                    <tr>
                        <th scope="row">{name(&line, of_one.get_untracked())}</th>
                        <td>{share(&line)}</td>
                        <td>{line.not_examined}</td>
                    </tr>
                }).collect_view()}</tbody>
            </table>
        })}
        {move || (left.get() > 0).then(|| view! {
            <p class="actions"><button id="archive-more-lines" on:click=move |_| desk.question.update(|it| it.most += LINES)>
                {say_with("archive-more-lines", &[("count", &left.get().to_string())])}
            </button></p>
        })}
        {move || (never.get() > 0).then(|| view! {
            <p class="quiet">{say_with("archive-never", &[("count", &never.get().to_string())])}</p>
        })}
        <p class="hint">{move || {
            let few = desk.figures.with(|it| it.as_ref().map_or(0, |it| it.too_few_below));
            say_with("archive-how-to-read", &[("few", &few.to_string())])
        }}</p>
        <Save desk names=["figures.csv", "figures.parquet"] what="archive-what-figures"/>
        <Save desk names=["points.csv", "points.parquet"] what="archive-what-points"/>
        <p class="hint">{move || say("archive-export-hint")}</p>
    }
}

/// What is asked: which point, what is counted, what is told apart.
#[component]
fn Ask(desk: Desk) -> impl IntoView {
    let change = move |put: fn(&mut Question, String)| {
        Callback::new(move |value: String| {
            desk.question.update(|question| {
                put(question, value);
                question.most = LINES;
            });
        })
    };
    let points = Signal::derive(move || {
        let all = desk.choices.with(|choices| choices.points.clone());
        all.into_iter()
            .map(|one| {
                let words = point_words(&one.point, &one.title);
                (one.point, words)
            })
            .collect::<Vec<_>>()
    });
    let of = Signal::derive(move || {
        OF.iter().skip(1).map(|(word, text, _)| ((*word).to_owned(), say(text))).collect::<Vec<_>>()
    });
    let counted = Signal::derive(move || {
        desk.question.with(|it| if it.of == "found" { String::new() } else { it.of.clone() })
    });
    view! {
        <form class="archive-filter" aria-label=move || say("archive-figures") on:submit=|event: web_sys::SubmitEvent| event.prevent_default()>
            <Chosen id="archive-point" label="archive-point" any="archive-every-point" choices=points
                chosen=Signal::derive(move || desk.question.with(|it| it.point.clone())) choose=change(|it, value| it.point = value)/>
            <Chosen id="archive-of" label="archive-of" any="archive-of-found" choices=of chosen=counted
                choose=change(|it, value| it.of = if value.is_empty() { "found".to_owned() } else { value })/>
        </form>
        <div role="group" class="choice-buttons" aria-label=move || say("archive-per")>
            {PER.iter().enumerate().map(|(at, (word, text))| view! {
                <button type="button" id=format!("archive-per-{word}")
                    aria-pressed=move || desk.question.with(|it| it.per[at]).to_string()
                    on:click=move |_| desk.question.update(|it| { it.per[at] = !it.per[at]; it.most = LINES; })>
                    {move || say_with("archive-per-what", &[("what", &say(text))])}
                </button>
            }).collect_view()}
        </div>
    }
}

/// What the lines say, in one sentence.
fn heading(question: &Question, lines: &[FigureLine]) -> String {
    let of = OF.iter().find(|(word, ..)| *word == question.of).map_or("", |one| one.2);
    match lines.first().filter(|_| !question.point.is_empty()) {
        Some(line) => say_with(of, &[("what", &title(line))]),
        None => say_with(of, &[("what", &say("archive-every-point-worst-first"))]),
    }
}

fn title(line: &FigureLine) -> String {
    point_words(&line.point, line.title.as_deref().unwrap_or(&line.point))
}

/// What a line is called: the point, where several are listed, and its group.
pub(super) fn name(line: &FigureLine, of_one: bool) -> String {
    let groups = [
        line.kind.as_deref().map(kind_words),
        line.age.as_deref().map(age_words),
        line.region.as_deref().map(region_words),
    ];
    let group = groups.into_iter().flatten().collect::<Vec<_>>().join(", ");
    match (of_one, group.is_empty()) {
        (_, true) => title(line),
        (true, false) => group,
        (false, false) => format!("{}: {group}", title(line)),
    }
}

/// `12 of 80: 15 % (9 to 24 %)`, in the chosen language.
pub(super) fn share(line: &FigureLine) -> String {
    let (part, whole) = (line.part.to_string(), line.examined.to_string());
    match &line.percent {
        Some([share, low, high]) => say_with(
            "archive-share",
            &[("part", &part), ("whole", &whole), ("share", share), ("low", low), ("high", high)],
        ),
        None if line.examined == 0 => say("archive-never-examined"),
        None => say_with("archive-few", &[("part", &part), ("whole", &whole)]),
    }
}
