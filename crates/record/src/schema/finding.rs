//! Keys of a finding: its words, its evidence, the uses it stops, and where it stands.

use inspection::{
    Carried, FindingState, PhotoId, PointId, ReadingId, Recheck, RecheckMark, RecordedFinding,
    TimeToAct, Use,
};

use super::{Entry, Fact, Facts, Writing, moment_text, one_line};
use crate::{Refusal, RefusalKind};

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

/// What it was in the earlier job: number, key, place, heading, and the statement on the lines that are left.
const CARRIED: &str = "carried";
/// Photos that showed it then.
const THEN: &str = "then/";
/// What became of it: word, time, person, and the reason or the note on the lines that are left.
const RECHECK: &str = "recheck";

const DRAFT: &str = "draft";
const CONFIRMED: &str = "confirmed";
const WITHDRAWN: &str = "withdrawn";
const MERGED: &str = "merged";

pub(crate) fn finding_facts(finding: &RecordedFinding) -> Result<Facts, Refusal> {
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
        carried,
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
    if let Some(carried) = carried {
        carried_facts(&mut writing, carried)?;
    }
    Ok(writing.facts)
}

fn carried_facts(writing: &mut Writing, carried: &Carried) -> Result<(), Refusal> {
    let Carried { number, key, position, title, statement, photos, mark } = carried;
    let text = format!(
        "{number}\n{}\n{}\n{}\n{statement}",
        one_line("the earlier key", key)?,
        one_line("the earlier place", position)?,
        one_line("the earlier heading", title)?,
    );
    writing.put(CARRIED, Fact::text(text));
    writing.ranked(THEN, photos.iter().map(PhotoId::as_str))?;
    if let Some(RecheckMark { recheck, note, by, at }) = mark {
        let at = at.map(moment_text).transpose()?.unwrap_or_default();
        let reason = match recheck {
            Recheck::NotSeen { reason } if reason.trim().is_empty() => {
                return Err(RefusalKind::NoWords
                    .refusal("say why the finding was not seen; the reason given is empty"));
            }
            Recheck::NotSeen { reason } => reason.as_str(),
            Recheck::Corrected | Recheck::NotCorrected => note.as_str(),
        };
        let by = one_line("the name", by)?;
        writing.put(RECHECK, Fact::text(format!("{}\n{at}\n{by}\n{reason}", recheck.words())));
    }
    Ok(())
}

/// What the finding was in the earlier job; none where that cannot be read.
fn read_carried(entry: &mut Entry<'_, '_>) -> Option<Carried> {
    let photos = entry.ranked_names(THEN).into_iter().map(PhotoId::from).collect();
    let mark = entry.text_if_any(RECHECK).and_then(|text| read_mark(entry, &text));
    let text = entry.text_if_any(CARRIED)?;
    let mut parts = text.splitn(5, '\n');
    let mut next = || parts.next().unwrap_or_default().to_owned();
    let Ok(number) = next().parse() else {
        entry.trouble(format!(
            "`{CARRIED}` says `{text}`, where number, key, place, heading and statement belong; it is left out"
        ));
        return None;
    };
    let (key, position, title) = (next(), next(), next());
    Some(Carried { number, key, position, title, statement: next(), photos, mark })
}

/// What became of it. A word that is unknown here counts as not said: so the finding goes on holding what it holds.
fn read_mark(entry: &mut Entry<'_, '_>, text: &str) -> Option<RecheckMark> {
    let mut parts = text.splitn(4, '\n');
    let mut next = || parts.next().unwrap_or_default();
    let (word, at, by, reason) = (next(), next(), next(), next());
    let recheck = match word {
        "corrected" => Recheck::Corrected,
        "not corrected" => Recheck::NotCorrected,
        "not seen" => Recheck::NotSeen { reason: reason.to_owned() },
        other => {
            entry.trouble(format!(
                "what became of it is `{other}`, which is unknown here; it is read as not said"
            ));
            return None;
        }
    };
    let at = if at.is_empty() { None } else { entry.moment_from(RECHECK, at) };
    let note = match recheck {
        Recheck::Corrected | Recheck::NotCorrected => reason.to_owned(),
        Recheck::NotSeen { reason: _ } => String::new(),
    };
    Some(RecheckMark { recheck, note, by: by.to_owned(), at })
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
        carried: read_carried(&mut entry),
    };
    entry.finish();
    finding
}
