//! Rows for details of runs and vessels: notches, screens, siphon breaks, float valves and switches.

use super::field::{self, Field};
use super::{Facts, choice};
use crate::edit::{self, Screening};
use crate::layout::{
    Edge, EndField, Id, NotchShape, NumberField, Opening, Pump, PumpField, Run, RunEnd, RunField,
    Screen, Vessel, VesselField,
};
use crate::units::Quantity;
use crate::window::action::Action;
use egui::Ui;

/// A number of a part: its label, tooltip, field and value.
struct DetailRow<'a> {
    words: &'a str,
    tip: &'a str,
    field: NumberField,
    value: f64,
}

impl DetailRow<'_> {
    fn show(&self, ui: &mut Ui, facts: &Facts<'_>, part: (&Id, Quantity)) -> Option<Action> {
        let (id, quantity) = part;
        let field = Field {
            words: self.words,
            tip: self.tip,
            value: self.value,
            quantity,
        };
        field::number_of(ui, facts, (id, self.field), &field)
    }

    fn share(&self, ui: &mut Ui, facts: &Facts<'_>, id: &Id) -> Option<Action> {
        let build = |to| edit::number(facts.layout, id, self.field, to);
        field::percent(ui, facts, (self.words, self.tip, self.value), build)
    }
}

/// Shows the notch, the edge and the screen at one end.
pub(super) fn end(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (run, end): (&Run, RunEnd),
    actions: &mut Vec<Action>,
) {
    let drawn = run.end(end);
    let place = facts.seen.name_of(&drawn.at);
    if let Some(Opening::Notch { shape, .. }) = &drawn.opening {
        actions.extend(notch(ui, facts, (&run.id, end, place), shape));
    }
    edge(ui, facts, (run, end), actions);
    screening(ui, facts, (run, end, place), actions);
    if let Some(screen) = &drawn.screen {
        screen_rows(ui, facts, (&run.id, end, place), screen, actions);
    }
}

const SCREEN_TIP: &str = "Keeps leaves and fish out. Before the opening it costs head, more as it blinds; on the lip it leaves a share of the lip open; of a cage only the wet part counts.";

/// Shows the kind of screen; not at a joint.
fn screening(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (run, end, place): (&Run, RunEnd, &str),
    actions: &mut Vec<Action>,
) {
    let drawn = run.end(end);
    if drawn.opening.is_none() && drawn.screen.is_none() {
        return;
    }
    let stands = Screening::of(drawn.screen.as_ref());
    let options = [
        (Screening::None, "None"),
        (Screening::Before, "Before the opening"),
        (Screening::OnTheLip, "On the lip"),
        (Screening::Cage, "Cage"),
    ];
    let options = options.map(|(one, words)| (one, words.to_owned()));
    let label = format!("Screen in {place}");
    if let Some(to) = choice::choice(ui, (&label, SCREEN_TIP), &stands, &options) {
        let edit = edit::screen(facts.layout, &run.id, end, to);
        actions.push(super::run::made(facts, edit));
    }
}

fn screen_rows(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (id, end, place): (&Id, RunEnd, &str),
    screen: &Screen,
    actions: &mut Vec<Action>,
) {
    let field = |name: EndField| NumberField::End(end, name);
    let words = format!("Screen in {place}, area");
    let area = DetailRow {
        words: &words,
        tip: "Total area across the flow, bars and holes together",
        field: field(EndField::ScreenArea),
        value: screen.area_m2,
    };
    actions.extend(area.show(ui, facts, (id, Quantity::Area)));
    let shares = [
        (
            "open",
            "Open share of its area, in percent",
            EndField::ScreenOpenShare,
            screen.open_share,
        ),
        (
            "blinded",
            "Blinded share of its openings, in percent",
            EndField::ScreenBlinded,
            screen.blinded,
        ),
    ];
    for (what, tip, name, value) in shares {
        let row = DetailRow {
            words: &format!("Screen in {place} {what}"),
            tip,
            field: field(name),
            value,
        };
        actions.extend(row.share(ui, facts, id));
    }
    let heights = [
        (
            "foot",
            "Bottom of the cage, above the datum; nothing passes below it",
            EndField::ScreenFoot,
            screen.foot_m,
        ),
        (
            "height",
            "Height from its foot to its top",
            EndField::ScreenHeight,
            screen.height_m,
        ),
    ];
    for (what, tip, name, value) in heights {
        let Some(value) = value else { continue };
        let row = DetailRow {
            words: &format!("Cage in {place}, {what}"),
            tip,
            field: field(name),
            value,
        };
        actions.extend(row.show(ui, facts, (id, Quantity::Height)));
    }
}

/// Shows the edge of the mouth, where it has an effect.
fn edge(ui: &mut Ui, facts: &Facts<'_>, (run, end): (&Run, RunEnd), actions: &mut Vec<Action>) {
    let drawn = run.end(end);
    if matches!(
        drawn.opening,
        None | Some(Opening::Notch { .. } | Opening::Submerged { .. })
    ) {
        return;
    }
    let place = facts.seen.name_of(&drawn.at);
    let label = format!("Edge in {place}");
    let tip = "The edge of the mouth: sets its capacity and its entrance loss";
    let options = Edge::ALL.map(|one| (one, one.words().to_owned()));
    if let Some(to) = choice::choice(ui, (&label, tip), &drawn.edge, &options) {
        let made = edit::edge(facts.layout, &run.id, end, to);
        actions.push(super::run::made(facts, made));
    }
    let rows = [
        ("Orifice coefficient", EndField::Orifice, drawn.orifice),
        ("Entrance loss", EndField::EntranceK, drawn.entrance_k),
    ];
    for (words, name, value) in rows {
        let Some(value) = value else { continue };
        let words = format!("{words} in {place}");
        let row = DetailRow {
            words: &words,
            tip: "Overrides the value of the edge and of the layout",
            field: NumberField::End(end, name),
            value,
        };
        actions.extend(row.show(ui, facts, (&run.id, Quantity::Ratio)));
    }
}

fn notch(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (id, end, place): (&Id, RunEnd, &str),
    shape: &NotchShape,
) -> Option<Action> {
    match *shape {
        NotchShape::Rectangular { width_m, .. } => {
            let words = format!("Width of the notch in {place}");
            let row = DetailRow {
                words: &words,
                tip: "Inside width from side to side",
                field: NumberField::End(end, EndField::NotchWidth),
                value: width_m,
            };
            row.show(ui, facts, (id, Quantity::Height))
        }
        NotchShape::Vee { angle_deg } => {
            let words = format!("Angle of the notch in {place}");
            let row = DetailRow {
                words: &words,
                tip: "Angle between its sides, in degrees",
                field: NumberField::End(end, EndField::NotchAngle),
                value: angle_deg,
            };
            row.show(ui, facts, (id, Quantity::Ratio))
        }
    }
}

/// Shows the siphon break of a run.
pub(super) fn siphon_break(ui: &mut Ui, facts: &Facts<'_>, run: &Run, actions: &mut Vec<Action>) {
    let Some(given) = &run.siphon_break else {
        return;
    };
    let row = DetailRow {
        words: "Siphon break height",
        tip: "Height of the hole that lets air in, above the datum",
        field: RunField::SiphonBreakHeight.into(),
        value: given.height_m,
    };
    actions.extend(row.show(ui, facts, (&run.id, Quantity::Height)));
}

/// Shows the levels at which a float switch starts and stops a pump.
pub(super) fn float_switch(ui: &mut Ui, facts: &Facts<'_>, pump: &Pump, actions: &mut Vec<Action>) {
    let Some(switch) = &pump.float else { return };
    let rows = [
        ("Starts at", PumpField::FloatOn, switch.on_m),
        ("Stops at", PumpField::FloatOff, switch.off_m),
    ];
    for (words, name, value) in rows {
        let row = DetailRow {
            words,
            tip: "Level in the vessel of its float switch, above the datum",
            field: name.into(),
            value,
        };
        actions.extend(row.show(ui, facts, (&pump.id, Quantity::Height)));
    }
}

/// Shows the float valve of a vessel.
pub(super) fn float_valve(
    ui: &mut Ui,
    facts: &Facts<'_>,
    part: &Vessel,
    actions: &mut Vec<Action>,
) {
    let Some(valve) = &part.float_valve else {
        return;
    };
    let (height, flow) = (Quantity::Height, Quantity::Flow);
    let rows = [
        (
            "Float valve shuts at",
            VesselField::FloatValveShut,
            valve.shut_m,
            height,
        ),
        (
            "Float valve fully open at",
            VesselField::FloatValveOpen,
            valve.open_m,
            height,
        ),
        (
            "Float valve flow",
            VesselField::FloatValveFlow,
            valve.flow_m3_s,
            flow,
        ),
    ];
    for (words, name, value, quantity) in rows {
        let row = DetailRow {
            words,
            tip: "Full flow below the level at which it is fully open; no flow above the level at which it shuts",
            field: name.into(),
            value,
        };
        actions.extend(row.show(ui, facts, (&part.id, quantity)));
    }
}
