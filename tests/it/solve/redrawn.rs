//! The same system drawn another way gives the same answer.

use crate::support::networks::{Dice, random, seeds};
use fallwright::network::{Check, Link, Network, Node, Port, PumpLaw, RunLaw, Source};
use fallwright::solve::{NetworkState, System, TraceOptions, steady_state, trace};
use petgraph::graph::NodeIndex;

/// A moment after the start: one implicit step, whose answer is one only.
const MOMENT_S: f64 = 1e-3;
/// A while after it: steps of other lengths may have led there.
const WHILE_S: f64 = 10.0;
/// Room for a level that came there by steps of other lengths, metres: the error of one step.
const STEP_ERROR_M: f64 = 1e-4;

fn after(network: &Network, seconds: f64) -> NetworkState {
    let system = System::new(network);
    let options = TraceOptions {
        until_s: Some(seconds),
        keep_steps: false,
        watches: Vec::new(),
    };
    let done = trace(&system, &system.start(), &options);
    done.expect("the trace is solved").end
}

/// The levels of all vessels are the same.
fn same_levels((name, room_m): (&str, f64), network: &Network, a: &NetworkState, b: &NetworkState) {
    for (index, node) in network.node_weights().enumerate() {
        if let Node::Vessel { .. } = node {
            let apart = a.head_m[index] - b.head_m[index];
            assert!(apart.abs() < room_m, "{name}, node {index}: {apart:e} m");
        }
    }
}

/// Two drawings of one system: the same levels after a moment and after a while, and the same
/// flows after a moment. `copies` gives for each link of `a` the links that stand for it in `b`,
/// with their sign.
fn same_answers(name: &str, a: &Network, b: &Network, copies: &[Vec<(usize, f64)>]) {
    let (one, other) = (after(a, MOMENT_S), after(b, MOMENT_S));
    same_levels((name, 1e-6), a, &one, &other);
    for (link, stands_for) in copies.iter().enumerate() {
        for (copy, sign) in stands_for {
            let flows = [one.flow_m3_s[link], sign * other.flow_m3_s[*copy]];
            same_flow(&format!("{name}, link {link}"), flows);
        }
    }
    let (one, other) = (after(a, WHILE_S), after(b, WHILE_S));
    same_levels((name, STEP_ERROR_M), a, &one, &other);
}

fn same_flow(name: &str, [a, b]: [f64; 2]) {
    // A run of almost no resistance passes any flow at one level: a billionth of it is left open too.
    let room = 1e-9 + 1e-8 * a.abs();
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
        grades: [law.grades[1].clone(), law.grades[0].clone()],
        primed_grades: [None, None],
        primed: false,
        ..law.clone()
    }
}

/// The same nodes with nothing between them.
fn without_links(network: &Network) -> Network {
    let mut other = Network::new();
    for node in network.node_weights() {
        other.add_node(node.clone());
    }
    other
}

/// Half of the runs drawn the other way; a raised intake is at the source of its link and stays.
fn half_reversed(network: &Network, seed: u64) -> (Network, Vec<Vec<(usize, f64)>>) {
    let mut dice = Dice(seed);
    let mut other = without_links(network);
    let mut copies = Vec::new();
    for edge in network.edge_indices() {
        let (source, target) = network.edge_endpoints(edge).unwrap();
        let sign = match &network[edge] {
            Link::Run(law) if law.raised.is_none() && dice.chance(0.5) => {
                other.add_edge(target, source, Link::Run(Box::new(reversed(law))));
                -1.0
            }
            link => {
                other.add_edge(source, target, link.clone());
                1.0
            }
        };
        copies.push(vec![(edge.index(), sign)]);
    }
    (other, copies)
}

#[test]
fn prop_the_other_way_round_changes_only_signs() {
    for seed in seeds(30) {
        let network = random(seed, false);
        let (other, copies) = half_reversed(&network, seed);
        same_answers(&format!("seed {seed}"), &network, &other, &copies);
    }
}

/// To the error of one step: where the jump fails at once it climbs in time, like a trace.
#[test]
fn prop_the_jump_does_not_depend_on_the_drawing() {
    for seed in seeds(30) {
        let mut network = random(seed, false);
        for node in network.node_weights_mut() {
            if let Node::Vessel { source, .. } = node {
                *source = Source::default();
            }
        }
        let (other, _) = half_reversed(&network, seed);
        let jumped = [&network, &other].map(|network| {
            let system = System::new(network);
            steady_state(&system, &system.start()).expect("solved").0
        });
        same_levels(
            (&format!("seed {seed}"), 1e-4),
            &network,
            &jumped[0],
            &jumped[1],
        );
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
        grades: [None, None],
        primed_grades: [None, None],
        primed: false,
    };
    second.loss.length_m *= 1.0 - share;
    second.loss.minors.clear();
    second.loss.equipment_a = 0.0;
    second.loss.equipment_b = 0.0;
    [first, second]
}

/// A joint in two runs of five.
fn with_joints(network: &Network, seed: u64) -> (Network, Vec<Vec<(usize, f64)>>) {
    let mut dice = Dice(seed);
    let mut other = without_links(network);
    let mut copies = Vec::new();
    for edge in network.edge_indices() {
        let (source, target) = network.edge_endpoints(edge).unwrap();
        let edges = match &network[edge] {
            Link::Run(law) if source != target && dice.chance(0.4) => {
                let joint = other.add_node(Node::Joint { source_m3_s: 0.0 });
                let [first, second] = pieces(law, dice.roll());
                let first = other.add_edge(source, joint, Link::Run(Box::new(first)));
                let second = other.add_edge(joint, target, Link::Run(Box::new(second)));
                vec![first, second]
            }
            link => vec![other.add_edge(source, target, link.clone())],
        };
        copies.push(edges.iter().map(|edge| (edge.index(), 1.0)).collect());
    }
    (other, copies)
}

#[test]
fn prop_a_joint_in_a_run_changes_nothing() {
    for seed in seeds(30) {
        let network = random(seed, false);
        let (other, copies) = with_joints(&network, 1000 + seed);
        same_answers(&format!("seed {seed}"), &network, &other, &copies);
    }
}

/// Two systems side by side; the first keeps its numbers.
fn side_by_side(first: &Network, second: &Network) -> Network {
    let mut both = first.clone();
    let offset = first.node_count();
    for node in second.node_weights() {
        both.add_node(node.clone());
    }
    for edge in second.edge_indices() {
        let (source, target) = second.edge_endpoints(edge).unwrap();
        let at = |node: NodeIndex| NodeIndex::new(node.index() + offset);
        both.add_edge(at(source), at(target), second[edge].clone());
    }
    both
}

#[test]
fn prop_parts_that_do_not_touch_do_not_matter_to_each_other() {
    for seed in seeds(20) {
        let (part, stranger) = (random(seed, true), random(seed + 5000, false));
        let both = side_by_side(&part, &stranger);
        let copies: Vec<_> = (0..part.edge_count())
            .map(|link| vec![(link, 1.0)])
            .collect();
        same_answers(&format!("seed {seed}"), &part, &both, &copies);
    }
}
