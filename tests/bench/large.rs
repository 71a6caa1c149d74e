//! How long large looped networks take from a cold start: many shapes, a thousand nodes and more.
//!
//! `jump` is the whole, `linear step` the factorisation of its last matrix and the solution with it: the
//! first should be little more than the second times the number of steps, which is printed.
#![allow(missing_docs, dead_code, clippy::unwrap_used, clippy::expect_used)]

#[path = "../it/support/large/mod.rs"]
mod large;
#[path = "../it/support/networks.rs"]
mod networks;

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use fallwright::solve::{System, steady_state};
use std::hint::black_box;

const SEED: u64 = 1;

fn sizes(family: &large::Family) -> &'static [usize] {
    // What has no plan on paper fills in too much to be asked ten times over.
    if family.planar {
        &[1000, 10_000, 100_000]
    } else {
        &[1000, 10_000]
    }
}

fn cold_start(criterion: &mut Criterion) {
    for family in large::FAMILIES {
        let mut group = criterion.benchmark_group(family.name);
        group.sample_size(10);
        for &nodes in sizes(&family) {
            let network = family.network(nodes, SEED);
            let system = System::new(&network);
            let start = system.start();
            let (end, stats) = steady_state(&system, &start).expect("the network solves");
            eprintln!(
                "{}: {} nodes, {} runs, {} Newton steps, {} sweeps",
                family.name,
                network.node_count(),
                network.edge_count(),
                stats.newton_steps,
                stats.sweeps,
            );
            group.bench_function(BenchmarkId::new("lay out", nodes), |bench| {
                bench.iter(|| System::new(black_box(&network)));
            });
            group.bench_function(BenchmarkId::new("jump", nodes), |bench| {
                bench
                    .iter(|| steady_state(&system, black_box(&start)).expect("the network solves"));
            });
            let mut linear = system.linear_step(&end);
            group.bench_function(BenchmarkId::new("linear step", nodes), |bench| {
                bench.iter(|| assert!(linear.solve()));
            });
        }
        group.finish();
    }
}

criterion_group!(benches, cold_start);
criterion_main!(benches);
