//! Where water stands in a run in which nothing moves: by hand.

use fallwright::states::{StandingWater, StillPoint, standing_water};
use proptest::prelude::*;

fn levels(places: &[StillPoint]) -> Vec<(f64, Option<f64>)> {
    places
        .iter()
        .map(|one| (one.distance_m, one.level_m))
        .collect()
}

fn free(from_m: f64, to_m: f64) -> StandingWater {
    StandingWater {
        ends_m: [Some(from_m), Some(to_m)],
        held: false,
    }
}

#[test]
fn a_pipe_under_both_levels_is_full() {
    let places = standing_water(&[(0.0, 0.2), (3.0, 0.1)], &free(1.0, 1.0));
    assert_eq!(levels(&places), [(0.0, Some(1.0)), (3.0, Some(1.0))]);
}

#[test]
fn behind_a_crest_a_drain_has_run_empty_down_to_the_level_below() {
    // From a crest at the level, down 2 m over 4 m of pipe, its end 0.5 m under water.
    let places = standing_water(&[(0.0, 2.001), (4.0, 0.0)], &free(2.0, 0.5));
    let wet: Vec<f64> = places
        .iter()
        .filter(|one| one.level_m == Some(0.5))
        .map(|one| one.distance_m)
        .collect();
    // Half a metre of height is a quarter of the slope.
    let share = 1.0 - 0.5 / 2.001;
    assert_eq!(wet.len(), 2);
    assert!((wet[0] - 4.0 * share).abs() < 1e-9 && wet[1] == 4.0);
    assert_eq!(places[0].level_m, None, "the crest is over the water");
}

#[test]
fn a_rising_main_without_a_check_valve_stands_as_high_as_the_sump() {
    let main = [(0.0, -1.0), (1.0, -1.0), (4.0, 2.0), (5.0, 2.0)];
    let places = standing_water(&main, &free(0.0, 1.5));
    let cut = places.iter().find(|one| one.invert_m == 0.0).unwrap();
    assert!((cut.distance_m - 2.0).abs() < 1e-12);
    assert_eq!(cut.level_m, Some(0.0));
    assert!(
        places
            .iter()
            .all(|one| one.invert_m <= 0.0 || one.level_m.is_none())
    );
}

#[test]
fn a_check_valve_keeps_the_main_full_to_its_top() {
    let main = [(0.0, -1.0), (1.0, -1.0), (4.0, 2.0), (5.0, 2.0)];
    let how = StandingWater {
        held: true,
        ..free(0.0, 1.5)
    };
    let places = standing_water(&main, &how);
    assert_eq!(places.first().unwrap().level_m, Some(0.0), "the sump's own");
    assert_eq!(places.last().unwrap().level_m, Some(2.0));
    assert!(places.iter().all(|one| one.level_m.is_some()));
}

proptest! {
    /// No water hangs over the level that it belongs to, and none stands where no end has any.
    #[test]
    fn prop_water_stands_under_a_level_of_an_end(
        heights in proptest::collection::vec(-2.0..3.0_f64, 2..8),
        from_m in -2.0..3.0_f64,
        to_m in -2.0..3.0_f64,
    ) {
        let corners: Vec<(f64, f64)> =
            heights.iter().enumerate().map(|(at, z)| (at as f64, *z)).collect();
        let places = standing_water(&corners, &free(from_m, to_m));
        for place in &places {
            if let Some(level_m) = place.level_m {
                // Or as high as what it would have to run over.
                let dam = places.iter().any(|other| other.invert_m == level_m);
                prop_assert!(level_m == from_m || level_m == to_m || dam);
                prop_assert!(level_m <= from_m.max(to_m));
                prop_assert!(place.invert_m <= level_m + 1e-6);
            }
        }
        for pair in places.windows(2) {
            prop_assert!(pair[0].distance_m <= pair[1].distance_m);
        }
        let dry = StandingWater { ends_m: [None, None], held: false };
        prop_assert!(standing_water(&corners, &dry).iter().all(|one| one.level_m.is_none()));
    }
}
