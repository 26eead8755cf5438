//! Every kind of JPEG and PNG that a camera or a desk may hand over, and what is refused.

use photo::{Format, Limits, Refusal, take_in};
use png::{BitDepth, ColorType};
use turbojpeg::{Colorspace, Compressor, Image, PixelFormat, Subsamp};

use crate::making::{
    Painting, assert_shows, assert_shows_corners, corners, jpeg, jpeg_with, paint, png_of, png_rgb,
    segment, taken_in,
};

#[test]
fn every_sampling_of_colour_shows_the_same() {
    for (width, height) in [(400, 300), (3300, 21), (1999, 1601)] {
        let painting = corners(width, height);
        for sampling in [
            Subsamp::None,
            Subsamp::Sub2x1,
            Subsamp::Sub2x2,
            Subsamp::Sub1x2,
            Subsamp::Sub4x1,
            Subsamp::Sub1x4,
        ] {
            let copies = taken_in(&jpeg_with(&painting, sampling, |_| ())).copies.unwrap();
            if height > 50 {
                assert_shows_corners(&copies.display);
            }
            assert!(copies.display.width.max(copies.display.height) <= 1600);
        }
    }
}

#[test]
fn progressive_arithmetic_and_rgb_jpegs_are_read() {
    let painting = corners(401, 299);
    let kinds: [fn(&mut Compressor); 3] = [
        |compressor| compressor.set_progressive(true).unwrap(),
        |compressor| compressor.set_arithmetic(true).unwrap(),
        |compressor| compressor.set_colorspace(Colorspace::RGB).unwrap(),
    ];
    for kind in kinds {
        let file = jpeg_with(&painting, Subsamp::None, kind);
        assert_shows_corners(&taken_in(&file).copies.unwrap().display);
    }
}

#[test]
fn a_grey_jpeg_stays_grey() {
    let file = jpeg_with(&paint(321, 201, |x, _| [(x / 2) as u8; 3]), Subsamp::Gray, |_| ());
    let copies = taken_in(&file).copies.unwrap();
    assert_shows(&copies.display, (50, 50), [80; 3]);
    assert_shows(&copies.thumbnail, (90, 10), [144; 3]);
}

#[test]
fn the_smallest_pictures_are_neither_lost_nor_enlarged() {
    for (width, height) in [(1, 1), (2, 1), (1, 7), (9, 8), (319, 1)] {
        let painting = paint(width, height, |_, _| [90, 120, 40]);
        for file in [jpeg(&painting), png_rgb(&painting)] {
            let copies = taken_in(&file).copies.unwrap();
            for copy in [&copies.display, &copies.thumbnail] {
                assert_eq!((copy.width as usize, copy.height as usize), (width, height));
                assert_shows(copy, (0, 0), [90, 120, 40]);
            }
        }
    }
}

#[test]
fn printing_colours_are_refused_with_what_to_do() {
    let pixels = vec![100; 16 * 16 * 4];
    let image =
        Image { pixels: &pixels[..], width: 16, pitch: 64, height: 16, format: PixelFormat::CMYK };
    let mut compressor = Compressor::new().unwrap();
    compressor.set_quality(90).unwrap();
    compressor.set_subsamp(Subsamp::None).unwrap();
    let file = compressor.compress_to_vec(image).unwrap();
    let refusal = take_in("plan.jpg", &file, &Limits::default()).unwrap_err();
    assert_eq!(
        refusal.to_string(),
        "\"plan.jpg\": JPEG files in printing colours (CMYK) are not read yet; save the picture \
         as an ordinary RGB JPEG"
    );
}

fn with_alpha(painting: &Painting, alpha: u8) -> Vec<u8> {
    painting.pixels.chunks(3).flat_map(|pixel| [pixel[0], pixel[1], pixel[2], alpha]).collect()
}

#[test]
fn every_kind_of_png_is_read() {
    let painting = corners(61, 43);
    let eight = BitDepth::Eight;
    let rgb = png_rgb(&painting);
    let rgba = png_of(&painting, ColorType::Rgba, eight, &with_alpha(&painting, 255), |_| ());
    let deep: Vec<u8> = painting.pixels.iter().flat_map(|&byte| [byte, byte]).collect();
    let sixteen = png_of(&painting, ColorType::Rgb, BitDepth::Sixteen, &deep, |_| ());
    let numbers: Vec<u8> = painting
        .pixels
        .chunks(3)
        .map(|pixel| match pixel {
            [200, ..] => 0,
            [_, 200, _] => 1,
            [_, _, 200] => 2,
            _ => 3,
        })
        .collect();
    let palette = png_of(&painting, ColorType::Indexed, eight, &numbers, |encoder| {
        encoder.set_palette([200, 30, 30, 30, 200, 30, 30, 30, 200, 250, 250, 250].to_vec());
    });
    for file in [rgb, rgba, sixteen, palette] {
        let photo = taken_in(&file);
        assert_eq!(photo.format, Format::Png);
        assert_shows_corners(&photo.copies.unwrap().display);
    }
}

#[test]
fn grey_pngs_of_every_depth_are_read() {
    let painting = paint(64, 8, |_, _| [0; 3]);
    for (depth, bits) in
        [(BitDepth::One, 1), (BitDepth::Two, 2), (BitDepth::Four, 4), (BitDepth::Eight, 8)]
    {
        let samples = vec![0xff; 64 * 8 * bits / 8];
        let file = png_of(&painting, ColorType::Grayscale, depth, &samples, |_| ());
        assert_shows(&taken_in(&file).copies.unwrap().display, (50, 50), [255; 3]);
    }
    let samples = [0x40, 0x00].repeat(64 * 8);
    let file = png_of(&painting, ColorType::Grayscale, BitDepth::Sixteen, &samples, |_| ());
    assert_shows(&taken_in(&file).copies.unwrap().display, (50, 50), [0x40; 3]);
}

#[test]
fn what_is_clear_in_a_png_is_white() {
    let painting = paint(40, 40, |_, _| [200, 30, 30]);
    for (alpha, shown) in [(0, [255; 3]), (255, [200, 30, 30]), (128, [227, 142, 142])] {
        let samples = with_alpha(&painting, alpha);
        let file = png_of(&painting, ColorType::Rgba, BitDepth::Eight, &samples, |_| ());
        assert_shows(&taken_in(&file).copies.unwrap().display, (50, 50), shown);
    }
    let samples = [0, 128].repeat(40 * 40);
    let file = png_of(&painting, ColorType::GrayscaleAlpha, BitDepth::Eight, &samples, |_| ());
    assert_shows(&taken_in(&file).copies.unwrap().display, (50, 50), [127; 3]);
}

#[test]
fn a_large_png_is_shrunk_like_a_jpeg() {
    let copies = taken_in(&png_rgb(&corners(3301, 1650))).copies.unwrap();
    assert_eq!((copies.display.width, copies.display.height), (1600, 800));
    assert_shows_corners(&copies.display);
    assert_shows_corners(&copies.thumbnail);
}

/// The library that writes PNG here writes no interlaced ones, so this one is put together from
/// its passes, each of which is filtered and packed as a picture of its own.
#[test]
fn an_interlaced_png_shows_the_same_as_a_plain_one() {
    for (width, height) in [(61, 43), (3, 2), (1, 9), (3300, 40)] {
        let painting = corners(width, height);
        let plain = png_rgb(&painting);
        let woven = interlaced(&painting);
        let (plain, woven) = (taken_in(&plain), taken_in(&woven));
        assert_eq!(woven.damage, None);
        assert_eq!(plain.copies, woven.copies, "{width} × {height}");
    }
}

fn interlaced(painting: &Painting) -> Vec<u8> {
    let mut rows = Vec::new();
    for (left, top, across, down) in [
        (0, 0, 8, 8),
        (4, 0, 8, 8),
        (0, 4, 4, 8),
        (2, 0, 4, 4),
        (0, 2, 2, 4),
        (1, 0, 2, 2),
        (0, 1, 1, 2),
    ] {
        if left >= painting.width {
            continue;
        }
        for y in (top..painting.height).step_by(down) {
            rows.push(0);
            for x in (left..painting.width).step_by(across) {
                rows.extend(painting.at(x, y));
            }
        }
    }
    let mut header = (painting.width as u32).to_be_bytes().to_vec();
    header.extend((painting.height as u32).to_be_bytes());
    header.extend([8, 2, 0, 0, 1]);
    let mut file = b"\x89PNG\r\n\x1a\n".to_vec();
    for (kind, content) in [(b"IHDR", header), (b"IDAT", stored(&rows)), (b"IEND", vec![])] {
        file.extend((content.len() as u32).to_be_bytes());
        let start = file.len();
        file.extend(kind);
        file.extend(content);
        let sum = !file[start..].iter().fold(u32::MAX, |sum, &byte| {
            (0..8).fold(sum ^ u32::from(byte), |sum, _| {
                if sum & 1 == 1 { 0xedb8_8320 ^ (sum >> 1) } else { sum >> 1 }
            })
        });
        file.extend(sum.to_be_bytes());
    }
    file
}

/// The bytes as a zlib stream that packs nothing (RFC 1950; RFC 1951, section 3.2.4).
fn stored(bytes: &[u8]) -> Vec<u8> {
    let mut stream = vec![0x78, 0x01];
    let mut parts = bytes.chunks(65_535).peekable();
    while let Some(part) = parts.next() {
        stream.push(u8::from(parts.peek().is_none()));
        stream.extend((part.len() as u16).to_le_bytes());
        stream.extend((!(part.len() as u16)).to_le_bytes());
        stream.extend(part);
    }
    let (mut low, mut high) = (1_u32, 0_u32);
    for &byte in bytes {
        low = (low + u32::from(byte)) % 65_521;
        high = (high + low) % 65_521;
    }
    stream.extend((high << 16 | low).to_be_bytes());
    stream
}

#[test]
fn what_is_no_picture_is_refused_with_what_it_looks_like() {
    let cases: [(&[u8], &str); 5] = [
        (b"meter reading 121.4 V\n", "it looks like text"),
        (b"%PDF-1.7\n\0\0", "it is a PDF"),
        (b"PK\x03\x04\0\0", "it is a ZIP archive or an office document"),
        (b"\0\0\0\x18ftypmp42\0\0", "it is a video"),
        (&[0, 1, 2, 3], "its first bytes are those of no known picture format"),
    ];
    for (bytes, looks_like) in cases {
        let refusal = take_in("notes.jpg", bytes, &Limits::default()).unwrap_err();
        assert_eq!(refusal, Refusal::NotAPicture { name: "notes.jpg".to_owned(), looks_like });
        let sentence = refusal.to_string();
        assert!(sentence.contains("\"notes.jpg\" is not a picture"), "{sentence}");
        assert!(sentence.ends_with("JPEG and PNG files are accepted"), "{sentence}");
    }
}

#[test]
fn other_pictures_are_refused_with_what_to_do() {
    let cases: [(&[u8], &str); 5] = [
        (b"\0\0\0\x18ftypheic\0\0\0\0mif1", "HEIC photos are not read yet; set the camera to JPEG"),
        (b"II*\0\x08\0\0\0", "TIFF pictures and raw camera files are not read yet; set the camera"),
        (b"RIFF\0\0\0\0WEBPVP8 ", "WebP pictures are not read yet; save the picture as JPEG"),
        (b"GIF89a", "GIF pictures are not read yet; save the picture as JPEG"),
        (b"\0\0\0\x18ftypavif\0\0\0\0mif1", "AVIF pictures are not read yet; save the picture"),
    ];
    for (bytes, words) in cases {
        let sentence = take_in("IMG_1", bytes, &Limits::default()).unwrap_err().to_string();
        assert!(sentence.starts_with("\"IMG_1\": "), "{sentence}");
        assert!(sentence.contains(words), "{sentence}");
    }
}

#[test]
fn an_empty_file_is_refused() {
    let sentence = take_in("IMG_2.JPG", b"", &Limits::default()).unwrap_err().to_string();
    assert_eq!(sentence, "\"IMG_2.JPG\" is empty; copy it from the camera again");
}

#[test]
fn what_is_over_a_limit_is_refused_before_it_is_decoded() {
    let file = jpeg(&corners(200, 100));
    let limits = Limits::default;
    for (limits, words) in [
        (Limits { file_bytes: 100, ..limits() }, "accepted: at most 100 bytes"),
        (Limits { pixels: 19_999, ..limits() }, "200 × 100 pixels; accepted: sides of at most"),
        (Limits { side: 199, ..limits() }, "200 × 100 pixels; accepted: sides of at most 199"),
    ] {
        let sentence = take_in("big", &file, &limits).unwrap_err().to_string();
        assert!(sentence.starts_with("\"big\" is too large: "), "{sentence}");
        assert!(sentence.contains(words), "{sentence}");
        let png = png_rgb(&corners(200, 100));
        assert!(take_in("big", &png, &limits).is_err());
    }
    assert!(take_in("fits", &file, &Limits { pixels: 20_000, side: 200, ..limits() }).is_ok());
}

#[test]
fn a_header_that_claims_thirteen_gigabytes_is_refused() {
    let mut file = jpeg(&corners(64, 48));
    let frame = segment(&file, &[0xc0, 0xc2]);
    file[frame + 5..frame + 9].copy_from_slice(&[0xff, 0xdc, 0xff, 0xdc]);
    let refusal = take_in("bomb.jpg", &file, &Limits::default()).unwrap_err();
    assert!(matches!(refusal, Refusal::TooLarge { .. }), "{refusal}");
    assert!(refusal.to_string().contains("65500 × 65500 pixels"), "{refusal}");
}

#[test]
fn a_progressive_jpeg_of_endless_scans_is_refused() {
    let file = jpeg_with(&corners(64, 48), Subsamp::Sub2x2, |compressor| {
        compressor.set_progressive(true).unwrap();
    });
    let start = segment(&file, &[0xda]);
    let length = file[start + 2..].windows(2).position(|two| two[0] == 0xff && two[1] > 0).unwrap();
    let scan = &file[start..start + 2 + length];
    let mut bomb = file[..start].to_vec();
    for _ in 0..150 {
        bomb.extend(scan);
    }
    bomb.extend(&file[start..]);
    let refusal = take_in("bomb.jpg", &bomb, &Limits::default()).unwrap_err();
    assert!(refusal.to_string().contains("accepted: at most 100 scans"), "{refusal}");
}
