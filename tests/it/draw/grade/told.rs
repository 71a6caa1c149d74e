//! What the grade line tells.

use super::{Case, PAGE, assert_finite, assert_tidy, demo, examples, texts, words};
use fallwright::draw::canvas::touch::{Pick, Trust};
use fallwright::draw::grade::{GradeScene, grade, path_words, sheet};
use fallwright::draw::page::shape::{Dash, Ink, Rect, Shape};
use fallwright::layout::Layout;
use fallwright::units::UnitSystem;

#[test]
fn every_example_is_tidy_in_metric_and_us() {
    for case in examples() {
        for units in [UnitSystem::Metric, UnitSystem::Us] {
            for (right, bottom) in [(1600.0, 834.0), (1080.0, 600.0), (760.0, 420.0)] {
                let page = Rect {
                    right,
                    bottom,
                    ..PAGE
                };
                let drawn = grade(&GradeScene {
                    units,
                    ..case.scene(page)
                });
                assert_finite(&drawn.drawing);
                assert_tidy(&drawn.drawing, &case.layout.title);
                assert!((drawn.drawing.width - right).abs() < 1e-9);
                assert!((drawn.drawing.height - bottom).abs() < 1e-9);
            }
        }
    }
}

#[test]
fn every_vessel_on_the_way_is_named_with_its_level() {
    for case in examples() {
        let drawn = case.drawn();
        let told = words(&drawn.drawing).join(" ");
        for stand in case
            .profile
            .stands
            .iter()
            .filter(|stand| stand.walls_m.is_some())
        {
            let name = case.layout.name_of(&stand.part);
            assert!(told.contains(name), "{name} in {told}");
            let level_m = stand.level_m.unwrap();
            let level = fallwright::units::write(
                fallwright::units::Quantity::Height,
                level_m,
                case.layout.units,
            );
            assert!(told.contains(&level), "{level} in {told}");
        }
    }
}

#[test]
fn the_path_is_told_in_words_with_its_pump() {
    let case = demo();
    let path = path_words(&case.layout, &case.profile);
    assert!(path.starts_with("Header → Cress bed 1 →"), "{path}");
    assert!(path.ends_with("Pit → Circulation pump → Header"), "{path}");
    assert!(words(&case.drawn().drawing).contains(&path));
}

#[test]
fn levels_lie_at_their_height_and_a_pump_lifts_by_its_head() {
    let case = demo();
    let (drawn, view) = (case.drawn(), case.view(PAGE));
    let grade_lines = drawn.drawing.marks.iter().filter(|mark| {
        matches!(&mark.shape, Shape::Line { stroke, .. }
            if stroke.ink == Ink::WaterLine && stroke.width > 2.0 && stroke.dash == Dash::Solid)
    });
    let lines: Vec<_> = grade_lines.collect();
    let pit = case
        .report
        .vessels
        .iter()
        .find(|one| one.id.as_str() == "pit")
        .unwrap();
    let surface = view.y(pit.level_m.unwrap());
    let of_pit = lines
        .iter()
        .find(|mark| mark.part.as_ref().is_some_and(|id| id.as_str() == "pit"));
    let Shape::Line { points, .. } = &of_pit.unwrap().shape else {
        unreachable!()
    };
    assert!(points.iter().all(|point| (point.y - surface).abs() < 1e-9));
    let pump = &case.report.pumps[0];
    let upright = lines.iter().flat_map(|mark| match &mark.shape {
        Shape::Line { points, .. } => points.windows(2).map(|pair| (pair[0], pair[1])).collect(),
        _ => Vec::new(),
    });
    let step = upright
        .filter(|(a, b)| (a.x - b.x).abs() < 1e-9)
        .map(|(a, b)| (a.y - b.y).abs());
    let most = step.fold(0.0, f64::max);
    assert!(
        (most / view.points_per_metre_up - pump.head_m).abs() < 1e-6,
        "{most}"
    );
    let lifts = format!("lifts {:.2} m", pump.head_m);
    assert!(words(&drawn.drawing).contains(&lifts), "{lifts}");
}

#[test]
fn suction_is_told_by_a_dotted_hatch_and_in_words() {
    let case = demo();
    let drawn = case.drawn();
    let dotted = drawn.drawing.marks.iter().filter(|mark| {
        matches!(&mark.shape, Shape::Line { stroke, .. }
            if stroke.ink == Ink::Warning && stroke.dash == Dash::Dotted)
    });
    assert!(dotted.count() > 3);
    let told = words(&drawn.drawing).join("; ");
    assert!(
        told.contains("below the crown, under suction") && told.contains("highest pressure"),
        "{told}"
    );
    // Falling water hangs under no pipe.
    let falling = Case::along(fallwright::session::demo().unwrap(), &["step-4"]);
    let leg = falling
        .profile
        .legs
        .iter()
        .find(|leg| leg.run.as_str() == "step-4")
        .unwrap();
    assert!(!leg.full);
    let under = |point: &fallwright::states::GradePoint| {
        point
            .grade_m
            .zip(point.invert_m)
            .is_some_and(|(grade_m, invert_m)| grade_m < invert_m - 1e-9)
    };
    assert!(!leg.points.iter().any(under));
}

#[test]
fn a_reading_gives_what_is_at_a_place() {
    let case = demo();
    let leg = case
        .profile
        .legs
        .iter()
        .find(|leg| leg.run.as_str() == "lift")
        .unwrap();
    let (from_m, to_m) = leg.reach_m();
    let here = case.profile.reading((from_m + to_m) / 2.0).unwrap();
    assert_eq!(here.at.as_str(), "lift");
    assert!(here.grade_m.unwrap() > here.crown_m.unwrap());
    assert!(here.energy_m.unwrap() > here.grade_m.unwrap());
    let pit = case
        .profile
        .stands
        .iter()
        .find(|stand| stand.part.as_str() == "pit")
        .unwrap();
    let level = case
        .profile
        .reading(pit.along_m + pit.width_m / 2.0)
        .unwrap();
    assert_eq!(
        (level.at.as_str(), level.grade_m, level.invert_m),
        ("pit", pit.level_m, None)
    );
    assert_eq!(case.profile.reading(-5.0), None);
}

#[test]
fn what_is_looked_at_is_told_by_its_ink_and_old_numbers_are_faint() {
    let case = demo();
    let lift = [Pick::Part("lift".into())];
    let drawn = grade(&GradeScene {
        selected: &lift,
        ..case.scene(PAGE)
    });
    let accent = drawn.drawing.marks.iter().filter(|mark| {
        let of_lift = mark.part.as_ref().is_some_and(|id| id.as_str() == "lift");
        of_lift && matches!(&mark.shape, Shape::Line { stroke, .. } if stroke.ink == Ink::Accent)
    });
    assert_eq!(accent.count(), 2, "invert and crown");
    let old = grade(&GradeScene {
        trust: Trust::OutOfDate,
        ..case.scene(PAGE)
    });
    let strong = old.drawing.marks.iter().any(|mark| {
        // What the lines are is told with samples that belong to no part.
        mark.part.is_some() && mark.strength > 0.5 && matches!(&mark.shape, Shape::Line { stroke, .. } if stroke.width > 2.1 && stroke.ink == Ink::WaterLine)
    });
    assert!(!strong, "a grade line of an earlier drawing");
}

#[test]
fn every_run_and_part_can_be_touched_inside_the_page() {
    let case = demo();
    let drawn = case.drawn();
    for leg in &case.profile.legs {
        let pick = Pick::Part(leg.run.clone());
        assert!(
            drawn
                .targets
                .iter()
                .filter(|target| target.pick == pick)
                .count()
                >= 2,
            "{}",
            leg.run
        );
    }
    let pump = Pick::Part("pump".into());
    assert!(drawn.targets.iter().any(|target| target.pick == pump));
}

#[test]
fn a_sheet_has_its_title_its_caution_and_no_text_over_another() {
    for case in examples() {
        let runs: Vec<_> = case
            .profile
            .legs
            .iter()
            .map(|leg| leg.run.clone())
            .collect();
        let catalogue = fallwright::catalogue::Catalogue::builtin();
        let line =
            fallwright::evaluate::grade(&case.layout, catalogue, &case.report, &runs).unwrap();
        let sheet = sheet(
            &fallwright::draw::page::frame::SheetOptions {
                layout: &case.layout,
                running: Some(&case.report),
                findings: &[],
                units: case.layout.units,
                page: (1600.0, 900.0),
            },
            &line,
        );
        assert_tidy(&sheet, &case.layout.title);
        let told = words(&sheet).join(" ");
        assert!(
            told.contains(&case.layout.title) && told.contains("estimates for planning"),
            "{told}"
        );
        assert!(texts(&sheet).len() > 10);
    }
}

#[test]
fn a_layout_without_a_path_is_an_empty_page() {
    let case = Case {
        layout: Layout::default(),
        ..demo()
    };
    let empty = Case {
        profile: fallwright::draw::grade::PathProfile::default(),
        ..case
    };
    let drawn = empty.drawn();
    assert_finite(&drawn.drawing);
    assert!(drawn.targets.is_empty());
}
