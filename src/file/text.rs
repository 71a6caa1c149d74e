//! Reads and writes layouts as text.

use super::outline::locate;
use super::{FORMAT_VERSION, FileError, Format, MOST_BYTES, explain, fold, version};
use crate::layout::{
    Ageing, Coefficients, Fault, Fixed, Friction, Joint, Layout, Limits, Run, Underlay, Vessel,
    WaterSettings, Way, Weather,
};
use crate::units::UnitSystem;
use ron::extensions::Extensions;
use serde::{Deserialize, Serialize};

/// The content of a file: the format version and the fields of the layout.
#[derive(Serialize, Deserialize)]
#[serde(rename = "Layout", deny_unknown_fields)]
struct Whole {
    fallwright: u32,
    title: String,
    #[serde(default)]
    units: UnitSystem,
    #[serde(default)]
    water: WaterSettings,
    #[serde(default)]
    friction: Friction,
    #[serde(default)]
    coefficients: Coefficients,
    #[serde(default)]
    limits: Limits,
    #[serde(default)]
    ageing: Ageing,
    #[serde(default)]
    weather: Weather,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    first_fill_m3_s: Option<f64>,
    #[serde(default)]
    vessels: Vec<Vessel>,
    #[serde(default)]
    joints: Vec<Joint>,
    #[serde(default)]
    fixed: Vec<Fixed>,
    #[serde(default)]
    runs: Vec<Run>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    ways: Vec<Way>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    underlay: Option<Underlay>,
}

impl From<Layout> for Whole {
    fn from(layout: Layout) -> Self {
        // Destructured by name, so that a new field of the layout cannot be forgotten here.
        let Layout {
            title,
            units,
            water,
            friction,
            coefficients,
            limits,
            ageing,
            weather,
            first_fill_m3_s,
            vessels,
            joints,
            fixed,
            runs,
            ways,
            underlay,
        } = layout;
        Whole {
            fallwright: FORMAT_VERSION,
            title,
            units,
            water,
            friction,
            coefficients,
            limits,
            ageing,
            weather,
            first_fill_m3_s,
            vessels,
            joints,
            fixed,
            runs,
            ways,
            underlay,
        }
    }
}

impl From<Whole> for Layout {
    fn from(whole: Whole) -> Self {
        Layout {
            title: whole.title,
            units: whole.units,
            water: whole.water,
            friction: whole.friction,
            coefficients: whole.coefficients,
            limits: whole.limits,
            ageing: whole.ageing,
            weather: whole.weather,
            first_fill_m3_s: whole.first_fill_m3_s,
            vessels: whole.vessels,
            joints: whole.joints,
            fixed: whole.fixed,
            runs: whole.runs,
            ways: whole.ways,
            underlay: whole.underlay,
        }
    }
}

fn notation() -> ron::Options {
    ron::Options::default().with_default_extension(Extensions::IMPLICIT_SOME)
}

/// Parses a layout. A byte-order mark at the start is skipped.
///
/// # Errors
/// Text that is not a layout, has an unknown version, violates the format, or describes an impossible layout
/// ([`Layout::faults`]): the first such error, with its line and part.
pub fn parse(text: &str, format: Format) -> Result<Layout, FileError> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    version::check(text, format)?;
    let whole: Result<Whole, FileError> = match format {
        Format::Ron => notation()
            .from_str(text)
            .map_err(|error| explain::ron(text, error)),
        Format::Json => serde_json::from_str(text).map_err(|error| explain::json(text, &error)),
    };
    let layout = Layout::from(whole?);
    match refuse(&layout) {
        None => Ok(layout),
        Some((fault, error)) => {
            let part = fault.part.as_ref().map(|id| id.as_str());
            // Of two parts with one id, the second one is the error.
            let nth = usize::from(fault.field == "id" && fault.what.ends_with("twice"));
            let offset = locate(text, part.map(|id| (id, nth)), &fault.field);
            Err(error.at(text, offset.unwrap_or_default()))
        }
    }
}

/// The first fault of a layout, and the error that reports it.
fn refuse(layout: &Layout) -> Option<(Fault, FileError)> {
    let faults = layout.faults();
    let more = faults.len().saturating_sub(1);
    let first = faults.into_iter().next()?;
    let cure = match more {
        0 => first.cure.to_string(),
        1 => format!("{} (and one more fault)", first.cure),
        _ => format!("{} (and {more} more faults)", first.cure),
    };
    let part = first.part.as_ref().map(|id| id.to_string());
    let error = FileError::new(first.what.to_string(), cure).part(part);
    Some((first, error))
}

/// Returns `layout` as text: the same bytes for the same layout, which [`parse`] reads back bit for bit.
///
/// # Errors
/// An impossible layout ([`Layout::faults`]), or one whose text is over [`MOST_BYTES`] long: neither could be read
/// back.
pub fn to_text(layout: &Layout, format: Format) -> Result<String, FileError> {
    if let Some((_, error)) = refuse(layout) {
        return Err(error);
    }
    let whole = Whole::from(layout.clone());
    let compact = match format {
        Format::Ron => notation().to_string(&whole).map_err(|e| e.to_string()),
        Format::Json => serde_json::to_string(&whole).map_err(|e| e.to_string()),
    };
    let cannot = |why| FileError::new(format!("the layout cannot be written: {why}"), "report it");
    let text = fold::fold(&compact.map_err(cannot)?, format);
    if text.len() as u64 > MOST_BYTES {
        return Err(FileError::new(
            "the layout is too large for one file",
            "split it into several layouts",
        ));
    }
    Ok(text)
}
