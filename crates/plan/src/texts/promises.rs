//! Words that promise what an inspection cannot: a text may say them only where the text it stands for does, and may
//! not turn a denial round.

/// A promise: what it is called in messages, and the beginnings of the words that make it in English and Spanish.
struct Promise {
    name: &'static str,
    english: &'static [&'static str],
    spanish: &'static [&'static str],
    /// Words with the same beginning that promise nothing.
    except: &'static [&'static str],
}

const PROMISES: [Promise; 4] = [
    Promise {
        name: "a guarantee",
        english: &["guarant", "warrant"],
        spanish: &["garant"],
        except: &[],
    },
    Promise { name: "a certificate", english: &["certif"], spanish: &["certific"], except: &[] },
    Promise {
        name: "that it is safe",
        english: &["safe", "no danger", "without danger", "no risk", "without risk", "risk-free"],
        spanish: &["segur", "sin peligro", "sin riesgo"],
        except: &["safety", "seguridad"],
    },
    Promise {
        name: "that nothing is wrong",
        english: &["no defect", "without defect", "free of defect", "defect-free", "nothing wrong"],
        spanish: &["sin defecto", "ningún defecto", "libre de defecto", "nada mal"],
        except: &[],
    },
];

/// Words that deny what stands in the same sentence.
const DENIALS: [&str; 13] = [
    "no", "not", "never", "nor", "neither", "without", "cannot", "nunca", "ni", "ningún",
    "ninguna", "sin", "tampoco",
];

/// The promises that a text makes and the text it stands for does not, each with the word that makes it.
pub(crate) fn made(original: &str, own: &str) -> Vec<(&'static str, String)> {
    PROMISES
        .iter()
        .filter_map(|promise| {
            let before = uses(promise, original);
            let now = uses(promise, own);
            let denied_before = before.iter().all(|one| one.denied);
            let wrong =
                now.into_iter().find(|one| before.is_empty() || (denied_before && !one.denied))?;
            Some((promise.name, wrong.word))
        })
        .collect()
}

/// Further promises that people make in their own words; no data file stands for those.
const OWN_PROMISES: [Promise; 3] = [
    Promise {
        name: "that nothing is wrong",
        english: &["no problem", "no issue", "trouble-free", "perfect", "as new", "like new"],
        spanish: &["sin problema", "ningún problema", "perfect", "como nuevo", "como nueva"],
        except: &[],
    },
    Promise {
        name: "what will be",
        english: &[
            "will last",
            "will hold",
            "will not fail",
            "will never",
            "won't fail",
            "for years to come",
        ],
        spanish: &["durará", "no fallará", "nunca fallará", "aguantará"],
        except: &[],
    },
    Promise {
        name: "that a code is met as a whole",
        english: &["code-compliant", "code compliant", "up to code", "meets all"],
        spanish: &["cumple todas", "cumple todos", "cumple con todas", "cumple con todos"],
        except: &[],
    },
];

/// Words that say what somebody else is, not what the writer promises.
const OTHERS: [&str; 10] = [
    "certified",
    "certificate",
    "certificates",
    "certification",
    "certificado",
    "certificada",
    "certificados",
    "certificadas",
    "certificación",
    "certifications",
];

/// The promises in a text of a person's own, each with the first word that makes it. A promise that its sentence denies is
/// none, and a word that names somebody else's certificate neither.
#[must_use]
pub fn promises(text: &str) -> Vec<(&'static str, String)> {
    let mut found: Vec<(&'static str, String)> = Vec::new();
    for promise in PROMISES.iter().chain(&OWN_PROMISES) {
        let made = uses(promise, text)
            .into_iter()
            .find(|one| !one.denied && !OTHERS.contains(&one.word.as_str()));
        if let Some(one) = made
            && !found.iter().any(|(name, _)| *name == promise.name)
        {
            found.push((promise.name, one.word));
        }
    }
    found
}

struct Used {
    word: String,
    denied: bool,
}

fn uses(promise: &Promise, text: &str) -> Vec<Used> {
    let text = text.to_lowercase();
    let mut found = Vec::new();
    for sentence in text.split(['.', ';', '!', '?']) {
        for beginning in promise.english.iter().chain(promise.spanish) {
            for (at, _) in sentence.match_indices(beginning) {
                let (head, tail) = sentence.split_at(at);
                // `unsafe` is not `safe`, and `fail-safe` is a kind of valve.
                if head.ends_with(|c: char| c.is_alphabetic() || c == '-') {
                    continue;
                }
                let end = tail[beginning.len()..].find(|c: char| !c.is_alphabetic());
                let word = &tail[..end.map_or(tail.len(), |end| end + beginning.len())];
                if promise.except.contains(&word) {
                    continue;
                }
                let denied =
                    head.split(|c: char| !c.is_alphabetic()).any(|word| DENIALS.contains(&word));
                found.push(Used { word: word.to_owned(), denied });
            }
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(original: &str, own: &str) -> Vec<String> {
        made(original, own).into_iter().map(|(_, word)| word).collect()
    }

    #[test]
    fn a_promise_that_the_original_does_not_make_is_found_in_both_languages() {
        let original = "The regulator holds its pressure.";
        assert_eq!(words(original, "The regulator is safe."), ["safe"]);
        assert_eq!(words(original, "We guarantee the regulator."), ["guarantee"]);
        assert_eq!(
            words(original, "A certified regulator with no defects."),
            ["certified", "no defects"]
        );
        assert_eq!(words(original, "Garantizamos el regulador."), ["garantizamos"]);
        assert_eq!(
            words(original, "El regulador es seguro y sin defectos."),
            ["seguro", "sin defectos"]
        );
        assert_eq!(words(original, "Gafas de seguridad; asegurar la tapa."), Vec::<String>::new());
        assert_eq!(words(original, "Wear safety glasses; it looks unsafe."), Vec::<String>::new());
    }

    #[test]
    fn in_a_persons_own_text_a_promise_is_found_unless_it_is_denied() {
        let words = |text| promises(text).into_iter().map(|(_, word)| word).collect::<Vec<_>>();
        assert_eq!(words("The deck is safe to walk on."), ["safe"]);
        assert_eq!(words("The deck is not safe to walk on; unsafe."), Vec::<String>::new());
        assert_eq!(words("I guarantee that the roof will last."), ["guarantee", "will last"]);
        assert_eq!(words("This is no guarantee."), Vec::<String>::new());
        assert_eq!(words("Have a certified technician look at it."), Vec::<String>::new());
        assert_eq!(words("We certify the system."), ["certify"]);
        assert_eq!(
            words("Everything else is up to code, no problems."),
            ["no problems", "up to code"]
        );
        assert_eq!(words("El techo es seguro y durará."), ["seguro", "durará"]);
        assert_eq!(words("A fail-safe valve with a safety pin."), Vec::<String>::new());
        assert_eq!(words(""), Vec::<String>::new());
    }

    #[test]
    fn a_denial_may_be_said_again_and_not_turned_round() {
        let original = "It is never a warranty or a guarantee.";
        assert_eq!(words(original, "Nunca es una garantía."), Vec::<String>::new());
        assert_eq!(words(original, "It comes with a warranty."), ["warranty"]);
        assert_eq!(words(original, "Not a code check. It is a guarantee."), ["guarantee"]);
        let plain = "If it can be reached safely.";
        assert_eq!(words(plain, "Si se llega de forma segura."), Vec::<String>::new());
    }
}
