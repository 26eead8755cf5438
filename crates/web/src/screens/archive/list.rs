//! The jobs that count, the latest visit first.

use leptos::prelude::*;
use sync::JobId;

use super::filter::region_words;
use super::{Desk, Save};
use crate::app::{Place, app, say, say_with};
use crate::line::ArchivedJob;
use crate::screens::Screen;

/// The list; each job is one press away.
#[component]
pub(super) fn Jobs(desk: Desk) -> impl IntoView {
    let jobs = Memo::new(move |_| {
        desk.jobs.with(|jobs| jobs.as_ref().map(|it| it.0.clone()).unwrap_or_default())
    });
    let all = Memo::new(move |_| desk.jobs.with(|jobs| jobs.as_ref().map_or(0, |it| it.1)));
    let left = Memo::new(move |_| all.get().saturating_sub(jobs.with(Vec::len)));
    view! {
        <h2 id="archive-jobs-title">{move || say("shell-jobs")}</h2>
        <p class="figures" id="archive-count" data-count=move || all.get()>
            {move || say_with("archive-count", &[("count", &all.get().to_string())])}
        </p>
        <ul class="points" id="archive-jobs">
            <For each=move || jobs.get() key=|job| (job.job.clone(), job.line.clone()) let:job><Job job/></For>
        </ul>
        {move || (left.get() > 0).then(|| view! {
            <p class="actions"><button id="archive-more-jobs" on:click=move |_| desk.more_jobs()>
                {say_with("archive-more-jobs", &[("count", &left.get().to_string())])}
            </button></p>
        })}
        <Save desk names=["jobs.csv", "jobs.parquet"] what="archive-what-jobs"/>
    }
}

#[component]
fn Job(job: ArchivedJob) -> impl IntoView {
    let ArchivedJob { job: number, line, visited, region, findings, trouble } = job;
    let there = JobId::new(&number).ok();
    let facts: Vec<String> = match &trouble {
        Some(_) => Vec::new(),
        None => vec![
            visited.unwrap_or_else(|| say("archive-no-visit")),
            region_words(&region),
            say_with("archive-findings", &[("count", &findings.to_string())]),
        ],
    };
    view! {
        <li>
            <button class="row" on:click=move |_| if let Some(job) = &there { app().go(Place::Job(job.clone(), Screen::default())) }>
                <span class="row-words">
                    <span class="row-title">{format!("{number} · {line}")}</span>
                    <span class="row-facts">{facts.into_iter().map(|fact| view! { <span>{fact}</span> }).collect_view()}</span>
                </span>
            </button>
        </li>
    }
}
