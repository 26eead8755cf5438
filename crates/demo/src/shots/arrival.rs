//! From the arrival to the run-in of the supplies: papers, wheels, underneath, coupling.

use super::{Frame, VIN, cylinder, exterior, frame, lines, tyre, volts};
use crate::photos::{Scene, Side, Turn};

/// The shots of this part of the visit, in time.
pub(super) fn frames() -> Vec<Frame> {
    vec![
        frame("IMG_0311.jpg", 1, (9, 5, 10), exterior(Side::Kerb)).located(),
        frame("IMG_0312.jpg", 2, (9, 6, 2), exterior(Side::Street)).located(),
        frame("IMG_0313.jpg", 3, (9, 7, 5), Scene::HubInfrared { reading: "149.6".to_owned() })
            .located(),
        frame("IMG_0314.jpg", 4, (9, 12, 4), Scene::SerialStamp { text: VIN.to_owned() }).located(),
        frame(
            "IMG_0315.jpg",
            5,
            (9, 13, 12),
            Scene::DataPlate {
                lines: lines(&[
                    "QUILLHAVEN COACH WORKS",
                    "MODEL: Plover 26RB",
                    &format!("SERIAL: {VIN}"),
                    "DATE OF MANUFACTURE: 03/2017",
                    "LP GAS: 11 in. w.c.",
                    "ELECTRICAL: 120 V AC  30 A",
                ]),
            },
        ),
        frame(
            "IMG_0316.jpg",
            6,
            (9, 14, 20),
            Scene::CertificationLabel {
                lines: lines(&[
                    "MANUFACTURED BY: QUILLHAVEN COACH WORKS",
                    "DATE: 03/2017   GVWR: 3447 KG (7600 LB)",
                    "GAWR FRONT: 1996 KG (4400 LB) WITH ST225/75R15",
                    "GAWR REAR: 1996 KG (4400 LB) WITH ST225/75R15",
                    "COLD INFLATION: 414 kPa (60 PSI) SINGLE",
                    "THIS VEHICLE CONFORMS TO ALL APPLICABLE STANDARDS",
                    &format!("VIN: {VIN}  TYPE: TRAVEL TRAILER"),
                ]),
            },
        )
        .located(),
        frame(
            "IMG_0317.jpg",
            7,
            (9, 14, 55),
            Scene::Label {
                lines: lines(&[
                    "TIRE AND LOADING INFORMATION",
                    "FRONT ST225/75R15  414 kPa, 60 PSI",
                    "REAR ST225/75R15  414 kPa, 60 PSI",
                    "SPARE ST225/75R15  414 kPa, 60 PSI",
                ]),
            },
        ),
        frame(
            "furnace-plate.jpg",
            8,
            (9, 16, 22),
            Scene::Label {
                lines: lines(&[
                    "FURNACE",
                    "Input 25000 Btu/h  LP gas",
                    "Inlet 10 to 14 in. w.c.",
                    "Clearances: see manual",
                ]),
            },
        )
        .passed_on(),
        frame("IMG_0318.jpg", 9, (9, 18, 5), tyre("1423")).turned(Turn::QuarterClockwise),
        frame("IMG_0319.jpg", 10, (9, 18, 50), tyre("1423")),
        frame("IMG_0320.jpg", 11, (9, 19, 25), Scene::JackStand { pad_cracked: false }),
        frame("IMG_0321.jpg", 12, (9, 20, 40), tyre("4716")).turned(Turn::QuarterAnticlockwise),
        frame("IMG_0322.jpg", 13, (9, 21, 30), tyre("4716")),
        frame("IMG_0323.jpg", 14, (9, 22, 55), tyre("4716")),
        frame("IMG_0324.jpg", 15, (9, 24, 10), Scene::TreadGauge { thirty_seconds: 4.0 }),
        frame("IMG_0325.jpg", 16, (9, 31, 15), Scene::SpringHanger { cracked: false }),
        frame("IMG_0326.jpg", 17, (9, 34, 8), Scene::Underbelly { hole: true }),
        frame("IMG_0327.jpg", 18, (9, 36, 5), Scene::Coupler { rusted: true }).located(),
        frame("IMG_0328.jpg", 19, (9, 37, 10), Scene::SafetyChains),
        frame("IMG_0329.jpg", 20, (9, 39, 20), volts("11.42", "V")),
        frame("IMG_0330.jpg", 21, (9, 50, 30), Scene::ScaleDisplay { reading: "3300".to_owned() }),
        frame("IMG_0331.jpg", 22, (9, 53, 12), volts("118.9", "V~")),
        frame("IMG_0332.jpg", 23, (9, 55, 0), Scene::CordPlug { scorched: false }),
        frame("IMG_0333.jpg", 24, (9, 57, 5), volts("0.4", "V~")),
        frame(
            "IMG_0334.jpg",
            25,
            (9, 58, 15),
            cylinder(
                &[
                    "DOT 4BA240  W.C. 47.6 LB",
                    "T.W. 17.2 LB   D.T. 4.0",
                    "MFG 05 12   RK 31877",
                    "LP GAS",
                ],
                true,
            ),
        )
        .located(),
        frame(
            "IMG_0335.jpg",
            26,
            (9, 58, 50),
            cylinder(
                &[
                    "DOT 4BA240  W.C. 47.6 LB",
                    "T.W. 17.1 LB   D.T. 4.0",
                    "MFG 11 16   RK 90416",
                    "LP GAS",
                ],
                false,
            ),
        ),
    ]
}
