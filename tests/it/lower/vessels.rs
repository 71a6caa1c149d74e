//! Each shape holds the volume that school geometry gives it, and has the rim that it should.

use crate::support::layouts::{running, tank, two_tanks};
use approx::assert_relative_eq;
use fallwright::catalogue::Catalogue;
use fallwright::layout::{Layout, Medium, Shape, TableRow, Vessel};
use fallwright::lower::{Age, Pumps, Situation, Walls, lower};
use fallwright::network::{Link, Node, Segment, Source, Storage};
use petgraph::graph::{EdgeIndex, NodeIndex};
use std::f64::consts::PI;

/// Floor of every vessel here, metres.
const FLOOR_M: f64 = 0.3;

fn vessel(shape: Shape) -> Vessel {
    Vessel {
        shape,
        ..tank("vat", FLOOR_M, FLOOR_M + 2.0)
    }
}

fn alone(vessel: Vessel) -> Layout {
    Layout {
        vessels: vec![vessel],
        ..two_tanks(Vec::new())
    }
}

fn storage(vessel: Vessel) -> Storage {
    let lowered = running(&alone(vessel));
    match &lowered.network[NodeIndex::new(lowered.origin.vessels[0])] {
        Node::Vessel { storage, .. } => storage.clone(),
        other => panic!("{other:?} is no vessel"),
    }
}

/// Volume at each depth, against the closed form.
fn holds(vessel: Vessel, expected: &[(f64, f64)]) {
    let storage = storage(vessel);
    for &(depth_m, volume_m3) in expected {
        let got = storage.volume_m3(FLOOR_M + depth_m);
        assert_relative_eq!(got, volume_m3, max_relative = 1e-12);
    }
}

fn perimeter_m(vessel: Vessel) -> Option<f64> {
    let situation = Situation {
        pumps: Pumps::On,
        walls: Walls::AsBuilt,
        age: Age::New,
    };
    let lowered = lower(&alone(vessel), Catalogue::builtin(), situation);
    let rim = lowered.origin.rims[0]?;
    match &lowered.network[EdgeIndex::new(rim)] {
        Link::Rim(law) => Some(law.perimeter_m),
        Link::Run(_) => panic!("a rim is no run"),
    }
}

const ROUND: Shape = Shape::Round { diameter_m: 2.0 };
const CONE: Shape = Shape::ConeBottom {
    diameter_m: 2.0,
    cone_height_m: 2.0,
};

fn sloped() -> Shape {
    let rows = [(0.0, 1.0), (1.0, 3.0)];
    Shape::Table {
        rows: rows
            .map(|(depth_m, area_m2)| TableRow { depth_m, area_m2 })
            .to_vec(),
    }
}

fn filled(shape: Shape, depth_m: f64, porosity: f64) -> Vessel {
    Vessel {
        medium: Some(Medium {
            top_m: FLOOR_M + depth_m,
            porosity,
        }),
        ..vessel(shape)
    }
}

#[test]
fn prop_straight_walls_hold_area_times_depth() {
    holds(vessel(ROUND), &[(0.5, PI * 0.5), (1.5, PI * 1.5)]);
    let rectangle = Shape::Rectangular {
        length_m: 3.0,
        width_m: 2.0,
    };
    holds(vessel(rectangle), &[(0.5, 3.0)]);
    holds(vessel(Shape::Prism { area_m2: 1.7 }), &[(0.6, 1.02)]);
}

#[test]
fn prop_a_cone_holds_a_third_of_its_cylinder() {
    // Radius y/2 at depth y, so volume π·y³/12; a cylinder of radius 1 above 2 m.
    let cone = |depth: f64| PI * depth.powi(3) / 12.0;
    holds(
        vessel(CONE),
        &[
            (1.0, cone(1.0)),
            (2.0, 2.0 * PI / 3.0),
            (2.4, 2.0 * PI / 3.0 + 0.4 * PI),
        ],
    );
    assert_relative_eq!(storage(vessel(CONE)).area_m2(FLOOR_M + 1.0), PI / 4.0);
}

/// Bands that grow from nothing, go back to nothing, and are pinched in between: area on depth, as (bottom, area,
/// linear, square) up to the next bottom.
fn narrow() -> [Vec<Segment>; 4] {
    let band = |bottom_m, area_m2, linear_m, square| Segment {
        bottom_m,
        area_m2,
        linear_m,
        square,
    };
    [
        // A cone, a trough with slanted walls, a drum of two parabolas, and an hourglass.
        vec![band(0.0, 0.0, 0.0, 3.0), band(1.0, 3.0, 0.0, 0.0)],
        vec![band(0.0, 0.0, 2.0, 0.0), band(0.5, 1.0, 0.0, 0.0)],
        vec![band(0.0, 0.0, 4.0, -4.0), band(1.0, 0.0, 0.0, 0.0)],
        vec![band(0.0, 1.0, -4.0, 4.0), band(1.0, 1.0, 0.0, 0.0)],
    ]
}

/// What a Newton step relies on: the area is the slope of the volume, and is never next to nothing.
#[test]
fn prop_the_area_is_the_slope_of_the_volume_in_every_tip() {
    for bands in narrow() {
        let storage = Storage::new(FLOOR_M, bands.clone());
        let height_m = bands[1].bottom_m;
        let at = |depth_m: f64| storage.volume_m3(FLOOR_M + depth_m);
        for step in -200..2400 {
            // Between even heights, so that no corner of the curve is stepped over in the middle.
            let (low, high) = (f64::from(step) * 0.5e-3, (f64::from(step) + 1.0) * 0.5e-3);
            let middle = storage.area_m2(FLOOR_M + 0.5 * (low + high));
            let slope = (at(high) - at(low)) / (high - low);
            let corner = [low, high].map(|depth| storage.area_m2(FLOOR_M + depth));
            let least = corner[0].min(corner[1]).min(middle);
            let most = corner[0].max(corner[1]).max(middle);
            let room = 1e-9 + 1e-6 * most;
            assert!(
                slope > least - room && slope < most + room,
                "{bands:?} at {low}: {slope}"
            );
            assert!(least >= 1e-6, "{bands:?} at {low}: {least}");
        }
        // Where there is room enough it holds what the bands hold.
        for share in [0.05, 0.2, 0.45, 0.55, 0.9] {
            let depth = share * height_m;
            let band = &bands[0];
            let exact =
                depth * (band.area_m2 + depth * (band.linear_m / 2.0 + depth * band.square / 3.0));
            assert_relative_eq!(at(depth), exact, epsilon = 1e-12);
            let area = band.area_m2 + depth * (band.linear_m + depth * band.square);
            assert_relative_eq!(storage.area_m2(FLOOR_M + depth), area, epsilon = 1e-12);
        }
    }
}

/// Whatever its last band would do further up, the walls are upright from its bottom on.
#[test]
fn over_the_last_band_walls_are_upright() {
    let last = Segment {
        bottom_m: 0.0,
        area_m2: 1.5,
        linear_m: 2.0,
        square: 3.0,
    };
    let storage = Storage::new(FLOOR_M, vec![last]);
    for depth_m in [0.1, 1.0, 4.0] {
        assert_eq!(storage.area_m2(FLOOR_M + depth_m), 1.5);
        assert_relative_eq!(
            storage.volume_m3(FLOOR_M + depth_m),
            1.5 * depth_m,
            max_relative = 1e-12
        );
    }
}

#[test]
fn prop_a_table_is_straight_between_its_rows_and_upright_above() {
    holds(
        vessel(sloped()),
        &[(0.5, 0.5 * (1.0 + 2.0) / 2.0), (1.0, 2.0), (1.5, 3.5)],
    );
}

#[test]
fn prop_under_its_top_a_medium_leaves_only_the_pores() {
    holds(
        filled(ROUND, 0.3, 0.4),
        &[(0.2, 0.08 * PI), (0.5, (0.12 + 0.2) * PI)],
    );
    // Half of the cone's lowest metre, all of the next.
    holds(
        filled(CONE, 1.0, 0.5),
        &[(1.0, PI / 24.0), (2.0, PI / 24.0 + 7.0 * PI / 12.0)],
    );
    // 0.75 m³ to half the slope, 2 m³ to its top.
    holds(
        filled(sloped(), 0.5, 0.5),
        &[(0.5, 0.375), (1.0, 0.375 + 1.25), (1.5, 0.375 + 1.25 + 1.5)],
    );
}

#[test]
fn prop_a_medium_may_end_above_all_rows_or_just_at_one() {
    holds(
        filled(sloped(), 1.2, 0.5),
        &[(1.0, 1.0), (1.5, 1.0 + 0.3 + 0.9)],
    );
    holds(filled(sloped(), 1.0, 0.5), &[(1.0, 1.0), (1.5, 1.0 + 1.5)]);
    holds(filled(ROUND, 0.0, 0.4), &[(0.5, 0.5 * PI)]);
}

#[test]
fn levels_and_make_up_reach_the_node() {
    let mut vat = vessel(ROUND);
    vat.fill_m = 0.9;
    vat.make_up_m3_s = -2e-5;
    let lowered = running(&alone(vat));
    match &lowered.network[NodeIndex::new(lowered.origin.vessels[0])] {
        Node::Vessel {
            storage,
            level_m,
            source,
        } => {
            assert_eq!((*level_m, *source), (0.9, Source::constant(-2e-5)));
            assert_eq!(storage.floor_m(), FLOOR_M);
        }
        other => panic!("{other:?} is no vessel"),
    }
}

#[test]
fn the_rim_goes_round_the_shape() {
    let rectangle = Shape::Rectangular {
        length_m: 3.0,
        width_m: 2.0,
    };
    let around = |shape| perimeter_m(vessel(shape)).unwrap();
    assert_relative_eq!(around(ROUND), 2.0 * PI);
    assert_relative_eq!(around(rectangle), 10.0);
    assert_relative_eq!(around(Shape::Prism { area_m2: PI }), 2.0 * PI);
    // 3 m² at the rim: the circle of that area is 2·√(3π) round.
    assert_relative_eq!(around(sloped()), 2.0 * (3.0 * PI).sqrt());
    assert_relative_eq!(around(CONE), 2.0 * PI);
}

#[test]
fn a_cone_cut_short_by_its_rim_has_the_rim_of_the_cut() {
    let mut cut = vessel(CONE);
    cut.rim_m = FLOOR_M + 1.0;
    assert_relative_eq!(perimeter_m(cut).unwrap(), PI);
}

#[test]
fn a_medium_does_not_shorten_the_rim() {
    let full = filled(Shape::Prism { area_m2: PI }, 5.0, 0.25);
    assert_relative_eq!(perimeter_m(full).unwrap(), 2.0 * PI);
}

#[test]
fn a_rim_length_that_is_given_counts_and_none_means_no_spill() {
    let mut vat = vessel(ROUND);
    vat.rim_perimeter_m = Some(0.4);
    assert_eq!(perimeter_m(vat.clone()), Some(0.4));
    vat.rim_perimeter_m = Some(0.0);
    assert_eq!(perimeter_m(vat), None);
}

/// Exact at the steps, and to 1e-5 of the whole between them; half full it holds half.
#[test]
fn prop_a_lying_drum_holds_its_circle() {
    let (diameter_m, length_m) = (0.6, 0.9);
    let drum = |rim_depth_m: f64| Vessel {
        rim_m: FLOOR_M + rim_depth_m,
        ..vessel(Shape::LyingDrum {
            diameter_m,
            length_m,
        })
    };
    let whole_m3 = PI / 4.0 * diameter_m * diameter_m * length_m;
    let exact = |depth_m: f64| {
        let angle = (1.0 - 2.0 * depth_m / diameter_m).acos();
        whole_m3 / PI * (angle - angle.sin() * angle.cos())
    };
    for rim_depth_m in [0.6, 0.55, 0.3, 0.2] {
        let storage = storage(drum(rim_depth_m));
        let mut before_m3 = 0.0;
        for step in 1..=1000 {
            let depth_m = rim_depth_m * f64::from(step) / 1000.0;
            let volume_m3 = storage.volume_m3(FLOOR_M + depth_m);
            assert!(
                (volume_m3 - exact(depth_m)).abs() < 1e-5 * whole_m3,
                "{depth_m}"
            );
            assert!(volume_m3 > before_m3);
            before_m3 = volume_m3;
            let chord_m = 2.0 * (depth_m * (diameter_m - depth_m)).max(0.0).sqrt();
            let area_m2 = storage.area_m2(FLOOR_M + depth_m);
            let room_m2 = if step < 20 { 0.02 } else { 1e-3 };
            let near_top = depth_m > 0.59;
            assert!(
                near_top || (area_m2 - length_m * chord_m).abs() < room_m2,
                "{depth_m}"
            );
        }
    }
    let full = storage(drum(0.6)).volume_m3(FLOOR_M + 0.6);
    assert_relative_eq!(full, whole_m3, max_relative = 1e-12);
    let half = storage(drum(0.3)).volume_m3(FLOOR_M + 0.3);
    assert_relative_eq!(half, 0.5 * whole_m3, max_relative = 1e-12);
    // A drum that is open only along its crown, where its circle has no width: a fiftieth of its plan.
    assert_relative_eq!(
        storage(drum(0.6)).area_m2(FLOOR_M + 0.7),
        0.02 * diameter_m * length_m,
        max_relative = 1e-12
    );
    // Over the rim, straight up from the opening.
    let up = storage(drum(0.3));
    assert_relative_eq!(
        up.volume_m3(FLOOR_M + 0.5) - up.volume_m3(FLOOR_M + 0.3),
        0.2 * diameter_m * length_m,
        max_relative = 1e-12
    );
    assert_relative_eq!(
        perimeter_m(drum(0.3)).unwrap(),
        2.0 * (0.9 + 0.6),
        max_relative = 1e-12
    );
}
