//! The hand draws pipe: by clicks with corners between, or in one drag.

use super::draft::{self, Draft};
use super::events::{Ground, Request, Sheet};
use super::hand::{Hand, TOLERANCE};
use super::hit;
use crate::draw::shape::Point;
use crate::edit::propose;

impl Hand {
    pub(super) fn pipe_pressed(&mut self, point: Point, context: &Ground<'_>) -> Option<Request> {
        let view = self.view(context.sheet)?;
        let raw = view.section_from_page(point);
        let place = (raw.along_m, raw.z_m);
        let found = hit::at(context.targets, point, TOLERANCE);
        let spot = found.and_then(|one| draft::spot(context.layout, one, context.sheet, place));
        match (self.draft.take(), spot) {
            (None, None) => Some(Request::Say(
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
                let words = (context.sheet == Sheet::Section)
                    .then(|| "Corners are drawn in the plan; end on a vessel here.".to_owned());
                if words.is_none() {
                    let (place, _) = draft.meant(context, &view, point);
                    draft.via.push(place);
                }
                self.draft = Some(draft);
                words.map(Request::Say)
            }
        }
    }

    /// Let go elsewhere than where it began: a run drawn in one drag.
    pub(super) fn pipe_released(&mut self, point: Point, context: &Ground<'_>) -> Option<Request> {
        let view = self.view(context.sheet)?;
        let raw = view.section_from_page(point);
        let found = hit::at(context.targets, point, TOLERANCE);
        let spot = found.and_then(|one| {
            draft::spot(context.layout, one, context.sheet, (raw.along_m, raw.z_m))
        });
        let draft = self.draft.take()?;
        let ends = |spot: &propose::Spot| match (spot, &draft.from) {
            (propose::Spot::Part(a), propose::Spot::Part(b))
            | (propose::Spot::On(a, _), propose::Spot::On(b, _)) => a != b,
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
        to: &propose::Spot,
        context: &Ground<'_>,
    ) -> Option<Request> {
        // Pipe stays in the hand: the next run is most likely to follow.
        Some(
            match propose::between(context.layout, &draft.from, to, &draft.via) {
                Ok(made) => Request::Make(made.edit, vec![made.run]),
                Err(refused) => Request::Refused(refused),
            },
        )
    }
}
