//! A visit as iCalendar (RFC 5545): one event for the whole visit, and one with an alarm for each return
//! after a wait.

use jiff::civil::DateTime;

use super::{Visit, timeline};
use crate::schedule::Schedule;

/// Lines are folded after this many octets (RFC 5545, section 3.1).
const FOLD: usize = 75;
/// So many octets earlier a line may be folded.
const EARLY: usize = 20;

/// A visit as an iCalendar file. `stamp` is when it is made, in UTC; `job` makes the events' identities, so
/// that a later file replaces the events of an earlier one. Times are local to the site: they carry no time
/// zone, as RFC 5545, section 3.3.5, form 1, has it.
#[must_use]
pub fn calendar(
    visit: &Visit,
    schedule: &Schedule,
    job: &str,
    site: &str,
    stamp: DateTime,
) -> String {
    let mut file = File { text: String::new(), stamp };
    file.line("BEGIN", "VCALENDAR");
    file.line("VERSION", "2.0");
    file.line("PRODID", "-//Nearside//Visit//EN");
    file.line("CALSCALE", "GREGORIAN");
    let (begin, end) = (visit.time(visit.progress.now), visit.time(schedule.finish));
    file.event(&format!("visit-{job}"), begin, end);
    file.text_line("SUMMARY", &format!("Inspection visit, job {job}"));
    if !site.is_empty() {
        file.text_line("LOCATION", site);
    }
    file.text_line("DESCRIPTION", &timeline(visit, schedule));
    file.line("END", "VEVENT");
    for wait in &visit.problem.waits {
        let Some(step) = schedule.step_of(&wait.closes) else { continue };
        let id = format!("visit-{job}-{}", wait.closes);
        file.event(&id, visit.time(step.start), visit.time(step.end));
        file.text_line("SUMMARY", &visit.title(&wait.closes));
        file.text_line("LOCATION", &visit.title(&step.place));
        if let Some((what, untouched)) = visit.meanwhile(&wait.closes) {
            let alone = untouched.join(", ");
            file.text_line("DESCRIPTION", &format!("{what}; leave alone until then: {alone}"));
        }
        file.line("BEGIN", "VALARM");
        file.line("ACTION", "DISPLAY");
        file.text_line("DESCRIPTION", &visit.title(&wait.closes));
        file.line("TRIGGER", "PT0M");
        file.line("END", "VALARM");
        file.line("END", "VEVENT");
    }
    file.line("END", "VCALENDAR");
    file.text
}

struct File {
    text: String,
    stamp: DateTime,
}

impl File {
    /// Opens an event.
    fn event(&mut self, id: &str, start: DateTime, end: DateTime) {
        self.line("BEGIN", "VEVENT");
        self.text_line("UID", id);
        let stamp = written(self.stamp);
        self.line("DTSTAMP", &format!("{stamp}Z"));
        self.line("DTSTART", &written(start));
        self.line("DTEND", &written(end));
    }

    /// A property whose value is text: what the format uses itself is escaped (section 3.3.11).
    fn text_line(&mut self, name: &str, value: &str) {
        let mut escaped = String::new();
        for letter in value.trim_end().chars() {
            match letter {
                '\\' | ';' | ',' => escaped.extend(['\\', letter]),
                '\n' => escaped.push_str("\\n"),
                letter if letter.is_control() => {}
                letter => escaped.push(letter),
            }
        }
        self.line(name, &escaped);
    }

    /// A line, folded between letters, never inside one; and where it can be not beside a space, for some
    /// programs strip the ends of lines.
    fn line(&mut self, name: &str, value: &str) {
        let mut used = 0;
        let mut last = ' ';
        for letter in name.chars().chain([':']).chain(value.chars()) {
            let full = used + letter.len_utf8() > FOLD;
            if full || (used + EARLY > FOLD && letter != ' ' && last != ' ') {
                self.text.push_str("\r\n ");
                used = 1;
            }
            self.text.push(letter);
            used += letter.len_utf8();
            last = letter;
        }
        self.text.push_str("\r\n");
    }
}

/// A time as the format writes it.
fn written(time: DateTime) -> String {
    format!(
        "{:04}{:02}{:02}T{:02}{:02}{:02}",
        time.year(),
        time.month(),
        time.day(),
        time.hour(),
        time.minute(),
        time.second()
    )
}
