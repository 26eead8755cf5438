//! Liquefied-petroleum gas: cylinders, regulator, pipe joints, burners.

use super::grain::{brushed, cloud, dirt, rust, specks};
use super::kit::{Ground, centred, escape, fitting, hex_bolt, hose, rivet};
use super::picture::{Light, Picture};
use std::fmt::Write as _;

/// The collar and valve of a cylinder, with what is stamped into the collar.
pub(super) fn gas_cylinder(p: &mut Picture, collar_lines: &[String], rusted: bool) {
    p.light = Light::Sun;
    p.soft(7.0, |far| {
        Ground::Gravel.fill(far);
        far.paint(r##"<rect x="-120" y="-120" width="1040" height="330" fill="#d8d5cd"/><rect x="-120" y="190" width="1040" height="26" fill="#4a4d50"/>"##);
    });
    p.shadow(18.0, r##"<path d="M110 320Q400 200 740 340V760H80Z" opacity=".7"/>"##);
    let amount = if rusted { 0.3 } else { 0.03 };
    // Back of the collar, valve, shoulder, front of the collar.
    p.part(
        r##"<path d="M190 60Q400 20 610 60V250H190Z" fill="#8f8d86"/><path d="M190 60Q400 20 610 60V250H190Z" fill="url(#rise)" opacity=".5"/>"##,
        &[cloud(400.0, 0.2), rust(300.0, amount), specks(0.14)],
    );
    p.part(
        r##"<path d="M60 430Q80 300 240 262Q400 236 560 262Q720 300 740 430V760H60Z" fill="#e3e1d9"/><path d="M60 430Q80 300 240 262Q400 236 560 262Q720 300 740 430V760H60Z" fill="url(#roundh)" opacity=".7"/><path d="M60 560H740V572H60Z" fill="#000" opacity=".18"/><path d="M60 572H740V576H60Z" fill="#fff" opacity=".5"/>"##,
        &[cloud(700.0, 0.08), rust(520.0, amount), dirt(600.0, 0.16), specks(0.1)],
    );
    let mut valve = String::from(
        r##"<rect x="372" y="170" width="56" height="110" fill="url(#brassh)"/><rect x="356" y="196" width="88" height="46" rx="4" fill="url(#brassh)" stroke="#4b3a12"/><rect x="250" y="196" width="112" height="48" rx="8" fill="url(#black)"/><path d="M262 196V244M276 196V244M290 196V244M304 196V244M318 196V244" stroke="#000" stroke-width="5"/><rect x="388" y="110" width="24" height="66" fill="url(#brassh)"/>"##,
    );
    valve += &hose("M250 220C190 220 180 180 150 110S60 40 -140 30", 30.0, "#232527");
    valve += r##"<ellipse cx="400" cy="96" rx="92" ry="34" fill="#17191a"/><ellipse cx="400" cy="88" rx="92" ry="34" fill="url(#blue)"/><ellipse cx="400" cy="86" rx="64" ry="22" fill="#24517f"/><path d="M308 88Q318 60 400 54Q482 60 492 88" fill="none" stroke="#9fc0e2" stroke-width="3"/>"##;
    valve += &hex_bolt(400.0, 84.0, 11.0, 0.0, "#b9bec1");
    p.part(valve, &[cloud(260.0, 0.16), specks(0.12)]);
    p.shadow(6.0, r##"<path d="M150 262Q400 330 650 262V300Q400 366 150 300Z" opacity=".4"/>"##);
    let mut collar = String::from(
        r##"<path d="M136 214Q400 300 664 214V452Q400 536 136 452Z" fill="#cfccc3"/><path d="M136 214Q400 300 664 214V452Q400 536 136 452Z" fill="url(#roundh)" opacity=".45"/><path d="M136 214Q400 300 664 214" fill="none" stroke="#fbfaf5" stroke-width="6"/><path d="M136 452Q400 536 664 452" fill="none" stroke="#5c5952" stroke-width="5"/><defs>"##,
    );
    let mut stamped = String::new();
    let mut rows = 0.0f32;
    for _ in collar_lines {
        rows += 1.0;
    }
    let pitch = (190.0 / rows.max(1.0)).min(56.0);
    let mut y = 214.0 + (250.0 - pitch * rows) / 2.0 - pitch * 0.2;
    for (number, line) in collar_lines.iter().enumerate() {
        y += pitch;
        let _ = write!(
            collar,
            r##"<path id="c{number}" d="M150 {y}Q400 {b} 650 {y}"/>"##,
            b = y + 80.0
        );
        let size = fitting(line, pitch * 0.8, 440.0);
        let line = escape(line);
        for (dx, dy, fill, opacity) in
            [(1.6, 1.8, "#fff", 0.85), (-1.0, -1.2, "#000", 0.4), (0.0, 0.0, "#4c4a44", 1.0)]
        {
            let _ = write!(
                stamped,
                r##"<text transform="translate({dx} {dy})" font-size="{size}" font-weight="600" letter-spacing="2" text-anchor="middle" fill="{fill}" opacity="{opacity}"><textPath href="#c{number}" startOffset="50%">{line}</textPath></text>"##
            );
        }
    }
    collar += "</defs>";
    p.part(
        collar + &stamped,
        &[cloud(400.0, 0.14), rust(340.0, amount * 0.8), dirt(500.0, 0.12), specks(0.14)],
    );
}

/// A two-stage regulator with its vent and hoses.
pub(super) fn regulator(p: &mut Picture) {
    p.light = Light::Sun;
    p.soft(6.0, |far| Ground::Ribbed.fill(far));
    p.shadow(16.0, r##"<circle cx="430" cy="310" r="200" opacity=".7"/><rect x="120" y="286" width="600" height="70" opacity=".5"/>"##);
    let mut body = hose("M230 290C120 290 90 420 -140 430", 40.0, "#222426");
    body += &hose("M570 300C700 300 690 460 920 500", 44.0, "#222426");
    body += r##"<rect x="196" y="258" width="90" height="64" fill="url(#brass)" stroke="#4b3a12"/><rect x="176" y="268" width="26" height="44" fill="url(#brass)"/><rect x="520" y="262" width="92" height="72" fill="url(#brass)" stroke="#4b3a12"/><path d="M226 258V322M256 258V322M550 262V334M580 262V334" stroke="#4b3a12" stroke-opacity=".6" stroke-width="3"/>"##;
    body += r##"<circle cx="400" cy="280" r="182" fill="#5f6569"/><circle cx="400" cy="280" r="182" fill="url(#sheen)"/><circle cx="400" cy="280" r="166" fill="#7c8286"/><circle cx="400" cy="280" r="150" fill="#8b9195"/><circle cx="400" cy="280" r="150" fill="url(#ball)" opacity=".6"/><circle cx="400" cy="262" r="62" fill="#70767a"/><circle cx="400" cy="262" r="62" fill="url(#ball)"/><circle cx="400" cy="258" r="44" fill="#9da2a6"/><path d="M368 258H432" stroke="#33383b" stroke-width="9"/><path d="M360 430H440L450 540H350Z" fill="#666c70"/><path d="M360 430H440L450 540H350Z" fill="url(#roundh)"/><ellipse cx="400" cy="540" rx="50" ry="14" fill="#0e0f10"/><path d="M362 540H438M372 534V548M386 532V552M400 530V554M414 532V552M428 534V548" stroke="#9a9fa3" stroke-width="2"/>"##;
    for number in 0..8u16 {
        let turn = (f32::from(number) * 45.0 + 22.5).to_radians();
        body += &hex_bolt(
            400.0 + 160.0 * libm::cosf(turn),
            280.0 + 160.0 * libm::sinf(turn),
            12.0,
            15.0,
            "#a2a7ab",
        );
    }
    body += &centred(400.0, 372.0, 19.0, 700, "#24282a", "OUTLET 11 in. w.c.");
    body += &centred(400.0, 398.0, 15.0, 600, "#24282a", "TWO STAGE   LP GAS");
    p.part(body, &[cloud(400.0, 0.16), dirt(420.0, 0.2), rust(300.0, 0.05), specks(0.16)]);
}

/// A flare joint in copper pipe, with leak fluid on it.
pub(super) fn copper_pipe_joint(p: &mut Picture, bubbles: bool) {
    p.light = Light::Flash;
    p.soft(3.0, |far| Ground::Plywood.fill(far));
    p.shadow(10.0, r##"<path d="M-120 336H920V396H-120ZM270 300H550V440H270Z" opacity=".75"/>"##);
    p.part(
        r##"<rect x="-120" y="276" width="1040" height="56" fill="url(#copper)"/><rect x="150" y="262" width="30" height="84" rx="6" fill="url(#steel)"/><rect x="640" y="262" width="30" height="84" rx="6" fill="url(#steel)"/>"##,
        &[brushed(900.0, 60.0, 0.0, 0.12), dirt(400.0, 0.2), specks(0.1)],
    );
    p.part(
        r##"<path d="M262 262L286 234H366V374H286L262 346Z" fill="url(#brass)" stroke="#4b3a12"/><path d="M538 262L514 234H434V374H514L538 346Z" fill="url(#brass)" stroke="#4b3a12"/><path d="M286 280H366M286 330H366M434 280H514M434 330H514" stroke="#4b3a12" stroke-opacity=".7" stroke-width="3"/><rect x="364" y="250" width="72" height="108" fill="url(#brass)"/><path d="M372 250V358M382 250V358M392 250V358M402 250V358M412 250V358M422 250V358" stroke="#4b3a12" stroke-opacity=".6" stroke-width="3"/>"##,
        &[cloud(260.0, 0.2), dirt(300.0, 0.2), specks(0.12)],
    );
    if bubbles {
        p.paint(r##"<path d="M358 366Q370 396 376 440Q382 460 388 440Q386 390 400 372Q420 400 424 470Q430 486 436 468Q432 400 446 366Z" fill="#fff" opacity=".3"/>"##);
    }
    let mut foam = String::new();
    let count = if bubbles { 150 } else { 26 };
    for _ in 0..count {
        let (turn, away) = (p.dice.between(0.0, std::f32::consts::TAU), p.dice.between(0.0, 1.0));
        let reach = if bubbles { 92.0 * away } else { 60.0 * away };
        let radius = if bubbles {
            p.dice.between(4.0, 19.0) * (1.15 - away * 0.7)
        } else {
            p.dice.between(1.5, 3.5)
        };
        let (x, y) = (438.0 + reach * libm::cosf(turn), 352.0 + reach * 0.72 * libm::sinf(turn));
        let _ = write!(
            foam,
            r##"<circle cx="{x:.1}" cy="{y:.1}" r="{radius:.1}" fill="#fff" fill-opacity=".2" stroke="#fff" stroke-opacity=".8" stroke-width="1.3"/><circle cx="{a:.1}" cy="{b:.1}" r="{c:.1}" fill="#fff" opacity=".9"/>"##,
            a = x - radius * 0.35,
            b = y - radius * 0.38,
            c = radius * 0.2,
        );
    }
    if bubbles {
        p.shadow(6.0, r##"<ellipse cx="440" cy="366" rx="100" ry="66" opacity=".35"/>"##);
        p.soft(3.0, |far| {
            far.paint(
                r##"<ellipse cx="438" cy="350" rx="70" ry="46" fill="#fff" opacity=".32"/>"##,
            );
        });
    }
    p.paint(foam);
}

/// A burner alight on the range; a clean flame is blue, a starved one yellow.
pub(super) fn range(p: &mut Picture, yellow_flames: bool) {
    p.light = Light::Flash;
    p.pitch = 0.14;
    p.part(
        r##"<rect x="-120" y="-120" width="1040" height="840" fill="#33373a"/><rect x="-120" y="-120" width="1040" height="210" fill="#1d1f21"/><rect x="-120" y="80" width="1040" height="14" fill="#6f767b"/><path d="M-120 560H920V720H-120Z" fill="#55595c"/><path d="M-120 556H920" stroke="#a8adb0" stroke-width="5"/>"##,
        &[brushed(1400.0, 30.0, 0.0, 0.12), dirt(700.0, 0.12), specks(0.1)],
    );
    p.shadow(14.0, r##"<ellipse cx="404" cy="350" rx="210" ry="120" opacity=".8"/>"##);
    let mut knobs = String::new();
    for x in [130.0, 310.0, 490.0, 670.0] {
        let _ = write!(
            knobs,
            r##"<circle cx="{x}" cy="640" r="36" fill="#0e0f10"/><circle cx="{x}" cy="636" r="34" fill="#2b2e30"/><circle cx="{x}" cy="636" r="34" fill="url(#ball)"/><rect x="{a}" y="606" width="6" height="26" fill="#e8e8e4"/>"##,
            a = x - 3.0
        );
    }
    p.part(
        format!(
            r##"{knobs}<ellipse cx="400" cy="330" rx="200" ry="112" fill="#24272a"/><ellipse cx="400" cy="326" rx="196" ry="108" fill="#43484b"/><ellipse cx="400" cy="324" rx="120" ry="66" fill="#151718"/><ellipse cx="400" cy="306" rx="104" ry="54" fill="#70767a"/><ellipse cx="400" cy="298" rx="104" ry="54" fill="#2a2d2f"/><ellipse cx="400" cy="296" rx="92" ry="46" fill="#3d4144"/><ellipse cx="400" cy="296" rx="92" ry="46" fill="url(#sheen)"/>"##
        ),
        &[cloud(300.0, 0.2), specks(0.16)],
    );
    let (outer, inner, tip) = if yellow_flames {
        ("#f5a623", "#ffd873", "#e2661a")
    } else {
        ("#2f6df0", "#9cc4ff", "#5a8dff")
    };
    let height = if yellow_flames { 92.0 } else { 52.0 };
    let light = if yellow_flames { "#f0922a" } else { "#2d62e8" };
    p.soft(10.0, |far| {
        far.paint(format!(
            r##"<ellipse cx="400" cy="286" rx="180" ry="96" fill="{light}" opacity=".5"/>"##
        ));
    });
    let mut flames = String::new();
    for number in 0..34u16 {
        // From the back of the ring to the front, so that nearer flames cover farther ones.
        let half = f32::from(number / 2) / 16.0;
        let side = if number % 2 == 0 { 1.0 } else { -1.0 };
        let turn = -std::f32::consts::FRAC_PI_2 + side * half * std::f32::consts::PI;
        let (x, y) = (400.0 + 112.0 * libm::cosf(turn), 308.0 + 58.0 * libm::sinf(turn));
        let lean = 22.0 * libm::cosf(turn);
        let tall = height * p.dice.between(0.75, 1.2);
        let _ = write!(
            flames,
            r##"<path d="M{a:.1} {y:.1}Q{b:.1} {c:.1} {d:.1} {e:.1}Q{f:.1} {c:.1} {g:.1} {y:.1}Z" fill="{outer}" opacity=".62"/><path d="M{h:.1} {y:.1}Q{i:.1} {j:.1} {k:.1} {l:.1}Q{m:.1} {j:.1} {n:.1} {y:.1}Z" fill="{inner}" opacity=".8"/><circle cx="{d:.1}" cy="{o:.1}" r="5" fill="{tip}" opacity=".45"/>"##,
            a = x - 11.0,
            b = x - 13.0 + lean * 0.4,
            c = y - tall * 0.5,
            d = x + lean,
            e = y - tall,
            f = x + 13.0 + lean * 0.4,
            g = x + 11.0,
            h = x - 5.0,
            i = x - 6.0 + lean * 0.2,
            j = y - tall * 0.25,
            k = x + lean * 0.5,
            l = y - tall * 0.52,
            m = x + 6.0 + lean * 0.2,
            n = x + 5.0,
            o = y - tall * 0.9,
        );
    }
    p.paint(flames);
    p.shadow(4.0, r##"<path d="M150 250L650 250M150 330H650" stroke="#000" stroke-width="18" opacity=".4"/>"##);
    let bar = |x0: f32, y0: f32, x1: f32, y1: f32| {
        format!(
            r##"<path d="M{x0} {y0}L{x1} {y1}" stroke="#0b0c0c" stroke-width="22" stroke-linecap="round"/><path d="M{x0} {a}L{x1} {b}" stroke="#55595c" stroke-width="6" stroke-linecap="round"/>"##,
            a = y0 - 6.0,
            b = y1 - 6.0
        )
    };
    p.part(
        bar(120.0, 214.0, 300.0, 240.0)
            + &bar(680.0, 214.0, 500.0, 240.0)
            + &bar(90.0, 396.0, 300.0, 316.0)
            + &bar(710.0, 396.0, 500.0, 316.0)
            + &bar(120.0, 214.0, 680.0, 214.0)
            + &bar(120.0, 214.0, 90.0, 396.0)
            + &bar(680.0, 214.0, 710.0, 396.0)
            + &bar(90.0, 396.0, 710.0, 396.0),
        &[cloud(200.0, 0.3), specks(0.3)],
    );
    p.paint(rivet(60.0, 540.0, 7.0) + &rivet(740.0, 540.0, 7.0));
}
