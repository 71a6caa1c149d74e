//! A run looks as full as it is.

use super::case::{ring, scene, water};
use fallwright::draw::page::shape::{Dash, Drawing, Ink, Mark, Rect, Shape};
use fallwright::draw::section::{SectionLayout, section};
use fallwright::state::State;
use fallwright::states::report::{Control, DepthPoint, Regime, RunReport, StateReport};

/// The ring with its run "down" as `change` leaves it, drawn.
fn with(change: impl FnOnce(&mut RunReport)) -> Drawing {
    let layout = ring();
    let plan = SectionLayout::of(&layout);
    let mut water: StateReport = water(&layout).unwrap();
    let run = water.runs.iter_mut().find(|run| run.id.as_str() == "down");
    change(run.unwrap());
    section(&scene(&layout, &plan, Some(&water))).drawing
}

fn part_full(run: &mut RunReport, share: f64) {
    run.regime = Regime::PartFull;
    run.control = Control::Inlet;
    run.flow_m3_s = run.flow_m3_s.abs().max(1e-4);
    let point = |distance_m: f64| DepthPoint {
        distance_m,
        depth_m: share * run.bore_m,
        grade_m: 1.0,
        velocity_m_s: 1.0,
        invert_m: None,
    };
    run.profile = vec![point(0.0), point(run.length_m)];
}

fn of_run(drawing: &Drawing) -> impl Iterator<Item = &Mark> {
    let is_it = |mark: &&Mark| mark.part.as_ref().is_some_and(|id| id.as_str() == "down");
    drawing.marks.iter().filter(is_it)
}

/// Lines of water as wide as the bore.
fn full(drawing: &Drawing) -> usize {
    let water = |mark: &&Mark| matches!(&mark.shape, Shape::Line { stroke, .. } if stroke.ink == Ink::Water);
    of_run(drawing).filter(water).count()
}

/// Heights of the areas of water on the page.
fn beds(drawing: &Drawing) -> Vec<f64> {
    let height = |mark: &Mark| match &mark.shape {
        Shape::Area { corners, fill, .. } if *fill == Some(Ink::Water) => {
            Some(Rect::around(corners).height())
        }
        _ => None,
    };
    of_run(drawing).filter_map(height).collect()
}

#[test]
fn a_full_run_is_filled_from_wall_to_wall() {
    let drawing = with(|run| {
        run.regime = Regime::Full;
        run.control = Control::Outlet;
    });
    assert!(full(&drawing) > 0);
    assert!(beds(&drawing).is_empty());
}

#[test]
fn a_part_full_run_has_a_surface_at_its_depth() {
    let shallow = with(|run| part_full(run, 0.25));
    let deep = with(|run| part_full(run, 0.75));
    assert_eq!((full(&shallow), full(&deep)), (0, 0));
    let (shallow_beds, deep_beds) = (beds(&shallow), beds(&deep));
    assert!(!shallow_beds.is_empty());
    assert_eq!(shallow_beds.len(), deep_beds.len());
    // Level pieces are as high as the water is deep, so that three times the depth is three times as high.
    let least = |beds: &[f64]| beds.iter().copied().fold(f64::INFINITY, f64::min);
    let ratio = least(&deep_beds) / least(&shallow_beds);
    assert!((1.5..=3.2).contains(&ratio), "{ratio}");
    let surface = |mark: &&Mark| matches!(&mark.shape, Shape::Line { stroke, .. } if stroke.ink == Ink::WaterLine);
    assert!(of_run(&shallow).filter(surface).count() > 0);
}

#[test]
fn a_dry_run_has_no_water() {
    let drawing = with(|run| {
        run.control = Control::Dry;
        run.regime = Regime::None;
        run.flow_m3_s = 0.0;
    });
    assert_eq!((full(&drawing), beds(&drawing).len()), (0, 0));
}

#[test]
fn what_surges_and_what_falls_free_is_told_apart_by_shape() {
    let regime = |regime: Regime| {
        with(|run| {
            part_full(run, 0.4);
            run.profile.clear();
            run.regime = regime;
        })
    };
    let slugs = |drawing: &Drawing| {
        let wide = |mark: &&Mark| {
            matches!(&mark.shape, Shape::Line { stroke, .. }
                if stroke.ink == Ink::WaterLine && stroke.width > 2.0 && stroke.dash == Dash::Solid)
        };
        of_run(drawing).filter(wide).count()
    };
    let drops = |drawing: &Drawing| {
        let dotted = |mark: &&Mark| {
            matches!(&mark.shape, Shape::Line { stroke, .. }
                if stroke.ink == Ink::WaterLine && stroke.dash == Dash::Dotted)
        };
        of_run(drawing).filter(dotted).count()
    };
    let (surging, free) = (regime(Regime::Surging), regime(Regime::Free));
    let part = regime(Regime::PartFull);
    assert!(slugs(&surging) > 0 && drops(&surging) == 0);
    assert!(drops(&free) > 0 && slugs(&free) == 0);
    assert_eq!((slugs(&part), drops(&part)), (0, 0));
}

#[test]
fn levels_and_flows_of_another_answer_are_marked_where_they_differ() {
    let layout = ring();
    let plan = SectionLayout::of(&layout);
    let now = water(&layout).unwrap();
    let dashes = |other: Option<&StateReport>| {
        let mut scene = scene(&layout, &plan, Some(&now));
        scene.other = other;
        let drawn = section(&scene);
        let words = super::case::words_of(&drawn.drawing, "bed").join(" ");
        let dash = |mark: &&Mark| {
            matches!(&mark.shape, Shape::Line { stroke, .. }
                if stroke.ink == Ink::Line && stroke.dash == Dash::Dashed)
        };
        let of_bed = |mark: &&Mark| mark.part.as_ref().is_some_and(|id| id.as_str() == "bed");
        let marks = drawn.drawing.marks.iter();
        (marks.filter(of_bed).filter(dash).count(), words)
    };
    assert_eq!(
        dashes(Some(&now)).0,
        dashes(None).0,
        "the same is not marked"
    );
    let mut before = now.clone();
    let bed = before
        .vessels
        .iter_mut()
        .find(|one| one.id.as_str() == "bed");
    let level_m = bed.unwrap().level_m.as_mut().unwrap();
    *level_m -= 0.025;
    let (count, words) = dashes(Some(&before));
    assert_eq!(count, dashes(None).0 + 1);
    assert!(words.contains("(+25 mm)"), "{words}");
}

#[test]
fn a_run_that_is_shut_says_so_and_only_where_that_is_asked() {
    let layout = ring();
    let plan = SectionLayout::of(&layout);
    let words = |state: State| {
        let mut report = water(&layout).unwrap();
        report.state = state;
        let run = report.runs.iter_mut().find(|run| run.id.as_str() == "down");
        let run = run.unwrap();
        run.control = Control::Shut;
        run.regime = Regime::None;
        run.flow_m3_s = 0.0;
        let drawn = section(&scene(&layout, &plan, Some(&report)));
        super::case::words_of(&drawn.drawing, "down")
    };
    assert!(words(State::Blocked).contains(&"shut".to_owned()));
    assert!(!words(State::Running).contains(&"shut".to_owned()));
}
