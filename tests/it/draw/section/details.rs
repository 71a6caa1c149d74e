//! Notches, screens, siphon breaks and lying drums on the section.

use super::case::{PAGE, drawn, mouth, ring};
use crate::support::layouts::{at, bare};
use fallwright::draw::page::shape::{Dash, Drawing, Ink, Rect, Shape};
use fallwright::draw::page::view::View;
use fallwright::draw::section::{SectionLayout, SectionScene, room, section};
use fallwright::file::{Format, parse};
use fallwright::layout::{
    Layout, NotchShape, Opening, Pipe, RunEnd, Screen, Shape as Form, SiphonBreak, Turned,
};

/// Marks of a run that are so.
fn count(drawing: &Drawing, run: &str, is: impl Fn(&Shape) -> bool) -> usize {
    let of = drawing.marks.iter().filter(|mark| {
        let part = mark.part.as_ref();
        part.is_some_and(|id| id.as_str() == run) && is(&mark.shape)
    });
    of.count()
}

fn upright_dashes(shape: &Shape) -> bool {
    matches!(shape, Shape::Line { points, stroke }
        if stroke.dash == Dash::Dashed && stroke.ink == Ink::Line && points[0].x == points[1].x)
}

fn ring_mark(shape: &Shape) -> bool {
    matches!(shape, Shape::Circle { radius, .. } if *radius < 3.0)
}

fn cut(shape: &Shape) -> bool {
    matches!(shape, Shape::Line { points, stroke }
        if stroke.ink == Ink::Inside && points.len() == 2 && stroke.width == 4.0
            && (points[0].x - points[1].x).abs() < 1e-9)
}

fn with_notch(crest_m: f64) -> Layout {
    let mut layout = ring();
    layout.runs[0].from = at(
        "header",
        Opening::Notch {
            crest_m,
            shape: NotchShape::Vee { angle_deg: 90.0 },
            weir: None,
        },
    );
    layout
}

/// Boxes of equipment, and the circles of what may be dragged.
fn boxes_and_handles(drawing: &Drawing) -> (Vec<Rect>, Vec<Rect>) {
    let (mut boxes, mut handles) = (Vec::new(), Vec::new());
    for mark in &drawing.marks {
        match mark.shape {
            Shape::Box {
                rect, radius: 3.0, ..
            } => boxes.push(rect),
            Shape::Circle { centre, radius, .. } if radius >= 4.0 => {
                handles.push(Rect::between(centre, centre).grown(radius));
            }
            _ => {}
        }
    }
    (boxes, handles)
}

#[test]
fn regress_no_equipment_lies_over_a_handle_of_the_demo() {
    let text = include_str!("../../../../examples/glasshouse.ron");
    let layout = parse(text, Format::Ron).unwrap();
    let plan = SectionLayout::of(&layout);
    let mut shown = Vec::new();
    for (right, bottom) in [
        (620.0, 470.0),
        (760.0, 500.0),
        (780.0, 533.0),
        (940.0, 570.0),
    ] {
        let page = Rect {
            left: 0.0,
            top: 0.0,
            right,
            bottom,
        };
        let scene = SectionScene {
            view: View::fitting(plan.bounds(), room(page)),
            ..super::case::scene(&layout, &plan, None)
        };
        let (boxes, handles) = boxes_and_handles(&section(&scene).drawing);
        assert!(handles.len() > 10, "{right}");
        shown.push(boxes.len());
        for one in &boxes {
            assert!(
                handles.iter().all(|handle| !handle.overlaps(*one)),
                "{right}: {one:?}"
            );
            assert!(
                boxes
                    .iter()
                    .all(|other| other == one || !other.overlaps(*one)),
                "{right}"
            );
        }
    }
    // The heater and the filter, where the riser has room for them.
    assert_eq!(shown, [0, 1, 2, 2]);
}

/// Where one looks closely, a leg is longer than many pages, and hardly any of it is on this one.
#[test]
fn a_leg_of_many_pages_is_soon_drawn() {
    let text = include_str!("../../../../examples/glasshouse.ron");
    let layout = parse(text, Format::Ron).unwrap();
    let plan = SectionLayout::of(&layout);
    let scene = super::case::scene(&layout, &plan, None);
    let middle = PAGE.centre();
    for closer in [1e2, 1e6, 1e12] {
        let close = SectionScene {
            view: scene.view.zoomed(closer, middle),
            ..super::case::scene(&layout, &plan, None)
        };
        assert!(section(&close).drawing.marks.len() < 10_000);
    }
}

#[test]
fn a_notch_cuts_the_wall_from_the_rim_to_its_crest() {
    assert_eq!(count(&drawn(&ring()).drawing, "down", cut), 0);
    assert_eq!(count(&drawn(&with_notch(2.4)).drawing, "down", cut), 1);
    // Over the rim there is no wall to cut.
    assert_eq!(count(&drawn(&with_notch(2.7)).drawing, "down", cut), 0);
}

#[test]
fn a_notch_without_a_pipe_is_drawn_and_can_be_set() {
    let mut layout = with_notch(2.4);
    layout.runs[0].pipe = Pipe::Open;
    layout.runs[0].to = bare("bed");
    let section = drawn(&layout);
    // The bed stands lower: the water falls in over its rim, in no pipe.
    assert_eq!(count(&section.drawing, "down", cut), 1);
    let walls = |shape: &Shape| matches!(shape, Shape::Line { stroke, .. } if stroke.ink == Ink::Line && stroke.width > 3.0);
    assert_eq!(count(&section.drawing, "down", walls), 0);
    let bed = SectionLayout::of(&layout).stand.vessels.remove(2);
    let view = super::case::view(&SectionLayout::of(&layout));
    let level = super::case::water(&layout).unwrap().vessels[2]
        .level_m
        .unwrap();
    assert!(level < bed.rim_m - 0.01, "the bed is not full");
    let reaches = |shape: &Shape| matches!(shape, Shape::Line { points, .. } if points.iter().any(|at| (at.y - view.y(level)).abs() < 1e-6));
    assert!(count(&section.drawing, "down", reaches) > 0);
    assert!(count(&drawn(&ring()).drawing, "down", walls) > 0);
    let named = |name: &str| section.targets.iter().any(|target| target.name == name);
    assert!(named("Crest of down"));
}

#[test]
fn a_notch_in_a_common_wall_cuts_both_walls() {
    let mut layout = with_notch(2.4);
    layout.runs[0].pipe = Pipe::Open;
    layout.runs[0].to = bare("bed");
    layout.vessels[2].floor_m = 1.9;
    layout.vessels[2].rim_m = 2.5;
    layout.vessels[2].fill_m = 2.0;
    assert_eq!(count(&drawn(&layout).drawing, "down", cut), 2);
}

#[test]
fn a_screen_is_a_broken_line_and_a_siphon_break_a_small_ring() {
    let mut layout = ring();
    let plain = drawn(&layout).drawing;
    assert_eq!(
        count(&plain, "back", upright_dashes) + count(&plain, "riser", ring_mark),
        0
    );
    layout.runs[1].from.screen = Some(Screen {
        name: String::new(),
        area_m2: 0.1,
        open_share: 0.5,
        blinded: 0.0,
        k: None,
        on_the_lip: false,
        foot_m: None,
        height_m: None,
    });
    layout.runs[2].to.opening = Some(mouth(2.2, Turned::Down));
    layout.runs[2].siphon_break = Some(SiphonBreak {
        height_m: 2.5,
        bore_m: 0.004,
        near: RunEnd::To,
    });
    let drawn = drawn(&layout).drawing;
    assert_eq!(count(&drawn, "back", upright_dashes), 2);
    assert_eq!(count(&drawn, "riser", ring_mark), 1);
}

#[test]
fn a_cage_stands_from_its_foot_to_its_top_and_a_guard_lies_on_the_lip() {
    let mut layout = ring();
    let screened = |on_the_lip: bool, cage: Option<(f64, f64)>| Screen {
        name: String::new(),
        area_m2: 0.1,
        open_share: 0.5,
        blinded: 0.0,
        k: None,
        on_the_lip,
        foot_m: cage.map(|cage| cage.0),
        height_m: cage.map(|cage| cage.1),
    };
    let foot_m = layout.vessels[1].floor_m;
    let tall = |layout: &Layout| {
        let drawn = drawn(layout).drawing;
        let lines = drawn.marks.iter().filter_map(|mark| match &mark.shape {
            shape @ Shape::Line { points, .. } if upright_dashes(shape) => Some(points.clone()),
            _ => None,
        });
        lines
            .map(|points| (points[0].y - points[1].y).abs())
            .fold(0.0, f64::max)
    };
    layout.runs[1].from.screen = Some(screened(false, Some((foot_m, 0.1))));
    let short = tall(&layout);
    layout.runs[1].from.screen = Some(screened(false, Some((foot_m, 0.4))));
    let high = tall(&layout);
    assert!(
        short > 0.0 && (high / short - 4.0).abs() < 0.05,
        "{short} {high}"
    );
    layout.runs[1].from.screen = Some(screened(true, None));
    assert_eq!(count(&drawn(&layout).drawing, "back", upright_dashes), 0);
}

#[test]
fn a_lying_drum_is_round_and_stands_as_wide_as_it_is() {
    let mut layout = ring();
    layout.vessels[2].shape = Form::LyingDrum {
        diameter_m: 0.62,
        length_m: 1.0,
    };
    let stand = SectionLayout::of(&layout).stand.vessels.remove(2);
    assert!((stand.width_m - 0.62).abs() < 1e-9);
    let half = |height_m: f64| stand.half_width_m(stand.floor_m + height_m);
    assert!((half(0.31) - 0.31).abs() < 1e-3);
    let chord = (0.1 * (0.62 - 0.1_f64)).sqrt();
    assert!((half(0.1) - chord).abs() < 2e-3);
    assert!(half(0.001) < 0.05);
}

/// The middle of the sign of the pump, and how far the vessel that it draws from reaches across the page.
fn pump_and_sump(layout: &Layout) -> ((f64, f64), (f64, f64)) {
    let drawing = drawn(layout).drawing;
    let of = |part: &str| {
        let marks = drawing.marks.iter();
        let part = part.to_owned();
        marks.filter(move |mark| mark.part.as_ref().is_some_and(|id| id.as_str() == part))
    };
    let middle = of("lift").find_map(|mark| match &mark.shape {
        Shape::Circle { centre, .. } => Some((centre.x, centre.y)),
        _ => None,
    });
    let mut across = (f64::INFINITY, f64::NEG_INFINITY);
    for mark in of("sump") {
        if let Shape::Area { corners, .. } = &mark.shape {
            for corner in corners {
                across = (across.0.min(corner.x), across.1.max(corner.x));
            }
        }
    }
    (middle.expect("a pump"), across)
}

#[test]
fn a_pump_under_water_is_drawn_in_its_vessel_and_a_dry_one_beside_it() {
    let standing = |wet: bool| {
        let mut layout = ring();
        let pumps = layout.runs.iter_mut().filter_map(|run| run.pump.as_mut());
        pumps.for_each(|pump| pump.wet = Some(wet));
        pump_and_sump(&layout)
    };
    let ((x, y), (left, right)) = standing(true);
    assert!(left < x && x < right, "{x} not in {left} to {right}");
    let layout = ring();
    let view = super::case::view(&SectionLayout::of(&layout));
    assert!((y - view.y(0.05)).abs() < 0.5, "{y}");
    let ((x, y), (left, right)) = standing(false);
    let over_rim = y < view.y(layout.vessels[0].rim_m);
    assert!(over_rim || x < left || right < x, "{x} {y}");
}
