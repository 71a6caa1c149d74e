//! Large looped networks: how many steps they take, and that every way to solve the matrix leads to one answer.

use crate::support::large::{FAMILIES, Family};
use crate::support::networks::{in_air, loss, run};
use fallwright::catalogue::Catalogue;
use fallwright::file::{self, Format};
use fallwright::lower::{Age, Pumps, Situation, Walls, lower};
use fallwright::network::{Network, Node, Port};
use fallwright::solve::{NetworkState, System, TraceOptions, steady_state, trace};

const NODES: usize = 1000;
const SEED: u64 = 1;
/// A large network may not take more Newton steps from a cold start.
const MOST_STEPS: usize = 12;

fn solved(network: &Network) -> (NetworkState, usize) {
    let system = System::new(network);
    let (end, stats) = steady_state(&system, &system.start()).unwrap();
    assert_eq!(stats.sweeps, 0);
    (end, stats.newton_steps)
}

/// The linear step that the benches weigh is that of the network at hand, and has an answer.
#[test]
fn the_linear_step_by_itself_can_be_solved() {
    let network = FAMILIES[0].network(NODES, SEED);
    let system = System::new(&network);
    let (end, _) = solved(&network);
    assert!(system.linear_step(&end).solve());
}

/// A change here is a change of speed: read it as one.
#[test]
fn regress_newton_steps_of_a_thousand_nodes_from_a_cold_start() {
    let steps: Vec<(&str, usize)> = FAMILIES
        .iter()
        .map(|family| (family.name, solved(&family.network(NODES, SEED)).1))
        .collect();
    assert!(steps.iter().all(|(_, steps)| *steps <= MOST_STEPS));
    let pinned = [
        ("square-grid", 8),
        ("grid-with-diagonals", 8),
        ("hexagons", 7),
        ("ladder", 8),
        ("triangles-thinned", 8),
        ("grid-of-grids", 8),
        ("ring-of-rings", 7),
        ("random-geometric", 8),
        ("tree-with-loops", 8),
        ("small-world", 8),
        ("hubs-and-branches", 7),
        ("scale-free", 8),
        ("cubic-lattice", 8),
    ];
    assert_eq!(steps, pinned);
}

#[test]
fn other_seeds_take_no_more_than_twelve_steps() {
    for family in FAMILIES {
        // What cannot be drawn on paper fills in, and would be slow here.
        let nodes = if family.planar { 900 } else { 300 };
        for seed in 2..5 {
            let (_, steps) = solved(&family.network(nodes, seed));
            assert!(steps <= MOST_STEPS, "{} {seed}: {steps}", family.name);
        }
    }
}

fn demo(pumps: Pumps, walls: Walls) -> Network {
    let text = include_str!("../../../examples/glasshouse.ron");
    let layout = file::parse(text, Format::Ron).unwrap();
    let situation = Situation {
        pumps,
        walls,
        age: Age::New,
    };
    lower(&layout, Catalogue::builtin(), situation).network
}

/// A change here is a change of speed: read it as one.
#[test]
fn regress_steps_of_the_demo() {
    let (off, on) = (
        demo(Pumps::Off, Walls::AsBuilt),
        demo(Pumps::On, Walls::Tall),
    );
    let still = System::new(&off);
    let rest = trace(&still, &still.start(), &TraceOptions::default()).unwrap();
    let system = System::new(&on);
    let start = system.start_from(|node| rest.end.head_m.get(node).copied());
    let (_, jumped) = steady_state(&system, &start).unwrap();
    let started = trace(&system, &start, &TraceOptions::default()).unwrap();
    let steps = [
        ("jump, Newton", jumped.newton_steps),
        ("start, Newton", started.stats.newton_steps),
        ("start, time", started.stats.time_steps),
        ("sweeps of both", jumped.sweeps + started.stats.sweeps),
    ];
    let pinned = [
        ("jump, Newton", 25),
        ("start, Newton", 519),
        ("start, time", 92),
        ("sweeps of both", 0),
    ];
    assert_eq!(steps, pinned);
}

/// A part of its own beside `network`, by which the matrix is no longer symmetric: a run falls freely from
/// one joint into the next.
fn with_a_free_fall(mut network: Network) -> Network {
    let high = network.add_node(Node::Fixed { level_m: 3.0 });
    let joints = [0, 1].map(|_| network.add_node(Node::Joint { source_m3_s: 0.0 }));
    let low = network.add_node(Node::Fixed { level_m: -3.0 });
    let pipe = || loss(0.1, 20.0, 1.5);
    let closed = Port::closed;
    network.add_edge(high, joints[0], run(closed(), closed(), pipe()));
    network.add_edge(joints[0], joints[1], run(closed(), in_air(1.0), pipe()));
    network.add_edge(joints[1], low, run(closed(), closed(), pipe()));
    network
}

#[test]
fn symmetric_and_unsymmetric_matrices_lead_to_one_answer() {
    for family in FAMILIES {
        let plain = family.network(NODES, SEED);
        let (end, _) = solved(&plain);
        let (beside, _) = solved(&with_a_free_fall(plain));
        let apart = end.head_m.iter().zip(&beside.head_m);
        let worst = apart.fold(0.0_f64, |most, (a, b)| most.max((a - b).abs()));
        assert!(worst <= 1e-8, "{}: {worst:e} m apart", family.name);
        let fall = &beside.head_m[end.head_m.len()..];
        assert!(fall[1] > fall[2] && fall[2] < 1.0, "it falls freely");
    }
}

#[test]
fn the_same_network_gives_the_same_bits() {
    for name in ["square-grid", "cubic-lattice", "small-world"] {
        let family = Family::named(name).unwrap();
        for network in [
            family.network(NODES, SEED),
            with_a_free_fall(family.network(NODES, SEED)),
        ] {
            let (first, _) = solved(&network);
            let system = System::new(&network);
            for _ in 0..2 {
                // The memory that the first left behind must not be felt by the second.
                let (again, _) = steady_state(&system, &system.start()).unwrap();
                assert_eq!(first, again, "{name}");
            }
        }
    }
}

/// Where it takes long to factor the matrix, the last step goes with the factors of the one before; where it does
/// not, each has its own. No step more is taken for it: these are as many as with new factors every time.
#[test]
fn regress_the_last_step_goes_with_the_factors_of_the_one_before() {
    let counts = [
        ("square-grid", 10_000),
        ("hexagons", 10_000),
        ("ladder", NODES),
    ]
    .map(|(name, nodes)| {
        let network = Family::named(name).unwrap().network(nodes, SEED);
        let system = System::new(&network);
        let (_, stats) = steady_state(&system, &system.start()).unwrap();
        (name, stats.newton_steps, stats.factorisations)
    });
    let pinned = [("square-grid", 9, 8), ("hexagons", 8, 7), ("ladder", 8, 8)];
    assert_eq!(counts, pinned);
}

/// The factors that one search leaves behind are not gone on with by the next, though it begins so near to where
/// the other ended that they would do.
#[test]
fn a_search_does_not_begin_with_the_factors_of_another() {
    let network = Family::named("grid-with-diagonals")
        .unwrap()
        .network(NODES, SEED);
    let (mut near, _) = solved(&network);
    for flow in &mut near.flow_m3_s {
        *flow *= 1.0 + 1e-5;
    }
    let system = System::new(&network);
    let (alone, stats) = steady_state(&system, &near).unwrap();
    assert!(stats.factorisations > 0);
    let after_another = System::new(&network);
    steady_state(&after_another, &after_another.start()).unwrap();
    assert_eq!(steady_state(&after_another, &near).unwrap(), (alone, stats));
}

#[test]
fn the_network_that_is_benched_is_connected_and_fed() {
    for family in FAMILIES {
        let network = family.network(NODES, SEED);
        let (end, _) = solved(&network);
        let lowest = end.head_m.iter().copied().fold(f64::INFINITY, f64::min);
        // A joint that nothing feeds would be drawn down by a kilometre.
        assert!(lowest > -100.0, "{}: {lowest} m", family.name);
        let fixed = network.node_weights();
        assert!(
            fixed
                .filter(|node| matches!(node, Node::Fixed { .. }))
                .count()
                >= 4
        );
    }
}
