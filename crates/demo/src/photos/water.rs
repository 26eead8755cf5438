//! Fresh water, drains and tanks.

use super::grain::{brushed, cloud, dirt, rust, specks, stain};
use super::kit::{Ground, centred, crack, drips, hex_bolt, hose, screw};
use super::picture::{Light, Picture};
use std::fmt::Write as _;

/// The city-water inlet with a hose and a pressure regulator on it.
pub(super) fn water_inlet(p: &mut Picture) {
    p.light = Light::Sun;
    p.yaw = 0.1;
    p.soft(1.4, |far| Ground::Gelcoat.fill(far));
    p.shadow(6.0, r##"<rect x="222" y="96" width="372" height="372" rx="30" opacity=".5"/>"##);
    let mut body = String::from(
        r##"<rect x="212" y="82" width="376" height="376" rx="30" fill="url(#white)"/><rect x="212" y="82" width="376" height="376" rx="30" fill="none" stroke="#a9a69d" stroke-width="2"/><circle cx="400" cy="262" r="136" fill="#b9b6ad"/><circle cx="400" cy="262" r="130" fill="#8d8a82"/><circle cx="400" cy="262" r="130" fill="url(#dish)"/>"##,
    );
    body += &centred(400.0, 122.0, 22.0, 700, "#2c4f86", "CITY WATER CONNECTION");
    body += &centred(400.0, 440.0, 16.0, 600, "#3c3a35", "POTABLE WATER ONLY   MAX 60 PSI");
    for (x, y) in [(236.0, 106.0), (564.0, 106.0), (236.0, 434.0), (564.0, 434.0)] {
        body += &screw(x, y, 10.0, x / 7.0);
    }
    p.part(body, &[dirt(600.0, 0.16), specks(0.05)]);
    p.shadow(8.0, r##"<path d="M350 270H480V760H360Z" opacity=".6"/>"##);
    let mut parts = hose("M400 520C400 620 440 700 430 800", 58.0, "#e9ecef");
    parts += r##"<path d="M400 540C402 620 440 700 430 800" fill="none" stroke="#2f6fc0" stroke-width="7"/><circle cx="400" cy="262" r="60" fill="url(#brassh)" stroke="#4b3a12"/><circle cx="400" cy="262" r="42" fill="#6b4d16"/><path d="M350 262H450V352H350Z" fill="url(#brassh)"/><path d="M340 300H460L452 352H348Z" fill="url(#brassh)" stroke="#4b3a12"/><path d="M362 302V350M380 302V350M400 302V350M420 302V350M438 302V350" stroke="#4b3a12" stroke-opacity=".55" stroke-width="4"/><rect x="336" y="352" width="128" height="116" rx="20" fill="url(#brassh)" stroke="#4b3a12"/><rect x="352" y="468" width="96" height="62" rx="6" fill="#2c5e9e"/><rect x="352" y="468" width="96" height="62" rx="6" fill="url(#roundh)"/>"##;
    parts += &centred(400.0, 418.0, 20.0, 700, "#4b3a12", "50 PSI");
    p.part(parts, &[cloud(300.0, 0.12), dirt(300.0, 0.16), specks(0.1)]);
    let wet = drips(&mut p.dice, (356.0, 528.0), 446.0, 7, 70.0, "#dfeaf2");
    p.paint(wet);
}

/// A tap running into the sink.
pub(super) fn tap_running(p: &mut Picture) {
    p.light = Light::Lamp;
    p.soft(5.0, |far| {
        far.paint(r##"<rect x="-120" y="-120" width="1040" height="420" fill="#dcd8cd"/><path d="M-120 -60H920M-120 60H920M-120 180H920M40 -120V300M200 -120V300M360 -120V300M520 -120V300M680 -120V300" stroke="#b5b1a6" stroke-width="6"/><rect x="-120" y="280" width="1040" height="440" fill="#7f7264"/>"##);
        far.grain(cloud(800.0, 0.12));
    });
    p.part(
        r##"<path d="M40 330H760L860 720H-60Z" fill="#b6bbbf"/><path d="M40 330H760L772 350H28Z" fill="#eceff0"/><path d="M86 366H714L790 720H10Z" fill="#8a9196"/><path d="M86 366H714L724 400H76Z" fill="#4f565b"/><path d="M86 366H714L790 720H10Z" fill="url(#roundh)" opacity=".4"/>"##,
        &[brushed(1200.0, 24.0, 0.0, 0.2), specks(0.06)],
    );
    p.paint(r##"<ellipse cx="430" cy="556" rx="74" ry="24" fill="#3c4246"/><ellipse cx="430" cy="552" rx="66" ry="20" fill="#9aa1a6"/><ellipse cx="430" cy="552" rx="44" ry="13" fill="#1b1e20"/>"##);
    p.shadow(8.0, r##"<ellipse cx="420" cy="348" rx="150" ry="18" opacity=".6"/>"##);
    let mut body = hose("M330 330V170C330 60 470 60 470 170V214", 46.0, "#b9c0c5");
    body += r##"<rect x="284" y="300" width="92" height="40" rx="10" fill="url(#chromeh)"/><rect x="446" y="200" width="48" height="34" rx="6" fill="url(#chromeh)"/><ellipse cx="220" cy="326" rx="56" ry="18" fill="url(#chrome)"/><path d="M196 320V268H244V320Z" fill="url(#chromeh)"/><path d="M160 250H280Q290 268 280 276H160Q150 262 160 250Z" fill="url(#chrome)"/><circle cx="220" cy="256" r="10" fill="#c5302a"/><ellipse cx="560" cy="326" rx="56" ry="18" fill="url(#chrome)"/><path d="M536 320V268H584V320Z" fill="url(#chromeh)"/><path d="M500 250H620Q630 268 620 276H500Q490 262 500 250Z" fill="url(#chrome)"/><circle cx="560" cy="256" r="10" fill="#2f6fc0"/>"##;
    p.paint(body);
    p.paint(r##"<path d="M456 234H484C482 320 478 440 482 548H446C452 440 458 320 456 234Z" fill="#e9f3f8" opacity=".62"/><path d="M462 234H468C466 330 462 440 462 548H454C458 440 464 320 462 234Z" fill="#fff" opacity=".8"/><path d="M478 234H482C480 330 474 440 476 548H472C472 440 478 320 478 234Z" fill="#6f8894" opacity=".5"/><ellipse cx="464" cy="552" rx="60" ry="16" fill="#f2f8fb" opacity=".6"/><ellipse cx="464" cy="552" rx="96" ry="25" fill="none" stroke="#f2f8fb" stroke-opacity=".5" stroke-width="4"/>"##);
    let splash =
        super::kit::spots(&mut p.dice, [380.0, 500.0, 560.0, 570.0], 40, (1.5, 4.5), "#f6fbfd");
    p.paint(splash);
}

/// The trap under the sink.
pub(super) fn drain_trap(p: &mut Picture, leaks: bool) {
    p.light = Light::Flash;
    p.soft(3.0, |far| Ground::Plywood.fill(far));
    p.paint(r##"<rect x="-120" y="-120" width="1040" height="150" fill="#3b332a"/><rect x="-120" y="20" width="1040" height="60" fill="url(#rise)"/><rect x="-120" y="480" width="1040" height="260" fill="#b08a5c"/><rect x="-120" y="474" width="1040" height="10" fill="#5c4426"/>"##);
    p.grain(cloud(900.0, 0.14));
    if leaks {
        p.part(
            r##"<ellipse cx="390" cy="540" rx="250" ry="52" fill="#5c4326"/>"##,
            &[cloud(300.0, 0.3), stain(200.0, 0.3, 0.6, [70, 50, 28], [46, 32, 18])],
        );
        p.paint(r##"<ellipse cx="382" cy="544" rx="140" ry="24" fill="#2c2318" opacity=".8"/><ellipse cx="360" cy="538" rx="80" ry="9" fill="#e8edf0" opacity=".55"/>"##);
    }
    p.shadow(14.0, r##"<path d="M290 -40H370V300H540V200H800V270H560V330Q540 430 400 430T290 300Z" opacity=".6" transform="translate(26 26)"/>"##);
    let pipe = "M300 -160V300C300 440 480 440 480 300V250Q480 210 520 210H920";
    let mut body = hose(pipe, 78.0, "#e6e4dc");
    for (x, y, turn) in [
        (300.0f32, 110.0f32, 0.0f32),
        (300.0, 266.0, 0.0),
        (480.0, 270.0, 0.0),
        (600.0, 210.0, 90.0),
    ] {
        let _ = write!(
            body,
            r##"<g transform="translate({x} {y}) rotate({turn})"><rect x="-54" y="-28" width="108" height="56" rx="8" fill="#d6d3c9" stroke="#77746b"/><rect x="-54" y="-28" width="108" height="56" rx="8" fill="url(#roundh)" opacity=".8"/><path d="M-40 -26V26M-26 -26V26M-12 -26V26M2 -26V26M16 -26V26M30 -26V26M44 -26V26" stroke="#000" stroke-opacity=".28" stroke-width="4"/></g>"##
        );
    }
    p.part(body, &[cloud(500.0, 0.08), dirt(400.0, 0.16), specks(0.06)]);
    if leaks {
        let mut drops = drips(&mut p.dice, (262.0, 292.0), 338.0, 10, 80.0, "#eef5f8");
        for (x, y, r) in [(364.0f32, 434.0f32, 9.0f32), (380.0, 474.0, 8.0), (384.0, 512.0, 7.0)] {
            let _ = write!(
                drops,
                r##"<path d="M{x} {a}Q{b} {y} {x} {c}Q{d} {y} {x} {a}Z" fill="#e6f1f6" stroke="#55646b" stroke-width="1"/>"##,
                a = y - r * 2.0,
                b = x + r * 1.6,
                c = y + r,
                d = x - r * 1.6
            );
        }
        p.paint(drops);
    }
}

/// The pull handles and outlet of the holding tanks.
pub(super) fn holding_tank_valve(p: &mut Picture) {
    p.light = Light::Shade;
    p.soft(5.0, |far| {
        Ground::Gravel.fill(far);
        far.paint(r##"<rect x="-120" y="-120" width="1040" height="300" fill="#1a1917"/><rect x="-120" y="-120" width="1040" height="180" fill="#d4d1c8"/>"##);
    });
    p.part(
        r##"<rect x="-120" y="40" width="1040" height="26" fill="#8e9296"/><path d="M-120 66H920V190H-120Z" fill="#232322"/>"##,
        &[cloud(600.0, 0.3), dirt(500.0, 0.4), specks(0.2)],
    );
    p.shadow(14.0, r##"<circle cx="430" cy="420" r="170" opacity=".8"/><rect x="240" y="130" width="380" height="190" opacity=".6"/>"##);
    let mut body = hose("M250 -160V260Q250 330 330 340", 84.0, "#2a2c2e");
    body += &hose("M560 -160V240Q560 300 500 330", 66.0, "#2a2c2e");
    body += r##"<rect x="176" y="150" width="150" height="60" rx="8" fill="url(#black)" stroke="#000"/><rect x="494" y="140" width="132" height="56" rx="8" fill="url(#black)" stroke="#000"/>"##;
    for (x, y, fill) in [(90.0, 180.0, "#17191a"), (710.0, 168.0, "#8a9095")] {
        let inward = if x < 400.0 { 1.0 } else { -1.0 };
        let _ = write!(
            body,
            r##"<path d="M{x} {y}H{b}" stroke="#b5bbc0" stroke-width="12"/><g transform="translate({x} {y})"><rect x="-15" y="-46" width="30" height="92" rx="14" fill="{fill}"/><rect x="-15" y="-46" width="30" height="92" rx="14" fill="url(#roundh)"/></g>"##,
            b = x + inward * 100.0
        );
    }
    body += r##"<circle cx="400" cy="390" r="158" fill="#17191a"/><circle cx="400" cy="384" r="154" fill="url(#black)"/><circle cx="400" cy="384" r="154" fill="url(#ball)" opacity=".5"/><circle cx="400" cy="384" r="122" fill="#1d1f21"/><circle cx="400" cy="384" r="116" fill="#303437"/><circle cx="400" cy="384" r="116" fill="url(#sheen)"/><path d="M320 384Q320 372 332 372H468Q480 372 480 384T468 396H332Q320 396 320 384Z" fill="#15171a" stroke="#5a5f63" stroke-width="2"/>"##;
    for number in 0..4u16 {
        let turn = f32::from(number) * 90.0 + 45.0;
        let _ = write!(
            body,
            r##"<path d="M384 214Q400 206 416 214V246H384Z" fill="#3c4043" stroke="#0d0e0f" stroke-width="2" transform="rotate({turn} 400 384)"/>"##
        );
    }
    body += &centred(400.0, 446.0, 20.0, 700, "#8b9094", "WASTE OUTLET");
    p.part(body, &[cloud(400.0, 0.2), dirt(420.0, 0.34), specks(0.16)]);
    p.paint(r##"<path d="M470 470C520 540 500 580 620 590" fill="none" stroke="#1a1b1c" stroke-width="9"/><path d="M470 470C520 540 500 580 620 590" fill="none" stroke="#5b5f62" stroke-width="3"/>"##);
    let wet = drips(&mut p.dice, (360.0, 536.0), 440.0, 6, 46.0, "#4a3d28");
    p.paint(wet);
}

/// The underbelly cover from below.
pub(super) fn underbelly(p: &mut Picture, hole: bool) {
    p.light = Light::Flash;
    p.pitch = -0.16;
    p.part(
        r##"<rect x="-120" y="-120" width="1040" height="840" fill="#2b2d2f"/><path d="M-120 40Q200 70 400 40T920 60V90Q600 60 400 80T-120 80Z" fill="#000" opacity=".35"/><path d="M-120 470Q200 510 430 470T920 490V540Q600 500 400 520T-120 520Z" fill="#000" opacity=".4"/><path d="M-120 200Q200 170 430 220T920 190" fill="none" stroke="#5b5e61" stroke-width="16" opacity=".5"/>"##,
        &[cloud(900.0, 0.4), brushed(200.0, 900.0, 80.0, 0.2), dirt(500.0, 0.4), specks(0.3)],
    );
    p.part(
        r##"<rect x="-120" y="-80" width="1040" height="90" fill="#46494c"/><rect x="-120" y="4" width="1040" height="14" fill="#0c0d0d"/><rect x="-120" y="560" width="1040" height="90" fill="#46494c"/><rect x="-120" y="552" width="1040" height="8" fill="#7b7f82"/>"##,
        &[cloud(600.0, 0.3), rust(500.0, 0.24), specks(0.25)],
    );
    let mut body = String::new();
    for x in [-40.0, 120.0, 290.0, 460.0, 630.0, 800.0] {
        body += &hex_bolt(x, 36.0, 12.0, x, "#7c8184");
        body += &hex_bolt(x + 30.0, 536.0, 12.0, x, "#7c8184");
    }
    p.paint(body);
    if hole {
        p.paint(r##"<path d="M262 230L300 180L360 196L410 160L470 190L540 180L560 240L540 300L570 350L500 380L450 420L380 390L310 410L280 350L240 310Z" fill="#070707"/>"##);
        p.part(
            r##"<path d="M292 250Q300 200 352 214T430 184T520 206T540 280T520 352T440 392T350 372T290 340T292 250Z" fill="#e3a6ac"/><path d="M300 310Q340 280 400 310T540 280M300 350Q380 330 440 360T520 330M310 250Q360 230 420 250T520 230" fill="none" stroke="#b9747d" stroke-width="9"/>"##,
            &[cloud(110.0, 0.6), brushed(120.0, 40.0, 30.0, 0.5), dirt(200.0, 0.25), specks(0.5)],
        );
        p.paint(r##"<path d="M262 230L300 180L330 232L296 262ZM540 180L560 240L516 232ZM570 350L500 380L528 330ZM310 410L280 350L330 376Z" fill="#3b3d40"/><path d="M262 230L300 180L360 196L410 160L470 190L540 180L560 240L540 300L570 350L500 380L450 420L380 390L310 410L280 350L240 310Z" fill="none" stroke="#84878a" stroke-width="3"/>"##);
        p.part(
            r##"<path d="M430 392C440 450 420 480 450 520C470 480 470 440 462 400Z" fill="#d2959c"/>"##,
            &[cloud(60.0, 0.7), specks(0.5)],
        );
    } else {
        let tear = crack(&mut p.dice, (300.0, 280.0), (330.0, 300.0), 3.0);
        p.paint(tear);
    }
}
