//! Draws pipe: by clicks with corners between them, or in one drag.

use super::draft::{self, Draft};
use super::events::{DrawingKind, ToolContext, ToolRequest};
use super::hit;
use super::tool_state::{TOLERANCE, ToolState};
use crate::draw::page::shape::Point;
use crate::edit::propose;

impl ToolState {
    pub(super) fn pipe_pressed(
        &mut self,
        point: Point,
        context: &ToolContext<'_>,
    ) -> Option<ToolRequest> {
        let view = self.view(context.sheet)?;
        let raw = view.section_from_page(point);
        let place = (raw.along_m, raw.z_m);
        let found = hit::at(context.targets, point, TOLERANCE);
        let spot = found.and_then(|one| draft::spot(context.layout, one, context.sheet, place));
        match (self.draft.take(), spot) {
            (None, None) => Some(ToolRequest::Say(
                "Begin on a vessel, a tee or a pipe.".to_owned(),
            )),
            (None, Some(from)) => {
                self.selected = found.map(|one| one.pick.clone()).into_iter().collect();
                self.draft = Some(Draft {
                    from,
                    start: place,
                    via: Vec::new(),
                    pointer: point,
                });
                None
            }
            (Some(draft), Some(to)) => self.pipe_ends(draft, &to, context),
            (Some(mut draft), None) => {
                let words = (context.sheet == DrawingKind::Section)
                    .then(|| "Draw corners in the plan; here, end on a vessel.".to_owned());
                if words.is_none() {
                    let (place, _) = draft.meant(context, &view, point);
                    draft.via.push(place);
                }
                self.draft = Some(draft);
                words.map(ToolRequest::Say)
            }
        }
    }

    /// Ends a run drawn in one drag, where the button is released at another part than it was pressed.
    pub(super) fn pipe_released(
        &mut self,
        point: Point,
        context: &ToolContext<'_>,
    ) -> Option<ToolRequest> {
        let view = self.view(context.sheet)?;
        let raw = view.section_from_page(point);
        let found = hit::at(context.targets, point, TOLERANCE);
        let spot = found.and_then(|one| {
            draft::spot(context.layout, one, context.sheet, (raw.along_m, raw.z_m))
        });
        let draft = self.draft.take()?;
        let ends = |spot: &propose::PipeEnd| match (spot, &draft.from) {
            (propose::PipeEnd::Part(a), propose::PipeEnd::Part(b))
            | (propose::PipeEnd::On(a, _), propose::PipeEnd::On(b, _)) => a != b,
            _ => true,
        };
        match spot.filter(|spot| ends(spot)) {
            Some(to) => self.pipe_ends(draft, &to, context),
            None => {
                self.draft = Some(draft);
                None
            }
        }
    }

    fn pipe_ends(
        &mut self,
        draft: Draft,
        to: &propose::PipeEnd,
        context: &ToolContext<'_>,
    ) -> Option<ToolRequest> {
        // The pipe tool stays active: the next run usually follows.
        Some(
            match propose::between(context.layout, &draft.from, to, &draft.via) {
                Ok(made) => ToolRequest::Make(made.edit, vec![made.run]),
                Err(refused) => ToolRequest::Refused(refused),
            },
        )
    }
}
