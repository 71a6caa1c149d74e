//! The hand on a drawing: a state machine from events to requests.

use super::draft::{self, Draft};
use super::drag::{self, Drag};
use super::events::{Event, Ground, Request, Sheet, Step};
use super::guide::Guide;
use super::laying::{laid, measured};
use super::look::Look;
use super::tool::Tool;
use super::{hit, lay, picks};
use crate::draw::section::Pick;
use crate::draw::shape::{Point, Rect, pt};
use crate::draw::view::View;
use crate::edit::{Edit, Preset, propose};
use crate::layout::{Id, Layout};
use crate::units::{Quantity, write};

/// Help around small targets, points.
pub(super) const TOLERANCE: f64 = 5.0;
/// A press that moves less than this is a click, points.
const STEADY: f64 = 3.0;

/// What is held.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) enum Held {
    #[default]
    Nothing,
    /// Pressed, not yet moved.
    Pressed {
        from: Point,
        on: Option<Pick>,
        too: bool,
    },
    /// Something on its way, and the edit that would leave it there.
    Dragged {
        drag: Drag,
        from: Point,
        edit: Option<Edit>,
    },
    /// A box around what is to be selected.
    Boxed { from: Point, to: Point },
    /// Something from the shelf, on its way to where it is set down.
    Laid { preset: Preset, from: Point },
    /// A manifold over the vessels that it feeds so far.
    Strung { from: Id, over: Vec<Id> },
    /// The tape.
    Taped { from: Point, to: Point },
    /// The page.
    Page { last: Point },
    /// Dropped with the button still down: nothing happens until it is let go.
    Spent,
}

/// The hand: what it holds, what is selected, how the pages lie.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Hand {
    /// How the section lies.
    pub look: Look,
    /// How the plan lies.
    pub plan: Look,
    /// What the hand holds.
    pub tool: Tool,
    /// What is selected, what was taken last at the end.
    pub selected: Vec<Pick>,
    /// What the pointer is over.
    pub hovered: Option<Pick>,
    pub(super) held: Held,
    /// The drawing on which it is held.
    on: Sheet,
    pub(super) draft: Option<Draft>,
    guide: Guide,
    pointer: Point,
}

impl Hand {
    /// Something is being dragged, and the layout is shown as it would be.
    pub fn drags(&self) -> bool {
        matches!(self.held, Held::Dragged { .. })
    }

    /// Something is held, on this drawing or the other.
    pub fn holds(&self) -> bool {
        !matches!(self.held, Held::Nothing | Held::Spent)
    }

    /// The drawing on which something is held, else the one under the pointer.
    pub fn sheet(&self) -> Sheet {
        self.on
    }

    /// The page is being moved.
    pub fn moves_page(&self) -> bool {
        matches!(self.held, Held::Page { .. })
    }

    /// A run is being drawn.
    pub fn draws_pipe(&self) -> bool {
        self.draft.is_some()
    }

    /// What was selected last.
    pub fn last(&self) -> Option<&Pick> {
        self.selected.last()
    }

    /// Selects this alone.
    pub fn select(&mut self, pick: Pick) {
        self.selected = vec![pick];
    }

    /// Parts that are selected, in the order in which they were.
    pub fn parts(&self) -> Vec<Id> {
        picks::parts(&self.selected)
    }

    /// Takes another tool; what was begun with the last is dropped.
    pub fn take_tool(&mut self, tool: Tool) {
        self.tool = tool;
        self.draft = None;
        self.guide = Guide::default();
        self.held = Held::Nothing;
    }

    /// How a drawing lies.
    pub fn look_of(&mut self, sheet: Sheet) -> &mut Look {
        match sheet {
            Sheet::Section => &mut self.look,
            Sheet::Plan => &mut self.plan,
        }
    }

    pub(super) fn view(&self, sheet: Sheet) -> Option<View> {
        match sheet {
            Sheet::Section => self.look.view(),
            Sheet::Plan => self.plan.view(),
        }
    }

    /// Takes in one event.
    pub fn take(&mut self, event: Event, context: &Ground<'_>) -> Option<Request> {
        match event {
            Event::Moved(point) => self.moved(point, context),
            Event::Left => {
                self.hovered = None;
                None
            }
            Event::Pressed(point) => self.pressed(point, context, false),
            Event::PressedToo(point) => self.pressed(point, context, true),
            Event::Released(point) => self.released(point, context),
            Event::Dropped => self.dropped(),
            Event::TakenBack => {
                if let Some(draft) = &mut self.draft {
                    draft.via.pop();
                }
                None
            }
            Event::Nudged { right, up, step } => self.nudged((right, up), step, context),
        }
    }

    /// What is shown over a drawing now.
    pub fn guide(&self, context: &Ground<'_>) -> Guide {
        let Some(view) = self
            .view(context.sheet)
            .filter(|_| context.sheet == self.on)
        else {
            return Guide::default();
        };
        let mut guide = self.guide.clone();
        match (&self.held, self.tool) {
            (Held::Boxed { from, to }, _) => guide.outline(Rect::between(*from, *to).corners()),
            (Held::Laid { preset, from }, _) => {
                guide.outline(lay::outline(
                    &view,
                    (*preset, *from, self.pointer),
                    context.sheet,
                ));
            }
            (Held::Taped { from, to }, _) => measured(&mut guide, context, &view, (*from, *to)),
            (Held::Nothing, Tool::Vessel(preset)) if self.pointer != Point::default() => {
                let at = self.pointer;
                guide.outline(lay::outline(&view, (preset, at, at), context.sheet));
            }
            _ => {}
        }
        if let Some((word, at)) = self.sets_down().filter(|_| context.sheet == Sheet::Section) {
            let height_m = lay::height_m(context, &view, at);
            let height = write(Quantity::Height, height_m, context.units);
            // Beside what is set down, off the pointer.
            guide.words(
                pt(at.x + 16.0, at.y + 26.0),
                &format!("{word} {height}"),
                view.page,
            );
        }
        match &self.draft {
            Some(draft) => draft.guide(context, &view),
            None => guide,
        }
    }

    /// What the hand sets down, by the word for its height, and where that is on the page.
    fn sets_down(&self) -> Option<(&'static str, Point)> {
        let at = Some(self.pointer).filter(|at| *at != Point::default())?;
        match (&self.held, self.tool) {
            (Held::Laid { from, .. }, _) => Some(("floor", pt(at.x, at.y.max(from.y)))),
            (Held::Nothing, Tool::Vessel(_)) => Some(("floor", at)),
            (Held::Nothing, Tool::Joint) => Some(("height", at)),
            (Held::Nothing, Tool::Fixed) => Some(("level", at)),
            _ => None,
        }
    }

    /// Forgets what is no longer there.
    pub fn forget_missing(&mut self, layout: &Layout) {
        let there = |pick: &Pick| picks::is_there(layout, pick);
        self.selected.retain(there);
        self.hovered = self.hovered.take().filter(there);
    }

    fn pressed(&mut self, point: Point, context: &Ground<'_>, too: bool) -> Option<Request> {
        self.on = context.sheet;
        self.pointer = point;
        if self.tool != Tool::Hand {
            self.look_of(context.sheet).hold();
        }
        let found = hit::at(context.targets, point, TOLERANCE);
        let on = found.map(|found| found.pick.clone());
        match self.tool {
            Tool::Hand => {
                self.held = Held::Pressed {
                    from: point,
                    on,
                    too,
                }
            }
            Tool::Vessel(preset) => {
                self.held = Held::Laid {
                    preset,
                    from: point,
                }
            }
            Tool::Joint | Tool::Fixed => {
                self.held = Held::Pressed {
                    from: point,
                    on,
                    too,
                }
            }
            Tool::Pipe => return self.pipe_pressed(point, context),
            Tool::Tape => {
                self.held = Held::Taped {
                    from: point,
                    to: point,
                }
            }
            Tool::Manifold => {
                let spot = found
                    .and_then(|one| draft::spot(context.layout, one, Sheet::Section, (0.0, 0.0)));
                match spot {
                    Some(propose::Spot::Part(from)) => {
                        self.selected = vec![Pick::Part(from.clone())];
                        self.held = Held::Strung {
                            from,
                            over: Vec::new(),
                        };
                    }
                    _ => {
                        return Some(Request::Say(
                            "Press on the vessel or tee that feeds the others.".to_owned(),
                        ));
                    }
                }
            }
        }
        None
    }

    fn moved(&mut self, point: Point, context: &Ground<'_>) -> Option<Request> {
        self.pointer = point;
        if !self.holds() {
            self.on = context.sheet;
        }
        if let Some(draft) = &mut self.draft {
            draft.pointer = point;
        }
        match std::mem::take(&mut self.held) {
            Held::Nothing => {
                let found = hit::at(context.targets, point, TOLERANCE);
                self.hovered = found.map(|found| found.pick.clone());
                None
            }
            Held::Pressed { from, on, too } if from.distance(point) < STEADY => {
                self.held = Held::Pressed { from, on, too };
                None
            }
            Held::Pressed { from, on, too } => self.starts((from, on, too), point, context),
            Held::Dragged { drag, from, .. } => self.dragged(drag, from, point, context),
            Held::Boxed { from, .. } => {
                self.held = Held::Boxed { from, to: point };
                None
            }
            Held::Strung { from, over } => {
                self.strung(from, over, context, point);
                None
            }
            Held::Taped { from, .. } => {
                self.held = Held::Taped { from, to: point };
                None
            }
            Held::Page { last } => {
                let on = self.on;
                self.look_of(on).pan(point.x - last.x, point.y - last.y);
                self.held = Held::Page { last: point };
                None
            }
            kept @ (Held::Laid { .. } | Held::Spent) => {
                self.held = kept;
                None
            }
        }
    }

    /// A press became a drag.
    fn starts(
        &mut self,
        (from, on, too): (Point, Option<Pick>, bool),
        point: Point,
        context: &Ground<'_>,
    ) -> Option<Request> {
        let view = self.view(context.sheet)?;
        let place = view.section_from_page(from);
        let drag = on.as_ref().and_then(|pick| {
            drag::taken(pick, context, &self.selected, (place.along_m, place.z_m))
        });
        match (drag, on) {
            (Some(drag), Some(pick)) if !too => {
                if !self.selected.contains(&pick) {
                    self.selected = vec![pick.clone()];
                }
                self.hovered = Some(pick);
                self.look_of(context.sheet).hold();
                self.dragged(drag, from, point, context)
            }
            _ if too => {
                self.held = Held::Boxed { from, to: point };
                None
            }
            _ => {
                let on = self.on;
                self.look_of(on).pan(point.x - from.x, point.y - from.y);
                self.held = Held::Page { last: point };
                None
            }
        }
    }

    fn dragged(
        &mut self,
        drag: Drag,
        from: Point,
        to: Point,
        context: &Ground<'_>,
    ) -> Option<Request> {
        let view = self.view(context.sheet)?;
        let aim = drag.aim(context, &view, (from, to));
        let (edit, request) = match aim {
            None => (None, None),
            Some(aim) => {
                self.guide = aim.guide;
                match aim.edit {
                    Ok(edit) => (Some(edit.clone()), Some(Request::Preview(edit))),
                    Err(refused) => (None, Some(Request::Refused(refused))),
                }
            }
        };
        self.held = Held::Dragged { drag, from, edit };
        request
    }

    fn released(&mut self, point: Point, context: &Ground<'_>) -> Option<Request> {
        self.guide = Guide::default();
        // Pressed on the shelf and let go here.
        if let (Held::Nothing, Tool::Vessel(preset)) = (&self.held, self.tool) {
            self.held = Held::Laid {
                preset,
                from: point,
            };
            self.on = context.sheet;
            self.look_of(context.sheet).hold();
        }
        match std::mem::take(&mut self.held) {
            Held::Pressed { on, too, .. } => match self.tool {
                Tool::Joint | Tool::Fixed => self.set_down(on, point, context),
                _ => {
                    picks::take(&mut self.selected, on, too);
                    None
                }
            },
            Held::Dragged { edit, .. } => Some(match edit {
                Some(edit) if !edit.changes_nothing() => Request::Commit(edit),
                _ => Request::Drop,
            }),
            Held::Boxed { from, to } => {
                picks::boxed(&mut self.selected, context.targets, Rect::between(from, to));
                None
            }
            Held::Laid { preset, from } => {
                let view = self.view(context.sheet)?;
                let made = lay::vessel(context, &view, (preset, from, point));
                self.tool = Tool::Hand;
                Some(laid(made))
            }
            Held::Strung { from, over } => {
                self.tool = Tool::Hand;
                Some(match propose::manifold(context.layout, &from, &over) {
                    Ok((edit, made)) => Request::Make(edit, made),
                    Err(refused) => Request::Refused(refused),
                })
            }
            Held::Taped { .. } => None,
            Held::Nothing | Held::Page { .. } | Held::Spent => {
                if self.draft.is_some() {
                    return self.pipe_released(point, context);
                }
                let found = hit::at(context.targets, point, TOLERANCE);
                self.hovered = found.map(|found| found.pick.clone());
                None
            }
        }
    }

    fn dropped(&mut self) -> Option<Request> {
        self.guide = Guide::default();
        if self.draft.take().is_some() {
            return None;
        }
        match std::mem::take(&mut self.held) {
            Held::Nothing if self.tool != Tool::Hand => {
                self.tool = Tool::Hand;
                None
            }
            Held::Nothing => {
                self.selected.clear();
                None
            }
            Held::Dragged { .. } => {
                self.held = Held::Spent;
                Some(Request::Drop)
            }
            _ => {
                self.held = Held::Spent;
                None
            }
        }
    }

    fn nudged(&mut self, by: (i32, i32), step: Step, context: &Ground<'_>) -> Option<Request> {
        let edit = super::nudge::nudge(context, &self.selected, by, step)?;
        Some(match edit {
            Ok(edit) => Request::Commit(edit),
            Err(refused) => Request::Refused(refused),
        })
    }
}
