//! The duty plot: small in the panel of a pump, large in its own window.

use super::action::Action;
use super::app::App;
use super::{paint, shot, theme};
use crate::draw::duty::{DutyScene, Lifts, duty};
use crate::draw::page::shape::Drawing;
use crate::draw::section::{Pick, Trust};
use crate::evaluate::SystemCurve;
use crate::layout::{Id, Layout, Pump};
use crate::session::Freshness;
use crate::states::report::{PumpReport, StateReport};
use crate::units::{self, Quantity, UnitSystem};
use egui::accesskit::Role;
use egui::{Response, Sense, Ui, Vec2, vec2};

/// Default and least size of the large plot, points.
const LARGE: Vec2 = vec2(760.0, 500.0);
const LEAST: Vec2 = vec2(420.0, 300.0);
/// Its default position, over the drawing.
const WINDOW_POSITION: egui::Pos2 = egui::pos2(220.0, 90.0);
/// Ratio of height to width of the small plot.
const SMALL: f32 = 0.78;

/// Data of a plotted pump.
#[derive(Clone, Copy)]
pub(super) struct PumpPlot<'a> {
    pub layout: &'a Layout,
    pub pump: &'a Pump,
    pub water: Option<&'a StateReport>,
    pub trust: Trust,
    pub system: Option<(&'a SystemCurve, Freshness)>,
    pub units: UnitSystem,
}

impl PumpPlot<'_> {
    fn report(&self) -> Option<&PumpReport> {
        let pumps = self.water.map(|water| &water.real().pumps);
        let mut pumps = pumps.into_iter().flatten();
        pumps.find(|one| one.id == self.pump.id)
    }

    /// Shows the plot in this size.
    fn show(&self, ui: &mut Ui, size: Vec2) -> Response {
        let (rect, response) = ui.allocate_exact_size(size, Sense::CLICK);
        let drawing = self.drawing(size);
        let painter = ui.painter_at(rect);
        let theme = theme::of(ui);
        painter.rect_filled(
            rect,
            4.0,
            theme::color(theme, crate::draw::page::shape::Ink::Page),
        );
        paint::marks(&painter, rect.min, &drawing.marks, theme);
        let told = self.caption(self.layout.name_of(&self.pump.id));
        response.widget_info(|| egui::WidgetInfo::labeled(Role::Image, true, &told));
        response
    }

    fn drawing(&self, size: Vec2) -> Drawing {
        duty(&DutyScene {
            pump: self.pump,
            name: self.layout.name_of(&self.pump.id),
            report: self.report(),
            trust: self.trust,
            system: self.system.map(|(system, _)| system),
            system_trust: match self.system {
                Some((_, Freshness::Stale)) => Trust::OutOfDate,
                _ => Trust::Sure,
            },
            units: self.units,
            page: (f64::from(size.x), f64::from(size.y)),
        })
    }

    /// A description of the plot for screen readers.
    fn caption(&self, name: &str) -> String {
        let head = |value_m: f64| units::write(Quantity::Head, value_m, self.units);
        let mut told = format!("Duty plot of {name}");
        if let Some(report) = self.report().filter(|report| report.on) {
            let flow = units::write(Quantity::Flow, report.flow_m3_s, self.units);
            told.push_str(&format!(": {flow} at {}", head(report.head_m)));
        }
        let system = self.system.map(|(system, _)| system);
        if let Some(lifts) = Lifts::of(self.report(), system) {
            told.push_str(&format!(", {}", lifts.lifts(self.units)));
        }
        told
    }
}

/// Shows the small plot, as wide as there is room; returns whether the large one is requested.
pub(super) fn small(ui: &mut Ui, plotted: &PumpPlot<'_>, actions: &mut Vec<Action>) -> bool {
    let width = ui.available_width();
    let size = vec2(width, (width * SMALL).round());
    let response = plotted.show(ui, size);
    shot::menu(&response, ("duty", || plotted.drawing(size)), actions);
    let tip = "Head of the pump (thick) and of its system: clean (thin), dirty (dashed). Double-click to enlarge";
    let twice = response.on_hover_text(tip).double_clicked();
    ui.button("Larger plot")
        .on_hover_text("Opens the plot in its own window")
        .clicked()
        || twice
}

impl App {
    /// Chooses the pump whose system curve is computed: the selected one, else that of the large plot.
    pub(super) fn mind_duty(&mut self) {
        let layout = self.session.shown().layout.clone();
        if self
            .plot
            .as_ref()
            .is_some_and(|pump| layout.run_of_pump(pump).is_none())
        {
            self.plot = None;
        }
        let selected = match self.tool_state.selected.as_slice() {
            [Pick::Part(id)] => Some(id)
                .filter(|id| layout.run_of_pump(id).is_some())
                .cloned(),
            _ => None,
        };
        let pump = selected.or_else(|| self.plot.clone());
        self.session.look_at_system(pump.as_ref());
    }

    /// Shows the large plot, while it is open.
    pub(super) fn duty_window(&mut self, ctx: &egui::Context) -> Vec<Action> {
        let mut actions = Vec::new();
        let Some(id) = self.plot.clone() else {
            return actions;
        };
        let shown = self.session.shown();
        let Some(pump) = shown
            .layout
            .run_of_pump(&id)
            .and_then(|run| run.pump.as_ref())
        else {
            return actions;
        };
        let (water, trust) = self.watch.water(&shown);
        let looked_at = self.looked_at_system(&id);
        let plotted = PumpPlot {
            layout: shown.layout,
            pump,
            water,
            trust,
            system: looked_at,
            units: shown.layout.units,
        };
        let mut open = true;
        egui::Window::new(format!("Duty of {}", shown.layout.name_of(&id)))
            .id(egui::Id::unique("duty"))
            .open(&mut open)
            .default_pos(WINDOW_POSITION)
            .default_size(LARGE)
            .min_size(LEAST)
            .collapsible(false)
            .show(ctx, |ui| {
                let row = vec2(
                    0.0,
                    ui.spacing().interact_size.y + ui.spacing().item_spacing.y,
                );
                let room = (ui.available_size() - row).max(LEAST);
                plotted.show(ui, room);
                ui.horizontal(|ui| {
                    shot::buttons(ui, ("duty", || plotted.drawing(room)), &mut actions);
                });
            });
        if !open {
            self.plot = None;
        }
        actions
    }

    /// The system curve of this pump; none while that of another one is computed.
    fn looked_at_system(&self, pump: &Id) -> Option<(&SystemCurve, Freshness)> {
        let other = match self.tool_state.selected.as_slice() {
            [Pick::Part(id)] => id != pump && self.session.layout().run_of_pump(id).is_some(),
            _ => false,
        };
        self.watch.system(&self.session).filter(|_| !other)
    }
}
