//! What must not fall when something rises.

use crate::support::networks::{Dice, in_air, lip, loss, random, run, seeds, side_hole, vessel};
use fallwright::hydraulics::pump::Curve;
use fallwright::network::{Link, Network, Node, Port};
use fallwright::solve::{System, steady_state};

/// Level of a vessel that a steady inflow fills and one run drains to a fixed level.
fn level_over(port: Port, bore_m: f64, inflow_m3_s: f64, [outlet_m, below_m]: [f64; 2]) -> f64 {
    let mut network = Network::new();
    let held = network.add_node(vessel(0.0, 3.0, 0.5, inflow_m3_s));
    let away = network.add_node(Node::Fixed { level_m: below_m });
    let law = run(port, in_air(outlet_m), loss(bore_m, 2.0, 1.5));
    network.add_edge(held, away, law);
    let system = System::new(&network);
    steady_state(&system, &system.start())
        .expect("solved")
        .0
        .head_m[0]
}

#[test]
fn prop_a_higher_crest_never_lowers_its_vessel() {
    for seed in seeds(60) {
        let mut dice = Dice(seed);
        let bore = dice.scale(0.02, 0.15);
        let inflow = dice.scale(1e-5, 8e-3);
        let behind = [dice.between(-1.0, 1.0), dice.between(-1.0, 1.5)];
        let hole = dice.chance(0.5);
        let mut last = f64::NEG_INFINITY;
        for step in 0..12 {
            let crest = 0.3 + 0.07 * f64::from(step);
            let port = if hole {
                side_hole(crest, bore)
            } else {
                lip(crest, bore)
            };
            let level = level_over(port, bore, inflow, behind);
            assert!(
                level > last - 1e-7,
                "seed {seed}: crest {crest}, {last} to {level}"
            );
            last = level;
        }
    }
}

/// A random network with every vessel held at its level.
fn held(seed: u64) -> Network {
    let mut network = random(seed, false);
    for node in network.node_weights_mut() {
        if let Node::Vessel { level_m, .. } = *node {
            *node = Node::Fixed { level_m };
        }
    }
    network
}

/// Flow of every run that has a pump, the way it pushes, m³/s.
fn pumped(network: &Network, flows: &[f64]) -> Vec<(usize, f64)> {
    network
        .edge_indices()
        .filter_map(|edge| {
            let Link::Run(law) = &network[edge] else {
                return None;
            };
            let pump = law.pump.as_ref()?;
            let sign = if pump.backward { -1.0 } else { 1.0 };
            Some((edge.index(), sign * flows[edge.index()]))
        })
        .collect()
}

#[test]
fn prop_a_stronger_pump_between_fixed_levels_never_pumps_less() {
    let mut seen = 0;
    for seed in seeds(60) {
        let weak = held(seed);
        let system = System::new(&weak);
        let before = steady_state(&system, &system.start()).expect("solved").0;
        for (index, flow) in pumped(&weak, &before.flow_m3_s) {
            let mut strong = weak.clone();
            let edge = petgraph::graph::EdgeIndex::new(index);
            if let Link::Run(law) = &mut strong[edge]
                && let Some(pump) = &mut law.pump
                && let Curve::Power { h0_m, .. } = &mut pump.curve
            {
                *h0_m += 1.0;
            }
            let system = System::new(&strong);
            let after = steady_state(&system, &system.start()).expect("solved").0;
            let now = pumped(&strong, &after.flow_m3_s);
            let now = now.iter().find(|(at, _)| *at == index).unwrap().1;
            assert!(
                now >= flow - 1e-9,
                "seed {seed}, run {index}: {flow:e} to {now:e}"
            );
            seen += 1;
        }
    }
    assert!(seen > 10, "only {seen} pumps");
}
