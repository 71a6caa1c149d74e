//! The books close: water over a trace, flows at every node, head along every run.

use crate::support::networks::{in_air, lip, loss, random, run, seeds, vessel};
use fallwright::network::{FlowControl, Link, Network, Node, RimLaw, RunLaw, Sense};
use fallwright::solve::{NetworkState, System, Trace, TraceOptions, steady_state, trace};

/// Random systems, each with its trace of `seconds` or until still.
fn traces(few: u64, seconds: Option<f64>) -> Vec<(u64, Network, NetworkState, Trace)> {
    seeds(few)
        .map(|seed| {
            let network = random(seed, seed % 3 == 0);
            let system = System::new(&network);
            let start = system.start();
            let options = TraceOptions {
                until_s: seconds,
                keep_steps: false,
                watches: Vec::new(),
            };
            let done = trace(&system, &start, &options);
            let done = done.unwrap_or_else(|stuck| panic!("seed {seed}: {stuck:?}"));
            (seed, network, start, done)
        })
        .collect()
}

fn source_of(node: &Node) -> f64 {
    match node {
        Node::Vessel { source, .. } => source.constant_m3_s,
        Node::Joint { source_m3_s } => *source_m3_s,
        Node::Fixed { .. } => 0.0,
    }
}

/// What comes into every node by its links, of a quantity per link that is positive from source to target.
fn into_nodes(network: &Network, by_link: &[f64]) -> Vec<f64> {
    let mut sums = vec![0.0; network.node_count()];
    for edge in network.edge_indices() {
        let (source, target) = network.edge_endpoints(edge).unwrap();
        sums[source.index()] -= by_link[edge.index()];
        sums[target.index()] += by_link[edge.index()];
    }
    sums
}

fn volume(node: &Node, level_m: f64) -> f64 {
    match node {
        Node::Vessel { storage, .. } => storage.volume_m3(level_m),
        _ => 0.0,
    }
}

#[test]
fn prop_every_vessel_holds_what_came_in() {
    for (seed, network, start, done) in traces(12, Some(3600.0)) {
        let came = into_nodes(&network, &done.passed_m3);
        let mut total = 0.0;
        for (index, node) in network.node_weights().enumerate() {
            if let Node::Fixed { .. } = node {
                continue;
            }
            let by_level = volume(node, done.end.head_m[index]) - volume(node, start.head_m[index]);
            let error = by_level - came[index] - source_of(node) * done.time_s;
            assert!(
                error.abs() < 1e-6,
                "seed {seed}, node {index}: {error:e} m³"
            );
            total += error;
        }
        assert!(total.abs() < 1e-6, "seed {seed}: {total:e} m³ in all");
    }
}

/// The last drops that are drawn off lie between the last step and the limit: they went out, and are no error.
#[test]
fn prop_a_vessel_that_is_drawn_dry_keeps_its_books() {
    for count in 0..40 {
        let (floor_m, draw_m3_s) = (0.6915, 1e-3 * (1.4 + 0.005 * f64::from(count)));
        let mut network = Network::new();
        network.add_node(vessel(floor_m, 14.0, floor_m + 0.288, -draw_m3_s));
        // Another drains over an edge meanwhile, and is not soon done.
        let upper = network.add_node(vessel(0.83, 2.2, 1.4, 0.0));
        let lower = network.add_node(vessel(-2.0, 4.0, -1.9, 0.0));
        let drain = run(lip(0.83, 0.05), in_air(0.0), loss(0.05, 2.0, 1.0));
        network.add_edge(upper, lower, drain);
        let system = System::new(&network);
        let done = trace(&system, &system.start(), &TraceOptions::default()).unwrap();
        assert!(done.still && (done.end.head_m[0] - floor_m).abs() < 1e-4);
        let open_m3 = done.volume_error_m3;
        assert!(
            open_m3.abs() < 1e-9,
            "drawn {draw_m3_s} m³/s: {open_m3:e} m³"
        );
    }
}

/// Ponds that come to their rims only in the last approach to rest, by the last film over a crest: what goes over is
/// booked, on each rim what its own pond loses.
#[test]
fn regress_what_goes_over_a_rim_in_the_last_approach_is_booked() {
    let film_m = 0.02;
    let (upper_m2, pond_m2) = (2.0, 40.0);
    let full_m = film_m * upper_m2 / pond_m2;
    let mut network = Network::new();
    let outside = network.add_node(Node::Fixed { level_m: -100.0 });
    let over_m3 = [4e-5, 1.5e-5, 0.0];
    let rims = over_m3.map(|over_m3| {
        let upper = network.add_node(vessel(0.5, upper_m2, 1.0 + film_m, 0.0));
        let pond = network.add_node(vessel(-1.0, pond_m2, 0.0, 0.0));
        network.add_edge(
            upper,
            pond,
            run(lip(1.0, 0.05), in_air(0.9), loss(0.05, 1.0, 1.0)),
        );
        let rim = RimLaw {
            rim_m: full_m - over_m3 / pond_m2,
            perimeter_m: 20.0,
            coefficient: 1.7,
        };
        (pond, network.add_edge(pond, outside, Link::Rim(rim)))
    });
    let system = System::new(&network);
    let start = system.start();
    let done = trace(&system, &start, &TraceOptions::default()).unwrap();
    assert!(done.still && done.volume_error_m3.abs() < 1e-9);
    for ((pond, rim), over_m3) in rims.into_iter().zip(over_m3) {
        let passed_m3 = done.passed_m3[rim.index()];
        assert!(
            (passed_m3 - over_m3).abs() < 1e-7,
            "{passed_m3:e} m³ of {over_m3:e}"
        );
        assert!(
            done.range_m[pond.index()].1 < full_m - 1e-6,
            "seen at its rim"
        );
    }
    let water = |point: &NetworkState| point.volume_m3.iter().sum::<f64>();
    let spilled_m3 = rims
        .iter()
        .map(|(_, rim)| done.passed_m3[rim.index()])
        .sum::<f64>();
    let open_m3 = water(&done.end) + spilled_m3 - water(&start);
    assert!(open_m3.abs() < 1e-9, "{open_m3:e} m³");
}

#[test]
fn prop_flows_close_at_every_node() {
    for (seed, network, _, done) in traces(12, None) {
        let into = into_nodes(&network, &done.end.flow_m3_s);
        // What it says of its own errors is no less than nothing, and no more than is seen here.
        let said = [done.mass_error_m3_s, done.energy_error_m];
        assert!(
            said.iter().all(|error| (0.0..1e-6).contains(error)),
            "seed {seed}: {said:?}"
        );
        for (index, node) in network.node_weights().enumerate() {
            let moves = done.moving.contains(&index) || !done.still;
            let free = matches!(node, Node::Fixed { .. })
                || (matches!(node, Node::Vessel { .. }) && moves);
            let sum = into[index] + source_of(node);
            assert!(
                free || sum.abs() < 1e-9,
                "seed {seed}, node {index}: {sum:e} m³/s"
            );
        }
    }
}

/// Head that is left of the level upstream after the tail, the losses and the gain of a run, metres.
fn left_over(law: &RunLaw, flow: f64, levels: [f64; 2]) -> f64 {
    let (sense, [up, down]) = if flow > 0.0 {
        (Sense::Forward, levels)
    } else {
        (Sense::Backward, [levels[1], levels[0]])
    };
    let gain = law.pump.as_ref().map_or(0.0, |pump| {
        if pump.backward == (sense == Sense::Backward) {
            pump.curve.head(flow.abs()).value
        } else {
            -pump.curve.head(0.0).value
        }
    });
    let rise = law
        .raised
        .as_ref()
        .map_or(0.0, |raised| raised.rise.at(flow.abs()).value);
    let tail = law.tail_m(sense, flow.abs(), down);
    up - tail - law.loss.at(flow.abs()).value - rise + gain
}

/// Along every run that flows, level to tail, head is spent on losses less gains and the rest is
/// free drop; so round any loop they close.
#[test]
fn prop_head_is_spent_or_free_drop() {
    for (seed, network, _, done) in traces(12, None) {
        for edge in network.edge_indices() {
            let (source, target) = network.edge_endpoints(edge).unwrap();
            let flow = done.end.flow_m3_s[edge.index()];
            let Link::Run(law) = &network[edge] else {
                continue;
            };
            if flow.abs() < 1e-9 || source == target {
                continue;
            }
            let levels = [source, target].map(|node| done.end.head_m[node.index()]);
            let left = left_over(law, flow, levels);
            let name = format!(
                "seed {seed}, run {}: {left:e} m left of {levels:?}",
                edge.index()
            );
            assert!(left > -1e-6, "{name}");
            let held_by_crest = law.raised.is_some();
            if law.flow_control(flow, levels) == FlowControl::Outlet && !held_by_crest {
                assert!(left.abs() < 1e-6, "{name}");
            }
        }
    }
}

/// A pond of a hectare that falls by metres on its way to where it stands: what moved is not taken for what flows for ever.
#[test]
fn a_pond_passes_on_what_it_gets() {
    let inflow_m3_s = 0.02;
    let mut network = Network::new();
    let pond = network.add_node(vessel(0.0, 1.0e4, 9.0, inflow_m3_s));
    let river = network.add_node(Node::Fixed { level_m: -5.0 });
    let link = run(lip(2.0, 0.3), in_air(1.0), loss(0.3, 20.0, 1.0));
    let drain = network.add_edge(pond, river, link);
    let system = System::new(&network);
    let (end, _) = steady_state(&system, &system.start()).unwrap();
    let out_m3_s = end.flow_m3_s[drain.index()];
    assert!((out_m3_s - inflow_m3_s).abs() < 1e-9, "{out_m3_s}");
    assert!((2.0..2.3).contains(&end.head_m[pond.index()]));
}

/// The lowest and the highest level on the way, and when the lowest was, are those of the steps.
#[test]
fn prop_the_lowest_level_is_told_with_its_time() {
    let mut fell = 0;
    for seed in seeds(12) {
        let network = random(seed, false);
        let system = System::new(&network);
        let options = TraceOptions {
            until_s: Some(3600.0),
            keep_steps: true,
            ..TraceOptions::default()
        };
        let done = trace(&system, &system.start(), &options).unwrap();
        if done.still {
            // The limit itself is no step.
            continue;
        }
        for (node, (low_m, high_m)) in done.range_m.iter().enumerate() {
            let levels = || done.course.points.iter().map(|point| point.head_m[node]);
            assert_eq!(
                *low_m,
                levels().fold(f64::INFINITY, f64::min),
                "seed {seed}"
            );
            assert_eq!(
                *high_m,
                levels().fold(f64::NEG_INFINITY, f64::max),
                "seed {seed}"
            );
            let place = levels().position(|level_m| level_m == *low_m).unwrap();
            assert_eq!(
                done.lowest_s[node], done.course.times_s[place],
                "seed {seed}"
            );
            fell += usize::from(place > 1);
        }
    }
    assert!(fell > 10, "{fell}");
}
