//! The invented visit, done on the phone from the first act to the last.

use field::{UnitSystem, Valued, view::PointState};
use findings::{assess, assess_point};
use inspection::PointId;

use crate::demo_sheet::script;
use crate::visits::{demo_sheet, demo_visit};

#[test]
fn the_verdict_while_typing_is_the_verdict_after_storing() {
    let mut visit = demo_visit();
    let script = script(&visit, &demo_sheet(), false);
    let (mut readings, mut judged, mut computed) = (0, 0, 0);
    for (act, now) in script.acts {
        let field::Act::Enter(entering) = &act else {
            visit.act(act, now).unwrap();
            continue;
        };
        let typed = [UnitSystem::Us, UnitSystem::Si]
            .map(|units| (units, visit.typed(entering, now, units).unwrap()));
        let before = visit.inspection().clone();
        assert_eq!(typed[0].1, visit.typed(entering, now, UnitSystem::Us).unwrap());
        assert_eq!(before, *visit.inspection(), "typing stores nothing");
        visit.act(act.clone(), now).unwrap();
        for (units, typed) in typed {
            let point = visit.point(&entering.point, units).unwrap();
            let reading = point.readings.iter().find(|one| one.name == entering.reading).unwrap();
            let pad = reading.pads.iter().find(|pad| pad.position == entering.position).unwrap();
            let entered = pad.entered.as_ref().unwrap();
            assert_eq!(entered.entry, typed.entry);
            assert_eq!(entered.value, typed.value, "{entering:?}");
            let rests_on_it = |value: &&Valued| value.readings.contains(&entered.id);
            let stored: Vec<Valued> = point.computed.iter().filter(rests_on_it).cloned().collect();
            assert_eq!(stored, typed.computed, "{entering:?}");
            for title in &typed.findings {
                let mut titles = point.findings.iter().map(|finding| &finding.title);
                assert!(titles.any(|one| one == title), "{title} after {entering:?}");
            }
            readings += 1;
            judged += typed.value.iter().map(|value| value.judged.len()).sum::<usize>();
            computed += typed.computed.len();
        }
    }
    assert!(readings > 2 * 450 && judged > 150 && computed > 300, "{readings} {judged} {computed}");
}

#[test]
fn the_whole_visit_leaves_nothing_to_do_and_one_point_alone_says_what_the_whole_says() {
    let mut visit = demo_visit();
    let script = script(&visit, &demo_sheet(), true);
    assert!(script.points >= 60, "{}", script.points);
    let mut acts = 0;
    for (act, now) in script.acts {
        let changes = visit.act(act.clone(), now).unwrap_or_else(|said| panic!("{act:?}: {said}"));
        assert_eq!(changes.len(), 1, "{act:?} is one change");
        acts += 1;
    }
    assert_eq!(visit.record().trail().len(), acts + 1);
    let line = visit.line(UnitSystem::Us);
    assert_eq!((line.left, line.next), (0, None));
    assert_eq!(line.done, visit.points().count());
    assert_eq!(line.stops.iter().map(|stop| stop.done).sum::<usize>(), line.done);
    // What another device makes of the same changes is the same.
    let changes: Vec<Vec<u8>> =
        visit.record().changes_after(&[]).into_iter().map(|change| change.bytes).collect();
    let other = field::Visit::open(&changes, record::Author::new([9; 16], "Another")).unwrap();
    assert_eq!(other.inspection(), visit.inspection());
    // Point by point against the whole.
    let whole = assess(visit.plan(), visit.inspection());
    let mut findings = 0;
    for result in &whole.points {
        let id = result.point.as_str();
        let one = assess_point(visit.plan(), visit.inspection(), id, UnitSystem::Us).unwrap();
        assert_eq!(format!("{:?}", one.result), format!("{result:?}"));
        findings += one.findings.len();
    }
    let elsewhere = whole.findings.iter().filter(|finding| finding.point.is_none()).count();
    assert_eq!(findings + elsewhere, whole.findings.len());
    // A reading that another point's value rests on is no gap of the walk.
    let left = visit.left(UnitSystem::Us);
    assert_eq!(left.essential.len() + left.other.len(), whole.missing.len());
    let row = visit.point_row(&PointId::from("tyres")).unwrap();
    assert_eq!(row.state, PointState::Examined);
}
