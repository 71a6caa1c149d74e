//! Drinking-water supplies, and the heights of their mouths.

use super::field::{self, Field};
use super::{Facts, details};
use crate::edit::{self, Part};
use crate::finding::Sentence;
use crate::layout::{Fixed, FloatValve, Id, Joint, Vessel, VesselField};
use crate::units::Quantity;
use crate::window::action::Action;
use egui::Ui;

const TIP: &str = "Fed from a drinking-water supply, which must be protected from backflow";

/// Initial height of a mouth above the rim, metres; a choice, above the usual air gap of a small hose.
const FIRST_OVER_RIM_M: f64 = 0.05;

/// Initial flow of a fully open float valve, m³/s: 6 L a minute, as a small valve on a hose (common practice, no
/// source).
const FIRST_FLOW_M3_S: f64 = 1e-4;
/// Initial range from fully open to shut, metres (common practice, no source).
const FIRST_BAND_M: f64 = 0.05;

/// Shows a checkbox for a float valve: a new one shuts at the fill level, and its mouth is above the rim.
fn float_valve(ui: &mut Ui, facts: &Facts<'_>, part: &Vessel, actions: &mut Vec<Action>) {
    let mut ticked = part.float_valve.is_some();
    let tip = "A valve that lets in make-up water while the level is low";
    let tick = ui.checkbox(&mut ticked, "Float valve");
    if !tick.on_hover_text(tip).changed() {
        return;
    }
    // Drinking water is the safe assumption until the user says otherwise.
    let new = FloatValve {
        shut_m: part.fill_m.clamp(
            part.floor_m + 2.0 * FIRST_BAND_M,
            part.rim_m.max(part.floor_m + 2.0 * FIRST_BAND_M),
        ),
        open_m: 0.0,
        flow_m3_s: FIRST_FLOW_M3_S,
        outlet_m: Some(part.rim_m + FIRST_OVER_RIM_M),
        drinking_water: true,
    };
    let float_valve = ticked.then_some(FloatValve {
        open_m: new.shut_m - FIRST_BAND_M,
        ..new
    });
    let after = Vessel {
        float_valve,
        ..part.clone()
    };
    actions.push(made(facts, "Change the float valve of ", after));
}

/// Shows the float valve and the constant make-up flow of a vessel.
pub(super) fn vessel(ui: &mut Ui, facts: &Facts<'_>, part: &Vessel, actions: &mut Vec<Action>) {
    float_valve(ui, facts, part, actions);
    details::float_valve(ui, facts, part, actions);
    if let Some(valve) = part.float_valve {
        let words = "Float valve: drinking water";
        actions.extend(tick(ui, facts, (words, valve.drinking_water), |to| {
            let drinking_water = to;
            Vessel {
                float_valve: Some(FloatValve {
                    drinking_water,
                    ..valve
                }),
                ..part.clone()
            }
        }));
        let words = ["Mouth height known", "Float valve mouth height"];
        let mouth = (words, VesselField::FloatValveOutlet, valve.outlet_m);
        actions.extend(outlet(ui, facts, part, mouth, |outlet_m| Vessel {
            float_valve: Some(FloatValve { outlet_m, ..valve }),
            ..part.clone()
        }));
    }
    let field = Field {
        words: "Make-up",
        tip: "Constant inflow from outside; 0 for none",
        value: part.make_up_m3_s,
        quantity: Quantity::Flow,
    };
    actions.extend(field::number_of(
        ui,
        facts,
        (&part.id, VesselField::MakeUp.into()),
        &field,
    ));
    if part.make_up_m3_s > 0.0 {
        let words = "Make-up: drinking water";
        actions.extend(tick(
            ui,
            facts,
            (words, part.make_up_drinking_water),
            |to| Vessel {
                make_up_drinking_water: to,
                ..part.clone()
            },
        ));
        let words = ["Make-up mouth height known", "Make-up mouth height"];
        let mouth = (words, VesselField::MakeUpOutlet, part.make_up_outlet_m);
        actions.extend(outlet(ui, facts, part, mouth, |make_up_outlet_m| Vessel {
            make_up_outlet_m,
            ..part.clone()
        }));
    }
}

/// Shows whether the make-up flow of a joint is drinking water.
pub(super) fn joint(ui: &mut Ui, facts: &Facts<'_>, part: &Joint, actions: &mut Vec<Action>) {
    if part.make_up_m3_s > 0.0 {
        let stands = ("Make-up: drinking water", part.make_up_drinking_water);
        actions.extend(tick(ui, facts, stands, |make_up_drinking_water| Joint {
            make_up_drinking_water,
            ..part.clone()
        }));
    }
}

/// Shows whether a fixed level is drinking water.
pub(super) fn fixed(ui: &mut Ui, facts: &Facts<'_>, part: &Fixed, actions: &mut Vec<Action>) {
    let stands = ("Drinking water", part.drinking_water);
    actions.extend(tick(ui, facts, stands, |drinking_water| Fixed {
        drinking_water,
        ..part.clone()
    }));
}

fn tick<T: Into<Part>>(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (words, stands): (&str, bool),
    after: impl FnOnce(bool) -> T,
) -> Option<Action> {
    let mut ticked = stands;
    let changed = ui.checkbox(&mut ticked, words).on_hover_text(TIP).changed();
    changed.then(|| made(facts, "Change the kind of water of ", after(ticked)))
}

/// Shows a checkbox for a known mouth height, and that height.
fn outlet(
    ui: &mut Ui,
    facts: &Facts<'_>,
    part: &Vessel,
    ([known, at], name, outlet_m): ([&str; 2], VesselField, Option<f64>),
    after: impl FnOnce(Option<f64>) -> Vessel,
) -> Option<Action> {
    let mut ticked = outlet_m.is_some();
    let tip = "Lowest point of the mouth that this water comes out of";
    if ui.checkbox(&mut ticked, known).on_hover_text(tip).changed() {
        let first = ticked.then_some(part.rim_m + FIRST_OVER_RIM_M);
        return Some(made(facts, "Change the water inlet of ", after(first)));
    }
    let field = Field {
        words: at,
        tip: "Lowest point of the mouth, above the datum",
        value: outlet_m?,
        quantity: Quantity::Height,
    };
    field::number_of(ui, facts, (&part.id, name.into()), &field)
}

fn made(facts: &Facts<'_>, words: &str, after: impl Into<Part>) -> Action {
    let after = after.into();
    let id: Id = after.id().clone();
    let name = Sentence(vec![words.into(), (&id).into()]);
    super::run::made(facts, edit::replace(facts.layout, after, name))
}
