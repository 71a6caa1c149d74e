//! The plan: the layout seen from above, with one scale in both directions.
//!
//! A [`Floorplan`] holds the geometry in metres and is made once for a layout; [`plan`] draws it on a page with the
//! current view, levels, findings and selection. In its [`View`](crate::draw::page::view::View) `along_m` is x, to the right,
//! and `z_m` is y, up the page.

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
mod severity;
mod shapes;
mod sheet;
mod sizes;
mod squares;
mod vents;
mod vessels;

pub use crate::draw::canvas::touch::{Drawn, Pick, TouchArea, TouchTarget, Trust};
pub use crate::draw::page::frame::SheetOptions;
pub use floor::{Crossing, Floorplan};
pub use paper::PlanScene;
pub use sheet::{sheet, sheet_on};

use crate::draw::page::shape::Rect;
use paper::PlanPage;

/// Width of the ruler at the left of the page, points.
pub const RULER_LEFT: f64 = 50.0;
/// Height of the ruler at the bottom of the page, points.
pub const RULER_BELOW: f64 = 26.0;
/// Margin at the right and at the top, points.
const MARGIN: f64 = 8.0;

/// Draws a plan. Never fails: non-finite values are left out.
pub fn plan(scene: &PlanScene<'_>) -> Drawn {
    let mut paper = PlanPage::new(scene);
    squares::paper_under(&mut paper);
    let pipes = pipes::pipes(&paper);
    pipes::behind(&mut paper, &pipes);
    vessels::draw(&mut paper);
    pipes::draw(&mut paper, &pipes);
    // Drawn before the ends, so that an end is picked where a corner is right below it.
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

/// Returns the area of a page for the plan itself: right of one ruler and above the other.
pub fn room(page: Rect) -> Rect {
    let (left, top) = (page.left + RULER_LEFT, page.top + MARGIN);
    Rect {
        left,
        top,
        right: (page.right - MARGIN).max(left + 1.0),
        bottom: (page.bottom - RULER_BELOW).max(top + 1.0),
    }
}
