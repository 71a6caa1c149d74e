//! Input of a section or plan.

use crate::draw::canvas::touch::{Attention, Pick, Trust, attention};
use crate::draw::page::view::View;
use crate::finding::Finding;
use crate::layout::Layout;
use crate::states::report::StateReport;
use crate::units::UnitSystem;

/// Input of a section or plan; `P`: the positions of all parts, in metres.
pub struct Scene<'a, P> {
    /// Layout to draw.
    pub layout: &'a Layout,
    /// Positions of all parts of the layout, in metres.
    pub positions: &'a P,
    /// Mapping of the positions to the page; [`View::true_to_scale`] makes one for a plan.
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
    /// Set-height band of the selected crest, which a section shows: lowest and highest good height, metres; `None`:
    /// not known.
    pub band: Option<(f64, f64)>,
    /// Selected items, the most recent last.
    pub selected: &'a [Pick],
    /// Item under the pointer.
    pub hovered: Option<&'a Pick>,
}

// Not derived, since the positions are borrowed and need not be copied.
impl<P> Clone for Scene<'_, P> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<P> Copy for Scene<'_, P> {}

impl<P> Scene<'_, P> {
    /// Returns the attention of an item.
    pub(in crate::draw) fn attention(&self, pick: &Pick) -> Attention {
        attention(self.selected, self.hovered, pick)
    }

    /// Returns the opacity of numbers and water.
    pub(in crate::draw) fn strength(&self) -> f64 {
        self.trust.strength()
    }
}
