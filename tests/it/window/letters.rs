//! Tests that text is as wide in the window as the drawings assume.

use egui::FontId;
use fallwright::draw::page::shape::Weight;
use fallwright::draw::page::text::width;
use fallwright::window::install;

#[test]
fn words_are_as_wide_in_the_window_as_the_drawings_take_them_for() {
    let samples = [
        "Cress bed 2",
        "spills, 29 mm over the rim",
        "1177 mm",
        "4 ft 1 1/2 in",
        "12.5 m³/h at 4.95 m",
        "Überlauf Nr. 3",
    ];
    let mut harness = egui_kittest::Harness::builder()
        .with_context_setup(install)
        .build_ui(|ui| {
            for words in samples {
                for (weight, family) in [
                    (Weight::Regular, egui::FontFamily::Proportional),
                    (Weight::Strong, egui::FontFamily::Name("strong".into())),
                ] {
                    let font = FontId::new(12.0, family);
                    let galley =
                        ui.painter()
                            .layout_no_wrap(words.to_owned(), font, egui::Color32::BLACK);
                    let (here, there) = (f64::from(galley.size().x), width(words, 12.0, weight));
                    let off = (here - there).abs() / there;
                    assert!(
                        off < 0.03,
                        "{words}: {here} in the window, {there} in the drawing"
                    );
                }
            }
        });
    harness.run();
}
