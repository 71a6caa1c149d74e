//! The page while it is drawn on.

use super::Section;
use super::covers::Covers;
use super::scene::Scene;
use super::wishes::Waiting;
use crate::draw::labels::{Label, Placer, Wish};
use crate::draw::shape::{Drawing, Ink, Mark, Point, Rect, Shape, Stroke};
use crate::draw::touch::{Attention, Pick, Reach, Target};
use crate::draw::view::At;
use crate::layout::Id;
use crate::states::report::{PumpReport, RunReport, VesselReport};
use std::collections::HashMap;

/// The page, its labels and what can be touched on it.
pub(super) struct Paper<'s> {
    pub scene: &'s Scene<'s>,
    /// All of the page.
    pub page: Rect,
    vessels: HashMap<&'s Id, &'s VesselReport>,
    runs: HashMap<&'s Id, &'s RunReport>,
    pumps: HashMap<&'s Id, &'s PumpReport>,
    pub placer: Placer,
    /// Only what no label may ever cover: other labels, marks and handles.
    pub hard: Placer,
    /// The same as rectangles.
    pub kept: Vec<Rect>,
    /// What each vessel covers.
    pub covers: Covers,
    marks: Vec<Mark>,
    targets: Vec<Target>,
    pub waiting: Vec<Waiting>,
}

impl<'s> Paper<'s> {
    pub fn new(scene: &'s Scene<'s>) -> Paper<'s> {
        let page = Rect {
            left: 0.0,
            top: 0.0,
            right: scene.view.page.right + 12.0,
            bottom: scene.view.page.bottom + 8.0,
        };
        let free = Rect {
            left: super::STAFF_WIDTH,
            ..page
        };
        let water = scene.water;
        Paper {
            scene,
            page,
            vessels: by_id(water.map(|water| &water.vessels), |one| &one.id),
            runs: by_id(water.map(|water| &water.runs), |one| &one.id),
            pumps: by_id(water.map(|water| &water.pumps), |one| &one.id),
            placer: Placer::new(free.grown(-3.0)),
            hard: Placer::new(free.grown(-3.0)),
            kept: Vec::new(),
            covers: covers(scene, page),
            marks: Vec::new(),
            targets: Vec::new(),
            waiting: Vec::new(),
        }
    }

    pub fn vessel(&self, id: &Id) -> Option<&'s VesselReport> {
        self.vessels.get(id).copied()
    }

    pub fn run(&self, id: &Id) -> Option<&'s RunReport> {
        self.runs.get(id).copied()
    }

    pub fn pump(&self, id: &Id) -> Option<&'s PumpReport> {
        self.pumps.get(id).copied()
    }

    /// A place of the section on the page.
    pub fn point(&self, place: At) -> Point {
        self.scene.view.page_from_section(place)
    }

    /// A shape that belongs to a part, drawn as it is.
    pub fn add(&mut self, part: Option<&Id>, shape: Shape) {
        self.add_faint(part, 1.0, shape);
    }

    /// A shape that belongs to a part, drawn with `strength` of its ink.
    pub fn add_faint(&mut self, part: Option<&Id>, strength: f64, shape: Shape) {
        self.marks.push(Mark {
            shape,
            part: part.cloned(),
            strength,
        });
    }

    pub fn line(&mut self, part: Option<&Id>, points: Vec<Point>, stroke: Stroke) {
        if points.len() > 1 {
            self.add(part, Shape::Line { points, stroke });
        }
    }

    pub fn area(&mut self, part: Option<&Id>, corners: Vec<Point>, fill: Ink) {
        if corners.len() > 2 {
            self.add(
                part,
                Shape::Area {
                    corners,
                    fill: Some(fill),
                    edge: None,
                },
            );
        }
    }

    pub fn touch(&mut self, pick: Pick, reach: Reach, name: String) {
        self.targets.push(Target { pick, reach, name });
    }

    /// A label that stands on what is drawn, pipes too; none where another label or a mark is.
    pub fn placed(&mut self, wish: &Wish) -> Option<Label> {
        let label = self.hard.place(wish)?;
        self.placer.block(label.rect);
        Some(label)
    }

    /// No label, mark or handle covers any of it so far.
    pub fn is_kept_free(&self, rect: Rect) -> bool {
        !self.kept.iter().any(|kept| kept.overlaps(rect))
    }

    /// Nothing may cover this.
    pub fn keep(&mut self, rect: Rect) {
        self.placer.block(rect);
        self.hard.block(rect);
        self.kept.push(rect);
    }

    pub fn finish(self) -> Section {
        Section {
            drawing: Drawing {
                width: self.page.right,
                height: self.page.bottom,
                title: self.scene.layout.title.clone(),
                marks: self.marks,
            },
            targets: self.targets,
        }
    }

    /// Anything of this rectangle is on the page.
    pub fn sees(&self, rect: Rect) -> bool {
        self.page.overlaps(rect.grown(1.0))
    }
}

/// What the vessels and fixed levels cover.
fn covers(scene: &Scene<'_>, page: Rect) -> Covers {
    let view = scene.view;
    let all = scene
        .plan
        .stand
        .vessels
        .iter()
        .chain(&scene.plan.stand.fixed);
    let boxes = all.map(|one| Rect {
        left: view.x(one.left_m()),
        right: view.x(one.right_m()),
        top: view.y(one.rim_m),
        bottom: view.y(one.floor_m),
    });
    Covers::new(page, boxes)
}

fn by_id<T>(list: Option<&Vec<T>>, id: fn(&T) -> &Id) -> HashMap<&Id, &T> {
    list.into_iter()
        .flatten()
        .map(|one| (id(one), one))
        .collect()
}

/// The ink and width of an outline that is looked at.
pub(super) fn outline(attention: Attention, plain: Stroke) -> Stroke {
    match attention {
        Attention::Selected => Stroke::new(Ink::Accent, plain.width + 1.0),
        Attention::Hovered => Stroke::new(Ink::Accent, plain.width),
        Attention::None => plain,
    }
}

/// A name for people: that of the part, or its id.
pub(super) fn called<'a>(name: &'a str, id: &'a Id) -> &'a str {
    let name = name.trim();
    if name.is_empty() { id.as_str() } else { name }
}

/// What of a rectangle lies on the page; its nearest edge where nothing does.
pub(super) fn clipped(rect: Rect, page: Rect) -> Rect {
    Rect {
        left: rect.left.clamp(page.left, page.right),
        right: rect.right.clamp(page.left, page.right),
        top: rect.top.clamp(page.top, page.bottom),
        bottom: rect.bottom.clamp(page.top, page.bottom),
    }
}
