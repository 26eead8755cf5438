//! Judging a full record: 250 points and 1,500 readings, made from the shipped plan and its own examples.

use std::collections::BTreeMap;
use std::hint::black_box;

use inspection::{
    DwellingKind, Inspection, Instrument, InstrumentId, Outcome, PointEntry, PointId, Reading,
    ReadingId,
};
use plan::{Files, Plan, Point, Positions, ReadingForm, ReadingPlan};

use super::results::{Goal, Measured, Results};
use super::{Outcome as Act, times};

const POINTS: usize = 250;
const READINGS: usize = 1_500;
const RUNS: usize = 41;

pub(super) fn measure(results: &mut Results) -> Act {
    let (plan, inspection) = full()?;
    let assessment = findings::assess(&plan, &inspection);
    let values = assessment.points.iter().flat_map(|point| &point.values);
    let (count, judged) =
        values.fold((0, 0), |(count, judged), value| (count + 1, judged + value.judgements.len()));
    let note = format!(
        "{} points, {} readings, {count} values, {judged} judgements, {} findings",
        assessment.points.len(),
        inspection.readings.len(),
        assessment.findings.len()
    );
    let (best, median) = times(RUNS, || {
        black_box(findings::assess(black_box(&plan), black_box(&inspection)));
        Ok(())
    })?;
    results.push(Measured {
        id: "assess",
        what: "judge a full record".to_owned(),
        best: best * 1e3,
        median: median * 1e3,
        unit: "ms",
        goal: Some(Goal::Under(5.0)),
        note,
    });
    Ok(())
}

/// The shipped plan, its points repeated until there are 250, each with the readings of its own examples,
/// at as many places as make 1,500.
pub(super) fn full() -> Act<(Plan, Inspection)> {
    let said = |problems: Vec<plan::Problem>| {
        problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
    };
    let library = plan::load(&Files::embedded()).map_err(said)?;
    let mut plan =
        library.plan("purchase").ok_or_else(|| "the plan `purchase` is not there".to_owned())?;
    let mut inspection = Inspection::default();
    let dwelling = &mut inspection.dwelling;
    dwelling.kind = DwellingKind::TravelTrailer;
    dwelling.built = Some(jiff::civil::date(2017, 5, 1));
    dwelling.model_year = Some(2017);
    dwelling.equipment = library.typical(dwelling.kind);
    inspection.job.visits = vec![jiff::civil::date(2026, 6, 11)];
    inspection.job.site.altitude_metres = Some(150.0);
    inspection.job.site.position = Some((43.5214, -73.2361));

    let own: Vec<Point> = plan
        .points_for(inspection.dwelling.kind, &inspection.dwelling.equipment)
        .cloned()
        .collect();
    if own.is_empty() {
        return Err("the plan has no point for a travel trailer".to_owned());
    }
    let mut points: Vec<Point> = Vec::new();
    for round in 0..=POINTS / own.len() {
        for point in own.iter().take(POINTS - points.len()) {
            let id = if round == 0 { point.id.clone() } else { format!("{}_{round}", point.id) };
            points.push(Point { id, ..point.clone() });
        }
    }
    for instrument in 0..4_u32 {
        let sheet = Instrument {
            name: format!("instrument {instrument}"),
            percent_of_reading: 0.5,
            counts: 2.0,
            ..Instrument::default()
        };
        inspection
            .instruments
            .insert(InstrumentId::from(format!("instrument_{instrument}")), sheet);
    }
    fill(&mut inspection, &points);
    if inspection.readings.len() != READINGS {
        return Err(format!("only {} readings came about", inspection.readings.len()));
    }
    plan.points = points;
    Ok((plan, inspection))
}

/// Reads every point, first in the places that the plan names, then in more and more until there are enough.
fn fill(inspection: &mut Inspection, points: &[Point]) {
    for point in points {
        let entry = PointEntry {
            outcome: Outcome::Examined,
            defects: Vec::new(),
            notes: String::new(),
            by: String::new(),
            at: None,
        };
        inspection.points.insert(PointId::from(point.id.as_str()), entry);
    }
    for round in 0..1_000 {
        for point in points {
            let given = given(point);
            for reading in &point.readings {
                let places: Vec<String> = match &reading.positions {
                    Positions::One if round == 0 => vec![String::new()],
                    Positions::Named(names) if round == 0 => names.clone(),
                    Positions::One | Positions::Named(_) => continue,
                    Positions::Any => vec![format!("place {}", round + 1)],
                };
                for position in places {
                    if inspection.readings.len() == READINGS {
                        return;
                    }
                    let number = inspection.readings.len();
                    let quantity = matches!(reading.form, ReadingForm::Quantity { .. });
                    let instrument = (quantity && number.is_multiple_of(2))
                        .then(|| InstrumentId::from(format!("instrument_{}", number % 4)));
                    inspection.readings.insert(
                        ReadingId(format!("{number:05}")),
                        Reading {
                            point: PointId::from(point.id.as_str()),
                            name: reading.id.clone(),
                            entry: entry(reading, &given),
                            position,
                            instrument,
                            at: None,
                            by: String::new(),
                            struck_out: None,
                        },
                    );
                }
            }
        }
    }
}

/// What the point's examples give for its own readings, by name.
fn given(point: &Point) -> BTreeMap<&str, &str> {
    let mut given = BTreeMap::new();
    for example in &point.examples {
        for (key, text) in &example.given {
            let name = key.split('@').next().unwrap_or(key);
            given.entry(name).or_insert(text.as_str());
        }
    }
    given
}

fn entry(reading: &ReadingPlan, given: &BTreeMap<&str, &str>) -> String {
    if let Some(text) = given.get(reading.id.as_str()) {
        return (*text).to_owned();
    }
    match &reading.form {
        ReadingForm::Quantity { unit, .. } => format!("1 {}", unit.spelling),
        ReadingForm::Choice(words) => words.first().cloned().unwrap_or_default(),
        ReadingForm::Date => "2017-05".to_owned(),
        ReadingForm::Text => "A 1".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::{POINTS, READINGS, full};

    #[test]
    fn the_full_record_has_what_it_promises_and_the_plan_can_read_it() {
        let (plan, inspection) = full().unwrap();
        assert_eq!((plan.points.len(), inspection.readings.len()), (POINTS, READINGS));
        let assessment = findings::assess(&plan, &inspection);
        assert_eq!(assessment.points.len(), POINTS);
        let computed = assessment.points.iter().flat_map(|point| &point.values).filter(|value| {
            matches!(value.origin, findings::Origin::Computed { .. })
                && !matches!(value.content, findings::Content::None(_))
        });
        assert!(computed.count() > 50);
        // Made entries without an example may be refused; most are not.
        assert!(assessment.problems.len() < READINGS / 20, "{:?}", assessment.problems);
    }
}
