//! What people do with findings: write, confirm, withdraw, word anew, give and take evidence, and make two of them one.

use findings::{Finding, together};
use inspection::{Carried, FindingId, FindingState, Recheck, RecheckMark, RecordedFinding};
use record::Edit;

use crate::act::{Evidence, FindingChange, FindingWritten};
use crate::edits::given;
use crate::{Now, Said, Visit};

/// A finding in a person's own words.
pub(crate) fn written(visit: &Visit, written: FindingWritten, now: Now) -> Result<Vec<Edit>, Said> {
    if let Some(point) = &written.point {
        visit.point_here(point)?;
    }
    let who = visit.who_recorded(written.point.as_ref(), written.who.trim());
    let finding = RecordedFinding {
        point: written.point,
        title: given(&written.title, "refusal-no-title")?,
        statement: written.statement.trim().to_owned(),
        photos: written.photos,
        stops: written.stops,
        when: written.when,
        who,
        state: FindingState::Confirmed,
        ..RecordedFinding::blank(&visit.author().person, Some(now.moment))
    };
    Ok(vec![Edit::AddFinding {
        id: FindingId::from(visit.record().fresh_id(visit.author(), 0)),
        finding: Box::new(finding),
    }])
}

/// A decision: confirmed, or withdrawn with its reason.
pub(crate) fn decided(
    visit: &Visit,
    key: &str,
    state: FindingState,
    now: Now,
) -> Result<Vec<Edit>, Said> {
    let begun = Begun::of(visit, key, now)?;
    Ok(begun.with(visit, |finding| finding.state = state))
}

/// One thing written anew. A draft that nobody decided on stays one.
pub(crate) fn edited(
    visit: &Visit,
    key: &str,
    change: FindingChange,
    now: Now,
) -> Result<Vec<Edit>, Said> {
    let begun = Begun::of_whole(visit, key, now)?;
    let of_draft = begun.finding.draft.is_some();
    let text = |text: String| text.trim().to_owned();
    match change {
        FindingChange::Title(title) => {
            let title = if of_draft { text(title) } else { given(&title, "refusal-no-title")? };
            Ok(begun.with(visit, |finding| finding.title = title))
        }
        FindingChange::Statement(statement) => {
            Ok(begun.with(visit, |finding| finding.statement = text(statement)))
        }
        FindingChange::Stops(stops) => Ok(begun.with(visit, |finding| finding.stops = stops)),
        FindingChange::When(when) => Ok(begun.with(visit, |finding| finding.when = when)),
        FindingChange::Who(who) => Ok(begun.with(visit, |finding| finding.who = text(who))),
        FindingChange::Point(_) if of_draft => Err(Said::new("refusal-point-of-draft")),
        FindingChange::Point(point) => {
            if let Some(point) = &point {
                visit.point_here(point)?;
            }
            Ok(begun.with(visit, |finding| finding.point = point))
        }
    }
}

/// Something shows the finding.
pub(crate) fn attached(
    visit: &Visit,
    key: &str,
    evidence: Evidence,
    now: Now,
) -> Result<Vec<Edit>, Said> {
    let begun = Begun::of_whole(visit, key, now)?;
    let standing = standing(visit, key);
    match evidence {
        Evidence::Reading(id) => {
            if !visit.inspection().readings.contains_key(&id) {
                return Err(Said::new("refusal-no-reading"));
            }
            if standing.is_some_and(|finding| finding.readings.contains(&id)) {
                return Ok(Vec::new());
            }
            Ok(begun.with(visit, |finding| finding.readings.push(id)))
        }
        Evidence::Photo(id) => {
            let Some(known) = visit.inspection().photos.get(&id) else {
                return Err(Said::new("refusal-no-photo"));
            };
            if !known.earlier.is_empty() {
                return Err(Said::new("refusal-photo-earlier").with("job", &known.earlier));
            }
            if standing.is_some_and(|finding| finding.photos.contains(&id)) {
                return Ok(Vec::new());
            }
            Ok(begun.with(visit, |finding| {
                let before = finding.photos_out.len();
                finding.photos_out.retain(|out| *out != id);
                // One that was taken away comes back by itself, where the point's photos show the finding.
                let comes_back = before > finding.photos_out.len()
                    && finding.draft.is_some()
                    && visit.inspection().photos[&id].point == finding.point;
                if !comes_back && !finding.photos.contains(&id) {
                    finding.photos.push(id);
                }
            }))
        }
    }
}

/// Something does not show the finding.
pub(crate) fn detached(
    visit: &Visit,
    key: &str,
    evidence: &Evidence,
    now: Now,
) -> Result<Vec<Edit>, Said> {
    let begun = Begun::of_whole(visit, key, now)?;
    match evidence {
        Evidence::Reading(id) => {
            let attached = begun.finding.readings.contains(id);
            let shown = standing(visit, key).is_some_and(|finding| finding.readings.contains(id));
            if shown && !attached {
                return Err(Said::new("refusal-reading-brought-up"));
            }
            Ok(begun.with(visit, |finding| finding.readings.retain(|one| one != id)))
        }
        Evidence::Photo(id) => {
            let whole = standing(visit, key);
            let shown = whole.as_ref().is_some_and(|finding| finding.photos.contains(id));
            let of_its_own = whole
                .is_some_and(|finding| finding.recorded.is_none() || !finding.merged.is_empty())
                || begun.finding.draft.is_some();
            Ok(begun.with(visit, |finding| {
                finding.photos.retain(|one| one != id);
                if shown && of_its_own && !finding.photos_out.contains(id) {
                    finding.photos_out.push(id.clone());
                }
            }))
        }
    }
}

/// A finding becomes a part of another. What a person has decided on the other takes in the part's uses, words and haste.
pub(crate) fn merged(visit: &Visit, key: &str, into: &str, now: Now) -> Result<Vec<Edit>, Said> {
    if key == into {
        return Err(Said::new("refusal-merge-itself"));
    }
    let part = standing(visit, key).ok_or_else(|| Said::new("refusal-no-finding"))?;
    let whole = standing(visit, into).ok_or_else(|| Said::new("refusal-no-finding"))?;
    let begun = Begun::of(visit, key, now)?;
    let mut edits =
        begun.with(visit, |finding| finding.state = FindingState::Merged { into: into.to_owned() });
    if whole.recorded.is_some() {
        let whole = Begun::of(visit, into, now)?;
        edits.extend(whole.with(visit, |finding| {
            for one in &part.stops {
                if !finding.stops.contains(one) {
                    finding.stops.push(*one);
                }
            }
            finding.when = finding.when.min(part.when);
            if !finding.statement.is_empty() {
                finding.statement = together(&finding.statement, &part.statement);
            }
        }));
    }
    Ok(edits)
}

/// What became of a carried finding.
pub(crate) fn rechecked(
    visit: &Visit,
    key: &str,
    recheck: Option<Recheck>,
    note: &str,
    now: Now,
) -> Result<Vec<Edit>, Said> {
    let (id, before) = recorded(visit, key).ok_or_else(|| Said::new("refusal-no-finding"))?;
    let Some(then) = &before.carried else { return Err(Said::new("refusal-not-carried")) };
    let recheck = match recheck {
        Some(Recheck::NotSeen { reason }) => {
            Some(Recheck::NotSeen { reason: given(&reason, "refusal-no-reason")? })
        }
        other => other,
    };
    let note = match &recheck {
        Some(Recheck::Corrected | Recheck::NotCorrected) => note.to_owned(),
        Some(Recheck::NotSeen { reason: _ }) | None => String::new(),
    };
    let before_that = then.mark.as_ref().map(|mark| (&mark.recheck, mark.note.as_str()));
    if before_that == recheck.as_ref().map(|recheck| (recheck, note.as_str())) {
        return Ok(Vec::new());
    }
    let by = visit.author().person.clone();
    let mark = recheck.map(|recheck| RecheckMark { recheck, note, by, at: Some(now.moment) });
    let carried = Some(Carried { mark, ..then.clone() });
    let after = RecordedFinding { carried, ..before.clone() };
    Ok(vec![Edit::ChangeFinding {
        id: id.clone(),
        before: Box::new(before.clone()),
        after: Box::new(after),
    }])
}

/// A part stands by itself again: a draft as a draft, and what a person wrote as it was.
pub(crate) fn unmerged(visit: &Visit, key: &str) -> Result<Vec<Edit>, Said> {
    let recorded = recorded(visit, key).ok_or_else(|| Said::new("refusal-no-finding"))?;
    if !matches!(recorded.1.state, FindingState::Merged { .. }) {
        return Err(Said::new("refusal-not-merged"));
    }
    let (id, before) = recorded;
    let mut after = before.clone();
    after.state =
        if before.draft.is_some() { FindingState::Draft } else { FindingState::Confirmed };
    Ok(vec![Edit::ChangeFinding {
        id: id.clone(),
        before: Box::new(before.clone()),
        after: Box::new(after),
    }])
}

/// The record's entry of a finding, by its key.
pub(crate) fn recorded<'v>(
    visit: &'v Visit,
    key: &str,
) -> Option<(&'v FindingId, &'v RecordedFinding)> {
    let mut findings = visit.inspection().findings.iter();
    findings.find(|(id, finding)| finding.draft.as_deref() == Some(key) || id.as_str() == key)
}

/// The finding with this key as it stands in the report, in the words that are recorded.
fn standing(visit: &Visit, key: &str) -> Option<Finding> {
    let assessment = visit.assessment_as_recorded();
    assessment.findings.iter().find(|finding| finding.key == key).cloned()
}

/// A finding's entry in the record, or the one that it would begin with.
struct Begun {
    id: Option<FindingId>,
    finding: RecordedFinding,
}

impl Begun {
    fn of(visit: &Visit, key: &str, now: Now) -> Result<Self, Said> {
        if let Some((id, finding)) = recorded(visit, key) {
            return Ok(Self { id: Some(id.clone()), finding: finding.clone() });
        }
        let draft = standing(visit, key).ok_or_else(|| Said::new("refusal-no-finding"))?;
        let finding = RecordedFinding {
            point: draft.point,
            draft: Some(key.to_owned()),
            // The statement follows the readings, so it is not frozen here.
            title: draft.title,
            stops: draft.stops,
            when: draft.when,
            ..RecordedFinding::blank(&visit.author().person, Some(now.moment))
        };
        Ok(Self { id: None, finding })
    }

    /// The same, unless the finding is a part of another: then the other is what can be changed.
    fn of_whole(visit: &Visit, key: &str, now: Now) -> Result<Self, Said> {
        let begun = Self::of(visit, key, now)?;
        match begun.finding.state {
            FindingState::Merged { .. } => Err(Said::new("refusal-merged")),
            FindingState::Draft | FindingState::Confirmed | FindingState::Withdrawn { .. } => {
                Ok(begun)
            }
        }
    }

    /// The edit that changes it so; none where that changes nothing.
    fn with(self, visit: &Visit, change: impl FnOnce(&mut RecordedFinding)) -> Vec<Edit> {
        let mut after = self.finding.clone();
        change(&mut after);
        if after == self.finding {
            return Vec::new();
        }
        let finding = Box::new(after);
        vec![match self.id {
            Some(id) => Edit::ChangeFinding { id, before: Box::new(self.finding), after: finding },
            None => Edit::AddFinding {
                id: FindingId::from(visit.record().fresh_id(visit.author(), 0)),
                finding,
            },
        }]
    }
}
