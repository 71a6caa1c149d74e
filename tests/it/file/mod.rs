//! Layout files and what makes a layout impossible.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

pub mod any_layout;
mod broken;
mod disk;
pub mod docs;
pub mod everything;
mod faults;
mod hostile;
mod locating;
mod picture;
mod ranges;
mod round_trip;

use fallwright::file::{Format, parse};
use fallwright::layout::Layout;

/// The text of a good layout: two beds on blocks over a sump.
const GOOD: &str = include_str!("../../good/two-beds.ron");

fn good() -> Layout {
    parse(GOOD, Format::Ron).expect("the good layout is good")
}

#[test]
fn a_good_file_is_read_as_it_says() {
    let layout = good();
    assert_eq!(layout.title, "Two beds over a sump");
    let bed = layout.vessel(&"bed-1".into()).unwrap();
    assert_eq!((bed.floor_m, bed.rim_m, bed.fill_m), (0.8, 1.1, 1.0));
    assert_eq!(bed.medium.unwrap().porosity, 0.42);
    let drain = layout.run(&"drain-1".into()).unwrap();
    assert_eq!(drain.from.opening.as_ref().unwrap().crest_m(), Some(1.0));
    assert_eq!(drain.from.opening.as_ref().unwrap().bore_m(), Some(0.06));
    assert_eq!(layout.limits.freeboard_m, 0.03);
    assert_eq!(layout.limits.drain_reserve, 1.25, "left to its default");
    assert_eq!(layout.runs.len(), 6);
}

#[test]
fn a_layout_without_parts_is_sound() {
    let layout = parse("(fallwright: 1, title: \"\")", Format::Ron).unwrap();
    assert_eq!(layout, Layout::default());
    assert!(layout.faults().is_empty());
}
