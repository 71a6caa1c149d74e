//! Cures of drains, pumps, air gaps and fills.

use super::layouts::{beds, changed, cured, finding, mouth, problems, read, run_of};
use crate::support::layouts::{at, run, submerged, valve};
use fallwright::finding::{Code, Finding};
use fallwright::layout::{
    CrestKind, CurveForm, CurvePoint, Direction, Layout, Opening, Rise, Turned, Vent,
};

fn only(layout: &Layout, code: Code, about: &str) -> Finding {
    let evaluation = cured(layout);
    finding(&evaluation, code, about)
        .unwrap_or_else(|| panic!("{:?}", evaluation.findings))
        .clone()
}

#[test]
fn a_drain_with_little_to_spare_gets_a_second_one() {
    let mut layout = beds(0.86);
    layout.limits.freeboard_m = 0.0;
    layout.limits.drain_reserve = 5.0;
    let found = only(&layout, Code::LittleReserve, "third");
    let texts: Vec<String> = found.cures.iter().map(read).collect();
    assert!(
        texts
            .iter()
            .any(|text| text.starts_with("Add a second drain like overflow")),
        "{texts:?}"
    );
}

#[test]
fn a_pump_that_cannot_lift_is_told_what_it_lacks() {
    let mut layout = beds(0.8);
    let low =
        [(0.0, 1.0), (0.001, 0.5)].map(|(flow_m3_s, head_m)| CurvePoint { flow_m3_s, head_m });
    run_of(&mut layout, "rise").pump.as_mut().unwrap().curve = CurveForm::Points(low.to_vec());
    // From about 0.3 m to a mouth at 2 m: 1.7 m to lift with 1.0 m.
    run_of(&mut layout, "rise").to = at("first", mouth(2.0));
    let found = only(&layout, Code::PumpCannotLift, "lift");
    let text = read(&found.cures[0]);
    assert!(text.starts_with("It lacks 0.7"), "{text}");
    let (lift_m, head_m) = (found.measured.unwrap(), found.limit.unwrap());
    assert!(
        (lift_m - 1.7).abs() < 0.02 && (head_m - 1.0).abs() < 1e-9,
        "{lift_m}, {head_m}"
    );
}

#[test]
fn a_check_valve_that_stands_the_wrong_way_is_turned_round() {
    let mut layout = beds(0.8);
    run_of(&mut layout, "rise").check_valve = Some(Direction::Backward);
    let found = only(&layout, Code::PumpCannotLift, "lift");
    assert_eq!(read(&found.cures[0]), "Turn the check valve of rise round.");
    run_of(&mut layout, "rise").check_valve = Some(Direction::Forward);
    let evaluation = cured(&layout);
    assert!(finding(&evaluation, Code::PumpCannotLift, "lift").is_none());
}

#[test]
fn water_under_the_crest_of_an_intake_is_brought_over_it() {
    let mut layout = beds(0.8);
    let raised = |crest_m: f64| Opening::RaisedIntake {
        intake_m: 0.05,
        crest_m,
        crest: CrestKind::default(),
        rise: Rise::default(),
        vent: Vent::default(),
    };
    run_of(&mut layout, "rise").from.opening = Some(raised(0.5));
    let found = only(&layout, Code::PumpStarved, "lift");
    let text = read(&found.cures[0]);
    assert!(
        text.contains("two bores over the crest of the intake: fill in more water"),
        "{text}"
    );
}

#[test]
fn a_shut_valve_is_opened() {
    let mut layout = beds(0.8);
    run_of(&mut layout, "rise").valves = vec![valve("gate", 1.0), valve("gate", 0.0)];
    let found = only(&layout, Code::PumpCannotLift, "lift");
    let change = &found.cures[0].changes[0];
    assert_eq!(change.field.path(), "valves.1.opening");
    assert_eq!(
        problems(&changed(&layout, &found.cures[0], 0.0)),
        Vec::<String>::new()
    );
}

#[test]
fn a_drowned_air_gap_goes_two_bores_over_the_rim() {
    let mut layout = beds(0.8);
    let gap = Opening::Mouth {
        lip_m: 0.7,
        turned: Turned::Down,
        bore_m: None,
        air_gap: true,
    };
    layout
        .runs
        .push(run("top-up", at("sump", submerged()), at("second", gap)));
    let found = only(&layout, Code::AirGapDrowned, "second");
    let change = &found.cures[0].changes[0];
    assert_eq!(
        (change.field.path().as_str(), change.from),
        ("to.opening.mouth.lip_m", 0.7)
    );
    assert!(
        (change.to - 1.1).abs() < 1e-9,
        "the rim at 0.9 and two bores of 0.1: {}",
        change.to
    );
}

#[test]
fn a_vessel_filled_over_its_rim_is_filled_less() {
    let mut layout = beds(0.8);
    layout.vessels[3].fill_m = 0.6;
    let found = only(&layout, Code::Spills, "sump");
    let change = &found.cures[0].changes[0];
    assert_eq!((change.field.path().as_str(), change.to), ("fill_m", 0.5));
    assert_eq!(
        problems(&changed(&layout, &found.cures[0], 0.0)),
        Vec::<String>::new()
    );
}

#[test]
fn a_vessel_without_a_drain_is_given_one() {
    let mut layout = beds(0.8);
    layout.vessels[1].make_up_m3_s = 0.0001;
    layout.runs.retain(|run| run.id.as_str() == "rise");
    let evaluation = cured(&layout);
    let found = finding(&evaluation, Code::FillsForEver, "second");
    let found = found.unwrap_or_else(|| panic!("{:?}", evaluation.findings));
    assert_eq!(
        read(&found.cures[0]),
        "Give second a drain with its crest under the rim."
    );
}
