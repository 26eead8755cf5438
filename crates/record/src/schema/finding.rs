//! Keys of a finding: its words, its evidence, the uses it stops, and where it stands.

use inspection::{FindingState, PhotoId, PointId, ReadingId, RecordedFinding, TimeToAct, Use};

use super::{Entry, Fact, Facts, Writing, one_line};

const POINT: &str = "point";
const DRAFT_KEY: &str = "draft";
const TITLE: &str = "title";
const STATEMENT: &str = "statement";
const READINGS: &str = "reading/";
const PHOTOS: &str = "photo/";
/// Photos of the point that do not show the finding.
const PHOTOS_OUT: &str = "photo_out/";
const STOPS: &str = "stops/";
const WHEN: &str = "when";
const WHO: &str = "who";
/// Draft, confirmed, withdrawn or merged; the reason, or the other finding's key, on the next line.
pub(crate) const STATE: &str = "state";
const BY: &str = "by";
const AT: &str = "at";

const DRAFT: &str = "draft";
const CONFIRMED: &str = "confirmed";
const WITHDRAWN: &str = "withdrawn";
const MERGED: &str = "merged";

pub(crate) fn finding_facts(finding: &RecordedFinding) -> Result<Facts, String> {
    let RecordedFinding {
        point,
        draft,
        title,
        statement,
        readings,
        photos,
        photos_out,
        stops,
        when,
        who,
        state,
        by,
        at,
    } = finding;
    let mut writing = Writing::default();
    if let Some(point) = point {
        writing.put(POINT, Fact::text(point.as_str()));
    }
    if let Some(draft) = draft {
        writing.put(DRAFT_KEY, Fact::text(draft));
    }
    writing.text(TITLE, title);
    writing.text(STATEMENT, statement);
    writing.ranked(READINGS, readings.iter().map(ReadingId::as_str))?;
    writing.ranked(PHOTOS, photos.iter().map(PhotoId::as_str))?;
    writing.ranked(PHOTOS_OUT, photos_out.iter().map(PhotoId::as_str))?;
    writing.ranked(STOPS, stops.iter().map(|stopped| stopped.word()))?;
    writing.text(WHEN, when.words());
    writing.text(WHO, who);
    if let FindingState::Merged { into } = state {
        one_line("the other finding's key", into)?;
    }
    writing.put(STATE, state_fact(state));
    writing.text(BY, by);
    writing.moment(AT, *at)?;
    Ok(writing.facts)
}

pub(crate) fn state_fact(state: &FindingState) -> Fact {
    match state {
        FindingState::Draft => Fact::text(DRAFT),
        FindingState::Confirmed => Fact::text(CONFIRMED),
        FindingState::Withdrawn { reason } => Fact::text(format!("{WITHDRAWN}\n{reason}")),
        FindingState::Merged { into } => Fact::text(format!("{MERGED}\n{into}")),
    }
}

/// A finding is always shown: where its urgency or state cannot be read, it is read as the
/// cautious one.
pub(crate) fn read_finding(mut entry: Entry<'_, '_>) -> RecordedFinding {
    let mut stops = Vec::new();
    for word in entry.ranked_names(STOPS) {
        match Use::from_word(&word) {
            Some(stopped) => stops.push(stopped),
            None => entry.trouble(format!("stops the use `{word}`, which is unknown here")),
        }
    }
    let when_words = entry.text(WHEN);
    let when = TimeToAct::from_words(&when_words).unwrap_or_else(|| {
        entry.trouble(format!(
            "when to act is `{when_words}`, which is unknown here; it is read as `before use` until corrected"
        ));
        TimeToAct::BeforeUse
    });
    let state_text = entry.text(STATE);
    let state = match state_text.split_once('\n').unwrap_or((&state_text, "")) {
        (DRAFT, "") => FindingState::Draft,
        (CONFIRMED, "") => FindingState::Confirmed,
        (WITHDRAWN, reason) => FindingState::Withdrawn { reason: reason.to_owned() },
        (MERGED, into) if !into.is_empty() => FindingState::Merged { into: into.to_owned() },
        (other, _) => {
            entry.trouble(format!(
                "its state is `{other}`, which is unknown here; it is read as a draft until corrected"
            ));
            FindingState::Draft
        }
    };
    let finding = RecordedFinding {
        point: entry.text_if_any(POINT).map(PointId::from),
        draft: entry.text_if_any(DRAFT_KEY),
        title: entry.text(TITLE),
        statement: entry.text(STATEMENT),
        readings: entry.ranked_names(READINGS).into_iter().map(ReadingId::from).collect(),
        photos: entry.ranked_names(PHOTOS).into_iter().map(PhotoId::from).collect(),
        photos_out: entry.ranked_names(PHOTOS_OUT).into_iter().map(PhotoId::from).collect(),
        stops,
        when,
        who: entry.text(WHO),
        state,
        by: entry.text(BY),
        at: entry.moment(AT),
    };
    entry.finish();
    finding
}
