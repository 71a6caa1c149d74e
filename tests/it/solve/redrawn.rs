//! The same system drawn another way gives the same answer.

use crate::support::networks::{Dice, random, seeds};
use fallwright::network::{Check, Link, Network, Node, Port, PumpLaw, RunLaw};
use fallwright::solve::{Point, System, TraceOptions, trace};
use petgraph::graph::NodeIndex;

/// A random system without sources: with one that nothing drains, levels rise by kilometres.
fn sealed(seed: u64) -> Network {
    let mut network = random(seed, false);
    for node in network.node_weights_mut() {
        if let Node::Vessel { source_m3_s, .. } = node {
            *source_m3_s = 0.0;
        }
    }
    network
}

fn settled(network: &Network) -> Point {
    let system = System::new(network);
    let options = TraceOptions {
        until_s: Some(120.0),
        keep_steps: false,
    };
    let done = trace(&system, &system.start(), &options);
    done.expect("the trace is solved").end
}

/// A trace is allowed 0.1 mm a step, so traces whose steps fall otherwise may part by a few times as much.
/// (Steady states are held far closer in `states::redrawn`.)
const LEVEL_M: f64 = 5e-4;

/// The levels of all vessels are the same.
fn same(name: &str, network: &Network, a: &Point, b: &Point) {
    for (index, node) in network.node_weights().enumerate() {
        if let Node::Vessel { .. } = node {
            let apart = a.head_m[index] - b.head_m[index];
            assert!(
                apart.abs() < LEVEL_M,
                "{name}, node {index}: {apart:e} m apart"
            );
        }
    }
}

fn same_flow(name: &str, a: f64, b: f64) {
    let room = 1e-6 + 1e-2 * a.abs();
    assert!((a - b).abs() < room, "{name}: {a:e} and {b:e} m³/s");
}

fn reversed(law: &RunLaw) -> RunLaw {
    RunLaw {
        ends: [law.ends[1], law.ends[0]],
        check: match law.check {
            Check::ForwardOnly => Check::BackwardOnly,
            Check::BackwardOnly => Check::ForwardOnly,
            other => other,
        },
        pump: law.pump.as_ref().map(|pump| PumpLaw {
            backward: !pump.backward,
            ..pump.clone()
        }),
        ..law.clone()
    }
}

#[test]
fn prop_the_other_way_round_changes_only_signs() {
    for seed in seeds(8) {
        let network = sealed(seed);
        let mut dice = Dice(seed);
        let mut other = Network::new();
        for node in network.node_weights() {
            other.add_node(node.clone());
        }
        let mut signs = Vec::new();
        for edge in network.edge_indices() {
            let (source, target) = network.edge_endpoints(edge).unwrap();
            match &network[edge] {
                // A raised intake is at the source of its link.
                Link::Run(law) if law.raised.is_none() && dice.chance(0.5) => {
                    other.add_edge(target, source, Link::Run(Box::new(reversed(law))));
                    signs.push(-1.0);
                }
                link => {
                    other.add_edge(source, target, link.clone());
                    signs.push(1.0);
                }
            }
        }
        let (a, b) = (settled(&network), settled(&other));
        same(&format!("seed {seed}"), &network, &a, &b);
        for (index, sign) in signs.iter().enumerate() {
            let name = format!("seed {seed}, link {index}");
            same_flow(&name, a.flow_m3_s[index], sign * b.flow_m3_s[index]);
        }
    }
}

/// The run in two pieces: all fittings, the pump and the check valve in the first.
fn pieces(law: &RunLaw, share: f64) -> [RunLaw; 2] {
    let mut first = law.clone();
    first.ends[1] = Port::closed();
    first.loss.length_m *= share;
    let mut second = RunLaw {
        ends: [Port::closed(), law.ends[1]],
        pump: None,
        check: Check::None,
        raised: None,
        loss: law.loss.clone(),
        loss_back: None,
    };
    second.loss.length_m *= 1.0 - share;
    second.loss.minors.clear();
    second.loss.equipment_a = 0.0;
    second.loss.equipment_b = 0.0;
    [first, second]
}

#[test]
fn prop_a_joint_in_a_run_changes_nothing() {
    for seed in seeds(8) {
        let network = sealed(seed);
        let mut dice = Dice(1000 + seed);
        let mut other = Network::new();
        for node in network.node_weights() {
            other.add_node(node.clone());
        }
        let mut halves = Vec::new();
        for edge in network.edge_indices() {
            let (source, target) = network.edge_endpoints(edge).unwrap();
            match &network[edge] {
                Link::Run(law) if source != target && dice.chance(0.4) => {
                    let joint = other.add_node(Node::Joint { source_m3_s: 0.0 });
                    let [first, second] = pieces(law, dice.roll());
                    let first = other.add_edge(source, joint, Link::Run(Box::new(first)));
                    let second = other.add_edge(joint, target, Link::Run(Box::new(second)));
                    halves.push([first.index(), second.index()]);
                }
                link => {
                    let only = other.add_edge(source, target, link.clone());
                    halves.push([only.index(); 2]);
                }
            }
        }
        let (a, b) = (settled(&network), settled(&other));
        same(&format!("seed {seed}"), &network, &a, &b);
        for (index, pieces) in halves.iter().enumerate() {
            for piece in pieces {
                let name = format!("seed {seed}, link {index}");
                same_flow(&name, a.flow_m3_s[index], b.flow_m3_s[*piece]);
            }
        }
    }
}

#[test]
fn prop_parts_that_do_not_touch_do_not_matter_to_each_other() {
    for seed in seeds(8) {
        let parts = [sealed(seed), sealed(seed + 5000)];
        let mut both = Network::new();
        for part in &parts {
            let offset = both.node_count();
            for node in part.node_weights() {
                both.add_node(node.clone());
            }
            for edge in part.edge_indices() {
                let (source, target) = part.edge_endpoints(edge).unwrap();
                let at = |node: NodeIndex| NodeIndex::new(node.index() + offset);
                both.add_edge(at(source), at(target), part[edge].clone());
            }
        }
        let together = settled(&both);
        let (mut node, mut link) = (0, 0);
        for part in &parts {
            let alone = settled(part);
            let nodes = part.node_count();
            let same_part = Point {
                head_m: together.head_m[node..node + nodes].to_vec(),
                ..together.clone()
            };
            same(&format!("seed {seed}"), part, &alone, &same_part);
            for (index, flow) in alone.flow_m3_s.iter().enumerate() {
                let name = format!("seed {seed}, link {index}");
                same_flow(&name, *flow, together.flow_m3_s[link + index]);
            }
            node += nodes;
            link += part.edge_count();
        }
    }
}
