//! Where things stand along the page, and how routes that nobody drew go.

use super::case::{PAGE, mouth, named, ring, view};
use crate::support::layouts::{at, run, upstand};
use fallwright::draw::page::view::SectionPoint;
use fallwright::draw::section::SectionLayout;
use fallwright::layout::{Layout, Opening, Turned};

/// Ids of the vessels from left to right.
fn from_the_left(layout: &Layout) -> Vec<&str> {
    let plan = SectionLayout::of(layout);
    let mut found: Vec<(f64, &str)> = layout
        .vessels
        .iter()
        .zip(&plan.stand.vessels)
        .map(|(part, one)| (one.along_m, part.id.as_str()))
        .collect();
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    found.into_iter().map(|(_, id)| id).collect()
}

#[test]
fn without_places_vessels_stand_in_the_order_of_fall() {
    assert_eq!(from_the_left(&ring()), ["header", "bed", "sump"]);
}

#[test]
fn equals_stand_in_the_order_in_which_they_were_drawn() {
    let mut layout = ring();
    layout.runs.clear();
    layout.vessels = ["a", "b", "c"].map(|id| named(id, id, 1.0)).to_vec();
    assert_eq!(from_the_left(&layout), ["a", "b", "c"]);
}

#[test]
fn what_would_stand_in_one_another_is_moved_apart() {
    let mut layout = ring();
    layout.vessels = ["a", "b", "c"].map(|id| named(id, id, 1.0)).to_vec();
    layout.runs.clear();
    for vessel in &mut layout.vessels {
        vessel.place.along_m = 3.0;
    }
    let stand = SectionLayout::of(&layout).stand.vessels;
    assert!((stand[0].along_m - 3.0).abs() < 1e-9, "the first stays");
    for pair in stand.windows(2) {
        assert!(pair[1].left_m() > pair[0].right_m(), "{pair:?}");
    }
}

#[test]
fn one_over_the_other_may_stand_in_one_line() {
    let mut layout = ring();
    for vessel in &mut layout.vessels {
        vessel.place.along_m = 3.0;
    }
    let stand = SectionLayout::of(&layout).stand.vessels;
    assert!(stand.iter().all(|one| (one.along_m - 3.0).abs() < 1e-9));
}

#[test]
fn heights_are_true_in_the_plan_and_on_the_page() {
    let layout = ring();
    let plan = SectionLayout::of(&layout);
    let view = view(&plan);
    for (part, one) in layout.vessels.iter().zip(&plan.stand.vessels) {
        assert_eq!((part.floor_m, part.rim_m), (one.floor_m, one.rim_m));
    }
    // A metre is as many points everywhere.
    let metre = view.y(0.0) - view.y(1.0);
    assert!((view.y(1.0) - view.y(2.0) - metre).abs() < 1e-9);
    assert!(metre > 100.0 && metre < PAGE.bottom);
}

/// The part of each way that lies outside the vessels at its ends.
fn outside(layout: &Layout) -> Vec<Vec<SectionPoint>> {
    let plan = SectionLayout::of(layout);
    let part = |plan: &SectionLayout, index: usize| {
        let way = &plan.ways[index];
        let end = way.line.len() - way.inside[1].saturating_sub(1);
        way.line[way.inside[0].saturating_sub(1)..end].to_vec()
    };
    (0..plan.ways.len())
        .map(|index| part(&plan, index))
        .collect()
}

/// Whether the first leg of a way, from one place to the next, is right.
type Leaves = fn(SectionPoint, SectionPoint) -> bool;

#[test]
fn a_route_that_nobody_drew_leaves_as_its_openings_face() {
    let faces: [(Opening, Leaves); 5] = [
        (upstand(2.4), |a, b| a.along_m == b.along_m && b.z_m < a.z_m),
        (
            Opening::Floor {
                lip_m: None,
                bore_m: None,
            },
            |a, b| a.along_m == b.along_m && b.z_m < a.z_m,
        ),
        (
            Opening::SideHole {
                invert_m: 2.3,
                bore_m: None,
            },
            |a, b| a.z_m == b.z_m,
        ),
        (mouth(2.1, Turned::Down), |a, b| {
            a.along_m == b.along_m && b.z_m > a.z_m
        }),
        (mouth(2.1, Turned::Horizontal), |a, b| a.z_m == b.z_m),
    ];
    for (opening, right) in faces {
        let mut layout = ring();
        layout.runs[0].from.opening = Some(opening.clone());
        let line = &SectionLayout::of(&layout).ways[0].line;
        assert!(right(line[0], line[1]), "{opening:?}: {line:?}");
    }
}

#[test]
fn a_route_that_nobody_drew_keeps_out_of_the_bodies_of_its_vessels() {
    let layout = ring();
    let plan = SectionLayout::of(&layout);
    let ways = outside(&layout);
    for line in &ways {
        for leg in line.windows(2) {
            let middle_along = (leg[0].along_m + leg[1].along_m) / 2.0;
            let middle_z = (leg[0].z_m + leg[1].z_m) / 2.0;
            let within = plan.stand.vessels.iter().any(|one| {
                (one.left_m() + 0.01..one.right_m() - 0.01).contains(&middle_along)
                    && (one.floor_m + 0.01..one.rim_m - 0.01).contains(&middle_z)
            });
            assert!(!within, "{leg:?} of {line:?}");
        }
    }
}

#[test]
fn a_run_that_falls_has_no_pocket_where_it_can_fall() {
    for line in SectionLayout::of(&ring())
        .ways
        .iter()
        .take(2)
        .map(|way| &way.line)
    {
        let rises = line.windows(2).any(|leg| leg[1].z_m > leg[0].z_m + 1e-9);
        assert!(!rises, "{line:?}");
    }
}

#[test]
fn the_intake_of_a_raised_overflow_rises_to_its_crest_and_leaves() {
    let mut layout = ring();
    layout.runs[0].from.opening = Some(Opening::RaisedIntake {
        intake_m: 2.1,
        crest_m: 2.45,
        crest: fallwright::layout::CrestKind::default(),
        rise: fallwright::layout::Rise::default(),
        vent: fallwright::layout::Vent::default(),
    });
    let line = &SectionLayout::of(&layout).ways[0].line;
    assert_eq!((line[0].z_m, line[1].z_m, line[2].z_m), (2.1, 2.45, 2.45));
    assert_eq!(line[0].along_m, line[1].along_m);
    assert!(line[2].along_m > line[1].along_m);
}

#[test]
fn a_run_from_a_vessel_to_itself_has_a_way() {
    let mut layout = ring();
    layout.runs = vec![run(
        "turn",
        at("bed", upstand(1.4)),
        at("bed", mouth(1.8, Turned::Down)),
    )];
    let line = &SectionLayout::of(&layout).ways[0].line;
    assert!(line.len() >= 4, "{line:?}");
    assert_eq!((line[0].z_m, line[line.len() - 1].z_m), (1.4, 1.8));
}
