//! Uses, findings, and what was and was not examined, in words.

use std::collections::BTreeMap;

use findings::{Assessment, Gap, Ground};
use inspection::{Outcome, PointId, TimeToAct};

use crate::content::{
    ExaminedStop, Finding, NotExamined, StopWork, Use, UseKind, UseState, Verdict, When,
};

use super::evidence::Photos;
use super::readings::Readings;
use super::{Source, places, words};

/// Title of the document.
pub(super) fn title(source: Source<'_>) -> String {
    if source.plan.title.trim().is_empty() {
        "Inspection report".to_owned()
    } else {
        format!("{}: {}", source.plan.title, source.inspection.dwelling.kind.title())
    }
}

/// The unit in one line.
pub(super) fn headline(source: Source<'_>) -> String {
    let dwelling = &source.inspection.dwelling;
    let year = dwelling.model_year.map_or_else(String::new, |year| year.to_string());
    let kind = dwelling.kind.title();
    words::joined([year.as_str(), dwelling.maker.as_str(), dwelling.model.as_str(), kind], " ")
}

fn kind(one: inspection::Use) -> UseKind {
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
            None => "Nothing was recorded for it.".to_owned(),
            Some(Outcome::Examined) if !leaves_open.is_empty() => {
                let gaps: Vec<&str> = assessment
                    .missing
                    .iter()
                    .filter(|gap| {
                        gap.what == Gap::NoReading && gap.point.as_ref() == Some(&result.point)
                    })
                    .map(|gap| gap.sentence.as_str())
                    .collect();
                words::joined(std::iter::once("Examined in part.").chain(gaps), " ")
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
                    (UseState::Clear, "Nothing was found that stops it.".to_owned())
                }
                findings::UseState::Held => {
                    (UseState::Held, held_sentence(assessment, &one.held_by))
                }
                findings::UseState::Open => (
                    UseState::Open,
                    format!(
                        "{} that it depends on {} not examined in full.",
                        words::counted(numbers.len(), "point", "points"),
                        if numbers.len() == 1 { "was" } else { "were" }
                    ),
                ),
                findings::UseState::NotFitted => {
                    (UseState::NotFitted, "The unit has nothing of the kind.".to_owned())
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

fn held_sentence(assessment: &Assessment, held_by: &[usize]) -> String {
    let titles: Vec<&str> = assessment
        .findings
        .iter()
        .filter(|finding| held_by.contains(&finding.number))
        .map(|finding| finding.title.as_str())
        .collect();
    match titles.as_slice() {
        [] => String::new(),
        [one] => format!("{one}."),
        [one, two] => format!("{one}; {two}."),
        [one, rest @ ..] => format!("{one}, and {} more.", rest.len()),
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
                basis: basis(finding),
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

fn basis(finding: &findings::Finding) -> String {
    let ground = match finding.ground {
        Ground::Limit => "A value lies beyond a limit that binds, its uncertainty considered.",
        Ground::Seen => "Seen during the visit.",
        Ground::Guidance => "A value lies beyond a figure that informs and does not bind.",
        Ground::Undecided => "The uncertainty of the reading reaches across the limit.",
    };
    if finding.confirmed {
        ground.to_owned()
    } else {
        format!("{ground} Drafted from the record; the inspector has not confirmed it.")
    }
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
pub(super) fn summary(uses: &[Use], findings: &[Finding], unexamined: &[NotExamined]) -> String {
    let in_state = |state| {
        let words: Vec<String> = uses
            .iter()
            .filter(|one| one.state == state)
            .map(|one| one.kind.word().to_lowercase())
            .collect();
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        (words.len(), words::enumerated(&words))
    };
    let mut sentences = Vec::new();
    let stopping = findings.iter().filter(|finding| !finding.stops.is_empty()).count();
    sentences.push(match (findings.len(), stopping) {
        (0, _) => "No findings were recorded.".to_owned(),
        (all, 0) => {
            format!("{}, none of which stops a use.", words::counted(all, "finding", "findings"))
        }
        (all, some) => format!(
            "{}, {some} of which {} a use.",
            words::counted(all, "finding", "findings"),
            if some == 1 { "stops" } else { "stop" }
        ),
    });
    for (state, word) in
        [(UseState::Held, "held"), (UseState::Open, "open"), (UseState::Clear, "clear")]
    {
        let (count, which) = in_state(state);
        if count > 0 {
            let verb = if count == 1 { "is" } else { "are" };
            sentences.push(format!("{} {verb} {word}.", words::sentence_case(&which)));
        }
    }
    if !unexamined.is_empty() {
        sentences.push(format!(
            "{} not examined, or not in full.",
            words::counted(unexamined.len(), "point was", "points were")
        ));
    }
    sentences.join(" ")
}

/// What to leave alone until which finding is dealt with.
pub(super) fn cautions(uses: &[Use], findings: &[Finding]) -> Vec<String> {
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
            let plural = if numbers.len() == 1 { "finding" } else { "findings" };
            let has = if numbers.len() == 1 { "has" } else { "have" };
            let by = if trades.is_empty() {
                String::new()
            } else {
                format!(" by {}", words::enumerated(&trades))
            };
            format!(
                "Do not {deed} until {plural} {} {has} been dealt with{by}.",
                words::enumerated(&numbers)
            )
        })
        .collect()
}
