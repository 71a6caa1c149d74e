//! The six states of small systems that can be reckoned by hand.

use super::{layout, near};
use crate::networks::{level, read, solved};
use fallwright::catalogue::Catalogue;
use fallwright::evaluate::evaluate;
use fallwright::layout::Layout;
use fallwright::state::State;
use fallwright::states::EventKind;
use fallwright::states::report::{Standing, StateReport, TrajectoryReport};

pub fn course(report: &StateReport) -> &TrajectoryReport {
    report.course.as_ref().unwrap()
}

pub fn when(report: &StateReport, what: EventKind) -> Option<f64> {
    let mut told = course(report).told.iter();
    told.find(|told| told.what == what).map(|told| told.time_s)
}

/// A sump of 1 m² and a header of 0.5 m² above it; the return ends under water at 2.05 m, the drain stands
/// at 2.4 m.
pub fn lift(sump_fill_m: f64, check_valve: &str) -> Layout {
    layout(&format!(
        "vessels: [\
           (id: \"sump\", shape: prism(area_m2: 1), floor_m: 0, rim_m: 1, fill_m: {sump_fill_m:?}),\
           (id: \"header\", shape: prism(area_m2: 0.5), floor_m: 2, rim_m: 3, fill_m: 2)],\
         runs: [\
           (id: \"lift\", from: (at: \"sump\", opening: mouth(lip_m: 0.1, turned: down, bore_m: 0.1)), \
            to: (at: \"header\", opening: mouth(lip_m: 2.05, turned: down)), pipe: own(bore_m: 0.04), \
            length_m: 4, {check_valve} \
            pump: (id: \"pump\", curve: power(h0_m: 5, c: 5.0e5, n: 2))),\
           (id: \"drain\", from: (at: \"header\", opening: upstand(crest_m: 2.4)), \
            to: (at: \"sump\", opening: mouth(lip_m: 0.9, turned: down)), pipe: own(bore_m: 0.06), length_m: 2)]"
    ))
}

#[test]
fn a_stop_lets_the_header_run_back_through_the_pump_down_to_the_mouth_of_the_return() {
    let layout = lift(0.9, "");
    let running = solved(&layout, State::Running);
    let stopped = solved(&layout, State::Stopped);
    // The mouth has no water over it any more: nothing more can be drawn back.
    near(level(&stopped, "header"), 2.05, 1e-3);
    let back = course(&stopped).back.unwrap();
    let fell_m3 = 0.5 * (level(&running, "header") - level(&stopped, "header"));
    // What the last polish to the limit moves passes no run.
    near(back.siphoned_m3 + back.drained_m3, fell_m3, 5e-5);
    // The crest lets go only what stands over it.
    assert!(back.drained_m3 < 0.5 * (level(&running, "header") - 2.4) + 1e-9);
    assert!(back.siphoned_m3 > 0.5 * 0.35 - 1e-3);
}

#[test]
fn a_check_valve_keeps_what_stands_under_the_crest() {
    let stopped = solved(&lift(0.9, "check_valve: forward,"), State::Stopped);
    near(level(&stopped, "header"), 2.4, 1e-3);
    assert_eq!(course(&stopped).back.unwrap().siphoned_m3, 0.0);
}

#[test]
fn a_sump_that_is_too_small_runs_the_pump_dry_and_says_when() {
    let layout = lift(0.25, "check_valve: forward,");
    let starting = solved(&layout, State::Starting);
    let uncovered_s = when(&starting, EventKind::IntakeUncovered).unwrap();
    let starved_s = when(&starting, EventKind::SuctionStarved).unwrap();
    let dry_s = when(&starting, EventKind::PumpRunsDry).unwrap();
    assert!(uncovered_s.min(starved_s) > 1.0 && uncovered_s.max(starved_s) < dry_s);
    assert_eq!(starting.pumps[0].standing, Standing::RanDry);
    let suction = &course(&starting).suctions[0];
    // A film over the lip counts as dry.
    near(suction.lowest_m, 0.101, 1e-5);
    assert_eq!(suction.dry_s, Some(dry_s));
    // All that was over the lip is in the header now.
    near(level(&starting, "header"), 2.0 + (0.25 - 0.101) / 0.5, 1e-4);
}

#[test]
fn an_event_stands_where_its_level_is_reached() {
    let starting = solved(&lift(0.4, "check_valve: forward,"), State::Starting);
    let uncovered_s = when(&starting, EventKind::IntakeUncovered).unwrap();
    // From 0.4 to 0.2 m the pump lifts to the mouth at 2.05 m and then against the header: between those.
    let flow = |head_m: f64| (head_m / 5.0e5).sqrt();
    let (most, least) = (flow(5.0 - 1.65), 0.8 * flow(5.0 - 2.3));
    assert!(
        (0.2 / most..0.2 / least).contains(&uncovered_s),
        "{uncovered_s}"
    );
}

/// While the bed fills up the sump is high, the pump strong and the tank over the crest of a corner that
/// nothing comes back from; once the bed runs over, all is lower.
fn dead_corner() -> Layout {
    layout(
        "vessels: [\
           (id: \"sump\", shape: prism(area_m2: 0.4), floor_m: 0, rim_m: 2, fill_m: 1.4),\
           (id: \"tank\", shape: prism(area_m2: 0.2), floor_m: 2, rim_m: 4, fill_m: 2.4),\
           (id: \"bed\", shape: prism(area_m2: 0.5), floor_m: 1, rim_m: 2, fill_m: 1),\
           (id: \"corner\", shape: prism(area_m2: 3), floor_m: 0, rim_m: 2, fill_m: 0)],\
         runs: [\
           (id: \"lift\", from: (at: \"sump\", opening: mouth(lip_m: 0.1, turned: down, bore_m: 0.12)), \
            to: (at: \"tank\", opening: mouth(lip_m: 3.5, turned: down, air_gap: true)), pipe: own(bore_m: 0.06), \
            length_m: 4, check_valve: forward, pump: (id: \"pump\", curve: points([(flow_m3_s: 0, head_m: 3.6), (flow_m3_s: 0.004, head_m: 1.8)]))),\
           (id: \"long\", from: (at: \"tank\", opening: upstand(crest_m: 2.4)), \
            to: (at: \"bed\", opening: mouth(lip_m: 1.9, turned: up, air_gap: true)), pipe: own(bore_m: 0.05), length_m: 2),\
           (id: \"bed-drain\", from: (at: \"bed\", opening: upstand(crest_m: 1.6, bore_m: 0.1)), \
            to: (at: \"sump\", opening: mouth(lip_m: 1.5, turned: up, air_gap: true)), pipe: own(bore_m: 0.1), length_m: 1),\
           (id: \"corner-drain\", from: (at: \"tank\", opening: upstand(crest_m: 2.52, bore_m: 0.08)), \
            to: (at: \"corner\", opening: mouth(lip_m: 1.9, turned: up, air_gap: true)), pipe: own(bore_m: 0.08), length_m: 1)]",
    )
}

#[test]
fn a_start_can_lose_water_for_good_and_then_the_jump_is_wrong() {
    let layout = dead_corner();
    let traced = solved(&layout, State::Running);
    let jumped = fallwright::evaluate::preview(&layout, Catalogue::builtin()).unwrap();
    let apart = level(&traced, "sump") - level(&jumped, "sump");
    assert!(apart.abs() > 0.01, "{apart}");
}

#[test]
fn the_books_close_over_a_day() {
    for name in ["glasshouse", "drain-too-high", "two-beds", "rain-cistern"] {
        let layout = read(&format!("../../examples/{name}.ron"));
        let found = evaluate(&layout, Catalogue::builtin(), &State::ALL);
        assert!(found.unsolved.is_empty());
        assert_eq!(found.states.len(), 6, "{name}");
        for report in &found.states {
            assert!(report.converged, "{name} {:?}", report.state);
            if let Some(course) = &report.course {
                assert!(
                    course.volume_error_m3.abs() <= 1e-6,
                    "{name} {:?}",
                    report.state
                );
            }
        }
    }
}

#[test]
fn a_layout_that_needs_only_one_state_says_the_same_as_with_all() {
    let layout = read("../../examples/glasshouse.ron");
    let all = evaluate(&layout, Catalogue::builtin(), &State::ALL);
    for state in State::ALL {
        let one = evaluate(&layout, Catalogue::builtin(), &[state]);
        assert!(one.state(state) == all.state(state), "{state:?}");
    }
}

#[test]
fn fill_marks_are_where_the_courses_turn() {
    let layout = lift(0.6, "");
    let found = evaluate(&layout, Catalogue::builtin(), &State::ALL);
    let marks = found.marks.unwrap();
    assert_eq!(marks.vessel.as_str(), "sump");
    let (most, least) = (marks.most.unwrap(), marks.least.unwrap());
    // What runs back on a stop brings the sump to its rim less the freeboard that is wanted.
    let at = |fill_m: f64| {
        let mut filled = layout.clone();
        filled.vessels[0].fill_m = fill_m;
        filled
    };
    let highest = |report: StateReport| course(&report).vessels[0].highest_m;
    let free_m = layout.limits.freeboard_m;
    let stopped = highest(solved(&at(most.off_m), State::Stopped));
    let started = highest(solved(&at(most.off_m), State::Starting));
    near(stopped.max(started), 1.0 - free_m, 1e-3);
    let lowest = course(&solved(&at(least.off_m), State::Starting)).vessels[0].lowest_m;
    near(marks.cover_m, 0.2, 1e-12);
    near(lowest, marks.cover_m, 1e-3);
    // All the water counts: in the header as well.
    near(
        most.water_m3 - least.water_m3,
        most.off_m - least.off_m,
        1e-9,
    );
}
