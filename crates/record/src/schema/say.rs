//! Fields and facts in words, for conflicts and problems.

use super::{Fact, Section, id_and_field, unescaped};

/// A field in words: `point regulator_lockup: outcome`, `job: client name`.
pub(crate) fn in_words(section: Section, key: &str) -> String {
    let word = section.entry_word();
    let say = |field: &str| {
        field.split('/').map(unescaped).collect::<Vec<_>>().join(" ").replace('_', " ")
    };
    if !section.has_entries() {
        return format!("{word}: {}", say(key));
    }
    match id_and_field(key) {
        Some((id, field)) => format!("{word} {id}: {}", say(field)),
        None => format!("{word} without an id: {key}"),
    }
}

/// A fact as a person would read it on one line.
pub(crate) fn say_fact(fact: &Fact) -> String {
    match fact {
        Fact::Nothing => "(emptied)".to_owned(),
        Fact::Text(text) => {
            text.split('\n').filter(|line| !line.is_empty()).collect::<Vec<_>>().join(", ")
        }
        Fact::Whole(number) => number.to_string(),
        Fact::Bits(bits) => format!("{bits:016x}"),
        Fact::Number(number) => number.to_string(),
        Fact::Yes(true) => "yes".to_owned(),
        Fact::Yes(false) => "no".to_owned(),
        Fact::Strange(words) => (*words).to_owned(),
    }
}
