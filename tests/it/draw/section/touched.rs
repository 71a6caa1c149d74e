//! What can be touched, and that crests are where they will be drilled.

use super::case::{drawn, mouth, ring, scene, view};
use crate::support::drawn::{Drawn, place};
use crate::support::layouts::{at, bare, joint, run};
use fallwright::catalogue::Catalogue;
use fallwright::draw::page::shape::{Point, Shape};
use fallwright::draw::section::{Pick, Section, SectionLayout, SectionScene, TouchArea, section};
use fallwright::edit::Preset;
use fallwright::evaluate::evaluate;
use fallwright::finding::{Code, Finding};
use fallwright::layout::{Layout, RunEnd, Turned};
use fallwright::state::State;
use std::collections::HashSet;

fn with_joint() -> Layout {
    let mut layout = ring();
    layout.joints = vec![joint("tee", 0.8)];
    layout.runs.push(run(
        "branch",
        bare("tee"),
        at("sump", mouth(0.4, Turned::Horizontal)),
    ));
    layout
}

fn spot(drawn: &Section, pick: &Pick) -> Option<Point> {
    let target = drawn.targets.iter().find(|target| target.pick == *pick)?;
    match target.reach {
        TouchArea::Spot { centre, .. } => Some(centre),
        _ => None,
    }
}

#[test]
fn every_part_can_be_touched() {
    let layout = with_joint();
    let drawn = drawn(&layout);
    let picks: HashSet<&Pick> = drawn.targets.iter().map(|target| &target.pick).collect();
    let wanted = [
        "sump", "header", "bed", "tee", "down", "back", "riser", "branch", "lift",
    ];
    for id in wanted {
        assert!(picks.contains(&Pick::Part(id.into())), "{id}");
    }
}

#[test]
fn no_two_targets_are_one_pick() {
    let targets = drawn(&with_joint()).targets;
    let picks: HashSet<&Pick> = targets.iter().map(|target| &target.pick).collect();
    assert_eq!(picks.len(), targets.len());
}

#[test]
fn a_crest_is_touched_at_its_true_height() {
    let layout = ring();
    let plan = SectionLayout::of(&layout);
    let drawn = drawn(&layout);
    for (run, end, crest_m) in [
        ("down", RunEnd::From, 2.4),
        ("down", RunEnd::To, 1.5),
        ("back", RunEnd::From, 1.4),
        ("riser", RunEnd::To, 2.8),
    ] {
        let pick = Pick::Crest {
            run: run.into(),
            end,
        };
        let centre = spot(&drawn, &pick).unwrap_or_else(|| panic!("{pick:?}"));
        assert!((centre.y - view(&plan).y(crest_m)).abs() < 1e-6, "{run}");
    }
}

/// The first wall of a run as it is drawn outside its vessels.
fn pipe(drawn: &Section, run: &str) -> Vec<Point> {
    let marks = drawn.drawing.marks.iter();
    let mut of = marks.filter(|mark| mark.part.as_ref().is_some_and(|id| id.as_str() == run));
    match of.next().map(|mark| &mark.shape) {
        Some(Shape::Line { points, .. }) => points.clone(),
        other => panic!("{other:?}"),
    }
}

#[test]
fn runs_that_lie_on_one_another_are_both_seen() {
    let mut layout = ring();
    let hole = |invert_m: f64| fallwright::layout::Opening::SideHole {
        invert_m,
        bore_m: None,
    };
    layout.runs = ["one", "two"]
        .map(|id| run(id, at("header", hole(2.2)), at("bed", hole(1.3))))
        .to_vec();
    let plan = SectionLayout::of(&layout);
    let (a, b) = (&plan.ways[0].line, &plan.ways[1].line);
    assert_eq!(a, b, "in metres they lie on one another");
    let drawn = drawn(&layout);
    let (one, two) = (pipe(&drawn, "one"), pipe(&drawn, "two"));
    assert_eq!(one.len(), two.len());
    for (a, b) in one.iter().zip(&two) {
        let off = a.distance(*b);
        assert!((2.0..20.0).contains(&off), "{a:?} {b:?}");
    }
    // The handles stay where the holes are drilled.
    for run in ["one", "two"] {
        let pick = Pick::Crest {
            run: run.into(),
            end: RunEnd::From,
        };
        let centre = spot(&drawn, &pick).unwrap();
        assert!((centre.y - view(&plan).y(2.2)).abs() < 1e-6);
    }
}

#[test]
fn a_guessed_curve_blames_no_opening() {
    let mut loop_of_two = Drawn::empty();
    let sump = loop_of_two.add(Preset::Sump, place(0.0, 0.0, 0.0));
    let tank = loop_of_two.add(Preset::RoundTank, place(3.0, 0.0, 0.0));
    loop_of_two.run(&sump, &tank);
    let layout = loop_of_two.layout;
    let found = evaluate(&layout, Catalogue::builtin(), &[State::Running]);
    let guesses = found.findings.into_iter();
    let guesses: Vec<Finding> = guesses
        .filter(|one| one.code == Code::CurveGuessed)
        .collect();
    assert_eq!(guesses.len(), 1);
    let plan = SectionLayout::of(&layout);
    let plain = scene(&layout, &plan, None);
    let told = SectionScene {
        findings: &guesses,
        ..plain
    };
    assert_eq!(section(&told).drawing, section(&plain).drawing);
}
