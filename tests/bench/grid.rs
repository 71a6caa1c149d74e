//! How long a large looped network takes: 100 × 100 nodes, the jump from a cold start.
#![allow(missing_docs, clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use criterion::{Criterion, criterion_group, criterion_main};
use fallwright::hydraulics::STANDARD_GRAVITY_M_S2;
use fallwright::hydraulics::friction::Wall;
use fallwright::hydraulics::hazen_williams;
use fallwright::hydraulics::loss::{Loss, Minor};
use fallwright::network::{Check, Link, Network, Node, Port, RunLaw};
use fallwright::solve::{System, jump};
use std::hint::black_box;

/// Nodes along one side.
const SIDE: usize = 100;
const LENGTH_M: f64 = 150.0;
const BORES_M: [f64; 5] = [0.05, 0.08, 0.1, 0.15, 0.2];
/// Row, column and height of the levels that are held.
const HELD: [(usize, usize, f64); 5] = [
    (0, 0, 61.0),
    (0, SIDE - 1, 60.0),
    (SIDE / 2, SIDE / 2, 62.0),
    (SIDE - 1, 0, 60.5),
    (SIDE - 1, SIDE - 1, 61.5),
];
/// Drawn at every joint, m³/s.
const DRAWN_M3_S: f64 = 1e-5;
/// Water near 20 °C, m²/s.
const VISCOSITY_M2_S: f64 = 1.0035e-6;

fn pipe(number: usize) -> Link {
    // Mixed without order, and the same every time.
    let bore_m = BORES_M[(number.wrapping_mul(2_654_435_761) >> 7) % BORES_M.len()];
    let loss = Loss {
        bore_m,
        length_m: LENGTH_M,
        wall: Wall::Darcy { roughness_m: 1e-5 },
        minors: vec![Minor { k: 1.5, bore_m }],
        equipment_a: 0.0,
        equipment_b: 0.0,
        kinematic_viscosity_m2_s: VISCOSITY_M2_S,
        gravity_m_s2: STANDARD_GRAVITY_M_S2,
        hazen_williams_k: hazen_williams::COEFFICIENT,
    };
    Link::Run(Box::new(RunLaw {
        ends: [Port::closed(), Port::closed()],
        loss,
        loss_back: None,
        pump: None,
        check: Check::None,
        raised: None,
        grades: [None, None],
    }))
}

fn node(row: usize, column: usize) -> Node {
    let held = HELD.iter().find(|(r, c, _)| (*r, *c) == (row, column));
    match held {
        Some((_, _, level_m)) => Node::Fixed { level_m: *level_m },
        None => Node::Joint {
            source_m3_s: -DRAWN_M3_S,
        },
    }
}

fn grid() -> Network {
    let mut network = Network::new();
    let nodes: Vec<_> = (0..SIDE * SIDE)
        .map(|place| network.add_node(node(place / SIDE, place % SIDE)))
        .collect();
    for place in 0..nodes.len() {
        if place % SIDE + 1 < SIDE {
            network.add_edge(nodes[place], nodes[place + 1], pipe(2 * place));
        }
        if place + SIDE < nodes.len() {
            network.add_edge(nodes[place], nodes[place + SIDE], pipe(2 * place + 1));
        }
    }
    network
}

fn cold_start(criterion: &mut Criterion) {
    let network = grid();
    let system = System::new(&network);
    let start = system.start();
    let (end, stats) = jump(&system, &start).expect("the grid solves");
    let lowest = end.head_m.iter().copied().fold(f64::INFINITY, f64::min);
    eprintln!(
        "grid: {} nodes, {} runs, {} Newton steps, {} sweeps, lowest head {lowest:.3} m",
        network.node_count(),
        network.edge_count(),
        stats.newton_steps,
        stats.sweeps,
    );
    let mut group = criterion.benchmark_group("grid of 10,000");
    group.sample_size(10);
    group.bench_function("lay out", |bench| {
        bench.iter(|| System::new(black_box(&network)));
    });
    group.bench_function("jump from a cold start", |bench| {
        bench.iter(|| jump(&system, black_box(&start)).expect("the grid solves"));
    });
    group.finish();
}

criterion_group!(benches, cold_start);
criterion_main!(benches);
