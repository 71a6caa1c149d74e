//! Spills and other problems of vessels, marked by shape, position and text; colour comes last.

use super::paper::SectionPage;
use super::standing::PartOnPage;
use crate::draw::canvas::labels::{LabelLine, LabelPosition, LabelRequest, LabelSide};
use crate::draw::page::shape::{Anchor, Dash, Ink, Point, Rect, Stroke, pt};
use crate::draw::page::view::at;
use crate::draw::parts::spilling::{forms, spilled, spills};
use crate::draw::parts::symbols;
use crate::finding::Severity;
use crate::layout::{Id, Vessel};
use crate::states::report::VesselReport;

/// Half the width of a mark, points.
const MARK: f64 = 9.0;
/// Distance from which text gets a leader to its rim, points.
const FAR: f64 = 34.0;

pub(super) fn draw(paper: &mut SectionPage<'_>) {
    let scene = paper.scene;
    let view = scene.view;
    let vessels = scene
        .layout
        .vessels
        .iter()
        .zip(&scene.positions.stand.vessels);
    for (part, one) in vessels {
        let Some(report) = paper.vessel(&part.id) else {
            continue;
        };
        if spills(part, &paper.reports) {
            spill(paper, part, one, report);
        } else {
            other(paper, &part.id, one);
            let edge = (
                view.x(one.left_m()),
                view.x(one.right_m()),
                view.y(one.rim_m),
            );
            let splash = paper.reports.only_splashed(&part.id);
            words(paper, part, spilled(report, splash, scene.units), edge);
        }
    }
}

fn spill(paper: &mut SectionPage<'_>, part: &Vessel, one: &PartOnPage, report: &VesselReport) {
    let view = paper.scene.view;
    let rim = view.y(one.rim_m);
    let (left, right) = (view.x(one.left_m()), view.x(one.right_m()));
    // The water is at the rim and runs down outside.
    let top = vec![pt(left - 3.0, rim), pt(right + 3.0, rim)];
    paper.line(Some(&part.id), top, Stroke::new(Ink::Problem, 3.0));
    let routing = view.y(0.0_f64.min(one.floor_m)).max(rim + 24.0);
    for x in [left - 6.0, right + 6.0] {
        let (from, to) = (pt(x, rim + 2.0), pt(x, routing.min(rim + 120.0)));
        paper.placer.block(Rect::between(from, to).grown(2.0));
        let fall = vec![from, to];
        let stroke = Stroke::new(Ink::Problem, 2.4).with(Dash::Dotted);
        paper.line(Some(&part.id), fall, stroke);
    }
    required(paper, part, one, report);
    mark(
        paper,
        &part.id,
        (left - 6.0, right + 6.0, rim),
        Severity::Problem,
    );
    let forms = forms(report, paper.scene.units);
    words(paper, part, forms, (left, right, rim));
}

/// Draws the level that the flow would need, above the rim.
fn required(paper: &mut SectionPage<'_>, part: &Vessel, one: &PartOnPage, report: &VesselReport) {
    let Some(level_m) = report.level_m else {
        return;
    };
    let half = one.half_width_m(one.rim_m);
    let ends = [-half, half].map(|half| paper.point(at(one.along_m + half, level_m)));
    let rim = paper.scene.view.y(one.rim_m);
    if rim - ends[0].y > 3.0 {
        let stroke = Stroke::new(Ink::Problem, 1.4).with(Dash::Dashed);
        let [left, right] = ends;
        paper.placer.block(Rect::between(left, right).grown(2.0));
        paper.line(Some(&part.id), ends.to_vec(), stroke);
    }
}

fn words(
    paper: &mut SectionPage<'_>,
    part: &Vessel,
    forms: Vec<Vec<LabelLine>>,
    edge: (f64, f64, f64),
) {
    let (left, right, rim) = edge;
    if forms.is_empty() {
        return;
    }
    let spot = |x: f64, y: f64, across: Anchor, side: LabelSide| LabelPosition {
        at: pt(x, y),
        across,
        side,
    };
    let middle = (left + right) / 2.0;
    let spots = vec![
        spot(middle, rim - 22.0, Anchor::Middle, LabelSide::Above),
        spot(left + 6.0, rim - 22.0, Anchor::Start, LabelSide::Above),
        spot(right, rim - 22.0, Anchor::End, LabelSide::Above),
        spot(middle, rim - 50.0, Anchor::Middle, LabelSide::Above),
        spot(right + 14.0, rim, Anchor::Start, LabelSide::Below),
        spot(left - 24.0, rim, Anchor::End, LabelSide::Beside),
        spot(middle, rim - 80.0, Anchor::Middle, LabelSide::Above),
    ];
    let strength = paper.scene.strength();
    let request = LabelRequest {
        forms,
        spots,
        rank: 95,
        clear: 3.0,
    };
    let edge = Rect {
        left,
        right,
        top: rim - MARK,
        bottom: rim,
    };
    paper.request_surely(&part.id, strength, vec![request], (edge, FAR));
}

/// Marks the worst finding on a vessel other than a spill.
fn other(paper: &mut SectionPage<'_>, id: &Id, one: &PartOnPage) {
    let worst = paper.reports.said(id);
    let Some(severity) = worst else { return };
    if severity == Severity::Note {
        return;
    }
    let view = paper.scene.view;
    let (left, right) = (view.x(one.left_m()), view.x(one.right_m()));
    mark(
        paper,
        id,
        (left - 4.0, right + 4.0, view.y(one.rim_m)),
        severity,
    );
}

/// Draws the symbol of a severity above the left or right end of a rim; severities differ by shape alone.
fn mark(paper: &mut SectionPage<'_>, id: &Id, edge: (f64, f64, f64), severity: Severity) {
    let (left, right, rim) = edge;
    let top = rim - MARK - 5.0;
    let around = |centre: Point| Rect::between(centre, centre).grown(MARK);
    if !paper.sees(Rect::between(pt(left, top), pt(right, rim)).grown(MARK)) {
        return;
    }
    let places = [
        (left, top),
        (right, top),
        ((left + right) / 2.0, top),
        (left, top - 2.0 * MARK),
        (right, top - 2.0 * MARK),
    ];
    let places = places.map(|(x, y)| inside_page(paper, pt(x, y)));
    let free = places
        .iter()
        .find(|place| paper.is_kept_free(around(**place)));
    let centre = *free.unwrap_or(&places[0]);
    let rect = around(centre);
    paper.keep(rect);
    let strength = paper.scene.strength();
    for shape in symbols::severity(rect, severity) {
        paper.add_faint(Some(id), strength, shape);
    }
}

/// Moves a point so that the mark is whole on the page and right of the staff.
fn inside_page(paper: &SectionPage<'_>, centre: Point) -> Point {
    let page = paper.page.grown(-MARK - 2.0);
    let left = super::STAFF_WIDTH + MARK + 2.0;
    pt(
        centre.x.min(page.right).max(left),
        centre.y.min(page.bottom).max(page.top),
    )
}
