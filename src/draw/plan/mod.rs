//! The plan: the layout seen from above, to scale, with one scale in both directions.
//!
//! A [`Floorplan`] holds where things are in metres and is made once for a layout; [`plan`] draws it on a page
//! for one moment: how it is looked at, where the water stands, what is wrong and what is selected.
//! On its [`View`](crate::draw::view::View) `along_m` is x, to the right, and `z_m` is y, up the page.

mod bodies;
mod buckets;
mod clip;
mod crossings;
mod fittings;
mod fixed;
mod floor;
mod flows;
mod grains;
mod handles;
mod joints;
mod labels;
mod mouths;
mod names;
mod openings;
mod outline;
mod paper;
mod pipes;
mod plan_points;
mod plan_run;
mod rises;
mod row;
mod scene;
mod severity;
mod shapes;
mod sheet;
mod sizes;
mod squares;
mod vents;
mod vessels;

pub use crate::draw::frame::SheetOptions;
pub use crate::draw::touch::{Drawn, Pick, TouchArea, TouchTarget, Trust};
pub use floor::{Crossing, Floorplan};
pub use scene::PlanScene;
pub use sheet::{sheet, sheet_on};

use crate::draw::shape::Rect;
use paper::PlanPage;

/// Room for the ruler at the left and at the bottom of the page, points.
pub const RULER_LEFT: f64 = 50.0;
/// See [`RULER_LEFT`].
pub const RULER_BELOW: f64 = 26.0;
/// Room at the right and at the top, points.
const MARGIN: f64 = 8.0;

/// Draws a plan. Never fails: what is not a number is left out.
pub fn plan(scene: &PlanScene<'_>) -> Drawn {
    let mut paper = PlanPage::new(scene);
    squares::paper_under(&mut paper);
    let pipes = pipes::pipes(&paper);
    pipes::behind(&mut paper, &pipes);
    vessels::draw(&mut paper);
    pipes::draw(&mut paper, &pipes);
    // Before the ends: where a corner lies right under one, the end is what is taken.
    handles::draw(&mut paper, &pipes);
    openings::draw(&mut paper, &pipes);
    vents::draw(&mut paper, &pipes);
    joints::draw(&mut paper);
    fittings::draw(&mut paper, &pipes);
    rises::draw(&mut paper, &pipes);
    flows::draw(&mut paper, &pipes);
    labels::draw(&mut paper);
    paper.set_labels();
    squares::rulers(&mut paper);
    paper.finish()
}

/// Where on a page of this size the plan itself may lie: right of one ruler and over the other.
pub fn room(page: Rect) -> Rect {
    let (left, top) = (page.left + RULER_LEFT, page.top + MARGIN);
    Rect {
        left,
        top,
        right: (page.right - MARGIN).max(left + 1.0),
        bottom: (page.bottom - RULER_BELOW).max(top + 1.0),
    }
}
