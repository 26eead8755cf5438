//! Picture files: what is read from them, and every kind of problem in them with its place and a hint.

use plan::{Files, PictureKind, load};

use crate::fixture::{assert_told, files_of, problems_of};

/// A picture without problems; tests change one thing in it.
const GOOD: &str = r#"id = "loads"
title = "Weights"
caption = "What each axle carries."
system = "weights"
kind = "loads"

[from]
gross_rating = "weighing.rating"
gross = "weighing.gross"
share = "weighing.share"
"#;

const POINT: &str = r#"id = "weighing"
title = "Weighing"
stop = "outside"
minutes = 2
measure = ["Weight."]

[[reading]]
id = "gross"
title = "Gross"
kind = "mass"
unit = "lb"

[[reading]]
id = "rating"
title = "Rating"
kind = "mass"
unit = "lb"

[[derive]]
id = "share"
title = "Share"
formula = "weights.tongue_percent"
unit = "%"
from = { tongue = "gross", gross = "gross" }

[[limit]]
id = "within"
on = "gross"
at_most = "from rating"
source = "code"
section = "1"
basis = "law"
footing = "in_use"
read = "2026-11-25"
defect = "heavy"

[[defect]]
id = "heavy"
title = "Too heavy"
statement = "It weighs {gross}."
stops = ["tow"]
when = "before use"
who = "owner"

[[example]]
given = { gross = "5000 lb", rating = "7000 lb" }
verdicts = { within = "conforms" }
"#;

fn files(path: &str, picture: &str) -> Files {
    let mut files = files_of("weights");
    files.add("points/weights/weighing.toml", POINT);
    files.add(path, picture);
    files
}

fn problems(picture: &str) -> Vec<String> {
    problems_of(&files("pictures/loads.toml", picture))
}

#[test]
fn a_good_picture_is_read_as_it_is_written() {
    let library = load(&files("pictures/loads.toml", GOOD)).unwrap();
    let plan = library.plan("test").unwrap();
    let [picture] = plan.pictures.as_slice() else { panic!("{:?}", plan.pictures) };
    assert_eq!((picture.id.as_str(), picture.system.as_str()), ("loads", "weights"));
    assert_eq!((picture.title.as_str(), picture.kind), ("Weights", PictureKind::Loads));
    assert_eq!(picture.caption, "What each axle carries.");
    let from: Vec<String> = picture
        .from
        .iter()
        .map(|(role, value)| format!("{role} = {}.{}", value.point, value.name))
        .collect();
    assert_eq!(
        from,
        ["gross = weighing.gross", "gross_rating = weighing.rating", "share = weighing.share"]
    );
}

#[test]
fn each_kind_of_problem_is_told_with_its_place_and_a_hint() {
    for (old, new, expected) in [
        (
            "kind = \"loads\"",
            "kind = \"load\"",
            "pictures/loads.toml:5:8: no kind of picture is `load` -> write `loads`",
        ),
        (
            "kind = \"loads\"",
            "kind = \"pie chart of everything\"",
            "no kind of picture is `pie chart of everything` -> kinds: tyres, ",
        ),
        (
            "gross = \"weighing.gross\"",
            "grosss = \"weighing.gross\"",
            "pictures/loads.toml:9:10: a picture of kind `loads` has no role `grosss` -> roles: gross, gross_rating, ",
        ),
        (
            "gross = \"weighing.gross\"",
            "gross = \"gross\"",
            "9:9: `gross` names no value of a point -> write \"point.reading\"",
        ),
        (
            "gross = \"weighing.gross\"",
            "gross = \"weighting.gross\"",
            "9:9: no point is called `weighting` -> write `weighing`",
        ),
        (
            "gross = \"weighing.gross\"",
            "gross = \"weighing.gros\"",
            "9:9: weighing has no reading or derived value `gros` -> write `gross`",
        ),
        (
            "gross = \"weighing.gross\"\n",
            "",
            "nothing plays the role `gross` -> [from] gross = \"point.reading\": weight of the whole unit",
        ),
        (
            "system = \"weights\"",
            "system = \"weight\"",
            "4:10: no system is called `weight` -> write `weights`",
        ),
        (
            "id = \"loads\"",
            "id = \"load\"",
            "1:6: the file is not called `load.toml` -> the file's name is the picture's id",
        ),
        (
            "title = \"Weights\"",
            "titlle = \"Weights\"",
            "2:1: no key is called `titlle` here -> write `title`",
        ),
        ("title = \"Weights\"", "title = Weights", "pictures/loads.toml:2:"),
    ] {
        assert_told(GOOD, (old, new, expected), problems);
    }
}

#[test]
fn a_picture_without_title_caption_system_or_kind_names_each() {
    let problems = problems("id = \"loads\"\n");
    for name in ["title", "caption", "system", "kind"] {
        let told = problems.iter().any(|problem| problem.contains(&format!("`{name}`")));
        assert!(told, "{name}: {problems:#?}");
    }
}

#[test]
fn every_picture_of_the_shipped_data_belongs_to_the_plan_and_every_kind_is_used() {
    let library = load(&Files::embedded()).unwrap();
    let plan = library.plan("purchase").unwrap();
    for kind in PictureKind::ALL {
        assert!(plan.pictures.iter().any(|picture| picture.kind == kind), "{}", kind.word());
    }
}
