//! Spills that cannot get where they say, and numbers that may be slips.

use crate::support::layouts::{RUNNING, drain, findings_with_cures, pump, run, tank, two_tanks};
use crate::support::layouts::{bare, joint};
use fallwright::catalogue::Catalogue;
use fallwright::finding::{Code, Finding, Severity};
use fallwright::layout::{CurveForm, Direction, Layout, Pipe, Shape};
use fallwright::lower::{Situation, Walls, lower};

fn found(layout: &Layout, code: Code) -> Vec<Finding> {
    let mut all = findings_with_cures(layout);
    all.retain(|one| one.code == code);
    all
}

/// Vessels with these rims, each spilling to the one that it names.
fn spilling(vessels: &[(&str, f64, &str)]) -> Layout {
    let mut layout = two_tanks(vec![]);
    layout.vessels = vessels
        .iter()
        .map(|(id, rim_m, to)| {
            let mut made = tank(id, rim_m - 1.0, *rim_m);
            made.spills_to = (!to.is_empty()).then(|| (*to).into());
            made
        })
        .collect();
    layout
}

/// Whether what spills from each vessel is lost.
fn lost(layout: &Layout) -> Vec<bool> {
    let situation = Situation {
        walls: Walls::AsBuilt,
        ..RUNNING
    };
    let lowered = lower(layout, Catalogue::builtin(), situation);
    let target = |link: usize| {
        let (_, target) = lowered
            .network
            .edge_endpoints((link as u32).into())
            .unwrap();
        Some(target.index()) == lowered.origin.lost
    };
    lowered
        .origin
        .rims
        .iter()
        .map(|rim| target(rim.unwrap()))
        .collect()
}

#[test]
fn vessels_that_name_each_other_are_a_ring_however_many_they_are() {
    let two = spilling(&[("a", 1.0, "b"), ("b", 1.0, "a")]);
    let ring = found(&two, Code::SpillsInARing);
    assert_eq!(ring.len(), 1);
    assert_eq!(ring[0].severity, Severity::Problem);
    assert_eq!(lost(&two), [true, true]);
    let four = spilling(&[
        ("in", 3.0, "c"),
        ("a", 1.0, "b"),
        ("b", 1.0, "c"),
        ("c", 1.0, "a"),
    ]);
    let ring = found(&four, Code::SpillsInARing);
    let about: Vec<&str> = ring[0].about.iter().map(|id| id.as_str()).collect();
    assert_eq!((ring.len(), about.len()), (1, 3));
    assert!(!about.contains(&"in"), "{about:?}");
    assert_eq!(lost(&four), [false, true, true, true]);
    assert_eq!(ring[0].cures.len(), 1);
}

#[test]
fn a_row_of_spills_is_no_ring_and_a_ring_with_a_step_is_told_once() {
    let row = spilling(&[("a", 3.0, "b"), ("b", 2.0, "c"), ("c", 1.0, "ditch")]);
    assert!(found(&row, Code::SpillsInARing).is_empty());
    assert!(found(&row, Code::SpillsUphill).is_empty());
    assert_eq!(lost(&row), [false, false, false]);
    let stepped = spilling(&[("a", 1.0, "b"), ("b", 0.5, "a")]);
    assert_eq!(found(&stepped, Code::SpillsInARing).len(), 1);
    assert!(found(&stepped, Code::SpillsUphill).is_empty());
}

#[test]
fn a_spill_may_go_level_but_not_up() {
    let to_rim = |rim_m: f64| spilling(&[("low", 1.0, "other"), ("other", rim_m, "")]);
    assert!(found(&to_rim(0.9), Code::SpillsUphill).is_empty());
    assert!(
        found(&to_rim(1.0), Code::SpillsUphill).is_empty(),
        "on the limit"
    );
    assert_eq!(lost(&to_rim(1.0)), [false, true]);
    let up = found(&to_rim(1.2), Code::SpillsUphill);
    assert_eq!((up[0].measured, up[0].limit), (Some(1.2), Some(1.0)));
    assert_eq!((up.len(), up[0].severity), (1, Severity::Problem));
    assert_eq!(lost(&to_rim(1.2)), [true, true]);
    let to_level = |level_m: f64| {
        let mut layout = spilling(&[("low", 1.0, "ditch")]);
        layout.fixed[0].level_m = level_m;
        layout
    };
    assert!(found(&to_level(1.0), Code::SpillsUphill).is_empty());
    assert_eq!(found(&to_level(1.01), Code::SpillsUphill).len(), 1);
}

/// Holds a number to its limit: on it there is no note, over it there is one that names the part.
fn noted(make: impl Fn(f64) -> Layout, limit: f64, about: &str) {
    let notes = |value: f64| found(&make(value), Code::IsThisMeant);
    assert!(notes(limit).is_empty(), "{about}: {limit} is on the limit");
    let over = notes(limit * 1.001);
    assert_eq!(over.len(), 1, "{about}: {over:?}");
    assert_eq!(over[0].severity, Severity::Note);
    assert_eq!(over[0].about[0].as_str(), about);
    assert_eq!(over[0].cures.len(), 1);
}

#[test]
fn each_number_that_may_be_a_slip_has_its_limit() {
    let with = |change: &dyn Fn(&mut Layout)| {
        let mut layout = two_tanks(vec![drain()]);
        change(&mut layout);
        layout
    };
    let bore = |bore_m: f64| {
        with(&|layout| {
            layout
                .vessels
                .iter_mut()
                .for_each(|one| one.shape = Shape::Prism { area_m2: 9.0 });
            layout.runs[0].pipe = Pipe::Own {
                bore_m,
                roughness_m: None,
                hazen_williams_c: None,
            };
        })
    };
    noted(bore, 0.6, "drain");
    noted(
        |length_m| with(&|layout| layout.runs[0].length_m = Some(length_m)),
        1000.0,
        "drain",
    );
    // From 0.5 m to 1.5 m.
    let area = |volume_m3: f64| {
        with(&|layout| layout.vessels[0].shape = Shape::Prism { area_m2: volume_m3 })
    };
    noted(area, 5000.0, "upper");
    noted(
        |rim_m| with(&|layout| layout.vessels[0].rim_m = rim_m),
        30.0,
        "upper",
    );
    noted(
        |flow| with(&|layout| layout.vessels[0].make_up_m3_s = flow),
        0.5,
        "upper",
    );
    noted(
        |flow| with(&|layout| layout.joints[0].make_up_m3_s = -flow),
        0.5,
        "tee",
    );
    let label = |largest_head_m: f64, largest_flow_m3_s: f64| {
        with(&|layout| {
            let mut made = pump(Direction::Forward);
            made.curve = CurveForm::Label {
                largest_head_m,
                largest_flow_m3_s,
            };
            layout.runs[0].pump = Some(made);
        })
    };
    noted(|head_m| label(head_m, 0.01), 100.0, "drain");
    noted(|flow_m3_s| label(5.0, flow_m3_s), 0.5, "drain");
}

#[test]
fn a_pipe_wider_than_its_vessel_is_noted_and_one_as_wide_is_not() {
    let with = |diameter_m: f64| {
        let mut layout = two_tanks(vec![drain()]);
        layout.vessels[1].shape = Shape::Round { diameter_m };
        found(&layout, Code::IsThisMeant)
    };
    assert!(with(0.2).is_empty());
    assert!(with(0.1).is_empty(), "on the limit");
    assert_eq!(with(0.09)[0].about, ["drain".into(), "lower".into()]);
}

#[test]
fn of_many_large_numbers_of_a_kind_the_largest_is_told_with_how_many_others() {
    let mut layout = two_tanks(vec![drain(), run("link", bare("tee"), bare("far"))]);
    layout.joints.push(joint("far", 0.3));
    layout.runs[0].length_m = Some(2000.0);
    layout.runs[1].length_m = Some(3000.0);
    let notes = found(&layout, Code::IsThisMeant);
    assert_eq!(notes.len(), 1);
    assert_eq!(notes[0].about, ["link".into(), "drain".into()]);
    let text = notes[0].text.read(&|id| id.to_string(), Default::default());
    assert!(
        text.contains("3000") && text.ends_with("one other is as large. Is this meant?"),
        "{text}"
    );
}
