//! Every worked example of every shipped point is a test.

use libtest_mimic::{Arguments, Failed, Trial};
use plan::Files;

fn main() {
    let library = match plan::load(&Files::embedded()) {
        Ok(library) => library,
        Err(problems) => {
            let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
            panic!("{}", lines.join("\n"));
        }
    };
    let mut trials = Vec::new();
    for (id, _) in library.plans() {
        let plan = std::sync::Arc::new(library.plan(id).expect("the library has its own plans"));
        for point in &plan.points {
            for (at, example) in point.examples.iter().enumerate() {
                let (plan, point, example) = (plan.clone(), point.clone(), example.clone());
                let name = format!("{id}/{}: {} ({})", point.id, at + 1, example.title);
                trials.push(Trial::test(name, move || {
                    let wrong = findings::check_example(&plan, &point, &example);
                    if wrong.is_empty() { Ok(()) } else { Err(Failed::from(wrong.join("\n"))) }
                }));
            }
        }
    }
    libtest_mimic::run(&Arguments::from_args(), trials).exit();
}
