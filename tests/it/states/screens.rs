//! Screens in states: levels move one way as they blind and as the water stands deeper.

use super::{layout, near, running};
use crate::networks::{flow, level};
use crate::support::layouts::RUNNING;
use fallwright::catalogue::Catalogue;
use fallwright::lower::lower;
use fallwright::network::Link;
use fallwright::state::State;
use fallwright::states::report::Control;

/// A bed with an inflow that drains through a screened opening.
fn bed(opening: &str, screen: &str) -> String {
    format!(
        "fixed: [(id: \"ditch\", role: waste, level_m: -1)],
         vessels: [(id: \"bed\", shape: prism(area_m2: 2), floor_m: 0, rim_m: 40, fill_m: 0.5, make_up_m3_s: 0.0002)],
         runs: [(id: \"drain\", from: (at: \"bed\", opening: {opening}, screen: ({screen})),
                 to: (at: \"ditch\", opening: mouth(lip_m: -0.5)), pipe: own(bore_m: 0.0525), length_m: 1)]"
    )
}

const OPENINGS: [&str; 4] = [
    "upstand(crest_m: 0.6)",
    "side_hole(invert_m: 0.6)",
    "floor(lip_m: 0.6)",
    "raised_intake(intake_m: 0.1, crest_m: 0.6)",
];
const STANDS: [&str; 3] = ["", ", on_the_lip: true", ", foot_m: 0.5, height_m: 0.3"];

#[test]
fn prop_levels_rise_as_a_screen_blinds() {
    for opening in OPENINGS {
        for stands in STANDS {
            let mut last_m = f64::INFINITY;
            for share in [0.01, 0.03, 0.1, 0.2, 0.4, 0.7, 1.0] {
                let screen = format!("area_m2: 0.02, open_share: {share}{stands}");
                let stands_m = level(&running(&bed(opening, &screen)), "bed");
                assert!(
                    stands_m <= last_m + 1e-7,
                    "{opening}{stands} {share}: {stands_m} {last_m}"
                );
                last_m = stands_m;
            }
        }
    }
}

/// From 0 to 2 m over the opening, by the law of the run.
#[test]
fn prop_the_flow_rises_with_the_water_over_a_screened_opening() {
    for opening in OPENINGS {
        for stands in STANDS {
            for share in [0.01, 0.1, 0.4, 1.0] {
                let screen = format!("area_m2: 0.02, open_share: {share}{stands}");
                let lowered = lower(
                    &layout(&bed(opening, &screen)),
                    Catalogue::builtin(),
                    RUNNING,
                );
                let links = lowered.network.edge_weights();
                let law = links.filter_map(|link| match link {
                    Link::Run(law) => Some(law),
                    Link::Rim(_) => None,
                });
                let law = law.into_iter().next().unwrap();
                let flows =
                    (0..=400).map(|step| law.flow(0.6 + 0.005 * f64::from(step), -1.0, 1e-3));
                let flows: Vec<f64> = flows.collect();
                assert!(
                    flows.windows(2).all(|pair| pair[1] >= pair[0]),
                    "{opening}{stands} {share}"
                );
                assert!(flows[400] > 0.0);
            }
        }
    }
}

/// By hand, without the inlet: the loss through 0.02 m² at 1 L/s is 33·0.05²/2g = 4.2 mm.
#[test]
fn a_screen_before_a_full_pipe_is_added_to_what_the_pipe_loses() {
    let body = |screen: &str| {
        format!(
            "fixed: [(id: \"pond\", role: supply, level_m: 2)],
             vessels: [(id: \"tank\", shape: prism(area_m2: 2), floor_m: 0, rim_m: 40, fill_m: 2.5, make_up_m3_s: 0.001)],
             runs: [(id: \"link\", from: (at: \"tank\", opening: submerged(){screen}), to: (at: \"pond\"),
                     pipe: own(bore_m: 0.05), length_m: 4)]"
        )
    };
    let plain = running(&body(""));
    let screened = running(&body(
        ", screen: (area_m2: 0.02, open_share: 0.4, blinded: 0.5)",
    ));
    near(
        level(&screened, "tank") - level(&plain, "tank"),
        4.2063e-3,
        1e-5,
    );
    near(
        screened.runs[0].loss_m - plain.runs[0].loss_m,
        4.2063e-3,
        1e-5,
    );
    near(flow(&screened, "link"), 0.001, 1e-9);
    assert_eq!(screened.runs[0].control, Control::Outlet);
}

/// A weir in a wall behind a screen falls free while the water below stands under its sill.
#[test]
fn a_free_weir_behind_a_screen_holds_its_flow() {
    let notched = |tail_m: f64, screen: &str| {
        let report = running(&format!(
            "vessels: [(id: \"pond\", shape: prism(area_m2: 2), floor_m: 0, rim_m: 2, fill_m: 0.5, make_up_m3_s: 0.005)], \
             fixed: [(id: \"river\", role: waste, level_m: {tail_m})], \
             runs: [(id: \"gap\", pipe: open, to: (at: \"river\"), \
               from: (at: \"pond\", opening: notch(crest_m: 0.5, shape: rectangular(width_m: 0.2)){screen}))]"
        ));
        let run = &report.runs[0];
        (run.control, run.screens_m, level(&report, "pond"))
    };
    let screen = ", screen: (area_m2: 0.04, open_share: 0.4, blinded: 0.5)";
    let (plain, [before_m, behind_m], open_m) = notched(0.4, "");
    assert_eq!((plain, before_m, behind_m), (Control::Inlet, 0.0, 0.0));
    let (control, [before_m, behind_m], screened_m) = notched(0.4, screen);
    assert_eq!((control, behind_m), (Control::Inlet, 0.0));
    // The weir asks for the same behind the screen as without it.
    near(screened_m - before_m, open_m, 1e-6);
    assert!(before_m > 0.01, "{before_m}");
    assert_eq!(notched(0.56, screen).0, Control::Outlet, "under water");
}

#[test]
fn a_screen_blinded_all_over_shuts_its_run_and_the_vessel_fills_for_ever() {
    let report = running(&bed(
        "upstand(crest_m: 0.6)",
        "area_m2: 0.02, open_share: 0.4, blinded: 1",
    ));
    assert_eq!(report.state, State::Running);
    assert_eq!(report.runs[0].control, Control::Shut);
    assert_eq!(report.vessels[0].level_m, None);
}
