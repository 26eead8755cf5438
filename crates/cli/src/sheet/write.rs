//! Printing the sheet of a job: everything to fill in, with what the record says already.

use std::collections::BTreeSet;

use findings::Assessment;
use inspection::{DwellingKind, FindingState, Inspection, Instrument, RecordedFinding};
use plan::{BoundFrom, InputFrom, Plan, Point};

use super::{photo_label, write_points};

/// The sheet's text.
pub(crate) fn write(plan: &Plan, inspection: &Inspection, assessment: &Assessment) -> String {
    let mut out = String::new();
    head(&mut out, plan, inspection);
    job(&mut out, inspection);
    dwelling(&mut out, plan, inspection);
    instruments(&mut out, inspection);
    write_points::write(&mut out, plan, inspection);
    findings(&mut out, inspection);
    decisions(&mut out, inspection, assessment);
    unplaced(&mut out, inspection);
    out
}

/// A text as TOML writes it.
pub(crate) fn quoted(text: &str) -> String {
    toml_edit::Value::from(text).to_string()
}

/// A list of texts as TOML writes it.
pub(crate) fn list<'a>(texts: impl IntoIterator<Item = &'a str>) -> String {
    let texts: Vec<String> = texts.into_iter().map(quoted).collect();
    format!("[{}]", texts.join(", "))
}

/// A key as TOML writes it.
pub(crate) fn key(text: &str) -> String {
    toml_edit::Key::new(text).to_string()
}

/// Words as comment lines of at most 100 characters, the first behind `lead`.
pub(crate) fn comment(out: &mut String, lead: &str, text: &str) {
    let indent = " ".repeat(lead.chars().count());
    let mut line = format!("#{lead}");
    let mut empty = true;
    for word in text.split_whitespace() {
        if !empty && line.chars().count() + 1 + word.chars().count() > 100 {
            out.push_str(line.trim_end());
            out.push('\n');
            line = format!("#{indent}");
            empty = true;
        }
        if !empty {
            line.push(' ');
        }
        line.push_str(word);
        empty = false;
    }
    out.push_str(line.trim_end());
    out.push('\n');
}

fn put(out: &mut String, name: &str, value: &str, remark: &str) {
    let line = format!("{name} = {value}");
    if remark.is_empty() {
        out.push_str(&format!("{line}\n"));
    } else {
        out.push_str(&format!("{line:<30}  # {remark}\n"));
    }
}

fn head(out: &mut String, plan: &Plan, inspection: &Inspection) {
    let number = &inspection.job.number;
    let unit = crate::open_job::unit_in_words(&inspection.dwelling);
    comment(out, " ", &format!("Job {number}: {unit}. {}.", plan.title));
    out.push_str("#\n");
    for line in [
        "Fill in what stands between the quotation marks; leave the rest as it is.".to_owned(),
        format!("Then: nearside job fill {number} THIS-FILE --photos FOLDER"),
        "A problem anywhere, and nothing is changed: every problem is listed with its line."
            .to_owned(),
        "Filling the same sheet twice adds nothing. What you empty stays in the record.".to_owned(),
    ] {
        comment(out, " ", &line);
    }
    out.push_str("#\n");
    for (lead, line) in [
        (
            " readings      ",
            "value and unit as you read them: \"11.2 inH2O\", \"1/4 in\", \"117.3 V ± 0.05\"",
        ),
        (
            " found         ",
            "ids of the defects listed below it: [\"cracked\"]; with a place: [\"cracked@left_front\"]",
        ),
        (
            " examined      ",
            "true where you looked and nothing is wrong; a reading or a defect says it by itself",
        ),
        (" not_examined  ", "the reason why not"),
        (" photos        ", "file names: [\"IMG_0012.jpg\", \"IMG_0013.jpg: what it shows\"]"),
        (
            " at            ",
            "time of the day, \"09:40\"; photos without a name here go to the nearest time",
        ),
        (
            " with          ",
            "the instrument of this point's readings, by its id under [instruments.…]; where they differ: with.tread = \"…\"",
        ),
    ] {
        comment(out, lead, line);
    }
    if !plan.cautions.is_empty() {
        out.push_str("#\n");
        comment(out, " ", "BEFORE YOU BEGIN");
        for caution in &plan.cautions {
            comment(out, " - ", caution);
        }
    }
}

fn job(out: &mut String, inspection: &Inspection) {
    let job = &inspection.job;
    out.push_str("\n[job]\n");
    for (name, text, remark) in [
        ("client", &job.client.name, "whom the report is addressed to"),
        ("contact", &job.client.contact, "how to reach the client"),
        ("role", &job.client.role, "buyer, owner, lender …"),
        ("purpose", &job.purpose, ""),
        ("site", &job.site.address, "where the unit stands"),
        ("inspector", &job.inspector, ""),
        ("credentials", &job.credentials, "licence, certificate or membership, as printed"),
    ] {
        put(out, name, &quoted(text), remark);
    }
    let visits: Vec<String> = job.visits.iter().map(ToString::to_string).collect();
    put(out, "visits", &list(visits.iter().map(String::as_str)), "days");
    put(out, "weather", &quoted(&job.weather), "");
    let altitude =
        job.site.altitude_metres.map_or_else(String::new, |metres| format!("{metres} m"));
    put(out, "altitude", &quoted(&altitude), "of the site: \"1200 ft\"");
    let position =
        job.site.position.map_or_else(String::new, |(north, east)| format!("{north}, {east}"));
    put(out, "position", &quoted(&position), "degrees north and east: \"44.26, -72.58\"");
    for (name, text, remark) in [
        ("scope", &job.engagement.scope, "what was agreed to be inspected"),
        ("limits", &job.engagement.limits, "what not, or only in part"),
        ("fee", &job.engagement.fee, ""),
        ("consent", &job.engagement.consent, "how and when the client agreed"),
    ] {
        put(out, name, &quoted(text), remark);
    }
}

fn dwelling(out: &mut String, plan: &Plan, inspection: &Inspection) {
    let dwelling = &inspection.dwelling;
    out.push_str("\n[dwelling]\n");
    put(
        out,
        "kind",
        &quoted(dwelling.kind.word()),
        &DwellingKind::ALL.map(DwellingKind::word).join(", "),
    );
    put(out, "maker", &quoted(&dwelling.maker), "as on the plate");
    put(out, "model", &quoted(&dwelling.model), "as on the plate");
    let year = dwelling.model_year.map_or_else(String::new, |year| year.to_string());
    put(out, "model_year", &quoted(&year), "");
    let built = dwelling.built.map_or_else(String::new, |built| built.to_string());
    put(out, "built", &quoted(&built), "\"2019-06\" where the plate has no day");
    put(out, "identification", &quoted(&dwelling.identification), "VIN or serial number, as read");
    comment(
        out,
        " ",
        "What is fitted: points are chosen by it. Take the # away from what the unit has.",
    );
    out.push_str("equipment = [\n");
    for word in &plan.equipment {
        let mark = if dwelling.equipment.contains(&word.id) { "" } else { "# " };
        let line = format!("    {mark}{},", quoted(&word.id));
        out.push_str(&format!("{line:<34} # {}\n", word.title));
    }
    // Words that this plan does not know stay in the record.
    for word in &dwelling.equipment {
        if !plan.equipment.iter().any(|known| known.id == *word) {
            out.push_str(&format!("    {},\n", quoted(word)));
        }
    }
    out.push_str("]\n\n[dwelling.outline]\n");
    put(out, "length", &quoted(&dwelling.outline.length), "of the body: \"24 ft 6 in\"");
    put(out, "width", &quoted(&dwelling.outline.width), "");
    put(
        out,
        "door_side",
        &quoted(&dwelling.outline.door_side),
        "left or right, facing the direction of travel",
    );
    let axles = dwelling.outline.axles;
    put(out, "axles", &quoted(&if axles == 0 { String::new() } else { axles.to_string() }), "");
    comment(out, " ", "Figures of the plates, with their units; others may be added.");
    out.push_str("\n[dwelling.ratings]\n");
    for name in rating_names(plan, inspection) {
        let value = dwelling.ratings.get(&name).map_or("", String::as_str);
        put(out, &key(&name), &quoted(value), "");
    }
}

/// Ratings in the record, those that points of this unit refer to, and the gross rating.
fn rating_names(plan: &Plan, inspection: &Inspection) -> BTreeSet<String> {
    const FACTS: [&str; 9] = [
        "built",
        "model_year",
        "identification",
        "kind",
        "length",
        "width",
        "altitude",
        "latitude",
        "longitude",
    ];
    let dwelling = &inspection.dwelling;
    let mut names: BTreeSet<String> = dwelling.ratings.keys().cloned().collect();
    names.insert("gross_rating".to_owned());
    for point in plan.points_for(dwelling.kind, &dwelling.equipment) {
        for from in inputs(point) {
            if let InputFrom::Dwelling(name) = from
                && !FACTS.contains(&name.as_str())
            {
                names.insert(name.clone());
            }
        }
    }
    names
}

fn inputs(point: &Point) -> impl Iterator<Item = &InputFrom> {
    let bounds = point.limits.iter().filter_map(|planned| planned.bound_from.as_ref());
    let bounds = bounds.flat_map(|bound| match bound {
        BoundFrom::AtMost(one) | BoundFrom::AtLeast(one) => vec![one],
        BoundFrom::Between(one, other) => vec![one, other],
    });
    point.derived.iter().flat_map(|derived| derived.from.values()).chain(bounds)
}

fn instruments(out: &mut String, inspection: &Inspection) {
    out.push_str(
        "\n# Instruments: their accuracy overrides the usual one. Take the # away and fill in.\n",
    );
    let sample = Instrument::default();
    let known = inspection.instruments.iter().map(|(id, instrument)| ("", id.as_str(), instrument));
    for (mark, id, instrument) in known.chain([("# ", "multimeter", &sample)]) {
        if !mark.is_empty() && inspection.instruments.contains_key(id) {
            continue;
        }
        let day =
            |day: Option<jiff::civil::Date>| day.map_or_else(String::new, |day| day.to_string());
        out.push_str(&format!("{mark}[instruments.{}]\n", key(id)));
        let mut lines = String::new();
        put(&mut lines, "kind", &quoted(&instrument.kind), "multimeter, manometer, tread gauge …");
        put(&mut lines, "name", &quoted(&instrument.name), "");
        put(&mut lines, "serial", &quoted(&instrument.serial), "");
        let percent = instrument.percent_of_reading.to_string();
        put(&mut lines, "percent_of_reading", &percent, "accuracy: part of the reading, percent");
        put(
            &mut lines,
            "counts",
            &instrument.counts.to_string(),
            "accuracy: counts of the last digit",
        );
        put(&mut lines, "resolution", &quoted(&instrument.resolution), "smallest step: \"0.1 V\"");
        put(&mut lines, "calibrated", &quoted(&day(instrument.calibrated)), "day");
        put(&mut lines, "calibration_due", &quoted(&day(instrument.calibration_due)), "day");
        for line in lines.lines() {
            out.push_str(&format!("{mark}{line}\n"));
        }
        out.push('\n');
    }
}

fn findings(out: &mut String, inspection: &Inspection) {
    rule(out, "Findings of your own: what no point's list has");
    for (id, finding) in &inspection.findings {
        let stands = matches!(finding.state, FindingState::Draft | FindingState::Confirmed);
        if finding.draft.is_some() || finding.carried.is_some() || !stands {
            continue;
        }
        out.push_str(&format!("[[finding]]\nid = {}\n", quoted(id.as_str())));
        finding_lines(out, "", finding, inspection);
        out.push('\n');
    }
    let sample = RecordedFinding::blank("", None);
    out.push_str("# [[finding]]\n");
    finding_lines(out, "# ", &sample, inspection);
}

fn finding_lines(out: &mut String, mark: &str, finding: &RecordedFinding, inspection: &Inspection) {
    let mut lines = String::new();
    let point = finding.point.as_ref().map_or("", |point| point.as_str());
    put(&mut lines, "point", &quoted(point), "id of a point, as in [points.…]; may stay empty");
    put(&mut lines, "title", &quoted(&finding.title), "");
    put(&mut lines, "statement", &quoted(&finding.statement), "");
    let stops = list(finding.stops.iter().map(|one| one.word()));
    put(&mut lines, "stops", &stops, "tow, power, gas, water, stay");
    put(&mut lines, "when", &quoted(finding.when.words()), "before use, soon, in time");
    put(&mut lines, "who", &quoted(&finding.who), "whom to call");
    let photos: Vec<String> = finding.photos.iter().map(|id| photo_label(inspection, id)).collect();
    put(&mut lines, "photos", &list(photos.iter().map(String::as_str)), "");
    if mark.is_empty() {
        out.push_str(&lines);
    } else {
        for line in lines.lines() {
            out.push_str(&format!("{mark}{line}\n"));
        }
    }
}

fn decisions(out: &mut String, inspection: &Inspection, assessment: &Assessment) {
    rule(out, "Decisions on drafted findings: confirm, or withdraw with a reason");
    let open: Vec<_> =
        assessment.findings.iter().filter(|finding| finding.recorded.is_none()).collect();
    for finding in &open {
        comment(out, " drafted: ", &format!("{} — {}", finding.key, finding.title));
    }
    for finding in inspection.findings.values() {
        let Some(draft) = &finding.draft else { continue };
        let (decision, reason) = match &finding.state {
            FindingState::Draft | FindingState::Merged { .. } => continue,
            FindingState::Confirmed => ("confirm", ""),
            FindingState::Withdrawn { reason } => ("withdraw", reason.as_str()),
        };
        out.push_str("[[decide]]\n");
        put(out, "key", &quoted(draft), "");
        put(out, "decision", &quoted(decision), "");
        put(out, "reason", &quoted(reason), "");
        out.push('\n');
    }
    let example = open.first().map_or("regulator_lockup/lockup_high", |finding| &finding.key);
    out.push_str(&format!(
        "# [[decide]]\n# key = {}\n# decision = \"confirm\"\n# reason = \"\"\n",
        quoted(example)
    ));
}

fn unplaced(out: &mut String, inspection: &Inspection) {
    let names: Vec<String> = inspection
        .photos
        .iter()
        .filter(|(_, photo)| photo.point.is_none() && photo.earlier.is_empty())
        .map(|(id, _)| photo_label(inspection, id))
        .collect();
    if !names.is_empty() {
        rule(out, "Photos that belong to no point yet");
        comment(out, " ", &names.join(", "));
    }
}

/// A heading between parts of the sheet.
pub(crate) fn rule(out: &mut String, title: &str) {
    out.push_str(&format!(
        "\n# ===== {title} {}\n\n",
        "=".repeat(88_usize.saturating_sub(title.chars().count()))
    ));
}
