//! Reports a level with too little freeboard.

use super::blame::blame;
use super::spills::because;
use super::state_view::StateView;
use super::state_view::under;
use super::wording::{finding, height, when, with_limit};
use crate::finding::{Code, Finding, Severity};
use crate::units::Quantity;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let limit_m = seen.layout.limits.freeboard_m;
    let mut found = Vec::new();
    for held in seen
        .vessels
        .iter()
        .filter(|held| held.can_spill() && !seen.floods(held))
    {
        let free_m = held.top_m().map(|top_m| held.here.rim_m - top_m);
        let Some(free_m) = free_m.filter(|free_m| under(*free_m, limit_m)) else {
            continue;
        };
        let id = &held.drawn.id;
        let mut about = vec![id];
        let mut text = vec![
            "The level of ".into(),
            id.into(),
            held.stands().into(),
            height(free_m.max(0.0)),
            " below the rim".into(),
            when(seen.report.state).into(),
        ];
        let why = blame(seen.layout, seen.report, id, limit_m - free_m);
        if seen.is_running() {
            text.extend(because(seen, id, &why));
            about.extend(why.about());
        }
        text.extend(["; the layout asks for ".into(), height(limit_m), ".".into()]);
        let kind = (Code::LittleFreeboard, Severity::Warning);
        let one = finding(seen, kind, &about, text);
        found.push(with_limit(one, Quantity::Height, (free_m, limit_m)));
    }
    found
}
