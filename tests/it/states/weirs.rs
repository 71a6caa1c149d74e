//! Layouts in which water stands over weirs on both sides.

use super::{layout, near};
use crate::networks::{level, solved};
use fallwright::layout::Layout;
use fallwright::state::State;

/// A pond of 2 m² with 5 L/s let in, and a notch of 0.2 m at 0.5 m towards a level that does not move.
fn notched(tail_m: f64) -> Layout {
    layout(&format!(
        "water: (kinematic_viscosity_m2_s: 1e-6, density_kg_m3: 1000), \
         vessels: [(id: \"pond\", shape: prism(area_m2: 2), floor_m: 0, rim_m: 2, fill_m: 0.5, make_up_m3_s: 0.005)], \
         fixed: [(id: \"river\", role: waste, level_m: {tail_m})], \
         runs: [(id: \"gap\", pipe: open, to: (at: \"river\"), \
           from: (at: \"pond\", opening: notch(crest_m: 0.5, shape: rectangular(width_m: 0.2))))]"
    ))
}

#[test]
fn val_tail_water_lifts_the_level_behind_a_notch() {
    near(
        level(&solved(&notched(0.4), State::Running), "pond"),
        0.5578,
        1e-4,
    );
    near(
        level(&solved(&notched(0.5691), State::Running), "pond"),
        0.58336,
        1e-4,
    );
}

/// Two tanks, one of them fed, with a notch between them: drawn either way it lets the level even out, and
/// both come to rest at one level over the sill.
#[test]
fn prop_tanks_even_out_over_a_notch() {
    for (first, second) in [("fed", "other"), ("other", "fed")] {
        let drawn = layout(&format!(
            "vessels: [(id: \"fed\", shape: prism(area_m2: 2), floor_m: 0, rim_m: 2, fill_m: 1.2), \
               (id: \"other\", shape: prism(area_m2: 3), floor_m: 0, rim_m: 2, fill_m: 0.9)], \
             runs: [(id: \"gap\", pipe: open, to: (at: \"{second}\"), \
               from: (at: \"{first}\", opening: notch(crest_m: 0.8, shape: vee(angle_deg: 90))))]"
        ));
        let rest = solved(&drawn, State::Rest);
        let levels = ["fed", "other"].map(|id| level(&rest, id));
        near(levels[0], levels[1], 1e-5);
        near(levels[0], (2.0 * 1.2 + 3.0 * 0.9) / 5.0, 1e-5);
    }
}

/// A tank that spills into one with a rim as high as its own: what goes over the second stands over the first.
#[test]
fn val_a_rim_under_water() {
    let drawn = layout(
        "coefficients: (rim: 1.7), \
         vessels: [(id: \"upper\", shape: prism(area_m2: 1), floor_m: 0, rim_m: 1, fill_m: 0.9, rim_perimeter_m: 0.5, \
             make_up_m3_s: 0.004, spills_to: \"lower\"), \
           (id: \"lower\", shape: prism(area_m2: 1), floor_m: 0, rim_m: 1, fill_m: 0.9, rim_perimeter_m: 0.5)]",
    );
    let spilled = solved(&drawn, State::Running).vessels;
    let levels = [0, 1].map(|place| spilled[place].with_spill.unwrap().level_m);
    let over_m = (0.004 / (1.7 * 0.5_f64)).powf(2.0 / 3.0);
    near(levels[1], 1.0 + over_m, 1e-5);
    // By Villemonte on the upper rim, with the level of the lower over it.
    let upper_m = levels[0] - 1.0;
    let left = 1.0 - ((levels[1] - 1.0) / upper_m).powf(1.5);
    near(
        1.7 * 0.5 * upper_m.powf(1.5) * left.powf(0.385),
        0.004,
        1e-7,
    );
    assert!(upper_m > over_m + 0.005, "{levels:?}");
}
