//! Pictures: reads a site plan or a photo as plain pixels, independent of the file format.

use super::FileError;
use super::refused::{cannot, is_folder};
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageError, ImageFormat, ImageReader, Limits};
use std::fs::{self, File};
use std::io::{Cursor, Read};
use std::path::Path;

/// Largest picture file that is read, bytes: 64 MiB.
pub const MOST_PICTURE_BYTES: u64 = 64 * 1024 * 1024;

/// Largest picture, pixels: 64 million, what a good camera takes, and 256 MiB once decoded.
pub const MOST_PICTURE_DOTS: u64 = 64_000_000;

/// Memory limit of a decoder, for the pixels and its own buffers, bytes.
const MOST_ROOM: u64 = 10 * MOST_PICTURE_DOTS;

/// A picture as pixels.
#[derive(Clone, PartialEq, Eq)]
pub struct Raster {
    /// Width, pixels, at least 1.
    pub width: usize,
    /// Height, pixels, at least 1.
    pub height: usize,
    /// Red, green, blue and opacity of every pixel, 0 to 255 each, row by row from the top: `4 · width · height` bytes.
    /// The colours are not multiplied by the opacity.
    pub rgba: Vec<u8>,
}

impl Raster {
    /// Returns the picture reduced to at most `side` pixels along each side, `side` at least 1: each pixel is the mean
    /// of a square of pixels. A picture that is small enough is returned unchanged.
    pub fn at_most(&self, side: usize) -> Raster {
        let longest = self.width.max(self.height);
        let by = longest.div_ceil(side.max(1)).max(1);
        if by == 1 {
            return self.clone();
        }
        let (width, height) = (self.width.div_ceil(by), self.height.div_ceil(by));
        let places = (0..height).flat_map(|y| (0..width).map(move |x| (x, y)));
        let rgba = places
            .flat_map(|(x, y)| self.mean((x * by, y * by), by))
            .collect();
        Raster {
            width,
            height,
            rgba,
        }
    }

    /// The mean of a square of `by` pixels a side, as far as it lies in the picture.
    fn mean(&self, (left, top): (usize, usize), by: usize) -> [u8; 4] {
        let (mut sums, mut count) = ([0_usize; 4], 0_usize);
        for y in top..self.height.min(top + by) {
            let (from, to) = (
                y * self.width + left,
                y * self.width + self.width.min(left + by),
            );
            let row = self.rgba.get(4 * from..4 * to).unwrap_or_default();
            for dot in row.chunks_exact(4) {
                for (sum, part) in sums.iter_mut().zip(dot) {
                    *sum += usize::from(*part);
                }
                count += 1;
            }
        }
        // A mean of bytes is a byte.
        sums.map(|sum| u8::try_from(sum / count.max(1)).unwrap_or(u8::MAX))
    }
}

/// Omits the pixels, of which there are millions.
impl std::fmt::Debug for Raster {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(out, "Raster {{ {} × {} }}", self.width, self.height)
    }
}

/// Reads a PNG or JPEG file; its content gives the format, not its name.
///
/// # Errors
/// Files that are missing, locked, folders or over [`MOST_PICTURE_BYTES`] long, and as [`decode_picture`].
pub fn read_picture(path: &Path) -> Result<Raster, FileError> {
    bytes_of(path)
        .and_then(|bytes| decode_picture(&bytes))
        .map_err(|error| error.file(path))
}

/// Decodes a PNG or JPEG picture, rotated as the orientation in its metadata says.
///
/// # Errors
/// Any other format, by name where it is a common one; broken data; more than [`MOST_PICTURE_DOTS`].
pub fn decode_picture(bytes: &[u8]) -> Result<Raster, FileError> {
    let format = match image::guess_format(bytes) {
        Ok(format @ (ImageFormat::Png | ImageFormat::Jpeg)) => format,
        _ => return Err(other(bytes)),
    };
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
    let mut limits = Limits::default();
    limits.max_alloc = Some(MOST_ROOM);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(|error| broken(&error))?;
    let (width, height) = decoder.dimensions();
    if u64::from(width) * u64::from(height) > MOST_PICTURE_DOTS {
        return Err(too_many(width, height));
    }
    // A picture without an orientation is upright.
    let held = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let mut picture = DynamicImage::from_decoder(decoder).map_err(|error| broken(&error))?;
    picture.apply_orientation(held);
    let dots = picture.into_rgba8();
    let side = |dots: u32| usize::try_from(dots).unwrap_or(0);
    Ok(Raster {
        width: side(dots.width()),
        height: side(dots.height()),
        rgba: dots.into_raw(),
    })
}

fn bytes_of(path: &Path) -> Result<Vec<u8>, FileError> {
    let metadata = fs::metadata(path).map_err(|error| cannot("read", &error))?;
    if metadata.is_dir() {
        return Err(is_folder("give a picture"));
    }
    let mut bytes = Vec::new();
    let file = File::open(path).map_err(|error| cannot("read", &error))?;
    file.take(MOST_PICTURE_BYTES + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| cannot("read", &error))?;
    if bytes.len() as u64 > MOST_PICTURE_BYTES {
        let most = MOST_PICTURE_BYTES / (1024 * 1024);
        return Err(FileError::new(
            format!("the picture is over {most} MiB long"),
            "save it smaller",
        ));
    }
    Ok(bytes)
}

/// The error for anything but PNG and JPEG, which names common formats.
fn other(bytes: &[u8]) -> FileError {
    let named = match image::guess_format(bytes) {
        _ if bytes.is_empty() => "the file is empty",
        _ if bytes.starts_with(b"%PDF") => {
            return FileError::new(
                "a PDF page is no picture",
                "show the page on the screen, take a picture of it, and save that as .png",
            );
        }
        _ if bytes.get(4..8) == Some(b"ftyp") => "this kind of picture or film cannot be read",
        Ok(ImageFormat::Gif) => "pictures in GIF cannot be read",
        Ok(ImageFormat::WebP) => "pictures in WebP cannot be read",
        Ok(ImageFormat::Tiff) => "pictures in TIFF cannot be read",
        Ok(ImageFormat::Bmp) => "pictures in BMP cannot be read",
        Ok(_) => "this kind of picture cannot be read",
        Err(_) => "the file is no picture",
    };
    FileError::new(named, "give a picture saved as .png or .jpg")
}

fn too_many(width: u32, height: u32) -> FileError {
    let most = MOST_PICTURE_DOTS / 1_000_000;
    FileError::new(
        format!("the picture has {width} by {height} dots, over {most} million"),
        "save it smaller: some thousand dots a side show all that can be read off it",
    )
}

fn broken(error: &ImageError) -> FileError {
    match error {
        ImageError::Limits(_) => FileError::new(
            "the picture is too large to be opened",
            "save it smaller: some thousand dots a side show all that can be read off it",
        ),
        _ => FileError::new(
            "the picture is broken or cut short",
            "open it in another program, and save it from there as .png",
        ),
    }
}
