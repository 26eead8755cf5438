//! The invented job agrees with itself: sheet, photos, plates, times.
#![allow(clippy::unwrap_used, reason = "helpers of tests: a panic says which fact is missing")]

use std::collections::{BTreeMap, BTreeSet};

use demo::photos::{Scene, Shot, Turn};
use jiff::civil::{date, time};
use plan::{Files, Positions, ReadingForm, load};
use quantity::{Kind, parse_value};

/// A reading of the sheet: point, name, position (empty where there is one place only), entry.
type Entry = (String, String, String, String);

/// The sheet as its lines: its form is regular, so that no reader of TOML is needed here.
struct Sheet {
    readings: Vec<Entry>,
    /// Photo names with the point that names them.
    photos: Vec<(String, String)>,
    /// Photo names that findings lean on.
    evidence: Vec<String>,
    /// Times of the points.
    times: Vec<(String, String)>,
}

fn sheet() -> Sheet {
    read(demo::sheet())
}

fn read(text: &str) -> Sheet {
    let mut sheet = Sheet { readings: vec![], photos: vec![], evidence: vec![], times: vec![] };
    let (mut point, mut in_finding) = (String::new(), false);
    for line in text.lines() {
        if let Some(id) = line.strip_prefix("[points.").and_then(|it| it.strip_suffix(']')) {
            (point, in_finding) = (id.to_owned(), false);
        } else if line.starts_with('[') {
            (point, in_finding) = (String::new(), line == "[[finding]]");
        }
        if let Some(rest) = line.strip_prefix("readings.") {
            let (path, entry) = rest.split_once(" = ").unwrap();
            let (name, position) = path.split_once('.').unwrap_or((path, ""));
            sheet.readings.push((
                point.clone(),
                name.to_owned(),
                position.trim_matches('"').to_owned(),
                entry.trim_matches('"').to_owned(),
            ));
        }
        if let Some(entry) = line.strip_prefix("at = ") {
            sheet.times.push((point.clone(), entry.trim_matches('"').to_owned()));
        }
        for text in line.split('"').filter(|text| text.contains(".jpg")) {
            let name = text.split(": ").next().unwrap().to_owned();
            if in_finding {
                sheet.evidence.push(name);
            } else {
                sheet.photos.push((name, point.clone()));
            }
        }
    }
    sheet
}

impl Sheet {
    fn entries(&self, point: &str, name: &str) -> BTreeMap<&str, &str> {
        self.readings
            .iter()
            .filter(|(at, reading, ..)| at == point && reading == name)
            .map(|(_, _, position, entry)| (position.as_str(), entry.as_str()))
            .collect()
    }

    fn entry(&self, point: &str, name: &str, position: &str) -> &str {
        self.entries(point, name)
            .get(position)
            .unwrap_or_else(|| panic!("{point} {name} {position}"))
    }

    fn point_of(&self, photo: &str) -> &str {
        &self.photos.iter().find(|(name, _)| name == photo).unwrap().1
    }
}

/// The photos of a point.
fn shots_of(point: &str) -> Vec<Shot> {
    let sheet = sheet();
    demo::shots()
        .into_iter()
        .filter(|(name, _)| sheet.point_of(name) == point)
        .map(|(_, shot)| shot)
        .collect()
}

/// The number in front of a unit.
fn number(entry: &str) -> &str {
    entry.split(' ').next().unwrap()
}

#[test]
fn every_photo_that_the_sheet_names_is_drawn_and_every_drawn_one_is_named_once() {
    let sheet = sheet();
    let drawn: BTreeSet<String> = demo::shots().into_iter().map(|(name, _)| name).collect();
    let named: BTreeSet<String> = sheet.photos.iter().map(|(name, _)| name.clone()).collect();
    assert_eq!(named, drawn);
    assert_eq!(named.len(), sheet.photos.len(), "no photo stands at two points");
    assert_eq!(drawn.len(), demo::shots().len(), "no two photos share a name");
    assert!((55..=65).contains(&drawn.len()), "{} photos", drawn.len());
    for name in &sheet.evidence {
        assert!(drawn.contains(name), "a finding names {name}");
    }
    assert!(!sheet.evidence.is_empty());
}

#[test]
fn the_photos_are_of_every_sort_that_a_tray_must_sort_out() {
    let shots = demo::shots();
    let count = |of: fn(&Shot) -> bool| shots.iter().filter(|(_, shot)| of(shot)).count();
    let portrait =
        |shot: &Shot| matches!(shot.turn, Turn::QuarterClockwise | Turn::QuarterAnticlockwise);
    assert_eq!(count(portrait), 4);
    assert_eq!(count(|shot| shot.exif.is_none()), 5);
    assert_eq!(count(|shot| shot.blur > 5.0), 1);
    assert_eq!(count(|shot| shot.exposure < -2.0), 1);
    assert!(count(|shot| shot.exif.is_some_and(|beside| beside.position.is_some())) >= 5);
    let again = shots.windows(2).filter(|pair| {
        let ((_, one), (_, other)) = (&pair[0], &pair[1]);
        one.scene == other.scene && one.seed >> 8 == other.seed >> 8 && one.seed != other.seed
    });
    assert_eq!(again.count(), 2, "near-duplicates differ in the low eight bits of the seed only");
    let subjects: BTreeSet<u64> = shots.iter().map(|(_, shot)| shot.seed >> 8).collect();
    assert_eq!(subjects.len(), shots.len() - 2, "every other picture is a subject of its own");
}

#[test]
fn the_cameras_ran_through_the_visit_in_the_order_of_the_file_numbers() {
    let (job, _) = demo::job();
    let mut last = date(2026, 1, 1).at(0, 0, 0, 0);
    let mut numbers = Vec::new();
    for (name, shot) in demo::shots() {
        let Some(beside) = shot.exif else { continue };
        assert_eq!(job.visits, [beside.taken.date()], "{name}");
        let clock = beside.taken.time();
        assert!((time(9, 5, 0, 0)..=time(12, 10, 0, 0)).contains(&clock), "{name} at {clock}");
        assert!(last < beside.taken, "{name} follows the one before it");
        last = beside.taken;
        numbers.push(name);
    }
    assert!(numbers.is_sorted());
}

#[test]
fn points_were_entered_during_the_visit() {
    let sheet = sheet();
    assert!(sheet.times.len() > 60, "{} points", sheet.times.len());
    for (point, at) in &sheet.times {
        assert!(("09:05"..="12:10").contains(&at.as_str()), "{point} at {at}");
    }
}

#[test]
fn the_sheet_has_more_than_a_hundred_and_twenty_readings_that_the_plan_can_read() {
    for (text, least) in [(demo::sheet().to_owned(), 120), (demo::stop_work_sheet(), 100)] {
        let sheet = read(&text);
        assert!(sheet.readings.len() >= least, "{} readings", sheet.readings.len());
        readable(&sheet);
    }
}

/// Every reading is one of the plan's, at a place that it has, in a form that it takes.
fn readable(sheet: &Sheet) {
    let library = load(&Files::embedded()).unwrap();
    let plan = library.plan(&demo::job().0.plan).unwrap();
    for (point, name, position, entry) in &sheet.readings {
        let known = plan.point(point).unwrap_or_else(|| panic!("no point {point}"));
        let reading = known.reading(name).unwrap_or_else(|| panic!("{point} has no {name}"));
        reading.read(entry).unwrap_or_else(|why| panic!("{point}, {name}: {why}"));
        let placed = match &reading.positions {
            Positions::One => position.is_empty(),
            Positions::Named(names) => names.contains(position),
            Positions::Any => !position.is_empty(),
        };
        assert!(placed, "{point}, {name} at `{position}`");
        if let ReadingForm::Quantity { kind, .. } = reading.form
            && kind != Kind::Number
        {
            let named = entry.chars().any(|letter| letter.is_alphabetic() || letter == '%');
            assert!(named, "{point}, {name}: `{entry}` is written without its unit");
        }
    }
}

/// Values of letters, and weights of places (49 CFR 565.15(c), tables III and IV).
fn check_digit(number: &str) -> char {
    const WEIGHTS: [u32; 17] = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2];
    let value = |letter: char| match letter {
        '0'..='9' => letter as u32 - '0' as u32,
        'A'..='H' => letter as u32 - 'A' as u32 + 1,
        'J'..='R' => letter as u32 - 'J' as u32 + 1,
        'S'..='Z' => letter as u32 - 'S' as u32 + 2,
        other => panic!("{other} cannot stand in a number"),
    };
    let sum: u32 = number.chars().zip(WEIGHTS).map(|(letter, weight)| value(letter) * weight).sum();
    char::from_digit(sum % 11, 10).unwrap_or('X')
}

#[test]
fn the_identification_number_checks_fits_its_year_and_stands_on_every_plate() {
    let sheet = sheet();
    let label = sheet.entry("identification_number", "number", "label");
    assert_eq!(label.len(), 17);
    assert_eq!(label.chars().nth(8), Some(check_digit(label)));
    assert_eq!(label.chars().nth(9), Some('H'), "H is 2017 (49 CFR 565.15(d), table VII)");
    assert_eq!(demo::job().1.model_year, Some(2017));
    assert_eq!(sheet.entry("identification_number", "number", "frame"), label);
    let papers = sheet.entry("identification_number", "number", "papers");
    assert_ne!(papers.chars().nth(8), Some(check_digit(papers)), "the bill of sale is miscopied");
    assert!(demo::sheet().contains(&format!("identification = \"{label}\"")));
    let mut plates = 0;
    for (_, shot) in demo::shots() {
        let shown = match &shot.scene {
            Scene::SerialStamp { text } => text.clone(),
            Scene::DataPlate { lines } | Scene::CertificationLabel { lines } => lines.join("\n"),
            _ => continue,
        };
        assert!(shown.contains(label), "{shown}");
        plates += 1;
    }
    assert_eq!(plates, 3);
}

#[test]
fn the_labels_show_the_ratings_and_the_pressure_that_were_copied() {
    let sheet = sheet();
    let label = shots_of("load_labels").into_iter().find_map(|shot| match shot.scene {
        Scene::CertificationLabel { lines } => Some(lines.join("\n")),
        _ => None,
    });
    let label = label.unwrap();
    let gross = number(sheet.entry("load_labels", "gross_rating", ""));
    let axle = number(sheet.entry("load_labels", "axle_rating", ""));
    let cold = number(sheet.entry("tyres", "placard", ""));
    assert!(label.contains(&format!("GVWR: 3447 KG ({gross} LB)")), "{label}");
    assert!(label.contains(&format!("GAWR FRONT: 1996 KG ({axle} LB)")), "{label}");
    assert!(label.contains(&format!("({cold} PSI)")), "{label}");
    // The kilograms beside them are the same weights, to the kilogram.
    for (pounds, kilograms) in [(gross, 3447.0), (axle, 1996.0)] {
        let mass = parse_value(&format!("{pounds} lb"), Kind::Mass).unwrap();
        assert!((mass.base - kilograms).abs() < 0.5, "{pounds} lb");
    }
    let (maker, model) = (demo::job().1.maker.to_uppercase(), demo::job().1.model);
    assert!(label.contains(&maker));
    let plates = shots_of("identification_number");
    assert!(plates.iter().any(|shot| matches!(&shot.scene, Scene::DataPlate { lines }
        if lines.contains(&maker) && lines.contains(&format!("MODEL: {model}")))));
}

#[test]
fn the_tyres_show_their_codes_treads_and_pressures() {
    let sheet = sheet();
    let captions: Vec<&str> = demo::sheet()
        .split('"')
        .filter(|text| text.contains(".jpg: ") && text.contains("code "))
        .collect();
    let mut codes = 0;
    for (name, shot) in demo::shots() {
        match &shot.scene {
            Scene::TyreSidewall { code, pressure, .. } => {
                let caption = captions.iter().find(|text| text.starts_with(&name)).unwrap();
                let position = caption.split(": ").nth(1).unwrap().split(',').next().unwrap();
                let entry = sheet.entry("tyres", "code", &position.replace(' ', "_"));
                assert!(code.ends_with(&format!(" {entry}")), "{name}: {code}, {entry}");
                let most = number(sheet.entry("tyres", "sidewall", &position.replace(' ', "_")));
                assert!(pressure.contains(&format!("({most} PSI)")), "{name}: {pressure}");
                codes += 1;
            }
            Scene::TreadGauge { thirty_seconds } => {
                assert_eq!(
                    sheet.entry("tyres", "tread", "right_rear"),
                    format!("{thirty_seconds}/32 in"),
                    "{name}"
                );
            }
            _ => {}
        }
    }
    assert_eq!(codes, 5);
    assert_eq!(
        dials("tyres"),
        [("left_rear", 60.5), ("spare", 41.0)].map(|(place, psi)| {
            let read: f32 = number(sheet.entry("tyres", "pressure", place)).parse().unwrap();
            assert!((read - psi).abs() < 1e-6, "{place}");
            read
        })
    );
}

/// What the dials of a point's photos show, in time.
fn dials(point: &str) -> Vec<f32> {
    let dial = |shot: Shot| match shot.scene {
        Scene::PressureGauge { value, .. } => Some(value),
        _ => None,
    };
    shots_of(point).into_iter().filter_map(dial).collect()
}

/// What the display of a scene shows, if it has one.
fn display(scene: &Scene) -> Option<String> {
    match scene {
        Scene::HubInfrared { reading }
        | Scene::Multimeter { reading, .. }
        | Scene::ThermometerDisplay { reading, .. }
        | Scene::ScaleDisplay { reading }
        | Scene::Refrigerator { reading } => Some(reading.clone()),
        Scene::Manometer { inches } => Some(format!("{inches}")),
        Scene::MoistureMeter { percent } => Some(format!("{percent}")),
        Scene::PressureGauge { value, .. } => Some(format!("{value}")),
        _ => None,
    }
}

#[test]
fn every_display_shows_a_reading_of_its_point() {
    assert!(displays(&sheet(), demo::shots()) >= 15);
    // With the gas off there is less to be read.
    assert!(displays(&read(&demo::stop_work_sheet()), demo::stop_work_shots()) >= 12);
}

/// How many displays are shown; each shows a reading of its point.
fn displays(sheet: &Sheet, shots: Vec<(String, Shot)>) -> usize {
    let mut shown = 0;
    for (name, shot) in shots {
        let Some(figure) = display(&shot.scene) else { continue };
        let point = sheet.point_of(&name);
        let read = sheet.readings.iter().any(|(at, _, _, entry)| {
            at == point && number(entry).parse::<f64>().ok() == figure.parse::<f64>().ok()
        });
        assert!(read, "{name} shows {figure}, and no reading of {point} says so");
        shown += 1;
    }
    shown
}

#[test]
fn where_work_stops_the_photos_are_those_that_are_left_and_the_columns_have_fallen() {
    let sheet = read(&demo::stop_work_sheet());
    let shots = demo::stop_work_shots();
    let drawn: BTreeSet<&str> = shots.iter().map(|(name, _)| name.as_str()).collect();
    let named: BTreeSet<&str> = sheet.photos.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(named, drawn);
    assert!(shots.len() < demo::shots().len(), "what was not lit was not photographed");
    assert!(sheet.evidence.iter().all(|name| drawn.contains(name.as_str())));
    let columns = shots.iter().find(|(name, _)| name == "IMG_0337.jpg").unwrap();
    assert!(matches!(columns.1.scene, Scene::Manometer { inches } if inches < 9.0));
}

#[test]
fn where_work_stops_nothing_was_lit_afterwards() {
    let sheet = read(&demo::stop_work_sheet());
    for point in [
        "gas_joints",
        "gas_appliance_flames",
        "heater_flame",
        "range",
        "furnace",
        "hot_water_temperature",
        "carbon_monoxide_in_air",
    ] {
        assert!(sheet.readings.iter().all(|(at, ..)| at != point), "{point} has readings");
        let text = demo::stop_work_sheet();
        let (_, rest) = text.split_once(&format!("[points.{point}]\n")).unwrap();
        assert!(rest.starts_with("not_examined = \""), "{point} says why not");
    }
    assert!(!demo::stop_work_sheet().contains("key = \"range/"), "its decisions go with a point");
}

#[test]
fn the_collars_read_as_they_are_photographed() {
    let sheet = sheet();
    let collars = demo::shots().into_iter().filter_map(|(_, shot)| match shot.scene {
        Scene::GasCylinder { collar_lines, .. } => Some(collar_lines.join(" ")),
        _ => None,
    });
    for (collar, place) in collars.zip(["right", "left"]) {
        let words: Vec<&str> = collar.split_whitespace().collect();
        assert_eq!(words.join(" "), sheet.entry("cylinder_dates", "collar", place));
    }
}

#[test]
fn collars_and_alarms_show_the_dates_and_weights_that_were_read() {
    let sheet = sheet();
    let collars: Vec<String> = shots_of("gas_cylinders")
        .into_iter()
        .filter_map(|shot| match shot.scene {
            Scene::GasCylinder { collar_lines, .. } => Some(collar_lines.join("\n")),
            _ => None,
        })
        .collect();
    assert_eq!(collars.len(), 2);
    for (collar, place) in collars.iter().zip(["right", "left"]) {
        let made = sheet.entry("cylinder_dates", "manufactured", place);
        let (year, month) = made.split_once('-').unwrap();
        assert!(collar.contains(&format!("MFG {month} {}", &year[2..])), "{collar}");
        for (mark, name) in [("T.W.", "tare"), ("W.C.", "water_capacity")] {
            let weight = number(sheet.entry("cylinder_contents", name, place));
            assert!(collar.contains(&format!("{mark} {weight} LB")), "{collar}: {mark} {weight}");
        }
    }
    let replace = sheet.entry("carbon_monoxide_alarm", "replace_by", "");
    let made = sheet.entry("smoke_alarm", "made", "living area");
    assert_eq!((replace, made), ("2029-03", "2016-11-06"));
    assert!(matches!(&shots_of("carbon_monoxide_alarm")[0].scene,
        Scene::CarbonMonoxideAlarm { date } if date == "REPLACE BY 2029 MAR"));
    assert!(matches!(&shots_of("smoke_alarm")[0].scene,
        Scene::SmokeAlarm { date } if date == "MFG 2016 NOV 06"));
}
