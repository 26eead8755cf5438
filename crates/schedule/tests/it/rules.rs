//! Two people, skills, windows, and a visit that is under way.

use schedule::{Budget, Person, Preference, Progress, Span, Task, Window, plan, validate};

use crate::visits::visit;

const SMALL: Budget = Budget { decodes: 20_000, seed: 1 };

#[test]
fn two_people_finish_sooner_and_share_by_skill() {
    let mut problem = visit("sixty_acts_a");
    let alone = plan(&problem, &Progress::default(), Preference::FinishSoonest, SMALL);
    problem.people = vec![
        Person { name: "gas fitter".to_owned(), skills: vec!["gas".to_owned()] },
        Person { name: "second".to_owned(), skills: Vec::new() },
    ];
    for act in problem.acts.iter_mut().filter(|act| act.id.starts_with("decay")) {
        act.skill = Some("gas".to_owned());
    }
    let slide = problem.acts.iter_mut().find(|act| act.id == "slide_path").unwrap();
    slide.together = true;
    let found = plan(&problem, &Progress::default(), Preference::FinishSoonest, SMALL);
    assert_eq!(validate(&problem, &Progress::default(), &found), []);
    assert_eq!(found.step_of("decay_read").unwrap().people, [0]);
    assert_eq!(found.step_of("slide_path").unwrap().people, [0, 1]);
    assert!(10 * found.finish < 7 * alone.finish, "{} {}", found.finish, alone.finish);
}

#[test]
fn an_appointment_is_kept() {
    let mut problem = visit("sixty_acts_a");
    let plate = problem.acts.iter_mut().find(|act| act.id == "plate").unwrap();
    plate.windows = vec![Window { from: 120, to: 125 }];
    let found = plan(&problem, &Progress::default(), Preference::FinishSoonest, SMALL);
    assert_eq!(validate(&problem, &Progress::default(), &found), []);
    assert_eq!(found.step_of("plate").unwrap().start, 120);
}

#[test]
fn a_wait_that_runs_since_before_the_visit_is_only_read() {
    let problem = visit("sixty_acts_a");
    let mut progress = Progress::default();
    // The owner switched the refrigerator on two hours before; power is on and was found safe.
    for id in ["ped_volt", "breakers_off", "arrive_photo", "hot_skin", "panel_on", "fridge_start"] {
        progress.done.insert(id.to_owned(), Span { start: -250, end: -240, person: 0 });
    }
    progress.states.insert("shore".to_owned(), "on".to_owned());
    let found = plan(&problem, &progress, Preference::FinishSoonest, SMALL);
    assert_eq!(validate(&problem, &progress, &found), []);
    assert!(found.step_of("fridge_start").is_none());
    assert!(found.step_of("fridge_temp").is_some());
}

#[test]
fn what_is_skipped_or_blocked_is_not_planned() {
    let problem = visit("sixty_acts_a");
    let mut progress = Progress::default();
    progress.skipped.insert("decay_press".to_owned(), "no gauge".to_owned());
    let found = plan(&problem, &progress, Preference::FinishSoonest, SMALL);
    assert_eq!(validate(&problem, &progress, &found), []);
    assert!(found.step_of("cooktop").is_none(), "a burner without a leak test");
    let gas = Task::Change { state: "lp".to_owned(), to: "open".to_owned() };
    assert!(found.steps.iter().all(|step| step.task != gas));
}
