//! The shipped plan at full length: every point with the entries of its own examples, as a long visit would leave it.

use std::collections::BTreeMap;

use findings::assess;
use inspection::{
    Dwelling, DwellingKind, Inspection, Instrument, InstrumentId, Outcome, Outline, Photo, PhotoId,
    PlaceOnUnit, PointEntry, PointId, Reading, ReadingId,
};
use plan::{Example, Files, Plan, Point};
use quantity::UnitSystem;
use report::content::{Content, Paper};
use report::{Options, Release, Typeset, compose, typeset};

use crate::sample;
use crate::tools::File;

const KIND: DwellingKind = DwellingKind::TravelTrailer;

fn plan() -> Plan {
    plan::load(&Files::embedded()).unwrap().plan("purchase").unwrap()
}

/// Every fourth point is not examined; of the others every second has the entries of its first example that drafts
/// something, the rest those of its first.
pub(crate) fn long_visit(plan: &Plan) -> Inspection {
    let mut inspection = Inspection {
        dwelling: Dwelling {
            kind: KIND,
            maker: "Sample Coach".into(),
            model: "24 B".into(),
            model_year: Some(2017),
            identification: "1SAMPLE00H0000017".into(),
            equipment: plan.equipment.iter().map(|named| named.id.clone()).collect(),
            ratings: BTreeMap::from([("gross_rating".into(), "7600 lb".into())]),
            outline: Outline {
                length: "24 ft 3 in".into(),
                width: "8 ft".into(),
                door_side: "right".into(),
                axles: 2,
            },
            ..Dwelling::default()
        },
        ..Inspection::default()
    };
    inspection.job.number = "2026-0412".into();
    inspection.job.inspector = "A. Sample".into();
    inspection.job.client.name = "Dana Example".into();
    inspection.job.site.address = "Sample Park, pitch 14".into();
    inspection.job.visits = vec!["2026-06-12".parse().unwrap()];
    let meter = InstrumentId::from("meter");
    inspection
        .instruments
        .insert(meter.clone(), Instrument { name: "sample meter".into(), ..Instrument::default() });
    let equipment = inspection.dwelling.equipment.clone();
    for (at, point) in plan.points_for(KIND, &equipment).enumerate() {
        let id = PointId::from(point.id.as_str());
        if at % 4 == 3 {
            let reason = "no safe way to it on the day".into();
            inspection.points.insert(id, entry(Outcome::NotExamined { reason }, &[]));
            continue;
        }
        let example = example(point, at % 2 == 0);
        let found = example.map_or(&[][..], |example| &example.found);
        inspection.points.insert(id.clone(), entry(Outcome::Examined, found));
        for (name, text) in example.into_iter().flat_map(|example| &example.given) {
            if name.contains('.') {
                continue;
            }
            let (name, position) = name.split_once('@').unwrap_or((name, ""));
            let number = inspection.readings.len();
            let reading = Reading {
                point: id.clone(),
                name: name.into(),
                entry: text.clone(),
                position: position.into(),
                instrument: Some(meter.clone()),
                at: None,
                by: String::new(),
                struck_out: None,
            };
            inspection.readings.insert(ReadingId(format!("{number:04}")), reading);
        }
        let number = inspection.photos.len() % sample::PHOTOS + 1;
        let photo = Photo {
            point: Some(id),
            caption: point.photo.clone(),
            place: Some(PlaceOnUnit {
                along: f64::from(u8::try_from(at % 11).unwrap()) / 10.0,
                across: 0.3,
            }),
            ..Photo::default()
        };
        inspection.photos.insert(PhotoId(format!("{number:04}{at:060}")), photo);
    }
    inspection
}

fn example(point: &Point, faulty: bool) -> Option<&Example> {
    let fits = |example: &&Example| example.kind.is_none_or(|kind| kind == KIND);
    let drafts = |example: &&Example| {
        example.drafts.as_ref().is_some_and(|drafts| !drafts.is_empty())
            || !example.found.is_empty()
    };
    let faulty = if faulty { point.examples.iter().filter(fits).find(drafts) } else { None };
    faulty.or_else(|| point.examples.iter().find(fits))
}

fn entry(outcome: Outcome, found: &[String]) -> PointEntry {
    PointEntry {
        outcome,
        defects: found
            .iter()
            .map(|found| {
                let (defect, position) = found.split_once('@').unwrap_or((found, ""));
                let positions =
                    if position.is_empty() { vec![] } else { vec![position.to_owned()] };
                (defect.to_owned(), positions)
            })
            .collect(),
        notes: String::new(),
        by: String::new(),
        at: None,
    }
}

fn long_content(paper: Paper, units: UnitSystem) -> Content {
    let plan = plan();
    let inspection = long_visit(&plan);
    let assessment = assess(&plan, &inspection);
    compose(
        &plan,
        &inspection,
        &assessment,
        &Release::default(),
        Options { paper, units, ..Options::default() },
    )
}

fn made(content: &Content) -> Typeset {
    typeset(content, sample::RECORD, &sample::photo, &|_| {}).unwrap()
}

#[test]
fn a_long_visit_of_the_shipped_plan_can_be_typeset() {
    let content = long_content(Paper::Letter, UnitSystem::Us);
    assert_eq!(content.problems(), []);
    assert!(content.findings.len() > 20, "{} findings", content.findings.len());
    let typeset = made(&content);
    assert_eq!(typeset.remarks, Vec::<String>::new());
    let file = File::new(&typeset.pdf);
    file.assert_sound();
    let text = file.text().split_whitespace().collect::<Vec<_>>().join(" ");
    for (index, finding) in content.findings.iter().enumerate() {
        let heading = format!("{} {}", index + 1, finding.title);
        assert!(text.contains(&heading), "{heading}");
    }
    let (list, _) = file.ask("pdfimages", &["-list"], &[]);
    let shown = list.lines().filter(|line| line.contains(" jpeg ")).count();
    let front = usize::from(content.unit.photo.is_some());
    assert_eq!(shown, content.photos.len() + front);
}

#[test]
fn no_point_of_the_shipped_plan_is_passed_over_in_silence() {
    let content = long_content(Paper::A4, UnitSystem::Si);
    let plan = plan();
    let inspection = long_visit(&plan);
    for point in plan.points_for(KIND, &inspection.dwelling.equipment) {
        let unexamined = content.not_examined.iter().any(|one| one.point == point.title);
        let examined = content.examined.iter().any(|stop| stop.points.contains(&point.title));
        let assessment = assess(&plan, &inspection);
        let found = assessment
            .findings
            .iter()
            .any(|finding| finding.point.as_ref().is_some_and(|id| id.as_str() == point.id));
        assert!(unexamined || examined || found, "{}", point.title);
    }
}
