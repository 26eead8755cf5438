//! Texts with the place where each was read: `label: 1G4AH59H45G118341; frame: 1G4AH59H45G118341`.

use crate::Problem;

/// One text and its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Placed {
    /// Where it was read.
    pub(crate) place: String,
    /// What was read.
    pub(crate) text: String,
}

/// What was read, by place, in the order given; and the places that are named without a text, which were
/// not read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Places {
    pub(crate) read: Vec<Placed>,
    pub(crate) unread: Vec<String>,
}

/// Reads a list of an input.
///
/// # Errors
/// [`Problem::Input`] if a text does not say where it was read, or a place is named twice.
pub(crate) fn read(input: &str, list: &str) -> Result<Places, Problem> {
    let mut places = Places::default();
    for item in list.split(';').map(str::trim).filter(|item| !item.is_empty()) {
        let Some((place, text)) = item.split_once(':') else {
            return Err(Problem::input(
                input,
                format!(
                    "`{item}` does not say where it was read; accepted: place: text; place: text"
                ),
            ));
        };
        let (place, text) = (words(place), text.trim());
        if place.is_empty() {
            return Err(Problem::input(
                input,
                format!("`{item}` names no place; accepted: place: text; place: text"),
            ));
        }
        if places.read.iter().any(|one| one.place == place) || places.unread.contains(&place) {
            return Err(Problem::input(input, format!("names {place} twice; name it once")));
        }
        if text.is_empty() {
            places.unread.push(place);
        } else {
            places.read.push(Placed { place, text: text.to_owned() });
        }
    }
    Ok(places)
}

/// A place as people write it: `left_front` is `left front`.
fn words(place: &str) -> String {
    place.trim().replace('_', " ")
}

/// Places in a sentence: `label`, `label and frame`, `label, frame and papers`.
pub(crate) fn sentence<'a>(places: impl IntoIterator<Item = &'a str>) -> String {
    let places: Vec<&str> = places.into_iter().collect();
    match places.as_slice() {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [front @ .., last] => format!("{} and {last}", front.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::{read, sentence};

    #[test]
    fn each_text_stands_behind_its_place() {
        let places = read("numbers", " label: AB 12 ; left_front:x;papers: ; ").unwrap();
        let read: Vec<(&str, &str)> =
            places.read.iter().map(|one| (one.place.as_str(), one.text.as_str())).collect();
        assert_eq!(read, [("label", "AB 12"), ("left front", "x")]);
        assert_eq!(places.unread, ["papers"]);
    }

    #[test]
    fn a_text_without_a_place_and_a_place_named_twice_are_refused() {
        for (list, said) in [
            ("AB12", "does not say where"),
            (": AB12", "names no place"),
            ("label: A; label: B", "names label twice"),
            ("label: ; label: B", "names label twice"),
        ] {
            let problem = read("numbers", list).unwrap_err().to_string();
            assert!(problem.contains(said) && problem.starts_with("numbers"), "{problem}");
        }
    }

    #[test]
    fn places_are_listed_as_in_speech() {
        assert_eq!(sentence(["label", "frame", "papers"]), "label, frame and papers");
        assert_eq!(sentence(["label", "frame"]), "label and frame");
        assert_eq!(sentence(["label"]), "label");
        assert_eq!(sentence([]), "");
    }
}
