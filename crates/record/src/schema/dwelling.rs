//! Keys of the dwelling: what it is, what is fitted, its ratings and its outline.

use std::collections::{BTreeMap, BTreeSet};

use inspection::{Dwelling, DwellingKind, Outline};

use super::{Entry, Fact, Facts, Writing, escaped, unescaped};

const KIND: &str = "kind";
const MAKER: &str = "maker";
const MODEL: &str = "model";
const MODEL_YEAR: &str = "model_year";
const BUILT: &str = "built";
const IDENTIFICATION: &str = "identification";
const EQUIPMENT: &str = "equipment/";
const RATINGS: &str = "ratings/";
const LENGTH: &str = "outline/length";
const WIDTH: &str = "outline/width";
const DOOR_SIDE: &str = "outline/door_side";
const AXLES: &str = "outline/axles";

pub(crate) fn dwelling_facts(dwelling: &Dwelling) -> Facts {
    let Dwelling {
        kind,
        maker,
        model,
        model_year,
        built,
        identification,
        equipment,
        ratings,
        outline,
    } = dwelling;
    let mut writing = Writing::default();
    writing.text(KIND, kind.word());
    writing.text(MAKER, maker);
    writing.text(MODEL, model);
    if let Some(year) = model_year {
        writing.put(MODEL_YEAR, Fact::Whole(i64::from(*year)));
    }
    writing.date(BUILT, *built);
    writing.text(IDENTIFICATION, identification);
    for word in equipment {
        writing.put(&format!("{EQUIPMENT}{}", escaped(word)), Fact::Yes(true));
    }
    for (name, value) in ratings {
        writing.put(&format!("{RATINGS}{}", escaped(name)), Fact::text(value));
    }
    let Outline { length, width, door_side, axles } = outline;
    writing.text(LENGTH, length);
    writing.text(WIDTH, width);
    writing.text(DOOR_SIDE, door_side);
    if *axles > 0 {
        writing.put(AXLES, Fact::Whole(i64::from(*axles)));
    }
    writing.facts
}

pub(crate) fn read_dwelling(mut entry: Entry<'_, '_>) -> Dwelling {
    let kind_word = entry.text(KIND);
    let kind = DwellingKind::from_word(&kind_word).unwrap_or_else(|| {
        let assumed = DwellingKind::default();
        entry.trouble(format!(
            "the kind of unit is `{kind_word}`, which is unknown here; it is read as a {} until corrected",
            assumed.title()
        ));
        assumed
    });
    let equipment: BTreeSet<String> =
        entry.several(EQUIPMENT).iter().map(|(word, _)| unescaped(word)).collect();
    let mut ratings = BTreeMap::new();
    for (name, fact) in entry.several(RATINGS) {
        let name = unescaped(&name);
        match fact {
            Fact::Text(value) => drop(ratings.insert(name, value)),
            other => entry.trouble(format!(
                "the rating `{name}` is {}, where a text belongs; it is left out",
                other.type_in_words()
            )),
        }
    }
    let dwelling = Dwelling {
        kind,
        maker: entry.text(MAKER),
        model: entry.text(MODEL),
        model_year: entry.whole(MODEL_YEAR),
        built: entry.date(BUILT),
        identification: entry.text(IDENTIFICATION),
        equipment,
        ratings,
        outline: Outline {
            length: entry.text(LENGTH),
            width: entry.text(WIDTH),
            door_side: entry.text(DOOR_SIDE),
            axles: entry.whole(AXLES).unwrap_or_default(),
        },
    };
    entry.finish();
    dwelling
}
