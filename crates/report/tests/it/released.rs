//! What a report and its page say of the release that they belong to.

use plan::{Files, Library, load, load_texts};
use report::content::{Accepted, Content, Corrected, Form, Paper, Released};
use report::{Beside, page, page_beside};

use crate::sample::{photo, sample};
use crate::tools::{File, assert_order, typeset_sample};

const HOSTILE: &str = "<b>x</b> #eval(\"1\") ${x} 👍 \u{202e}";

fn released(corrects: Option<&str>) -> Content {
    let matter = |words: &str| format!("{words}: nothing is entered");
    Content {
        released: Some(Released {
            number: 2,
            at: "June 13, 2026, 9:10 coordinated universal time".into(),
            corrects: corrects.map(|because| Corrected {
                number: 1,
                day: "June 12, 2026".into(),
                because: because.into(),
            }),
            accepted: vec![
                Accepted {
                    words: "no key".into(),
                    matters: vec![matter("Roof"), matter("Cellar")],
                },
                Accepted { words: HOSTILE.into(), matters: vec![HOSTILE.into()] },
            ],
        }),
        ..sample(Paper::Letter)
    }
}

/// The words of a PDF, with one blank between any two.
fn words(pdf: &[u8]) -> String {
    let file = File::new(pdf);
    file.assert_sound();
    file.text().split_whitespace().collect::<Vec<_>>().join(" ")
}

const CORRECTS: &str =
    "This is release 2. It corrects release 1 of June 12, 2026 and stands in its place.";

#[test]
fn the_front_page_says_what_is_corrected_and_the_end_what_was_open() {
    for form in [Form::Full, Form::Short] {
        let content = Content { form, ..released(Some("The gauge was misread.")) };
        let made = typeset_sample(&content);
        assert_order(
            &words(&made.pdf),
            &[
                CORRECTS,
                "The gauge was misread.",
                "At a glance",
                "Record and signature",
                "2 · June 13, 2026, 9:10 coordinated universal time",
                "What was changed since release 1 of June 12, 2026, and why",
                "The gauge was misread.",
                "Open when it was released, and accepted in words",
                "no key",
                "Roof: nothing is entered",
                "Cellar: nothing is entered",
                "<b>x</b> #eval",
            ],
        );
    }
    let first = words(&typeset_sample(&released(None)).pdf);
    assert!(!first.contains("It corrects release") && first.contains("Open when it was released"));
    let unreleased = words(&typeset_sample(&sample(Paper::Letter)).pdf);
    assert!(!unreleased.contains("Open when it was released"));
}

#[test]
fn a_long_reason_does_not_push_the_front_page_apart() {
    let long = format!("{}ends here", "one reason after the other ".repeat(300));
    let made = typeset_sample(&released(Some(&long)));
    let text = words(&made.pdf);
    assert_order(&text, &[CORRECTS, "In full at the end.", "At a glance", "ends here"]);
    assert_eq!(text.matches("ends here").count(), 1);
}

#[test]
fn in_spanish_it_is_said_in_spanish() {
    let library: Library = load(&Files::embedded()).unwrap();
    let texts = load_texts("es", &Files::of_language("es").unwrap(), &library).texts;
    let (plan, _) = library.plan("purchase").unwrap().with_texts(&texts);
    let content = Content {
        language: "es".into(),
        words: plan.words,
        drawn: plan.drawn,
        ..released(Some("Se leyó mal."))
    };
    let corrects =
        "Esta es la publicación 2. Corrige la publicación 1 del June 12, 2026 y la sustituye.";
    let pdf = words(&typeset_sample(&content).pdf);
    assert_order(&pdf, &[corrects, "Se leyó mal.", "De un vistazo"]);
    assert!(pdf.contains("Abierto al publicarse, y aceptado con palabras"), "{pdf}");
    let made = page(&content, &photo, None).unwrap();
    let html = String::from_utf8(made.files[0].bytes.clone()).unwrap();
    assert_order(&html, &[corrects, "Se leyó mal.", "Los cinco usos", "Abierto al publicarse"]);
}

#[test]
fn the_page_says_the_same_and_takes_words_as_words() {
    let made = page(&released(Some(HOSTILE)), &photo, None).unwrap();
    let html = String::from_utf8(made.files[0].bytes.clone()).unwrap();
    assert_order(
        &html,
        &[CORRECTS, "&lt;b&gt;x&lt;/b&gt;", "The five uses", "<dt>Release</dt>", "no key", "Roof"],
    );
    assert!(!html.contains("<b>x</b>"));
    let plain = page(&sample(Paper::Letter), &photo, None).unwrap();
    let html = String::from_utf8(plain.files[0].bytes.clone()).unwrap();
    assert!(!html.contains("It corrects release") && !html.contains("<dt>Release</dt>"));
}

#[test]
fn what_lies_beside_the_page_is_linked_and_not_put_into_its_folder() {
    let content = sample(Paper::Letter);
    let id = content.photos[2].id.clone();
    let beside = Beside {
        pdf: Some("../report.pdf"),
        data: Some("../report.json"),
        photo: &|one| (one == id).then(|| "../photos/three.jpg".to_owned()),
    };
    let made = page_beside(&content, &photo, beside).unwrap();
    let whole = page(&content, &photo, Some("report.pdf")).unwrap();
    let names = |files: &[report::PageFile]| -> Vec<String> {
        files.iter().map(|file| file.name.clone()).collect()
    };
    let left_out: Vec<String> =
        names(&whole.files).into_iter().filter(|name| !names(&made.files).contains(name)).collect();
    assert_eq!(left_out, ["report.json", "photos/0003.jpg"]);
    let html: String = ["index.html", "readings.html"]
        .iter()
        .map(|name| made.files.iter().find(|file| file.name == *name).unwrap())
        .map(|file| String::from_utf8(file.bytes.clone()).unwrap())
        .collect();
    for link in ["\"../report.pdf\"", "\"../report.json\"", "\"../photos/three.jpg\""] {
        assert!(html.contains(link), "{link}");
    }
    assert!(!html.contains("photos/0003.jpg") && !html.contains("\"report.json\""));
}
