//! Roof, walls, awning and slide-out.

use super::grain::{brushed, cloud, dirt, rust, specks, stain};
use super::kit::{Ground, crack, drips, hose, polygon, rivet, screw, spots, washer_screw};
use super::picture::{Light, Picture};
use std::fmt::Write as _;

/// The edge moulding of the roof and its sealant.
pub(super) fn roof_seam(p: &mut Picture, cracked: bool) {
    p.light = Light::Sun;
    p.pitch = 0.28;
    p.roll = 4.0;
    Ground::Membrane.fill(p);
    p.shadow(7.0, r##"<rect x="-120" y="372" width="1040" height="26" opacity=".6"/>"##);
    p.part(
        r##"<rect x="-120" y="300" width="1040" height="84" fill="#c6cacc"/><rect x="-120" y="300" width="1040" height="84" fill="url(#roundv)" opacity=".5"/><rect x="-120" y="384" width="1040" height="400" fill="#b8bcbe"/><rect x="-120" y="384" width="1040" height="400" fill="url(#rise)" opacity=".6"/>"##,
        &[brushed(1400.0, 40.0, 0.0, 0.1), dirt(600.0, 0.25), rust(500.0, 0.03), specks(0.1)],
    );
    let mut screws = String::new();
    for number in 0..7u16 {
        let x = 10.0 + 132.0 * f32::from(number);
        screws += &washer_screw(x, 344.0, 11.0, x);
    }
    p.paint(screws);
    // The bead of sealant along the moulding.
    let mut top = String::from("M-120 262");
    let mut x = -120.0f32;
    while x < 920.0 {
        let (bump, next) = (p.dice.between(250.0, 276.0), x + p.dice.between(26.0, 50.0));
        let _ = write!(
            top,
            "Q{:.0} {bump:.0} {next:.0} {:.0}",
            (x + next) / 2.0,
            p.dice.between(258.0, 270.0)
        );
        x = next;
    }
    let tone = if cracked { "#a8a193" } else { "#e9e6dd" };
    p.shadow(3.0, r##"<rect x="-120" y="262" width="1040" height="52" opacity=".3"/>"##);
    let share = if cracked { 0.4 } else { 0.1 };
    p.part(
        format!(r##"<path d="{top}V306Q400 318 -120 306Z" fill="{tone}"/><path d="{top}V306Q400 318 -120 306Z" fill="url(#roundv)" opacity=".45"/>"##),
        &[cloud(240.0, 0.25), dirt(300.0, share), specks(0.2)],
    );
    if cracked {
        let mut open = crack(&mut p.dice, (120.0, 286.0), (640.0, 292.0), 13.0);
        for x in [170.0f32, 236.0, 318.0, 380.0, 452.0, 530.0, 600.0] {
            let (lean, width) = (p.dice.between(-18.0, 18.0), p.dice.between(3.0, 6.0));
            open += &crack(&mut p.dice, (x, 262.0), (x + lean, 312.0), width);
        }
        open += r##"<path d="M300 270L352 262L372 284L330 300Z" fill="#6d665a"/><path d="M300 270L352 262L372 284L366 288L350 268Z" fill="#d2cdc0"/>"##;
        p.paint(open);
    }
    let leaves = spots(&mut p.dice, [40.0, 60.0, 760.0, 250.0], 26, (1.5, 5.0), "#5d4f34");
    p.paint(leaves);
}

/// A roof vent with its lid.
pub(super) fn roof_vent(p: &mut Picture, cracked: bool) {
    p.light = Light::Sun;
    p.pitch = 0.3;
    p.soft(1.2, |far| Ground::Membrane.fill(far));
    p.part(
        r##"<rect x="156" y="66" width="488" height="470" rx="40" fill="#e6e3da"/>"##,
        &[cloud(240.0, 0.2), dirt(300.0, 0.3), specks(0.2)],
    );
    p.shadow(16.0, r##"<path d="M210 130H660V560H250Z" opacity=".7"/>"##);
    let mut body = String::from(
        r##"<rect x="186" y="94" width="428" height="412" rx="14" fill="#c9c6bc"/><rect x="186" y="94" width="428" height="412" rx="14" fill="none" stroke="#8a877e" stroke-width="3"/>"##,
    );
    for number in 0..5u16 {
        let at = 110.0 + 95.0 * f32::from(number);
        body += &screw(200.0, at, 8.0, at);
        body += &screw(600.0, at, 8.0, at * 2.0);
        body += &screw(at + 110.0, 108.0, 8.0, at * 3.0);
        body += &screw(at + 110.0, 494.0, 8.0, at * 5.0);
    }
    body += r##"<path d="M222 140Q222 122 240 122H560Q578 122 578 140V458Q578 476 560 476H240Q222 476 222 458Z" fill="#f3f2ec"/><path d="M222 140Q222 122 240 122H560Q578 122 578 140V458Q578 476 560 476H240Q222 476 222 458Z" fill="url(#ball)" opacity=".35"/><path d="M222 140L290 190H510L578 140M222 458L290 410H510L578 458M290 190V410M510 190V410" fill="none" stroke="#b5b2a8" stroke-width="4"/><rect x="290" y="190" width="220" height="220" fill="#fff" opacity=".35"/><path d="M250 122V106H300V122M500 122V106H550V122" fill="#7b8084" stroke="#444"/>"##;
    p.part(body, &[cloud(900.0, 0.1), dirt(500.0, 0.25), specks(0.06)]);
    if cracked {
        let open = crack(&mut p.dice, (284.0, 180.0), (400.0, 400.0), 8.0);
        p.paint(open);
    }
}

/// Cladding seen along the wall; a bulge shows in the bent reflections.
pub(super) fn wall_panel(p: &mut Picture, delaminated: bool) {
    p.light = Light::Sun;
    p.yaw = 0.3;
    let mut lines = String::new();
    for number in 0..16u16 {
        let y = -80.0 + 50.0 * f32::from(number);
        let near =
            if delaminated { 1.0 - ((y - 300.0) / 300.0) * ((y - 300.0) / 300.0) } else { 0.0 };
        let push = near.max(0.0) * if y < 300.0 { -64.0 } else { 64.0 };
        let _ = write!(
            lines,
            r##"<path d="M-120 {y}C120 {y} 220 {a} 400 {a}S660 {y} 920 {y}" stroke="{c}" stroke-width="{w}" opacity="{o}"/>"##,
            a = y + push,
            c = if number % 3 == 0 { "#6f93b4" } else { "#ffffff" },
            w = 14 + 6 * (number % 3),
            o = 0.5,
        );
    }
    p.paint(r##"<rect x="-120" y="-120" width="1040" height="840" fill="#dfe1e0"/><rect x="-120" y="-120" width="1040" height="840" fill="url(#fall)" opacity=".35"/>"##);
    p.soft(4.0, |far| far.paint(format!(r##"<g fill="none">{lines}</g>"##)));
    if delaminated {
        p.soft(38.0, |far| {
            far.paint(r##"<ellipse cx="330" cy="240" rx="120" ry="80" fill="#fff" opacity=".45"/><path d="M220 430Q400 560 600 400Q640 300 590 210Q570 380 420 430Q320 460 220 430Z" fill="#20262c" opacity=".34"/><path d="M200 200Q150 330 220 430Q190 320 240 210Z" fill="#20262c" opacity=".3"/>"##);
        });
    }
    let stripe = |top: f32, foot: f32, fill: &str| {
        let rise = if delaminated { 26.0 } else { 0.0 };
        format!(
            r##"<path d="M-120 {top}C80 {top} 200 {a} 385 {a}S690 {top} 920 {top}V{foot}C690 {foot} 570 {b} 385 {b}S80 {foot} -120 {foot}Z" fill="{fill}"/>"##,
            a = top - rise,
            b = foot - rise * 0.8,
        )
    };
    p.paint(stripe(86.0, 150.0, "#3a5878") + &stripe(160.0, 178.0, "#b98a3c") + r##"<rect x="650" y="-120" width="26" height="840" fill="#c9cdcf"/><rect x="650" y="-120" width="26" height="840" fill="url(#roundh)" opacity=".5"/>"##);
    if delaminated {
        p.soft(24.0, |far| {
            far.paint(
                r##"<ellipse cx="330" cy="110" rx="130" ry="26" fill="#fff" opacity=".4"/>"##,
            );
        });
    }
    p.grain(cloud(2000.0, 0.05));
    p.grain(stain(1200.0, 0.12, 0.2, [150, 140, 120], [110, 100, 80]));
    let mut screws = String::new();
    for number in 0..8u16 {
        screws += &screw(663.0, -40.0 + 96.0 * f32::from(number), 7.0, 40.0 * f32::from(number));
    }
    let streaks = drips(&mut p.dice, (676.0, 60.0), 700.0, 6, 300.0, "#55504a");
    p.paint(screws + &streaks);
}

/// The awning let out, its fabric and an arm.
pub(super) fn awning(p: &mut Picture, torn: bool) {
    p.light = Light::Sun;
    p.soft(4.0, |far| {
        far.paint(r##"<rect x="-120" y="-120" width="1040" height="420" fill="url(#sky)"/><path d="M-120 330Q60 260 240 310T560 290T920 320V460H-120Z" fill="#5f7350"/><rect x="-120" y="440" width="1040" height="300" fill="#8b9168"/>"##);
        far.grain(cloud(300.0, 0.3));
    });
    p.part(
        r##"<path d="M-120 60L300 60V720H-120Z" fill="#dcdad3"/><path d="M-120 260H300V300H-120Z" fill="#3a5878"/><rect x="40" y="330" width="180" height="150" rx="8" fill="#2b3338"/><rect x="40" y="330" width="180" height="150" rx="8" fill="url(#glass)"/>"##,
        &[cloud(900.0, 0.1), dirt(600.0, 0.15), specks(0.05)],
    );
    let mut stripes = String::new();
    for number in 0..9u16 {
        let t0 = f32::from(number) / 9.0;
        let t1 = f32::from(number + 1) / 9.0;
        let at =
            |t: f32| ((-120.0 + 420.0 * t, 60.0 - 24.0 * t), (60.0 + 700.0 * t, 250.0 - 60.0 * t));
        let ((ax, ay), (bx, by)) = at(t0);
        let ((cx, cy), (dx, dy)) = at(t1);
        stripes += &polygon(
            &[(ax, ay), (cx, cy), (dx, dy), (bx, by)],
            if number % 2 == 0 { "#2f6b5a" } else { "#e9e4d2" },
        );
    }
    p.part(
        stripes + r##"<path d="M-120 60L300 36L760 190L60 250Z" fill="url(#sheen)"/>"##,
        &[
            brushed(30.0, 600.0, 20.0, 0.12),
            dirt(500.0, 0.3),
            stain(300.0, 0.08, 0.5, [80, 84, 70], [40, 44, 36]),
            specks(0.1),
        ],
    );
    let mut body = hose("M60 252L760 192", 34.0, "#e6e4dc");
    body += r##"<path d="M60 250V282L80 296L100 276L120 292L140 272L160 290L180 268L200 286L220 266L240 282L260 262L280 278L300 260L320 274L340 256L360 272L380 254L400 268L420 250L440 266L460 246L480 262L500 244L520 258L540 240L560 256L580 238L600 252L620 234L640 250L660 232L680 246L700 228L720 242L740 224L760 236V200Z" fill="#e9e4d2" stroke="#8a8676"/>"##;
    body += &hose("M180 560L400 400L640 214", 17.0, "#c9cdd0");
    body += &hose("M180 250L270 330L400 400", 15.0, "#c9cdd0");
    body += &rivet(400.0, 400.0, 12.0);
    body += &rivet(180.0, 560.0, 12.0);
    p.part(body, &[specks(0.08), dirt(400.0, 0.12)]);
    if torn {
        let tear = crack(&mut p.dice, (400.0, 100.0), (500.0, 176.0), 11.0);
        p.paint(tear);
    }
}

/// The corner of a slide-out and its wiper seal.
pub(super) fn slide_out(p: &mut Picture, seal_torn: bool) {
    p.light = Light::Shade;
    p.yaw = -0.1;
    p.soft(1.2, |far| Ground::Gelcoat.fill(far));
    p.shadow(20.0, r##"<rect x="350" y="-120" width="120" height="840" opacity=".7"/>"##);
    p.part(
        r##"<rect x="-120" y="-120" width="430" height="840" fill="#e4e2db"/><rect x="-120" y="180" width="430" height="80" fill="#3a5878"/><rect x="-120" y="270" width="430" height="16" fill="#b98a3c"/>"##,
        &[cloud(1200.0, 0.08), dirt(700.0, 0.12), specks(0.04)],
    );
    p.part(
        r##"<rect x="296" y="-120" width="46" height="840" fill="#c6cacc"/><rect x="296" y="-120" width="46" height="840" fill="url(#roundh)" opacity=".5"/><path d="M342 -120H452V720H342Z" fill="#0d0e0e"/><path d="M352 -120Q400 300 352 720H342V-120Z" fill="#34373a"/><path d="M352 -120H436V720H352Z" fill="#3b3e41"/><path d="M352 -120H436V720H352Z" fill="url(#roundh)"/><path d="M398 -120H404V720H398Z" fill="#000" opacity=".5"/><path d="M452 -120H920V720H452Z" fill="#d3d0c7"/><path d="M452 -120H486V720H452Z" fill="#000" opacity=".24"/>"##,
        &[cloud(600.0, 0.14), dirt(600.0, 0.2), specks(0.1)],
    );
    if seal_torn {
        p.paint(r##"<path d="M344 196L372 206L396 190L420 212L438 204V392L414 404L396 384L374 410L344 398Z" fill="#050505"/><path d="M344 196L372 206L396 190L420 212L438 204" fill="none" stroke="#85898c" stroke-width="4"/><path d="M352 216V390" stroke="#b9a67e" stroke-width="11" opacity=".75"/>"##);
        p.shadow(7.0, r##"<path d="M430 400Q520 420 560 520Q570 560 540 566Q520 480 420 440Z" opacity=".75"/>"##);
        p.part(
            r##"<path d="M344 398L374 410L396 384L414 404L438 392Q520 420 552 520Q560 552 536 556Q500 470 436 446V470H344Z" fill="#3b3e41"/><path d="M438 392Q520 420 552 520" fill="none" stroke="#9a9fa2" stroke-width="6"/><path d="M344 398L374 410L396 384L414 404L438 392" fill="none" stroke="#a9adb0" stroke-width="4"/><path d="M404 410V470" stroke="#000" stroke-opacity=".5" stroke-width="6"/>"##,
            &[cloud(200.0, 0.2), specks(0.25)],
        );
    }
    let mut screws = String::new();
    for number in 0..8u16 {
        screws += &screw(319.0, -30.0 + 92.0 * f32::from(number), 8.0, 33.0 * f32::from(number));
    }
    p.paint(screws);
    let streaks = drips(&mut p.dice, (452.0, 40.0), 500.0, 7, 260.0, "#5a5348");
    p.paint(streaks);
}
