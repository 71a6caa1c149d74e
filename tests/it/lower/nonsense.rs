//! Lowering never fails, whatever the numbers.

use crate::support::layouts::{at, fitting, pump, run, running, two_tanks, upstand, valve};
use fallwright::layout::{
    CrestKind, Direction, FittingUse, Layout, Medium, Opening, Pipe, Rise, Run, Shape, TableRow,
    Turned, Vent,
};
use proptest::prelude::*;

/// Numbers that nobody should enter, among a few ordinary ones.
fn any_number() -> impl Strategy<Value = f64> {
    let odd = [
        f64::NAN,
        f64::INFINITY,
        f64::NEG_INFINITY,
        0.0,
        -0.0,
        -1.0,
        1e300,
        1e-300,
        0.1,
        1.0,
    ];
    prop::sample::select(odd.to_vec())
}

fn opening(kind: usize, height_m: f64, bore_m: Option<f64>) -> Opening {
    match kind {
        0 => upstand(height_m),
        1 => Opening::SideHole {
            invert_m: height_m,
            bore_m,
        },
        2 => Opening::Floor {
            lip_m: Some(height_m),
            bore_m,
        },
        3 => Opening::Mouth {
            lip_m: height_m,
            turned: Turned::Horizontal,
            bore_m,
            air_gap: false,
        },
        4 => Opening::Submerged {
            lip_m: Some(height_m),
            bore_m,
        },
        _ => Opening::RaisedIntake {
            intake_m: height_m,
            crest_m: 1.0,
            crest: CrestKind::Tee,
            rise: Rise {
                bore_m,
                ..Rise::default()
            },
            vent: Vent::Shut,
        },
    }
}

fn odd_run(kinds: (usize, usize), n: &[f64]) -> Run {
    let mut run = run(
        "odd",
        at("upper", opening(kinds.0, n[0], Some(n[1]))),
        at("lower", opening(kinds.1, n[2], Some(n[3]))),
    );
    run.pipe = Pipe::Own {
        bore_m: n[4],
        roughness_m: Some(n[5]),
        hazen_williams_c: Some(n[6]),
    };
    run.length_m = None;
    run.fittings = vec![
        FittingUse {
            bore_m: Some(n[0]),
            ..fitting("reducer")
        },
        FittingUse {
            choice: Some("pvc-length-table".to_owned()),
            bore_m: Some(n[1]),
            ..fitting("elbow-90")
        },
    ];
    run.valves = vec![valve("gate", n[2])];
    let mut pump = pump(Direction::Backward);
    pump.speed = n[3];
    run.pump = Some(pump);
    run
}

fn odd_layout(kinds: (usize, usize), n: &[f64]) -> Layout {
    let mut layout = two_tanks(vec![odd_run(kinds, n)]);
    layout.vessels[0].shape = Shape::Table {
        rows: n
            .iter()
            .map(|&x| TableRow {
                depth_m: x,
                area_m2: x,
            })
            .collect(),
    };
    layout.vessels[0].medium = Some(Medium {
        top_m: n[6],
        porosity: n[5],
    });
    layout.vessels[1].shape = Shape::ConeBottom {
        diameter_m: n[4],
        cone_height_m: n[3],
    };
    layout.water.temperature_c = n[2];
    layout.coefficients.orifice = n[1];
    layout
}

proptest! {
    #[test]
    fn prop_lowering_never_fails(
        kinds in (0_usize..6, 0_usize..6),
        numbers in prop::collection::vec(any_number(), 7),
    ) {
        let lowered = running(&odd_layout(kinds, &numbers));
        prop_assert_eq!(lowered.origin.runs.len(), 1);
        prop_assert_eq!(lowered.network.node_count(), 4);
    }
}
