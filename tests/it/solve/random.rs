//! Systems that nobody would build. None may be left unsolved.
//!
//! `FALLWRIGHT_RANDOM=1000 cargo test --test it random -- --nocapture` runs more of them, from
//! seed `FALLWRIGHT_SEED` on.

use crate::support::networks::{random, random_with_parts};
use fallwright::network::Network;
use fallwright::solve::{NetworkState, System, TraceOptions, steady_state, trace};

fn number(name: &str, otherwise: u64) -> u64 {
    std::env::var(name)
        .ok()
        .and_then(|text| text.parse().ok())
        .unwrap_or(otherwise)
}

/// Finite, and in balance at every joint.
fn sound(network: &Network, point: &NetworkState) -> bool {
    let mut net: Vec<f64> = vec![0.0; network.node_count()];
    for edge in network.edge_indices() {
        let (source, target) = network.edge_endpoints(edge).unwrap();
        net[source.index()] += point.flow_m3_s[edge.index()];
        net[target.index()] -= point.flow_m3_s[edge.index()];
    }
    let finite = point
        .head_m
        .iter()
        .chain(&point.flow_m3_s)
        .all(|value| value.is_finite());
    let joints = network
        .node_indices()
        .filter(|node| matches!(network[*node], fallwright::network::Node::Joint { .. }));
    finite
        && joints
            .into_iter()
            .all(|joint| net[joint.index()].abs() <= 1e-9)
}

#[test]
fn prop_random_systems_jump_and_trace() {
    jump_and_trace(random);
}

#[test]
fn prop_random_systems_with_every_part_jump_and_trace() {
    jump_and_trace(random_with_parts);
}

fn jump_and_trace(make: fn(u64, bool) -> Network) {
    let (count, first) = (
        number("FALLWRIGHT_RANDOM", 16),
        number("FALLWRIGHT_SEED", 0),
    );
    let (mut jumps, mut failed) = (Vec::new(), Vec::new());
    for seed in first..first + count {
        let network = make(seed, seed % 2 == 0);
        let system = System::new(&network);
        let start = system.start();
        match steady_state(&system, &start) {
            Ok((end, stats)) if sound(&network, &end) => jumps.push(stats.newton_steps),
            other => failed.push(format!("{seed} jump {:?}", other.err())),
        }
        match trace(&system, &start, &TraceOptions::default()) {
            Ok(done) if sound(&network, &done.end) => {
                // A day's trace may lose a millilitre; these run for years.
                let days = 1.0 + done.time_s / 86_400.0;
                if done.volume_error_m3.abs() > 1e-6 * days {
                    failed.push(format!("{seed} volume {:e}", done.volume_error_m3));
                }
            }
            other => failed.push(format!("{seed} trace {:?}", other.err())),
        }
    }
    jumps.sort_unstable();
    let mean = jumps.iter().sum::<usize>() as f64 / jumps.len().max(1) as f64;
    println!(
        "{count} systems: Newton steps of a jump: mean {mean:.1}, worst {:?}",
        jumps.last()
    );
    assert!(failed.is_empty(), "unsolved: {failed:?}");
}
