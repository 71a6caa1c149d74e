//! Pictures that people bring: read as dots, or refused in one sentence.

use fallwright::file::{Raster, decode_picture, read_picture};
use image::{DynamicImage, ImageFormat, Rgba, RgbaImage};
use proptest::prelude::*;
use std::io::Cursor;

/// Three dots by two: each dot another colour.
fn small() -> RgbaImage {
    RgbaImage::from_fn(3, 2, |x, y| {
        let part = |share: u32| u8::try_from(share * 60).unwrap();
        Rgba([part(x + 1), part(y + 1), 200, 255 - part(x)])
    })
}

fn saved(picture: &DynamicImage, format: ImageFormat) -> Vec<u8> {
    let mut bytes = Vec::new();
    picture
        .write_to(&mut Cursor::new(&mut bytes), format)
        .unwrap();
    bytes
}

fn png() -> Vec<u8> {
    saved(&small().into(), ImageFormat::Png)
}

/// White at the left and black at the right, 16 by 8.
fn jpeg() -> Vec<u8> {
    let halves = RgbaImage::from_fn(16, 8, |x, _| {
        if x < 8 {
            Rgba([255; 4])
        } else {
            Rgba([0, 0, 0, 255])
        }
    });
    saved(
        &DynamicImage::ImageRgb8(DynamicImage::from(halves).into_rgb8()),
        ImageFormat::Jpeg,
    )
}

fn dot(raster: &Raster, x: usize, y: usize) -> [u8; 4] {
    let at = 4 * (y * raster.width + x);
    raster.rgba[at..at + 4].try_into().unwrap()
}

fn why(bytes: &[u8]) -> String {
    decode_picture(bytes).unwrap_err().to_string()
}

#[test]
fn a_png_has_the_dots_that_were_drawn_and_their_opacity() {
    let raster = decode_picture(&png()).unwrap();
    assert_eq!((raster.width, raster.height), (3, 2));
    assert_eq!(raster.rgba, small().into_raw());
}

#[test]
fn a_jpeg_is_read_by_what_it_holds_whatever_its_name() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("sheet.png");
    std::fs::write(&path, jpeg()).unwrap();
    let raster = read_picture(&path).unwrap();
    assert_eq!((raster.width, raster.height), (16, 8));
    assert!(dot(&raster, 1, 4)[0] > 230 && dot(&raster, 14, 4)[0] < 25);
    assert_eq!(dot(&raster, 1, 4)[3], 255);
}

#[test]
fn a_photo_taken_on_its_side_is_turned_upright() {
    // An Exif block that says only: the camera was held so that the top is at the right (6).
    let exif = [
        &b"\xff\xe1\x00\x22Exif\0\0MM\0*\0\0\0\x08"[..],
        b"\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00\x06\x00\x00\x00\x00\x00\x00",
    ]
    .concat();
    let plain = jpeg();
    let turned = [&plain[..2], &exif, &plain[2..]].concat();
    let raster = decode_picture(&turned).unwrap();
    assert_eq!((raster.width, raster.height), (8, 16));
    assert!(dot(&raster, 4, 1)[0] > 230 && dot(&raster, 4, 14)[0] < 25);
}

#[test]
fn what_is_no_png_and_no_jpeg_is_called_by_its_name() {
    for (bytes, words) in [
        (&b"%PDF-1.7 and more"[..], "A PDF page is no picture"),
        (b"GIF89a and more", "Pictures in GIF cannot be read"),
        (b"RIFF\0\0\0\0WEBPVP8 ", "Pictures in WebP cannot be read"),
        (b"II*\0 and more of it", "Pictures in TIFF cannot be read"),
        (b"\0\0\0\x18ftypheic", "This kind of picture or film"),
        (b"flow;head\n1;2\n", "The file is no picture"),
        (b"", "The file is empty"),
    ] {
        let why = why(bytes);
        assert!(why.contains(words) && why.contains(".png"), "{why}");
    }
}

#[test]
fn a_picture_that_is_cut_short_is_refused() {
    let whole = png();
    assert!(why(&whole[..whole.len() / 2]).contains("broken or cut short"));
}

#[test]
fn a_picture_that_claims_to_be_enormous_is_refused_before_it_takes_room() {
    // The size stands at byte 16 of a PNG, and its check at byte 29.
    let mut bytes = png();
    bytes[16..20].copy_from_slice(&60_000_u32.to_be_bytes());
    bytes[20..24].copy_from_slice(&60_000_u32.to_be_bytes());
    let check = crc(&bytes[12..29]);
    bytes[29..33].copy_from_slice(&check.to_be_bytes());
    assert!(
        why(&bytes).contains("60000 by 60000 dots"),
        "{}",
        why(&bytes)
    );
}

/// The check that stands behind every piece of a PNG (CRC-32 of ISO 3309).
fn crc(bytes: &[u8]) -> u32 {
    let turn = |crc: u32, _| (crc >> 1) ^ (0xedb8_8320 * (crc & 1));
    let all = bytes
        .iter()
        .fold(!0, |crc, byte| (0..8).fold(crc ^ u32::from(*byte), turn));
    !all
}

#[test]
fn a_file_that_is_not_there_or_is_a_folder_is_told_with_its_name() {
    let folder = tempfile::tempdir().unwrap();
    let missing = read_picture(&folder.path().join("none.png")).unwrap_err();
    assert!(missing.to_string().contains("none.png"), "{missing}");
    let is_folder = read_picture(folder.path()).unwrap_err();
    assert_eq!(is_folder.what, "This is a folder");
    assert_eq!(is_folder.cure, "Give a picture");
}

proptest! {
    #[test]
    fn prop_damaged_pictures_give_dots_or_a_sentence(
        (at, byte) in (0..400_usize, any::<u8>()),
        use_jpeg in any::<bool>(),
    ) {
        let mut bytes = if use_jpeg { jpeg() } else { png() };
        let at = at % bytes.len();
        bytes[at] = byte;
        if let Ok(raster) = decode_picture(&bytes) {
            prop_assert!(raster.width >= 1 && raster.height >= 1);
            prop_assert_eq!(raster.rgba.len(), 4 * raster.width * raster.height);
        }
    }
}

#[test]
fn a_large_picture_is_made_small_by_means_of_squares() {
    let raster = decode_picture(&png()).unwrap();
    assert_eq!(raster.at_most(3), raster);
    let small = raster.at_most(2);
    assert_eq!((small.width, small.height), (2, 1));
    // Red is 60, 120, 180 from left to right, and the last square is one dot wide.
    assert_eq!((dot(&small, 0, 0)[0], dot(&small, 1, 0)[0]), (90, 180));
    let one = raster.at_most(1);
    assert_eq!((one.width, one.height), (1, 1));
    assert_eq!(dot(&one, 0, 0)[0], 120);
    assert_eq!(raster.at_most(0), one);
}
