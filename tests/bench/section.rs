//! How long the section takes to draw.
//!
//! Goals on one ordinary core: the demo well under 1 ms, 400 vessels with 800 runs under 8 ms.
// A bench ends where its case cannot be made, as a test does, and nobody calls it.
#![allow(missing_docs, clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use criterion::{Criterion, criterion_group, criterion_main};
use fallwright::catalogue::Catalogue;
use fallwright::draw::section::{Plan, Scene, Trust, room, section};
use fallwright::draw::shape::Rect;
use fallwright::draw::view::View;
use fallwright::evaluate::preview;
use fallwright::file::{self, Format};
use fallwright::layout::Layout;
use fallwright::states::report::StateReport;
use std::fmt::Write;
use std::hint::black_box;

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

/// Twenty terraces of twenty vessels, each vessel draining to two of the next terrace.
fn terraces() -> Layout {
    let (mut vessels, mut runs) = (String::new(), String::new());
    for index in 0..400 {
        let (row, column) = (index / 20, index % 20);
        let floor = 20.0 - f64::from(row);
        let along = 0.7 + f64::from(column) * 1.4 + f64::from(row) * 0.1;
        write!(
            vessels,
            "(id: \"v{index}\", name: \"Bed {index}\", shape: round(diameter_m: 1.0), floor_m: {floor:?}, \
             rim_m: {:?}, fill_m: {:?}, place: (along_m: {along:?})),",
            floor + 0.6,
            floor + 0.3
        )
        .expect("text");
        for way in 0..2 {
            let to = (index + 20 + way * 3) % 400;
            write!(
                runs,
                "(id: \"r{index}-{way}\", from: (at: \"v{index}\", opening: upstand(crest_m: {:?})), \
                 to: (at: \"v{to}\", opening: mouth(lip_m: {:?})), pipe: own(bore_m: 0.05), length_m: 2.0),",
                floor + 0.4,
                19.5 - f64::from(to / 20) + 1.0
            )
            .expect("text");
        }
    }
    let text =
        format!("(fallwright: 1, title: \"Terraces\", vessels: [{vessels}], runs: [{runs}])");
    file::parse(&text, Format::Ron).expect("the terraces read")
}

fn drawn(layout: &Layout, plan: &Plan, water: Option<&StateReport>) -> usize {
    let scene = Scene {
        layout,
        plan,
        view: View::fitting(plan.bounds(), room(PAGE)),
        water,
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
    for (name, layout) in [("glasshouse", demo()), ("400 vessels", terraces())] {
        let water = preview(&layout, Catalogue::builtin());
        let plan = Plan::of(&layout);
        eprintln!("{name}: {} marks", drawn(&layout, &plan, water.as_ref()));
        group.bench_function(format!("{name}: plan"), |bench| {
            bench.iter(|| Plan::of(black_box(&layout)));
        });
        group.bench_function(format!("{name}: draw"), |bench| {
            bench.iter(|| drawn(black_box(&layout), &plan, water.as_ref()));
        });
    }
    group.finish();
}

criterion_group!(benches, sections);
criterion_main!(benches);
