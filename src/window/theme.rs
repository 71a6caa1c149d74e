//! Fonts, sizes and colours of the window. Colours are shared with the drawings.

use crate::draw::page::shape::{Ink, Weight};
use crate::draw::page::text::font;
use crate::draw::page::theme::{Colour, Theme, colour};
use egui::{
    Color32, CornerRadius, FontData, FontDefinitions, FontFamily, FontId, Stroke, TextStyle,
};
use std::sync::Arc;

/// The bold font family.
const STRONG: &str = "strong";

/// Body text, points.
pub const BODY: f32 = 13.5;
/// Headings, points.
pub const HEADING: f32 = 15.0;
/// Small text, points.
pub const SMALL: f32 = 11.5;

/// Sets fonts, sizes and colours, light and dark.
pub fn install(ctx: &egui::Context) {
    ctx.set_fonts(fonts());
    // Where the system has no preference, the theme is light.
    ctx.options_mut(|options| options.fallback_theme = egui::Theme::Light);
    ctx.all_styles_mut(|style| {
        style.text_styles = [
            (TextStyle::Small, FontId::proportional(SMALL)),
            (TextStyle::Body, FontId::proportional(BODY)),
            (TextStyle::Button, FontId::proportional(BODY)),
            (TextStyle::Monospace, FontId::proportional(BODY)),
            (TextStyle::Heading, strong(HEADING)),
        ]
        .into();
        style.spacing.item_spacing = egui::vec2(8.0, 6.0);
        style.spacing.button_padding = egui::vec2(10.0, 5.0);
        style.spacing.interact_size.y = 26.0;
        style.spacing.window_margin = egui::Margin::same(16);
        style.spacing.menu_margin = egui::Margin::same(6);
        style.spacing.tooltip_width = 360.0;
        style.spacing.scroll = egui::style::ScrollStyle::solid();
        style.interaction.selectable_labels = false;
        style.animation_time = 0.0;
    });
    for theme in [egui::Theme::Light, egui::Theme::Dark] {
        ctx.set_visuals_of(theme, visuals(theme));
    }
}

fn fonts() -> FontDefinitions {
    let mut fonts = FontDefinitions::empty();
    for (name, weight) in [("regular", Weight::Regular), (STRONG, Weight::Strong)] {
        let data = Arc::new(FontData::from_static(font(weight)));
        fonts.font_data.insert(name.to_owned(), data);
    }
    let chain = |first: &str| vec![first.to_owned()];
    fonts
        .families
        .insert(FontFamily::Proportional, chain("regular"));
    fonts
        .families
        .insert(FontFamily::Monospace, chain("regular"));
    fonts
        .families
        .insert(FontFamily::Name(STRONG.into()), chain(STRONG));
    fonts
}

/// The bold font in this size.
pub fn strong(size: f32) -> FontId {
    FontId::new(size, FontFamily::Name(STRONG.into()))
}

/// The theme of drawings that matches that of the window.
pub fn of(ui: &egui::Ui) -> Theme {
    if ui.visuals().dark_mode {
        Theme::Dark
    } else {
        Theme::Light
    }
}

/// The colour of an ink in the current theme.
pub fn ink(ui: &egui::Ui, ink: Ink) -> Color32 {
    color(of(ui), ink)
}

/// The colour of an ink in a theme.
pub fn color(theme: Theme, ink: Ink) -> Color32 {
    let Colour(red, green, blue) = colour(theme, ink);
    Color32::from_rgb(red, green, blue)
}

fn visuals(theme: egui::Theme) -> egui::Visuals {
    let (mut visuals, ours) = match theme {
        egui::Theme::Dark => (egui::Visuals::dark(), Theme::Dark),
        egui::Theme::Light => (egui::Visuals::light(), Theme::Light),
    };
    let is = |ink| color(ours, ink);
    let (panel, field, rest, hover, press) = match ours {
        Theme::Dark => (0x15_181b, 0x1f_2429, 0x2b_3137, 0x37_3f47, 0x43_4c55),
        _ => (0xf4_f3f0, 0xff_ffff, 0xe9_e7e2, 0xde_dbd4, 0xd2_cec5),
    };
    let [panel, field, rest, hover, press] = [panel, field, rest, hover, press].map(rgb);
    visuals.panel_fill = panel;
    visuals.window_fill = is(Ink::Card);
    visuals.extreme_bg_color = field;
    visuals.text_edit_bg_color = Some(field);
    visuals.faint_bg_color = rest;
    visuals.weak_text_color = Some(is(Ink::SoftText));
    visuals.window_stroke = Stroke::new(1.0, is(Ink::FaintLine));
    visuals.window_corner_radius = CornerRadius::same(8);
    visuals.menu_corner_radius = CornerRadius::same(6);
    visuals.selection.bg_fill = is(Ink::Accent).gamma_multiply(0.28);
    visuals.selection.stroke = Stroke::new(1.5, is(Ink::Accent));
    visuals.hyperlink_color = is(Ink::Accent);
    visuals.error_fg_color = is(Ink::Problem);
    visuals.warn_fg_color = is(Ink::Warning);
    visuals.disabled_alpha = 0.45;
    let text = is(Ink::Text);
    let line = is(Ink::FaintLine);
    let shape = |widget: &mut egui::style::WidgetVisuals, fill: Color32, edge: Stroke| {
        widget.bg_fill = fill;
        widget.weak_bg_fill = fill;
        widget.bg_stroke = edge;
        widget.fg_stroke = Stroke::new(1.2, text);
        widget.corner_radius = CornerRadius::same(5);
        widget.expansion = 0.0;
    };
    let widgets = &mut visuals.widgets;
    shape(&mut widgets.noninteractive, panel, Stroke::new(1.0, line));
    shape(
        &mut widgets.inactive,
        rest,
        Stroke::new(1.0, Color32::TRANSPARENT),
    );
    shape(&mut widgets.hovered, hover, Stroke::new(1.0, line));
    shape(
        &mut widgets.active,
        press,
        Stroke::new(1.0, is(Ink::Accent)),
    );
    shape(&mut widgets.open, hover, Stroke::new(1.0, line));
    visuals
}

fn rgb(hex: u32) -> Color32 {
    let [_, red, green, blue] = hex.to_be_bytes();
    Color32::from_rgb(red, green, blue)
}

/// The frame of a dialog.
pub(super) fn dialog(ctx: &egui::Context) -> egui::Frame {
    egui::Frame::popup(&ctx.global_style()).inner_margin(16.0)
}
