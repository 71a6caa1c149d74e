//! Upstands whose level swings between two.

use crate::networks::solved;
use crate::support::layouts::{at, law_of, run, submerged, two_tanks, upstand};
use fallwright::catalogue::Catalogue;
use fallwright::evaluate::evaluate;
use fallwright::finding::Code;
use fallwright::layout::{Layout, Opening, Pipe, Turned};
use fallwright::state::State;

/// An upstand of 50 mm at 1.2 m that lets this much water into a ditch 2.2 m below.
fn upstand_of_50(make_up_m3_s: f64) -> Layout {
    let mouth = Opening::Mouth {
        lip_m: -0.9,
        turned: Turned::Down,
        bore_m: None,
        air_gap: true,
    };
    let mut drain = run("drain", at("upper", upstand(1.2)), at("ditch", mouth));
    drain.pipe = Pipe::Own {
        bore_m: 0.05,
        roughness_m: None,
        hazen_williams_c: None,
    };
    let mut layout = two_tanks(vec![drain]);
    layout.vessels[0].make_up_m3_s = make_up_m3_s;
    layout
}

/// By hand: 2 L/s over a lip of 50 mm, C_w = C_o = 0.6: as a weir (0.002/0.27828)^(2/3) = 37.2 mm, as an orifice
/// (0.002/0.0052174)² = 146.9 mm; Fr = 1.02/0.70 = 1.5; the pipe takes it away with head to spare.
#[test]
fn an_upstand_held_as_an_orifice_over_a_pipe_that_could_take_more_surges() {
    let report = solved(&upstand_of_50(0.002), State::Running);
    let surge = report.runs[0].surge.expect("it surges");
    let (low_m, high_m) = (surge.low_m, surge.high_m);
    assert!((high_m - 1.3469).abs() < 1e-3, "{high_m}");
    assert!((low_m - 1.2372).abs() < 1e-3, "{low_m}");
    assert!((high_m - report.vessels[0].level_m.unwrap()).abs() < 1e-6);
}

#[test]
fn an_upstand_held_as_a_weir_does_not_surge() {
    let report = solved(&upstand_of_50(0.0005), State::Running);
    assert_eq!(report.runs[0].surge, None);
}

/// A tank over a floor outlet of 40.9 mm with 2 m of falling leg, by its rim and what flows in.
fn floor_outlet(rim_m: f64, make_up_m3_s: f64) -> Layout {
    let mut layout = crate::networks::read("layouts/mouth-under-water.ron");
    layout.vessels[0].rim_m = rim_m;
    layout.vessels[0].make_up_m3_s = make_up_m3_s;
    layout
}

/// By hand: S = 0.0409·(1 + 2.3·4.81) = 493 mm; as an orifice (0.004/0.0034911)² = 1.313 m; the pipe takes 4 L/s
/// with less than both.
#[test]
fn a_mouth_under_water_is_judged_by_the_level_that_keeps_the_air_out() {
    let report = solved(&floor_outlet(3.0, 0.004), State::Running);
    let surge = report.runs[0].surge.expect("it surges");
    assert!((surge.likely_m - 0.4931).abs() < 2e-3, "{surge:?}");
    assert!((surge.high_m - 1.313).abs() < 5e-3, "{surge:?}");
    assert!(surge.low_m < surge.likely_m - 0.05, "{surge:?}");
    assert_eq!(surge.likely_m, report.vessels[0].level_m.unwrap());
    // 1 m².
    assert!((surge.gulp_m3 - (surge.high_m - surge.low_m)).abs() < 1e-9);
    assert_eq!(surge.room_m3, None);
}

/// A rim at 0.6 m holds the likely level: no spill, and the warning names it.
#[test]
fn a_rim_between_the_likely_and_the_highest_level_is_a_warning_and_no_spill() {
    let told = |rim_m: f64| {
        let layout = floor_outlet(rim_m, 0.004);
        let evaluation = evaluate(&layout, Catalogue::builtin(), &[State::Running]);
        let running = evaluation
            .findings
            .iter()
            .filter(|one| one.state == State::Running);
        let codes: Vec<Code> = running.clone().map(|one| one.code).collect();
        let surges = running.filter(|one| one.code == Code::Surges);
        let text: Vec<String> = surges
            .map(|one| one.text.read(&|id| id.to_string(), layout.units))
            .collect();
        (codes, text.concat())
    };
    let (codes, text) = told(0.6);
    assert!(!codes.contains(&Code::Spills), "{codes:?}");
    assert!(
        text.contains("Its rim at 0.600 m") || text.contains("Its rim at 600 mm"),
        "{text}"
    );
    let (codes, text) = told(1.5);
    assert!(
        codes.contains(&Code::Surges) && !text.contains("Its rim"),
        "{text}"
    );
    let (codes, _) = told(0.45);
    assert!(codes.contains(&Code::Spills), "{codes:?}");
}

/// S = 387 mm, and 300 mm stand over the intake: the pump draws all it can, and is warned.
#[test]
fn a_pump_under_too_little_water_is_not_held_back_but_warned() {
    let layout = crate::networks::read("layouts/suction-under-water.ron");
    let evaluation = evaluate(&layout, Catalogue::builtin(), &[State::Running]);
    let codes: Vec<Code> = evaluation.findings.iter().map(|one| one.code).collect();
    assert!(codes.contains(&Code::IntakeUncovered), "{codes:?}");
    assert!(!codes.contains(&Code::PumpStarved), "{codes:?}");
}

/// Two bores of pipe between two tanks that stand 2 cm apart: 0.82·A·√(2gh) by an entrance K of 0.5 and an exit.
#[test]
fn a_short_pipe_under_water_that_runs_full_passes_0_82() {
    let hole = Opening::SideHole {
        invert_m: 0.6,
        bore_m: None,
    };
    let mut short = run("port", at("upper", hole), at("lower", submerged()));
    short.length_m = Some(0.1);
    short.pipe = Pipe::Own {
        bore_m: 0.05,
        roughness_m: Some(0.0),
        hazen_williams_c: None,
    };
    let flow = law_of(short).flow(1.32, 1.3, 0.0);
    let free = std::f64::consts::FRAC_PI_4 * 0.05 * 0.05 * (2.0 * 9.80665 * 0.02_f64).sqrt();
    assert!((flow / free - 0.82).abs() < 0.02, "{}", flow / free);
}
