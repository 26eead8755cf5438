//! Uses, findings, and what was and was not examined, in words.

use std::collections::BTreeMap;

use findings::{Assessment, CarriedState, Gap, Ground};
use inspection::{Outcome, PointId, TimeToAct};
use plan::Phrases;

use crate::content::{
    ExaminedStop, Finding, NotExamined, StopWork, Use, UseKind, UseState, Verdict, When,
};

use super::evidence::Photos;
use super::readings::Readings;
use super::{Source, places, words};

/// Title of the document.
pub(super) fn title(source: Source<'_>) -> String {
    if source.plan.title.trim().is_empty() {
        source.say("Inspection report")
    } else {
        let kind = source.say(source.inspection.dwelling.kind.title());
        format!("{}: {kind}", source.plan.title)
    }
}

/// The unit in one line.
pub(super) fn headline(source: Source<'_>) -> String {
    let dwelling = &source.inspection.dwelling;
    let year = dwelling.model_year.map_or_else(String::new, |year| year.to_string());
    let kind = source.say(dwelling.kind.title());
    let which = [&year, &dwelling.maker, &dwelling.model].map(String::as_str);
    let which = words::joined(which, " ");
    if which.is_empty() {
        return kind;
    }
    // In another language the kind may come first.
    let line = source.say_with("{which} {kind}", &[("which", &which), ("kind", &kind)]);
    if line.starts_with(&kind) { words::sentence_case(&line) } else { line }
}

pub(super) fn kind(one: inspection::Use) -> UseKind {
    match one {
        inspection::Use::Tow => UseKind::Tow,
        inspection::Use::Power => UseKind::Power,
        inspection::Use::Gas => UseKind::Gas,
        inspection::Use::Water => UseKind::Water,
        inspection::Use::Stay => UseKind::Stay,
    }
}

/// The points not examined, and the number of each.
pub(super) struct Unexamined {
    pub(super) list: Vec<NotExamined>,
    numbers: BTreeMap<PointId, usize>,
}

/// Points with a reason, points that nobody entered, and points examined only in part that leave a use open.
pub(super) fn not_examined(source: Source<'_>) -> Unexamined {
    let assessment = source.assessment;
    let mut list = Vec::new();
    let mut numbers = BTreeMap::new();
    for result in &assessment.points {
        let leaves_open: Vec<UseKind> = assessment
            .uses
            .iter()
            .filter(|one| one.open_for.contains(&result.point))
            .map(|one| kind(one.which))
            .collect();
        let reason = match &result.outcome {
            Some(Outcome::NotExamined { reason }) => words::sentence_case(reason),
            None => source.say("Nothing was recorded for it."),
            Some(Outcome::Examined) if !leaves_open.is_empty() => {
                let gaps: Vec<String> = assessment
                    .missing
                    .iter()
                    .filter(|gap| {
                        gap.what == Gap::NoReading && gap.point.as_ref() == Some(&result.point)
                    })
                    .map(|gap| source.say(&gap.sentence))
                    .collect();
                let part = source.say("Examined in part.");
                let all = std::iter::once(part.as_str()).chain(gaps.iter().map(String::as_str));
                words::joined(all, " ")
            }
            Some(Outcome::Examined | Outcome::NotFitted) => continue,
        };
        list.push(NotExamined {
            point: source.point_title(result.point.as_str()),
            stop: source.stop_title(result.point.as_str()),
            reason,
            leaves_open,
        });
        numbers.insert(result.point.clone(), list.len());
    }
    Unexamined { list, numbers }
}

/// The five uses, each with a sentence.
pub(super) fn uses(source: Source<'_>, unexamined: &Unexamined) -> Vec<Use> {
    let assessment = source.assessment;
    assessment
        .uses
        .iter()
        .map(|one| {
            let numbers: Vec<usize> = one
                .open_for
                .iter()
                .filter_map(|point| unexamined.numbers.get(point))
                .copied()
                .collect();
            let (state, sentence) = match one.state {
                findings::UseState::Clear => {
                    (UseState::Clear, source.say("Nothing was found that stops it."))
                }
                findings::UseState::Held => (UseState::Held, held_sentence(source, &one.held_by)),
                findings::UseState::Open => (
                    UseState::Open,
                    source.say_with(
                        if numbers.len() == 1 {
                            "{count} point that it depends on was not examined in full."
                        } else {
                            "{count} points that it depends on were not examined in full."
                        },
                        &[("count", &numbers.len().to_string())],
                    ),
                ),
                findings::UseState::NotFitted => {
                    (UseState::NotFitted, source.say("The unit has nothing of the kind."))
                }
            };
            Use {
                kind: kind(one.which),
                state,
                sentence,
                findings: one.held_by.clone(),
                not_examined: numbers,
            }
        })
        .collect()
}

fn held_sentence(source: Source<'_>, held_by: &[usize]) -> String {
    let titles: Vec<&str> = source
        .assessment
        .findings
        .iter()
        .filter(|finding| held_by.contains(&finding.number))
        .map(|finding| finding.title.as_str())
        .collect();
    match titles.as_slice() {
        [] => String::new(),
        [one] => format!("{one}."),
        [one, two] => format!("{one}; {two}."),
        [one, rest @ ..] => {
            let more = rest.len().to_string();
            source.say_with("{one}, and {more} more.", &[("one", one), ("more", &more)])
        }
    }
}

/// What cannot wait.
pub(super) fn stop_work(assessment: &Assessment) -> Vec<StopWork> {
    assessment
        .findings
        .iter()
        .filter(|finding| !finding.stop_work.is_empty())
        .map(|finding| StopWork {
            title: finding.title.clone(),
            text: finding.stop_work.clone(),
            finding: Some(finding.number),
        })
        .collect()
}

/// The findings with their evidence.
pub(super) fn findings(source: Source<'_>, photos: &Photos, readings: &Readings) -> Vec<Finding> {
    let outline = places::outline(source);
    source
        .assessment
        .findings
        .iter()
        .map(|finding| {
            let numbers = evidence_numbers(finding, readings);
            let stop = finding.point.as_ref().map(|point| source.stop_title(point.as_str()));
            let standing = places::standing(source, finding, outline.as_ref());
            let location = [stop.as_deref().unwrap_or(""), finding.position.as_str()];
            Finding {
                title: finding.title.clone(),
                statement: finding.statement.clone(),
                location: words::joined(location, ", "),
                when: match finding.when {
                    TimeToAct::BeforeUse => When::BeforeUse,
                    TimeToAct::Soon => When::Soon,
                    TimeToAct::InTime => When::InTime,
                },
                who: finding.who.clone(),
                stops: finding.stops.iter().map(|one| kind(*one)).collect(),
                basis: basis(source, finding),
                sources: cited(readings, &numbers),
                readings: numbers,
                photos: finding
                    .photos
                    .iter()
                    .filter_map(|id| photos.numbers.get(id))
                    .copied()
                    .collect(),
                place: standing.place,
                side: standing.side,
            }
        })
        .collect()
}

/// The printed readings that share a reading with the finding: those read and those computed from them.
fn evidence_numbers(finding: &findings::Finding, readings: &Readings) -> Vec<usize> {
    readings
        .origins
        .iter()
        .enumerate()
        .filter(|(_, (from, point))| {
            finding.point.as_ref().is_none_or(|own| own.as_str() == point)
                && finding.readings.iter().any(|id| from.contains(id))
        })
        .map(|(at, _)| at + 1)
        .collect()
}

/// Sources of the limits that the finding's readings do not meet.
fn cited(readings: &Readings, numbers: &[usize]) -> Vec<usize> {
    let mut cited: Vec<usize> = numbers
        .iter()
        .filter_map(|number| readings.get(*number))
        .flat_map(|reading| &reading.judged)
        .filter(|judged| {
            matches!(
                judged.verdict,
                Verdict::DoesNotConform | Verdict::BeyondGuidance | Verdict::Undecided
            )
        })
        .flat_map(|judged| judged.sources.iter().copied())
        .collect();
    cited.sort_unstable();
    cited.dedup();
    cited
}

fn basis(source: Source<'_>, finding: &findings::Finding) -> String {
    let carried = match finding.carried {
        Some(CarriedState::Open) => {
            Some("Carried from the earlier inspection; nobody has looked at it again yet.")
        }
        Some(CarriedState::NotSeen) => {
            Some("Carried from the earlier inspection; it was not seen again.")
        }
        _ => None,
    };
    if let Some(carried) = carried {
        return source.say(carried);
    }
    let ground = match finding.ground {
        Ground::Limit => "A value lies beyond a limit that binds, its uncertainty considered.",
        Ground::Seen => "Seen during the visit.",
        Ground::Guidance => "A value lies beyond a figure that informs and does not bind.",
        Ground::Undecided => "The uncertainty of the reading reaches across the limit.",
    };
    let ground = source.say(ground);
    if finding.confirmed {
        return ground;
    }
    let drafted = source.say("Drafted from the record; the inspector has not confirmed it.");
    format!("{ground} {drafted}")
}

/// Points examined without a finding, by stop, in walking order.
pub(super) fn examined(source: Source<'_>) -> Vec<ExaminedStop> {
    let mut stops: Vec<ExaminedStop> = Vec::new();
    for result in &source.assessment.points {
        let found = source
            .assessment
            .findings
            .iter()
            .any(|finding| finding.point.as_ref() == Some(&result.point));
        if result.outcome != Some(Outcome::Examined) || found {
            continue;
        }
        let name = source.stop_title(result.point.as_str());
        let point = source.point_title(result.point.as_str());
        match stops.iter_mut().find(|stop| stop.name == name) {
            Some(stop) => stop.points.push(point),
            None => stops.push(ExaminedStop { name, points: vec![point] }),
        }
    }
    stops
}

/// The result in a few sentences.
pub(super) fn summary(
    say: &Phrases,
    uses: &[Use],
    findings: &[Finding],
    unexamined: &[NotExamined],
) -> String {
    let in_state = |state| {
        let words: Vec<String> = uses
            .iter()
            .filter(|one| one.state == state)
            .map(|one| say.say(one.kind.word()).to_lowercase())
            .collect();
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        (words.len(), words::enumerated(say, &words))
    };
    let mut sentences = Vec::new();
    let stopping = findings.iter().filter(|finding| !finding.stops.is_empty()).count();
    sentences.push(match (findings.len(), stopping) {
        (0, _) => say.say("No findings were recorded."),
        (all, 0) => say.say_with(
            "{findings}, none of which stops a use.",
            &[("findings", &words::counted(say, all, "finding", "findings"))],
        ),
        (all, some) => say.say_with(
            if some == 1 {
                "{findings}, {some} of which stops a use."
            } else {
                "{findings}, {some} of which stop a use."
            },
            &[
                ("findings", &words::counted(say, all, "finding", "findings")),
                ("some", &some.to_string()),
            ],
        ),
    });
    for (state, one, several) in [
        (UseState::Held, "{which} is held.", "{which} are held."),
        (UseState::Open, "{which} is open.", "{which} are open."),
        (UseState::Clear, "{which} is clear.", "{which} are clear."),
    ] {
        let (count, which) = in_state(state);
        if count > 0 {
            let form = if count == 1 { one } else { several };
            sentences.push(say.say_with(form, &[("which", &words::sentence_case(&which))]));
        }
    }
    if !unexamined.is_empty() {
        sentences.push(say.say_with(
            if unexamined.len() == 1 {
                "{count} point was not examined, or not in full."
            } else {
                "{count} points were not examined, or not in full."
            },
            &[("count", &unexamined.len().to_string())],
        ));
    }
    sentences.join(" ")
}

/// What to leave alone until which finding is dealt with.
pub(super) fn cautions(say: &Phrases, uses: &[Use], findings: &[Finding]) -> Vec<String> {
    uses.iter()
        .filter(|one| one.state == UseState::Held)
        .map(|one| {
            let deed = match one.kind {
                UseKind::Tow => "tow or move the unit",
                UseKind::Power => "connect or use power",
                UseKind::Gas => "use gas",
                UseKind::Water => "use water",
                UseKind::Stay => "stay or sleep in the unit",
            };
            let mut trades: Vec<&str> = one
                .findings
                .iter()
                .filter_map(|number| findings.get(number.checked_sub(1)?))
                .map(|finding| finding.who.as_str())
                .filter(|who| !who.trim().is_empty())
                .collect();
            trades.sort_unstable();
            trades.dedup();
            let numbers: Vec<String> = one.findings.iter().map(ToString::to_string).collect();
            let numbers: Vec<&str> = numbers.iter().map(String::as_str).collect();
            let form = match (numbers.len(), trades.is_empty()) {
                (1, true) => "Do not {deed} until finding {numbers} has been dealt with.",
                (1, false) => {
                    "Do not {deed} until finding {numbers} has been dealt with by {trades}."
                }
                (_, true) => "Do not {deed} until findings {numbers} have been dealt with.",
                (_, false) => {
                    "Do not {deed} until findings {numbers} have been dealt with by {trades}."
                }
            };
            say.say_with(
                form,
                &[
                    ("deed", &say.say(deed)),
                    ("numbers", &words::enumerated(say, &numbers)),
                    ("trades", &words::enumerated(say, &trades)),
                ],
            )
        })
        .collect()
}
