//! The properties panel: properties of the selection, with its results.

mod along;
mod built;
mod choice;
mod corner;
mod crest;
mod details;
mod drinking;
mod field;
mod fixed;
mod form;
mod inside;
mod joint;
mod kind;
mod many;
mod overview;
mod pipe;
mod pump;
mod rows;
mod run;
mod said;
mod vent;
mod vessel;

use super::action::Action;
use super::time::TimeView;
use crate::draw::section::{Pick, Trust};
use crate::edit::EditError;
use crate::layout::Layout;
use crate::session::{Band, Freshness, Guess, Session, SystemCurve};
use crate::state::State;
use crate::states::report::StateReport;
use crate::units::UnitSystem;
use egui::{ScrollArea, Ui};
pub(super) use field::type_number;
pub(super) use said::said_of;

/// Inputs of the panel.
#[derive(Clone, Copy)]
pub(super) struct Facts<'a> {
    /// The committed layout: edits are built from it.
    pub layout: &'a Layout,
    /// The displayed layout, with its preview.
    pub seen: &'a Layout,
    /// The displayed report.
    pub water: Option<&'a StateReport>,
    /// Whether the report is up to date.
    pub trust: Trust,
    /// The units to display.
    pub units: UnitSystem,
    /// The set-height band of the selected crest; none: not computed.
    pub band: Option<&'a Band>,
    /// The duty at both edges of a guessed pump curve; none: not computed.
    pub guess: Option<&'a Guess>,
    /// The system curve of the pump that is shown; none: not computed.
    pub system: Option<(&'a SystemCurve, Freshness)>,
}

impl Facts<'_> {
    /// The reason why an edit was refused, for the user.
    fn refusal(&self, refused: &EditError) -> String {
        let name = |id: &crate::layout::Id| self.layout.name_of(id).to_owned();
        refused.read(&name, self.units)
    }
}

/// Shows the properties panel.
pub fn show(ui: &mut Ui, session: &Session, watch: &TimeView, selected: &[Pick]) -> Vec<Action> {
    let shown = &session.shown();
    let (water, trust) = watch.water(shown);
    let state = watch.state;
    let facts = Facts {
        layout: session.layout(),
        seen: shown.layout,
        water,
        trust,
        units: shown.layout.units,
        band: session.band(),
        guess: session.guess(),
        system: watch.system(session),
    };
    let mut actions = Vec::new();
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.set_max_width(ui.available_width());
        // The id keeps the unfinished text of a field from being used for the next selection.
        ui.push_id(selected, |ui| match selected {
            [] => overview::show(ui, &facts, state, &mut actions),
            [Pick::Crest { run, end }] => crest::show(ui, &facts, (run, *end), &mut actions),
            [Pick::Corner { run, index }] => corner::show(ui, &facts, (run, *index), &mut actions),
            [pick] => part(ui, &facts, (pick.part(), state), &mut actions),
            [.., last] => match parts(selected) {
                parts if parts.len() > 1 => many::show(ui, &facts, &parts, &mut actions),
                _ => part(ui, &facts, (last.part(), state), &mut actions),
            },
        });
    });
    actions
}

/// The parts in the selection, without crests and other targets.
fn parts(selected: &[Pick]) -> Vec<crate::layout::Id> {
    let whole = selected.iter().filter_map(|pick| match pick {
        Pick::Part(id) => Some(id.clone()),
        _ => None,
    });
    whole.collect()
}

fn part(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (id, state): (&crate::layout::Id, State),
    actions: &mut Vec<Action>,
) {
    let layout = facts.seen;
    if let Some(part) = layout.vessel(id) {
        vessel::show(ui, facts, part, actions);
    } else if let Some(part) = layout.run(id) {
        run::show(ui, facts, part, actions);
    } else if let Some(part) = layout.joints.iter().find(|part| part.id == *id) {
        joint::show(ui, facts, part, actions);
    } else if let Some(part) = layout.fixed.iter().find(|part| part.id == *id) {
        fixed::show(ui, facts, part, actions);
    } else if let Some(run) = layout.run_of_pump(id) {
        pump::show(ui, facts, run, actions);
    } else {
        overview::show(ui, facts, state, actions);
    }
}
