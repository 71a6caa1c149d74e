//! The hand sets things down, strings a manifold over vessels, and measures.

use super::events::{Ground, Request, Sheet};
use super::guide::Guide;
use super::hand::{Hand, Held, TOLERANCE};
use super::tool::Tool;
use super::{hit, lay};
use crate::draw::section::Pick;
use crate::draw::shape::Point;
use crate::draw::view::View;
use crate::edit::{Edit, EditError, propose};
use crate::layout::Id;
use crate::units::{Quantity, write};

impl Hand {
    /// A tee or a fixed level is set down; on a run a tee splits it.
    pub(super) fn set_down(
        &mut self,
        on: Option<Pick>,
        point: Point,
        context: &Ground<'_>,
    ) -> Option<Request> {
        let view = self.view(context.sheet)?;
        let tool = std::mem::take(&mut self.tool);
        let place = view.section_from_page(point);
        let run = on.filter(|_| tool == Tool::Joint && context.sheet == Sheet::Plan);
        let run = run.filter(|pick| context.layout.run(pick.part()).is_some());
        Some(laid(match run {
            Some(pick) => propose::split(context.layout, pick.part(), (place.along_m, place.z_m)),
            None if tool == Tool::Joint => lay::joint(context, &view, point),
            None => lay::fixed(context, &view, point),
        }))
    }

    /// Another vessel that a manifold is drawn over.
    pub(super) fn strung(
        &mut self,
        from: Id,
        mut over: Vec<Id>,
        context: &Ground<'_>,
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
        self.held = Held::Strung { from, over };
    }
}

/// What was set down is made and selected.
pub(super) fn laid(made: Result<(Edit, Id), EditError>) -> Request {
    match made {
        Ok((edit, id)) => Request::Make(edit, vec![id]),
        Err(refused) => Request::Refused(refused),
    }
}

/// The tape between two points: how far, and how far across and up.
pub(super) fn measured(
    guide: &mut Guide,
    context: &Ground<'_>,
    view: &View,
    (from, to): (Point, Point),
) {
    let (a, b) = (view.section_from_page(from), view.section_from_page(to));
    let (across, up) = ((b.along_m - a.along_m).abs(), (b.z_m - a.z_m).abs());
    let far = write(Quantity::Length, across.hypot(up), context.units);
    let words = match context.sheet {
        Sheet::Plan => {
            let [across, up] = [across, up].map(|one| write(Quantity::Length, one, context.units));
            format!("{far} ({across} across, {up} up the page)")
        }
        // Along the section wide vessels are drawn narrower: only heights can be measured there.
        Sheet::Section => format!("{} in height", write(Quantity::Height, up, context.units)),
    };
    guide.line(vec![from, to]);
    guide.words(to.moved(14.0, 30.0), &words, view.page);
}
