//! The tool on a drawing: a state machine from events to requests.

use super::draft::{self, Draft};
use super::drag::{self, Drag};
use super::events::{DrawingKind, NudgeSize, ToolContext, ToolEvent, ToolRequest};
use super::guide::Guide;
use super::laying::{laid, measured};
use super::tool::Tool;
use super::view_state::ViewState;
use super::{hit, lay, picks};
use crate::draw::page::shape::{Point, Rect, pt};
use crate::draw::page::view::View;
use crate::draw::section::Pick;
use crate::edit::{Edit, Preset, propose};
use crate::layout::{Id, Layout};
use crate::units::{Quantity, write};

/// Pick tolerance around small targets, points.
pub(super) const TOLERANCE: f64 = 5.0;
/// A press that moves less than this is a click, points.
const STEADY: f64 = 3.0;

/// What is in progress.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) enum Gesture {
    #[default]
    Nothing,
    /// Pressed, not yet moved.
    Pressed {
        from: Point,
        on: Option<Pick>,
        too: bool,
    },
    /// A drag, and the edit that it would make.
    Dragged {
        drag: Drag,
        from: Point,
        edit: Option<Edit>,
    },
    /// A selection box.
    Boxed { from: Point, to: Point },
    /// A vessel being dragged from the shelf.
    Laid { preset: Preset, from: Point },
    /// A manifold over the vessels that it feeds so far.
    Strung { from: Id, over: Vec<Id> },
    /// A measurement.
    Taped { from: Point, to: Point },
    /// Panning.
    Page { last: Point },
    /// Cancelled with the button still down: ignores everything until it is released.
    Spent,
}

/// The tool state: the operation in progress, the selection, the views.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ToolState {
    /// The view of the section.
    pub look: ViewState,
    /// The view of the plan.
    pub plan: ViewState,
    /// The current tool.
    pub tool: Tool,
    /// The selection; the last selected target is at the end.
    pub selected: Vec<Pick>,
    /// The target under the pointer.
    pub hovered: Option<Pick>,
    pub(super) held: Gesture,
    /// The drawing of the operation in progress.
    on: DrawingKind,
    pub(super) draft: Option<Draft>,
    guide: Guide,
    pointer: Point,
}

impl ToolState {
    /// Whether something is being dragged, so that the layout is a preview.
    pub fn drags(&self) -> bool {
        matches!(self.held, Gesture::Dragged { .. })
    }

    /// Whether an operation is in progress on either drawing.
    pub fn holds(&self) -> bool {
        !matches!(self.held, Gesture::Nothing | Gesture::Spent)
    }

    /// The drawing of the operation in progress, else the one under the pointer.
    pub fn sheet(&self) -> DrawingKind {
        self.on
    }

    /// Whether the page is being panned.
    pub fn moves_page(&self) -> bool {
        matches!(self.held, Gesture::Page { .. })
    }

    /// Whether a run is being drawn.
    pub fn draws_pipe(&self) -> bool {
        self.draft.is_some()
    }

    /// The last selected target.
    pub fn last(&self) -> Option<&Pick> {
        self.selected.last()
    }

    /// Selects only this.
    pub fn select(&mut self, pick: Pick) {
        self.selected = vec![pick];
    }

    /// Selected parts, in the order of selection.
    pub fn parts(&self) -> Vec<Id> {
        picks::parts(&self.selected)
    }

    /// Chooses another tool; what the last one began is cancelled.
    pub fn take_tool(&mut self, tool: Tool) {
        self.tool = tool;
        self.draft = None;
        self.guide = Guide::default();
        self.held = Gesture::Nothing;
    }

    /// The view of a drawing.
    pub fn look_of(&mut self, sheet: DrawingKind) -> &mut ViewState {
        match sheet {
            DrawingKind::Section => &mut self.look,
            DrawingKind::Plan => &mut self.plan,
        }
    }

    pub(super) fn view(&self, sheet: DrawingKind) -> Option<View> {
        match sheet {
            DrawingKind::Section => self.look.view(),
            DrawingKind::Plan => self.plan.view(),
        }
    }

    /// Handles one event.
    pub fn take(&mut self, event: ToolEvent, context: &ToolContext<'_>) -> Option<ToolRequest> {
        match event {
            ToolEvent::Moved(point) => self.moved(point, context),
            ToolEvent::Left => {
                self.hovered = None;
                None
            }
            ToolEvent::Pressed(point) => self.pressed(point, context, false),
            ToolEvent::PressedToo(point) => self.pressed(point, context, true),
            ToolEvent::Released(point) => self.released(point, context),
            ToolEvent::Dropped => self.dropped(),
            ToolEvent::TakenBack => {
                if let Some(draft) = &mut self.draft {
                    draft.via.pop();
                }
                None
            }
            ToolEvent::Nudged { right, up, step } => self.nudged((right, up), step, context),
        }
    }

    /// The guides over a drawing now.
    pub fn guide(&self, context: &ToolContext<'_>) -> Guide {
        let Some(view) = self
            .view(context.sheet)
            .filter(|_| context.sheet == self.on)
        else {
            return Guide::default();
        };
        let mut guide = self.guide.clone();
        match (&self.held, self.tool) {
            (Gesture::Boxed { from, to }, _) => guide.outline(Rect::between(*from, *to).corners()),
            (Gesture::Laid { preset, from }, _) => {
                guide.outline(lay::outline(
                    &view,
                    *preset,
                    *from,
                    self.pointer,
                    context.sheet,
                ));
            }
            (Gesture::Taped { from, to }, _) => measured(&mut guide, context, &view, (*from, *to)),
            (Gesture::Nothing, Tool::Vessel(preset)) if self.pointer != Point::default() => {
                let at = self.pointer;
                guide.outline(lay::outline(&view, preset, at, at, context.sheet));
            }
            _ => {}
        }
        if let Some((word, at)) = self
            .sets_down()
            .filter(|_| context.sheet == DrawingKind::Section)
        {
            let height_m = lay::height_m(context, &view, at);
            let height = write(Quantity::Height, height_m, context.units);
            // Beside the new part, clear of the pointer.
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

    /// The word for the height of a new part, and its position on the page.
    fn sets_down(&self) -> Option<(&'static str, Point)> {
        let at = Some(self.pointer).filter(|at| *at != Point::default())?;
        match (&self.held, self.tool) {
            (Gesture::Laid { from, .. }, _) => Some(("floor", pt(at.x, at.y.max(from.y)))),
            (Gesture::Nothing, Tool::Vessel(_)) => Some(("floor", at)),
            (Gesture::Nothing, Tool::Joint) => Some(("height", at)),
            (Gesture::Nothing, Tool::Fixed) => Some(("level", at)),
            _ => None,
        }
    }

    /// Forgets deleted parts.
    pub fn forget_missing(&mut self, layout: &Layout) {
        let there = |pick: &Pick| picks::is_there(layout, pick);
        self.selected.retain(there);
        self.hovered = self.hovered.take().filter(there);
    }

    fn pressed(
        &mut self,
        point: Point,
        context: &ToolContext<'_>,
        too: bool,
    ) -> Option<ToolRequest> {
        self.on = context.sheet;
        self.pointer = point;
        if self.tool != Tool::Hand {
            self.look_of(context.sheet).hold();
        }
        let found = hit::at(context.targets, point, TOLERANCE);
        let on = found.map(|found| found.pick.clone());
        match self.tool {
            Tool::Hand => {
                self.held = Gesture::Pressed {
                    from: point,
                    on,
                    too,
                }
            }
            Tool::Vessel(preset) => {
                self.held = Gesture::Laid {
                    preset,
                    from: point,
                }
            }
            Tool::Joint | Tool::Fixed => {
                self.held = Gesture::Pressed {
                    from: point,
                    on,
                    too,
                }
            }
            Tool::Pipe => return self.pipe_pressed(point, context),
            Tool::Tape => {
                self.held = Gesture::Taped {
                    from: point,
                    to: point,
                }
            }
            Tool::Manifold => {
                let spot = found.and_then(|one| {
                    draft::spot(context.layout, one, DrawingKind::Section, (0.0, 0.0))
                });
                match spot {
                    Some(propose::PipeEnd::Part(from)) => {
                        self.selected = vec![Pick::Part(from.clone())];
                        self.held = Gesture::Strung {
                            from,
                            over: Vec::new(),
                        };
                    }
                    _ => {
                        return Some(ToolRequest::Say(
                            "Press on the vessel or tee that feeds the others.".to_owned(),
                        ));
                    }
                }
            }
        }
        None
    }

    fn moved(&mut self, point: Point, context: &ToolContext<'_>) -> Option<ToolRequest> {
        self.pointer = point;
        if !self.holds() {
            self.on = context.sheet;
        }
        if let Some(draft) = &mut self.draft {
            draft.pointer = point;
        }
        match std::mem::take(&mut self.held) {
            Gesture::Nothing => {
                let found = hit::at(context.targets, point, TOLERANCE);
                self.hovered = found.map(|found| found.pick.clone());
                None
            }
            Gesture::Pressed { from, on, too } if from.distance(point) < STEADY => {
                self.held = Gesture::Pressed { from, on, too };
                None
            }
            Gesture::Pressed { from, on, too } => self.starts((from, on, too), point, context),
            Gesture::Dragged { drag, from, .. } => self.dragged(drag, from, point, context),
            Gesture::Boxed { from, .. } => {
                self.held = Gesture::Boxed { from, to: point };
                None
            }
            Gesture::Strung { from, over } => {
                self.strung(from, over, context, point);
                None
            }
            Gesture::Taped { from, .. } => {
                self.held = Gesture::Taped { from, to: point };
                None
            }
            Gesture::Page { last } => {
                let on = self.on;
                self.look_of(on).pan(point.x - last.x, point.y - last.y);
                self.held = Gesture::Page { last: point };
                None
            }
            kept @ (Gesture::Laid { .. } | Gesture::Spent) => {
                self.held = kept;
                None
            }
        }
    }

    /// Starts a drag, a selection box or panning, once a press has moved.
    fn starts(
        &mut self,
        press: (Point, Option<Pick>, bool),
        point: Point,
        context: &ToolContext<'_>,
    ) -> Option<ToolRequest> {
        let (from, on, too) = press;
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
                self.held = Gesture::Boxed { from, to: point };
                None
            }
            _ => {
                let on = self.on;
                self.look_of(on).pan(point.x - from.x, point.y - from.y);
                self.held = Gesture::Page { last: point };
                None
            }
        }
    }

    fn dragged(
        &mut self,
        drag: Drag,
        from: Point,
        to: Point,
        context: &ToolContext<'_>,
    ) -> Option<ToolRequest> {
        let view = self.view(context.sheet)?;
        let aim = drag.aim(context, &view, (from, to));
        let (edit, request) = match aim {
            None => (None, None),
            Some(aim) => {
                self.guide = aim.guide;
                match aim.edit {
                    Ok(edit) => (Some(edit.clone()), Some(ToolRequest::Preview(edit))),
                    Err(refused) => (None, Some(ToolRequest::Refused(refused))),
                }
            }
        };
        self.held = Gesture::Dragged { drag, from, edit };
        request
    }

    fn released(&mut self, point: Point, context: &ToolContext<'_>) -> Option<ToolRequest> {
        self.guide = Guide::default();
        // Pressed on the shelf and released here.
        if let (Gesture::Nothing, Tool::Vessel(preset)) = (&self.held, self.tool) {
            self.held = Gesture::Laid {
                preset,
                from: point,
            };
            self.on = context.sheet;
            self.look_of(context.sheet).hold();
        }
        match std::mem::take(&mut self.held) {
            Gesture::Pressed { on, too, .. } => match self.tool {
                Tool::Joint | Tool::Fixed => self.set_down(on, point, context),
                _ => {
                    picks::take(&mut self.selected, on, too);
                    None
                }
            },
            Gesture::Dragged { edit, .. } => Some(match edit {
                Some(edit) if !edit.changes_nothing() => ToolRequest::Commit(edit),
                _ => ToolRequest::Drop,
            }),
            Gesture::Boxed { from, to } => {
                picks::boxed(&mut self.selected, context.targets, Rect::between(from, to));
                None
            }
            Gesture::Laid { preset, from } => {
                let view = self.view(context.sheet)?;
                let made = lay::vessel(context, &view, preset, from, point);
                self.tool = Tool::Hand;
                Some(laid(made))
            }
            Gesture::Strung { from, over } => {
                self.tool = Tool::Hand;
                Some(match propose::manifold(context.layout, &from, &over) {
                    Ok((edit, made)) => ToolRequest::Make(edit, made),
                    Err(refused) => ToolRequest::Refused(refused),
                })
            }
            Gesture::Taped { .. } => None,
            Gesture::Nothing | Gesture::Page { .. } | Gesture::Spent => {
                if self.draft.is_some() {
                    return self.pipe_released(point, context);
                }
                let found = hit::at(context.targets, point, TOLERANCE);
                self.hovered = found.map(|found| found.pick.clone());
                None
            }
        }
    }

    fn dropped(&mut self) -> Option<ToolRequest> {
        self.guide = Guide::default();
        if self.draft.take().is_some() {
            return None;
        }
        match std::mem::take(&mut self.held) {
            Gesture::Nothing if self.tool != Tool::Hand => {
                self.tool = Tool::Hand;
                None
            }
            Gesture::Nothing => {
                self.selected.clear();
                None
            }
            Gesture::Dragged { .. } => {
                self.held = Gesture::Spent;
                Some(ToolRequest::Drop)
            }
            _ => {
                self.held = Gesture::Spent;
                None
            }
        }
    }

    fn nudged(
        &mut self,
        by: (i32, i32),
        step: NudgeSize,
        context: &ToolContext<'_>,
    ) -> Option<ToolRequest> {
        let edit = super::nudge::nudge(context, &self.selected, by, step)?;
        Some(match edit {
            Ok(edit) => ToolRequest::Commit(edit),
            Err(refused) => ToolRequest::Refused(refused),
        })
    }
}
