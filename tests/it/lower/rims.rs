//! Where spilled water goes.

use crate::support::layouts::{RUNNING, drain, running, two_tanks};
use fallwright::catalogue::Catalogue;
use fallwright::layout::Layout;
use fallwright::lower::{Lowered, Situation, Walls, lower};
use fallwright::network::{Link, Node};
use petgraph::graph::{EdgeIndex, NodeIndex};

fn spilling(layout: &Layout) -> Lowered {
    let situation = Situation {
        walls: Walls::AsBuilt,
        ..RUNNING
    };
    lower(layout, Catalogue::builtin(), situation)
}

/// The rim of a vessel: its law, and the nodes it spills from and to.
fn rim(lowered: &Lowered, vessel: usize) -> (&Link, usize, usize) {
    let edge = EdgeIndex::new(lowered.origin.rims[vessel].unwrap());
    let (source, target) = lowered.network.edge_endpoints(edge).unwrap();
    (&lowered.network[edge], source.index(), target.index())
}

#[test]
fn tall_walls_have_no_rims_and_lose_nothing() {
    let lowered = running(&two_tanks(vec![drain()]));
    assert_eq!(lowered.origin.rims, [None, None]);
    assert_eq!(lowered.origin.lost, None);
    assert_eq!(lowered.network.edge_count(), 1);
    assert_eq!(lowered.network.node_count(), 4);
}

#[test]
fn what_spills_is_lost_far_below_unless_something_catches_it() {
    let mut layout = two_tanks(vec![drain()]);
    layout.vessels[0].spills_to = Some("lower".into());
    layout.coefficients.rim = 1.6;
    let lowered = spilling(&layout);
    let (law, source, target) = rim(&lowered, 0);
    assert_eq!(
        (source, target),
        (lowered.origin.vessels[0], lowered.origin.vessels[1])
    );
    // A vessel catches it, whose water may come to stand over the rim: a weir over a sill.
    let Link::Run(law) = law else {
        panic!("{law:?} does not feel what stands behind it");
    };
    assert_eq!(law.ends[0].lip_m, 1.5);
    let rim_m = (4.0 * std::f64::consts::PI * 2.0_f64).sqrt();
    let spilled = law.flow(1.6, 0.2, 0.0);
    assert!((spilled / (1.6 * rim_m * 0.1_f64.powf(1.5)) - 1.0).abs() < 1e-12);
    let lost = lowered.origin.lost.unwrap();
    assert_eq!(rim(&lowered, 1).2, lost);
    match lowered.network[NodeIndex::new(lost)] {
        Node::Fixed { level_m } => assert!(level_m < -50.0),
        ref other => panic!("{other:?} does not stay where it is"),
    }
}

#[test]
fn nothing_is_lost_where_all_is_caught() {
    let mut layout = two_tanks(vec![drain()]);
    layout.vessels[0].spills_to = Some("lower".into());
    layout.vessels[1].spills_to = Some("ditch".into());
    let lowered = spilling(&layout);
    let (law, _, target) = rim(&lowered, 1);
    assert_eq!(target, lowered.origin.fixed[0]);
    assert!(
        matches!(law, Link::Rim(_)),
        "a level that never moves stands under it"
    );
    assert_eq!(lowered.origin.lost, None);
}

#[test]
fn a_receiver_that_is_not_there_or_is_the_vessel_itself_catches_nothing() {
    let mut layout = two_tanks(vec![drain()]);
    layout.vessels[0].spills_to = Some("moon".into());
    layout.vessels[1].spills_to = Some("lower".into());
    let lowered = spilling(&layout);
    let lost = lowered.origin.lost.unwrap();
    assert_eq!((rim(&lowered, 0).2, rim(&lowered, 1).2), (lost, lost));
}
