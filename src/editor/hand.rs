//! The hand on the section: a state machine from events to requests.

use super::look::Look;
use super::reach::{candidates_m, crest_m, range_m};
use super::{hit, snap};
use crate::draw::section::{Pick, Target};
use crate::draw::shape::Point;
use crate::edit::{self, Edit, EditError};
use crate::layout::Layout;
use crate::units::UnitSystem;

/// Help around small targets, points.
const TOLERANCE: f64 = 5.0;
/// A press that moves less than this is a click, points.
const STEADY: f64 = 3.0;

/// What happened.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Event {
    /// The pointer moved.
    Moved(Point),
    /// It left the page.
    Left,
    /// It was pressed.
    Pressed(Point),
    /// It was let go.
    Released(Point),
    /// Whatever is held is to be dropped: Escape.
    Dropped,
    /// The selected crest is to go up or down by a step.
    Nudged {
        /// Steps up; negative: down.
        steps: i32,
        /// How large.
        step: Step,
    },
}

/// The size of a nudge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    /// A millimetre, or a sixteenth of an inch.
    Fine,
    /// Ten millimetres, or half an inch.
    Coarse,
}

/// What is to be done about it.
#[derive(Clone, Debug, PartialEq)]
pub enum Request {
    /// Show the layout as if this were done.
    Preview(Edit),
    /// Do it.
    Commit(Edit),
    /// Show the layout as it is.
    Drop,
    /// Say why it cannot be done.
    Refused(EditError),
}

/// What the hand is over.
#[derive(Clone, Copy)]
pub struct Ground<'a> {
    /// The layout as it is, without any preview.
    pub layout: &'a Layout,
    /// What can be touched.
    pub targets: &'a [Target],
    /// The units that steps are taken in.
    pub units: UnitSystem,
}

/// What is held.
#[derive(Clone, Debug, Default, PartialEq)]
enum Held {
    #[default]
    Nothing,
    /// Pressed, not yet moved.
    Pressed { from: Point, on: Option<Pick> },
    /// A crest on its way.
    Crest {
        pick: Pick,
        from: Point,
        start_m: f64,
        to_m: f64,
    },
    /// The page.
    Page { last: Point },
    /// Dropped with the button still down: nothing happens until it is let go.
    Spent,
}

/// The hand: what it holds, what is selected, how the page lies.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Hand {
    /// How the page lies.
    pub look: Look,
    /// What is selected.
    pub selected: Option<Pick>,
    /// What the pointer is over.
    pub hovered: Option<Pick>,
    held: Held,
}

impl Hand {
    /// A crest is being dragged.
    pub fn drags_crest(&self) -> bool {
        matches!(self.held, Held::Crest { .. })
    }

    /// The page is being moved.
    pub fn moves_page(&self) -> bool {
        matches!(self.held, Held::Page { .. })
    }

    /// Takes in one event.
    pub fn take(&mut self, event: Event, ground: &Ground<'_>) -> Option<Request> {
        match event {
            Event::Moved(point) => self.moved(point, ground),
            Event::Left => {
                self.hovered = None;
                None
            }
            Event::Pressed(point) => {
                self.held = Held::Pressed {
                    from: point,
                    on: hit::at(ground.targets, point, TOLERANCE).map(|found| found.pick.clone()),
                };
                None
            }
            Event::Released(point) => self.released(point, ground),
            Event::Dropped => self.dropped(),
            Event::Nudged { steps, step } => self.nudged(steps, step, ground),
        }
    }

    /// Forgets what is no longer there.
    pub fn forget_missing(&mut self, layout: &Layout) {
        let gone = |pick: &Option<Pick>| match pick {
            Some(Pick::Part(id)) => !is_there(layout, id),
            Some(crest @ Pick::Crest { .. }) => crest_m(layout, crest).is_none(),
            Some(other) => !is_there(layout, other.part()),
            None => false,
        };
        if gone(&self.selected) {
            self.selected = None;
        }
        if gone(&self.hovered) {
            self.hovered = None;
        }
    }

    fn moved(&mut self, point: Point, ground: &Ground<'_>) -> Option<Request> {
        match std::mem::take(&mut self.held) {
            Held::Nothing => {
                let found = hit::at(ground.targets, point, TOLERANCE);
                self.hovered = found.map(|found| found.pick.clone());
                None
            }
            Held::Pressed { from, on } if from.distance(point) < STEADY => {
                self.held = Held::Pressed { from, on };
                None
            }
            Held::Pressed { from, on } => self.starts(from, on, point, ground),
            Held::Crest {
                pick,
                from,
                start_m,
                ..
            } => self.crest(pick, (from, start_m), point, ground),
            Held::Page { last } => {
                self.look.pan(point.x - last.x, point.y - last.y);
                self.held = Held::Page { last: point };
                None
            }
            Held::Spent => {
                self.held = Held::Spent;
                None
            }
        }
    }

    /// A press became a drag.
    fn starts(
        &mut self,
        from: Point,
        on: Option<Pick>,
        point: Point,
        ground: &Ground<'_>,
    ) -> Option<Request> {
        match on.and_then(|pick| crest_m(ground.layout, &pick).map(|start_m| (pick, start_m))) {
            Some((pick, start_m)) => {
                self.selected = Some(pick.clone());
                self.hovered = Some(pick.clone());
                self.crest(pick, (from, start_m), point, ground)
            }
            None => {
                self.look.pan(point.x - from.x, point.y - from.y);
                self.held = Held::Page { last: point };
                None
            }
        }
    }

    /// A crest is where the pointer has moved from where it was taken: never summed from small steps.
    fn crest(
        &mut self,
        pick: Pick,
        (from, start_m): (Point, f64),
        point: Point,
        ground: &Ground<'_>,
    ) -> Option<Request> {
        let view = self.look.view()?;
        let metres_per_point = 1.0 / view.points_per_metre_up;
        let raw_m = start_m + (from.y - point.y) * metres_per_point;
        let mut candidates = candidates_m(ground.layout, &pick);
        candidates.push(start_m);
        let snapped = snap::snap(raw_m, &candidates, 2.5 * metres_per_point, ground.units);
        let (low, high) = range_m(ground.layout, &pick)?;
        let to_m = snapped.height_m.clamp(low, high);
        let request = set(ground.layout, &pick, to_m, Request::Preview);
        self.held = Held::Crest {
            pick,
            from,
            start_m,
            to_m,
        };
        request
    }

    fn released(&mut self, point: Point, ground: &Ground<'_>) -> Option<Request> {
        match std::mem::take(&mut self.held) {
            Held::Pressed { on, .. } => {
                self.selected = on;
                None
            }
            Held::Crest {
                pick,
                to_m,
                start_m,
                ..
            } if to_m == start_m => {
                self.selected = Some(pick);
                Some(Request::Drop)
            }
            Held::Crest { pick, to_m, .. } => set(ground.layout, &pick, to_m, Request::Commit),
            Held::Nothing | Held::Page { .. } | Held::Spent => {
                let found = hit::at(ground.targets, point, TOLERANCE);
                self.hovered = found.map(|found| found.pick.clone());
                None
            }
        }
    }

    fn dropped(&mut self) -> Option<Request> {
        match std::mem::take(&mut self.held) {
            Held::Nothing => {
                self.selected = None;
                None
            }
            Held::Crest { .. } => {
                self.held = Held::Spent;
                Some(Request::Drop)
            }
            _ => {
                self.held = Held::Spent;
                None
            }
        }
    }

    fn nudged(&mut self, steps: i32, step: Step, ground: &Ground<'_>) -> Option<Request> {
        let pick = self.selected.clone()?;
        let now_m = crest_m(ground.layout, &pick)?;
        let fine = snap::step_m(0.0, ground.units);
        let by = match step {
            Step::Fine => fine,
            Step::Coarse => snap::step_m(f64::INFINITY, ground.units),
        };
        let raw_m = snap::on_tape(now_m, fine, ground.units) + f64::from(steps) * by;
        let (low, high) = range_m(ground.layout, &pick)?;
        let to_m = snap::on_tape(raw_m, fine, ground.units).clamp(low, high);
        set(ground.layout, &pick, to_m, Request::Commit)
    }
}

fn set(layout: &Layout, pick: &Pick, to_m: f64, request: fn(Edit) -> Request) -> Option<Request> {
    let Pick::Crest { run, end } = pick else {
        return None;
    };
    Some(match edit::crest(layout, run, *end, to_m) {
        Ok(edit) => request(edit),
        Err(refused) => Request::Refused(refused),
    })
}

fn is_there(layout: &Layout, id: &crate::layout::Id) -> bool {
    let pumps = layout.runs.iter().filter_map(|run| run.pump.as_ref());
    layout.vessels.iter().any(|part| part.id == *id)
        || layout.joints.iter().any(|part| part.id == *id)
        || layout.fixed.iter().any(|part| part.id == *id)
        || layout.runs.iter().any(|part| part.id == *id)
        || pumps.into_iter().any(|part| part.id == *id)
}
