//! Inside: ceiling, floor, windows.

use super::grain::{brushed, cloud, dirt, specks, stain};
use super::kit::{Ground, centred, drips, fitting, hose, letters, screw, spots};
use super::picture::{Light, Picture};
use std::fmt::Write as _;

/// A stain on the ceiling beside a roof vent.
pub(super) fn ceiling_stain(p: &mut Picture) {
    p.light = Light::Lamp;
    p.pitch = -0.16;
    p.part(
        r##"<rect x="-120" y="-120" width="1040" height="840" fill="#e9e5da"/><path d="M150 -120V720M550 -120V720" stroke="#b9b4a6" stroke-width="3"/><path d="M153 -120V720M553 -120V720" stroke="#fff" stroke-width="2"/>"##,
        &[cloud(2400.0, 0.08), brushed(300.0, 300.0, 0.0, 0.04), specks(0.07)],
    );
    let ring = |grow: f32| {
        let mut path = String::new();
        for step in 0..=112u16 {
            let turn = f32::from(step) * 0.0561;
            let reach = 1.0
                + 0.16 * libm::sinf(3.0 * turn + 0.6)
                + 0.09 * libm::sinf(7.0 * turn)
                + 0.05 * libm::sinf(13.0 * turn);
            let _ = write!(
                path,
                "{}{:.0} {:.0}",
                if step == 0 { "M" } else { "L" },
                330.0 + 190.0 * grow * reach * libm::cosf(turn),
                360.0 + 140.0 * grow * reach * libm::sinf(turn)
            );
        }
        path + "Z"
    };
    p.soft(4.0, |far| {
        for (grow, opacity, wide) in [(1.0, 0.22, 7.0), (0.78, 0.18, 9.0), (0.5, 0.22, 12.0)] {
            far.paint(format!(r##"<path d="{d}" fill="#a8793c" opacity="{opacity}"/><path d="{d}" fill="none" stroke="#6b431a" stroke-width="{wide}" opacity="{o}"/>"##, d = ring(grow), o = opacity * 1.9));
        }
        far.grain(cloud(200.0, 0.5));
    });
    let mut body = String::from(
        r##"<rect x="430" y="30" width="310" height="260" rx="16" fill="#f4f2ec" stroke="#a9a598" stroke-width="3"/><rect x="466" y="62" width="238" height="196" rx="6" fill="#b9c9d4"/><rect x="466" y="62" width="238" height="196" rx="6" fill="url(#dish)" opacity=".6"/>"##,
    );
    for line in 0..13u16 {
        let at = f32::from(line) * 18.0;
        let _ = write!(
            body,
            r##"<path d="M{x} 62V258" stroke="#4b5054" stroke-width="1.2"/>"##,
            x = 474.0 + at
        );
        if line < 11 {
            let _ = write!(
                body,
                r##"<path d="M466 {y}H704" stroke="#4b5054" stroke-width="1.2"/>"##,
                y = 72.0 + at
            );
        }
    }
    body += r##"<circle cx="585" cy="160" r="24" fill="#e6e3da" stroke="#77746b"/><path d="M585 160L606 140" stroke="#55534d" stroke-width="9" stroke-linecap="round"/>"##;
    for (x, y) in [(446.0, 46.0), (724.0, 46.0), (446.0, 274.0), (724.0, 274.0)] {
        body += &screw(x, y, 7.0, x);
    }
    p.shadow(5.0, r##"<rect x="434" y="38" width="316" height="264" rx="16" opacity=".4"/>"##);
    p.paint(body);
    let mould = spots(&mut p.dice, [380.0, 286.0, 470.0, 380.0], 60, (1.0, 4.0), "#2c2a22");
    p.paint(mould);
}

/// A soft place in the floor, pressed with a screwdriver.
pub(super) fn floor_soft_spot(p: &mut Picture) {
    p.light = Light::Flash;
    p.pitch = 0.24;
    Ground::Boards.fill(p);
    p.soft(14.0, |far| {
        far.paint(r##"<ellipse cx="380" cy="350" rx="220" ry="130" fill="#2a1b0c" opacity=".5"/><path d="M180 400Q380 540 590 390Q560 500 380 500T180 400Z" fill="#fff" opacity=".08"/>"##);
    });
    p.part(
        r##"<ellipse cx="370" cy="346" rx="190" ry="110" fill="#5d4326" opacity=".55"/>"##,
        &[cloud(260.0, 0.6), stain(300.0, 0.4, 0.6, [70, 50, 30], [40, 28, 18])],
    );
    p.paint(r##"<path d="M300 270L336 300L330 340L372 352L366 396L420 410" fill="none" stroke="#1e130a" stroke-width="5"/><path d="M303 273L339 303L333 343L375 355L369 399" fill="none" stroke="#e9d9bc" stroke-opacity=".6" stroke-width="2"/>"##);
    p.shadow(9.0, r##"<path d="M376 352L640 330L660 380L400 372Z" opacity=".6"/>"##);
    p.paint(r##"<g transform="rotate(-42 372 352)"><path d="M366 344H376L378 350L376 356H366L356 350Z" fill="#9aa0a4"/><rect x="374" y="344" width="190" height="12" fill="url(#chrome)"/><path d="M556 332H580L600 322H760Q776 322 776 350T760 378H600L580 368H556Z" fill="url(#red)"/><path d="M600 334H764M600 350H770M600 366H764" stroke="#4d0d0b" stroke-width="5"/><path d="M556 332H576V368H556Z" fill="#1d1f20"/></g>"##);
    p.paint(r##"<rect x="-120" y="-120" width="1040" height="160" fill="#cfc6b3"/><rect x="-120" y="20" width="1040" height="34" fill="#8a6a44"/><rect x="-120" y="50" width="1040" height="8" fill="#000" opacity=".4"/>"##);
}

/// A double-glazed window fogged between its panes.
pub(super) fn window_fogged(p: &mut Picture) {
    p.light = Light::Shade;
    p.yaw = 0.06;
    p.soft(1.5, |far| Ground::Panelling.fill(far));
    p.soft(9.0, |far| {
        far.paint(r##"<rect x="120" y="66" width="560" height="440" fill="#b9d0e2"/><path d="M120 330Q240 250 380 300T680 280V506H120Z" fill="#5d7a4a"/><path d="M180 330L230 160L280 330ZM470 320L540 130L610 320Z" fill="#3e5a38"/><rect x="120" y="430" width="560" height="80" fill="#8a9460"/>"##);
    });
    p.soft(24.0, |far| {
        far.paint(r##"<path d="M100 560V190Q200 120 290 210T440 190T590 230T700 150V560Z" fill="#eef2f3" opacity=".7"/><path d="M100 560V300Q260 240 400 300T700 270V560Z" fill="#eef2f3" opacity=".6"/>"##);
        far.grain(cloud(260.0, 0.12));
    });
    let drops = spots(&mut p.dice, [130.0, 200.0, 670.0, 500.0], 420, (0.9, 3.6), "#ffffff");
    let dark = spots(&mut p.dice, [130.0, 240.0, 670.0, 500.0], 160, (0.8, 2.2), "#51616a");
    let runs = drips(&mut p.dice, (140.0, 300.0), 660.0, 16, 190.0, "#4a5f55");
    p.paint(drops + &dark + &runs);
    let mut frame = String::from(
        r##"<path d="M70 16H730V556H70ZM120 66V506H680V66Z" fill="#2a2d2f" fill-rule="evenodd"/><path d="M70 16H730L680 66H120Z" fill="#4a4e51"/><path d="M70 556H730L680 506H120Z" fill="#191b1c"/><path d="M120 66H680V506H120Z" fill="none" stroke="#0d0e0e" stroke-width="7"/><rect x="392" y="66" width="20" height="440" fill="#2f3335"/><rect x="394" y="66" width="3" height="440" fill="#6b7074"/><path d="M120 66H680V506H120Z" fill="url(#glass)" opacity=".8"/><rect x="372" y="280" width="26" height="64" rx="6" fill="#1a1c1d" stroke="#6b7074"/>"##,
    );
    for (x, y) in [(94.0, 40.0), (706.0, 40.0), (94.0, 532.0), (706.0, 532.0)] {
        frame += &screw(x, y, 8.0, x);
    }
    p.part(frame, &[cloud(700.0, 0.12), dirt(500.0, 0.12), specks(0.12)]);
}

/// The escape window with its handles and label.
pub(super) fn window_escape(p: &mut Picture, label: &str) {
    p.light = Light::Lamp;
    p.yaw = -0.1;
    p.soft(1.5, |far| Ground::Panelling.fill(far));
    p.soft(8.0, |far| {
        far.paint(r##"<rect x="120" y="60" width="560" height="380" fill="#b9d0e0"/><path d="M110 300Q260 240 400 280T690 260V460H110Z" fill="#7d945f"/><path d="M520 290L560 120L600 290Z" fill="#4b6840"/>"##);
    });
    let mut body = String::from(
        r##"<path d="M60 14H740V516H60ZM110 62V462H690V62Z" fill="#33373a" fill-rule="evenodd"/><path d="M60 14H740L690 62H110Z" fill="#54595c"/><path d="M60 516H740L690 462H110Z" fill="#1f2223"/><rect x="110" y="62" width="580" height="400" fill="url(#glass)"/><path d="M110 62H690V462H110Z" fill="none" stroke="#0d0e0e" stroke-width="7"/>"##,
    );
    for x in [210.0f32, 590.0] {
        let _ = write!(
            body,
            r##"<rect x="{a}" y="428" width="72" height="56" rx="8" fill="#8f1712"/><rect x="{a}" y="428" width="72" height="56" rx="8" fill="url(#red)"/><path d="M{b} 440H{c}Q{d} 440 {d} 452V520Q{d} 534 {x} 534T{e} 520V452Q{e} 440 {b} 440Z" fill="#d8352b" stroke="#5c0f0b" stroke-width="2"/><path d="M{b} 446V522" stroke="#ff9a90" stroke-width="5"/>"##,
            a = x - 36.0,
            b = x - 12.0,
            c = x + 12.0,
            d = x + 20.0,
            e = x - 20.0,
        );
    }
    let _ = write!(
        body,
        r##"<rect x="276" y="474" width="248" height="74" rx="4" fill="#c5221b"/><rect x="280" y="478" width="240" height="66" rx="3" fill="none" stroke="#fff" stroke-width="2.5"/>"##
    );
    body += &centred(400.0, 512.0, fitting(label, 32.0, 226.0), 700, "#fff", label);
    body += &centred(400.0, 535.0, 12.0, 600, "#fff", "PULL RED HANDLES, PUSH WINDOW OUT");
    for x in [84.0, 716.0] {
        body += &screw(x, 40.0, 8.0, x);
        body += &screw(x, 490.0, 8.0, x);
    }
    p.part(
        format!(r##"<g transform="translate(44 20) scale(.89)">{body}</g>"##),
        &[cloud(800.0, 0.1), specks(0.09)],
    );
    p.part(
        r##"<path d="M-120 -120H60V720H-120ZM740 -120H920V720H740Z" fill="#8c5a4a"/><path d="M-60 -120V720M0 -120V720M40 -120V720M770 -120V720M820 -120V720M870 -120V720" stroke="#5b3529" stroke-width="12" opacity=".7"/>"##,
        &[brushed(60.0, 800.0, 0.0, 0.3), specks(0.2)],
    );
    p.paint(
        letters(152.0, 96.0, 11.0, 600, "#33424e", "TEMPERED SAFETY GLAZING")
            + &hose("M60 4H740", 14.0, "#a97a45"),
    );
}
