//! What became of the findings of an earlier inspection, in words.

use findings::{CarriedResult, CarriedState};
use inspection::PhotoId;

use crate::content::{Again, AgainFinding, AgainState};

use super::evidence::Photos;
use super::{Source, facts, judged, words};

/// The difference to the earlier inspection; none where there was none.
pub(super) fn again(source: Source<'_>, photos: &Photos) -> Option<Again> {
    let earlier = source.inspection.job.earlier.as_ref()?;
    let heads: Vec<&str> = earlier.heads.iter().map(|head| head.as_str()).collect();
    let release = earlier.release.as_ref().map_or_else(String::new, |(number, sha256)| {
        let number = number.to_string();
        source
            .say_with("release {number}, SHA-256 {hash}", &[("number", &number), ("hash", sha256)])
    });
    let results = &source.assessment.carried;
    let mut findings = Vec::with_capacity(results.len());
    for state in CarriedState::ALL {
        let own = results.iter().filter(|one| one.state == state);
        findings.extend(own.map(|one| finding(source, one, photos)));
    }
    Some(Again {
        job: earlier.number.clone(),
        visited: earlier.visited.map_or_else(String::new, |day| source.day(day)),
        record: facts(source, [("Heads of its record", heads.join(" ")), ("Its release", release)]),
        sentence: sentence(source, &earlier.number, results),
        findings,
    })
}

fn finding(source: Source<'_>, one: &CarriedResult, photos: &Photos) -> AgainFinding {
    let stop = one.point.as_ref().map(|point| source.stop_title(point.as_str()));
    let numbers = |ids: &[PhotoId]| {
        ids.iter().filter_map(|id| photos.numbers.get(id)).copied().collect::<Vec<usize>>()
    };
    AgainFinding {
        number_then: one.number_then,
        number: one.number,
        title: one.title.clone(),
        location: words::joined([stop.as_deref().unwrap_or(""), one.position.as_str()], ", "),
        statement: one.statement.clone(),
        state: match one.state {
            CarriedState::NotCorrected => AgainState::NotCorrected,
            CarriedState::NotSeen => AgainState::NotSeen,
            CarriedState::Open => AgainState::Open,
            CarriedState::Corrected => AgainState::Corrected,
            CarriedState::Withdrawn => AgainState::Withdrawn,
        },
        words: source.say(one.state.words()),
        remark: words::sentence_case(&one.reason),
        stops: one.stops.iter().map(|one| judged::kind(*one)).collect(),
        photos_then: numbers(&one.photos_then),
        photos_now: numbers(&one.photos_now),
    }
}

/// How many became what.
fn sentence(source: Source<'_>, job: &str, results: &[CarriedResult]) -> String {
    if results.is_empty() {
        return source.say_with("Job {job} had no findings.", &[("job", job)]);
    }
    let counted: Vec<String> = CarriedState::ALL
        .into_iter()
        .filter_map(|state| {
            let count = results.iter().filter(|one| one.state == state).count();
            let english = match state {
                CarriedState::NotCorrected => "{n} not corrected",
                CarriedState::NotSeen => "{n} not seen",
                CarriedState::Open => "{n} not yet said",
                CarriedState::Corrected => "{n} corrected",
                CarriedState::Withdrawn => "{n} withdrawn",
            };
            (count > 0).then(|| source.say_with(english, &[("n", &count.to_string())]))
        })
        .collect();
    let counted: Vec<&str> = counted.iter().map(String::as_str).collect();
    source.say_with(
        "Findings of job {job}: {list}.",
        &[("job", job), ("list", &words::enumerated(&source.plan.words, &counted))],
    )
}
