//! What a section is drawn from.

use super::section_layout::SectionLayout;
use crate::draw::touch::{Attention, Pick, Trust, attention};
use crate::draw::view::View;
use crate::finding::Finding;
use crate::layout::Layout;
use crate::states::report::StateReport;
use crate::units::UnitSystem;

/// What a section is drawn from.
#[derive(Clone, Copy)]
pub struct SectionScene<'a> {
    /// The layout.
    pub layout: &'a Layout,
    /// Its plan.
    pub plan: &'a SectionLayout,
    /// How it lies on the page.
    pub view: View,
    /// Where the water stands; none: not known.
    pub water: Option<&'a StateReport>,
    /// What that is held against, whose levels and flows are marked where they differ; none: nothing.
    pub other: Option<&'a StateReport>,
    /// How far that can be trusted.
    pub trust: Trust,
    /// What is wrong.
    pub findings: &'a [Finding],
    /// The units of the numbers.
    pub units: UnitSystem,
    /// Lowest and highest good height of the crest that is selected, metres; none: not known.
    pub band: Option<(f64, f64)>,
    /// What is selected, what was taken last at the end.
    pub selected: &'a [Pick],
    /// What the pointer is over.
    pub hovered: Option<&'a Pick>,
}

impl SectionScene<'_> {
    /// How much a part is looked at.
    pub(super) fn attention(&self, pick: &Pick) -> Attention {
        attention(self.selected, self.hovered, pick)
    }

    /// How strongly numbers and water are drawn.
    pub(super) fn strength(&self) -> f64 {
        self.trust.strength()
    }
}
