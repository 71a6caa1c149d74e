//! States of layouts: limits, absurdities, and the same layout drawn otherwise.

mod absurd;
mod air;
mod film;
mod frozen;
mod grade_line;
mod hard;
mod limits;
mod line_fill;
mod nearby;
mod parts;
mod pumps;
mod random;
mod redrawn;
mod repeated;
mod screens;
mod silent;
mod six;
mod spill;
mod still;
mod surges;
mod switches;
mod weirs;

use crate::networks::{read, solved};
use fallwright::file::{Format, parse};
use fallwright::layout::Layout;
use fallwright::state::State;
use fallwright::states::report::StateReport;

/// A layout from the part of its text that matters.
fn layout(body: &str) -> Layout {
    let text = format!("(fallwright: 1, title: \"A case\", {body})");
    parse(&text, Format::Ron).unwrap_or_else(|error| panic!("{error}"))
}

fn running(body: &str) -> StateReport {
    solved(&layout(body), State::Running)
}

fn rest(body: &str) -> StateReport {
    solved(&layout(body), State::Rest)
}

fn near(got: f64, wanted: f64, room: f64) {
    assert!(
        (got - wanted).abs() <= room,
        "{got} is not {wanted} ± {room}"
    );
}

/// Sound layouts of every kind: all worked ones, and one of each larger sort.
fn sound() -> Vec<Layout> {
    [
        "layouts/two-ponds.ron",
        "layouts/standpipe.ron",
        "layouts/side-hole-part-full.ron",
        "layouts/side-hole-drowned.ron",
        "layouts/drowned-standpipe.ron",
        "layouts/three-drains.ron",
        "layouts/blocked-standpipe.ron",
        "layouts/raised-intake.ron",
        "layouts/pump-by-hand.ron",
        "networks/n1-three-reservoirs.ron",
        "networks/n11-three-loops-colebrook.ron",
        "networks/n15-two-in-series.ron",
        "../good/two-beds.ron",
        "../../examples/rain-cistern.ron",
    ]
    .map(read)
    .to_vec()
}
