//! The duty plot: lines told apart without colour, words beside them, the duty where it is.

use super::grade::{assert_finite, assert_tidy, words};
use crate::support::layouts::pump as plain;
use fallwright::catalogue::Catalogue;
use fallwright::draw::canvas::touch::Trust;
use fallwright::draw::duty::{DutyScene, duty};
use fallwright::draw::page::shape::{Dash, Drawing, Ink, Shape, Stroke};
use fallwright::evaluate::{SystemCurve, preview, system_curve};
use fallwright::layout::{CurveForm, Direction, Layout, NpshPoint, Pump};
use fallwright::states::report::PumpReport;
use fallwright::units::UnitSystem;

const LARGE: (f64, f64) = (800.0, 500.0);
const SMALL: (f64, f64) = (302.0, 236.0);

struct Case {
    pump: Pump,
    report: PumpReport,
    system: SystemCurve,
}

fn case(layout: &Layout) -> Case {
    let pump = layout.runs.iter().find_map(|run| run.pump.clone()).unwrap();
    let report = preview(layout, Catalogue::builtin()).unwrap();
    let report = report
        .pumps
        .into_iter()
        .find(|one| one.id == pump.id)
        .unwrap();
    let system = system_curve(layout, Catalogue::builtin(), &pump.id, &|| true).unwrap();
    Case {
        pump,
        report,
        system,
    }
}

fn demo() -> Case {
    case(&fallwright::session::demo().unwrap())
}

impl Case {
    fn scene(&self, page: (f64, f64)) -> DutyScene<'_> {
        DutyScene {
            pump: &self.pump,
            name: "Circulation pump",
            report: Some(&self.report),
            trust: Trust::Sure,
            system: Some(&self.system),
            system_trust: Trust::Sure,
            units: UnitSystem::Metric,
            page,
        }
    }
}

/// The strokes of lines with more than two points.
fn curves(drawing: &Drawing) -> Vec<(Stroke, f64)> {
    let lines = drawing.marks.iter().filter_map(|mark| match &mark.shape {
        Shape::Line { points, stroke } if points.len() > 2 => Some((*stroke, mark.strength)),
        _ => None,
    });
    lines.collect()
}

#[test]
fn it_is_tidy_small_and_large_in_metric_and_us() {
    let mut guessed = demo();
    guessed.pump.curve = CurveForm::Label {
        largest_head_m: 7.6,
        largest_flow_m3_s: 0.006,
    };
    let mut asks = demo();
    asks.pump.npsh_required = vec![
        NpshPoint {
            flow_m3_s: 0.0,
            npsh_m: 1.0,
        },
        NpshPoint {
            flow_m3_s: 0.006,
            npsh_m: 2.5,
        },
    ];
    for case in [demo(), guessed, asks] {
        for page in [LARGE, SMALL, (262.0, 205.0)] {
            for units in [UnitSystem::Metric, UnitSystem::Us] {
                let drawing = duty(&DutyScene {
                    units,
                    ..case.scene(page)
                });
                assert_finite(&drawing);
                assert_tidy(&drawing, "duty");
                let told = words(&drawing).join("; ");
                assert!(told.contains("Flow, ") && told.contains("Head, "), "{told}");
            }
        }
    }
}

#[test]
fn every_line_is_told_by_its_stroke_and_by_words() {
    let case = demo();
    let drawing = duty(&case.scene(LARGE));
    let strokes: Vec<Stroke> = curves(&drawing)
        .into_iter()
        .map(|(stroke, _)| stroke)
        .collect();
    let kinds = |ink: Ink, dash: Dash| {
        strokes
            .iter()
            .filter(|one| one.ink == ink && one.dash == dash)
            .count()
    };
    assert_eq!(kinds(Ink::Line, Dash::Solid), 1, "the pump");
    assert_eq!(kinds(Ink::WaterLine, Dash::Solid), 1, "clean");
    assert_eq!(kinds(Ink::WaterLine, Dash::Dashed), 1, "dirty");
    let told = words(&drawing);
    for wanted in ["pump", "system, clean", "system, dirty"] {
        assert!(told.iter().any(|one| one == wanted), "{wanted}: {told:?}");
    }
    for wanted in ["duty ", "static lift ", "shut-off ", "end of curve "] {
        assert!(
            told.iter().any(|one| one.starts_with(wanted)),
            "{wanted}: {told:?}"
        );
    }
}

#[test]
fn the_dotted_line_begins_with_the_system_and_passes_the_lift_at_the_duty() {
    let case = demo();
    let drawing = duty(&case.scene(LARGE));
    let of = |dash: Dash| {
        drawing.marks.iter().find_map(|mark| match &mark.shape {
            Shape::Line { points, stroke }
                if stroke.ink == Ink::WaterLine && stroke.dash == dash && points.len() > 2 =>
            {
                Some(points.clone())
            }
            _ => None,
        })
    };
    let (lift, system) = (of(Dash::Dotted).unwrap(), of(Dash::Solid).unwrap());
    assert!(lift[0].distance(system[0]) < 1e-9);
    // The bar at the duty: upright, across the line, under the duty by what is lost.
    let bar = drawing.marks.iter().find_map(|mark| match &mark.shape {
        Shape::Line { points, stroke } if stroke.ink == Ink::WaterLine && points.len() == 2 => {
            (points[0].x == points[1].x).then_some((points[0], points[1]))
        }
        _ => None,
    });
    let (top, foot) = bar.unwrap();
    let crossed = lift.windows(2).any(|pair| {
        let share = (top.x - pair[0].x) / (pair[1].x - pair[0].x);
        let y = pair[0].y + share * (pair[1].y - pair[0].y);
        (0.0..=1.0).contains(&share) && (y - f64::midpoint(top.y, foot.y)).abs() < 0.5
    });
    assert!(crossed, "{top:?} {foot:?} {lift:?}");
    let told = words(&drawing);
    let at_duty = format!("static lift {:.2} m at the duty", case.report.static_m);
    assert!(told.contains(&at_duty), "{told:?}");
    // Between fixed levels there is one lift.
    let mut fixed = demo();
    for point in fixed.system.clean.iter_mut().chain(&mut fixed.system.dirty) {
        point.static_m = fixed.report.static_m;
    }
    fixed.system.clean[0].head_m = fixed.report.static_m;
    let told = words(&duty(&fixed.scene(LARGE)));
    let lifts = told.iter().filter(|one| one.contains("static lift"));
    assert_eq!(lifts.count(), 1, "{told:?}");
}

#[test]
fn the_duty_lies_where_the_lines_cross() {
    let case = demo();
    let drawing = duty(&case.scene(LARGE));
    let circles: Vec<_> = drawing
        .marks
        .iter()
        .filter_map(|mark| match mark.shape {
            Shape::Circle { centre, fill, .. } => Some((centre, fill)),
            _ => None,
        })
        .collect();
    let now = circles
        .iter()
        .find(|one| one.1 == Some(Ink::Accent))
        .unwrap()
        .0;
    assert!(
        circles.iter().any(|one| one.1 == Some(Ink::Page)),
        "the dirty duty is an open ring"
    );
    // Near both lines, by the points of their pieces.
    for ink in [Ink::Line, Ink::WaterLine] {
        let near = drawing.marks.iter().any(|mark| match &mark.shape {
            Shape::Line { points, stroke }
                if stroke.ink == ink && stroke.dash == Dash::Solid && points.len() > 2 =>
            {
                points.windows(2).any(|pair| {
                    let (a, b) = (pair[0], pair[1]);
                    let length = a.distance(b).max(1e-9);
                    let along = ((now.x - a.x) * (b.x - a.x) + (now.y - a.y) * (b.y - a.y))
                        / (length * length);
                    let foot = a.moved(
                        (b.x - a.x) * along.clamp(0.0, 1.0),
                        (b.y - a.y) * along.clamp(0.0, 1.0),
                    );
                    foot.distance(now) < 1.0
                })
            }
            _ => false,
        });
        assert!(near, "{ink:?} does not pass the duty at {now:?}");
    }
}

#[test]
fn what_belongs_to_an_earlier_drawing_is_fainter_and_the_pump_is_not() {
    let case = demo();
    let drawing = duty(&DutyScene {
        system_trust: Trust::OutOfDate,
        ..case.scene(LARGE)
    });
    for (stroke, strength) in curves(&drawing) {
        let system = stroke.ink == Ink::WaterLine;
        assert_eq!(strength < 0.9, system, "{stroke:?} at {strength}");
    }
}

#[test]
fn what_is_not_known_is_said_and_the_pump_is_drawn_all_the_same() {
    let case = demo();
    let drawing = duty(&DutyScene {
        report: None,
        system: None,
        ..case.scene(SMALL)
    });
    assert!(
        words(&drawing)
            .iter()
            .any(|one| one.contains("being solved"))
    );
    assert_eq!(curves(&drawing).len(), 1);
    let mut off = plain(Direction::Forward);
    off.speed = 0.0;
    let still = Case {
        pump: off,
        ..demo()
    };
    let drawing = duty(&DutyScene {
        report: None,
        system: None,
        ..still.scene(SMALL)
    });
    assert_finite(&drawing);
    assert!(
        words(&drawing)
            .iter()
            .any(|one| one.contains("pump is off"))
    );
}
