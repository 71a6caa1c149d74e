//! Input of a section.

use super::section_layout::SectionLayout;
use crate::draw::canvas::touch::{Attention, Pick, Trust, attention};
use crate::draw::page::view::View;
use crate::finding::Finding;
use crate::layout::Layout;
use crate::states::report::StateReport;
use crate::units::UnitSystem;

/// Input of a section.
#[derive(Clone, Copy)]
pub struct SectionScene<'a> {
    /// Layout to draw.
    pub layout: &'a Layout,
    /// Geometry of the layout in the section, in metres.
    pub plan: &'a SectionLayout,
    /// Mapping of the section to the page.
    pub view: View,
    /// Results of the state shown; `None`: not known.
    pub water: Option<&'a StateReport>,
    /// Results to compare with; levels and flows that differ are marked. `None`: no comparison.
    pub other: Option<&'a StateReport>,
    /// Trust in the results.
    pub trust: Trust,
    /// Findings of the check.
    pub findings: &'a [Finding],
    /// Units of the numbers.
    pub units: UnitSystem,
    /// Set-height band of the selected crest: lowest and highest good height, metres; `None`: not known.
    pub band: Option<(f64, f64)>,
    /// Selected items, the most recent last.
    pub selected: &'a [Pick],
    /// Item under the pointer.
    pub hovered: Option<&'a Pick>,
}

impl SectionScene<'_> {
    /// Returns the attention of an item.
    pub(super) fn attention(&self, pick: &Pick) -> Attention {
        attention(self.selected, self.hovered, pick)
    }

    /// Returns the opacity of numbers and water.
    pub(super) fn strength(&self) -> f64 {
        self.trust.strength()
    }
}
