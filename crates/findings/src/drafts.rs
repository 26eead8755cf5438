//! Findings: drafted from broken limits and seen defects, decided on or added by people.

use std::collections::BTreeMap;

use crate::carried;
use crate::merged::{self, Part};
use crate::sentence::Voice;
use crate::{Finding, Ground, LimitResult, Origin, PointResult, ValueResult, sentence};
use inspection::{
    FindingId, FindingState, Inspection, PhotoId, PointId, ReadingId, RecordedFinding, TimeToAct,
};
use limit::Verdict;
use plan::{Defect, Point};

/// All findings that stand, numbered.
pub(crate) fn findings(
    inspection: &Inspection,
    points: &[(&Point, PointResult)],
    voice: Voice<'_>,
) -> Vec<Finding> {
    let mut drafts: Vec<Finding> = Vec::new();
    for (point, result) in points {
        drafts.extend(drafts_of(point, result, inspection, voice));
    }
    let mut decided: BTreeMap<&str, (&FindingId, &RecordedFinding)> = BTreeMap::new();
    let mut added = Vec::new();
    let mut carried = Vec::new();
    for (id, recorded) in &inspection.findings {
        if let Some(then) = &recorded.carried {
            carried.push((id, recorded, then));
            continue;
        }
        match &recorded.draft {
            Some(key) if drafts.iter().any(|draft| draft.key == *key) => {
                decided.insert(key, (id, recorded));
            }
            // A draft that nobody stands behind goes with what brought it up, and so does one that is part of another.
            Some(_)
                if matches!(recorded.state, FindingState::Draft | FindingState::Merged { .. }) => {}
            _ => added.push((id, recorded)),
        }
    }
    let mut standing: Vec<Finding> = Vec::with_capacity(drafts.len() + added.len());
    let mut parts: Vec<Part> = Vec::new();
    let mut sort = |finding: Finding, state: &FindingState| match state {
        FindingState::Draft | FindingState::Confirmed => standing.push(finding),
        FindingState::Withdrawn { .. } => {}
        FindingState::Merged { into } => parts.push(Part { finding, into: into.clone() }),
    };
    for (id, recorded, then) in carried {
        if then.is_corrected() {
            continue;
        }
        // What somebody decided on by itself stands by itself.
        let stands = !matches!(recorded.state, FindingState::Withdrawn { .. });
        let same = |draft: &Finding| {
            stands && draft.key == then.key && !decided.contains_key(then.key.as_str())
        };
        let today = drafts.iter().position(same).map(|at| drafts.remove(at));
        let of_point =
            points.iter().find(|(_, result)| Some(&result.point) == recorded.point.as_ref());
        let photos = of_point.map_or(&[][..], |(_, result)| &result.photos);
        let finding = carried::standing((id, recorded, then), today, photos, inspection, voice);
        sort(finding, &recorded.state);
    }
    for draft in drafts {
        match decided.get(draft.key.as_str()) {
            None => sort(draft, &FindingState::Draft),
            Some((id, recorded)) => sort(decide(draft, id, recorded, voice), &recorded.state),
        }
    }
    for (id, recorded) in added {
        sort(written(id, recorded, inspection, voice), &recorded.state);
    }
    merged::unite(&mut standing, parts, inspection, voice);
    let place = |finding: &Finding| {
        let point = finding.point.as_ref();
        points.iter().position(|(_, result)| Some(&result.point) == point).unwrap_or(points.len())
    };
    standing.sort_by_cached_key(|finding| {
        (
            finding.stop_work.is_empty(),
            finding.stops.is_empty(),
            finding.when,
            finding.ground,
            place(finding),
            finding.key.clone(),
        )
    });
    for (at, finding) in standing.iter_mut().enumerate() {
        finding.number = at + 1;
    }
    standing
}

fn drafts_of(
    point: &Point,
    result: &PointResult,
    inspection: &Inspection,
    voice: Voice<'_>,
) -> Vec<Finding> {
    let mut drafts: Vec<Finding> = Vec::new();
    for value in &result.values {
        for judged in &value.judgements {
            if let Some(draft) = drafted(point, result, value, judged, voice) {
                merge(&mut drafts, draft, voice);
            }
        }
    }
    if let Some(entry) = inspection.points.get(&result.point) {
        for (id, positions) in &entry.defects {
            let Some(defect) = point.defect(id) else { continue };
            let places: Vec<&str> = if positions.is_empty() {
                vec![""]
            } else {
                positions.iter().map(String::as_str).collect()
            };
            for position in places {
                merge(&mut drafts, seen(point, result, defect, position, voice), voice);
            }
        }
    }
    drafts
}

/// The finding that one judgement drafts, before it is merged with others and decided on; none if it drafts none.
pub(crate) fn drafted(
    point: &Point,
    result: &PointResult,
    value: &ValueResult,
    judged: &LimitResult,
    voice: Voice<'_>,
) -> Option<Finding> {
    let ground = match judged.judgement.verdict {
        Verdict::DoesNotConform => Ground::Limit,
        Verdict::BeyondGuidance => Ground::Guidance,
        Verdict::Undecided if judged.limit.can_condemn() => Ground::Undecided,
        Verdict::Undecided | Verdict::Conforms | Verdict::WithinGuidance | Verdict::NoLimit => {
            return None;
        }
    };
    let planned = point.limits.iter().find(|planned| planned.limit.id == judged.limit.id);
    let defect = planned.and_then(|planned| point.defect(&planned.defect));
    from_limit(point, result, value, judged, defect, ground, voice)
}

fn from_limit(
    point: &Point,
    result: &PointResult,
    value: &ValueResult,
    judged: &LimitResult,
    defect: Option<&Defect>,
    ground: Ground,
    voice: Voice<'_>,
) -> Option<Finding> {
    let readings = match &value.origin {
        Origin::Read(id) => vec![id.clone()],
        Origin::Computed { readings, .. } => readings.clone(),
    };
    if ground == Ground::Undecided {
        return Some(Finding {
            key: format!("{}/{}/undecided", point.id, judged.limit.id),
            title: voice.plan.words.say_with("{what}: undecided", &[("what", &value.title)]),
            statement: sentence::undecided(&point.id, value, judged, voice),
            stops: Vec::new(),
            when: TimeToAct::Soon,
            who: voice.plan.words.say("the inspector, with a better reading"),
            stop_work: String::new(),
            ..blank(point, result, &value.position, ground, readings, voice)
        });
    }
    let defect = defect?;
    // What only informs never holds a use by itself; a stop-work precaution does, until a person decides.
    let holds = ground == Ground::Limit || !defect.stop_work.is_empty();
    Some(Finding {
        key: format!("{}/{}", point.id, defect.id),
        title: defect.title.clone(),
        statement: sentence::fill(
            &defect.statement,
            (&point.id, &result.values),
            &value.position,
            Some((value, judged)),
            voice,
        ),
        stops: if holds { defect.stops.clone() } else { Vec::new() },
        when: defect.when,
        who: defect.who.clone(),
        stop_work: defect.stop_work.clone(),
        ..blank(point, result, &value.position, ground, readings, voice)
    })
}

fn seen(
    point: &Point,
    result: &PointResult,
    defect: &Defect,
    position: &str,
    voice: Voice<'_>,
) -> Finding {
    Finding {
        key: format!("{}/{}", point.id, defect.id),
        title: defect.title.clone(),
        statement: sentence::fill(
            &defect.statement,
            (&point.id, &result.values),
            position,
            None,
            voice,
        ),
        stops: defect.stops.clone(),
        when: defect.when,
        who: defect.who.clone(),
        stop_work: defect.stop_work.clone(),
        ..blank(point, result, position, Ground::Seen, Vec::new(), voice)
    }
}

fn blank(
    point: &Point,
    result: &PointResult,
    position: &str,
    ground: Ground,
    readings: Vec<ReadingId>,
    voice: Voice<'_>,
) -> Finding {
    Finding {
        number: 0,
        key: String::new(),
        recorded: None,
        point: Some(point.id.as_str().into()),
        position: voice.place(position),
        title: String::new(),
        statement: String::new(),
        stops: Vec::new(),
        when: TimeToAct::InTime,
        who: String::new(),
        stop_work: String::new(),
        ground,
        readings,
        photos: result.photos.clone(),
        confirmed: false,
        merged: Vec::new(),
        carried: None,
    }
}

/// One defect at several positions is one finding that names them all.
fn merge(drafts: &mut Vec<Finding>, draft: Finding, voice: Voice<'_>) {
    let Some(same) = drafts.iter_mut().find(|other| other.key == draft.key) else {
        drafts.push(draft);
        return;
    };
    add_place(&mut same.position, &draft.position);
    // A limit's sentence carries the figures; a seen one without them adds nothing to it.
    let filled = !draft.statement.contains(&voice.plan.words.say(sentence::NOT_RECORDED));
    if filled {
        same.statement = sentence::together(&same.statement, &draft.statement);
    }
    for one in draft.stops {
        if !same.stops.contains(&one) {
            same.stops.push(one);
        }
    }
    same.ground = same.ground.min(draft.ground);
    same.when = same.when.min(draft.when);
    for id in draft.readings {
        if !same.readings.contains(&id) {
            same.readings.push(id);
        }
    }
}

/// Names one more place, unless it is named already.
pub(crate) fn add_place(places: &mut String, place: &str) {
    if place.is_empty() || places.split(", ").any(|one| one == place) {
        return;
    }
    if !places.is_empty() {
        places.push_str(", ");
    }
    places.push_str(place);
}

/// A draft with what a person decided on it.
fn decide(draft: Finding, id: &FindingId, recorded: &RecordedFinding, voice: Voice<'_>) -> Finding {
    let keep = |own: &str, drafted: String| if own.is_empty() { drafted } else { own.to_owned() };
    let mut photos = draft.photos;
    photos.retain(|photo| !recorded.photos_out.contains(photo));
    extend(&mut photos, &recorded.photos);
    let mut readings = draft.readings;
    extend(&mut readings, &recorded.readings);
    Finding {
        recorded: Some(id.clone()),
        // One that was kept as it was drafted is said in the plan's language; a person's own words are in no phrasebook.
        title: keep(&voice.plan.words.say_with(&recorded.title, &[]), draft.title),
        statement: keep(&recorded.statement, draft.statement),
        stops: recorded.stops.clone(),
        when: recorded.when,
        who: keep(&voice.plan.words.say_with(&recorded.who, &[]), draft.who),
        confirmed: recorded.state == FindingState::Confirmed,
        photos,
        readings,
        ..draft
    }
}

/// A finding that a person wrote.
fn written(
    id: &FindingId,
    recorded: &RecordedFinding,
    inspection: &Inspection,
    voice: Voice<'_>,
) -> Finding {
    let mut photos = recorded.photos.clone();
    photos.retain(|photo| inspection.photos.contains_key(photo));
    Finding {
        number: 0,
        key: id.to_string(),
        recorded: Some(id.clone()),
        point: recorded.point.clone(),
        position: String::new(),
        title: recorded.title.clone(),
        statement: recorded.statement.clone(),
        stops: recorded.stops.clone(),
        when: recorded.when,
        // Whom to call begins with what the plan says at the point; a person's own words are in no phrasebook.
        who: voice.plan.words.say_with(&recorded.who, &[]),
        stop_work: String::new(),
        ground: Ground::Seen,
        readings: recorded.readings.clone(),
        photos,
        confirmed: recorded.state == FindingState::Confirmed,
        merged: Vec::new(),
        carried: None,
    }
}

pub(crate) fn extend<T: Clone + PartialEq>(list: &mut Vec<T>, more: &[T]) {
    for one in more {
        if !list.contains(one) {
            list.push(one.clone());
        }
    }
}

/// Photos of each point, in the order they were taken.
pub(crate) fn photos_by_point(inspection: &Inspection) -> BTreeMap<&PointId, Vec<PhotoId>> {
    let mut photos: Vec<_> = inspection.photos.iter().collect();
    photos.sort_by_key(|(id, photo)| (photo.taken, &photo.file_name, *id));
    let mut by_point: BTreeMap<&PointId, Vec<PhotoId>> = BTreeMap::new();
    for (id, photo) in photos {
        if let Some(point) = photo.point.as_ref().filter(|_| photo.earlier.is_empty()) {
            by_point.entry(point).or_default().push(id.clone());
        }
    }
    by_point
}
