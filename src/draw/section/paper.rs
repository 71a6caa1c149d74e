//! The page while it is drawn on.

use super::Section;
use super::scene::{Attention, Pick, Reach, Scene, Target};
use crate::draw::labels::{Placer, Wish};
use crate::draw::shape::{Drawing, Ink, Mark, Point, Rect, Shape, Stroke, Text};
use crate::draw::text;
use crate::draw::view::At;
use crate::layout::Id;
use crate::states::report::{PumpReport, RunReport, VesselReport};
use std::collections::HashMap;

/// A label that waits for its place.
struct Waiting {
    wish: Wish,
    part: Option<Id>,
    strength: f64,
    carded: bool,
}

/// The page, its labels and what can be touched on it.
pub(super) struct Paper<'s> {
    pub scene: &'s Scene<'s>,
    /// All of the page.
    pub page: Rect,
    vessels: HashMap<&'s Id, &'s VesselReport>,
    runs: HashMap<&'s Id, &'s RunReport>,
    pumps: HashMap<&'s Id, &'s PumpReport>,
    pub placer: Placer,
    marks: Vec<Mark>,
    targets: Vec<Target>,
    waiting: Vec<Waiting>,
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

    /// A label to be placed once everything is drawn.
    pub fn wish(&mut self, part: &Id, strength: f64, wish: Wish) {
        self.waiting.push(Waiting {
            wish,
            part: Some(part.clone()),
            strength,
            carded: false,
        });
    }

    /// The same on a card that hides what is under it.
    pub fn wish_on_card(&mut self, part: &Id, wish: Wish) {
        self.waiting.push(Waiting {
            wish,
            part: Some(part.clone()),
            strength: 1.0,
            carded: true,
        });
    }

    pub fn set_labels(&mut self) {
        let mut waiting = std::mem::take(&mut self.waiting);
        waiting.sort_by_key(|one| std::cmp::Reverse(one.wish.rank));
        for one in waiting {
            let Some(label) = self.placer.place(&one.wish) else {
                continue;
            };
            if one.carded {
                let edge = Some(Stroke::new(Ink::Accent, 1.0));
                self.add(
                    one.part.as_ref(),
                    Shape::Box {
                        rect: label.rect.grown(4.0),
                        radius: 4.0,
                        fill: Some(Ink::Card),
                        edge,
                    },
                );
            }
            for line in label.lines {
                self.add_faint(one.part.as_ref(), one.strength, Shape::Text(line));
            }
        }
    }

    /// Words at a fixed place.
    pub fn words(&mut self, part: Option<&Id>, words: Text) {
        self.placer.block(text::bounds(&words));
        self.add(part, Shape::Text(words));
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

fn by_id<'a, T>(list: Option<&'a Vec<T>>, id: fn(&T) -> &Id) -> HashMap<&'a Id, &'a T> {
    list.into_iter().flatten().map(|one| (id(one), one)).collect()
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
