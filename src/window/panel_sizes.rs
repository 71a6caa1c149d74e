//! How much room each area of the window has: by itself, or as somebody dragged its edge. What was dragged is
//! remembered, also from one start to the next.

use crate::session::Session;
use egui::{Context, Panel};

/// An area whose edge can be dragged.
#[derive(Default)]
pub struct PanelSize {
    /// As somebody dragged it.
    by_hand: Option<f32>,
    /// As the toolkit was last told, and how often it was told another size.
    given: f32,
    turn: u32,
    /// As it was last laid out, and whether that is being dragged.
    last: f32,
    pulled: bool,
}

/// All of them.
#[derive(Default)]
pub struct PanelSizes {
    /// Width of the panel of what is selected, points.
    pub part: PanelSize,
    /// Height of what stands below the drawing.
    pub below: PanelSize,
    /// Height of the curves in the time bar.
    pub curves: PanelSize,
    /// Share of the width that the section has beside the plan.
    pub section: PanelSize,
    /// What stands below the drawing is one line: nothing more is to be said.
    pub one_line: bool,
    /// They were taken from where they are kept.
    known: bool,
    kept: Vec<(&'static str, f32)>,
}

impl PanelSize {
    /// The size that was dragged, else this one.
    pub fn or(&self, own: f32) -> f32 {
        self.by_hand.unwrap_or(own)
    }

    /// A panel that begins at this size. The toolkit keeps the size of a panel by its name: one that is to have
    /// another has another name.
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

    /// Takes in how large it was laid out: what changes while a button is down was dragged. `own`: that size
    /// as it is to be remembered.
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
    /// What was kept at the last start, once; and what has changed is kept.
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
