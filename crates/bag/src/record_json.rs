//! Everything recorded, as plain JSON: for whoever reads a bag without a reader of its document format.

use inspection::{
    Agreement, Carried, FindingState, Inspection, Mark, Moment, Outcome, Recheck, Taxed,
};
use record::TrailEntry;
use serde_json::{Map, Value, json};

/// All facts of the record and its trail, as JSON; `docs/schema/record.schema.json` describes it.
///
/// Readings stand as they were typed. Struck-out readings, withdrawn findings and unused photos are in it too.
#[must_use]
pub fn record_json(inspection: &Inspection, trail: &[TrailEntry]) -> Value {
    let job = &inspection.job;
    json!({
        "job": {
            "number": job.number,
            "purpose": job.purpose,
            "inspector": job.inspector,
            "credentials": job.credentials,
            "client": {
                "name": job.client.name,
                "contact": job.client.contact,
                "role": job.client.role,
            },
            "site": {
                "address": job.site.address,
                "latitude": job.site.position.map(|(north, _)| north),
                "longitude": job.site.position.map(|(_, east)| east),
                "altitude_metres": job.site.altitude_metres,
            },
            "visits": job.visits.iter().map(ToString::to_string).collect::<Vec<_>>(),
            "earlier": job.earlier.as_ref().map(|earlier| json!({
                "job": earlier.number,
                "visited": earlier.visited.map(|day| day.to_string()),
                "heads": earlier.heads.iter().map(|head| head.as_str()).collect::<Vec<_>>(),
                "release": earlier.release.as_ref().map(|(number, _)| number),
                "tag_manifest_sha256": earlier.release.as_ref().map(|(_, sha256)| sha256),
            })),
            "weather": job.weather,
            "engagement": {
                "scope": job.engagement.scope,
                "limits": job.engagement.limits,
                "fee": job.engagement.fee,
                "consent": job.engagement.consent,
                "agreement": job.engagement.agreement.as_ref().map(agreement),
                "consents": job.engagement.consents.iter().map(|(id, consent)| json!({
                    "id": id.as_str(),
                    "name": consent.name,
                    "at": consent.at.to_string(),
                    "how": consent.how.word(),
                    "address": consent.address,
                    "drawn": consent.drawn.to_string(),
                    "agreed_sha256": consent.agreed,
                    "text": consent.text,
                    "by": consent.by,
                })).collect::<Vec<_>>(),
            },
            "plan": job.plan,
            "plan_sha256": job.plan_hash,
        },
        "unit": unit(inspection),
        "points": points(inspection),
        "readings": readings(inspection),
        "findings": findings_of(inspection),
        "photos": photos(inspection),
        "memos": memos(inspection),
        "waits": inspection.waits.iter().map(|(id, wait)| json!({
            "id": id.as_str(),
            "point": wait.point.as_str(),
            "started": moment(wait.started),
            "ended": moment(wait.ended),
            "by": wait.by,
        })).collect::<Vec<_>>(),
        "site_states": inspection.site_states.iter().map(|change| json!({
            "state": change.state,
            "on": change.on,
            "at": moment(change.at),
            "by": change.by,
        })).collect::<Vec<_>>(),
        "instruments": inspection.instruments.iter().map(|(id, one)| json!({
            "id": id.as_str(),
            "kind": one.kind,
            "name": one.name,
            "serial": one.serial,
            "percent_of_reading": one.percent_of_reading,
            "counts": one.counts,
            "resolution": one.resolution,
            "calibrated": one.calibrated.map(|day| day.to_string()),
            "calibration_due": one.calibration_due.map(|day| day.to_string()),
        })).collect::<Vec<_>>(),
        "trail": trail.iter().map(|entry| json!({
            "change": entry.hash.to_string(),
            "after": entry.deps.iter().map(ToString::to_string).collect::<Vec<_>>(),
            "at_unix_seconds": entry.at_unix_seconds,
            "person": entry.person,
            "device": entry.device,
            "act": entry.message,
        })).collect::<Vec<_>>(),
    })
}

fn moment(moment: Option<Moment>) -> Option<String> {
    moment.map(|moment| moment.to_string())
}

/// What was put to the client; amounts in minor units of the currency, rates in millionths.
fn agreement(agreement: &Agreement) -> Value {
    let charges = &agreement.charges;
    let taxed = |taxed: &Taxed| match taxed {
        Taxed::All => json!("all"),
        Taxed::Untaxed => json!("none"),
        Taxed::Only(name) => json!({ "only": name }),
    };
    json!({
        "unit": agreement.unit,
        "day": agreement.day.map(|day| day.to_string()),
        "language": agreement.language,
        "terms": agreement.terms,
        "payment": agreement.payment,
        "currency": charges.currency.code(),
        "lines": charges.lines.iter().map(|line| json!({
            "text": line.text,
            "amount": line.amount,
            "taxed": taxed(&line.taxed),
        })).collect::<Vec<_>>(),
        "taxes": charges.taxes.iter().map(|tax| json!({
            "name": tax.name,
            "rate_millionths": tax.rate.millionths,
        })).collect::<Vec<_>>(),
    })
}

fn unit(inspection: &Inspection) -> Value {
    let unit = &inspection.dwelling;
    let ratings: Map<String, Value> =
        unit.ratings.iter().map(|(name, entry)| (name.clone(), json!(entry))).collect();
    json!({
        "kind": unit.kind.word(),
        "maker": unit.maker,
        "model": unit.model,
        "model_year": unit.model_year,
        "built": unit.built.map(|day| day.to_string()),
        "identification": unit.identification,
        "equipment": unit.equipment,
        "ratings": ratings,
        "outline": {
            "length": unit.outline.length,
            "width": unit.outline.width,
            "door_side": unit.outline.door_side,
            "axles": unit.outline.axles,
        },
    })
}

fn points(inspection: &Inspection) -> Vec<Value> {
    let point = |(id, entry): (&inspection::PointId, &inspection::PointEntry)| {
        let (outcome, reason) = match &entry.outcome {
            Outcome::Examined => ("examined", None),
            Outcome::NotExamined { reason } => ("not examined", Some(reason)),
            Outcome::NotFitted => ("not fitted", None),
        };
        let defects: Vec<Value> = entry
            .defects
            .iter()
            .map(|(defect, positions)| json!({"defect": defect, "positions": positions}))
            .collect();
        json!({
            "point": id.as_str(),
            "outcome": outcome,
            "reason": reason,
            "defects": defects,
            "notes": entry.notes,
            "by": entry.by,
            "at": moment(entry.at),
        })
    };
    inspection.points.iter().map(point).collect()
}

fn readings(inspection: &Inspection) -> Vec<Value> {
    let reading = |(id, reading): (&inspection::ReadingId, &inspection::Reading)| {
        let struck_out = reading.struck_out.as_ref();
        json!({
            "id": id.as_str(),
            "point": reading.point.as_str(),
            "name": reading.name,
            "position": reading.position,
            "entry": reading.entry,
            "instrument": reading.instrument.as_ref().map(|id| id.as_str()),
            "at": moment(reading.at),
            "by": reading.by,
            "struck_out": struck_out.map(|it| json!({"reason": it.reason, "by": it.by})),
        })
    };
    inspection.readings.iter().map(reading).collect()
}

fn findings_of(inspection: &Inspection) -> Vec<Value> {
    let finding = |(id, finding): (&inspection::FindingId, &inspection::RecordedFinding)| {
        let (state, reason) = match &finding.state {
            FindingState::Draft => ("draft", None),
            FindingState::Confirmed => ("confirmed", None),
            FindingState::Withdrawn { reason } => ("withdrawn", Some(reason)),
            FindingState::Merged { .. } => ("merged", None),
        };
        let merged_into = match &finding.state {
            FindingState::Merged { into } => Some(into),
            FindingState::Draft | FindingState::Confirmed | FindingState::Withdrawn { .. } => None,
        };
        json!({
            "id": id.as_str(),
            "point": finding.point.as_ref().map(|id| id.as_str()),
            "draft": finding.draft,
            "title": finding.title,
            "statement": finding.statement,
            "readings": finding.readings.iter().map(|id| id.as_str()).collect::<Vec<_>>(),
            "photos": finding.photos.iter().map(|id| id.as_str()).collect::<Vec<_>>(),
            "stops": finding.stops.iter().map(|one| one.word()).collect::<Vec<_>>(),
            "when": finding.when.words(),
            "who": finding.who,
            "state": state,
            "reason": reason,
            "merged_into": merged_into,
            "photos_out": finding.photos_out.iter().map(|id| id.as_str()).collect::<Vec<_>>(),
            "carried": finding.carried.as_ref().map(carried),
            "by": finding.by,
            "at": moment(finding.at),
        })
    };
    inspection.findings.iter().map(finding).collect()
}

/// What a finding was in the earlier job, and what became of it.
fn carried(carried: &Carried) -> Value {
    let mark = carried.mark.as_ref();
    let reason = match mark.map(|mark| &mark.recheck) {
        Some(Recheck::NotSeen { reason }) => Some(reason),
        Some(Recheck::Corrected | Recheck::NotCorrected) | None => None,
    };
    json!({
        "number": carried.number,
        "key": carried.key,
        "position": carried.position,
        "title": carried.title,
        "statement": carried.statement,
        "photos": carried.photos.iter().map(|id| id.as_str()).collect::<Vec<_>>(),
        "recheck": mark.map(|mark| mark.recheck.words()),
        "reason": reason,
        "note": mark.map(|mark| &mark.note).filter(|note| !note.is_empty()),
        "by": mark.map(|mark| &mark.by),
        "at": mark.and_then(|mark| moment(mark.at)),
    })
}

fn photos(inspection: &Inspection) -> Vec<Value> {
    let photo = |(id, photo): (&inspection::PhotoId, &inspection::Photo)| {
        json!({
            "sha256": id.as_str(),
            "file_name": photo.file_name,
            "earlier": photo.earlier,
            "taken": moment(photo.taken),
            "point": photo.point.as_ref().map(|id| id.as_str()),
            "position": photo.position,
            "caption": photo.caption,
            "display_sha256": photo.copy,
            "thumbnail_sha256": photo.thumbnail,
            "width": photo.size.0,
            "height": photo.size.1,
            "damage": photo.damage,
            "camera": photo.camera,
            "marks": photo.marks.iter().map(mark).collect::<Vec<_>>(),
            "crop": photo.crop.map(|crop| json!({
                "from": [crop.from.0, crop.from.1], "to": [crop.to.0, crop.to.1], "turns": crop.turns,
            })),
            "place": photo.place.map(|it| json!({"along": it.along, "across": it.across})),
        })
    };
    inspection.photos.iter().map(photo).collect()
}

fn memos(inspection: &Inspection) -> Vec<Value> {
    let memo = |(id, memo): (&inspection::MemoId, &inspection::Memo)| {
        json!({
            "sha256": id.as_str(),
            "point": memo.point.as_str(),
            "media_type": memo.media_type,
            "seconds": memo.seconds,
            "by": memo.by,
            "at": moment(memo.at),
            "struck_out": memo.struck_out.as_ref().map(|out| json!({"reason": out.reason, "by": out.by})),
        })
    };
    inspection.memos.iter().map(memo).collect()
}

fn mark(mark: &Mark) -> Value {
    let between = |kind: &str, from: &(f64, f64), to: &(f64, f64)| json!({"kind": kind, "from": [from.0, from.1], "to": [to.0, to.1]});
    match mark {
        Mark::Arrow { from, to } => between("arrow", from, to),
        Mark::Box { from, to } => between("box", from, to),
        Mark::Circle { from, to } => between("circle", from, to),
        Mark::Blur { from, to } => between("blur", from, to),
        Mark::Words { at, text } => json!({"kind": "words", "at": [at.0, at.1], "text": text}),
    }
}
