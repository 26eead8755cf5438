//! Where an input comes from, as `from` writes it.

use crate::InputFrom;

/// Reads one entry of `from`, or one bound behind `from `.
pub(crate) fn parse(text: &str) -> InputFrom {
    let text = text.trim();
    if let Some(fixed) = text.strip_prefix('=') {
        return InputFrom::Fixed(fixed.trim().to_owned());
    }
    if let Some(name) = text.strip_prefix("all ") {
        return InputFrom::AllOwn(name.trim().to_owned());
    }
    match text.split_once('.') {
        Some(("visit", "day")) => InputFrom::VisitDay,
        Some(("dwelling", fact)) => InputFrom::Dwelling(fact.to_owned()),
        Some((point, name)) => InputFrom::Other { point: point.to_owned(), name: name.to_owned() },
        None => match text.split_once('@') {
            Some((name, position)) => {
                InputFrom::OwnAt { name: name.to_owned(), position: position.to_owned() }
            }
            None => InputFrom::Own(text.to_owned()),
        },
    }
}
