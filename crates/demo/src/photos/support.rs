//! What the unit stands on: jacks, piers, chocks, the ground under a step.

use super::grain::{brushed, cloud, dirt, rust, specks, stain};
use super::kit::{Ground, crack, hex_bolt, polygon, rivet};
use super::picture::{Light, Picture};
use std::fmt::Write as _;

/// A screw jack on a concrete pad.
pub(super) fn jack_stand(p: &mut Picture, pad_cracked: bool) {
    p.light = Light::Shade;
    p.soft(5.0, |far| {
        Ground::Gravel.fill(far);
        far.paint(r##"<rect x="-120" y="-120" width="1040" height="330" fill="#1c1b19"/><rect x="-120" y="190" width="1040" height="120" fill="url(#rise)"/>"##);
    });
    p.part(
        r##"<rect x="-120" y="-60" width="1040" height="116" fill="#3a3d3f"/><rect x="-120" y="-60" width="1040" height="40" fill="#4c5052"/><rect x="-120" y="40" width="1040" height="16" fill="#5d6163"/>"##,
        &[cloud(700.0, 0.3), rust(500.0, 0.16), dirt(600.0, 0.3), specks(0.25)],
    );
    p.shadow(12.0, r##"<path d="M130 470H720L760 590H170Z" opacity=".8"/>"##);
    let mut pad = String::from(
        r##"<path d="M150 440L650 440L700 500H100Z" fill="#b3afa6"/><path d="M100 500H700V566H100Z" fill="#8b877e"/><path d="M100 500H700" stroke="#d5d1c8" stroke-width="3"/>"##,
    );
    if pad_cracked {
        pad += &crack(&mut p.dice, (330.0, 438.0), (372.0, 500.0), 9.0);
        pad += &crack(&mut p.dice, (372.0, 496.0), (352.0, 568.0), 16.0);
        pad += r##"<path d="M372 500L352 566H420L440 500Z" fill="#000" opacity=".1"/>"##;
    }
    p.part(pad, &[cloud(300.0, 0.25), dirt(400.0, 0.3), specks(0.35)]);
    p.shadow(5.0, r##"<ellipse cx="416" cy="464" rx="140" ry="20" opacity=".8"/>"##);
    let mut jack = String::from(
        r##"<path d="M286 452L372 196H428L514 452H470L410 240H390L330 452Z" fill="#5b6064"/><path d="M286 452L372 196H390L330 452Z" fill="#7a8084"/><path d="M470 452L410 240H428L514 452Z" fill="#42474a"/><path d="M318 360H482V380H318Z" fill="#52575b"/><rect x="276" y="446" width="248" height="16" rx="4" fill="#6b7074"/><rect x="276" y="458" width="248" height="6" fill="#2a2d2f"/><path d="M362 184H438V214H362Z" fill="#6b7074"/><rect x="384" y="96" width="32" height="240" fill="url(#steelh)"/>"##,
    );
    for thread in 0..14u16 {
        let y = 100.0 + 7.0 * f32::from(thread);
        let _ = write!(
            jack,
            r##"<path d="M382 {y}L418 {b}" stroke="#222" stroke-opacity=".65" stroke-width="2.6"/>"##,
            b = y + 4.0
        );
    }
    jack += r##"<rect x="346" y="176" width="108" height="22" rx="4" fill="url(#steel)" stroke="#333"/><path d="M340 56H460L446 96H354Z" fill="#6b7074"/><path d="M340 56H460V66H340Z" fill="#8b9094"/>"##;
    jack += &hex_bolt(400.0, 187.0, 12.0, 0.0, "#8b9094");
    p.part(jack, &[cloud(300.0, 0.25), rust(240.0, 0.26), specks(0.2)]);
    p.paint(r##"<path d="M60 640Q120 560 220 566T420 580T640 574T800 640V740H0Z" fill="#5c5a40" opacity=".25"/>"##);
}

/// A pier of concrete blocks with wedges under the frame.
pub(super) fn pier_blocks(p: &mut Picture, tilted: bool) {
    p.light = Light::Flash;
    p.soft(5.0, |far| {
        far.paint(r##"<rect x="-120" y="-120" width="1040" height="840" fill="#15140f"/><rect x="-120" y="420" width="1040" height="300" fill="#6a5b46"/>"##);
        far.grain(cloud(300.0, 0.5));
        far.grain(specks(0.5));
    });
    let lean = if tilted { 5.5 } else { 0.0 };
    p.shadow(14.0, r##"<path d="M190 520H720L760 640H220Z" opacity=".8"/>"##);
    let mut blocks = String::new();
    for (number, y) in [400.0f32, 286.0, 172.0].into_iter().enumerate() {
        let slip =
            if tilted { [0.0, 10.0, 24.0][number % 3] } else { [0.0, -4.0, 3.0][number % 3] };
        let shade = ["#9c998f", "#a8a59b", "#a09d94"][number % 3];
        let _ = write!(
            blocks,
            r##"<g transform="translate({slip} 0)"><rect x="220" y="{y}" width="340" height="112" fill="{shade}"/><path d="M560 {y}L616 {b}V{c}L560 {d}Z" fill="#5b5850"/><rect x="252" y="{e}" width="124" height="66" rx="8" fill="#141310"/><rect x="404" y="{e}" width="124" height="66" rx="8" fill="#141310"/><path d="M252 {f}L266 {g}H362L376 {f}Z" fill="#3b3932"/><path d="M404 {f}L418 {g}H514L528 {f}Z" fill="#3b3932"/><rect x="220" y="{h}" width="340" height="5" fill="#000" opacity=".5"/></g>"##,
            b = y - 16.0,
            c = y + 92.0,
            d = y + 112.0,
            e = y + 24.0,
            f = y + 90.0,
            g = y + 74.0,
            h = y + 109.0,
        );
    }
    p.part(
        format!(
            r##"<rect x="180" y="508" width="470" height="44" fill="#77746b"/><rect x="180" y="508" width="470" height="6" fill="#aaa79e"/><g transform="rotate({lean} 400 510)">{blocks}<path d="M214 150L590 130V148L214 172Z" fill="#9a7446"/><path d="M214 132L590 150L214 152Z" fill="#b48a55"/><rect x="200" y="112" width="400" height="24" fill="#a37c4b"/></g>"##
        ),
        &[cloud(240.0, 0.3), dirt(500.0, 0.25), specks(0.4)],
    );
    p.part(
        r##"<rect x="-120" y="-40" width="1040" height="150" fill="#383a3c"/><rect x="-120" y="-40" width="1040" height="30" fill="#505355"/><rect x="-120" y="92" width="1040" height="20" fill="#606466"/>"##,
        &[cloud(700.0, 0.3), rust(600.0, 0.22), specks(0.25)],
    );
    if tilted {
        p.shadow(2.0, r##"<path d="M250 112L620 112L610 126Z" opacity=".9"/>"##);
    }
}

/// A chock against a wheel.
pub(super) fn chock(p: &mut Picture) {
    p.light = Light::Sun;
    p.soft(1.6, |far| Ground::Gravel.fill(far));
    p.shadow(16.0, r##"<ellipse cx="330" cy="520" rx="420" ry="50" opacity=".8"/>"##);
    let mut tread = String::new();
    for number in 0..60u16 {
        let _ = write!(
            tread,
            r##"<rect x="228" y="-252" width="44" height="34" fill="#232425" transform="rotate({} 250 90)"/>"##,
            f32::from(number) * 6.0
        );
    }
    let mut holes = String::new();
    for number in 0..8u16 {
        let _ = write!(
            holes,
            r##"<path d="M224 246Q250 258 276 246L270 212Q250 204 230 212Z" fill="#151617" transform="rotate({} 250 90)"/>"##,
            f32::from(number) * 45.0
        );
    }
    p.part(
        format!(
            r##"<circle cx="250" cy="90" r="430" fill="#161718"/>{tread}<circle cx="250" cy="90" r="404" fill="#2f3133"/><circle cx="250" cy="90" r="404" fill="url(#sheen)" opacity=".5"/><circle cx="250" cy="90" r="330" fill="#393b3d"/><circle cx="250" cy="90" r="270" fill="#222426"/><circle cx="250" cy="90" r="240" fill="#b3b7ba"/><circle cx="250" cy="90" r="240" fill="url(#steel)"/><circle cx="250" cy="90" r="205" fill="#8f9599"/>{holes}<circle cx="250" cy="90" r="60" fill="#7c8286"/><circle cx="250" cy="90" r="60" fill="url(#ball)"/>"##
        ),
        &[cloud(700.0, 0.16), dirt(500.0, 0.3), specks(0.16)],
    );
    p.shadow(8.0, r##"<path d="M430 540L760 540L700 570H450Z" opacity=".8"/>"##);
    p.part(
        r##"<path d="M470 520Q560 480 566 330L610 322Q640 430 720 520Z" fill="#e0a81c"/><path d="M610 322Q640 430 720 520L690 530Q600 440 590 326Z" fill="#a87a0c"/><path d="M470 520H720V540H462Z" fill="#8d660a"/><path d="M520 500Q576 460 582 390M500 516H690" fill="none" stroke="#7d5a08" stroke-width="6"/><path d="M610 322L566 330" stroke="#f8dd80" stroke-width="5"/><circle cx="640" cy="488" r="14" fill="#1d1b15"/>"##,
        &[cloud(300.0, 0.16), dirt(300.0, 0.3), specks(0.16)],
    );
    p.paint(r##"<path d="M640 488C680 600 740 560 860 610" fill="none" stroke="#c9c1ad" stroke-width="9"/><path d="M640 488C680 600 740 560 860 610" fill="none" stroke="#8a806a" stroke-width="9" stroke-dasharray="5 7"/>"##);
}

/// The folding step under the entry door, its tread worn.
pub(super) fn step(p: &mut Picture) {
    p.light = Light::Sun;
    p.soft(4.0, |far| {
        Ground::Gravel.fill(far);
        far.paint(r##"<rect x="-120" y="-120" width="1040" height="300" fill="#dad8d1"/><rect x="120" y="-120" width="560" height="270" fill="#c9c6bd"/><rect x="120" y="-120" width="560" height="270" fill="none" stroke="#8a8780" stroke-width="12"/><rect x="-120" y="178" width="1040" height="70" fill="#24221f"/><rect x="-120" y="170" width="1040" height="10" fill="#9a978f"/>"##);
    });
    p.shadow(16.0, r##"<path d="M150 520H690L760 610H100Z" opacity=".75"/>"##);
    let mut holes = String::new();
    for row in 0..3u16 {
        for column in 0..14u16 {
            let (y, x) = (412.0 + 22.0 * f32::from(row), 172.0 + 34.0 * f32::from(column));
            let _ = write!(
                holes,
                r##"<ellipse cx="{x}" cy="{y}" rx="9" ry="5.5" fill="#0d0e0f"/><path d="M{a} {b}a9 5.5 0 0 1 18 0" fill="none" stroke="#a3a8ab" stroke-width="1.6"/>"##,
                a = x - 9.0,
                b = y + 1.0
            );
        }
    }
    p.part(
        format!(
            r##"<path d="M206 180H236L216 400H180ZM594 180H564L584 400H620Z" fill="#4c5053"/><path d="M206 180H216L192 400H180ZM594 180H584L608 400H620Z" fill="#70757a"/><path d="M216 250L564 330M584 250L236 330" stroke="#3b3f42" stroke-width="12"/><path d="M150 396H650L676 478H124Z" fill="#5f6468"/><path d="M150 396H650L676 478H124Z" fill="url(#sheen)"/><path d="M124 478H676V506H124Z" fill="#33373a"/><path d="M124 478H676" stroke="#a9aeb2" stroke-width="3"/>{holes}<path d="M132 466H668L672 478H128Z" fill="#d9b32c"/>"##
        ),
        &[cloud(400.0, 0.2), rust(360.0, 0.14), dirt(500.0, 0.25), specks(0.22)],
    );
    p.part(
        polygon(&[(330.0, 404.0), (470.0, 404.0), (486.0, 464.0), (318.0, 464.0)], "#c4c8ca"),
        &[brushed(300.0, 30.0, 80.0, 0.3), stain(160.0, 0.62, 1.0, [95, 100, 104], [80, 84, 88])],
    );
    p.paint(
        rivet(196.0, 388.0, 9.0)
            + &rivet(604.0, 388.0, 9.0)
            + &rivet(221.0, 196.0, 8.0)
            + &rivet(579.0, 196.0, 8.0),
    );
}
