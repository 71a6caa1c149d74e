//! Layouts and what a section of them holds.

use crate::support::layouts::{at, pump, run, tank, upstand};
use fallwright::catalogue::Catalogue;
use fallwright::draw::page::shape::{Drawing, Mark, Rect, Shape, Text};
use fallwright::draw::page::view::View;
use fallwright::draw::section::{Section, SectionLayout, SectionScene, Trust, room, section};
use fallwright::evaluate::preview;
use fallwright::layout::{Direction, Layout, Opening, Turned, Vessel};
use fallwright::states::report::StateReport;

/// The page of a window, points.
pub const PAGE: Rect = Rect {
    left: 0.0,
    top: 0.0,
    right: 1080.0,
    bottom: 600.0,
};

pub fn mouth(lip_m: f64, turned: Turned) -> Opening {
    Opening::Mouth {
        lip_m,
        turned,
        bore_m: None,
        air_gap: false,
    }
}

pub fn named(id: &str, name: &str, floor_m: f64) -> Vessel {
    Vessel {
        name: name.to_owned(),
        ..tank(id, floor_m, floor_m + 0.6)
    }
}

/// A header, a bed under it and a sump under both; what is pumped up falls back.
pub fn ring() -> Layout {
    let mut lift = run(
        "riser",
        at("sump", mouth(0.05, Turned::Down)),
        at("header", mouth(2.8, Turned::Down)),
    );
    lift.pump = Some(pump(Direction::Forward));
    Layout {
        title: "Ring".to_owned(),
        vessels: vec![
            named("sump", "Sump", 0.0),
            named("header", "Header", 2.0),
            named("bed", "Bed", 1.0),
        ],
        runs: vec![
            run(
                "down",
                at("header", upstand(2.4)),
                at("bed", mouth(1.5, Turned::Horizontal)),
            ),
            run(
                "back",
                at("bed", upstand(1.4)),
                at("sump", mouth(0.5, Turned::Horizontal)),
            ),
            lift,
        ],
        ..Layout::default()
    }
}

pub fn view(plan: &SectionLayout) -> View {
    View::fitting(plan.bounds(), room(PAGE))
}

pub fn water(layout: &Layout) -> Option<StateReport> {
    preview(layout, Catalogue::builtin())
}

/// A scene in which nothing is wrong or looked at.
pub fn scene<'a>(
    layout: &'a Layout,
    plan: &'a SectionLayout,
    water: Option<&'a StateReport>,
) -> SectionScene<'a> {
    SectionScene {
        layout,
        positions: plan,
        view: view(plan),
        water,
        other: None,
        trust: Trust::Sure,
        findings: &[],
        units: layout.units,
        band: None,
        selected: &[],
        hovered: None,
    }
}

pub fn drawn(layout: &Layout) -> Section {
    let (plan, water) = (SectionLayout::of(layout), water(layout));
    section(&scene(layout, &plan, water.as_ref()))
}

pub fn texts(drawing: &Drawing) -> Vec<&Text> {
    let text = |mark: &'_ Mark| matches!(mark.shape, Shape::Text(_));
    let marks = drawing.marks.iter().filter(|mark| text(mark));
    marks
        .filter_map(|mark| match &mark.shape {
            Shape::Text(text) => Some(text),
            _ => None,
        })
        .collect()
}

/// The words that stand for a part.
pub fn words_of(drawing: &Drawing, part: &str) -> Vec<String> {
    let of = |mark: &&Mark| mark.part.as_ref().is_some_and(|id| id.as_str() == part);
    let marks = drawing.marks.iter().filter(of);
    marks
        .filter_map(|mark| match &mark.shape {
            Shape::Text(text) => Some(text.words.clone()),
            _ => None,
        })
        .collect()
}
