//! Lines and marks of a duty plot.

use super::{DutyCurves, DutyPage, DutyPoint, DutyScene};
use crate::draw::page::shape::{Dash, Ink, Point, Rect, Shape, Stroke};
use crate::evaluate::SystemPoint;

/// Radius of the ring at a duty point, points.
pub(super) const DUTY: f64 = 5.0;
/// Opacity of the band of a guessed curve.
const BAND: f64 = 0.55;
/// Share of the flow below which two duty points count as one.
const SAME: f64 = 0.01;

pub(super) fn draw(plot: &mut DutyPage, scene: &DutyScene<'_>, curves: &DutyCurves) {
    if let Some([low, high]) = &curves.band {
        band(plot, low, high);
    }
    let system = scene.system_trust.strength();
    lift(plot, scene, curves, system);
    line(
        plot,
        &curves.dirty,
        system,
        Stroke::new(Ink::WaterLine, 1.6).with(Dash::Dashed),
    );
    line(
        plot,
        &curves.clean,
        system,
        Stroke::new(Ink::WaterLine, 1.6),
    );
    line(plot, &curves.pump, 1.0, Stroke::new(Ink::Line, 2.6));
    npsh(plot, scene);
    limits(plot, curves, system);
    for point in others(scene, curves).into_iter().flatten() {
        ring(plot, (point.flow_m3_s, point.head_m), system, Ink::Page);
    }
    let report = scene.report.filter(|report| report.on);
    if let Some(report) = report {
        let value = (report.flow_m3_s, report.head_m);
        ring(plot, value, scene.trust.strength(), Ink::Accent);
    }
}

/// Returns the clean and dirty duty points that differ from the one shown.
pub(super) fn others(scene: &DutyScene<'_>, curves: &DutyCurves) -> [Option<SystemPoint>; 2] {
    let report = scene.report.filter(|report| report.on);
    curves.duties.map(|duty| {
        duty.filter(|duty| {
            report.is_none_or(|report| {
                (duty.flow_m3_s - report.flow_m3_s).abs() > SAME * report.flow_m3_s.abs()
            })
        })
    })
}

fn line(plot: &mut DutyPage, values: &[DutyPoint], strength: f64, stroke: Stroke) {
    for points in plot.chart.line(values) {
        plot.placer.avoid(&points);
        plot.add(strength, Shape::Line { points, stroke });
    }
}

/// Draws the band of a guessed curve and its edges.
fn band(plot: &mut DutyPage, low: &[DutyPoint], high: &[DutyPoint]) {
    let pairs = low.windows(2).zip(high.windows(2));
    for (low, high) in pairs {
        let ([a, b], [c, d]) = (low, high) else {
            continue;
        };
        let corners = [*a, *b, *d, *c].map(|value| plot.point(value)).to_vec();
        let area = Shape::Area {
            corners,
            fill: Some(Ink::Water),
            edge: None,
        };
        plot.add(BAND, area);
    }
    for edge in [low, high] {
        line(
            plot,
            edge,
            1.0,
            Stroke::new(Ink::Line, 0.8).with(Dash::Dotted),
        );
    }
}

/// Draws the static lift by flow, from the start of the system curve: the difference between the two is the head loss.
/// A short bar marks the lift at the duty where that is labelled.
fn lift(plot: &mut DutyPage, scene: &DutyScene<'_>, curves: &DutyCurves, strength: f64) {
    let stroke = Stroke::new(Ink::WaterLine, 1.6);
    line(plot, &curves.lift, strength, stroke.with(Dash::Dotted));
    let apart = curves.lifts.and_then(|lifts| lifts.apart(scene.units));
    let Some(at) = apart.map(|duty| plot.point(duty)) else {
        return;
    };
    if plot.chart.inside.grown(1.0).holds(at) {
        let points = vec![at.moved(0.0, -5.0), at.moved(0.0, 5.0)];
        plot.placer.avoid(&points);
        plot.add(scene.trust.strength(), Shape::Line { points, stroke });
    }
}

/// Draws the NPSH required, where given, and the NPSH available.
fn npsh(plot: &mut DutyPage, scene: &DutyScene<'_>) {
    let points = scene.pump.npsh_required.iter();
    let values: Vec<DutyPoint> = points.map(|one| (one.flow_m3_s, one.npsh_m)).collect();
    line(
        plot,
        &values,
        1.0,
        Stroke::new(Ink::Warning, 1.4).with(Dash::Dotted),
    );
    let available = scene
        .report
        .and_then(|report| Some((report.flow_m3_s, report.npsh_available_m?)));
    if let Some(value) = available.filter(|value| value.1 <= plot.chart.up.high) {
        diamond(plot, value, scene.trust.strength());
    }
}

/// Draws a short bar at both ends of the pump curve and at the intake limit.
fn limits(plot: &mut DutyPage, curves: &DutyCurves, system: f64) {
    let ends = [curves.pump.first(), curves.pump.last()];
    for (end, upright) in ends.into_iter().zip([false, true]) {
        let Some(value) = end else { continue };
        let at = plot.point(*value);
        let bar = if upright {
            vec![at.moved(0.0, -6.0), at.moved(0.0, 6.0)]
        } else {
            vec![at.moved(-5.0, 0.0), at.moved(5.0, 0.0)]
        };
        let stroke = Stroke::new(Ink::Line, 2.0);
        plot.add(
            1.0,
            Shape::Line {
                points: bar,
                stroke,
            },
        );
    }
    if let Some(held) = curves.held {
        let at = plot.point((held.flow_m3_s, held.head_m));
        let bar = vec![at.moved(-5.0, 0.0), at.moved(5.0, 0.0)];
        let up = vec![at, at.moved(0.0, -14.0)];
        for points in [bar, up] {
            plot.placer.avoid(&points);
            let stroke = Stroke::new(Ink::Warning, 1.8);
            plot.add(system, Shape::Line { points, stroke });
        }
    }
}

fn ring(plot: &mut DutyPage, value: DutyPoint, strength: f64, fill: Ink) {
    let centre = plot.point(value);
    if !plot.chart.inside.grown(1.0).holds(centre) {
        return;
    }
    plot.placer.block(around(centre));
    let circle = Shape::Circle {
        centre,
        radius: DUTY,
        fill: Some(fill),
        edge: Some(Stroke::new(Ink::Accent, 1.8)),
    };
    plot.add(strength, circle);
}

fn diamond(plot: &mut DutyPage, value: DutyPoint, strength: f64) {
    let centre = plot.point(value);
    plot.placer.block(around(centre));
    let corners = [(0.0, -DUTY), (DUTY, 0.0), (0.0, DUTY), (-DUTY, 0.0)];
    let area = Shape::Area {
        corners: corners.map(|(x, y)| centre.moved(x, y)).to_vec(),
        fill: Some(Ink::Page),
        edge: Some(Stroke::new(Ink::Warning, 1.6)),
    };
    plot.add(strength, area);
}

pub(super) fn around(centre: Point) -> Rect {
    Rect::between(centre, centre).grown(DUTY + 1.0)
}
