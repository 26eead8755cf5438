//! Point files that more than one crate tests with.

/// Gas: one reading against one limit that binds, with a finding behind it. Ends with its `[[example]]`, so that a test can
/// put more before it.
pub const LOCKUP: &str = r#"id = "lockup"
title = "Regulator lock-up"
stop = "outside"
minutes = 2
measure = ["Pressure."]
fitted = ["gas"]
essential = ["gas"]
photo = "The gauge."
[[reading]]
id = "pressure"
title = "Lock-up pressure"
kind = "pressure"
unit = "inH2O"
u = "0.1 inH2O"
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
title = "Regulator does not lock up"
statement = "It rose to {pressure}; the limit is {limit}."
stops = ["gas"]
when = "before use"
who = "licensed gas fitter"
[[example]]
given = { pressure = "12 inH2O" }
verdicts = { ceiling = "conforms" }
"#;

/// Water: no reading, a defect that stops a use and one that does not.
pub const TAPS: &str = r#"id = "taps"
title = "Taps"
stop = "inside"
minutes = 2
operate = ["Open every tap."]
fitted = ["water"]
essential = ["water"]
[[defect]]
id = "leak"
title = "Leak"
statement = "A tap leaks{position}."
stops = ["water"]
when = "before use"
who = "plumber"
[[defect]]
id = "drip"
title = "Drip"
statement = "A tap drips."
stops = []
when = "in time"
who = "owner"
[[example]]
found = ["leak"]
stops = ["water"]
"#;
