//! Labels wait until everything is drawn, and then take their places by rank.

use super::around;
use super::drawing_context::{DrawingContext, clipped};
use super::labels::{Label, LabelRequest, size};
use super::shape::{Ink, Point, Rect, Shape, Stroke};
use super::vessel_index::{VesselIndex, inside};
use crate::layout::Id;

/// How far a card reaches over its words, points.
const CARD: f64 = 4.0;
/// How far a line to a label keeps off its words, points.
const OFF_WORDS: f64 = 5.0;

/// A label that waits for its place.
pub(super) struct QueuedLabel {
    /// Tried in this order.
    requests: Vec<LabelRequest>,
    part: Option<Id>,
    strength: f64,
    carded: bool,
    /// What it is about: a thin line leads there where the label stands further off than this, points.
    about: Option<(Rect, f64)>,
    /// It is shown wherever there is any room at all, unless the page is crowded.
    sure: bool,
    /// Rather left out than further off without that line: it would be read as of something else.
    led: bool,
}

/// Most vessels on a page whose names and levels are shown whatever it takes.
const MOST_SURE: usize = 60;
/// Most of which each place far off is tried with a line through nothing: of more there is no such place for most,
/// and to look for it would take longer than all else that is drawn.
const MOST_LED: usize = 20;
/// With less of the page to each vessel than this, square points, not all of them can be told of: a choice.
const LEAST_ROOM: f64 = 20_000.0;
/// From this rank on a label is said whatever the room: what spills.
const ALARM_RANK: i32 = 90;

impl QueuedLabel {
    fn rank(&self) -> i32 {
        self.requests.first().map_or(0, |request| request.rank)
    }
}

impl DrawingContext {
    /// A label to be placed once everything is drawn.
    pub fn request(&mut self, part: &Id, strength: f64, request: LabelRequest) {
        self.request_one_of(part, strength, vec![request]);
    }

    /// The same, where the first wish that can be granted is taken; the rank is that of the first.
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

    /// A label that must be seen, with a thin line to what it is about should it stand more than `far` off.
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

    /// The same, left out where it is neither near nor has a line.
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

    /// The same on a card that hides what is under it.
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
        // On a page with little room for each vessel a few labels that can be read say more than all of them.
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

    /// The first wish that can be granted where the label is near by or a line can lead from it.
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
            // Of several forms the first is the widest: what can be led to from there can be from the others, nearly.
            let (width, height) = size(request.forms.first()?);
            let mut led = request.clone();
            let spots = &mut led.spots;
            spots.retain(|spot| leads.may(spot.rect(width, height), about, LeaderPath::Clear));
            self.placer.place(&led)
        })
    }

    /// A label that found no place near by: further and further off, where a line can lead from it to what it is
    /// about, in whole words or a long name cut short; and at last without that line. Across pipes where it must.
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
            let is_good = |label| leads.may(label, about, lead);
            let place = |request: &LabelRequest| placer.place(request);
            let found = around::find(forms, (seen, leads.covers), is_good, place);
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

    /// There is little room for each vessel that is seen.
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
            self.leader(one, (label.rect, ink), (about, far));
        }
        for line in label.lines {
            self.add_faint(one.part.as_ref(), one.strength, Shape::Text(line));
        }
    }

    fn leader(&mut self, one: &QueuedLabel, (label, ink): (Rect, Ink), (about, far): (Rect, f64)) {
        let (start, end) = between(label, about);
        if start.distance(end) <= far || !is_open(&self.kept, (start, end), label) {
            return;
        }
        // Labels that come later keep off it, if they can.
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

/// Where such a line begins: next to a number it would be read as a minus sign.
fn clear_of_words(start: Point, end: Point) -> Point {
    let share = (OFF_WORDS / start.distance(end)).min(0.5);
    Point {
        x: start.x + share * (end.x - start.x),
        y: start.y + share * (end.y - start.y),
    }
}

/// The line from a label to what it is about.
fn between(label: Rect, about: Rect) -> (Point, Point) {
    let nearest = |rect: Rect, to: Point| Point {
        x: to.x.clamp(rect.left, rect.right),
        y: to.y.clamp(rect.top, rect.bottom),
    };
    let end = nearest(about, label.centre());
    (nearest(label, end), end)
}

/// Through what a line from a label to what it is about may lead.
#[derive(Clone, Copy, PartialEq, Eq)]
enum LeaderPath {
    /// Through no other words, and no other vessel: it would seem to lead to that one.
    Clear,
    /// Through no other words.
    AcrossVessels,
    /// Through no other words, and lines that are there already may go through these.
    AcrossLines,
    /// There need not be any.
    None,
}

/// What lies in the way of such lines, and those that are drawn already.
struct Leaders<'a> {
    kept: &'a [Rect],
    covers: &'a VesselIndex,
    drawn: &'a [(Point, Point)],
}

impl Leaders<'_> {
    /// Whether a label is near to what it is about or such a line can lead there, and no line that is drawn already
    /// goes through it.
    fn may(&self, label: Rect, (about, far): (Rect, f64), lead: LeaderPath) -> bool {
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

/// Whether a line goes through no words but its own label's: it would be read as striking them out.
fn is_open(kept: &[Rect], (start, end): (Point, Point), label: Rect) -> bool {
    let along = Rect::between(start, end).grown(1.0);
    let mut others = kept
        .iter()
        .filter(|kept| **kept != label && kept.overlaps(along));
    !others.any(|kept| inside(start, end, kept.grown(-1.0)).is_some())
}
