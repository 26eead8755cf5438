//! `nearside schedule`: the order and the clock of a visit, with reasons, and how good it is.

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use inspection::Inspection;
use jiff::civil::{Date, DateTime};
use schedule::{
    Bound, Budget, Circumstances, Person, Preference, Problem, Schedule, Task, Ticks, Visit,
};
use serde_json::{Value as Json, json};

use crate::data_folder::Place;
use crate::failure::Failure;
use crate::open_job::{OpenJob, unit_in_words};
use crate::today;

/// States that the proof looks at, at most: some ten megabytes of memory, under a second.
const STATES_OF_THE_PROOF: usize = 150_000;
/// Replays of each search for requirements that clash.
const TO_FIND_A_CLASH: u32 = 2_000;

/// Schedules a job's visit: what to do when, where and why in that order, and how far that is from the best.
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  nearside schedule 2026-001 --start 09:00\n  nearside schedule 2026-001 --people \"A. Inspector,B. Helper\" --light 06:30-20:45 --owner 10:00-11:00\n  nearside schedule 2026-001 --explain\n  nearside schedule 2026-001 --calendar visit.ics"
)]
pub(crate) struct ScheduleArguments {
    /// The job's number
    job: String,
    /// Who works: 1, 2, or one or two names with a comma between
    #[arg(long, default_value = "1", value_name = "PEOPLE")]
    people: String,
    /// When the visit starts, like 09:00 or 2026-06-12T09:00
    #[arg(long, default_value = "09:00", value_name = "TIME")]
    start: String,
    /// The time now, for a visit under way; the start if left out
    #[arg(long, value_name = "TIME")]
    now: Option<String>,
    /// When there is light enough outside, like 06:30-20:45
    #[arg(long, value_name = "FROM-TO")]
    light: Option<String>,
    /// When it is dry enough for the roof, like 11:00-16:00
    #[arg(long, value_name = "FROM-TO")]
    dry: Option<String>,
    /// When the owner is there, like 10:00-11:00
    #[arg(long, value_name = "FROM-TO")]
    owner: Option<String>,
    /// What counts first: soonest, walking, switching
    #[arg(long, default_value = "soonest", value_name = "WHAT")]
    prefer: String,
    /// Plan the whole visit, whatever is recorded already
    #[arg(long)]
    whole: bool,
    /// Say of each step why it comes there, its caution before it
    #[arg(long)]
    explain: bool,
    /// Write the visit as an iCalendar file too
    #[arg(long, value_name = "FILE")]
    calendar: Option<PathBuf>,
    /// How many orders are tried; the same number and seed give the same schedule everywhere
    #[arg(long, default_value_t = 200_000, value_name = "COUNT")]
    tries: u32,
    /// Another seed tries other orders
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Print one JSON object
    #[arg(long)]
    json: bool,
}

/// What was computed.
struct Answer {
    visit: Visit,
    schedule: Schedule,
    bound: Bound,
    /// The same visit in the plan's plain walking order.
    walked: Schedule,
}

pub(crate) fn run(place: &Place, arguments: &ScheduleArguments) -> Result<(), Failure> {
    let job = OpenJob::open(place, &arguments.job)?;
    let inspection = job.inspection();
    let day = inspection.job.visits.first().copied();
    let circumstances = circumstances(arguments, day.unwrap_or_else(today::today))?;
    let seen = if arguments.whole { unseen(&inspection) } else { inspection.clone() };
    let visit = schedule::prepare(&job.plan, &seen, &circumstances).map_err(|faults| {
        let sentences: Vec<String> = faults.into_iter().map(|fault| fault.sentence).collect();
        Failure::input(format!("this visit cannot be planned: {}", sentences.join("; ")))
            .hint("change what clashes in the plan's points, or the times given")
    })?;
    let answer = answer(visit, arguments)?;
    if let Some(file) = &arguments.calendar {
        let stamp = jiff::Timestamp::from_second(today::unix_seconds())
            .map_or(circumstances.start, |now| jiff::tz::TimeZone::UTC.to_datetime(now));
        let site = &inspection.job.site.address;
        let text = schedule::calendar(&answer.visit, &answer.schedule, &arguments.job, site, stamp);
        std::fs::write(file, text)
            .map_err(|error| Failure::failed(format!("{}: {error}", file.display())))?;
    }
    let mut out = std::io::stdout().lock();
    if arguments.json {
        writeln!(out, "{}", as_json(&job, &answer))?;
        return Ok(());
    }
    writeln!(out, "job {}: {}", inspection.job.number, unit_in_words(&inspection.dwelling))?;
    in_words(&mut out, &job, &answer, arguments.explain)?;
    Ok(())
}

/// The job as it was before the visit.
fn unseen(inspection: &Inspection) -> Inspection {
    Inspection {
        job: inspection.job.clone(),
        dwelling: inspection.dwelling.clone(),
        ..Inspection::default()
    }
}

fn circumstances(arguments: &ScheduleArguments, day: Date) -> Result<Circumstances, Failure> {
    let time = |text: &str| -> Result<DateTime, Failure> {
        today::moment_on(Some(day), text).map(|moment| moment.local).map_err(Failure::input)
    };
    let span = |name: &str, text: &Option<String>| {
        let Some(text) = text else { return Ok(None) };
        let Some((from, to)) = text.split_once('-').filter(|_| text.matches('-').count() == 1)
        else {
            return Err(Failure::input(format!(
                "`{text}` is no span of the day; write --{name} like 06:30-20:45"
            )));
        };
        let (from, to) = (time(from)?, time(to)?);
        if from >= to {
            return Err(Failure::input(format!("--{name} {text} ends before it starts")));
        }
        Ok(Some((from, to)))
    };
    let start = time(&arguments.start)?;
    Ok(Circumstances {
        start,
        now: arguments.now.as_deref().map(time).transpose()?.unwrap_or(start),
        light: span("light", &arguments.light)?,
        dry: span("dry", &arguments.dry)?,
        owner: span("owner", &arguments.owner)?,
        people: people(&arguments.people)?,
    })
}

fn people(text: &str) -> Result<Vec<Person>, Failure> {
    let names: Vec<&str> = match text.trim() {
        "1" => vec!["inspector"],
        "2" => vec!["inspector", "second inspector"],
        names => names.split(',').map(str::trim).collect(),
    };
    if names.len() > 2 || names.iter().any(|name| name.is_empty()) {
        return Err(Failure::input(format!(
            "`{text}` is not one or two people; write 1, 2, or names like \"A. One,B. Two\""
        )));
    }
    let person = |name: &str| Person { name: name.to_owned(), skills: Vec::new() };
    Ok(names.into_iter().map(person).collect())
}

fn answer(visit: Visit, arguments: &ScheduleArguments) -> Result<Answer, Failure> {
    let preference = Preference::ALL.into_iter().find(|one| one.word() == arguments.prefer);
    let preference = preference.ok_or_else(|| {
        let known = Preference::ALL.map(Preference::word).join(", ");
        Failure::input(format!("`{}` is nothing to prefer; known: {known}", arguments.prefer))
    })?;
    let budget = Budget { decodes: arguments.tries, seed: arguments.seed };
    let (problem, progress) = (&visit.problem, &visit.progress);
    let found = schedule::plan(problem, progress, preference, budget);
    if found.penalty > 0 {
        return Err(impossible(&visit, &found, arguments.seed));
    }
    let bound = schedule::lower_bound(problem, progress, Some(&found), STATES_OF_THE_PROOF);
    let walk = |order: &[Task]| schedule::in_order(problem, progress, order);
    let walked = [walk(visit.walking_order()), walk(&visit.walking_order_with_returns_last())];
    let [one, other] = walked;
    let walked =
        if (other.penalty, other.finish) < (one.penalty, one.finish) { other } else { one };
    Ok(Answer { schedule: found, bound, walked, visit })
}

/// Which rules cannot be kept, and which requirements do not go together.
fn impossible(visit: &Visit, found: &Schedule, seed: u64) -> Failure {
    let broken = schedule::validate(&visit.problem, &visit.progress, found);
    let budget = Budget { decodes: TO_FIND_A_CLASH, seed };
    let clash = schedule::clash(&visit.problem, &visit.progress, budget);
    let name = |id: &str| visit.title(id);
    let clash: Vec<String> = clash.iter().map(|one| one.in_words(&name)).collect();
    let sentences: Vec<&str> = broken.iter().map(|one| one.sentence.as_str()).take(3).collect();
    let failure = Failure::input(format!("no order keeps every rule: {}", sentences.join("; ")));
    if clash.is_empty() {
        failure.hint("give the visit more time, or try more orders with --tries")
    } else {
        failure.hint(format!("these do not go together; give one of them up: {}", clash.join("; ")))
    }
}

fn minutes(ticks: Ticks) -> f64 {
    f64::from(ticks) / f64::from(schedule::TICKS_PER_MINUTE)
}

fn clock(visit: &Visit, ticks: Ticks) -> String {
    let time = visit.time(ticks);
    format!("{:02}:{:02}", time.hour(), time.minute())
}

fn in_words(
    out: &mut impl Write,
    job: &OpenJob,
    answer: &Answer,
    explain: bool,
) -> Result<(), Failure> {
    let Answer { visit, schedule: found, bound, walked } = answer;
    let length = schedule::length_in_words;
    let now = visit.progress.now;
    writeln!(
        out,
        "from {} to {}: {}, {}",
        clock(visit, now),
        clock(visit, found.finish),
        length(found.finish - now),
        bound.gap_in_words(found)
    )?;
    let people: Vec<&str> = visit.problem.people.iter().map(|one| one.name.as_str()).collect();
    writeln!(
        out,
        "{}; {} to do, walking {}, idle {}, {} changes of the site",
        people.join(" and "),
        length(left_to_do(&visit.problem, found)),
        length(found.walking),
        length(found.idle),
        found.switches
    )?;
    if walked.penalty == 0 && walked.finish > found.finish {
        let saved = length(walked.finish - found.finish);
        writeln!(out, "saves {saved} against the plan's plain walking order")?;
    } else if walked.penalty > 0 {
        writeln!(out, "the plan's plain walking order would break rules")?;
    }
    let text = if explain {
        schedule::explanation(visit, found)
    } else {
        schedule::timeline(visit, found)
    };
    writeln!(out, "\n{}", text.trim_end())?;
    let left_out = left_out(visit);
    if !left_out.is_empty() {
        writeln!(out, "\nleft out")?;
    }
    for (id, reason) in left_out {
        writeln!(out, "  {}: {reason}", visit.title(&id))?;
    }
    writeln!(out, "\nnote for the owner")?;
    for sentence in schedule::note_for_the_owner(visit, found) {
        writeln!(out, "  {sentence}")?;
    }
    writeln!(out, "\nto bring")?;
    for instrument in schedule::kit(&job.plan, visit) {
        writeln!(out, "  {} (points: {})", instrument.name, instrument.points.len())?;
    }
    for sentence in findings::calibrations_before(&job.inspection(), visit.time(now).date()) {
        writeln!(out, "  {sentence}")?;
    }
    Ok(())
}

/// Hands-on time of the acts in a schedule.
fn left_to_do(problem: &Problem, found: &Schedule) -> Ticks {
    let acts = problem.acts.iter().filter(|act| found.step_of(&act.id).is_some());
    acts.map(|act| act.ticks).sum()
}

/// What is not planned, with the reasons.
fn left_out(visit: &Visit) -> Vec<(String, String)> {
    let skipped = visit.progress.skipped.iter();
    let mut all: Vec<(String, String)> =
        skipped.map(|(id, reason)| (id.clone(), format!("not examined: {reason}"))).collect();
    let blocked = schedule::blocked(&visit.problem, &visit.progress);
    all.extend(blocked.into_iter().map(|(id, why)| (id, why.to_string())));
    all
}

fn as_json(job: &OpenJob, answer: &Answer) -> Json {
    let Answer { visit, schedule: found, bound, walked } = answer;
    let name = |id: &str| visit.title(id);
    let steps: Vec<Json> = found
        .steps
        .iter()
        .enumerate()
        .map(|(index, step)| {
            let reasons = schedule::reasons(&visit.problem, &visit.progress, found, index);
            let (kind, id) = match &step.task {
                Task::Act(id) => ("act", id.clone()),
                Task::Change { state, to } => ("change", format!("{state} {to}")),
            };
            let people = step.people.iter().filter_map(|&one| visit.problem.people.get(one));
            json!({
                "kind": kind,
                "id": id,
                "title": visit.task_title(&step.task),
                "stop": step.place,
                "start": visit.time(step.start).to_string(),
                "end": visit.time(step.end).to_string(),
                "people": people.map(|person| person.name.as_str()).collect::<Vec<_>>(),
                "caution": visit.caution(&step.task),
                "reasons": reasons.iter().map(|one| one.in_words(&name)).collect::<Vec<_>>(),
            })
        })
        .collect();
    let waits: Vec<Json> = visit
        .problem
        .waits
        .iter()
        .filter_map(|wait| {
            let before = visit.progress.done.get(&wait.opens).map(|span| span.end);
            let from = before.or_else(|| found.step_of(&wait.opens).map(|step| step.end))?;
            let to = found.step_of(&wait.closes)?.start;
            let (what, untouched) = visit.meanwhile(&wait.closes)?;
            Some(json!({
                "opens": wait.opens,
                "closes": wait.closes,
                "from": visit.time(from).to_string(),
                "to": visit.time(to).to_string(),
                "at_least_minutes": minutes(wait.at_least),
                "at_most_minutes": wait.at_most.map(minutes),
                "what": what,
                "untouched": untouched,
            }))
        })
        .collect();
    let left_out: Vec<Json> = left_out(visit)
        .into_iter()
        .map(|(id, reason)| json!({"id": id, "reason": reason}))
        .collect();
    let kit: Vec<Json> = schedule::kit(&job.plan, visit)
        .into_iter()
        .map(|one| json!({"name": one.name, "points": one.points}))
        .collect();
    json!({
        "start": visit.time(visit.progress.now).to_string(),
        "finish": visit.time(found.finish).to_string(),
        "minutes": minutes(found.finish - visit.progress.now),
        "minutes_from_best_at_most": minutes((found.finish - bound.finish).max(0)),
        "minutes_saved": (walked.penalty == 0).then(|| minutes(walked.finish - found.finish)),
        "walking_minutes": minutes(found.walking),
        "idle_minutes": minutes(found.idle),
        "changes": found.switches,
        "steps": steps,
        "waits": waits,
        "left_out": left_out,
        "note_for_the_owner": schedule::note_for_the_owner(visit, found),
        "kit": kit,
        "calibrations": findings::calibrations_before(&job.inspection(), visit.time(visit.progress.now).date()),
    })
}
