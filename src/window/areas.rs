//! The areas around the drawing: properties panel, lower panel and time bar.

use super::action::Action;
use super::app::App;
use super::time;
use super::{findings, panel};
use crate::draw::section::Pick;
use egui::{Frame, Margin, Panel, Ui};

/// Largest default width of the properties panel, points.
const PART: f32 = 330.0;
/// Its default share of the window, and its limits, points.
const PART_SHARE: f32 = 0.275;
const PART_RANGE: std::ops::RangeInclusive<f32> = 260.0..=760.0;
/// Default height of the lower panel as a share of the window, and its limits, points.
const BELOW_SHARE: f32 = 0.19;
const BELOW: std::ops::RangeInclusive<f32> = 150.0..=330.0;
/// Least height of the lower panel, points, and its largest share of the window.
const BELOW_LEAST: f32 = 80.0;
const BELOW_MOST: f32 = 0.6;

impl App {
    /// The properties panel.
    pub(super) fn part_area(&mut self, ui: &mut Ui, padded: Frame) -> Vec<Action> {
        let edge = &mut self.room.part;
        let window = ui.ctx().content_rect().width();
        let wide = edge.or((PART_SHARE * window)
            .clamp(*PART_RANGE.start(), PART)
            .round());
        let panel = edge.panel(ui.ctx(), |salt| Panel::right(salt), ("part", wide));
        let shown = panel
            .frame(padded.inner_margin(Margin::same(14)))
            .size_range(PART_RANGE)
            .show(ui, |ui| {
                let selected = &self.tool_state.selected;
                panel::show(ui, &self.session, &self.watch, selected)
            });
        let wide = shown.response.rect.width();
        self.room.part.laid(ui.ctx(), wide, wide);
        shown.inner
    }

    /// Findings, tables and differences. Shrinks to one line where there is nothing to show.
    pub(super) fn below_area(&mut self, ui: &mut Ui, padded: Frame) -> Vec<Action> {
        // The drawing must not jump during a drag.
        if !self.tool_state.drags() && !self.session.previewing() {
            self.room.one_line = self.is_one_line();
        }
        if self.room.one_line {
            let line = Panel::bottom("below in one line")
                .frame(padded)
                .resizable(false);
            return line.show(ui, |ui| self.below(ui)).inner;
        }
        let window = ui.ctx().content_rect().height();
        let own = (BELOW_SHARE * window)
            .clamp(*BELOW.start(), *BELOW.end())
            .round();
        let edge = &mut self.room.below;
        let high = edge.or(own);
        let panel = edge.panel(ui.ctx(), |salt| Panel::bottom(salt), ("below", high));
        let shown = panel
            .frame(padded)
            .size_range(BELOW_LEAST..=(BELOW_MOST * window).max(BELOW_LEAST + 1.0))
            .show(ui, |ui| {
                // Otherwise the panel would shrink to the height of its last content, a single word while solving.
                ui.take_available_height();
                self.below(ui)
            });
        let high = shown.response.rect.height();
        self.room.below.laid(ui.ctx(), high, high);
        shown.inner
    }

    /// Whether the lower panel has only one line to show: no findings and no previewed cure.
    fn is_one_line(&mut self) -> bool {
        let shown = self.session.shown();
        self.tables.shown == super::table::BottomView::Findings
            && self.previewed.is_none()
            && findings::in_one_line(&shown).is_some()
    }

    /// States, operating modes and the time bar.
    pub(super) fn time_area(&mut self, ui: &mut Ui, padded: Frame) -> Vec<Action> {
        let margin = Margin::symmetric(12, 6);
        let frame = padded.inner_margin(margin);
        let seen = (&self.watch, &mut self.time);
        let vessel = self.tool_state.last().map(Pick::part);
        if !seen.1.has_curves(&self.session) {
            let line = Panel::bottom("time").frame(frame).resizable(false);
            return line
                .show(ui, |ui| time::show(ui, &self.session, seen, vessel))
                .inner;
        }
        let edge = &mut self.room.curves;
        let window = ui.ctx().content_rect().height();
        let curves = edge.or(time::height(window));
        // The rows above the curves and the separator line keep their height.
        let rest = seen.1.head + margin.sum().y + 1.0;
        let panel = edge.panel(
            ui.ctx(),
            |salt| Panel::bottom(salt),
            ("time", curves + rest),
        );
        let shown = panel
            .frame(frame)
            .size_range(rest + time::LEAST_HEIGHT..=(BELOW_MOST * window).max(rest + 200.0))
            .show(ui, |ui| time::show(ui, &self.session, seen, vessel));
        let high = shown.response.rect.height();
        self.room.curves.laid(ui.ctx(), high, high - rest);
        shown.inner
    }
}
