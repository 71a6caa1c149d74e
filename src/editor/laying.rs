//! Placing parts, drawing a manifold over vessels, and measuring.

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
    /// Places a tee or a fixed level; on a run, a tee splits it.
    pub(super) fn set_down(
        &mut self,
        on: Option<Pick>,
        point: Point,
        ground: &Ground<'_>,
    ) -> Option<Request> {
        let view = self.view(ground.sheet)?;
        let tool = std::mem::take(&mut self.tool);
        let place = view.section_from_page(point);
        let run = on.filter(|_| tool == Tool::Joint && ground.sheet == Sheet::Plan);
        let run = run.filter(|pick| ground.layout.run(pick.part()).is_some());
        Some(laid(match run {
            Some(pick) => propose::split(ground.layout, pick.part(), (place.along_m, place.z_m)),
            None if tool == Tool::Joint => lay::joint(ground, &view, point),
            None => lay::fixed(ground, &view, point),
        }))
    }

    /// Adds another vessel under a manifold being drawn.
    pub(super) fn strung(
        &mut self,
        from: Id,
        mut over: Vec<Id>,
        ground: &Ground<'_>,
        point: Point,
    ) {
        let found = hit::at(ground.targets, point, TOLERANCE);
        let part = found.map(|found| found.pick.part().clone());
        if let Some(part) = part.filter(|part| ground.layout.vessel(part).is_some())
            && part != from
            && !over.contains(&part)
        {
            self.selected.push(Pick::Part(part.clone()));
            over.push(part);
        }
        self.held = Held::Strung { from, over };
    }
}

/// Commits and selects the new part.
pub(super) fn laid(made: Result<(Edit, Id), EditError>) -> Request {
    match made {
        Ok((edit, id)) => Request::Make(edit, vec![id]),
        Err(refused) => Request::Refused(refused),
    }
}

/// A measurement between two points: the distance and its components.
pub(super) fn measured(
    guide: &mut Guide,
    ground: &Ground<'_>,
    view: &View,
    (from, to): (Point, Point),
) {
    let (a, b) = (view.section_from_page(from), view.section_from_page(to));
    let (across, up) = ((b.along_m - a.along_m).abs(), (b.z_m - a.z_m).abs());
    let far = write(Quantity::Length, across.hypot(up), ground.units);
    let words = match ground.sheet {
        Sheet::Plan => {
            let [across, up] = [across, up].map(|one| write(Quantity::Length, one, ground.units));
            format!("{far} (X {across}, Y {up})")
        }
        // The section draws wide vessels narrower, so only heights can be measured in it.
        Sheet::Section => format!("Height {}", write(Quantity::Height, up, ground.units)),
    };
    guide.line(vec![from, to]);
    guide.words(to.moved(14.0, 30.0), &words, view.page);
}
