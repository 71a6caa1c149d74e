//! How long the plan takes to draw.
//!
//! Goal on one ordinary core: a layout of 2,000 parts in at most 4 ms.
// A bench ends where its case cannot be made, as a test does, and nobody calls it.
#![allow(missing_docs, clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use criterion::{Criterion, criterion_group, criterion_main};
use fallwright::catalogue::Catalogue;
use fallwright::draw::page::shape::{Rect, pt};
use fallwright::draw::page::view::View;
use fallwright::draw::plan::{Floorplan, PlanScene, Trust, plan, room};
use fallwright::evaluate::preview;
use fallwright::file::{self, Format};
use fallwright::layout::Layout;
use fallwright::states::report::StateReport;
use std::hint::black_box;
use terraces::terraces;

mod terraces;

/// The page of a window, points.
const PAGE: Rect = Rect {
    left: 0.0,
    top: 0.0,
    right: 1080.0,
    bottom: 600.0,
};

fn demo() -> Layout {
    file::parse(include_str!("../../examples/glasshouse.ron"), Format::Ron).expect("the demo reads")
}

fn drawn(layout: &Layout, ground: &Floorplan, water: Option<&StateReport>, zoom: f64) -> usize {
    let view = View::true_to_scale(ground.bounds(), room(PAGE));
    let scene = PlanScene {
        layout,
        positions: ground,
        view: view.zoomed(zoom, pt(600.0, 300.0)),
        water,
        other: None,
        trust: Trust::Sure,
        findings: &[],
        units: layout.units,
        band: None,
        selected: &[],
        hovered: None,
    };
    plan(&scene).drawing.marks.len()
}

fn plans(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("plan");
    group.sample_size(20);
    for (name, layout) in [("glasshouse", demo()), ("2000 parts", terraces(26))] {
        let water = preview(&layout, Catalogue::builtin());
        let ground = Floorplan::of(&layout);
        group.bench_function(format!("{name}: floorplan"), |bench| {
            bench.iter(|| Floorplan::of(black_box(&layout)));
        });
        for zoom in [1.0, 6.0] {
            let marks = drawn(&layout, &ground, water.as_ref(), zoom);
            eprintln!(
                "{name}, {zoom} times: {marks} marks, water {}",
                water.is_some()
            );
            group.bench_function(format!("{name}: draw, {zoom} times"), |bench| {
                bench.iter(|| drawn(black_box(&layout), &ground, water.as_ref(), zoom));
            });
        }
    }
    group.finish();
}

criterion_group!(benches, plans);
criterion_main!(benches);
