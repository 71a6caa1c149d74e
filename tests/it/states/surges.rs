//! Upstands whose level swings between two.

use crate::networks::solved;
use crate::support::layouts::{at, run, two_tanks, upstand};
use fallwright::finding::State;
use fallwright::layout::{Layout, Opening, Pipe, Turned};

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
    let (low_m, high_m) = report.runs[0].surge_m.expect("it surges");
    assert!((high_m - 1.3469).abs() < 1e-3, "{high_m}");
    assert!((low_m - 1.2372).abs() < 1e-3, "{low_m}");
    assert!((high_m - report.vessels[0].level_m.unwrap()).abs() < 1e-6);
}

#[test]
fn an_upstand_held_as_a_weir_does_not_surge() {
    let report = solved(&upstand_of_50(0.0005), State::Running);
    assert_eq!(report.runs[0].surge_m, None);
}
