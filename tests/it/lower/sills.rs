//! Notches in a common wall, and rims towards what they spill into: weirs that water may stand over.

use crate::support::layouts::{BORE_M, RUNNING, at, bare, drain, law_of, run, two_tanks};
use fallwright::catalogue::Catalogue;
use fallwright::layout::{Layout, NotchShape, Opening, Pipe, Run};
use fallwright::lower::{Lowered, Situation, Walls, lower};
use fallwright::network::{FlowControl, Link, Outlet, RunLaw, Sense};
use petgraph::graph::EdgeIndex;

/// Where the sill stands, metres.
const SILL_M: f64 = 1.0;

fn notch(shape: NotchShape) -> Opening {
    Opening::Notch {
        crest_m: SILL_M,
        shape,
        weir: None,
    }
}

fn rectangle() -> Opening {
    notch(NotchShape::Rectangular {
        width_m: 0.2,
        channel_m: None,
    })
}

fn vee() -> Opening {
    notch(NotchShape::Vee { angle_deg: 90.0 })
}

fn in_wall(opening: Opening) -> Run {
    Run {
        pipe: Pipe::Open,
        length_m: None,
        ..run("gap", at("upper", opening), bare("lower"))
    }
}

fn spilling(layout: &Layout) -> Lowered {
    let situation = Situation {
        walls: Walls::AsBuilt,
        ..RUNNING
    };
    lower(layout, Catalogue::builtin(), situation)
}

/// The rim of the upper tank, as high as that of the lower, as a link.
fn rim() -> RunLaw {
    let mut layout = two_tanks(vec![drain()]);
    layout.vessels[0].spills_to = Some("lower".into());
    layout.vessels[0].rim_m = SILL_M;
    layout.vessels[1].rim_m = SILL_M;
    let lowered = spilling(&layout);
    let edge = EdgeIndex::new(lowered.origin.rims[0].unwrap());
    match &lowered.network[edge] {
        Link::Run(law) => (**law).clone(),
        Link::Rim(_) => panic!("the water that it falls into may come to stand over it"),
    }
}

fn laws() -> [RunLaw; 3] {
    [law_of(in_wall(rectangle())), law_of(in_wall(vee())), rim()]
}

#[test]
fn val_a_notch_under_water_is_villemonte_s() {
    let law = law_of(in_wall(rectangle()));
    let need = law.required_head(Sense::Forward, 0.005, SILL_M + 0.0691);
    assert!((need.head_m - SILL_M - 0.08336).abs() < 1e-4, "{need:?}");
    let flow = law.flow(need.head_m, SILL_M + 0.0691, 0.0);
    assert!((flow - 0.005).abs() < 1e-12, "{flow}");
    let back = law.flow(SILL_M + 0.0691, need.head_m, 0.0);
    assert!((back + flow).abs() < 1e-3 * flow, "{back}");
}

#[test]
fn prop_a_rim_is_never_crossed_back() {
    let law = rim();
    assert_eq!(law.flow(SILL_M + 0.02, SILL_M + 0.05, 0.0), 0.0);
    assert_eq!(law.flow(SILL_M + 0.05, SILL_M + 0.05, 0.0), 0.0);
    let free = law.flow(SILL_M + 0.05, SILL_M - 0.1, 0.0);
    let under = law.flow(SILL_M + 0.05, SILL_M + 0.04, 0.0);
    assert!(0.0 < under && under < 0.8 * free, "{under} {free}");
}

/// Tail water from 0.1 m under the sill to 0.3 m over it, millimetre by millimetre.
#[test]
fn prop_the_level_never_falls_as_tail_water_or_flow_rises() {
    let flows = [1e-12, 1e-7, 1e-4, 1e-3, 5e-3, 0.03];
    for law in laws() {
        let mut below = [0.0; 6];
        for step in 0..=400 {
            let tail_m = SILL_M - 0.1 + 0.001 * f64::from(step);
            let mut last_m = 0.0;
            for (flow, below) in flows.into_iter().zip(&mut below) {
                let head_m = law.required_head(Sense::Forward, flow, tail_m).head_m;
                assert!(head_m >= last_m && head_m >= *below, "{flow} {tail_m}");
                let again = law.flow(head_m, tail_m, 0.0);
                // The last digit of the levels is a flow by itself where the sill stands deep under water.
                assert!(
                    (again - flow).abs() <= 1e-9 * flow + 1e-10,
                    "{flow} {again} {tail_m}"
                );
                (last_m, *below) = (head_m, head_m);
            }
        }
    }
}

/// Entrance, exit and what was said of both together count over no sill, and a free one is held by its inlet.
#[test]
fn prop_nothing_else_is_lost_over_a_sill() {
    let plain = law_of(in_wall(rectangle()));
    let with_k = law_of(Run {
        total_k: Some(50.0),
        ..in_wall(rectangle())
    });
    assert!(plain.loss.is_nothing() && with_k.loss.is_nothing());
    assert_eq!(
        plain.flow_control(0.004, [SILL_M + 0.1, SILL_M - 0.2]),
        FlowControl::Inlet
    );
    assert_eq!(
        plain.flow_control(0.004, [SILL_M + 0.1, SILL_M + 0.08]),
        FlowControl::Outlet
    );
    let piped = law_of(run("pipe", at("upper", rectangle()), bare("tee")));
    assert!(!piped.loss.is_nothing());
    assert!(
        piped
            .ends
            .iter()
            .all(|end| !matches!(end.outlet, Outlet::Sill(_)))
    );
    let hole = Opening::SideHole {
        invert_m: SILL_M,
        bore_m: Some(BORE_M),
    };
    assert!(!law_of(in_wall(hole)).loss.is_nothing());
}

/// What flows is lost or falls: together that is all of the height between the levels, down to the sill where it is
/// free.
#[test]
fn prop_head_over_a_sill_is_lost_or_falls() {
    for law in laws() {
        for [up_m, down_m] in [[0.05, -0.3], [0.05, 0.0], [0.05, 0.01], [0.05, 0.0499]] {
            let levels = [SILL_M + up_m, SILL_M + down_m];
            let flow = law.flow(levels[0], levels[1], 0.0);
            let lost_m = law.lost_m(Sense::Forward, flow, levels);
            let drop_m = law.free_drop_m(Sense::Forward, flow, levels);
            assert!((lost_m + drop_m - (up_m - down_m.max(0.0))).abs() < 1e-9);
        }
    }
}
