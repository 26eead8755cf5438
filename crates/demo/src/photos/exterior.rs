//! The whole trailer from its four sides.

use super::grain::{cloud, dirt, specks};
use super::kit::{Ground, centred, fitting, letters};
use super::picture::{Light, Picture};
use super::scene::Side;
use std::fmt::Write as _;

/// Sky, trees and the gravelled pitch.
fn pitch(p: &mut Picture, foot: f32) {
    p.soft(2.2, |far| {
        Ground::Gravel.fill(far);
        far.part(
            format!(r##"<rect x="-120" y="{a}" width="1040" height="90" fill="#71834a"/>"##, a = foot - 150.0),
            &[cloud(500.0, 0.4), specks(0.4)],
        );
        far.paint(format!(r##"<rect x="-120" y="-120" width="1040" height="{}" fill="url(#sky)"/>"##, foot - 40.0));
        far.part(
            r##"<path d="M60 90Q140 60 220 84T380 80Q440 100 360 108T160 112T60 90ZM470 60Q560 30 640 56T780 60Q800 84 700 86T470 60Z" fill="#fff" opacity=".75"/>"##,
            &[],
        );
        let mut trees = String::new();
        let mut x = -130.0f32;
        while x < 930.0 {
            let (tall, wide) = (far.dice.between(90.0, 240.0), far.dice.between(50.0, 90.0));
            let base = foot - 100.0;
            if far.dice.between(0.0, 1.0) < 0.55 {
                let _ = write!(trees, r##"<path d="M{x:.0} {base}L{a:.0} {b:.0}L{c:.0} {base}Z" fill="#3c5636"/>"##, a = x + wide * 0.4, b = base - tall, c = x + wide * 0.8);
            } else {
                let _ = write!(trees, r##"<ellipse cx="{a:.0}" cy="{b:.0}" rx="{wide:.0}" ry="{c:.0}" fill="#56703f"/>"##, a = x + wide * 0.4, b = base - tall * 0.4, c = tall * 0.5);
            }
            x += wide * 0.8;
        }
        far.part(
            format!(r##"{trees}<rect x="-120" y="{y}" width="1040" height="50" fill="#48602f"/>"##, y = foot - 140.0),
            &[cloud(160.0, 0.6), specks(0.6)],
        );
    });
}

fn wheel(x: f32, y: f32, r: f32) -> String {
    let mut holes = String::new();
    for number in 0..8u16 {
        let turn = (f32::from(number) * 45.0).to_radians();
        let _ = write!(
            holes,
            r##"<circle cx="{:.1}" cy="{:.1}" r="{:.1}" fill="#1a1b1c"/>"##,
            x + r * 0.42 * libm::cosf(turn),
            y + r * 0.42 * libm::sinf(turn),
            r * 0.07
        );
    }
    format!(
        r##"<circle cx="{x}" cy="{y}" r="{r}" fill="#1d1e1f"/><circle cx="{x}" cy="{y}" r="{a}" fill="#333537"/><circle cx="{x}" cy="{y}" r="{b}" fill="#b4b8bb"/><circle cx="{x}" cy="{y}" r="{b}" fill="url(#steel)"/>{holes}<circle cx="{x}" cy="{y}" r="{c}" fill="#777c80"/><circle cx="{x}" cy="{y}" r="{c}" fill="url(#ball)"/>"##,
        a = r * 0.9,
        b = r * 0.6,
        c = r * 0.2,
    )
}

fn window(x: f32, y: f32, wide: f32, tall: f32) -> String {
    format!(
        r##"<rect x="{x}" y="{y}" width="{wide}" height="{tall}" rx="9" fill="#16191b"/><rect x="{a}" y="{b}" width="{c}" height="{d}" rx="5" fill="#3c4d5a"/><path d="M{a} {e}Q{f} {g} {h} {e}V{i}H{a}Z" fill="#1d2a22" opacity=".7"/><rect x="{a}" y="{b}" width="{c}" height="{d}" rx="5" fill="url(#glass)"/><path d="M{m} {b}V{i}" stroke="#16191b" stroke-width="3"/>"##,
        a = x + 4.0,
        b = y + 4.0,
        c = wide - 8.0,
        d = tall - 8.0,
        e = y + tall * 0.6,
        f = x + wide * 0.4,
        g = y + tall * 0.4,
        h = x + wide - 4.0,
        i = y + tall - 4.0,
        m = x + wide * 0.5,
    )
}

const STRIPES: &str = "#2f6b78";

/// The flanks are drawn across the whole view, then drawn a little smaller.
const SMALLER: &str = "translate(40 40) scale(.9)";

/// A side of the trailer. On the kerb side the entry door is seen and the coupling points right.
fn flank(p: &mut Picture, kerb: bool, (name, model): (&str, &str)) {
    pitch(p, 480.0);
    p.shadow(
        9.0,
        format!(
            r##"<g transform="{SMALLER}"><path d="M40 470H760L790 512H70Z" opacity=".8"/></g>"##
        ),
    );
    let turn = if kerb { "translate(800 0) scale(-1 1)" } else { "" };
    // The street side is drawn, coupling to the left; the kerb side is its mirror with a door.
    p.part(
        format!(
            r##"<g transform="{SMALLER} {turn}"><path d="M96 448L20 458V446L96 420Z" fill="#26282a"/><rect x="10" y="436" width="34" height="16" rx="5" fill="#33373a"/><rect x="40" y="452" width="9" height="46" fill="#6b7074"/><rect x="32" y="496" width="26" height="6" fill="#4b4f52"/><rect x="58" y="380" width="34" height="60" rx="12" fill="#e6e3da"/><rect x="58" y="380" width="34" height="60" rx="12" fill="url(#roundh)"/><rect x="100" y="430" width="648" height="30" fill="#1f2122"/><path d="M112 214Q118 178 160 172H736Q758 174 760 196V440H112Q96 440 98 400Z" fill="#ecebe5"/><path d="M112 214Q118 178 160 172H736Q758 174 760 196V204H113Z" fill="#fbfaf7"/><path d="M98 400Q100 380 104 330H760V440H112Q96 440 98 400Z" fill="#c9c8c1"/><path d="M104 330H760V346H102.5Z" fill="{STRIPES}"/><path d="M102 352H760V358H101.5Z" fill="#b98a3c"/><path d="M108 260Q300 250 420 300T760 316V330H104Z" fill="{STRIPES}" opacity=".85"/><path d="M112 214Q118 178 160 172H736Q758 174 760 196V440H112Q96 440 98 400Z" fill="url(#fall)" opacity=".35"/><rect x="430" y="142" width="120" height="34" rx="10" fill="#e6e4dc"/><rect x="430" y="142" width="120" height="34" rx="10" fill="url(#roundv)" opacity=".6"/><rect x="250" y="160" width="44" height="14" rx="4" fill="#d6d3ca"/><rect x="640" y="158" width="40" height="16" rx="4" fill="#d6d3ca"/></g>"##
        ),
        &[cloud(700.0, 0.07), dirt(500.0, 0.12), specks(0.05)],
    );
    let mut body = String::new();
    if kerb {
        // The door towards the rear, its step, the awning's roll, a grab handle.
        body += &window(190.0, 226.0, 150.0, 66.0);
        body += &window(500.0, 226.0, 96.0, 62.0);
        body += r##"<g transform="translate(118 0)"><rect x="300" y="204" width="58" height="236" rx="7" fill="#dddbd3" stroke="#77746c" stroke-width="2"/><rect x="310" y="216" width="38" height="64" rx="5" fill="#2b3840"/><rect x="310" y="216" width="38" height="64" rx="5" fill="url(#glass)"/><rect x="344" y="322" width="10" height="20" rx="3" fill="#33373a"/><path d="M366 300V372" stroke="#8b9094" stroke-width="5" stroke-linecap="round"/><path d="M296 444H362L368 474H290Z" fill="#4b5054"/><path d="M290 474H368" stroke="#a9aeb1" stroke-width="3"/></g><rect x="80" y="184" width="560" height="16" rx="8" fill="#f4f3ee"/><rect x="80" y="184" width="560" height="16" rx="8" fill="url(#roundv)"/><path d="M96 196V420M632 196V420" stroke="#b4b8bb" stroke-width="7"/><rect x="560" y="366" width="92" height="58" rx="4" fill="#dddbd3" stroke="#8a877e"/>"##;
        body += &letters(524.0, 320.0, fitting(name, 38.0, 112.0), 700, "#f4f3ee", name);
        body += &letters(640.0, 320.0, fitting(model, 17.0, 48.0), 600, "#f4f3ee", model);
    } else {
        body += &window(180.0, 226.0, 96.0, 60.0);
        body += &window(600.0, 226.0, 110.0, 60.0);
        body += r##"<path d="M314 206H556V426H314Z" fill="#f4f3ee"/><path d="M556 206L568 212V420L556 426Z" fill="#8f8d86"/><path d="M314 206H556V426H314Z" fill="none" stroke="#6f6d66" stroke-width="3"/><path d="M314 330H556V346H314Z" fill="#2f6b78"/><path d="M304 426H568V434H304Z" fill="#1a1b1c"/>"##;
        body += &window(350.0, 232.0, 170.0, 70.0);
        body += r##"<rect x="148" y="372" width="64" height="46" rx="3" fill="#dddbd3" stroke="#8a877e" stroke-width="2"/><path d="M158 382H202M158 390H202M158 398H202M158 406H202" stroke="#3b3d3f" stroke-width="3"/><rect x="610" y="368" width="76" height="54" rx="3" fill="#dddbd3" stroke="#8a877e" stroke-width="2"/><path d="M622 380H674M622 388H674M622 396H674M622 404H674" stroke="#3b3d3f" stroke-width="3"/><circle cx="586" cy="392" r="8" fill="#2b2d2f"/><rect x="236" y="380" width="26" height="26" rx="3" fill="#2b2d2f"/>"##;
        body += &letters(132.0, 322.0, fitting(name, 38.0, 110.0), 700, "#f4f3ee", name);
        body += &letters(246.0, 322.0, fitting(model, 17.0, 60.0), 600, "#f4f3ee", model);
    }
    let place = |x: f32| if kerb { 800.0 - x } else { x };
    let _ = write!(
        body,
        r##"<path d="M{a} 444Q{a} 392 {b} 392H{c}Q{d} 392 {d} 444Z" fill="#17181a"/>"##,
        a = place(500.0) - 92.0,
        b = place(500.0) - 60.0,
        c = place(500.0) + 60.0,
        d = place(500.0) + 92.0
    );
    body += &wheel(place(500.0) - 44.0, 450.0, 40.0);
    body += &wheel(place(500.0) + 44.0, 450.0, 40.0);
    for x in [place(170.0), place(690.0)] {
        let _ = write!(
            body,
            r##"<path d="M{x} 456L{a} 492H{b}Z" fill="#4b4f52"/>"##,
            a = x - 12.0,
            b = x + 12.0
        );
    }
    for x in [130.0, 400.0, 740.0] {
        let _ = write!(
            body,
            r##"<rect x="{}" y="176" width="14" height="6" rx="2" fill="#f0a020"/>"##,
            place(x) - 7.0
        );
    }
    p.paint(format!(r##"<g transform="{SMALLER}">{body}</g>"##));
}

/// The front or the rear.
fn end(p: &mut Picture, front: bool, (name, model): (&str, &str)) {
    pitch(p, 510.0);
    p.shadow(12.0, r##"<path d="M180 490H640L680 550H150Z" opacity=".85"/>"##);
    p.paint(
        wheel(236.0, 486.0, 34.0)
            + &wheel(564.0, 486.0, 34.0)
            + r##"<rect x="236" y="440" width="328" height="60" fill="#121313"/>"##,
    );
    p.part(
        format!(
            r##"<path d="M196 130Q200 96 240 92H560Q600 96 604 130V470H196Z" fill="#ecebe5"/><path d="M196 130Q200 96 240 92H560Q600 96 604 130V150H196Z" fill="#fbfaf7"/><path d="M196 330H604V352H196Z" fill="{STRIPES}"/><path d="M196 358H604V366H196Z" fill="#b98a3c"/><path d="M196 366H604V470H196Z" fill="#c4c3bc"/><path d="M196 130Q200 96 240 92H560Q600 96 604 130V470H196Z" fill="url(#roundh)" opacity=".22"/><path d="M196 130V470H206V124ZM604 130V470H594V124Z" fill="#9ea2a5"/><rect x="330" y="64" width="140" height="32" rx="10" fill="#dedcd4"/>"##
        ),
        &[cloud(700.0, 0.07), dirt(500.0, 0.14), specks(0.05)],
    );
    let mut body = String::new();
    for x in [250.0f32, 376.0, 400.0, 424.0, 550.0] {
        let colour = if front { "#f0a020" } else { "#c5221b" };
        let _ = write!(
            body,
            r##"<rect x="{}" y="104" width="16" height="7" rx="2" fill="{colour}"/>"##,
            x - 8.0
        );
    }
    if front {
        body += &window(270.0, 176.0, 260.0, 92.0);
        body += &centred(400.0, 318.0, fitting(name, 44.0, 360.0), 700, STRIPES, name);
        body += r##"<path d="M206 380H594V466H206Z" fill="#8f9498"/><path d="M206 380H594V466H206Z" fill="url(#steel)" opacity=".6"/><path d="M226 380V466M246 380V466M266 380V466M286 380V466M306 380V466M326 380V466M474 380V466M494 380V466M514 380V466M534 380V466M554 380V466M574 380V466" stroke="#000" stroke-opacity=".2" stroke-width="4"/><path d="M250 470L388 560H412L550 470H520L400 540L280 470Z" fill="#26282a"/><rect x="322" y="366" width="66" height="104" rx="24" fill="#e6e3da"/><rect x="322" y="366" width="66" height="104" rx="24" fill="url(#roundh)"/><rect x="412" y="366" width="66" height="104" rx="24" fill="#e6e3da"/><rect x="412" y="366" width="66" height="104" rx="24" fill="url(#roundh)"/><rect x="342" y="350" width="26" height="20" rx="5" fill="#8d8f90"/><rect x="432" y="350" width="26" height="20" rx="5" fill="#8d8f90"/><path d="M316 452H484V464H316Z" fill="#33373a"/><rect x="390" y="470" width="20" height="96" fill="url(#steelh)"/><rect x="374" y="562" width="52" height="9" rx="3" fill="#3b3f42"/><path d="M378 540Q400 526 422 540L418 566H382Z" fill="#1d1f20"/>"##;
    } else {
        body += &window(300.0, 170.0, 200.0, 84.0);
        body += &letters(232.0, 312.0, fitting(name, 40.0, 120.0), 700, STRIPES, name);
        body += &letters(360.0, 312.0, fitting(model, 20.0, 150.0), 600, "#6b6a64", model);
        body += r##"<path d="M546 96V440M580 96V440" stroke="#8f959a" stroke-width="6"/><path d="M546 140H580M546 190H580M546 240H580M546 290H580M546 340H580M546 390H580" stroke="#8f959a" stroke-width="6"/><rect x="204" y="470" width="392" height="26" rx="6" fill="#d4d3cd"/><rect x="204" y="470" width="392" height="26" rx="6" fill="url(#roundv)"/><rect x="352" y="404" width="96" height="46" rx="3" fill="#e9e7df" stroke="#555"/>"##;
        body += &centred(400.0, 435.0, 20.0, 700, "#24406b", "DEMO 24");
        for x in [236.0f32, 516.0] {
            let _ = write!(
                body,
                r##"<rect x="{x}" y="384" width="48" height="62" rx="8" fill="#8f1712"/><rect x="{x}" y="384" width="48" height="40" rx="8" fill="#d8352b"/><rect x="{a}" y="428" width="36" height="14" rx="4" fill="#f1efe6"/><rect x="{x}" y="384" width="48" height="62" rx="8" fill="url(#glass)"/>"##,
                a = x + 6.0
            );
        }
    }
    p.paint(body);
    for x in [214.0f32, 586.0] {
        p.paint(format!(r##"<path d="M{x} 480L{a} 534H{b}Z" fill="#4b4f52"/><rect x="{c}" y="532" width="40" height="8" fill="#a9a69f"/>"##, a = x - 13.0, b = x + 13.0, c = x - 20.0));
    }
}

/// An overall view.
pub(super) fn exterior(p: &mut Picture, side: Side, lettering: (&str, &str)) {
    p.light = Light::Sun;
    match side {
        Side::Street => flank(p, false, lettering),
        Side::Kerb => flank(p, true, lettering),
        Side::Front => end(p, true, lettering),
        Side::Rear => end(p, false, lettering),
    }
}
