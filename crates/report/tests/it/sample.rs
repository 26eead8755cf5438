//! A sample report: an invented trailer, invented people and invented documents, with everything a report can show.

use report::content::{
    Basis, CalibrationState, Clause, Content, Day, ExaminedStop, Face, Fact, Finding, Form, Gap,
    Instrument, Issued, Job, Judged, Kept, MadeBy, Mark, NotExamined, OnFace, Outline, Paper,
    Photo, Place, Point, Reading, Side, Signature, SiteChange, Source, Step, StopWork, System,
    Trail, Unit, Use, UseKind, UseState, Verdict, WaitKept, When,
};

static TRAILER: &[u8] = include_bytes!("photos/trailer.jpg");
static REGULATOR: &[u8] = include_bytes!("photos/regulator.jpg");

/// A record for what is attached; what stands in it, the report does not read.
pub(crate) static RECORD: &[u8] =
    "{\"job\": {\"number\": \"2026-0412\"}, \"note\": \"«¿שלום?» 🔥\"}\n".as_bytes();

/// How many photos the sample has.
pub(crate) const PHOTOS: usize = 13;

/// The photo with this id: one of two pictures, made distinct by a comment inside the file.
pub(crate) fn photo(id: &str) -> Option<Vec<u8>> {
    let number: usize = id.get(..4)?.parse().ok()?;
    if !(1..=PHOTOS).contains(&number) {
        return None;
    }
    let picture = if number % 5 == 3 { REGULATOR } else { TRAILER };
    let comment = format!("photo {number:04}");
    let length = u16::try_from(comment.len() + 2).ok()?;
    let mut bytes = vec![0xff, 0xd8, 0xff, 0xfe];
    bytes.extend(length.to_be_bytes());
    bytes.extend(comment.as_bytes());
    bytes.extend(&picture[2..]);
    Some(bytes)
}

/// The sample.
pub(crate) fn sample(paper: Paper) -> Content {
    Content {
        paper,
        form: Form::Full,
        ident: "sample-0001".into(),
        issued: Issued { year: 2026, month: 5, day: 14, hour: 21, minute: 40, second: 0 },
        issued_words: "14 May 2026, 16:40 (UTC−5)".into(),
        title: "Inspection of a travel trailer before purchase".into(),
        job: job(),
        unit: unit(),
        summary: "Sound body and dry roof. The gas system must not be used until a regulator is \
                  replaced, and two tires are past their age. The water system could not be run."
            .into(),
        uses: uses(),
        stop_work: vec![StopWork {
            title: "Gas shut off at the cylinders".into(),
            text: "Lock-up pressure rose past its limit during the test; both cylinder valves were \
                   closed, the owner was told and a tag was hung on the valves."
                .into(),
            finding: Some(1),
        }],
        findings: findings(),
        systems: systems(),
        pictures: Vec::new(),
        not_examined: not_examined(),
        examined: examined(),
        visit: visit(),
        photos: photos(),
        instruments: instruments(),
        sources: sources(),
        cautions: vec![
            "Leave the cylinder valves closed until a licensed gas fitter has replaced the regulator and tested the system.".into(),
            "Do not tow on the two tires named in finding 2, not even a short way.".into(),
        ],
        terms: terms(),
        trail: Trail {
            heads: vec!["7a4c1f0be2d93c5586aa01f4be77d2e1c09f3a6d5b8e4f2071c3d9a8b6e5f401".into()],
            changes: 842,
            people: vec!["A. Sample".into(), "B. Helper".into()],
            span: "14 May 2026 08:55 to 14 May 2026 16:38".into(),
        },
        unused: vec!["Tires has no reading `width`; `8 in` is kept and not assessed".into()],
        made_by: MadeBy {
            program: "Nearside 0.0.0".into(),
            data_revision: "3f9d2c51b7e80a64".into(),
            plan: "Purchase of a travel trailer (plan 5b1e77c0)".into(),
            texts: String::new(),
        },
        signature: Signature {
            name: "A. Sample".into(),
            credentials: "Property inspector, sample licence 000".into(),
            statement: "I examined the unit named in this report on the days stated and report what I found, to the best of my knowledge.".into(),
            signed: String::new(),
        },
        ..Content::default()
    }
}

/// A short day: one point twice out of the plan's order, a wait that ended and one that did not, a gap.
fn visit() -> Kept {
    let step = |minute: u16, point: &str, stop: &str, planned| Step {
        minute,
        time: format!("{}:{:02}", minute / 60, minute % 60),
        point: point.into(),
        stop: stop.into(),
        planned,
        ..Step::default()
    };
    let wait = |point: &str, from, to, words: &str| WaitKept {
        point: point.into(),
        from,
        to,
        words: words.into(),
    };
    Kept {
        days: vec![Day {
            day: "14 May 2026".into(),
            steps: vec![
                step(545, "Coupler", "Coupling", 1),
                step(551, "Regulator lock-up", "Gas locker", 3),
                step(558, "Tires", "Wheels", 2),
                Step { outcome: "not examined".into(), ..step(596, "Water pump", "Galley", 4) },
            ],
            waits: vec![
                wait("Refrigerator", 550, Some(592), "9:10 to 9:52 (42 min)"),
                wait("Charger", 555, None, "from 9:15, no end on that day"),
            ],
            changes: vec![SiteChange { minute: 549, words: "9:09 shore power connected: yes".into() }],
            gaps: vec![Gap {
                from: 558,
                to: 592,
                words: "9:18 to 9:52 (34 min), no entry; meanwhile: Refrigerator".into(),
            }],
        }],
        stops: ["Coupling", "Wheels", "Gas locker", "Galley"].map(str::to_owned).to_vec(),
        order: "4 points were settled at a known time. 1 stands at another place than in the plan's walking order.".into(),
        untimed: vec!["Papers".into()],
    }
}

fn job() -> Job {
    Job {
        number: "2026-0412".into(),
        client: "Dana Example".into(),
        site: "Sample Park, pitch 14, Sampleton".into(),
        visits: vec!["14 May 2026".into()],
        weather: "Dry, 68 °F, light wind; rain the night before".into(),
        inspector: "A. Sample, property inspector, sample licence 000".into(),
        particulars: vec![
            Fact::new(
                "Purpose",
                "Purchase; the client means to tow the unit home and live in it in summer",
            ),
            Fact::new(
                "Scope",
                "All stops of the purchase plan; one visit of three and a half hours",
            ),
            Fact::new("Limits agreed", "Nothing is taken apart; no roof walk; appliances run once"),
            Fact::new("Present", "Client for the last hour; owner throughout"),
        ],
    }
}

fn unit() -> Unit {
    Unit {
        headline: "2017 travel trailer, Sample Coach 24 B".into(),
        facts: vec![
            Fact::new("Kind", "travel trailer, two axles"),
            Fact::new("Maker and model", "Sample Coach 24 B"),
            Fact::new("Model year", "2017, built 11/2016"),
            Fact::new("Identification no.", "1SAMPLE00H0000017"),
            Fact::new("Gross rating", "7 600 lb"),
            Fact::new("Length, width", "24 ft 3 in, 8 ft 0 in"),
            Fact::new("Gas", "two 20 lb cylinders"),
        ],
        particulars: vec![
            Fact::new("Axle rating", "3,500 lb each"),
            Fact::new("Fitted", "gas, mains power, water, two cylinders, smoke alarm"),
        ],
        photo: Some(1),
        outline: Some(Outline {
            length_metres: 7.4,
            width_metres: 2.44,
            length_words: "24 ft 3 in".into(),
            width_words: "8 ft 0 in".into(),
            door_side: Some(Side::Right),
            door_along: Some(0.46),
            axles: 2,
            drawbar: true,
            raised_front: false,
            undrawn: vec!["slide-out".into()],
        }),
    }
}

fn uses() -> Vec<Use> {
    let one = |kind, state, sentence: &str, findings: &[usize], not_examined: &[usize]| Use {
        kind,
        state,
        sentence: sentence.into(),
        findings: findings.to_vec(),
        not_examined: not_examined.to_vec(),
    };
    vec![
        one(
            UseKind::Tow,
            UseState::Held,
            "Two tires are past the age at which they may be relied on.",
            &[2],
            &[],
        ),
        one(UseKind::Power, UseState::Clear, "Nothing was found that stops it.", &[], &[]),
        one(UseKind::Gas, UseState::Held, "The regulator lets pressure rise too far.", &[1], &[]),
        one(
            UseKind::Water,
            UseState::Open,
            "The system was winterized and could not be run.",
            &[],
            &[1, 2],
        ),
        one(UseKind::Stay, UseState::Held, "The gas alarm does not sound.", &[1, 3], &[]),
    ]
}

fn finding(title: &str, when: When, who: &str, stops: &[UseKind]) -> Finding {
    Finding {
        title: title.into(),
        statement: String::new(),
        location: String::new(),
        when,
        who: who.into(),
        stops: stops.to_vec(),
        readings: Vec::new(),
        photos: Vec::new(),
        basis: String::new(),
        sources: Vec::new(),
        place: None,
        side: None,
    }
}

fn findings() -> Vec<Finding> {
    vec![
        Finding {
            statement: "With all burners off, the pressure behind the regulator rose to 15.8 inches of water and kept rising. A regulator that does not lock up sends too much gas to every appliance.\nThe system was shut off and tagged.".into(),
            location: "front, on the drawbar".into(),
            readings: vec![1, 2, 3],
            photos: vec![2, 3],
            basis: "The lock-up pressure lies beyond the limit even with the uncertainty of the gauge considered.".into(),
            sources: vec![1, 4],
            place: Some(Place { along: -0.04, across: 0.35 }),
            side: Some(OnFace { face: Face::Front, height: 0.3 }),
            ..finding("Regulator does not lock up", When::BeforeUse, "licensed gas fitter", &[UseKind::Gas, UseKind::Stay])
        },
        Finding {
            statement: "The date codes of the two left tires say week 31 of 2014. Tread is deep, but the side walls are cracked.".into(),
            location: "left side, both axles".into(),
            readings: vec![8, 9],
            photos: vec![4, 5, 6],
            basis: "Age by date code; cracks seen at both.".into(),
            sources: vec![2],
            place: Some(Place { along: 0.57, across: 0.0 }),
            side: Some(OnFace { face: Face::Left, height: 0.0 }),
            ..finding("Two tires past their age", When::BeforeUse, "tire dealer", &[UseKind::Tow])
        },
        Finding {
            statement: "The gas alarm did not sound when its test button was held, and its end-of-life date has passed.".into(),
            location: "galley, below the stove".into(),
            photos: vec![7],
            basis: "Operated twice, with shore power and on battery.".into(),
            sources: vec![1],
            place: Some(Place { along: 0.46, across: 0.9 }),
            ..finding("Gas alarm does not sound", When::BeforeUse, "owner", &[UseKind::Stay])
        },
        Finding {
            statement: "Under load the voltage at the bedroom outlet fell by 6.1 %, at the galley by 3.2 %. Loose connections at the outlets warm up and get worse.".into(),
            location: "bedroom, left wall".into(),
            readings: vec![4, 5, 6],
            photos: vec![8, 9],
            basis: "Beyond what the trade takes as good; the figure informs and does not bind.".into(),
            sources: vec![3],
            place: Some(Place { along: 0.88, across: 0.08 }),
            ..finding("Voltage falls at the bedroom outlet", When::Soon, "licensed electrician", &[])
        },
        Finding {
            statement: "The sealant around the forward roof vent is cracked over about a hand's width. The ceiling below it is dry.".into(),
            location: "roof, forward vent".into(),
            readings: vec![7],
            photos: vec![10],
            place: Some(Place { along: 0.46, across: 0.5 }),
            ..finding("Sealant cracked at the forward roof vent", When::Soon, "trailer workshop", &[])
        },
        Finding {
            statement: "The screen of the rear window has a tear of about two inches.".into(),
            location: "rear window".into(),
            photos: vec![10, 11],
            ..finding("Torn window screen", When::InTime, "owner", &[])
        },
    ]
}

fn reading(name: &str, position: &str, value: (&str, &str, &str)) -> Reading {
    Reading {
        name: name.into(),
        position: position.into(),
        value: value.0.into(),
        uncertainty: value.1.into(),
        unit: value.2.into(),
        ..Reading::default()
    }
}

fn judged(limit: &str, verdict: Verdict, words: &str, source: usize) -> Judged {
    Judged {
        limit: limit.into(),
        footing: "rule for units in use".into(),
        verdict,
        words: words.into(),
        sources: vec![source],
    }
}

fn systems() -> Vec<System> {
    let (lockup, drop, tires) = ("Regulator lock-up", "Outlets under load", "Tires");
    let at = |point: &str, instrument: usize, judged: &[Judged], reading: Reading| Reading {
        point: point.into(),
        judged: judged.to_vec(),
        instruments: vec![instrument],
        photos: match (point, reading.position.as_str()) {
            (it, _) if it == lockup => vec![2, 3],
            (it, "bedroom") if it == drop => vec![8, 9],
            (it, _) if it == tires => vec![4, 5, 6],
            ("Seven-pin plug", _) => vec![13],
            _ => vec![],
        },
        ..reading
    };
    vec![
        System {
            name: "Gas".into(),
            note: "Taken at the stove's test port, all burners off unless stated.".into(),
            readings: vec![
                at(
                    lockup,
                    1,
                    &[judged("10.5 inH₂O to 11.5 inH₂O", Verdict::Undecided, "undecided", 1)],
                    reading("Running pressure", "two burners on", ("11.3", "0.2", "inH₂O")),
                ),
                at(
                    lockup,
                    1,
                    &[
                        judged("at most 14 inH₂O", Verdict::DoesNotConform, "does not conform", 1),
                        judged(
                            "at most 13 inH₂O",
                            Verdict::BeyondGuidance,
                            "beyond an unconfirmed limit",
                            4,
                        ),
                    ],
                    reading("Lock-up pressure", "after 5 minutes", ("15.8", "0.2", "inH₂O")),
                ),
                at(
                    lockup,
                    1,
                    &[],
                    reading("Pressure lost", "in 10 minutes", ("0.05", "0.10", "inH₂O")),
                ),
            ],
        },
        System {
            name: "Mains power".into(),
            note: String::new(),
            readings: vec![
                at(drop, 2, &[], reading("Voltage without load", "bedroom", ("121.4", "0.6", "V"))),
                at(
                    drop,
                    2,
                    &[judged("at most 5 %", Verdict::BeyondGuidance, "beyond common practice", 3)],
                    reading("Voltage drop", "bedroom", ("6.1", "0.7", "%")),
                ),
                at(
                    drop,
                    2,
                    &[judged("at most 5 %", Verdict::WithinGuidance, "within common practice", 3)],
                    reading("Voltage drop", "galley", ("3.2", "0.7", "%")),
                ),
                Reading {
                    remark: "Pin probe, scale for softwood".into(),
                    ..at(
                        "Moisture of the ceiling",
                        3,
                        &[judged("at most 19 %", Verdict::Conforms, "conforms", 4)],
                        reading("Moisture", "forward vent", ("12", "2", "%")),
                    )
                },
            ],
        },
        System {
            name: "Running gear".into(),
            note: String::new(),
            readings: vec![
                at(
                    tires,
                    4,
                    &[judged(
                        "at most 7 years",
                        Verdict::BeyondGuidance,
                        "beyond an unconfirmed limit",
                        2,
                    )],
                    reading("Age by date code", "left front", ("11.8", "", "years")),
                ),
                at(
                    tires,
                    4,
                    &[judged(
                        "at most 7 years",
                        Verdict::BeyondGuidance,
                        "beyond an unconfirmed limit",
                        2,
                    )],
                    reading("Age by date code", "left rear", ("11.8", "", "years")),
                ),
                at(
                    tires,
                    4,
                    &[judged("at least 1.6 mm", Verdict::Conforms, "conforms", 4)],
                    reading("Tread", "left front", ("5.6", "0.4", "mm")),
                ),
                at(
                    "Weights",
                    4,
                    &[judged("at most 7,600 lb", Verdict::Conforms, "conforms", 4)],
                    reading("Loaded weight", "all axles", ("6,240", "60", "lb")),
                ),
                at("Seven-pin plug", 4, &[], reading("Polarity", "", ("correct", "", ""))),
            ],
        },
    ]
}

fn not_examined() -> Vec<NotExamined> {
    let one = |point: &str, stop: &str, reason: &str, leaves_open: &[UseKind]| NotExamined {
        point: point.into(),
        stop: stop.into(),
        reason: reason.into(),
        leaves_open: leaves_open.to_vec(),
    };
    vec![
        one(
            "Fresh-water pump and lines",
            "galley",
            "Winterized with antifreeze; the owner did not agree to flushing.",
            &[UseKind::Water],
        ),
        one(
            "Drains and holding tanks under flow",
            "underside",
            "No water on; see N1.",
            &[UseKind::Water],
        ),
        one("Roof surface beyond the ladder", "roof", "No roof walk was agreed.", &[]),
        one("Axle bearings", "running gear", "Nothing was taken apart.", &[]),
    ]
}

fn examined() -> Vec<ExaminedStop> {
    let one = |name: &str, points: &[&str]| ExaminedStop {
        name: name.into(),
        points: points.iter().map(|&point| point.into()).collect(),
    };
    vec![
        one(
            "Drawbar",
            &["coupling", "safety chains", "breakaway switch", "jack", "seven-pin plug"],
        ),
        one("Front wall", &["cladding", "marker lamps", "window seals", "compartment door"]),
        one("Right side", &["entry door", "steps", "awning", "outside outlet", "furnace vent"]),
        one(
            "Galley",
            &["stove", "range hood", "refrigerator on mains", "extinguisher", "cabinet doors"],
        ),
        one("Bath", &["fan", "outlet with ground-fault protection", "wall panels", "door"]),
        one("Bedroom", &["exit window opens and stays open", "smoke alarm", "lamps"]),
        one("Underside", &["frame", "spring hangers", "belly cover"]),
    ]
}

fn photos() -> Vec<Photo> {
    let captions = [
        "The unit from its right side",
        "Gauge at the stove after five minutes",
        "Regulator and hoses",
        "Left tires from outside",
        "Date code of the left front tire",
        "Cracked side wall",
        "Gas alarm in the galley",
        "Outlet in the bedroom",
        "Meter under load",
        "Sealant at the forward vent, and the screen behind it",
        "Tear in the screen",
        "Data plate beside the door",
        "Galley",
    ];
    captions
        .iter()
        .enumerate()
        .map(|(index, caption)| Photo {
            id: format!("{:04}{}", index + 1, "c".repeat(60)),
            caption: (*caption).into(),
            alt: format!("Photo of: {caption}"),
            taken: format!("14 May 2026 {:02}:{:02}", 9 + index / 6, (index * 9) % 60),
            place: if index % 2 == 0 { "galley".into() } else { String::new() },
            marks: match index {
                2 => vec![
                    Mark::Arrow { from: Point { x: 0.8, y: 0.15 }, to: Point { x: 0.55, y: 0.33 } },
                    Mark::Words { at: Point { x: 0.95, y: 0.12 }, text: "15.8 and rising".into() },
                ],
                3 => vec![Mark::Box {
                    from: Point { x: 0.57, y: 0.62 },
                    to: Point { x: 0.87, y: 0.82 },
                }],
                _ => Vec::new(),
            },
        })
        .collect()
}

fn instruments() -> Vec<Instrument> {
    let one =
        |name: &str, serial: &str, accuracy: &str, calibrated: &str, due: &str, calibration| {
            Instrument {
                name: name.into(),
                serial: serial.into(),
                accuracy: accuracy.into(),
                calibrated: calibrated.into(),
                due: due.into(),
                calibration,
            }
        };
    vec![
        one(
            "Manometer, sample M",
            "000-17",
            "± (0.5 % + 1 count)",
            "3 Feb 2026",
            "3 Feb 2027",
            CalibrationState::InDate,
        ),
        one(
            "Multimeter, sample V",
            "000-42",
            "± (0.7 % + 2 counts)",
            "9 Jan 2025",
            "9 Jan 2026",
            CalibrationState::Overdue,
        ),
        one(
            "Moisture meter, sample W",
            "000-08",
            "± 2 percentage points",
            "",
            "",
            CalibrationState::Unknown,
        ),
        one("By eye", "", "", "", "", CalibrationState::Unknown),
    ]
}

fn sources() -> Vec<Source> {
    let one = |document: &str, section: &str, basis, read| Source {
        document: document.into(),
        edition: "sample edition".into(),
        section: section.into(),
        basis,
        read,
        note: String::new(),
    };
    vec![
        one("Sample gas code", "section 5.2", Basis::Standard, true),
        one("Sample tire maker's bulletin", "page 3", Basis::Maker, false),
        Source {
            note: "A rule of thumb, stated by many and binding on nobody.".into(),
            ..one("Sample trade rule on voltage drop", "", Basis::Practice, false)
        },
        one("Sample regulation on trailers", "part 17", Basis::Law, true),
    ]
}

fn terms() -> Vec<Clause> {
    let one = |title: &str, text: &str| Clause { title: title.into(), text: text.into() };
    vec![
        one(
            "What was agreed",
            "The unit was examined by eye, by operating what could be operated and by measuring, at the points of the plan. Nothing was taken apart or damaged.",
        ),
        one(
            "What the report is not",
            "It is no warranty, no valuation and no certificate of compliance with any code. What was hidden on the day is not reported.",
        ),
        one(
            "For whom",
            "The report is made for the client named on its first page.\nOthers may read it; it was not made for their purposes.",
        ),
        one(
            "Afterwards",
            "If something is found that contradicts the report, the inspector is to be told before it is repaired.",
        ),
    ]
}
