//! Marks are drawn where they were set, in the printed report and on the client's page.

use report::content::{Content, Mark, Paper, Point};
use report::page;

use crate::sample::{photo, sample};
use crate::tools::{File, Picture, typeset_sample};

/// The photo that is marked, and how its caption begins.
const MARKED: (usize, &str) = (4, "Photo 4");

/// One of each kind, each in its own quarter of the photo.
const BOX: [f64; 4] = [0.1, 0.1, 0.4, 0.4];
const CIRCLE: [f64; 4] = [0.6, 0.1, 0.9, 0.4];
const ARROW: [f64; 4] = [0.1, 0.6, 0.4, 0.9];
const WORDS_AT: (f64, f64) = (0.55, 0.8);
const WORDS: &str = "Cracked & soft";

fn point(x: f64, y: f64) -> Point {
    Point { x, y }
}

fn corners([x0, y0, x1, y1]: [f64; 4]) -> (Point, Point) {
    (point(x0, y0), point(x1, y1))
}

fn one_of_each() -> Vec<Mark> {
    let (from, to) = corners(ARROW);
    let arrow = Mark::Arrow { from, to };
    let (from, to) = corners(BOX);
    let square = Mark::Box { from, to };
    let (from, to) = corners(CIRCLE);
    let circle = Mark::Circle { from, to };
    let words = Mark::Words { at: point(WORDS_AT.0, WORDS_AT.1), text: WORDS.into() };
    vec![arrow, square, circle, words]
}

fn with_marks(marks: Vec<Mark>) -> Content {
    let mut content = sample(Paper::Letter);
    content.photos[MARKED.0 - 1].marks = marks;
    content
}

/// The page with the photo, as a picture, and all text of the report.
fn printed(marks: Vec<Mark>) -> (Picture, String) {
    let made = typeset_sample(&with_marks(marks));
    let file = File::new(&made.pdf);
    let page = (3..=made.pages)
        .find(|page| {
            let page = page.to_string();
            let (text, _) = file.ask("pdftotext", &["-f", &page, "-l", &page, "-raw"], &["-"]);
            text.contains(&format!("{} Left tires", MARKED.1))
        })
        .unwrap();
    (file.picture(page), file.text())
}

/// Whether a pixel has the red that marks are drawn in.
fn is_red([red, green, blue]: [u8; 3]) -> bool {
    red > 110 && green < 70 && blue < 75
}

#[test]
#[allow(clippy::cast_precision_loss, reason = "pixels of a page are few")]
fn each_kind_of_mark_is_drawn_in_the_pdf_where_it_was_set() {
    let (plain, before) = printed(Vec::new());
    // A box around all of the photo says where it stands.
    let (from, to) = (point(0.0, 0.0), point(1.0, 1.0));
    let (framed, _) = printed(vec![Mark::Box { from, to }]);
    let frame = framed.differences(&plain);
    let bounds = |pixels: &[(usize, usize)]| -> [f64; 4] {
        let across = pixels.iter().map(|it| it.0);
        let down = pixels.iter().map(|it| it.1);
        [across.clone().min(), down.clone().min(), across.max(), down.max()]
            .map(|it| it.expect("nothing was drawn") as f64)
    };
    let [left, top, right, bottom] = bounds(&frame);
    assert!(right - left > 250.0 && bottom - top > 180.0, "{left} {top} {right} {bottom}");
    let place = |(across, down): (usize, usize)| {
        ((across as f64 - left) / (right - left), (down as f64 - top) / (bottom - top))
    };

    let (marked, text) = printed(one_of_each());
    let red: Vec<(f64, f64)> = marked
        .differences(&plain)
        .into_iter()
        .filter(|pixel| is_red(marked.at(*pixel)))
        .map(place)
        .collect();
    let within = |[x0, y0, x1, y1]: [f64; 4]| {
        let inside = |(x, y): &(f64, f64)| (x0..=x1).contains(x) && (y0..=y1).contains(y);
        red.iter().copied().filter(inside).collect::<Vec<_>>()
    };
    for (name, quarter, expected) in [
        ("box", [0.0, 0.0, 0.5, 0.5], BOX),
        ("circle", [0.5, 0.0, 1.0, 0.5], CIRCLE),
        ("arrow", [0.0, 0.5, 0.5, 1.0], ARROW),
    ] {
        let drawn = within(quarter);
        assert!(drawn.len() > 60, "{name}: {} pixels", drawn.len());
        let least = |of: fn(&(f64, f64)) -> f64| drawn.iter().map(of).fold(1.0, f64::min);
        let most = |of: fn(&(f64, f64)) -> f64| drawn.iter().map(of).fold(0.0, f64::max);
        let (across, down) = (|it: &(f64, f64)| it.0, |it: &(f64, f64)| it.1);
        let found = [least(across), least(down), most(across), most(down)];
        for (found, expected) in found.iter().zip(expected) {
            assert!((found - expected).abs() < 0.03, "{name}: {found} for {expected}");
        }
    }
    // A box has corners, a circle none, and inside of both nothing is drawn.
    let near = |x: f64, y: f64| within([x - 0.02, y - 0.02, x + 0.02, y + 0.02]).len();
    assert!(near(BOX[0], BOX[1]) > 0 && near(BOX[2], BOX[3]) > 0);
    assert_eq!(near(CIRCLE[0] + 0.02, CIRCLE[1] + 0.02), 0);
    assert_eq!(near(0.25, 0.25) + near(0.75, 0.25), 0);
    // An arrow goes through its middle and is widest at its head.
    assert!(near(0.25, 0.75) > 0);
    let (tail, head) = (within([0.08, 0.58, 0.2, 0.7]).len(), within([0.3, 0.8, 0.42, 0.92]).len());
    assert!(head > tail * 3 / 2, "{head} at the head, {tail} at the tail");
    // Words begin at their place, and are words in the file too.
    let words = within([0.5, 0.5, 1.0, 1.0]);
    assert!(words.len() > 60, "{} pixels of words", words.len());
    assert!(words.iter().all(|(x, y)| *x > WORDS_AT.0 - 0.02 && (0.7..0.84).contains(y)));
    assert!(text.contains(WORDS) && !before.contains(WORDS));
}

#[test]
fn each_kind_of_mark_lies_over_its_photo_on_the_page() {
    let page = page(&with_marks(one_of_each()), &photo, None).unwrap();
    let index = page.files.iter().find(|file| file.name == "index.html").unwrap();
    let html = String::from_utf8(index.bytes.clone()).unwrap();
    let (_, figure) = html.split_once("id=\"photo-4\"").unwrap();
    let figure = figure.split_once("</figure>").unwrap().0;
    assert_eq!(figure.matches("<img ").count(), 1);
    let begin = figure.find("<svg").unwrap();
    let end = figure.find("</svg>").unwrap() + "</svg>".len();
    let drawing = roxmltree::Document::parse(&figure[begin..end]).unwrap();
    let size: Vec<f64> = drawing
        .root_element()
        .attribute("viewBox")
        .unwrap()
        .split(' ')
        .map(|it| it.parse().unwrap())
        .collect();
    let [_, _, width, height] = size[..] else { panic!("{size:?}") };
    assert!(figure.contains(&format!("width=\"{width}\" height=\"{height}\"")), "{figure}");
    let red: Vec<&str> = drawing
        .descendants()
        .filter(|node| node.has_tag_name("path") && node.attribute("stroke") == Some("#8f1d21"))
        .filter_map(|node| node.attribute("d"))
        .collect();
    // Each line has a white one beneath it.
    let paths = drawing.descendants().filter(|node| node.has_tag_name("path")).count();
    assert_eq!((red.len(), paths), (3, 6));
    let numbers = |path: &str| -> Vec<f64> {
        path.split(|c: char| c.is_ascii_alphabetic() || c == ' ')
            .filter(|it| !it.is_empty())
            .map(|it| it.parse().unwrap())
            .collect()
    };
    let close = |found: &[f64], expected: &[f64]| {
        assert!(found.len() >= expected.len(), "{found:?}");
        for (found, expected) in found.iter().zip(expected) {
            assert!((found - expected).abs() < 0.01, "{found} for {expected}");
        }
    };
    let scaled = |[x0, y0, x1, y1]: [f64; 4]| [x0 * width, y0 * height, x1 * width, y1 * height];
    let [arrow, square, circle] = red[..] else { panic!("{red:?}") };
    close(&numbers(arrow), &scaled(ARROW));
    let [x0, y0, x1, y1] = scaled(BOX);
    close(&numbers(square), &[x0, y0, x1, y1, x0]);
    let [x0, y0, x1, y1] = scaled(CIRCLE);
    let (radius_x, radius_y) = ((x1 - x0) / 2.0, (y1 - y0) / 2.0);
    close(&numbers(circle), &[x0, y0 + radius_y, radius_x, radius_y]);
    let words: Vec<_> = drawing.descendants().filter(|it| it.has_tag_name("text")).collect();
    assert!(words.iter().all(|it| it.text() == Some(WORDS)), "{figure}");
    let over = words.last().unwrap();
    assert_eq!(over.attribute("fill"), Some("#8f1d21"));
    let at = |name: &str| -> f64 { over.attribute(name).unwrap().parse().unwrap() };
    close(&[at("x"), at("y")], &[WORDS_AT.0 * width, WORDS_AT.1 * height]);
}
