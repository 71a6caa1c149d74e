//! How long the section takes to draw.
//!
//! Goals on one ordinary core: the demo well under 1 ms, 400 vessels with 800 runs under 8 ms.
// A bench ends where its case cannot be made, as a test does, and nobody calls it.
#![allow(missing_docs, clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use criterion::{Criterion, criterion_group, criterion_main};
use fallwright::catalogue::Catalogue;
use fallwright::draw::page::shape::Rect;
use fallwright::draw::page::view::View;
use fallwright::draw::section::{SectionLayout, SectionScene, Trust, room, section};
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

fn drawn(layout: &Layout, plan: &SectionLayout, water: Option<&StateReport>) -> usize {
    let scene = SectionScene {
        layout,
        positions: plan,
        view: View::fitting(plan.bounds(), room(PAGE)),
        water,
        other: None,
        trust: Trust::Sure,
        findings: &[],
        units: layout.units,
        band: None,
        selected: &[],
        hovered: None,
    };
    section(&scene).drawing.marks.len()
}

fn sections(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("section");
    group.sample_size(20);
    for (name, layout) in [("glasshouse", demo()), ("400 vessels", terraces(20))] {
        let water = preview(&layout, Catalogue::builtin());
        let plan = SectionLayout::of(&layout);
        eprintln!("{name}: {} marks", drawn(&layout, &plan, water.as_ref()));
        group.bench_function(format!("{name}: plan"), |bench| {
            bench.iter(|| SectionLayout::of(black_box(&layout)));
        });
        group.bench_function(format!("{name}: draw"), |bench| {
            bench.iter(|| drawn(black_box(&layout), &plan, water.as_ref()));
        });
    }
    group.finish();
}

criterion_group!(benches, sections);
criterion_main!(benches);
