//! The ground: the datum of all heights.

use super::paper::SectionPage;
use crate::draw::page::shape::{Ink, Stroke, pt};

/// Spacing of the hatch lines and their size, points.
const HATCH_STEP: f64 = 14.0;
const HATCH: f64 = 6.0;

pub(super) fn draw(paper: &mut SectionPage<'_>) {
    let view = paper.scene.view;
    let y = view.y(0.0);
    let (left, right) = (super::STAFF_WIDTH, paper.page.right);
    if y < paper.page.top - HATCH || y > paper.page.bottom {
        return;
    }
    // The hatch stays in place on the ground when the page is scrolled.
    let start = view.x(0.0).rem_euclid(HATCH_STEP);
    let mut x = left - left.rem_euclid(HATCH_STEP) + start;
    while x < right + HATCH {
        let from = pt(x.max(left), y - (x.max(left) - x));
        let to = pt(x - HATCH, y + HATCH);
        if to.x >= left {
            paper.line(None, vec![from, to], Stroke::new(Ink::Ground, 0.8));
        }
        x += HATCH_STEP;
    }
    paper.placer.avoid(&[pt(left, y), pt(right, y)]);
    paper.line(
        None,
        vec![pt(left, y), pt(right, y)],
        Stroke::new(Ink::Ground, 1.6),
    );
}
