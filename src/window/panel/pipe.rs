//! The pipe of a run: family and size from the catalogue, or a bore.

use super::field::{self, Field};
use super::{Facts, rows};
use crate::catalogue::Catalogue;
use crate::edit;
use crate::layout::{Pipe, Run, RunField};
use crate::units::{self, Quantity};
use crate::window::action::Action;
use egui::{ComboBox, Ui};

/// Shows the family and the size, or the bore.
pub(super) fn show(ui: &mut Ui, facts: &Facts<'_>, run: &Run, actions: &mut Vec<Action>) {
    let catalogue = Catalogue::builtin();
    let Pipe::Bought { family, size, .. } = &run.pipe else {
        let bore = match &run.pipe {
            Pipe::Own { bore_m, .. } => *bore_m,
            Pipe::Open => {
                rows::remark(ui, "No pipe: an opening straight into the next vessel.");
                return;
            }
            Pipe::Bought { .. } => return,
        };
        let field = Field {
            words: "Bore",
            tip: "Inside diameter of the pipe",
            value: bore,
            quantity: Quantity::Bore,
        };
        let build = |to| edit::number(facts.layout, &run.id, RunField::Bore, to);
        actions.extend(field::number(ui, facts, &field, build));
        return;
    };
    let known = catalogue.family(family);
    let mut chosen: Option<(String, String)> = None;
    rows::row(
        ui,
        "Pipe",
        "Pipe family: material, standard and wall",
        |ui, _| {
            let words = known.map_or(family.as_str(), |known| known.words.as_str());
            let wide = ui.available_width().clamp(80.0, 190.0);
            let combo = ComboBox::from_id_salt("family").width(wide).truncate();
            let shown = combo.selected_text(words).show_ui(ui, |ui| {
                for other in catalogue.families() {
                    let same = other.key == *family;
                    if ui.selectable_label(same, &other.words).clicked() && !same {
                        let size = nearest(other, run_bore(facts, run));
                        chosen = size.map(|size| (other.key.clone(), size));
                    }
                }
            });
            named(&shown.response, &format!("Pipe: {words}"));
        },
    );
    rows::row(
        ui,
        "Size",
        "Nominal size; the family gives the bore",
        |ui, _| {
            let combo = ComboBox::from_id_salt("size").width(110.0);
            let shown = combo.selected_text(size).show_ui(ui, |ui| {
                for other in known.into_iter().flat_map(|known| &known.sizes) {
                    let same = other.size == *size;
                    let bore = units::write(Quantity::Bore, other.bore_m, facts.units);
                    let words = format!("{} (bore {bore})", other.size);
                    if ui.selectable_label(same, words).clicked() && !same {
                        chosen = Some((family.clone(), other.size.clone()));
                    }
                }
            });
            named(&shown.response, &format!("Size: {size}"));
        },
    );
    if let Some((family, size)) = chosen {
        actions.push(super::run::made(
            facts,
            edit::pipe(facts.layout, &run.id, &family, &size),
        ));
    }
}

/// Sets the accessible name of a drop-down list.
pub(super) fn named(response: &egui::Response, name: &str) {
    response.widget_info(|| egui::WidgetInfo::labeled(egui::accesskit::Role::ComboBox, true, name));
}

fn run_bore(facts: &Facts<'_>, run: &Run) -> f64 {
    super::run::report(facts, run).map_or(0.05, |report| report.bore_m)
}

/// Returns the size of a family with the nearest bore.
pub(super) fn nearest(family: &crate::catalogue::Family, bore_m: f64) -> Option<String> {
    let off = |size: &&crate::catalogue::Size| (size.bore_m - bore_m).abs();
    let found = family.sizes.iter().min_by(|a, b| off(a).total_cmp(&off(b)));
    found.map(|size| size.size.clone())
}

/// Sets the accessible name of a button that shows only a symbol.
pub(super) fn button(response: &egui::Response, name: &str) {
    response.widget_info(|| egui::WidgetInfo::labeled(egui::accesskit::Role::Button, true, name));
}
