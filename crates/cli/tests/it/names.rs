//! Names that there are not: each is refused with the nearest that there are.

use crate::program::Nearside;

#[test]
fn an_unknown_job_names_the_nearest() {
    let program = Nearside::with_job();
    let said = program.run(&["assess", "2026-01"]).refused();
    assert!(said.contains("no job has the number `2026-01`"), "{said}");
    assert!(said.contains("hint: the nearest: 2026-001"), "{said}");
    let said = Nearside::new().run(&["assess", "2026-001"]);
    assert_eq!(said.status, 2);
    assert!(said.err.contains("`nearside job new` makes one"), "{}", said.err);
}

#[test]
fn an_unknown_point_reading_kind_plan_or_equipment_names_the_nearest() {
    let program = Nearside::with_job();
    for (arguments, near) in [
        (&["read", "2026-001", "regulator_lockupp", "lockup", "1 inH2O"][..], "regulator_lockup"),
        (&["read", "2026-001", "regulator_lockup", "lokup", "1 inH2O"], "lockup"),
        (&["point", "2026-001", "claddings", "--examined"], "cladding"),
        (&["point", "2026-001", "cladding", "--found", "punkture"], "puncture"),
        (&["job", "new", "--kind", "travel_trailor"], "travel_trailer"),
        (&["job", "new", "--plan", "purchas"], "purchase"),
        (&["job", "new", "--equipment", "gass"], "gas"),
        (&["plan", "show", "purchas"], "purchase"),
    ] {
        let said = program.run(arguments).refused();
        assert!(said.contains("hint: the nearest: ") && said.contains(near), "{said}");
    }
    let said = program.run(&["point", "2026-001", "cylinder_dates", "--examined"]).refused();
    assert!(said.contains("does not belong to this unit"), "{said}");
}

#[test]
fn a_taken_number_is_refused_with_the_next_free_one() {
    let program = Nearside::with_job();
    let said =
        program.run(&["job", "new", "--number", "2026-001", "--visit", "2026-07-01"]).refused();
    assert!(said.contains("there is a job 2026-001 already"), "{said}");
    assert!(said.contains("hint: the next free number is 2026-002"), "{said}");
    let said = program.run(&["job", "new", "--number", "2026/1"]).refused();
    assert!(said.contains("is no job's number"), "{said}");
}

#[test]
fn the_data_folder_is_named_the_first_time_only() {
    let program = Nearside::new();
    let first = program.run(&["job", "list"]);
    assert!(first.err.contains("jobs and photos are kept in"), "{}", first.err);
    assert_eq!(program.run(&["job", "list"]).err, "");
}
