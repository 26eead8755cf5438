//! Values that are computed from several places at once.

use findings::{Assessment, Content, assess};
use testkit::{inspection_of, plan_of};

const NUMBERS: &str = r#"id = "numbers"
title = "Numbers"
stop = "outside"
minutes = 2
measure = ["The number in each place, the load of each wheel."]
[[reading]]
id = "number"
title = "Number"
kind = "text"
positions = ["label", "frame", "papers"]
optional = true
[[reading]]
id = "load"
title = "Load"
kind = "mass"
unit = "lb"
u = "10 lb"
positions = ["left_front", "right_front", "left_rear", "right_rear"]
optional = true
[[derive]]
id = "agreement"
title = "Agreement"
formula = "identity.places_agree"
from = { numbers = "all number", record = "dwelling.identification" }
[[derive]]
id = "differences"
title = "Differences"
formula = "identity.places_agree"
part = "differences"
from = { numbers = "all number", record = "dwelling.identification" }
[[derive]]
id = "total"
title = "All wheels"
formula = "weights.by_wheel"
unit = "lb"
from = { left_front = "load@left_front", right_front = "load@right_front", left_rear = "load@left_rear", right_rear = "load@right_rear" }
[[derive]]
id = "size"
title = "Of that size"
formula = "identity.manufactured_home_size"
from = { width = "dwelling.width", length = "dwelling.length" }
[[example]]
given = { "load@left_front" = "1000 lb", "load@right_front" = "900 lb" }
values = { total = "1900 lb" }
"#;

fn assessed(readings: &str) -> Assessment {
    assess(&plan_of(&[NUMBERS]), &inspection_of(&format!("travel_trailer\nnumbers {readings}")))
}

fn content(assessment: &Assessment, name: &str) -> Option<Content> {
    let values = &assessment.points[0].values;
    values.iter().find(|value| value.name == name).map(|value| value.content.clone())
}

#[test]
fn texts_of_all_places_reach_a_formula_with_their_places() {
    let assessment = assessed("number@frame = AB 123 ; number@label = AB124");
    assert_eq!(content(&assessment, "agreement"), Some(Content::Words("differ".to_owned())));
    assert_eq!(
        content(&assessment, "differences"),
        Some(Content::Words("frame against label: position 5 is 3, not 4".to_owned()))
    );
}

#[test]
fn a_place_that_was_not_read_is_not_compared() {
    let assessment = assessed("number@label = AB124");
    assert_eq!(
        content(&assessment, "agreement"),
        Some(Content::Words("one place only".to_owned()))
    );
}

#[test]
fn a_value_of_one_position_keeps_its_uncertainty_on_the_way() {
    let assessment = assessed("load@left_rear = 1400 lb ; load@right_rear = 1600 lb");
    let Some(Content::Quantity(total)) = content(&assessment, "total") else { panic!("no total") };
    assert!((total.base / 0.453_592_37 - 3_000.0).abs() < 1e-6);
    let pounds = total.standard_uncertainty().unwrap() / 0.453_592_37;
    assert!((pounds - 200_f64.sqrt()).abs() < 1e-3, "{pounds}");
}

/// A formula whose inputs are all optional would otherwise complain of inputs that nobody read.
#[test]
fn what_comes_from_readings_is_not_computed_where_nothing_was_read() {
    let assessment = assessed("examined");
    for name in ["agreement", "differences", "total"] {
        assert_eq!(content(&assessment, name), None, "{name}");
    }
}

const OVER_TIME: &str = r#"id = "over_time"
title = "Over time"
stop = "outside"
minutes = 2
measure = ["The pressure and the pipe's temperature, and the temperature meanwhile."]
[[reading]]
id = "pressure"
title = "Pressure"
kind = "pressure"
unit = "inH2O"
[[reading]]
id = "temperature"
title = "Temperature"
kind = "temperature"
unit = "degF"
[[reading]]
id = "meanwhile"
title = "Temperature meanwhile"
kind = "temperature"
unit = "degF"
positions = "any"
optional = true
[[derive]]
id = "expected"
title = "Had nothing leaked"
formula = "gas.leak_free_pressure"
unit = "inH2O"
from = { start_pressure = "pressure", start_temperature = "temperature", temperature = "meanwhile" }
[[example]]
given = { pressure = "9 inH2O", temperature = "70 degF" }
drafts = []
"#;

#[test]
fn what_is_computed_for_places_is_left_out_where_none_of_them_was_read() {
    let of = |more: &str| {
        let text =
            format!("travel_trailer\nover_time pressure = 9 inH2O ; temperature = 70 degF{more}");
        assess(&plan_of(&[OVER_TIME]), &inspection_of(&text))
    };
    assert_eq!(content(&of(""), "expected"), None);
    let read = of(" ; meanwhile@5 min = 69 degF");
    let expected = read.points[0].values.iter().find(|value| value.name == "expected").unwrap();
    assert_eq!(expected.position, "5 min");
    assert!(matches!(expected.content, Content::Quantity(_)), "{:?}", expected.content);
}
