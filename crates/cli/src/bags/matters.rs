//! What is open before a release: every matter in the sentence in which the release names it, with the place where it is
//! closed.

use findings::{About, Gap, Missing};
use inspection::{FindingId, FindingState, ReadingId};
use server::OpenMatter;

use crate::commands::assess;
use crate::open_job::OpenJob;

/// Everything that is open.
pub(crate) fn open(job: &OpenJob) -> Vec<OpenMatter> {
    let inspection = job.inspection();
    let assessment = assess::assessed(job, &inspection);
    let (photos, others): (Vec<&Missing>, Vec<&Missing>) =
        assessment.missing.iter().partition(|missing| missing.what == Gap::PhotoNotPlaced);
    let mut matters: Vec<OpenMatter> = others.into_iter().map(of_gap).collect();
    // A card full of photos is one matter, not a hundred.
    match photos.as_slice() {
        [] => {}
        [one] => matters.push(of_gap(one)),
        many => {
            let sentence = format!(
                "{} photos belong to no point; say what they show (`nearside missing {}` names them)",
                many.len(),
                job.id
            );
            matters.push(matter(sentence, Gap::PhotoNotPlaced.word(), "photos", ""));
        }
    }
    for (id, finding) in &inspection.findings {
        if finding.state == FindingState::Draft {
            let sentence = format!(
                "finding {id} ({}) is a draft; confirm it, or withdraw it with its reason",
                finding.title
            );
            let key = finding.draft.as_deref().unwrap_or(id.as_str());
            matters.push(matter(sentence, "draft", "finding", key));
        }
    }
    for conflict in job.record.conflicts() {
        let values: Vec<&str> = conflict.values.iter().map(|value| value.value.as_str()).collect();
        let sentence = format!(
            "{} was entered in different ways at once ({}); enter which one holds",
            conflict.field,
            values.join(", ")
        );
        let (place, about) = match conflict.field.entry() {
            ("point", Some(id)) => ("point", id),
            ("photo", Some(id)) => ("photo", id),
            ("finding", Some(id)) => {
                let known = inspection.findings.get(&FindingId::from(id.as_str()));
                ("finding", known.and_then(|finding| finding.draft.clone()).unwrap_or(id))
            }
            ("reading", Some(id)) => match inspection.readings.get(&ReadingId::from(id.as_str())) {
                Some(reading) => ("point", reading.point.to_string()),
                None => ("job", String::new()),
            },
            _ => ("job", String::new()),
        };
        matters.push(matter(sentence, "conflict", place, &about));
    }
    let problems = assessment.problems.iter();
    matters.extend(problems.map(|problem| matter(problem.clone(), "problem", "job", "")));
    matters
}

fn matter(sentence: String, kind: &str, place: &str, about: &str) -> OpenMatter {
    OpenMatter {
        matter: sentence,
        kind: kind.to_owned(),
        place: place.to_owned(),
        about: about.to_owned(),
    }
}

fn of_gap(missing: &Missing) -> OpenMatter {
    let point = || missing.point.as_ref().map_or(("job", ""), |point| ("point", point.as_str()));
    let (place, about) = match &missing.about {
        About::Finding(key) => ("finding", key.as_str()),
        About::Photo(id) => ("photo", id.as_str()),
        About::Instrument(id) => ("instrument", id.as_str()),
        About::Agreement => ("agreement", ""),
        About::Point | About::Value { .. } | About::Wait(_) => point(),
    };
    matter(missing.sentence.clone(), missing.what.word(), place, about)
}
