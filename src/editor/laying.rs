//! Placing parts, drawing a manifold over vessels, and measuring.

use super::events::{DrawingKind, ToolContext, ToolRequest};
use super::guide::Guide;
use super::tool::Tool;
use super::tool_state::{Gesture, TOLERANCE, ToolState};
use super::{hit, lay};
use crate::draw::page::shape::Point;
use crate::draw::page::view::View;
use crate::draw::section::Pick;
use crate::edit::{Edit, EditError, propose};
use crate::layout::Id;
use crate::units::{Quantity, write};

impl ToolState {
    /// Places a tee or a fixed level; on a run, a tee splits it.
    pub(super) fn set_down(
        &mut self,
        on: Option<Pick>,
        point: Point,
        context: &ToolContext<'_>,
    ) -> Option<ToolRequest> {
        let view = self.view(context.sheet)?;
        let tool = std::mem::take(&mut self.tool);
        let place = view.section_from_page(point);
        let run = on.filter(|_| tool == Tool::Joint && context.sheet == DrawingKind::Plan);
        let run = run.filter(|pick| context.layout.run(pick.part()).is_some());
        Some(laid(match run {
            Some(pick) => propose::split(context.layout, pick.part(), (place.along_m, place.z_m)),
            None if tool == Tool::Joint => lay::joint(context, &view, point),
            None => lay::fixed(context, &view, point),
        }))
    }

    /// Adds another vessel under a manifold being drawn.
    pub(super) fn strung(
        &mut self,
        from: Id,
        mut over: Vec<Id>,
        context: &ToolContext<'_>,
        point: Point,
    ) {
        let found = hit::at(context.targets, point, TOLERANCE);
        let part = found.map(|found| found.pick.part().clone());
        if let Some(part) = part.filter(|part| context.layout.vessel(part).is_some())
            && part != from
            && !over.contains(&part)
        {
            self.selected.push(Pick::Part(part.clone()));
            over.push(part);
        }
        self.held = Gesture::Strung { from, over };
    }
}

/// Commits and selects the new part.
pub(super) fn laid(made: Result<(Edit, Id), EditError>) -> ToolRequest {
    match made {
        Ok((edit, id)) => ToolRequest::Make(edit, vec![id]),
        Err(refused) => ToolRequest::Refused(refused),
    }
}

/// A measurement between two points: the distance and its components.
pub(super) fn measured(
    guide: &mut Guide,
    context: &ToolContext<'_>,
    view: &View,
    leg: (Point, Point),
) {
    let (from, to) = leg;
    let (a, b) = (view.section_from_page(from), view.section_from_page(to));
    let (across, up) = ((b.along_m - a.along_m).abs(), (b.z_m - a.z_m).abs());
    let far = write(Quantity::Length, across.hypot(up), context.units);
    let words = match context.sheet {
        DrawingKind::Plan => {
            let [across, up] = [across, up].map(|one| write(Quantity::Length, one, context.units));
            format!("{far} (X {across}, Y {up})")
        }
        // The section draws wide vessels narrower, so only heights can be measured in it.
        DrawingKind::Section => format!("Height {}", write(Quantity::Height, up, context.units)),
    };
    guide.line(vec![from, to]);
    guide.words(to.moved(14.0, 30.0), &words, view.page);
}
