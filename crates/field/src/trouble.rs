//! What cannot be read or planned, as sentences of the interface: which of them is told by what went wrong, never by its words.

use plan::Problem;
use record::{RecordError, RefusalKind};
use schedule::{Fault, FaultKind};

use crate::Said;

/// A record, or a change of one, that was refused.
pub(crate) fn of_record(error: &RecordError) -> Said {
    match error {
        RecordError::Empty => Said::new("record-empty"),
        RecordError::NotARecord { .. } => Said::new("record-no-record"),
        // What exactly broke is for whoever mends it: `nearside` says it of the same copy.
        RecordError::Damaged { .. } => Said::new("record-damaged"),
        RecordError::NewerSchema { found, known } => Said::new("record-newer")
            .with("found", found.to_string())
            .with("known", known.to_string()),
        RecordError::OtherJob { .. } => Said::new("record-other-job"),
        RecordError::NoBeginning { waiting, .. } => {
            Said::new("record-no-beginning").counting("count", *waiting)
        }
        RecordError::DeviceTwice { .. } => Said::new("record-device-twice"),
        // Only an edit is refused so. What exactly is wrong with it the record says in English alone.
        RecordError::Refused(refusal) => {
            Said::new("refusal-record").with_text("why", of_refusal(refusal.kind))
        }
    }
}

/// Why the record does not take an edit; part of a sentence.
fn of_refusal(kind: RefusalKind) -> &'static str {
    match kind {
        RefusalKind::There => "record-refuses-there",
        RefusalKind::Gone => "record-refuses-gone",
        RefusalKind::NoWords => "record-refuses-no-words",
        RefusalKind::LineBreak => "record-refuses-line-break",
        RefusalKind::Number => "record-refuses-number",
        RefusalKind::Time => "record-refuses-time",
        RefusalKind::Twice => "record-refuses-twice",
        RefusalKind::Fixed => "record-refuses-fixed",
        RefusalKind::Unfit => "record-refuses-unfit",
    }
}

/// A plan that cannot be read: how much is wrong with it, and where the first of it stands.
pub(crate) fn of_plan(problems: &[Problem]) -> Said {
    whereabouts(Said::new("plan-unreadable"), problems)
}

/// The plans that ship, which cannot be read; part of a sentence.
pub(crate) fn of_plans(problems: &[Problem]) -> Said {
    whereabouts(Said::new("plans-unreadable"), problems)
}

fn whereabouts(said: Said, problems: &[Problem]) -> Said {
    let (file, line) =
        problems.first().map_or(("–", 0), |first| (first.file.as_str(), first.line));
    said.counting("count", problems.len()).with("file", file).with("line", line.to_string())
}

/// A visit that cannot be planned; `name` tells what people read for an act or a state.
pub(crate) fn of_schedule(fault: &Fault, name: impl Fn(&str) -> String) -> Said {
    let mut about: Vec<String> = fault.about.iter().map(|id| name(id)).collect();
    about.dedup();
    let about = about.join(" · ");
    let key = match fault.kind {
        FaultKind::Circle => "ahead-no-plan-circle",
        FaultKind::Window => "ahead-no-plan-window",
        FaultKind::Wait => "ahead-no-plan-wait",
        FaultKind::Contradiction => "ahead-no-plan-contradiction",
        FaultKind::Unreachable => "ahead-no-plan-unreachable",
        FaultKind::Written => "ahead-no-plan",
    };
    Said::new(key).with("points", about)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::{Language, Texts};

    /// In both languages, and nothing of the other's words.
    fn check(said: &Said, english: &str, spanish: &str) {
        assert_eq!(Texts::new(Language::English).of(said), english);
        assert_eq!(Texts::new(Language::Spanish).of(said), spanish);
    }

    #[test]
    fn a_record_that_was_refused_is_said_in_both_languages() {
        check(
            &of_record(&RecordError::NewerSchema { found: 9, known: 3 }),
            "This job was written by a newer version (schema 9; this app knows up to 3). Update the app on this device; nothing of the job is lost.",
            "Este encargo lo escribió una versión más nueva (esquema 9; esta aplicación conoce hasta 3). Actualice la aplicación en este dispositivo; no se pierde nada del encargo.",
        );
        let damaged = |trouble: &str| RecordError::Damaged {
            place: "the record".to_owned(),
            trouble: trouble.to_owned(),
        };
        let said = of_record(&damaged("its checksum does not fit its content"));
        assert!(!Texts::new(Language::Spanish).of(&said).contains("checksum"));
        assert_eq!(said, of_record(&damaged("something else")));
    }

    #[test]
    fn whatever_the_record_refuses_is_said_in_both_languages() {
        let [english, spanish] = Language::ALL.map(Texts::new);
        let mut said = BTreeSet::new();
        for kind in RefusalKind::ALL {
            let refused = of_record(&RecordError::Refused(kind.refusal("the record's own words")));
            for (texts, other) in [(&english, &spanish), (&spanish, &english)] {
                let sentence = texts.of(&refused);
                assert!(!sentence.contains("the record's own words"), "{sentence}");
                // A text that is not there is shown as its key.
                assert!(!sentence.contains(of_refusal(kind)), "{kind:?}: {sentence}");
                assert_ne!(sentence, other.of(&refused), "{kind:?}");
                assert!(said.insert(sentence), "{kind:?} is said like another kind");
            }
        }
        check(
            &of_record(&RecordError::Refused(RefusalKind::Gone.refusal("there is no reading r9"))),
            "It could not be entered: what it is about is not in the record any more; look at it again, another device may have taken it back.",
            "No se pudo anotar: aquello de lo que trata ya no está en el registro; mírelo de nuevo, otro dispositivo pudo haberlo retirado.",
        );
    }

    #[test]
    fn a_plan_that_cannot_be_read_says_where() {
        let problem = Problem {
            file: "points/gas/regulator_lockup.toml".to_owned(),
            line: 12,
            column: 1,
            message: "no unit `pct`".to_owned(),
            hint: "write `%`".to_owned(),
        };
        check(
            &of_plan(&[problem.clone(), problem]),
            "The plan of this job cannot be read: 2 problems, the first in points/gas/regulator_lockup.toml, line 12. What was entered is kept.",
            "El plan de este encargo no se puede leer: 2 problemas, el primero en points/gas/regulator_lockup.toml, línea 12. Lo anotado se conserva.",
        );
    }

    #[test]
    fn a_visit_that_cannot_be_planned_names_its_points_as_people_read_them() {
        let fault = Fault {
            kind: FaultKind::Circle,
            about: vec!["one".to_owned(), "two".to_owned()],
            sentence: "these must each come before the next".to_owned(),
        };
        check(
            &of_schedule(&fault, str::to_uppercase),
            "The visit cannot be planned: each of these must come before the next, in a circle: ONE · TWO. The line of stops works as before.",
            "No se puede planificar la visita: cada uno de estos puntos debe ir antes del siguiente, en círculo: ONE · TWO. La línea de paradas funciona como antes.",
        );
    }
}
