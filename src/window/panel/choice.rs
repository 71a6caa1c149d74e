//! A row with a drop-down list.

use super::rows;
use egui::{ComboBox, Ui};

/// Shows a row with a list; returns the choice if it is not the present value.
pub fn choice<T: PartialEq + Clone>(
    ui: &mut Ui,
    (label, tip): (&str, &str),
    stands: &T,
    options: &[(T, String)],
) -> Option<T> {
    choice_of(ui, (label, tip, label), stands, options)
}

/// As [`choice`], where the label alone is ambiguous; `name` is for screen readers.
pub fn choice_of<T: PartialEq + Clone>(
    ui: &mut Ui,
    (label, tip, name): (&str, &str, &str),
    stands: &T,
    options: &[(T, String)],
) -> Option<T> {
    let words = options.iter().find(|(one, _)| one == stands);
    let words = words.map_or("–", |(_, words)| words.as_str());
    let mut chosen = None;
    rows::row(ui, label, tip, |ui, _| {
        let wide = ui.available_width().clamp(80.0, 190.0);
        let combo = ComboBox::from_id_salt(("choice", label))
            .width(wide)
            .truncate();
        let shown = combo.selected_text(words).show_ui(ui, |ui| {
            for (one, words) in options {
                if ui.selectable_label(one == stands, words).clicked() && one != stands {
                    chosen = Some(one.clone());
                }
            }
        });
        let name = format!("{name}: {words}");
        super::pipe::named(&shown.response, &name);
    });
    chosen
}
