//! A paper as plain text: what a consent is given to, to the letter.

use super::{Letter, SumLine};

impl Letter {
    /// Everything that it says, without signatures: the same words in the same order as on paper. Lines end with a line
    /// feed, the last one too.
    #[must_use]
    pub fn text(&self) -> String {
        let mut out = String::new();
        let mut line = |text: &str| {
            out.push_str(text);
            out.push('\n');
        };
        line(&self.title);
        line(&self.number);
        for party in [&self.from, &self.to] {
            line("");
            line(&format!("{}: {}", party.role, party.name));
            for more in &party.lines {
                line(&format!("  {more}"));
            }
        }
        if !self.facts.is_empty() {
            line("");
        }
        for fact in &self.facts {
            line(&format!("{}: {}", fact.name, fact.value));
        }
        let sections = |line: &mut dyn FnMut(&str), sections: &[super::Section]| {
            for section in sections {
                line("");
                line(&section.heading);
                for (at, paragraph) in section.paragraphs.iter().enumerate() {
                    match section.numbered {
                        true => line(&format!("{}. {paragraph}", at + 1)),
                        false => line(paragraph),
                    }
                }
            }
        };
        sections(&mut line, &self.before);
        if let Some(sums) = &self.sums {
            line("");
            line(&sums.heading);
            for row in sums.lines.iter().chain(&sums.totals) {
                line(&words(row));
            }
            if !sums.note.is_empty() {
                line(&sums.note);
            }
        }
        sections(&mut line, &self.after);
        out
    }
}

fn words(row: &SumLine) -> String {
    let remark = if row.remark.is_empty() { String::new() } else { format!(" ({})", row.remark) };
    format!("{}{remark}: {}", row.text, row.amount)
}
