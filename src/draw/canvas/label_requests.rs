//! Queue of labels, which are placed by rank once everything is drawn.

use super::around;
use super::drawing_context::{DrawingContext, clipped};
use super::labels::{Label, LabelRequest, size};
use super::queued_label::QueuedLabel;
use super::vessel_index::{VesselIndex, inside};
use crate::draw::page::shape::{Ink, Point, Rect, Shape, Stroke};
use crate::layout::Id;

/// Margin of a card around its text, points.
const CARD: f64 = 4.0;
/// Gap between a leader and the text of its label, points.
const OFF_WORDS: f64 = 5.0;

/// Most vessels on a page up to which sure labels are placed at any distance.
const MOST_SURE: usize = 60;
/// Most vessels up to which distant positions with a leader are tried. With more, few labels have such a position, and
/// the search would take longer than the rest of the drawing.
const MOST_LED: usize = 20;
/// Area of the page per vessel below which not all vessels are labelled, square points: a choice.
const LEAST_ROOM: f64 = 20_000.0;
/// Rank from which a label is shown whatever the room: that of spills.
const ALARM_RANK: i32 = 90;

impl DrawingContext {
    /// Queues a label, to be placed once everything is drawn.
    pub fn request(&mut self, part: &Id, strength: f64, request: LabelRequest) {
        self.request_one_of(part, strength, vec![request]);
    }

    /// Queues a label for which the first request that fits is used; its rank is that of the first request.
    pub fn request_one_of(&mut self, part: &Id, strength: f64, requests: Vec<LabelRequest>) {
        self.waiting.push(QueuedLabel {
            requests,
            part: Some(part.clone()),
            strength,
            carded: false,
            about: None,
            sure: false,
            led: false,
        });
    }

    /// Queues a label that must be shown, with a leader to its subject if it is more than `far` away.
    pub fn request_surely(
        &mut self,
        part: &Id,
        strength: f64,
        requests: Vec<LabelRequest>,
        about: (Rect, f64),
    ) {
        self.waiting.push(QueuedLabel {
            requests,
            part: Some(part.clone()),
            strength,
            carded: false,
            about: Some(about),
            sure: true,
            led: false,
        });
    }

    /// Queues such a label, but leaves it out if it is neither near nor has a leader.
    pub fn request_with_leader(
        &mut self,
        part: &Id,
        strength: f64,
        requests: Vec<LabelRequest>,
        about: (Rect, f64),
    ) {
        self.request_surely(part, strength, requests, about);
        if let Some(last) = self.waiting.last_mut() {
            last.led = true;
        }
    }

    /// Queues a label on a card that hides what is below it.
    pub fn request_on_card(&mut self, part: &Id, request: LabelRequest) {
        self.waiting.push(QueuedLabel {
            requests: vec![request],
            part: Some(part.clone()),
            strength: 1.0,
            carded: true,
            about: None,
            sure: false,
            led: false,
        });
    }

    pub fn set_labels(&mut self) {
        let mut waiting = std::mem::take(&mut self.waiting);
        waiting.sort_by_key(|one| std::cmp::Reverse(one.rank()));
        // On a page with little room for each vessel a few readable labels are better than all of them.
        let (cramped, many) = (self.is_cramped(), self.covers.count() > MOST_SURE);
        for one in waiting {
            if one.about.is_some_and(|(about, _)| !self.shows(about)) {
                continue;
            }
            match self.near(&one) {
                Some(label) => self.set_label(&one, label),
                None if cramped && one.rank() < ALARM_RANK => {}
                None if one.sure && !many => self.set_far(&one),
                None => {}
            }
        }
    }

    /// Places the first request that fits where the label is near its subject or a leader is possible.
    fn near(&mut self, one: &QueuedLabel) -> Option<Label> {
        let Some(about) = one.about else {
            return one
                .requests
                .iter()
                .find_map(|request| self.placer.place(request));
        };
        let leads = Leaders {
            kept: &self.kept,
            covers: &self.covers,
            drawn: &self.leaders,
        };
        one.requests.iter().find_map(|request| {
            // The first form is the widest; a position with a leader for it nearly always has one for the others.
            let (width, height) = size(request.forms.first()?);
            let mut led = request.clone();
            let spots = &mut led.spots;
            spots.retain(|spot| {
                leads.may(
                    spot.rect(width, height),
                    about.0,
                    about.1,
                    LeaderPath::Clear,
                )
            });
            self.placer.place(&led)
        })
    }

    /// Places a label that found no position nearby, at increasing distance: with a leader, first in full and then
    /// shortened, and at last without a leader. It may cover pipes if there is no other position.
    fn set_far(&mut self, one: &QueuedLabel) {
        let Some(about) = one.about else {
            return;
        };
        let seen = clipped(about.0, self.page);
        let whole = around::whole(&one.requests);
        let cut = around::cut(&whole);
        let led: &[LeaderPath] = if self.covers.count() <= MOST_LED {
            &[
                LeaderPath::Clear,
                LeaderPath::AcrossVessels,
                LeaderPath::AcrossLines,
            ]
        } else {
            &[]
        };
        let led = [&whole, &cut]
            .into_iter()
            .flat_map(|forms| led.iter().map(move |lead| (forms, *lead)));
        let not_led = [&whole, &cut].map(|forms| (forms, LeaderPath::None));
        let tries = led.chain(not_led.into_iter().filter(|_| !one.led));
        for ((forms, lead), across_pipes) in tries.flat_map(|one| [(one, false), (one, true)]) {
            let leads = Leaders {
                kept: &self.kept,
                covers: &self.covers,
                drawn: &self.leaders,
            };
            let placer = if across_pipes {
                &mut self.hard
            } else {
                &mut self.placer
            };
            let is_good = |label| leads.may(label, about.0, about.1, lead);
            let place = |request: &LabelRequest| placer.place(request);
            let found = around::find(forms, seen, leads.covers, is_good, place);
            let Some(label) = found else {
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

    /// Returns whether there is little room for each visible vessel.
    pub fn is_cramped(&self) -> bool {
        let page = self.page.width() * self.page.height();
        let count = self.covers.touching(self.page).count();
        count > 3 && page < LEAST_ROOM * count as f64
    }

    fn set_label(&mut self, one: &QueuedLabel, label: Label) {
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
            self.leader(one, label.rect, ink, (about, far));
        }
        for line in label.lines {
            self.add_faint(one.part.as_ref(), one.strength, Shape::Text(line));
        }
    }

    fn leader(&mut self, one: &QueuedLabel, label: Rect, ink: Ink, subject: (Rect, f64)) {
        let (about, far) = subject;
        let (start, end) = between(label, about);
        if start.distance(end) <= far || !is_open(&self.kept, (start, end), label) {
            return;
        }
        // Later labels keep off the leader if they can.
        self.placer.avoid(&[start, end]);
        self.leaders.push((start, end));
        let start = clear_of_words(start, end);
        let leader = Shape::Line {
            points: vec![start, end],
            stroke: Stroke::new(ink, 0.9),
        };
        self.add_faint(one.part.as_ref(), one.strength * 0.6, leader);
    }
}

/// Returns the start of a leader, away from the text: next to a number it would look like a minus sign.
fn clear_of_words(start: Point, end: Point) -> Point {
    let share = (OFF_WORDS / start.distance(end)).min(0.5);
    Point {
        x: start.x + share * (end.x - start.x),
        y: start.y + share * (end.y - start.y),
    }
}

/// Returns the shortest line from a label to its subject.
fn between(label: Rect, about: Rect) -> (Point, Point) {
    let nearest = |rect: Rect, to: Point| Point {
        x: to.x.clamp(rect.left, rect.right),
        y: to.y.clamp(rect.top, rect.bottom),
    };
    let end = nearest(about, label.centre());
    (nearest(label, end), end)
}

/// What a leader may cross.
#[derive(Clone, Copy, PartialEq, Eq)]
enum LeaderPath {
    /// No other text, and no other vessel, which it would seem to point at.
    Clear,
    /// No other text.
    AcrossVessels,
    /// No other text; and leaders drawn earlier may cross the label.
    AcrossLines,
    /// No leader is required.
    None,
}

/// Obstacles of leaders, and the leaders drawn so far.
struct Leaders<'a> {
    kept: &'a [Rect],
    covers: &'a VesselIndex,
    drawn: &'a [(Point, Point)],
}

impl Leaders<'_> {
    /// Returns whether a label is near its subject or a leader is possible, and no leader drawn earlier crosses it.
    fn may(&self, label: Rect, about: Rect, far: f64, lead: LeaderPath) -> bool {
        if lead == LeaderPath::None {
            return true;
        }
        let mut drawn = self.drawn.iter();
        let is_struck = |(start, end): &(Point, Point)| inside(*start, *end, label).is_some();
        if lead != LeaderPath::AcrossLines && drawn.any(is_struck) {
            return false;
        }
        let (start, end) = between(label, about);
        if start.distance(end) <= far {
            return true;
        }
        let meets = || {
            let mut met = self.covers.touching(Rect::between(start, end));
            met.any(|other| !other.holds_all(about) && inside(start, end, other).is_some())
        };
        is_open(self.kept, (start, end), label) && (lead != LeaderPath::Clear || !meets())
    }
}

/// Returns whether a line crosses no text but that of its own label: it would seem to strike the text out.
fn is_open(kept: &[Rect], leader: (Point, Point), label: Rect) -> bool {
    let (start, end) = leader;
    let along = Rect::between(start, end).grown(1.0);
    let mut others = kept
        .iter()
        .filter(|kept| **kept != label && kept.overlaps(along));
    !others.any(|kept| inside(start, end, kept.grown(-1.0)).is_some())
}
