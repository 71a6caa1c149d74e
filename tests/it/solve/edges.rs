//! Over edges, where a level says what flows: crests, holes, rims.

use crate::support::networks::{in_air, lip, loss, random, run, seeds, vessel};
use fallwright::network::{FlowControl, Link, Network, Node, RimLaw, Sense};
use fallwright::solve::{System, Trace, TraceOptions, trace};

fn followed(network: &Network, until_s: f64) -> Trace {
    let system = System::new(network);
    let options = TraceOptions {
        until_s: Some(until_s),
        keep_steps: true,
        ..TraceOptions::default()
    };
    trace(&system, &system.start(), &options).unwrap()
}

/// The flow of a run that its inlet holds is that of its law, and not only near it, in every step.
#[test]
fn prop_what_an_inlet_holds_is_what_its_law_says() {
    let mut held = 0;
    for seed in seeds(12) {
        let network = random(seed, false);
        let done = followed(&network, 3600.0);
        for (time_s, point) in done.course.times_s.iter().zip(&done.course.points).skip(1) {
            for edge in network.edge_indices() {
                let Link::Run(law) = &network[edge] else {
                    continue;
                };
                let (source, target) = network.edge_endpoints(edge).unwrap();
                let levels = [source, target].map(|node| point.head_m[node.index()]);
                let flow = point.flow_m3_s[edge.index()];
                if flow == 0.0 || law.flow_control(flow, levels) != FlowControl::Inlet {
                    continue;
                }
                held += 1;
                let exact = law.flow(levels[0], levels[1], flow);
                assert!(
                    (flow - exact).abs() <= 1e-11 + 1e-6 * exact.abs(),
                    "seed {seed}, run {}, {time_s} s: {flow:e} m³/s, by its law {exact:e}",
                    edge.index()
                );
            }
        }
    }
    assert!(held > 100, "{held}");
}

/// What a run holds back at rest, asked for in short, is what its whole law says of no flow.
#[test]
fn prop_what_a_run_holds_back_is_what_it_needs_for_no_flow() {
    let (mut asked, mut with_level) = (0, 0);
    for seed in seeds(40) {
        let network = random(seed, false);
        let laws = network.edge_weights().filter_map(|link| match link {
            Link::Run(law) => Some(law),
            Link::Rim(_) => None,
        });
        for law in laws {
            let lips = law.ends.iter().map(|end| end.lip_m);
            let lips: Vec<f64> = lips.filter(|lip_m| lip_m.is_finite()).collect();
            let about = |lip_m: &f64| [-1.0, -0.01, 0.0, 0.004, 0.02, 0.3].map(|by| lip_m + by);
            let levels = lips.iter().flat_map(about).chain([-3.0, 0.7, 40.0]);
            for level_m in levels.collect::<Vec<f64>>() {
                for sense in [Sense::Forward, Sense::Backward] {
                    let need = law.required_head(sense, 0.0, level_m);
                    let short = law.threshold(sense, level_m);
                    assert_eq!(short.head_m, need.head_m, "seed {seed}, {law:?}");
                    assert_eq!(short.is_level, need.by_level == 1.0, "seed {seed}, {law:?}");
                    asked += 1;
                    with_level += usize::from(short.is_level);
                }
            }
        }
    }
    assert!(asked > 1000 && with_level > 100 && with_level < asked);
}

/// A tank that drains through a hole in its floor stands dry in the end, and not under its floor by what its drain
/// went on to carry when the last film was gone: of a vessel of a few square centimetres that is millimetres.
#[test]
fn regress_a_dry_tank_stands_at_its_floor() {
    for area_m2 in [5e-4, 5e-3, 0.05] {
        let mut network = Network::new();
        let tank = network.add_node(vessel(0.0, area_m2, 0.5, 0.0));
        let sump = network.add_node(Node::Fixed { level_m: -2.0 });
        network.add_edge(
            tank,
            sump,
            run(lip(0.0, 0.019), in_air(-1.0), loss(0.019, 1.0, 1.7)),
        );
        let (low_m, _) = followed(&network, 1e6).range_m[tank.index()];
        assert!(low_m > -2e-4, "{area_m2} m²: {low_m:e} m");
    }
}

/// Far from the datum the last digit of a level is a good deal of water over a rim in thirty years.
#[test]
fn regress_the_books_of_a_rim_far_from_the_datum_close() {
    let mut network = Network::new();
    let tank = network.add_node(vessel(-2713.0, 1.2, -2712.5, 0.0565));
    let outside = network.add_node(Node::Fixed { level_m: -2800.0 });
    let rim = RimLaw {
        rim_m: -2712.4,
        perimeter_m: 4.0,
        coefficient: 1.7,
    };
    network.add_edge(tank, outside, Link::Rim(rim));
    let done = followed(&network, 1e9);
    let open_m3 = done.volume_error_m3;
    assert!(open_m3.abs() < 1e-6, "{open_m3:e} m³");
    let spilled = done.end.flow_m3_s.first().unwrap();
    assert!((spilled - 0.0565).abs() < 1e-9, "{spilled} m³/s");
}
