//! Layouts in the plan, and what a drawing of them holds.

use crate::support::layouts::{at, run, tank};
use fallwright::catalogue::Catalogue;
use fallwright::draw::page::shape::{Mark, Point, Rect, Shape, Text};
use fallwright::draw::page::view::{View, at as place_at};
use fallwright::draw::plan::{Drawn, Floorplan, Pick, PlanScene, TouchArea, Trust, plan, room};
use fallwright::evaluate::preview;
use fallwright::geometry::Corner;
use fallwright::layout::{Layout, Opening, Place, Run, Shape as Form, Turned, Vessel};
use fallwright::states::report::StateReport;

/// The page of a window, points.
pub const PAGE: Rect = Rect {
    left: 0.0,
    top: 0.0,
    right: 1080.0,
    bottom: 600.0,
};

pub fn place(x_m: f64, y_m: f64) -> Place {
    Place {
        x_m,
        y_m,
        ..Place::default()
    }
}

pub fn corner(x_m: f64, y_m: f64, z_m: f64) -> Corner {
    Corner::at(x_m, y_m, z_m)
}

/// A round tank half a metre across.
pub fn round(id: &str, (x_m, y_m): (f64, f64), floor_m: f64) -> Vessel {
    Vessel {
        shape: Form::Round { diameter_m: 0.5 },
        place: place(x_m, y_m),
        ..tank(id, floor_m, floor_m + 0.5)
    }
}

pub fn level_mouth(lip_m: f64) -> Opening {
    Opening::Mouth {
        lip_m,
        turned: Turned::Horizontal,
        bore_m: None,
        air_gap: false,
    }
}

/// A run at one height from place to place, through corners, between two vessels that lie there.
pub struct Way<'a> {
    pub id: &'a str,
    pub through: &'a [(f64, f64)],
    pub z_m: f64,
}

/// A layout of runs alone, each between two small vessels of its own at its ends.
pub fn ways(all: &[Way<'_>]) -> Layout {
    let mut layout = Layout {
        title: "Ways".to_owned(),
        ..Layout::default()
    };
    for way in all {
        let (first, last) = (way.through[0], way.through[way.through.len() - 1]);
        let ids = ["a", "b"].map(|end| format!("{}-{end}", way.id));
        let floor_m = way.z_m - 0.2;
        layout.vessels.push(round(&ids[0], first, floor_m));
        layout.vessels.push(round(&ids[1], last, floor_m));
        let mut run = level_run(way.id, [&ids[0], &ids[1]], way.z_m);
        let inner = &way.through[1..way.through.len() - 1];
        run.route = inner.iter().map(|(x, y)| corner(*x, *y, way.z_m)).collect();
        layout.runs.push(run);
    }
    layout
}

pub fn level_run(id: &str, [from, to]: [&str; 2], z_m: f64) -> Run {
    let mut run = run(id, at(from, level_mouth(z_m)), at(to, level_mouth(z_m)));
    run.length_m = None;
    run
}

pub fn view(ground: &Floorplan) -> View {
    View::true_to_scale(ground.bounds(), room(PAGE))
}

pub fn water(layout: &Layout) -> Option<StateReport> {
    preview(layout, Catalogue::builtin())
}

/// A scene in which nothing is wrong or looked at.
pub fn scene<'a>(
    layout: &'a Layout,
    ground: &'a Floorplan,
    water: Option<&'a StateReport>,
) -> PlanScene<'a> {
    PlanScene {
        layout,
        positions: ground,
        view: view(ground),
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

pub fn drawn(layout: &Layout) -> Drawn {
    let (ground, water) = (Floorplan::of(layout), water(layout));
    plan(&scene(layout, &ground, water.as_ref()))
}

/// The same without any water, which is quicker.
pub fn dry(layout: &Layout) -> Drawn {
    let ground = Floorplan::of(layout);
    plan(&scene(layout, &ground, None))
}

pub fn page(layout: &Layout, x_m: f64, y_m: f64) -> Point {
    view(&Floorplan::of(layout)).page_from_section(place_at(x_m, y_m))
}

pub fn reach<'d>(drawn: &'d Drawn, pick: &Pick) -> Option<&'d TouchArea> {
    let target = drawn.targets.iter().find(|target| target.pick == *pick)?;
    Some(&target.reach)
}

pub fn name<'d>(drawn: &'d Drawn, pick: &Pick) -> Option<&'d str> {
    let target = drawn.targets.iter().find(|target| target.pick == *pick)?;
    Some(&target.name)
}

/// The marks of a part.
pub fn marks<'d>(drawn: &'d Drawn, part: &str) -> Vec<&'d Mark> {
    let of = |mark: &&Mark| mark.part.as_ref().is_some_and(|id| id.as_str() == part);
    drawn.drawing.marks.iter().filter(of).collect()
}

/// Words that belong to parts: all but the numbers of the rulers.
pub fn labels(drawn: &Drawn) -> Vec<&Text> {
    let of_parts = drawn
        .drawing
        .marks
        .iter()
        .filter(|mark| mark.part.is_some());
    of_parts
        .filter_map(|mark| match &mark.shape {
            Shape::Text(text) => Some(text),
            _ => None,
        })
        .collect()
}
