//! Sizes of the areas of the window, by default or as dragged. Dragged sizes are stored between starts.

use crate::session::Session;
use egui::{Context, Panel};

/// The size of an area with a movable edge.
#[derive(Default)]
pub struct PanelSize {
    /// The dragged size, if any.
    by_hand: Option<f32>,
    /// The size last given to the toolkit, and how often that has changed.
    given: f32,
    turn: u32,
    /// The size last laid out, and whether it is being dragged.
    last: f32,
    pulled: bool,
}

/// Sizes of all areas.
#[derive(Default)]
pub struct PanelSizes {
    /// Width of the properties panel, points.
    pub part: PanelSize,
    /// Height of the lower panel.
    pub below: PanelSize,
    /// Height of the curves in the time bar.
    pub curves: PanelSize,
    /// Share of the width for the section beside the plan.
    pub section: PanelSize,
    /// Whether the lower panel is one line, because there is nothing more to show.
    pub one_line: bool,
    /// Whether the stored sizes have been read.
    known: bool,
    kept: Vec<(&'static str, f32)>,
}

impl PanelSize {
    /// Returns the dragged size, else this one.
    pub fn or(&self, own: f32) -> f32 {
        self.by_hand.unwrap_or(own)
    }

    /// Returns a panel of this default size. The toolkit stores sizes by name, so a panel with another size gets
    /// another name.
    pub fn panel(
        &mut self,
        ctx: &Context,
        make: fn((&str, u32)) -> Panel,
        of: (&str, f32),
    ) -> Panel {
        let (name, size) = of;
        let held = ctx.input(|input| input.pointer.any_down());
        if (size - self.given).abs() > 0.5 && !held {
            self.given = size;
            self.turn += 1;
        }
        make((name, self.turn))
            .resizable(true)
            .default_size(self.given)
    }

    /// Takes in the size that was laid out: a change while a button is down is a drag. `own`: the value to store.
    pub fn laid(&mut self, ctx: &Context, size: f32, own: f32) {
        let held = ctx.input(|input| input.pointer.any_down());
        self.pulled |= held && self.last > 0.0 && (size - self.last).abs() > 0.5;
        self.last = size;
        if self.pulled {
            self.by_hand = Some(own);
            self.given = size;
        }
        self.pulled &= held;
    }
}

impl PanelSizes {
    /// Reads the stored sizes once, and stores changes.
    pub fn remember(&mut self, ctx: &Context, session: &Session) {
        if !self.known {
            self.known = true;
            for (name, size) in session.kept_sizes() {
                if let Some(edge) = self.named(&name).filter(|_| size > 0.0) {
                    edge.by_hand = Some(size);
                }
            }
            self.kept = self.sizes();
        }
        let held = ctx.input(|input| input.pointer.any_down());
        let sizes = self.sizes();
        if !held && sizes != self.kept {
            session.keep_sizes(&sizes);
            self.kept = sizes;
        }
    }

    fn named(&mut self, name: &str) -> Option<&mut PanelSize> {
        match name {
            "panel" => Some(&mut self.part),
            "below" => Some(&mut self.below),
            "curves" => Some(&mut self.curves),
            "section" => Some(&mut self.section),
            _ => None,
        }
    }

    fn sizes(&self) -> Vec<(&'static str, f32)> {
        let all = [
            ("panel", &self.part),
            ("below", &self.below),
            ("curves", &self.curves),
            ("section", &self.section),
        ];
        let dragged = all.into_iter();
        dragged
            .filter_map(|(name, edge)| Some((name, edge.by_hand?)))
            .collect()
    }
}
