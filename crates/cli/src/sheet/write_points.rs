//! Printing the points of a sheet, in walking order.

use inspection::{Inspection, InstrumentId, Moment, Outcome};
use plan::{Plan, Point, Positions, ReadingForm, ReadingPlan};

use super::photo_label;
use super::write::{comment, key, list, quoted, rule};
use crate::counting::{counting, words};

pub(crate) fn write(out: &mut String, plan: &Plan, inspection: &Inspection) {
    let dwelling = &inspection.dwelling;
    let mut stop = "";
    for point in plan.points_for(dwelling.kind, &dwelling.equipment) {
        if point.stop != stop {
            stop = &point.stop;
            rule(out, plan.stop(stop).map_or(stop, |stop| stop.title.as_str()));
        }
        acts(out, plan, point);
        fields(out, point, inspection);
        out.push('\n');
    }
}

fn acts(out: &mut String, plan: &Plan, point: &Point) {
    comment(out, " --- ", &format!("{} ({} min)", point.title, point.minutes));
    if !point.caution.is_empty() {
        comment(out, " CAUTION ", &point.caution);
    }
    if !point.needs.is_empty() {
        let title = |need: &String| {
            let known = plan.site_states.iter().find(|state| state.id == *need);
            known.map_or_else(|| words(need), |state| state.title.clone())
        };
        let needs: Vec<String> = point.needs.iter().map(title).collect();
        comment(out, " needs   ", &needs.join(", "));
    }
    for (lead, lines) in
        [(" look    ", &point.look), (" operate ", &point.operate), (" measure ", &point.measure)]
    {
        for line in lines {
            comment(out, lead, line);
        }
    }
    if let Some(wait) = &point.wait {
        let most = wait.at_most.map_or_else(String::new, |most| format!(", at most {most}"));
        let mut text = format!("{} min{most}: {}", wait.minutes, wait.what);
        if !wait.untouched.is_empty() {
            text.push_str(&format!("; leave alone: {}", wait.untouched.join(", ")));
        }
        comment(out, " wait    ", &text);
    }
    if !point.photo.is_empty() {
        comment(out, " photo   ", &point.photo);
    }
}

fn fields(out: &mut String, point: &Point, inspection: &Inspection) {
    let entry = inspection.points.get(point.id.as_str());
    out.push_str(&format!("[points.{}]\n", key(&point.id)));
    for reading in &point.readings {
        reading_lines(out, point, reading, inspection);
    }
    for defect in &point.defects {
        comment(out, " ", &format!("{} — {}", defect.id, defect.title));
    }
    let mut found = Vec::new();
    for (id, positions) in entry.map_or(&[][..], |entry| &entry.defects) {
        if positions.is_empty() {
            found.push(id.clone());
        }
        found.extend(positions.iter().map(|position| format!("{id}@{position}")));
    }
    out.push_str(&format!("found = {}\n", list(found.iter().map(String::as_str))));
    let outcome = entry.map(|entry| &entry.outcome);
    let reason = match outcome {
        Some(Outcome::NotExamined { reason }) => reason.as_str(),
        Some(Outcome::Examined | Outcome::NotFitted) | None => "",
    };
    out.push_str(&format!("examined = {}\n", outcome == Some(&Outcome::Examined)));
    out.push_str(&format!("not_examined = {}\n", quoted(reason)));
    out.push_str(&format!("not_fitted = {}\n", outcome == Some(&Outcome::NotFitted)));
    out.push_str(&format!("notes = {}\n", quoted(entry.map_or("", |entry| &entry.notes))));
    let photos: Vec<String> = placed(inspection, &point.id);
    out.push_str(&format!("photos = {}\n", list(photos.iter().map(String::as_str))));
    let at = entry.and_then(|entry| entry.at);
    out.push_str(&format!("at = {}\n", quoted(&time(at, inspection))));
    if point.wait.is_some() {
        let waits = inspection.waits.values().filter(|wait| wait.point.as_str() == point.id);
        let last = waits.max_by_key(|wait| wait.started);
        let (started, ended) = last.map_or((None, None), |wait| (wait.started, wait.ended));
        out.push_str(&format!("started = {}\n", quoted(&time(started, inspection))));
        out.push_str(&format!("ended = {}\n", quoted(&time(ended, inspection))));
    }
    out.push_str(&with(point, inspection));
}

/// The instrument of all quantities read at the point, or of each by its name where they differ.
fn with(point: &Point, inspection: &Inspection) -> String {
    if let Some(id) = shared_instrument(&point.readings, point, inspection) {
        return format!("with = {}\n", quoted(id.as_str()));
    }
    let lines: String = point
        .readings
        .iter()
        .filter_map(|reading| {
            let id = shared_instrument(std::slice::from_ref(reading), point, inspection)?;
            Some(format!("with.{} = {}\n", key(&reading.id), quoted(id.as_str())))
        })
        .collect();
    if lines.is_empty() { "with = \"\"\n".to_owned() } else { lines }
}

fn reading_lines(out: &mut String, point: &Point, plan: &ReadingPlan, inspection: &Inspection) {
    let mut remark = plan.title.clone();
    match &plan.form {
        ReadingForm::Quantity { unit, .. } if !unit.spelling.is_empty() => {
            remark.push_str(&format!(" [{}]", unit.spelling));
        }
        ReadingForm::Quantity { .. } | ReadingForm::Text => {}
        ReadingForm::Choice(choices) => remark.push_str(&format!(": {}", choices.join(", "))),
        ReadingForm::Date => remark.push_str(", as 2026-11-25 or 2026-11"),
    }
    if plan.optional {
        remark.push_str(" (may be left out)");
    }
    let counted = counting(inspection, &point.id, &plan.id);
    let at = |position: &str| {
        let found = counted.iter().find(|(_, reading)| reading.position == position);
        found.map_or("", |(_, reading)| reading.entry.as_str())
    };
    let name = key(&plan.id);
    let mut put = |mark: &str, place: &str, value: &str, remark: &str| {
        let line = format!("{mark}readings.{name}{place} = {}", quoted(value));
        if remark.is_empty() {
            out.push_str(&format!("{line}\n"));
        } else {
            out.push_str(&format!("{line:<30}  # {remark}\n"));
        }
    };
    match &plan.positions {
        Positions::One => put("", "", at(""), &remark),
        Positions::Named(names) => {
            for (nth, position) in names.iter().enumerate() {
                let remark = if nth == 0 { remark.as_str() } else { "" };
                put("", &format!(".{}", key(position)), at(position), remark);
            }
        }
        Positions::Any => {
            for (_, reading) in counted.iter().filter(|(_, reading)| !reading.position.is_empty()) {
                put("", &format!(".{}", key(&reading.position)), &reading.entry, "");
            }
            put("# ", ".\"name of the place\"", "", &format!("{remark}; one line a place"));
        }
    }
}

/// Names of the photos at a point, with their captions.
fn placed(inspection: &Inspection, point: &str) -> Vec<String> {
    let mut photos: Vec<_> = inspection
        .photos
        .iter()
        .filter(|(_, photo)| photo.point.as_ref().is_some_and(|id| id.as_str() == point))
        .collect();
    photos.sort_by_key(|(id, photo)| (photo.taken, &photo.file_name, *id));
    let name = |(id, photo): (&inspection::PhotoId, &inspection::Photo)| {
        let label = photo_label(inspection, id);
        if photo.caption.is_empty() { label } else { format!("{label}: {}", photo.caption) }
    };
    photos.into_iter().map(name).collect()
}

/// The time of the day if it is on the last visit's and has no offset, else the whole moment.
fn time(at: Option<Moment>, inspection: &Inspection) -> String {
    let Some(at) = at else { return String::new() };
    let whole = at.local.second() == 0 && at.local.subsec_nanosecond() == 0;
    let that_day = inspection.job.visits.last() == Some(&at.local.date());
    if whole && that_day && at.offset_minutes.is_none() {
        format!("{:02}:{:02}", at.local.hour(), at.local.minute())
    } else {
        at.to_string()
    }
}

/// The instrument of all quantities among these readings of a point, if they share one.
fn shared_instrument<'a>(
    readings: &[ReadingPlan],
    point: &Point,
    inspection: &'a Inspection,
) -> Option<&'a InstrumentId> {
    let mut shared: Option<&InstrumentId> = None;
    for plan in readings {
        if !matches!(plan.form, ReadingForm::Quantity { .. }) {
            continue;
        }
        for (_, reading) in counting(inspection, &point.id, &plan.id) {
            match (shared, &reading.instrument) {
                (_, None) => return None,
                (None, Some(one)) => shared = Some(one),
                (Some(shared), Some(other)) if shared == other => {}
                (Some(_), Some(_)) => return None,
            }
        }
    }
    shared
}
