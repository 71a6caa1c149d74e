//! What is wrong, where it is: shape, place and words; colour comes last.

use super::paper::Paper;
use super::standing::Standing;
use crate::draw::labels::{Line, Side, Spot, Wish};
use crate::draw::shape::{Anchor, Dash, Ink, Point, Rect, Shape, Stroke, Text, Weight, pt};
use crate::draw::view::at;
use crate::finding::{Code, Severity};
use crate::layout::{Id, Vessel};
use crate::states::report::VesselReport;
use crate::units::{self, Quantity};

/// Half the width of a mark, points.
const MARK: f64 = 9.0;

pub(super) fn draw(paper: &mut Paper<'_>) {
    let scene = paper.scene;
    let vessels = scene.layout.vessels.iter().zip(&scene.plan.stand.vessels);
    for (part, one) in vessels {
        let Some(report) = paper.vessel(&part.id) else {
            continue;
        };
        if spills(part, report) {
            spill(paper, part, one, report);
        } else {
            other(paper, &part.id, one);
        }
    }
}

/// The level that its flow needs stands over its rim, or no level is enough.
fn spills(part: &Vessel, report: &VesselReport) -> bool {
    let never = part.rim_perimeter_m == Some(0.0);
    !never && report.freeboard_m().is_none_or(|free| free < 0.0)
}

fn spill(paper: &mut Paper<'_>, part: &Vessel, one: &Standing, report: &VesselReport) {
    let view = paper.scene.view;
    let rim = view.y(one.rim_m);
    let (left, right) = (view.x(one.left_m()), view.x(one.right_m()));
    // The water stands at the rim, and runs down outside.
    let top = vec![pt(left - 3.0, rim), pt(right + 3.0, rim)];
    paper.line(Some(&part.id), top, Stroke::new(Ink::Problem, 3.0));
    let ground = view.y(0.0_f64.min(one.floor_m)).max(rim + 24.0);
    for x in [left - 6.0, right + 6.0] {
        let fall = vec![pt(x, rim + 2.0), pt(x, ground.min(rim + 120.0))];
        let stroke = Stroke::new(Ink::Problem, 2.4).with(Dash::Dotted);
        paper.line(Some(&part.id), fall, stroke);
    }
    needed(paper, part, one, report);
    let centre = pt(left - 6.0, rim - MARK - 6.0);
    mark(paper, &part.id, centre, Severity::Problem);
    words(paper, part, report, (left, right, rim));
}

/// The level that the flow would need, over the rim.
fn needed(paper: &mut Paper<'_>, part: &Vessel, one: &Standing, report: &VesselReport) {
    let Some(level_m) = report.level_m else { return };
    let half = one.half_width_m(one.rim_m);
    let ends = [-half, half].map(|half| paper.point(at(one.along_m + half, level_m)));
    let rim = paper.scene.view.y(one.rim_m);
    if rim - ends[0].y > 3.0 {
        let stroke = Stroke::new(Ink::Problem, 1.4).with(Dash::Dashed);
        paper.line(Some(&part.id), ends.to_vec(), stroke);
    }
}

fn words(
    paper: &mut Paper<'_>,
    part: &Vessel,
    report: &VesselReport,
    (left, right, rim): (f64, f64, f64),
) {
    let system = paper.scene.units;
    let over = match report.freeboard_m() {
        Some(free) => {
            let over = units::write(Quantity::Height, -free, system);
            format!("spills, {over} over the rim")
        }
        None => "spills, fills for ever".to_owned(),
    };
    let line = |words: String| Line::new(words, 12.0, Ink::Problem).strong();
    let lost = report
        .with_spill
        .filter(|spill| spill.spill_m3_s > 1e-7)
        .map(|spill| units::write(Quantity::Flow, spill.spill_m3_s, system));
    let mut forms = Vec::new();
    if let Some(lost) = lost {
        forms.push(vec![line(over.clone()), line(format!("{lost} runs over"))]);
    }
    forms.push(vec![line(over)]);
    forms.push(vec![line("spills".to_owned())]);
    let spot = |x: f64, y: f64, across: Anchor, side: Side| Spot {
        at: pt(x, y),
        across,
        side,
    };
    let middle = (left + right) / 2.0;
    let spots = vec![
        spot(middle, rim - 22.0, Anchor::Middle, Side::Above),
        spot(left + 6.0, rim - 22.0, Anchor::Start, Side::Above),
        spot(right, rim - 22.0, Anchor::End, Side::Above),
        spot(middle, rim - 50.0, Anchor::Middle, Side::Above),
        spot(right + 14.0, rim, Anchor::Start, Side::Below),
        spot(left - 24.0, rim, Anchor::End, Side::Beside),
        spot(middle, rim - 80.0, Anchor::Middle, Side::Above),
    ];
    let strength = paper.scene.strength();
    let wish = Wish {
        forms,
        spots,
        rank: 95,
        clear: 3.0,
    };
    paper.wish(&part.id, strength, wish);
}

/// The worst of what else is said of a vessel.
fn other(paper: &mut Paper<'_>, id: &Id, one: &Standing) {
    let findings = paper.scene.findings.iter();
    let worst = findings
        .filter(|finding| finding.about.first() == Some(id) && finding.code != Code::Spills)
        .map(|finding| finding.severity)
        .min();
    let Some(severity) = worst else { return };
    if severity == Severity::Note {
        return;
    }
    let view = paper.scene.view;
    let centre = pt(view.x(one.left_m()) - 4.0, view.y(one.rim_m) - MARK - 4.0);
    mark(paper, id, centre, severity);
}

/// The sign of a severity: it can be told by its shape alone.
fn mark(paper: &mut Paper<'_>, id: &Id, centre: Point, severity: Severity) {
    let rect = Rect::between(centre, centre).grown(MARK);
    if !paper.sees(rect) {
        return;
    }
    let corners = vec![
        pt(centre.x, rect.top),
        pt(rect.right, rect.bottom - 1.0),
        pt(rect.left, rect.bottom - 1.0),
    ];
    let (fill, edge, letter) = match severity {
        Severity::Problem => (Ink::Problem, Ink::Problem, Ink::Page),
        _ => (Ink::Page, Ink::Warning, Ink::Warning),
    };
    paper.add(
        Some(id),
        Shape::Area {
            corners,
            fill: Some(fill),
            edge: Some(Stroke::new(edge, 1.8)),
        },
    );
    paper.placer.block(rect);
    paper.add(
        Some(id),
        Shape::Text(Text {
            at: pt(centre.x, rect.bottom - 3.5),
            anchor: Anchor::Middle,
            words: "!".to_owned(),
            size: 12.0,
            weight: Weight::Strong,
            ink: letter,
        }),
    );
}
