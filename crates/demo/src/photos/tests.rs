//! Every scene at a small size, and what must hold of all of them.
#![allow(clippy::cast_precision_loss, reason = "sums of a small picture's grey steps")]

use super::*;
use std::collections::BTreeSet;

const SMALL: usize = 200;

fn shot(scene: Scene, turn: Turn) -> Shot {
    let exif = ShotExif {
        taken: jiff::civil::date(2025, 6, 3).at(9, 41, 7, 0),
        offset_minutes: None,
        position: None,
    };
    Shot { scene, turn, exif: Some(exif), seed: 77 << 8, blur: 0.0, exposure: 0.0 }
}

fn pixels(jpeg: &[u8]) -> turbojpeg::Image<Vec<u8>> {
    turbojpeg::decompress(jpeg, turbojpeg::PixelFormat::RGB).unwrap()
}

/// The mean and the standard deviation of a picture's values.
fn spread(image: &turbojpeg::Image<Vec<u8>>) -> (f64, f64) {
    let count = image.pixels.len() as f64;
    let mean = image.pixels.iter().map(|&value| f64::from(value)).sum::<f64>() / count;
    let square = image
        .pixels
        .iter()
        .map(|&value| (f64::from(value) - mean) * (f64::from(value) - mean))
        .sum::<f64>();
    (mean, (square / count).sqrt())
}

/// The mean difference of two pictures' values.
fn difference(one: &[u8], other: &[u8]) -> f64 {
    assert_eq!(one.len(), other.len());
    let sum: f64 = one.iter().zip(other).map(|(&a, &b)| f64::from(a.abs_diff(b))).sum();
    sum / one.len() as f64
}

/// What a reader of EXIF does to bring a stored picture upright.
fn upright(stored: &turbojpeg::Image<Vec<u8>>, orientation: u16) -> Vec<u8> {
    let (width, height) = (stored.width, stored.height);
    let at =
        |x: usize, y: usize| &stored.pixels[y * stored.pitch + x * 3..y * stored.pitch + x * 3 + 3];
    let (wide, tall) = if orientation > 4 { (height, width) } else { (width, height) };
    let mut turned = Vec::new();
    for y in 0..tall {
        for x in 0..wide {
            turned.extend_from_slice(match orientation {
                1 => at(x, y),
                3 => at(width - 1 - x, height - 1 - y),
                6 => at(y, height - 1 - x),
                8 => at(width - 1 - y, x),
                other => panic!("no camera here writes orientation {other}"),
            });
        }
    }
    turned
}

#[test]
fn the_samples_show_every_scene() {
    let shown: BTreeSet<String> = samples()
        .iter()
        .map(|(_, scene)| format!("{scene:?}").split([' ', '{']).next().unwrap().to_owned())
        .collect();
    let source = include_str!("scene.rs");
    let body = &source[source.find("pub enum Scene").unwrap()..source.find("impl Scene").unwrap()];
    let there: BTreeSet<String> = body
        .lines()
        .filter_map(|line| line.strip_prefix("    "))
        .filter(|line| line.starts_with(|first: char| first.is_ascii_uppercase()))
        .map(|line| line.trim_end_matches([',', '{', ' ']).to_owned())
        .collect();
    assert_eq!(shown, there);
}

#[test]
fn no_scene_is_blank_and_no_two_look_the_same() {
    let mut before: Vec<(&str, Vec<u8>)> = Vec::new();
    for (name, scene) in samples() {
        let image = pixels(&draw_sized(&shot(scene, Turn::Upright), SMALL).unwrap());
        assert_eq!((image.width, image.height), (SMALL, SMALL * 3 / 4), "{name}");
        let (mean, deviation) = spread(&image);
        assert!((20.0..235.0).contains(&mean), "{name}: mean {mean}");
        assert!(deviation > 14.0, "{name}: deviation {deviation}");
        for (other, picture) in &before {
            assert!(difference(picture, &image.pixels) > 6.0, "{name} looks like {other}");
        }
        before.push((name, image.pixels));
    }
}

#[test]
fn every_scene_can_be_taken_in_portrait() {
    for (name, scene) in samples() {
        let image = pixels(&draw_sized(&shot(scene, Turn::QuarterClockwise), SMALL).unwrap());
        assert_eq!(
            (image.width, image.height),
            (SMALL, SMALL * 3 / 4),
            "{name}: stored lying down"
        );
        assert!(spread(&image).1 > 12.0, "{name}");
    }
}

#[test]
fn the_same_shot_gives_the_same_bytes() {
    for (name, scene) in samples() {
        let shot = shot(scene, Turn::Upright);
        assert!(draw_sized(&shot, SMALL).unwrap() == draw_sized(&shot, SMALL).unwrap(), "{name}");
    }
}

#[test]
fn turned_as_its_orientation_says_a_picture_is_upright() {
    for (one, other) in
        [(Turn::Upright, Turn::Half), (Turn::QuarterClockwise, Turn::QuarterAnticlockwise)]
    {
        let scene = Scene::Multimeter { reading: "12.61".to_owned(), unit: "V=".to_owned() };
        let [first, second] = [one, other].map(|turn| {
            let stored = pixels(&draw_sized(&shot(scene.clone(), turn), SMALL).unwrap());
            (upright(&stored, turn.orientation()), stored.pixels)
        });
        assert!(
            difference(&first.0, &second.0) < 4.0,
            "{one:?} and {other:?} brought upright agree"
        );
        assert!(
            difference(&first.1, &second.1) > 12.0,
            "{one:?} and {other:?} are stored differently"
        );
    }
}

#[test]
fn a_portrait_picture_without_exif_is_stored_standing() {
    let shot = Shot { exif: None, ..shot(Scene::Chock, Turn::QuarterClockwise) };
    let image = pixels(&draw_sized(&shot, SMALL).unwrap());
    assert_eq!((image.width, image.height), (SMALL * 3 / 4, SMALL));
}

#[test]
fn a_second_press_of_the_button_is_a_near_duplicate_and_another_seed_is_not() {
    let first = shot(Scene::Battery { terminals_corroded: true }, Turn::Upright);
    let draw = |seed| pixels(&draw_sized(&Shot { seed, ..first.clone() }, SMALL).unwrap()).pixels;
    let (base, again, elsewhere) =
        (draw(first.seed), draw(first.seed + 1), draw(first.seed + (1 << 8)));
    let (near, far) = (difference(&base, &again), difference(&base, &elsewhere));
    assert!(near > 0.5, "not the very same picture: {near}");
    assert!(near < 0.75 * far, "near {near}, far {far}");
}

#[test]
fn blur_takes_detail_away_and_exposure_makes_darker() {
    /// The mean step between neighbouring values; the sensor's noise, which no blur takes away, is a
    /// part of it.
    fn detail(image: &turbojpeg::Image<Vec<u8>>) -> f64 {
        difference(&image.pixels[3..], &image.pixels[..image.pixels.len() - 3])
    }
    let lines = vec!["GAWR FRONT 3500 LB".to_owned(); 7];
    let sharp = shot(Scene::CertificationLabel { lines }, Turn::Upright);
    let draw = |blur, exposure| {
        pixels(&draw_sized(&Shot { blur, exposure, ..sharp.clone() }, SMALL).unwrap())
    };
    let (clear, blurred, dark) = (draw(0.0, 0.0), draw(9.0, 0.0), draw(0.0, -3.0));
    assert!(detail(&blurred) < 0.4 * detail(&clear), "{} {}", detail(&blurred), detail(&clear));
    assert!(spread(&dark).0 < 0.6 * spread(&clear).0);
}

#[test]
fn settings_and_figures_out_of_range_are_refused_in_words() {
    let good = shot(Scene::Chock, Turn::Upright);
    for (blur, exposure) in [(-1.0, 0.0), (f32::NAN, 0.0), (0.0, 9.0), (0.0, f32::INFINITY)] {
        let refused = draw_sized(&Shot { blur, exposure, ..good.clone() }, SMALL).unwrap_err();
        assert!(refused.to_string().contains("blur is 0 to 40"), "{refused}");
    }
    for (scene, words) in [
        (Scene::TreadGauge { thirty_seconds: 21.0 }, "the tread depth in 32nds of an inch is 21"),
        (Scene::Manometer { inches: f32::NAN }, "accepted: 0 to 15"),
        (
            Scene::PressureGauge {
                value: 5.0,
                full_scale: 0.0,
                unit: "psi".to_owned(),
                label: String::new(),
            },
            "the end of the gauge's scale is 0",
        ),
        (
            Scene::PressureGauge {
                value: 99.0,
                full_scale: 60.0,
                unit: "psi".to_owned(),
                label: String::new(),
            },
            "accepted: 0 to 1 of the scale",
        ),
    ] {
        let refused = draw_sized(&shot(scene, Turn::Upright), SMALL).unwrap_err().to_string();
        assert!(refused.contains(words), "{refused}");
    }
}

#[test]
fn letters_that_svg_keeps_for_itself_are_drawn_not_read() {
    let scene = Scene::Label {
        lines: vec!["A & B <c> \"d\" \u{1}".to_owned(), "</text><rect/>".to_owned()],
    };
    assert!(draw_sized(&shot(scene, Turn::Upright), SMALL).is_ok());
    let nothing = Scene::DataPlate { lines: Vec::new() };
    assert!(draw_sized(&shot(nothing, Turn::Upright), SMALL).is_ok());
}
