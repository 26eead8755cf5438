//! One file a command: its arguments, whose doc comments are its help, and what it does.

pub(crate) mod agreement;
pub(crate) mod archive;
pub(crate) mod assess;
pub(crate) mod backup;
pub(crate) mod compare;
pub(crate) mod completions;
pub(crate) mod countersign;
pub(crate) mod demo;
pub(crate) mod device;
pub(crate) mod doctor;
pub(crate) mod export;
pub(crate) mod finding;
pub(crate) mod formula;
pub(crate) mod invoice;
pub(crate) mod job;
pub(crate) mod key;
pub(crate) mod man;
pub(crate) mod mark;
pub(crate) mod missing;
pub(crate) mod page;
pub(crate) mod pair;
pub(crate) mod photo;
pub(crate) mod plan;
pub(crate) mod point;
pub(crate) mod read;
pub(crate) mod release;
pub(crate) mod report;
pub(crate) mod schedule;
pub(crate) mod sentence;
pub(crate) mod serve;
pub(crate) mod share;
pub(crate) mod stamp;
pub(crate) mod texts;
pub(crate) mod units;
pub(crate) mod verify;
pub(crate) mod why;

use ::plan::{Plan, Point};
use inspection::Dwelling;

use crate::arguments::{Arguments, Command};
use crate::failure::Failure;

/// Runs the command.
pub(crate) fn run(arguments: Arguments) -> Result<(), Failure> {
    let place = arguments.place();
    match arguments.command {
        Command::Job(job) => job::run(&place, &job),
        Command::Agreement(agreement) => agreement::run(&place, &agreement),
        Command::Schedule(schedule) => schedule::run(&place, &schedule),
        Command::Read(read) => read::run(&place, &read),
        Command::Point(point) => point::run(&place, &point),
        Command::Photo(photo) => photo::run(&place, &photo),
        Command::Mark(mark) => mark::run(&place, &mark),
        Command::Finding(finding) => finding::run(&place, &finding),
        Command::Sentence(sentence) => sentence::run(&place, &sentence),
        Command::Missing(missing) => missing::run(&place, &missing),
        Command::Assess(assess) => assess::run(&place, &assess),
        Command::Why(why) => why::run(&place, &why),
        Command::Report(report) => report::run(&place, &report),
        Command::Page(page) => page::run(&place, &page),
        Command::Release(release) => release::run(&place, &release),
        Command::Countersign(countersign) => countersign::run(&place, &countersign),
        Command::Compare(compare) => compare::run(&place, &compare),
        Command::Stamp(stamp) => stamp::run(&place, &stamp),
        Command::Export(export) => export::run(&place, &export),
        Command::Verify(verify) => verify::run(&verify),
        Command::Key(key) => key::run(&place, &key),
        Command::Share(share) => share::run(&place, &share),
        Command::Invoice(invoice) => invoice::run(&place, &invoice),
        Command::Archive(archive) => archive::run(&place, &archive),
        Command::Demo(demo) => demo::run(&place, &demo),
        Command::Serve(serve) => serve::run(&place, &serve),
        Command::Pair(pair) => pair::run(&place, &pair),
        Command::Device(device) => device::run(&place, &device),
        Command::Backup(backup) => backup::back_up(&place, &backup),
        Command::Restore(restore) => backup::restore(&place, &restore),
        Command::Doctor(doctor) => doctor::run(&place, &doctor),
        Command::Formula(formula) => formula::run(&formula),
        Command::Units(units) => units::run(&units),
        Command::Plan(plan) => plan::run(&plan),
        Command::Texts(texts) => texts::run(&texts),
        Command::Completions(completions) => completions::run(&completions),
        Command::Man(man) => man::run(&man),
    }
}

/// The point with this id, if the unit has it.
pub(crate) fn point_of<'a>(
    plan: &'a Plan,
    dwelling: &Dwelling,
    id: &str,
) -> Result<&'a Point, Failure> {
    let point = plan.point(id).ok_or_else(|| {
        Failure::input(format!("the plan has no point `{id}`"))
            .hint(near_hint(id, plan.points.iter().map(|point| point.id.as_str())))
    })?;
    if point.exists_on(dwelling.kind, &dwelling.equipment) {
        return Ok(point);
    }
    Err(Failure::input(format!(
        "{} does not belong to this unit by its kind and equipment",
        point.title
    ))
    .hint("correct kind and equipment on the job's sheet"))
}

/// Up to three known words near a misspelt one, the nearest first.
pub(crate) fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Vec<&'a str> {
    let word = word.to_lowercase();
    let mut near: Vec<(usize, &str)> = known
        .into_iter()
        .map(|candidate| (strsim::levenshtein(&word, &candidate.to_lowercase()), candidate))
        .filter(|(steps, candidate)| *steps <= candidate.chars().count().max(4) / 2)
        .collect();
    near.sort_unstable();
    near.into_iter().take(3).map(|(_, candidate)| candidate).collect()
}

/// `; the nearest: a, b`, or what there is if nothing is near.
pub(crate) fn near_hint<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> String {
    let known: Vec<&str> = known.into_iter().collect();
    match nearest(word, known.iter().copied()).as_slice() {
        [] if known.is_empty() => "there are none here".to_owned(),
        [] => format!("known: {}", known.join(", ")),
        near => format!("the nearest: {}", near.join(", ")),
    }
}
