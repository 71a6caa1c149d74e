//! Beside the drawing: the inputs of what is selected, and the numbers it answers with.

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
use crate::finding::State;
use crate::layout::Layout;
use crate::session::{Band, Freshness, Guess, Session, SystemCurve};
use crate::states::report::StateReport;
use crate::units::UnitSystem;
use egui::{ScrollArea, Ui};
pub(super) use field::type_number;
pub(super) use said::said_of;

/// What a panel is filled from.
#[derive(Clone, Copy)]
pub(super) struct Facts<'a> {
    /// The layout as it is: edits are built from it.
    pub layout: &'a Layout,
    /// The layout as it is shown, with its preview.
    pub seen: &'a Layout,
    /// Where the water stands in it.
    pub water: Option<&'a StateReport>,
    /// How far that can be trusted.
    pub trust: Trust,
    /// Its units.
    pub units: UnitSystem,
    /// How high the crest that is selected may be set; none: not known.
    pub band: Option<&'a Band>,
    /// What a pump whose curve is a guess does at its edges; none: not known.
    pub guess: Option<&'a Guess>,
    /// What the network of the pump that is looked at takes; none: not known.
    pub system: Option<(&'a SystemCurve, Freshness)>,
}

impl Facts<'_> {
    /// Why an edit is refused, for the reader.
    fn refusal(&self, refused: &EditError) -> String {
        let name = |id: &crate::layout::Id| self.layout.name_of(id).to_owned();
        refused.read(&name, self.units)
    }
}

/// The panel of what is selected.
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
    let mut wants = Vec::new();
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.set_max_width(ui.available_width());
        // A field half typed belongs to one part and never to the next that is selected.
        ui.push_id(selected, |ui| match selected {
            [] => overview::show(ui, &facts, state, &mut wants),
            [Pick::Crest { run, end }] => crest::show(ui, &facts, (run, *end), &mut wants),
            [Pick::Corner { run, index }] => corner::show(ui, &facts, (run, *index), &mut wants),
            [pick] => part(ui, &facts, (pick.part(), state), &mut wants),
            [.., last] => match parts(selected) {
                parts if parts.len() > 1 => many::show(ui, &facts, &parts, &mut wants),
                _ => part(ui, &facts, (last.part(), state), &mut wants),
            },
        });
    });
    wants
}

/// Whole parts among what is selected.
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
    wants: &mut Vec<Action>,
) {
    let layout = facts.seen;
    if let Some(part) = layout.vessel(id) {
        vessel::show(ui, facts, part, wants);
    } else if let Some(part) = layout.run(id) {
        run::show(ui, facts, part, wants);
    } else if let Some(part) = layout.joints.iter().find(|part| part.id == *id) {
        joint::show(ui, facts, part, wants);
    } else if let Some(part) = layout.fixed.iter().find(|part| part.id == *id) {
        fixed::show(ui, facts, part, wants);
    } else if let Some(run) = layout.run_of_pump(id) {
        pump::show(ui, facts, run, wants);
    } else {
        overview::show(ui, facts, state, wants);
    }
}
