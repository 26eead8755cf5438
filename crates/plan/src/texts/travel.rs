//! Texts of a language in one text, as they travel to the app: checked already, and read there without the data they belong to.

use super::{Text, TextName, Texts};

impl Texts {
    /// All texts: the language, then a line for each with file, name, English and what it is in the language.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut text = format!("{}\n", self.language);
        for (name, one) in &self.by_name {
            let parts = [&name.file, &name.name, &one.english, &one.own].map(|part| escaped(part));
            text.push_str(&parts.join("\t"));
            text.push('\n');
        }
        text
    }

    /// The texts in such a text; a line that is none is left out.
    #[must_use]
    pub fn from_text(text: &str) -> Self {
        let mut lines = text.lines();
        let mut texts = Self { language: lines.next().unwrap_or("").to_owned(), ..Self::default() };
        for line in lines {
            let parts: Vec<String> = line.split('\t').map(plain).collect();
            let Ok([file, name, english, own]) = <[String; 4]>::try_from(parts) else { continue };
            texts.by_name.insert(TextName { file, name }, Text { english, own });
        }
        texts
    }
}

/// Without tabs and line breaks.
fn escaped(part: &str) -> String {
    part.replace('\\', r"\\").replace('\t', r"\t").replace('\n', r"\n")
}

fn plain(part: &str) -> String {
    let mut out = String::with_capacity(part.len());
    let mut letters = part.chars();
    while let Some(letter) = letters.next() {
        match letter {
            '\\' => match letters.next() {
                Some('t') => out.push('\t'),
                Some('n') => out.push('\n'),
                other => out.extend(other),
            },
            other => out.push(other),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_arrive_as_they_were_sent() {
        let mut texts = Texts { language: "es".to_owned(), ..Texts::default() };
        for (name, english, own) in [
            ("title", "Cold pressure", "Presión en frío"),
            ("look[0]", "two\nlines", "dos\nlíneas"),
            ("photo", r"a \n that is none, and a	tab", r"una \n que no lo es, y un	tabulador \"),
        ] {
            let name = TextName { file: "points/x/y".to_owned(), name: name.to_owned() };
            let text = Text { english: english.to_owned(), own: own.to_owned() };
            texts.by_name.insert(name, text);
        }
        let arrived = Texts::from_text(&texts.to_text());
        assert_eq!(arrived, texts);
        assert_eq!(arrived.revision(), texts.revision());
        // What broke on the way costs no other line.
        let broken = texts.to_text().replace("\ttitle\t", "\t");
        assert_eq!(Texts::from_text(&broken).count(), 2);
        assert_eq!(Texts::from_text(""), Texts::default());
    }
}
