//! Page on which a section or plan is drawn.

use super::input::Scene;
use crate::draw::canvas::drawing_context::DrawingContext;
use crate::draw::canvas::touch::Drawn;
use crate::draw::results::reports::Reports;
use crate::layout::Id;
use crate::states::report::{PumpReport, RunReport, VesselReport};
use std::ops::{Deref, DerefMut};

/// A drawing context with the scene that is drawn on it.
pub(in crate::draw) struct ScenePage<'s, P> {
    pub scene: &'s Scene<'s, P>,
    pub reports: Reports<'s>,
    context: DrawingContext,
}

impl<P> Deref for ScenePage<'_, P> {
    type Target = DrawingContext;

    fn deref(&self) -> &DrawingContext {
        &self.context
    }
}

impl<P> DerefMut for ScenePage<'_, P> {
    fn deref_mut(&mut self) -> &mut DrawingContext {
        &mut self.context
    }
}

impl<'s, P> ScenePage<'s, P> {
    pub fn on(scene: &'s Scene<'s, P>, context: DrawingContext) -> ScenePage<'s, P> {
        ScenePage {
            scene,
            reports: Reports::of(scene.water, scene.findings).against(scene.other),
            context,
        }
    }

    pub fn vessel(&self, id: &Id) -> Option<&'s VesselReport> {
        self.reports.vessel(id)
    }

    pub fn run(&self, id: &Id) -> Option<&'s RunReport> {
        self.reports.run(id)
    }

    pub fn pump(&self, id: &Id) -> Option<&'s PumpReport> {
        self.reports.pump(id)
    }

    pub fn finish(self) -> Drawn {
        self.context.finish(self.scene.layout.title.clone())
    }
}
