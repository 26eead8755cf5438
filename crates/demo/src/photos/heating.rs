//! Hot water, furnace, cooling and the refrigerator.

use super::grain::{cloud, dirt, rust, specks, stain};
use super::kit::{Ground, centred, crack, drips, hex_bolt, hose, lcd, screw};
use super::picture::{Light, Picture};
use std::fmt::Write as _;

/// A row of slots in a metal door.
fn louvres(x: f32, y: f32, wide: f32, rows: u16, pitch: f32) -> String {
    let mut body = String::new();
    for row in 0..rows {
        let at = y + pitch * f32::from(row);
        let _ = write!(
            body,
            r##"<rect x="{x}" y="{at}" width="{wide}" height="{h}" rx="{r}" fill="#17181a"/><rect x="{x}" y="{a}" width="{wide}" height="{g}" rx="3" fill="#f4f3ef"/><rect x="{x}" y="{b}" width="{wide}" height="3" fill="#000" opacity=".3"/>"##,
            h = pitch * 0.5,
            r = pitch * 0.2,
            a = at - pitch * 0.16,
            g = pitch * 0.3,
            b = at + pitch * 0.62,
        );
    }
    body
}

/// The water heater's door in the cladding.
pub(super) fn water_heater_door(p: &mut Picture) {
    p.light = Light::Sun;
    p.yaw = -0.12;
    p.soft(1.2, |far| Ground::Ribbed.fill(far));
    p.shadow(6.0, r##"<rect x="156" y="56" width="510" height="500" rx="12" opacity=".6"/>"##);
    let mut body = String::from(
        r##"<rect x="146" y="42" width="508" height="500" rx="12" fill="#e6e4dd"/><rect x="146" y="42" width="508" height="500" rx="12" fill="url(#sheen)"/><rect x="164" y="60" width="472" height="464" rx="6" fill="none" stroke="#8c8981" stroke-width="3"/><rect x="167" y="63" width="466" height="458" rx="5" fill="none" stroke="#fff" stroke-width="2"/>"##,
    );
    body += &louvres(210.0, 110.0, 380.0, 6, 26.0);
    body += &louvres(210.0, 388.0, 380.0, 4, 26.0);
    body += r##"<rect x="366" y="66" width="68" height="26" rx="6" fill="url(#steel)" stroke="#555"/><circle cx="400" cy="79" r="8" fill="#33383b"/><rect x="228" y="296" width="344" height="66" rx="4" fill="#f5d24a" stroke="#222"/>"##;
    body += &centred(400.0, 324.0, 23.0, 700, "#1c1c1a", "CAUTION  HOT EXHAUST");
    body += &centred(400.0, 350.0, 17.0, 600, "#1c1c1a", "Keep clear. Do not block vents.");
    body += &screw(172.0, 68.0, 8.0, 12.0);
    body += &screw(628.0, 516.0, 8.0, 60.0);
    p.part(body, &[cloud(1000.0, 0.08), dirt(700.0, 0.2), rust(500.0, 0.02), specks(0.05)]);
    p.soft(8.0, |far| {
        far.paint(r##"<path d="M240 108Q400 30 560 108V170H240Z" fill="#2a211a" opacity=".38"/>"##);
    });
    let streaks = drips(&mut p.dice, (210.0, 500.0), 590.0, 12, 70.0, "#7a4a26");
    p.paint(streaks);
}

/// The water heater's relief valve, weeping.
pub(super) fn relief_valve(p: &mut Picture) {
    p.light = Light::Flash;
    p.soft(2.5, |far| {
        far.paint(r##"<rect x="-120" y="-120" width="1040" height="840" fill="#9ba0a3"/><rect x="-120" y="-120" width="1040" height="840" fill="url(#roundh)" opacity=".35"/><rect x="-120" y="420" width="1040" height="300" fill="#4b4e50"/>"##);
        far.grain(cloud(700.0, 0.25));
        far.grain(dirt(500.0, 0.3));
    });
    p.soft(5.0, |far| {
        far.part(
            r##"<path d="M352 330Q340 460 300 800H500Q462 460 450 330Z" fill="#d9d4c4" opacity=".8"/>"##,
            &[cloud(200.0, 0.4), stain(240.0, 0.55, 0.7, [170, 160, 130], [140, 90, 50]), specks(0.35)],
        );
    });
    p.shadow(10.0, r##"<path d="M330 150H500V330H330ZM400 260H480V700H400Z" opacity=".7"/>"##);
    let mut body = hose("M400 320V760", 58.0, "#c8743f");
    body += r##"<path d="M352 190L372 160H428L448 190V300L428 330H372L352 300Z" fill="url(#brassh)" stroke="#4b3a12"/><path d="M346 300H454V346H346Z" fill="url(#brassh)" stroke="#4b3a12"/><path d="M364 300V346M384 300V346M416 300V346M436 300V346" stroke="#4b3a12" stroke-opacity=".6" stroke-width="3"/><rect x="262" y="206" width="96" height="66" fill="url(#brass)"/><path d="M276 206V272M292 206V272M308 206V272M324 206V272M340 206V272" stroke="#4b3a12" stroke-opacity=".6" stroke-width="4"/><rect x="376" y="110" width="48" height="54" fill="url(#steelh)"/><path d="M380 116H420M380 126H420M380 136H420M380 146H420" stroke="#444" stroke-width="3"/><path d="M366 104Q366 90 384 88H560Q576 92 566 106L430 118H366Z" fill="url(#chrome)" stroke="#444"/><ellipse cx="240" cy="238" rx="40" ry="72" fill="#7c8184"/><ellipse cx="240" cy="238" rx="40" ry="72" fill="url(#sheen)"/>"##;
    body += &hex_bolt(392.0, 102.0, 9.0, 0.0, "#9a9fa3");
    body += r##"<g transform="rotate(8 560 260)"><path d="M470 140L520 190" stroke="#b9bec1" stroke-width="2"/><rect x="500" y="186" width="150" height="116" rx="6" fill="#e9e7df"/><rect x="500" y="186" width="150" height="30" fill="#b5302a"/>"##;
    body += &centred(575.0, 208.0, 18.0, 700, "#fff", "RELIEF VALVE");
    body += &centred(575.0, 246.0, 24.0, 700, "#17191b", "150 PSI");
    body += &centred(575.0, 282.0, 24.0, 700, "#17191b", "210 °F");
    body += "</g>";
    p.part(
        body,
        &[
            cloud(300.0, 0.18),
            stain(260.0, 0.12, 0.6, [120, 160, 140], [90, 140, 120]),
            specks(0.16),
        ],
    );
    let wet = drips(&mut p.dice, (352.0, 344.0), 450.0, 9, 90.0, "#e9f0f2");
    p.paint(wet);
}

/// The furnace's intake and exhaust on the outside wall.
pub(super) fn furnace_exhaust(p: &mut Picture, sooted: bool) {
    p.light = Light::Sun;
    p.yaw = 0.1;
    p.soft(1.2, |far| Ground::Gelcoat.fill(far));
    p.shadow(7.0, r##"<rect x="172" y="150" width="490" height="300" rx="16" opacity=".6"/>"##);
    let mut body = String::from(
        r##"<rect x="160" y="134" width="480" height="300" rx="14" fill="#b9bdc0"/><rect x="160" y="134" width="480" height="300" rx="14" fill="url(#steel)" opacity=".7"/><rect x="176" y="150" width="448" height="268" rx="8" fill="none" stroke="#6d7276" stroke-width="3"/>"##,
    );
    for x in [282.0f32, 518.0] {
        let _ = write!(
            body,
            r##"<circle cx="{x}" cy="284" r="92" fill="#84898d"/><circle cx="{x}" cy="284" r="92" fill="url(#ball)" opacity=".6"/><circle cx="{x}" cy="284" r="74" fill="#2a2d2f"/><circle cx="{x}" cy="284" r="66" fill="#0b0c0c"/><g stroke="#9aa0a4" stroke-width="4">"##
        );
        for bar in 0..9u16 {
            let offset = -56.0 + 14.0 * f32::from(bar);
            let half = (66.0f32 * 66.0 - offset * offset).max(0.0).sqrt();
            let _ = write!(
                body,
                r##"<path d="M{a} {b}V{c}M{d} {e}H{f}"/>"##,
                a = x + offset,
                b = 284.0 - half,
                c = 284.0 + half,
                d = x - half,
                e = 284.0 + offset,
                f = x + half
            );
        }
        body += "</g>";
    }
    for (x, y) in [(184.0, 158.0), (616.0, 158.0), (184.0, 410.0), (616.0, 410.0)] {
        body += &screw(x, y, 10.0, x + y);
    }
    body += &centred(282.0, 404.0, 16.0, 700, "#33383b", "INTAKE");
    body += &centred(518.0, 404.0, 16.0, 700, "#33383b", "EXHAUST  HOT");
    p.part(body, &[cloud(500.0, 0.14), rust(420.0, 0.08), dirt(500.0, 0.16), specks(0.12)]);
    if sooted {
        p.soft(28.0, |far| {
            far.paint(r##"<g fill="#0d0b0a"><ellipse cx="520" cy="274" rx="96" ry="104" opacity=".6"/><ellipse cx="524" cy="190" rx="66" ry="110" opacity=".5"/><ellipse cx="534" cy="110" rx="56" ry="110" opacity=".36"/><ellipse cx="546" cy="40" rx="60" ry="110" opacity=".24"/></g>"##);
        });
        p.part(
            r##"<circle cx="518" cy="284" r="94" fill="#0d0b0a" opacity=".55"/>"##,
            &[stain(160.0, 0.5, 0.6, [30, 26, 24], [12, 10, 9]), specks(0.5)],
        );
    }
}

/// The rooftop air conditioner under its shroud.
pub(super) fn air_conditioner_shroud(p: &mut Picture, cracked: bool) {
    p.light = Light::Sun;
    p.soft(2.0, |far| {
        Ground::Membrane.fill(far);
        far.paint(r##"<rect x="-120" y="-120" width="1040" height="270" fill="#8fb4d6"/><path d="M-120 100Q100 60 260 96T600 84T920 104V160H-120Z" fill="#55683f"/><rect x="-120" y="150" width="1040" height="570" fill="#4b483f" opacity=".42"/>"##);
    });
    p.shadow(18.0, r##"<path d="M90 470H740L790 560H120Z" opacity=".7"/>"##);
    p.part(
        r##"<path d="M84 470Q80 300 150 210Q180 170 260 160H560Q640 164 668 220Q720 320 716 470Q716 500 690 506H110Q84 500 84 470Z" fill="#ebe9e2"/><path d="M150 210Q180 170 260 160H560Q640 164 668 220Q560 236 400 236T150 210Z" fill="#fbfaf6"/><path d="M84 470Q82 380 120 260Q300 300 400 300T690 270Q718 380 716 470Q716 500 690 506H110Q84 500 84 470Z" fill="#000" opacity=".08"/><path d="M110 506H690V520H110Z" fill="#4b4e50"/><path d="M84 470Q80 300 150 210Q180 170 260 160H560Q640 164 668 220Q720 320 716 470Q716 500 690 506H110Q84 500 84 470Z" fill="url(#roundh)" opacity=".25"/>"##,
        &[cloud(1200.0, 0.12), dirt(700.0, 0.3), stain(500.0, 0.1, 0.3, [150, 140, 110], [110, 104, 80]), specks(0.06)],
    );
    let mut body = String::new();
    for (x0, x1) in [(140.0f32, 330.0f32), (470.0, 660.0)] {
        for row in 0..7u16 {
            let y = 330.0 + 22.0 * f32::from(row);
            let _ = write!(
                body,
                r##"<path d="M{x0} {y}Q{m} {b} {x1} {y}" fill="none" stroke="#1d1f20" stroke-width="11" stroke-linecap="round"/><path d="M{x0} {c}Q{m} {d} {x1} {c}" fill="none" stroke="#fff" stroke-opacity=".6" stroke-width="2.5"/>"##,
                m = (x0 + x1) / 2.0,
                b = y + 6.0,
                c = y + 7.0,
                d = y + 13.0
            );
        }
    }
    for x in [124.0, 400.0, 676.0] {
        body += &screw(x, 486.0, 10.0, x);
    }
    p.paint(body);
    if cracked {
        let long = crack(&mut p.dice, (330.0, 164.0), (420.0, 420.0), 11.0);
        let short = crack(&mut p.dice, (392.0, 320.0), (470.0, 372.0), 6.0);
        p.paint(long + &short);
        p.paint(r##"<path d="M400 404L446 392L440 446L404 452Z" fill="#15171a"/><path d="M400 404L446 392" stroke="#fff" stroke-opacity=".7" stroke-width="3"/>"##);
    }
}

/// The refrigerator open, a thermometer on its shelf.
pub(super) fn refrigerator(p: &mut Picture, reading: &str) {
    p.light = Light::Lamp;
    p.yaw = -0.06;
    p.part(
        r##"<rect x="-120" y="-120" width="1040" height="840" fill="#4b4640"/><rect x="90" y="-120" width="620" height="840" fill="#d9d7d0"/><path d="M120 -120H680V600H120Z" fill="#eef1f1"/><path d="M120 -120L200 -40V520L120 600Z" fill="#c9cecf"/><path d="M680 -120L600 -40V520L680 600Z" fill="#bcc2c4"/><path d="M120 600L200 520H600L680 600Z" fill="#d3d8d9"/><rect x="90" y="600" width="620" height="18" fill="#77746d"/><rect x="96" y="-120" width="22" height="840" fill="#8f8c85"/><rect x="682" y="-120" width="22" height="840" fill="#8f8c85"/>"##,
        &[cloud(1500.0, 0.07), specks(0.04)],
    );
    p.soft(20.0, |far| {
        far.paint(r##"<ellipse cx="400" cy="10" rx="150" ry="80" fill="#fff" opacity=".7"/>"##);
    });
    let mut fins =
        String::from(r##"<rect x="250" y="30" width="300" height="86" rx="4" fill="#b9c0c4"/>"##);
    for fin in 0..18u16 {
        let x = 258.0 + 16.4 * f32::from(fin);
        let _ = write!(
            fins,
            r##"<rect x="{x}" y="36" width="8" height="74" fill="#8d959a"/><rect x="{x}" y="36" width="2.5" height="74" fill="#f4f7f8"/>"##
        );
    }
    for y in [210.0f32, 430.0] {
        let _ = write!(
            fins,
            r##"<path d="M150 {a}L204 {y}H596L650 {a}" fill="none" stroke="#9aa1a5" stroke-width="8"/><path d="M150 {a}H650" stroke="#7d8489" stroke-width="9"/><path d="M150 {b}H650" stroke="#fff" stroke-opacity=".8" stroke-width="2"/>"##,
            a = y + 40.0,
            b = y + 37.0
        );
        for wire in 0..22u16 {
            let t = f32::from(wire) / 21.0;
            let _ = write!(
                fins,
                r##"<path d="M{} {y}L{} {}" stroke="#9aa1a5" stroke-width="3.4"/>"##,
                204.0 + 392.0 * t,
                150.0 + 500.0 * t,
                y + 40.0
            );
        }
    }
    p.part(fins, &[specks(0.06)]);
    p.shadow(7.0, r##"<path d="M262 420H590V446H262Z" opacity=".5"/><ellipse cx="214" cy="246" rx="60" ry="12" opacity=".4"/>"##);
    let mut things = String::from(
        r##"<rect x="180" y="130" width="74" height="112" rx="8" fill="#7fae5c"/><rect x="180" y="130" width="74" height="112" rx="8" fill="url(#roundh)"/><rect x="192" y="112" width="50" height="22" rx="4" fill="#d9d6cd"/><path d="M480 150H570V244H480Z" fill="#e6c34a"/><path d="M480 150L500 128H590L570 150Z" fill="#f4db7c"/><path d="M570 150L590 128V222L570 244Z" fill="#a98622"/><path d="M298 244V152Q298 136 312 128V100H336V128Q350 136 350 152V244Z" fill="#e9eef0" opacity=".85"/><path d="M298 244V152Q298 136 312 128V100H336V128Q350 136 350 152V244Z" fill="url(#roundh)" opacity=".6"/><rect x="310" y="92" width="28" height="16" fill="#3f6fb0"/>"##,
    );
    things += r##"<rect x="250" y="272" width="300" height="164" rx="16" fill="url(#white)" stroke="#8d8a82"/>"##;
    things += &lcd([270.0, 290.0, 260.0, 104.0], "lcdglass", reading, "°F");
    things += &centred(400.0, 424.0, 17.0, 600, "#4a4d50", "REFRIGERATOR");
    p.part(things, &[specks(0.05)]);
}
