//! Symbol for the severity of the worst finding on a vessel, drawn on its wall; severities differ by shape.

use super::outline::Outline;
use super::paper::PlanPage;
use crate::draw::page::shape::{Point, Rect, pt};
use crate::draw::parts::spilling::spills;
use crate::draw::parts::symbols;
use crate::finding::Severity;
use crate::layout::Vessel;

/// Half the width of the symbol, points.
const MARK: f64 = 9.0;
/// Possible positions on a vessel, across and down the page, best first.
const POSITIONS: [(f64, f64); 5] = [
    (1.0, -1.0),
    (-1.0, -1.0),
    (1.0, 1.0),
    (-1.0, 1.0),
    (0.0, -1.0),
];

/// Marks a vessel that spills or has a finding worse than a note.
pub(super) fn mark(paper: &mut PlanPage<'_>, part: &Vessel, one: &Outline) {
    let worst = if spills(part, &paper.reports) {
        Some(Severity::Problem)
    } else {
        paper.reports.said(&part.id)
    };
    let Some(severity) = worst.filter(|severity| *severity != Severity::Note) else {
        return;
    };
    let around = |centre: Point| Rect::between(centre, centre).grown(MARK);
    let places = POSITIONS.map(|side| around(place(paper, one, side)));
    let free = places.iter().find(|place| paper.is_kept_free(**place));
    let rect = *free.unwrap_or(&places[0]);
    paper.keep(rect);
    let strength = paper.scene.strength();
    for shape in symbols::severity(rect, severity) {
        paper.add_faint(Some(&part.id), strength, shape);
    }
}

/// Returns a point on the wall at that side and on the page; beside a small vessel, which the symbol would hide.
fn place(paper: &PlanPage<'_>, one: &Outline, side: (f64, f64)) -> Point {
    let (across, down) = side;
    let rect = paper.rect(one);
    let corner = rect
        .centre()
        .moved(across * rect.width() / 2.0, down * rect.height() / 2.0);
    let off = if rect.width().min(rect.height()) < 4.0 * MARK {
        MARK
    } else {
        0.0
    };
    let wall = paper.point(one.nearest_wall(paper.place(corner)));
    let page = paper.shown().grown(-MARK - 2.0);
    pt(
        (wall.x + across * off).min(page.right).max(page.left),
        (wall.y + down * off).min(page.bottom).max(page.top),
    )
}
