//! The demo's filled sheet as what a person would do on the phone, one act after the other. Also compiled into the
//! program's own tests, which hold the outcome against that of `nearside job fill`.

use field::{Act, Answer, Entering, FindingWritten, Now, PhotoTaken, Visit};
use inspection::{Instrument, Moment, Photo, PhotoId, PointId, TimeToAct, Use};

/// A table of the sheet: its head, and its keys with their texts. The sheet's form is regular, so that no reader of
/// TOML is needed here.
struct Table {
    head: String,
    entries: Vec<(String, Vec<String>)>,
}

impl Table {
    fn texts(&self, key: &str) -> &[String] {
        self.entries.iter().find(|(one, _)| one == key).map_or(&[][..], |(_, texts)| texts)
    }

    fn text(&self, key: &str) -> &str {
        self.texts(key).first().map_or("", String::as_str)
    }
}

fn tables(sheet: &str) -> Vec<Table> {
    let mut tables: Vec<Table> = Vec::new();
    let mut lines = sheet.lines().map(str::trim);
    while let Some(line) = lines.next() {
        if line.is_empty() || line.starts_with('#') {
            continue;
        }
        if line.starts_with('[') {
            let head = line.trim_matches(['[', ']']).to_owned();
            tables.push(Table { head, entries: Vec::new() });
            continue;
        }
        let (key, value) = line.split_once(" = ").unwrap();
        let mut value = value.to_owned();
        while value.starts_with('[') && !value.ends_with(']') {
            value.push_str(lines.next().unwrap());
        }
        let texts = if value.contains('"') {
            value.split('"').skip(1).step_by(2).map(str::to_owned).collect()
        } else if value == "[]" {
            Vec::new()
        } else {
            vec![value]
        };
        tables.last_mut().unwrap().entries.push((key.to_owned(), texts));
    }
    tables
}

/// What was done, in the sheet's order: each act with its time.
pub(crate) struct Script {
    pub(crate) acts: Vec<(Act, Now)>,
    pub(crate) points: usize,
}

/// The script of a sheet; its photos only if `photos`, since their files are another matter.
pub(crate) fn script(visit: &Visit, sheet: &str, photos: bool) -> Script {
    assert!(!sheet.contains("\\\""), "the reader below knows no escapes");
    let tables = tables(sheet);
    let mut script = Script { acts: Vec::new(), points: 0 };
    let mut now = now_at(visit, "09:00");
    script.acts.push((Act::ChangeJob { after: Box::new(job(visit, &tables)) }, now));
    script.acts.push((Act::ChangeUnit { after: Box::new(dwelling(visit, &tables)) }, now));
    for table in &tables {
        if let Some(id) = table.head.strip_prefix("instruments.") {
            let act = Act::SetInstrument { id: id.into(), after: instrument(table) };
            script.acts.push((act, now));
        }
    }
    for table in &tables {
        if let Some(id) = table.head.strip_prefix("points.") {
            script.points += 1;
            if !table.text("at").is_empty() {
                now = now_at(visit, table.text("at"));
            }
            for act in at_point(&id.into(), table, photos) {
                script.acts.push((act, now));
            }
        }
    }
    for table in &tables {
        match table.head.as_str() {
            "finding" => script.acts.push((Act::WriteFinding(finding(table)), now)),
            "decide" => {
                let (key, reason) = (table.text("key").to_owned(), table.text("reason").to_owned());
                let act = match table.text("decision") {
                    "confirm" => Act::Confirm { key },
                    "withdraw" => Act::Withdraw { key, reason },
                    other => panic!("{other}"),
                };
                script.acts.push((act, now));
            }
            _ => {}
        }
    }
    script
}

/// A time of the visit's day. Acts of one time follow each other in the record.
pub(crate) fn now_at(visit: &Visit, clock: &str) -> Now {
    let day = visit.inspection().job.visits[0];
    let moment = Moment::parse(&format!("{day}T{clock}")).unwrap();
    let unix_seconds = moment.local.duration_since("1970-01-01T00:00".parse().unwrap()).as_secs();
    Now { unix_seconds, moment }
}

fn job(visit: &Visit, tables: &[Table]) -> inspection::Job {
    let mut job = visit.inspection().job.clone();
    for table in tables.iter().filter(|table| table.head == "job") {
        job.weather = table.text("weather").to_owned();
        let height = quantity::parse_value(table.text("altitude"), quantity::Kind::Length);
        job.site.altitude_metres = Some(height.unwrap().base);
        let (north, east) = table.text("position").split_once(", ").unwrap();
        job.site.position = Some((north.parse().unwrap(), east.parse().unwrap()));
    }
    job
}

fn dwelling(visit: &Visit, tables: &[Table]) -> inspection::Dwelling {
    let mut dwelling = visit.inspection().dwelling.clone();
    for table in tables {
        match table.head.as_str() {
            "dwelling" => {
                let built = table.text("built");
                dwelling.built = Some(format!("{built}-01").parse().unwrap());
                dwelling.identification = table.text("identification").to_owned();
                dwelling.equipment = table.texts("equipment").iter().cloned().collect();
            }
            "dwelling.ratings" => {
                for (name, texts) in &table.entries {
                    dwelling.ratings.insert(name.clone(), texts[0].clone());
                }
            }
            "dwelling.outline" => {
                dwelling.outline.length = table.text("length").to_owned();
                dwelling.outline.width = table.text("width").to_owned();
                dwelling.outline.door_side = table.text("door_side").to_owned();
                dwelling.outline.axles = table.text("axles").parse().unwrap();
            }
            _ => {}
        }
    }
    dwelling
}

fn instrument(table: &Table) -> Instrument {
    Instrument {
        kind: table.text("kind").to_owned(),
        name: table.text("name").to_owned(),
        serial: table.text("serial").to_owned(),
        percent_of_reading: table.text("percent_of_reading").parse().unwrap(),
        counts: table.text("counts").parse().unwrap(),
        resolution: table.text("resolution").to_owned(),
        calibrated: Some(table.text("calibrated").parse().unwrap()),
        calibration_due: Some(table.text("calibration_due").parse().unwrap()),
    }
}

fn at_point(point: &PointId, table: &Table, photos: bool) -> Vec<Act> {
    let mut acts = Vec::new();
    let mut examined = table.text("examined") == "true";
    for (key, texts) in &table.entries {
        let Some(path) = key.strip_prefix("readings.") else { continue };
        let (name, position) = path.split_once('.').unwrap_or((path, ""));
        let own = table.text(&format!("with.{name}"));
        let with = if own.is_empty() { table.text("with") } else { own };
        examined = true;
        acts.push(Act::Enter(Entering {
            point: point.clone(),
            reading: name.to_owned(),
            position: position.trim_matches('"').to_owned(),
            text: texts[0].clone(),
            unit: String::new(),
            instrument: (!with.is_empty()).then(|| with.into()),
        }));
    }
    let mut answer = |answer| acts.push(Act::Answer { point: point.clone(), answer });
    if table.text("not_fitted") == "true" {
        answer(Answer::NotFitted);
    } else if !table.text("not_examined").is_empty() {
        answer(Answer::NotExamined { reason: table.text("not_examined").to_owned() });
    } else if examined {
        answer(Answer::Examined);
    }
    for found in table.texts("found") {
        let (defect, position) = found.split_once('@').unwrap_or((found, ""));
        acts.push(Act::See {
            point: point.clone(),
            defect: defect.to_owned(),
            position: position.to_owned(),
        });
    }
    if !table.text("notes").is_empty() {
        acts.push(Act::Note { point: point.clone(), text: table.text("notes").to_owned() });
    }
    for photo in table.texts("photos").iter().filter(|_| photos) {
        let (name, caption) = photo.split_once(": ").unwrap();
        acts.push(Act::TakePhoto(PhotoTaken {
            id: PhotoId(
                format!("{:0>64}", name.len() + acts.len() * 100 + point.as_str().len()) + name,
            ),
            photo: Box::new(Photo {
                file_name: name.to_owned(),
                point: Some(point.clone()),
                caption: caption.to_owned(),
                ..Photo::default()
            }),
            look: None,
        }));
    }
    acts
}

fn finding(table: &Table) -> FindingWritten {
    let point = table.text("point");
    FindingWritten {
        point: (!point.is_empty()).then(|| point.into()),
        title: table.text("title").to_owned(),
        statement: table.text("statement").to_owned(),
        stops: table.texts("stops").iter().map(|word| Use::from_word(word).unwrap()).collect(),
        when: TimeToAct::from_words(table.text("when")).unwrap(),
        who: table.text("who").to_owned(),
        photos: Vec::new(),
    }
}
