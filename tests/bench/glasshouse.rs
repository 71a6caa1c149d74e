//! How long the demo takes, from the layout to its evaluation.
//!
//! Goals on one ordinary core: the jump under 0.5 ms, the trace to the running state under 10 ms,
//! all six states with their checks, fill marks and operating modes under 500 ms, a moment of a film under 1 ms.
#![allow(missing_docs, clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use criterion::{Criterion, criterion_group, criterion_main};
use fallwright::catalogue::Catalogue;
use fallwright::evaluate::{Observed, evaluate, preview, series, system_curve};
use fallwright::file::{self, Format};
use fallwright::layout::Layout;
use fallwright::lower::{Age, Pumps, Situation, Walls, lower};
use fallwright::network::Network;
use fallwright::solve::{NetworkState, System, TraceOptions, steady_state, trace};
use fallwright::state::State;
use std::hint::black_box;

const RUNNING: Situation = Situation {
    pumps: Pumps::On,
    walls: Walls::Tall,
    age: Age::New,
};
const REST: Situation = Situation {
    pumps: Pumps::Off,
    walls: Walls::AsBuilt,
    age: Age::New,
};

fn demo() -> Layout {
    file::parse(include_str!("../../examples/glasshouse.ron"), Format::Ron).expect("the demo reads")
}

/// The point at rest, as the start of the pumps finds it.
fn rest(network: &Network, running: &System) -> NetworkState {
    let off = System::new(network);
    let rest = trace(&off, &off.start(), &TraceOptions::default()).expect("the demo comes to rest");
    running.start_from(|node| rest.end.head_m.get(node).copied())
}

fn solving(criterion: &mut Criterion) {
    let (layout, catalogue) = (demo(), Catalogue::builtin());
    let on = lower(&layout, catalogue, RUNNING);
    let off = lower(&layout, catalogue, REST);
    let system = System::new(&on.network);
    let start = rest(&off.network, &system);
    let (_, stats) = steady_state(&system, &start).expect("the jump lands");
    eprintln!("glasshouse: the jump takes {stats:?}");
    let mut group = criterion.benchmark_group("glasshouse");
    group.sample_size(20);
    group.bench_function("lower", |bench| {
        bench.iter(|| lower(black_box(&layout), catalogue, RUNNING));
    });
    group.bench_function("jump", |bench| {
        bench.iter(|| steady_state(&system, black_box(&start)).expect("the jump lands"));
    });
    group.bench_function("trace to running", |bench| {
        bench.iter(|| {
            trace(&system, black_box(&start), &TraceOptions::default()).expect("the trace ends")
        });
    });
    group.finish();
}

fn whole(criterion: &mut Criterion) {
    let (layout, catalogue) = (demo(), Catalogue::builtin());
    let mut group = criterion.benchmark_group("glasshouse whole");
    group.sample_size(20);
    group.bench_function("preview", |bench| {
        bench.iter(|| preview(black_box(&layout), catalogue));
    });
    group.bench_function("system curve, clean and dirty", |bench| {
        bench.iter(|| system_curve(black_box(&layout), catalogue, &"pump".into(), &|| true));
    });
    group.bench_function("evaluate", |bench| {
        bench.iter(|| {
            evaluate(
                black_box(&layout),
                catalogue,
                &[State::Rest, State::Running],
            )
        });
    });
    group.bench_function("evaluate all six states", |bench| {
        bench.iter(|| evaluate(black_box(&layout), catalogue, &State::ALL));
    });
    group.finish();
}

fn in_time(criterion: &mut Criterion) {
    let (layout, catalogue) = (demo(), Catalogue::builtin());
    let filmed = |watched: &Observed| {
        let film = series(&layout, catalogue, watched, &|| true);
        film.expect("it is solved").expect("it is followed")
    };
    let mut group = criterion.benchmark_group("glasshouse in time");
    group.sample_size(20);
    group.bench_function("film of a stop", |bench| {
        bench.iter(|| filmed(black_box(&Observed::Stopped)));
    });
    for (name, watched) in [("stop", Observed::Stopped), ("start", Observed::Starting)] {
        let film = filmed(&watched);
        let end_s = film.end_s();
        eprintln!(
            "glasshouse: the film of a {name} has {} moments",
            film.times_s().len()
        );
        let mut share = 0.0;
        group.bench_function(format!("moment of a {name}"), |bench| {
            bench.iter(|| {
                share = (share + 0.007_31) % 1.0;
                film.at(black_box(end_s * share * share))
            });
        });
    }
    group.finish();
}

criterion_group!(benches, solving, whole, in_time);
criterion_main!(benches);
