//! Fast look-up of the names of parts: a layout may have hundreds of thousands.

use crate::layout::{Id, Layout};
use std::collections::HashMap;

/// The names of the parts of one layout.
pub struct Names<'a>(HashMap<&'a Id, &'a str>);

impl<'a> Names<'a> {
    /// Collects the names of vessels, joints, fixed levels, runs, pumps and operating modes.
    pub fn new(layout: &'a Layout) -> Self {
        let vessels = layout.vessels.iter().map(|part| (&part.id, &part.name));
        let joints = layout.joints.iter().map(|part| (&part.id, &part.name));
        let fixed = layout.fixed.iter().map(|part| (&part.id, &part.name));
        let runs = layout.runs.iter().map(|part| (&part.id, &part.name));
        let pumps = layout.runs.iter().filter_map(|run| run.pump.as_ref());
        let pumps = pumps.map(|part| (&part.id, &part.name));
        let ways = layout.ways.iter().map(|part| (&part.id, &part.name));
        let parts = vessels.chain(joints).chain(fixed).chain(runs).chain(pumps);
        let all = parts.chain(ways);
        Names(
            all.filter(|(_, name)| !name.trim().is_empty())
                .map(|(id, name)| (id, name.as_str()))
                .collect(),
        )
    }

    /// Returns the name of the part with this id; the id itself where it has none.
    pub fn of<'b>(&'b self, id: &'b Id) -> &'b str {
        self.0.get(id).copied().unwrap_or(id.as_str())
    }
}
