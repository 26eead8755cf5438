//! Whether the content hangs together: numbers that point somewhere, five uses, places on the drawing.

use std::fmt;

use super::{Content, Finding, Mark, OnFace, Place, Point, UseKind};

/// Something about the content that no page can show: where, and what is accepted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem(String);

impl fmt::Display for Problem {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.0)
    }
}

impl Content {
    /// How many readings there are over all systems.
    #[must_use]
    pub fn reading_count(&self) -> usize {
        self.systems.iter().map(|system| system.readings.len()).sum()
    }

    /// All problems at once; none means that the report can be typeset.
    #[must_use]
    pub fn problems(&self) -> Vec<Problem> {
        let mut found = Problems::default();
        let kinds: Vec<UseKind> = self.uses.iter().map(|one| one.kind).collect();
        if kinds != UseKind::ALL {
            found.say(
                "the uses must be tow, power, gas, water, stay, each once and in this order".into(),
            );
        }
        let findings = List("findings", self.findings.len());
        let readings = List("readings", self.reading_count());
        let photos = List("photos", self.photos.len());
        let sources = List("sources", self.sources.len());
        let instruments = List("instruments", self.instruments.len());
        let not_examined = List("points not examined", self.not_examined.len());
        found.numbers("the front page", photos, self.unit.photo.as_slice());
        for one in &self.uses {
            let place = format!("use {}", one.kind.word());
            found.numbers(&place, findings, &one.findings);
            found.numbers(&place, not_examined, &one.not_examined);
        }
        for (index, one) in self.stop_work.iter().enumerate() {
            let place = format!("stop-work matter {}", index + 1);
            found.numbers(&place, findings, one.finding.as_slice());
        }
        for (index, one) in self.findings.iter().enumerate() {
            let place = format!("finding {}", index + 1);
            found.numbers(&place, readings, &one.readings);
            found.numbers(&place, photos, &one.photos);
            found.numbers(&place, sources, &one.sources);
            found.place(&place, one.place);
            found.side(&place, one);
        }
        for one in self.again.iter().flat_map(|again| &again.findings) {
            let place = format!("finding {} of the earlier inspection", one.number_then);
            found.numbers(&place, findings, one.number.as_slice());
            found.numbers(&place, photos, &one.photos_then);
            found.numbers(&place, photos, &one.photos_now);
        }
        for (index, one) in self.systems.iter().flat_map(|system| &system.readings).enumerate() {
            let place = format!("reading {}", index + 1);
            for judged in &one.judged {
                found.numbers(&place, sources, &judged.sources);
            }
            found.numbers(&place, instruments, &one.instruments);
            found.numbers(&place, photos, &one.photos);
        }
        for (index, photo) in self.photos.iter().enumerate() {
            found.marks(&format!("photo {}", index + 1), &photo.marks);
        }
        if let Some(outline) = &self.unit.outline {
            for (what, metres) in
                [("length", outline.length_metres), ("width", outline.width_metres)]
            {
                if !(0.5..=50.0).contains(&metres) {
                    found.say(format!(
                        "the outline's {what} is {metres} m; between 0.5 m and 50 m can be drawn"
                    ));
                }
            }
            if outline.axles > 6 {
                found.say(format!("the outline has {} axles; up to 6 can be drawn", outline.axles));
            }
        }
        found.0
    }
}

/// A numbered list: what it is called and how long it is.
#[derive(Clone, Copy)]
struct List(&'static str, usize);

#[derive(Default)]
struct Problems(Vec<Problem>);

impl Problems {
    fn say(&mut self, sentence: String) {
        self.0.push(Problem(sentence));
    }

    fn numbers(&mut self, place: &str, List(name, length): List, numbers: &[usize]) {
        for &number in numbers {
            if number == 0 || number > length {
                self.say(format!(
                    "{place} refers to number {number} of the {name}, of which there are {length}"
                ));
            }
        }
    }

    fn place(&mut self, place: &str, on_unit: Option<Place>) {
        let Some(on_unit) = on_unit else { return };
        if !on_unit.is_drawable() {
            let (least, most) = (-Place::BEYOND, 1.0 + Place::BEYOND);
            let Place { along, across } = on_unit;
            self.say(format!(
                "{place} lies at {along}, {across} of the unit; both must be from {least} to {most}"
            ));
        }
    }

    fn side(&mut self, place: &str, finding: &Finding) {
        let Some(OnFace { face, height }) = finding.side else { return };
        if finding.place.is_none() {
            self.say(format!(
                "{place} is on the {} side, and has no place on the unit",
                face.word()
            ));
        }
        if !fraction(height) {
            self.say(format!(
                "{place} is at {height} of the body's height; it must be from 0 to 1"
            ));
        }
    }

    fn marks(&mut self, place: &str, marks: &[Mark]) {
        for mark in marks {
            let points = match mark {
                Mark::Arrow { from, to } | Mark::Box { from, to } | Mark::Circle { from, to } => {
                    vec![*from, *to]
                }
                Mark::Words { at, text: _ } => vec![*at],
            };
            for Point { x, y } in points {
                if !fraction(x) || !fraction(y) {
                    self.say(format!("{place} has a mark at {x}, {y}; both must be from 0 to 1"));
                }
            }
        }
    }
}

fn fraction(value: f64) -> bool {
    (0.0..=1.0).contains(&value)
}
