//! What a report says of water that leaves over a rim.

use super::{layout, near};
use crate::networks::solved;
use fallwright::layout::Layout;
use fallwright::state::State;
use fallwright::states::report::{StateReport, WithSpill};

/// A pump out of a lake into a bed of 1 m² without a drain, 0.5 m under its rim; beside it a tub that stands still.
fn fed(float: &str) -> Layout {
    layout(&format!(
        "coefficients: (exit_k: 0, entrance_k: 0), \
         vessels: [(id: \"bed\", shape: prism(area_m2: 1), floor_m: 0, rim_m: 1, fill_m: 0.5), \
           (id: \"tub\", shape: prism(area_m2: 1), floor_m: 0, rim_m: 1, fill_m: 0.5)], \
         fixed: [(id: \"lake\", level_m: -1)], \
         runs: [(id: \"lift\", from: (at: \"lake\"), to: (at: \"bed\", opening: mouth(lip_m: 1.2, turned: up, air_gap: true)), \
           pipe: own(bore_m: 0.1), length_m: 0, total_k: 0, check_valve: forward, \
           pump: (id: \"pump\", curve: power(h0_m: 8, c: 1.0e6, n: 2) {float}))]"
    ))
}

fn spill(report: &StateReport, place: usize) -> WithSpill {
    report.vessels[place].with_spill.expect("it spills")
}

#[test]
fn a_bed_without_a_drain_spills_what_is_pumped_from_the_moment_it_is_full() {
    let report = solved(&fed(""), State::Running);
    // From the lake at −1 m to the lip at 1.2 m, with nothing else to lose.
    let pumped_m3_s = ((8.0 - 2.2) / 1.0e6_f64).sqrt();
    let bed = spill(&report, 0);
    near(bed.spill_m3_s, pumped_m3_s, 1e-4 * pumped_m3_s);
    near(bed.first_spill_s.unwrap(), 0.5 / pumped_m3_s, 1.0);
    // Over the rim of a vessel that is known by its area: that of a circle of 1 m².
    let rim_m = (4.0 * std::f64::consts::PI).sqrt();
    let over_m = (pumped_m3_s / (1.44 * rim_m)).powf(2.0 / 3.0);
    near(bed.level_m, 1.0 + over_m, 1e-5);
    assert!(bed.lost_m3 > 0.0);
    // The walls are tall in the report itself: there it rises until the pump can lift no higher.
    near(report.vessels[0].level_m.unwrap(), -1.0 + 8.0, 1e-3);
    let tub = spill(&report, 1);
    assert_eq!(
        (tub.spill_m3_s, tub.lost_m3, tub.first_spill_s),
        (0.0, 0.0, None)
    );
    near(tub.level_m, 0.5, 1e-9);
}

#[test]
fn a_bed_that_stands_at_its_rim_spills_at_once() {
    // 20 mm over its rim at the start, which it never comes up to; and as high as at rest it then stays.
    let mut over = fed("");
    over.vessels[0].fill_m = 1.02;
    let report = solved(&over, State::Rest);
    let bed = spill(&report, 0);
    near(bed.lost_m3, 0.02, 2e-4);
    assert_eq!(bed.first_spill_s, Some(0.0));
    let running = spill(&solved(&over, State::Running), 0);
    assert!(running.lost_m3 > 0.0 && running.first_spill_s.unwrap() < 1.0);
    let course = report.course.unwrap();
    assert_eq!(course.vessels[0].first_spill_s, Some(0.0));
    assert_eq!(course.vessels[1].first_spill_s, None);
}

#[test]
fn alone_it_says_the_same() {
    let both = solved(&fed(""), State::Running);
    let mut alone = fed("");
    alone.vessels.truncate(1);
    let alone = solved(&alone, State::Running);
    let (one, other) = (spill(&both, 0), spill(&alone, 0));
    near(one.spill_m3_s, other.spill_m3_s, 1e-9);
    near(one.level_m, other.level_m, 1e-6);
}

#[test]
fn where_nothing_spills_nothing_is_told_of_it() {
    let report = solved(
        &fed(", float: (at: \"bed\", on_m: 0.6, off_m: 0.9)"),
        State::Running,
    );
    assert!(
        report
            .vessels
            .iter()
            .all(|vessel| vessel.with_spill.is_none())
    );
    near(report.vessels[0].level_m.unwrap(), 0.9, 1e-4);
}
