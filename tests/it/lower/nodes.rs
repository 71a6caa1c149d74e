//! Which number belongs to which part.

use crate::support::layouts::{at, bare, drain, findings, run, running, submerged, two_tanks};
use fallwright::finding::{Code, Severity};
use fallwright::layout::Layout;
use fallwright::network::{Check, Link, Node};
use petgraph::graph::{EdgeIndex, NodeIndex};

#[test]
fn every_part_has_its_number_in_the_order_of_the_layout() {
    let mut layout = two_tanks(vec![
        drain(),
        run("leg", bare("tee"), at("lower", submerged())),
        run("waste", bare("ditch"), bare("tee")),
    ]);
    layout.joints[0].make_up_m3_s = -3e-4;
    let lowered = running(&layout);
    let origin = &lowered.origin;
    let node = |index: usize| &lowered.network[NodeIndex::new(index)];
    assert_eq!(origin.vessels.len(), 2);
    assert!(matches!(node(origin.vessels[1]), Node::Vessel { level_m, .. } if *level_m == 0.2));
    assert_eq!(*node(origin.joints[0]), Node::Joint { source_m3_s: -3e-4 });
    assert_eq!(*node(origin.fixed[0]), Node::Fixed { level_m: -1.0 });
    let ends = |run: usize| {
        let edge = EdgeIndex::new(origin.runs[run]);
        let (source, target) = lowered.network.edge_endpoints(edge).unwrap();
        (source.index(), target.index())
    };
    assert_eq!(ends(0), (origin.vessels[0], origin.vessels[1]));
    assert_eq!(ends(1), (origin.joints[0], origin.vessels[1]));
    assert_eq!(ends(2), (origin.fixed[0], origin.joints[0]));
    assert_eq!(origin.run_facts.len(), 3);
}

#[test]
fn vessels_and_joints_that_no_run_reaches_are_noted() {
    let lowered = running(&two_tanks(Vec::new()));
    let found = findings(&lowered);
    let about: Vec<&str> = found.iter().map(|f| f.about[0].as_str()).collect();
    assert_eq!(about, ["upper", "lower", "tee"]);
    for found in &found {
        assert_eq!(
            (found.code, found.severity),
            (Code::NotConnected, Severity::Note)
        );
    }
}

#[test]
fn a_run_to_nowhere_is_shut_and_told() {
    let layout = two_tanks(vec![run("stray", bare("upper"), bare("moon"))]);
    let lowered = running(&layout);
    let edge = EdgeIndex::new(lowered.origin.runs[0]);
    match &lowered.network[edge] {
        Link::Run(law) => assert_eq!(law.check, Check::Shut),
        Link::Rim(_) => panic!("a run is no rim"),
    }
    let found = findings(&lowered);
    let stray = found.iter().find(|f| f.about == ["stray".into()]).unwrap();
    assert_eq!(
        (stray.code, stray.severity),
        (Code::NotConnected, Severity::Problem)
    );
}

#[test]
fn an_empty_layout_is_an_empty_network() {
    let lowered = running(&Layout::default());
    assert_eq!(lowered.network.node_count(), 0);
    assert!(lowered.problems.is_empty());
}
