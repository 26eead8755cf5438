//! A full-sized picture with all that a camera writes beside it, read back by a reader of EXIF.

mod scenario;

use demo::photos::{Scene, Shot, ShotExif, Turn, draw};
use exif::{Exif, In, Tag, Value};
use jiff::civil::date;

fn text(exif: &Exif, tag: Tag) -> Option<String> {
    let field = exif.get_field(tag, In::PRIMARY)?;
    match &field.value {
        Value::Ascii(lines) => {
            Some(lines.iter().map(|line| String::from_utf8_lossy(line).into_owned()).collect())
        }
        other => panic!("{tag} holds {other:?}"),
    }
}

/// Degrees from EXIF's degrees, minutes and seconds.
fn degrees(exif: &Exif, tag: Tag) -> f64 {
    match &exif.get_field(tag, In::PRIMARY).expect("the block holds this angle").value {
        Value::Rational(parts) => {
            parts[0].to_f64() + parts[1].to_f64() / 60.0 + parts[2].to_f64() / 3600.0
        }
        other => panic!("{tag} holds {other:?}"),
    }
}

#[test]
fn what_the_camera_wrote_is_read_back() {
    let shot = Shot {
        scene: Scene::SmokeAlarm { date: "MFG 2018 NOV 06".to_owned() },
        turn: Turn::QuarterAnticlockwise,
        exif: Some(ShotExif {
            taken: date(2025, 6, 3).at(9, 41, 7, 0),
            offset_minutes: Some(-330),
            position: Some((-33.856_8, 151.215_3)),
        }),
        seed: 4 << 8,
        blur: 0.0,
        exposure: 0.0,
    };
    let jpeg = draw(&shot).unwrap();
    let exif = exif::Reader::new().read_from_container(&mut std::io::Cursor::new(&jpeg)).unwrap();
    assert_eq!(text(&exif, Tag::Make).as_deref(), Some("Nearside demo"));
    assert_eq!(text(&exif, Tag::Model).as_deref(), Some("drawn picture"));
    assert_eq!(text(&exif, Tag::DateTimeOriginal).as_deref(), Some("2025:06:03 09:41:07"));
    assert_eq!(text(&exif, Tag::OffsetTimeOriginal).as_deref(), Some("-05:30"));
    assert_eq!(exif.get_field(Tag::Orientation, In::PRIMARY).unwrap().value.get_uint(0), Some(8));
    assert_eq!(text(&exif, Tag::GPSLatitudeRef).as_deref(), Some("S"));
    assert_eq!(text(&exif, Tag::GPSLongitudeRef).as_deref(), Some("E"));
    // The block holds hundredths of a second of arc.
    assert!((degrees(&exif, Tag::GPSLatitude) - 33.856_8).abs() < 0.005 / 3600.0 + 1e-9);
    assert!((degrees(&exif, Tag::GPSLongitude) - 151.215_3).abs() < 0.005 / 3600.0 + 1e-9);
    let size = turbojpeg::read_header(&jpeg).unwrap();
    assert_eq!((size.width, size.height), (1600, 1200), "stored lying down");
    assert_eq!(
        exif.get_field(Tag::PixelXDimension, In::PRIMARY).unwrap().value.get_uint(0),
        Some(1600)
    );
}
