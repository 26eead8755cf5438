//! Every kind of problem in a point file is reported with its place and a hint.

use plan::{Files, load};

use crate::fixture::{assert_told, files_of, problems_of};

/// A point without problems; tests change one thing in it.
const GOOD: &str = r#"id = "lockup"
title = "Lock-up"
stop = "outside"
minutes = 2
caution = "Gas burns."
measure = ["Pressure."]
fitted = ["gas"]

[[reading]]
id = "pressure"
title = "Pressure"
kind = "pressure"
unit = "inH2O"
u = "0.1 inH2O"

[[reading]]
id = "gross"
title = "Gross"
kind = "mass"
unit = "lb"

[[derive]]
id = "share"
title = "Share"
formula = "weights.tongue_percent"
unit = "%"
from = { tongue = "gross", gross = "gross" }

[[limit]]
id = "ceiling"
on = "pressure"
at_most = "14 inH2O"
source = "code"
section = "1"
basis = "law"
footing = "in_use"
read = "2026-11-25"
defect = "high"

[[defect]]
id = "high"
title = "Too high"
statement = "It rose to {pressure}."
stops = ["gas"]
when = "before use"
who = "fitter"

[[example]]
given = { pressure = "12 inH2O" }
verdicts = { ceiling = "conforms" }
"#;

fn files(point: &str) -> Files {
    let mut files = files_of("gas");
    files.add("points/gas/lockup.toml", point);
    files
}

fn problems(point: &str) -> Vec<String> {
    problems_of(&files(point))
}

#[test]
fn a_good_point_has_no_problem() {
    assert_eq!(problems(GOOD), Vec::<String>::new());
}

#[test]
fn each_kind_of_problem_is_told_with_its_place_and_a_hint() {
    for (old, new, expected) in [
        (
            "minutes = 2",
            "minuts = 2",
            "points/gas/lockup.toml:4:1: no key is called `minuts` here -> write `minutes`",
        ),
        ("minutes = 2", "minutes = 0", "the point takes no time"),
        ("minutes = 2", "minutes = \"two\"", "4:11: `minutes` is no number -> write minutes = 0.5"),
        (
            "minutes = 2",
            "minutes = 0.25",
            "4:11: `minutes` is 0.25: minutes go from 0 in halves -> write minutes = 0.5, 1, 1.5, 2 …",
        ),
        ("minutes = 2", "minutes = -1", "4:11: `minutes` is -1: minutes go from 0 in halves"),
        (
            "minutes = 2",
            "minutes = 0.5\nwait = { minutes = 10, what = \"it settles\" }",
            "half a minute is too short for one act before the wait and one after it",
        ),
        ("id = \"lockup\"", "id = \"lock_up\"", "1:6: the file is not called `lock_up.toml`"),
        (
            "stop = \"outside\"",
            "stop = \"outsid\"",
            "3:8: no stop is called `outsid` -> write `outside`",
        ),
        ("caution = \"Gas burns.\"\n", "", "work here can hurt, and there is no `caution`"),
        ("fitted = [\"gas\"]", "fitted = [\"gaz\"]", "no equipment is called `gaz` -> write `gas`"),
        (
            "kind = \"pressure\"",
            "kind = \"presure\"",
            "no kind is called `presure` -> write `pressure`",
        ),
        ("unit = \"inH2O\"", "unit = \"lb\"", "`lb` is no unit of pressure -> units: psi"),
        ("u = \"0.1 inH2O\"", "u = \"0.1 lb\"", "`0.1 lb` is no uncertainty of a pressure"),
        (
            "formula = \"weights.tongue_percent\"",
            "formula = \"weights.tongue_procent\"",
            "no formula is called `weights.tongue_procent` -> write `weights.tongue_percent`",
        ),
        (
            "tongue = \"gross\", gross = \"gross\"",
            "gross = \"gross\"",
            "weights.tongue_percent needs the input `tongue`",
        ),
        (
            "tongue = \"gross\", gross",
            "tongue = \"gross@left\", gross",
            "`gross` is read in one place only -> write `gross`",
        ),
        (
            "tongue = \"gross\"",
            "tongue = \"pressure\"",
            "weights.tongue_percent takes mass for `tongue`, given pressure",
        ),
        (
            "tongue = \"gross\"",
            "tongue = \"gros\"",
            "lockup has no reading or derived value `gros` -> write `gross`",
        ),
        (
            "tongue = \"gross\"",
            "tongue = \"share\"",
            "values are computed from each other in a circle",
        ),
        ("tongue = \"gross\"", "tongue = \"= 5 psi\"", "`5 psi` is a pressure, not a mass"),
        ("unit = \"%\"", "unit = \"psi\"", "`psi` is no unit of ratio"),
        ("at_most = \"14 inH2O\"", "at_most = \"14\"", "`14` has no unit"),
        ("at_most = \"14 inH2O\"", "", "a limit needs exactly one bound"),
        ("at_most = \"14 inH2O\"", "one_of = [\"high\"]", "words cannot bound a pressure"),
        (
            "at_most = \"14 inH2O\"",
            "between = [\"9 inH2O\", \"7 inH2O\"]",
            "the lower bound is above the upper",
        ),
        (
            "on = \"pressure\"",
            "on = \"presure\"",
            "no reading or derived value is called `presure` -> write `pressure`",
        ),
        ("source = \"code\"\n", "", "no `source`"),
        (
            "source = \"code\"",
            "source = \"cod\"",
            "no source is called `cod` -> write `code`, or add it to sources.toml",
        ),
        ("section = \"1\"\n", "", "the limit names no `section`"),
        (
            "basis = \"law\"",
            "basis = \"lore\"",
            "`lore` is no basis -> write one of law, standard, maker, practice",
        ),
        ("footing = \"in_use\"", "footing = \"use\"", "`use` is no footing"),
        ("read = \"2026-11-25\"", "read = \"yes\"", "`yes` does not say when the section was read"),
        ("defect = \"high\"\n", "", "the limit drafts no defect"),
        ("defect = \"high\"", "defect = \"hi\"", "no defect is called `hi`"),
        (
            "{pressure}",
            "{presure}",
            "the statement refers to `presure`, which is not read here -> write {pressure}",
        ),
        ("stops = [\"gas\"]", "stops = [\"gaz\"]", "no use is called `gaz`"),
        (
            "when = \"before use\"",
            "when = \"now\"",
            "`now` is no when -> write one of before use, soon, in time",
        ),
        (
            "[[example]]\ngiven = { pressure = \"12 inH2O\" }\nverdicts = { ceiling = \"conforms\" }\n",
            "",
            "the point has no [[example]]",
        ),
        ("verdicts = { ceiling = \"conforms\" }\n", "", "the example expects nothing"),
        (
            "verdicts = { ceiling",
            "verdicts = { roof",
            "the example expects a verdict of `roof`, which is no limit here",
        ),
        (
            "measure = [\"Pressure.\"]",
            "measure = [\"Pressure.\"]\nafter = [\"lockup_first\"]",
            "no point is called `lockup_first`",
        ),
        (
            "measure = [\"Pressure.\"]",
            "measure = [\"Pressure.\"]\nafter = [\"lockup\"]",
            "points must come after each other in a circle: lockup",
        ),
        (
            "measure = [\"Pressure.\"]",
            "measure = [\"Pressure.\"]\nneeds = [\"gas_of\"]",
            "no site state is called `gas_of` -> write `gas_on`",
        ),
        ("title = \"Lock-up\"", "title = Lock-up", "points/gas/lockup.toml:2:"),
    ] {
        assert_told(GOOD, (old, new, expected), problems);
    }
}

#[test]
fn all_problems_of_all_files_come_at_once_in_order() {
    let mut files = files(
        &GOOD.replace("minutes = 2", "minuts = 2").replace("basis = \"law\"", "basis = \"lore\""),
    );
    files.add("points/gas/other.toml", "id = \"other\"\n");
    files.add("points/gas/broken.toml", "id = \n");
    let problems = load(&files).map(|_| ()).unwrap_err();
    let files: Vec<&str> = problems.iter().map(|problem| problem.file.as_str()).collect();
    for name in ["points/gas/broken.toml", "points/gas/lockup.toml", "points/gas/other.toml"] {
        assert!(files.contains(&name), "{files:?}");
    }
    assert!(problems.is_sorted(), "{problems:#?}");
    assert!(problems.len() >= 8, "{problems:#?}");
}

#[test]
fn a_stop_says_on_which_side_one_sees_it() {
    let stops = |more: &str| {
        let mut files = files(GOOD);
        let stop = "[[stop]]\nid = \"outside\"\ntitle = \"Outside\"\nalong = 0.5\nacross = 1\n";
        files.add("stops.toml", format!("{stop}{more}"));
        match load(&files) {
            Ok(library) => format!("{:?}", library.plan("test").unwrap().stops[0]),
            Err(problems) => problems.iter().map(ToString::to_string).collect(),
        }
    };
    assert!(stops("").ends_with("side: None, height: 0.5 }"), "{}", stops(""));
    let told = stops("side = \"rear\"\nheight = 0.25\n");
    assert!(told.ends_with("side: Some(Rear), height: 0.25 }"), "{told}");
    let told = stops("side = \"kerb\"\n");
    assert!(told.contains("stops.toml:6:8: no side is called `kerb`"), "{told}");
    assert!(told.contains("known: left, right, front, rear, door, either"), "{told}");
    let told = stops("height = 2\n");
    assert!(told.contains("the height 2 is not on the body"), "{told}");
}

#[test]
fn an_id_stands_for_one_point_only() {
    let mut files = files(GOOD);
    files.add("points/mains/lockup.toml", GOOD);
    let problems = load(&files).map(|_| ()).unwrap_err();
    assert!(problems[0].message.contains("the id `lockup` is also that of"), "{problems:#?}");
}

#[test]
fn a_firms_own_point_replaces_the_shipped_one() {
    let mut files = files(GOOD);
    let replaced =
        files.add_point("points/own/lockup.toml", GOOD.replace("Lock-up", "Our lock-up"));
    assert_eq!(replaced.as_deref(), Some("points/gas/lockup.toml"));
    let library = load(&{
        files.add(
            "plans/test.toml",
            "id = \"test\"\ntitle = \"T\"\npurpose = \"P\"\nterms = [\"T\"]\nsystems = [\"own\"]\n",
        );
        files
    });
    assert_eq!(library.unwrap().points().next().unwrap().title, "Our lock-up");
}

#[test]
fn a_frozen_plan_reads_the_same_for_ever() {
    let library = load(&Files::embedded()).unwrap();
    for (id, _) in library.plans() {
        let plan = library.plan(id).unwrap();
        let thawed = plan::thaw(&library.frozen(id).unwrap()).unwrap();
        assert_eq!(thawed.data_revision, plan.data_revision);
        assert_eq!(format!("{thawed:?}"), format!("{plan:?}"));
    }
    assert!(plan::thaw("nothing").is_err());
}
