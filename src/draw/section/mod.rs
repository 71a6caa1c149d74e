//! The section: vessels cut open at their heights, with the water in them and the runs between them.
//!
//! A [`SectionLayout`] holds the geometry in metres and is made once for a layout; [`section`] draws it on a page with
//! the current view, levels, findings and selection.

mod aside;
mod band;
mod details;
mod filling;
mod fittings;
mod flows;
mod grips;
mod ground;
mod handles;
mod naming;
mod paper;
mod pipes;
mod routes;
mod run_end_points;
mod section_layout;
mod section_runs;
mod sheet;
mod spills;
mod staff;
mod standing;
mod vents;
mod vessels;

pub use crate::draw::axes::staff::STAFF_WIDTH;
pub use crate::draw::canvas::touch::{Drawn as Section, Pick, TouchArea, TouchTarget, Trust};
pub use crate::draw::page::frame::SheetOptions;
pub use paper::SectionScene;
pub use section_layout::SectionLayout;
pub use sheet::sheet;

use crate::draw::page::shape::Rect;
use paper::SectionPage;

/// Draws a section. Never fails: non-finite values are left out.
pub fn section(scene: &SectionScene<'_>) -> Section {
    let mut paper = SectionPage::new(scene);
    ground::draw(&mut paper);
    vessels::stands(&mut paper);
    let pipes = pipes::pipes(&paper);
    pipes::behind(&mut paper, &pipes);
    vessels::draw(&mut paper);
    pipes::in_front(&mut paper, &pipes);
    handles::reserve(&mut paper);
    fittings::draw(&mut paper, &pipes);
    details::draw(&mut paper);
    staff::guide(&mut paper);
    spills::draw(&mut paper);
    band::draw(&mut paper);
    handles::draw(&mut paper);
    grips::draw(&mut paper);
    paper.set_labels();
    staff::draw(&mut paper);
    paper.finish()
}

/// Returns the area of a page for the section itself: right of the staff, with a small margin.
pub fn room(page: Rect) -> Rect {
    Rect {
        left: page.left + STAFF_WIDTH,
        top: page.top + 8.0,
        right: (page.right - 12.0).max(page.left + STAFF_WIDTH + 1.0),
        bottom: (page.bottom - 8.0).max(page.top + 9.0),
    }
}
