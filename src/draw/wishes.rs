//! Labels wait until everything is drawn, and then take their places by rank.

use super::around;
use super::board::{Board, clipped};
use super::covers::inside;
use super::labels::{Label, Wish};
use super::shape::{Ink, Point, Rect, Shape, Stroke};
use crate::layout::Id;

/// How far a card reaches over its words, points.
const CARD: f64 = 4.0;

/// A label that waits for its place.
pub(super) struct Waiting {
    /// Tried in this order.
    wishes: Vec<Wish>,
    part: Option<Id>,
    strength: f64,
    carded: bool,
    /// What it is about: a thin line leads there where the label stands further off than this, points.
    about: Option<(Rect, f64)>,
    /// It is shown wherever there is any room at all, unless the page is crowded.
    sure: bool,
}

/// Most vessels on a page whose names and levels are shown whatever it takes.
const MOST_SURE: usize = 60;

impl Board {
    /// A label to be placed once everything is drawn.
    pub fn wish(&mut self, part: &Id, strength: f64, wish: Wish) {
        self.wish_one_of(part, strength, vec![wish]);
    }

    /// The same, where the first wish that can be granted is taken; the rank is that of the first.
    pub fn wish_one_of(&mut self, part: &Id, strength: f64, wishes: Vec<Wish>) {
        self.waiting.push(Waiting {
            wishes,
            part: Some(part.clone()),
            strength,
            carded: false,
            about: None,
            sure: false,
        });
    }

    /// A label that must be seen, with a thin line to what it is about should it stand more than `far` off.
    pub fn wish_surely(&mut self, part: &Id, strength: f64, wishes: Vec<Wish>, about: (Rect, f64)) {
        self.waiting.push(Waiting {
            wishes,
            part: Some(part.clone()),
            strength,
            carded: false,
            about: Some(about),
            sure: true,
        });
    }

    /// The same on a card that hides what is under it.
    pub fn wish_on_card(&mut self, part: &Id, wish: Wish) {
        self.waiting.push(Waiting {
            wishes: vec![wish],
            part: Some(part.clone()),
            strength: 1.0,
            carded: true,
            about: None,
            sure: false,
        });
    }

    pub fn set_labels(&mut self) {
        let mut waiting = std::mem::take(&mut self.waiting);
        let rank = |one: &Waiting| one.wishes.first().map_or(0, |wish| wish.rank);
        waiting.sort_by_key(|one| std::cmp::Reverse(rank(one)));
        for one in waiting {
            let near = one.wishes.iter().find_map(|wish| self.placer.place(wish));
            match near {
                Some(label) => self.set_label(&one, label),
                None if one.sure && self.covers.count() <= MOST_SURE => self.set_far(&one),
                None => {}
            }
        }
    }

    /// A label that found no place near by: further and further off, and at last across pipes.
    fn set_far(&mut self, one: &Waiting) {
        let (Some((about, _)), Some(first)) = (one.about, one.wishes.first()) else {
            return;
        };
        let about = clipped(about, self.page);
        for across_pipes in [false, true] {
            for wish in around::wishes(first, about, &self.covers) {
                let placer = if across_pipes {
                    &mut self.hard
                } else {
                    &mut self.placer
                };
                let Some(label) = placer.place(&wish) else {
                    continue;
                };
                if across_pipes {
                    let page = Shape::Box {
                        rect: label.rect,
                        radius: 2.0,
                        fill: Some(Ink::Page),
                        edge: None,
                    };
                    self.add_faint(one.part.as_ref(), 0.8, page);
                }
                return self.set_label(one, label);
            }
        }
    }

    fn set_label(&mut self, one: &Waiting, label: Label) {
        self.keep(label.rect);
        if one.carded {
            self.placer.block(label.rect.grown(CARD));
            let edge = Some(Stroke::new(Ink::Accent, 1.0));
            let card = Shape::Box {
                rect: label.rect.grown(CARD),
                radius: 4.0,
                fill: Some(Ink::Card),
                edge,
            };
            self.add(one.part.as_ref(), card);
        }
        if let Some((about, far)) = one.about {
            let ink = label.lines.first().map_or(Ink::FaintLine, |line| line.ink);
            self.leader(one, (label.rect, ink), (about, far));
        }
        for line in label.lines {
            self.add_faint(one.part.as_ref(), one.strength, Shape::Text(line));
        }
    }

    fn leader(&mut self, one: &Waiting, (label, ink): (Rect, Ink), (about, far): (Rect, f64)) {
        let nearest = |rect: Rect, to: Point| Point {
            x: to.x.clamp(rect.left, rect.right),
            y: to.y.clamp(rect.top, rect.bottom),
        };
        let end = nearest(about, label.centre());
        let start = nearest(label, end);
        if start.distance(end) <= far {
            return;
        }
        // A line through other words would be read as striking them out.
        let mut kept = self.kept.iter().filter(|kept| **kept != label);
        if !kept.any(|kept| inside(start, end, kept.grown(-1.0)).is_some()) {
            let leader = Shape::Line {
                points: vec![start, end],
                stroke: Stroke::new(ink, 0.9),
            };
            self.add_faint(one.part.as_ref(), one.strength * 0.6, leader);
        }
    }
}
