//! A label in the queue of a drawing.

use super::labels::LabelRequest;
use crate::draw::page::shape::Rect;
use crate::layout::Id;

/// A label that waits to be placed.
pub(in crate::draw) struct QueuedLabel {
    /// Requests in the order in which they are tried.
    pub requests: Vec<LabelRequest>,
    pub part: Option<Id>,
    pub strength: f64,
    pub carded: bool,
    /// Subject of the label, and the distance from which a leader is drawn to it, points.
    pub about: Option<(Rect, f64)>,
    /// Whether it is shown wherever there is any room, unless the page is crowded.
    pub sure: bool,
    /// Whether it is left out rather than placed far away without a leader, where it would seem to belong to something
    /// else.
    pub led: bool,
}

impl QueuedLabel {
    pub fn rank(&self) -> i32 {
        self.requests.first().map_or(0, |request| request.rank)
    }
}
